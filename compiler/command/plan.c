#include "compiler/command/plan.h"

#include "compiler/check/check.h"
#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/progress.h"
#include "compiler/compilation.h"

#include <errno.h>
#include <stdlib.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

const char *plan_name(const char *path)
{
    return strcmp(path, "-") == 0 ? "standard input" : path;
}

struct prill_options plan_options(const struct call *call)
{
    return (struct prill_options){.size = sizeof(struct prill_options),
                                  .stdin_name = call->values[OPTION_STDIN_NAME],
                                  .use = call->values[OPTION_USE]};
}

/* A file that --use names is looked for where the plan's own are, in its folder. Typed from elsewhere its
 * path often leads there, as the plan's does: then what is behind that folder is meant. */
enum prill_status plan_try(const char *path, const struct prill_options *options,
                           struct prill_compilation **compilation)
{
    struct prill_options own = *options;
    const char *slash = strrchr(path, '/'), *equals = own.use ? strchr(own.use, '=') : NULL;
    const char *file = equals ? equals + 1 : own.use;
    size_t folder = slash ? (size_t)(slash - path) + 1 : 0;
    char *within = NULL;
    if (file && folder && strncmp(file, path, folder) == 0) {
        size_t before = (size_t)(file - own.use), rest = strlen(file + folder) + 1;
        within = malloc(before + rest);
        if (within) {
            memcpy(within, own.use, before);
            memcpy(within + before, file + folder, rest);
            own.use = within;
        }
    }
    /* A pipe can be read once only, and where memory is used again a plan may be read twice. */
    struct stat status;
    if (*compilation && (strcmp(path, "-") == 0 || stat(path, &status) != 0 || !S_ISREG(status.st_mode))) {
        prill_free(*compilation);
        *compilation = NULL;
    }
    enum prill_status tried = compilation_again(path, &own, compilation);
    free(within);
    return tried;
}

/* What the library refuses is said in the words of the command line. */
void plan_complain(const char *path, const struct prill_options *options,
                   const struct prill_compilation *compilation)
{
    const struct {
        const char *option, *word;
    } parts[] = {{"day", "--as-of"},
                 {"late", "--late"},
                 {"stamp", "SOURCE_DATE_EPOCH"},
                 {"earlier", options->earlier}};
    const char *option = prill_option(compilation), *at_fault = plan_name(path);
    for (size_t i = 0; option && i < sizeof parts / sizeof *parts; i++)
        if (strcmp(option, parts[i].option) == 0)
            at_fault = parts[i].word;
    message_print("%s: %s", at_fault, prill_reason(compilation));
}

/* On a terminal the questions about rates are counted meanwhile. */
enum prill_status plan_compile(const struct call *call, const char *path, const struct prill_options *options,
                               struct prill_compilation **compilation)
{
    struct prill_options watched = *options;
    struct progress progress;
    *compilation = NULL;
    progress_begin(&progress, 0);
    progress_watch(&progress, &watched);
    enum prill_status status = plan_try(path, &watched, compilation);
    progress_end(&progress);
    if (status == PRILL_SYSTEM_FAILED || status == PRILL_BAD_CALL)
        plan_complain(path, options, *compilation);
    if (status == PRILL_PLAN_HAS_ERRORS && !options->late)
        plan_reports(call, *compilation);
    return status;
}

void plan_reports(const struct call *call, struct prill_compilation *compilation)
{
    size_t length;
    bool colour = output_coloured(STDERR_FILENO, call->values[OPTION_COLOR]);
    const char *reports = prill_reports(&compilation, 1, "text", colour, &length);
    if (reports)
        fwrite(reports, 1, length, stderr);
}

/* ---- the form of a result ---- */

static const struct {
    const char *ending, *form;
} endings[] = {
    {".txt", "text"}, {".html", "html"}, {".md", "markdown"},
    {".ics", "ics"},  {".csv", "csv"},   {".json", "json"},
};
enum { ENDINGS = sizeof endings / sizeof *endings };

