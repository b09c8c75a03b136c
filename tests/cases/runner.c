/* Runs the whole-program cases and compares what the program prints with what is expected of it.
 *
 *     cases-runner [-w] [-j JOBS] [-l SECONDS] [-p PROGRAM -u SERVED] -d CASES -s SCRATCH [WORD...]
 *
 * tests/cases/run prepares the environment (PATH, locale, time zone, scratch folder) and is what people call.
 * A WORD picks the cases whose GROUP/NAME.KIND holds it; -w writes the expected files instead of comparing.
 * With -p and -u, cases of one command ask PROGRAM with the library SERVED under it (loaded.h); else, and in
 * a session, sh starts what PATH has.
 */
#include "tests/cases/catalogue.h"
#include "tests/cases/command.h"
#include "tests/cases/loaded.h"

#include <libgen.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct settings {
    const char *cases, *scratch;
    int jobs, limit_seconds;
    bool write;
    char **words;
    char *served; /* NULL: every case starts the program */
    struct loading loading;
};

enum { MOST_JOBS = 64 };

struct verdict {
    bool passed;
    struct bytes story; /* what is to be said of it; empty for a case that passed */
};

struct run {
    const struct settings *settings;
    const struct catalogue *catalogue;
    struct verdict *verdicts; /* one for each item */
    atomic_size_t next;
};

/* One case under way. */
struct trial {
    const struct settings *settings;
    const struct item *item;
    struct verdict *verdict;
    struct loaded *loaded; /* the thread's own */
    char *out;             /* its own folder for files, $OUT in a session */
    struct bytes actual;
};

static void add_without(struct bytes *target, const struct bytes *source, const char *path, const char *name)
{
    const char *from = source->start, *end = source->start + source->length, *found;
    while ((found = strstr(from, path)) != NULL) {
        bytes_add(target, from, (size_t)(found - from));
        bytes_add(target, name, strlen(name));
        from = found + strlen(path);
    }
    bytes_add(target, from, (size_t)(end - from));
}

/* Adds what a command printed to `actual`, tells what is wrong whatever was expected, and returns the exit
 * status. */
static int outcome_add(struct trial *trial, struct outcome *outcome, const char *script, size_t length)
{
    add_without(&trial->actual, &outcome->output, trial->out, "$OUT");
    const char *fault = outcome_fault(outcome);
    if (fault) {
        trial->verdict->passed = false;
        bytes_format(&trial->verdict->story, "  %s (status %d): %.*s\n", fault, outcome->status, (int)length,
                     script);
    }
    free(outcome->output.start);
    return outcome->status;
}

static int run_script(struct trial *trial, const char *script, size_t length)
{
    const struct item *item = trial->item;
    struct bytes whole = {0};
    bytes_format(&whole, "OUT='%s'; export OUT\n", trial->out);
    bytes_add(&whole, script, length);
    struct outcome outcome = command_run(item->folder, whole.start, trial->settings->limit_seconds);
    free(whole.start);
    return outcome_add(trial, &outcome, script, length);
}

/* The one command of a case. Standard error is of no interest in an output, until the command fails. */
static int run_command(struct trial *trial)
{
    const struct item *item = trial->item;
    bool merged = item->kind->form == FORM_REPORT;
    bool given = item->kind->command[strlen(item->kind->command) - 1] == '-';
    struct bytes script = {0}, input = {0}, path = {0};
    int status;
    bytes_format(&script, "prill %s", item->kind->command);
    if (!given)
        bytes_format(&script, " %s.prill", item->name);
    if (*item->argument)
        bytes_format(&script, " %s", item->argument);
    if (trial->settings->served) {
        bytes_format(&path, "%s/%s.prill", item->folder, item->name);
        bytes_add(&input, "", 0);
        if (given)
            bytes_read(&input, path.start);
        struct question question = {
            .folder = item->folder, .words = script.start, .input = &input, .merged = merged};
        struct outcome outcome =
            loaded_run(trial->loaded, &trial->settings->loading, &question, trial->settings->limit_seconds);
        status = outcome_add(trial, &outcome, script.start, script.length);
    } else {
        if (given)
            bytes_format(&script, " <%s.prill", item->name);
        if (!merged)
            bytes_format(&script, " 2>\"$OUT/errors\" || { status=$?; cat \"$OUT/errors\"; exit $status; }");
        status = run_script(trial, script.start, script.length);
    }
    free(script.start);
    free(input.start);
    free(path.start);
    return status;
}