/* What --as says, or else what the output's name ends with, as far as the command has that form. */
const char *plan_form(const struct call *call)
{
    const char *path = call->values[OPTION_OUTPUT];
    if (call->values[OPTION_AS])
        return call->values[OPTION_AS];
    if (!path || strcmp(path, "-") == 0)
        return "text";
    const char *slash = strrchr(path, '/');
    const char *point = strrchr(slash ? slash : path, '.');
    const char *had[ENDINGS];
    size_t count = 0;
    for (size_t i = 0; i < ENDINGS; i++) {
        const char *form;
        for (size_t j = 0; (form = prill_result_form(call->command->name, j)); j++)
            if (strcmp(form, endings[i].form) == 0)
                break;
        if (form && point && strcmp(point, endings[i].ending) == 0)
            return endings[i].form;
        if (form)
            had[count++] = endings[i].ending;
    }
    /* ".txt, .csv and .json" */
    char list[64] = "";
    size_t length = 0;
    for (size_t i = 0; i < count; i++)
        length += (size_t)snprintf(list + length, sizeof list - length, "%s%s",
                                   i == 0           ? ""
                                   : i == count - 1 ? " and "
                                                    : ", ",
                                   had[i]);
    message_print("%s: its ending is not one of %s; state the form with --as", path, list);
    return NULL;
}

bool plans_fit(const struct call *call)
{
    int from_stdin = 0;
    for (int i = 0; i < call->operand_count; i++)
        from_stdin += strcmp(call->operands[i], "-") == 0;
    if (from_stdin > 1)
        message_print("standard input can be read once only");
    return from_stdin <= 1;
}

enum prill_status plan_deliver(const struct prill_compilation *compilation, const char *output,
                               const char *text, size_t length)
{
    if (!output || strcmp(output, "-") == 0)
        return output_print(text, length);
    if (prill_reads_file(compilation, output)) {
        message_print("%s: not written: it is part of the plan", output);
        return PRILL_BAD_CALL;
    }
    return output_write(output, text, length);
}

/* Reports come before the result, so that an error is seen also where a file takes the output. */
enum prill_status plan_result(const struct call *call, const struct prill_options *options,
                              const struct wanted *wanted)
{
    struct prill_options own = *options;
    struct prill_compilation *compilation;
    const char *name = wanted->subject;
    /* A calendar file is stamped with the moment of the plan's edition, or of SOURCE_DATE_EPOCH where a build
     * wants all its files stamped alike (https://reproducible-builds.org/specs/source-date-epoch/); never
     * with now. */
    const char *epoch = getenv("SOURCE_DATE_EPOCH");
    if (epoch && *epoch) {
        char *end;
        errno = 0;
        own.stamped = true;
        own.stamp = strtoll(epoch, &end, 10);
        if (*epoch < '0' || *epoch > '9' || *end || errno != 0) {
            message_print("SOURCE_DATE_EPOCH: %s is not a moment from 1970 to 2199, in seconds since 1970",
                          epoch);
            return PRILL_BAD_CALL;
        }
    }
    enum prill_status status = plan_compile(call, call->operands[0], &own, &compilation);
    /* What is remarked on the earlier edition; printing the reports may put another reason in its place. */
    const char *remark = status == PRILL_FINE ? prill_reason(compilation) : "";
    if (status == PRILL_FINE && wanted->reports)
        plan_reports(call, compilation);
    if (*remark)
        message_print("%s: %s", own.earlier, remark);
    if (status == PRILL_FINE) {
        size_t length;
        const char *text = prill_result(compilation, call->command->name, wanted->form, name, &length);
        status = text ? plan_deliver(compilation, wanted->output, text, length) : prill_status(compilation);
        /* A name that the plan does not have may be that of a check, or of something the library knows: those
         * are explained on the terminal only. */
        bool plain =
            !text && status == PRILL_BAD_CALL && name && strcmp(wanted->form, "text") == 0 && !wanted->output;
        enum prill_status shown;
        if (plain && rule_find(text_of(name)))
            status = rule_print(name);
        else if (plain && library_print(name, &shown))
            status = shown;
        else if (!text && status != PRILL_PLAN_HAS_ERRORS)
            message_print("%s", prill_reason(compilation));
    }
    prill_free(compilation);
    return status;
}

enum prill_status command_result(const struct call *call)
{
    struct wanted wanted = {.form = plan_form(call), .output = call->values[OPTION_OUTPUT]};
    struct prill_options options = plan_options(call);
    return wanted.form ? plan_result(call, &options, &wanted) : PRILL_BAD_CALL;
}