static void add_status(struct bytes *actual, int status)
{
    if (actual->length > 0 && actual->start[actual->length - 1] != '\n')
        bytes_format(actual, "\n(no end of line)\n");
    bytes_format(actual, "exit %d\n", status);
}

static void replay_report(struct trial *trial)
{
    int status = run_command(trial);
    add_status(&trial->actual, status);
}

static void replay_output(struct trial *trial)
{
    int status = run_command(trial);
    if (status != 0) {
        trial->verdict->passed = false;
        bytes_format(&trial->verdict->story, "  ended with status %d: %s\n", status,
                     trial->item->kind->command);
    }
}

static const char *line_end(const char *line)
{
    const char *end = strchr(line, '\n');
    return end ? end + 1 : line + strlen(line);
}

static bool is_command(const char *line)
{
    return strncmp(line, "$ ", 2) == 0;
}

/* From a "$ " line over its "> " lines: copies them to `actual`, and the command in them to `script`. */
static const char *take_command(struct trial *trial, const char *line, struct bytes *script)
{
    do {
        const char *end = line_end(line);
        bytes_add(&trial->actual, line, (size_t)(end - line));
        bytes_add(script, line + 2, (size_t)(end - line - 2));
        line = end;
    } while (strncmp(line, "> ", 2) == 0);
    if (trial->actual.start[trial->actual.length - 1] != '\n')
        bytes_add(&trial->actual, "\n", 1);
    return line;
}

/* What was expected of a command ends with its "exit" line, or, in a session not yet written, at the next
 * command. */
static const char *skip_expected(const char *line)
{
    while (*line && !is_command(line)) {
        bool last = strncmp(line, "exit ", 5) == 0;
        line = line_end(line);
        if (last)
            break;
    }
    return line;
}

/* Lines between an "exit" line and the next command are remarks of the author and are copied. */
static void replay_session(struct trial *trial, const struct bytes *expected)
{
    const char *line = expected->start;
    bool ran = false;
    while (*line) {
        if (!is_command(line)) {
            bytes_add(&trial->actual, line, (size_t)(line_end(line) - line));
            line = line_end(line);
            continue;
        }
        struct bytes script = {0};
        line = skip_expected(take_command(trial, line, &script));
        add_status(&trial->actual, run_script(trial, script.start, script.length));
        free(script.start);
        ran = true;
    }
    if (!ran) {
        trial->verdict->passed = false;
        bytes_format(&trial->verdict->story, "  a session without a command\n");
    }
}

static void add_difference(struct trial *trial, const struct bytes *expected)
{
    struct bytes path = {0}, script = {0};
    bytes_format(&path, "%s/.expected", trial->out);
    bytes_write(expected, path.start);
    path.length = 0;
    bytes_format(&path, "%s/.actual", trial->out);
    bytes_write(&trial->actual, path.start);
    bytes_format(&script,
                 "diff -a -u --label expected --label actual '%s/.expected' '%s/.actual' | head -n 200",
                 trial->out, trial->out);
    struct outcome difference =
        command_run(trial->item->folder, script.start, trial->settings->limit_seconds);
    bytes_add(&trial->verdict->story, difference.output.start, difference.output.length);
    free(path.start);
    free(script.start);
    free(difference.output.start);
}

static void judge(struct trial *trial, const char *path, const struct bytes *expected)
{
    if (trial->settings->write) {
        if (trial->verdict->passed && !bytes_write(&trial->actual, path)) {
            trial->verdict->passed = false;
            bytes_format(&trial->verdict->story, "  cannot be written\n");
        } else if (!trial->verdict->passed) {
            bytes_format(&trial->verdict->story, "  not written; the program printed:\n%s",
                         trial->actual.start);
        }
    } else if (!bytes_equal(&trial->actual, expected)) {
        trial->verdict->passed = false;
        add_difference(trial, expected);
    }
}

static void try(struct trial *trial)
{
    struct bytes path = {0}, expected = {0};
    bytes_format(&path, "%s/%s", trial->settings->cases, trial->item->label);
    bytes_add(&expected, "", 0);
    bytes_add(&trial->actual, "", 0);
    if (!bytes_read(&expected, path.start) || mkdir(trial->out, 0700) != 0) {
        trial->verdict->passed = false;
        bytes_format(&trial->verdict->story, "  cannot be read, or no scratch folder\n");
        return;
    }
    switch (trial->item->kind->form) {
    case FORM_SESSION:
        replay_session(trial, &expected);
        break;
    case FORM_REPORT:
        replay_report(trial);
        break;
    case FORM_OUTPUT:
        replay_output(trial);
        break;
    }
    judge(trial, path.start, &expected);
    free(path.start);
    free(expected.start);
}

static void try_item(struct run *run, struct loaded *loaded, size_t index)
{
    struct bytes out = {0};
    bytes_format(&out, "%s/%zu", run->settings->scratch, index);
    struct trial trial = {.settings = run->settings,
                          .item = &run->catalogue->items[index],
                          .verdict = &run->verdicts[index],
                          .loaded = loaded,
                          .out = out.start};
    trial.verdict->passed = true;
    if (trial.item->fault) {
        trial.verdict->passed = false;
        bytes_format(&trial.verdict->story, "  %s\n", trial.item->fault);
    } else {
        try(&trial);
    }
    free(trial.actual.start);
    free(out.start);
}

static bool is_chosen(const struct settings *settings, const struct item *item)
{
    for (char **word = settings->words; *word; word++)
        if (**word == '=' ? strcmp(item->label, *word + 1) == 0 : strstr(item->label, *word) != NULL)
            return true;
    return !*settings->words;
}

static void *work(void *argument)
{
    struct run *run = argument;
    struct loaded loaded = {0};
    size_t index;
    while ((index = atomic_fetch_add(&run->next, 1)) < run->catalogue->count)
        if (is_chosen(run->settings, &run->catalogue->items[index]))
            try_item(run, &loaded, index);
    loaded_end(&loaded);
    return NULL;
}

static void work_together(struct run *run)
{
    pthread_t workers[MOST_JOBS];
    int started = 0;
    while (started < run->settings->jobs - 1 && pthread_create(&workers[started], NULL, work, run) == 0)
        started++;
    work(run);
    for (int i = 0; i < started; i++)
        pthread_join(workers[i], NULL);
}

/* Prints the failures in the order of the catalogue, then the count; returns the exit status. */
static int tell(const struct run *run)
{
    size_t passed = 0, failed = 0;
    for (size_t i = 0; i < run->catalogue->count; i++) {
        const struct item *item = &run->catalogue->items[i];
        if (!is_chosen(run->settings, item))
            continue;
        if (run->verdicts[i].passed) {
            passed++;
            continue;
        }
        failed++;
        printf("FAILED %s\n%s", item->label, run->verdicts[i].story.start);
    }
    if (passed + failed == 0)
        printf("no case to run\n");
    printf("%zu passed, %zu failed\n", passed, failed);
    return failed == 0 && passed > 0 ? 0 : 1;
}

/* 0 for what is no number from 1 to 10000. */
static int count_of(const char *string)
{
    char *end;
    long count = strtol(string, &end, 10);
    return *end == '\0' && count >= 1 && count <= 10000 ? (int)count : 0;
}

static bool read_settings(struct settings *settings, int argc, char *argv[])
{
    int option;
    while ((option = getopt(argc, argv, "wj:l:d:s:p:u:")) != -1) {
        switch (option) {
        case 'w':
            settings->write = true;
            break;
        case 'j':
            settings->jobs = count_of(optarg);
            break;
        case 'l':
            settings->limit_seconds = count_of(optarg);
            break;
        case 'd':
            settings->cases = optarg;
            break;
        case 's':
            settings->scratch = optarg;
            break;
        case 'p':
            settings->loading.program = optarg;
            break;
        case 'u':
            settings->served = optarg;
            break;
        default:
            return false;
        }
    }
    settings->words = argv + optind;
    if (settings->served) {
        settings->loading.environment = loading_environment(settings->served);
        settings->loading.folder = dirname(settings->served);
    }
    return settings->cases && settings->scratch && settings->jobs >= 1 && settings->jobs <= MOST_JOBS &&
           settings->limit_seconds >= 1 && (settings->served != NULL) == (settings->loading.program != NULL);
}

int main(int argc, char *argv[])
{
    struct settings settings = {.jobs = 2, .limit_seconds = 30};
    if (!read_settings(&settings, argc, argv)) {
        fprintf(stderr, "usage: cases-runner [-w] [-j JOBS] [-l SECONDS] [-p PROGRAM -u SERVED] -d CASES -s "
                        "SCRATCH [WORD...]\n");
        return 2;
    }
    struct catalogue catalogue = catalogue_of(settings.cases);
    struct run run = {.settings = &settings, .catalogue = &catalogue};
    run.verdicts = calloc(catalogue.count + 1, sizeof *run.verdicts);
    if (!run.verdicts)
        abort();
    work_together(&run);
    return tell(&run);
}
