#include "compiler/model/embedded.h"
#include "compiler/model/include.h"

#include <fcntl.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <cmocka.h>

/* A folder of its own for each test, and a compilation in it. */
struct fixture {
    struct arena arena;
    struct reports reports;
    struct sources *sources;
    int saved_stdin;
    char folder[64];
};

static int setup(void **state)
{
    static struct fixture fixture;
    arena_init(&fixture.arena, NULL);
    reports_init(&fixture.reports, &fixture.arena);
    fixture.sources = sources_new(&fixture.arena);
    fixture.saved_stdin = dup(STDIN_FILENO);
    strcpy(fixture.folder, "/tmp/prill-include.XXXXXX");
    *state = &fixture;
    return mkdtemp(fixture.folder) && chdir(fixture.folder) == 0 ? 0 : -1;
}

static int teardown(void **state)
{
    struct fixture *fixture = *state;
    char command[200];
    snprintf(command, sizeof command, "chmod -R u+rwx %s && rm -r %s", fixture->folder, fixture->folder);
    dup2(fixture->saved_stdin, STDIN_FILENO);
    close(fixture->saved_stdin);
    arena_free(&fixture->arena);
    return chdir("/") == 0 ? system(command) : -1;
}

static void write_file(const char *path, const char *bytes)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fputs(bytes, file);
    assert_int_equal(fclose(file), 0);
}

static struct source *open_plan(struct fixture *fixture, const char *path, const char *stdin_name)
{
    struct source *source;
    const char *reason = "not set";
    enum source_status_read status = sources_open_plan(fixture->sources, path, stdin_name, &source, &reason);
    assert_int_equal(status, SOURCE_READ);
    assert_null(reason);
    assert_non_null(source);
    return source;
}

static void assert_refused(struct fixture *fixture, const char *path, const char *wanted)
{
    struct source *source;
    const char *reason = NULL;
    assert_int_equal(sources_open_plan(fixture->sources, path, NULL, &source, &reason), SOURCE_FAILED);
    assert_null(source);
    assert_non_null(reason);
    if (!strstr(reason, wanted))
        fail_msg("%s: \"%s\" does not say \"%s\"", path, reason, wanted);
}

static void assert_bytes(const struct source *source, const char *bytes)
{
    assert_int_equal(source->length, strlen(bytes));
    assert_memory_equal(source->bytes, bytes, source->length + 1);
}

/* The last byte of the user's text stands for the statement. */
static struct source *use(struct fixture *fixture, const struct source *user, const char *path)
{
    struct place at = {user, user->length ? user->length - 1 : 0, user->length};
    return sources_use(fixture->sources, &fixture->reports, user, text_of(path), at);
}

static void assert_newest(const struct fixture *fixture, const char *rule, const char *wanted)
{
    assert_true(fixture->reports.all.count > 0);
    const struct report *report = fixture->reports.all.items[fixture->reports.all.count - 1];
    assert_string_equal(report->rule->name, rule);
    assert_int_equal(report->severity, SEVERITY_ERROR);
    if (!strstr(report->sentence, wanted))
        fail_msg("\"%s\" does not say \"%s\"", report->sentence, wanted);
}

static const struct report *newest(const struct fixture *fixture)
{
    return fixture->reports.all.items[fixture->reports.all.count - 1];
}

/* ---- the plan ---- */

static void test_plan(void **state)
{
    write_file("lawn.prill", "plan \"a\"\n");
    const struct source *plan = open_plan(*state, "lawn.prill", NULL);
    assert_bytes(plan, "plan \"a\"\n");
    assert_string_equal(plan->path, "lawn.prill");
    assert_int_equal(plan->index, 0);
    assert_null(plan->used_at.source);
}

static void test_empty_plan(void **state)
{
    write_file("lawn.prill", "");
    assert_bytes(open_plan(*state, "lawn.prill", NULL), "");
}

/* A file of NULs as long as several reads. */
static void test_long_plan(void **state)
{
    int descriptor = open("long.prill", O_CREAT | O_WRONLY, 0600);
    assert_int_equal(ftruncate(descriptor, 5000000), 0);
    close(descriptor);
    assert_int_equal(open_plan(*state, "long.prill", NULL)->length, 5000000);
}

static void test_plan_refused(void **state)
{
    write_file("lawn.prill", "");
    write_file("secret.prill", "");
    mkdir("folder", 0700);
    assert_int_equal(truncate("lawn.prill", (off_t)SOURCE_LIMIT + 1), 0);
    assert_refused(*state, "lawn.prill", "larger than 64 MiB");
    assert_refused(*state, "lawm.prill", "no such file; the nearest is lawn.prill");
    assert_refused(*state, "folder/lawn.prill", "no such file");
    assert_refused(*state, "nowhere/lawn.prill", "no such file");
    assert_refused(*state, "lawn.prill/x", "no folder");
    assert_refused(*state, "folder", "it is a folder");
    assert_refused(*state, "/dev/zero", "larger than 64 MiB");
    assert_refused(*state, "", "no such file");
    if (geteuid() != 0) {
        chmod("secret.prill", 0);
        assert_refused(*state, "secret.prill", "not permit");
    }
}

/* The system says that this file is regular and empty, and fails every read. */
static void test_failed_read(void **state)
{
    assert_refused(*state, "/proc/self/mem", "failed");
    dup2(open("/proc/self/mem", O_RDONLY), STDIN_FILENO);
    assert_refused(*state, "-", "failed");
    close(STDIN_FILENO);
    assert_refused(*state, "-", "it is closed");
}

static void write_late(int descriptor, const char *bytes)
{
    if (fork() == 0) {
        nanosleep(&(struct timespec){.tv_nsec = 30000000}, NULL);
        ssize_t count = write(descriptor, bytes, strlen(bytes));
        _exit(count < 0);
    }
    close(descriptor);
}

static void pipe_to_stdin(const char *bytes, int flags)
{
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    fcntl(ends[0], F_SETFL, flags);
    dup2(ends[0], STDIN_FILENO);
    close(ends[0]);
    write_late(ends[1], bytes);
}

static void test_pipe(void **state)
{
    pipe_to_stdin("plan \"piped\"\n", 0);
    const struct source *plan = open_plan(*state, "-", NULL);
    assert_bytes(plan, "plan \"piped\"\n");
    assert_string_equal(plan->path, "<stdin>");
    wait(NULL);
}

/* As some editors hand it over: reading before the text is there must wait and not fail. */
static void test_pipe_without_waiting(void **state)
{
    pipe_to_stdin("plan \"late\"\n", O_NONBLOCK);
    assert_bytes(open_plan(*state, "-", NULL), "plan \"late\"\n");
    wait(NULL);
}

static void test_pipe_by_name(void **state)
{
    pipe_to_stdin("plan \"named\"\n", 0);
    assert_bytes(open_plan(*state, "/dev/stdin", NULL), "plan \"named\"\n");
    wait(NULL);
}

static void test_stdin_name(void **state)
{
    struct fixture *fixture = *state;
    mkdir("green", 0700);
    write_file("green/shop.prill", "shop");
    write_file("green/lawn.prill", "as saved");
    pipe_to_stdin("as edited", 0);
    const struct source *plan = open_plan(fixture, "-", "green/lawn.prill");
    assert_string_equal(plan->path, "green/lawn.prill");
    assert_bytes(plan, "as edited");
    assert_string_equal(use(fixture, plan, "shop.prill")->path, "green/shop.prill");
    assert_null(use(fixture, plan, "lawn.prill"));
    assert_newest(fixture, "use-cycle", "this statement stands in");
    assert_true(sources_holds_file(fixture->sources, "green/lawn.prill"));
    wait(NULL);
}

static void test_text_in_memory(void **state)
{
    struct fixture *fixture = *state;
    write_file("shop.prill", "shop");
    const struct source *plan = sources_add_text(fixture->sources, "lawn.prill", TEXT("plan"), false);
    assert_bytes(plan, "plan");
    assert_bytes(use(fixture, plan, "shop.prill"), "shop");
}

static void test_sealed(void **state)
{
    struct fixture *fixture = *state;
    write_file("shop.prill", "shop");
    const struct source *plan = sources_add_text(fixture->sources, "lawn.prill", TEXT("plan"), true);
    assert_null(use(fixture, plan, "shop.prill"));
    assert_newest(fixture, "use-missing", "is not read");
}

/* ---- what it uses ---- */

static void test_use(void **state)
{
    struct fixture *fixture = *state;
    mkdir("green", 0700);
    mkdir("green/shops", 0700);
    write_file("green/lawn.prill", "plan");
    write_file("green/shops/mill.prill", "mill");
    write_file("green/shops/store.prill", "store");
    write_file("green/limits.prill", "limits");
    const struct source *plan = open_plan(fixture, "green/lawn.prill", NULL);
    const struct source *mill = use(fixture, plan, "shops/mill.prill");
    assert_bytes(mill, "mill");
    assert_string_equal(mill->path, "green/shops/mill.prill");
    assert_ptr_equal(mill->used_at.source, plan);
    assert_int_equal(mill->index, 1);
    const struct source *store = use(fixture, mill, "./store.prill");
    assert_string_equal(store->path, "green/shops/store.prill");
    assert_string_equal(use(fixture, store, "..//limits.prill")->path, "green/limits.prill");
    assert_int_equal(fixture->reports.all.count, 0);
}

/* Once, whatever it is called: by another path, and by another name of the same file. */
static void test_each_file_once(void **state)
{
    struct fixture *fixture = *state;
    mkdir("shops", 0700);
    write_file("lawn.prill", "plan");
    write_file("shops/mill.prill", "mill");
    assert_int_equal(link("shops/mill.prill", "alias.prill"), 0);
    const struct source *plan = open_plan(fixture, "lawn.prill", NULL);
    assert_non_null(use(fixture, plan, "shops/mill.prill"));
    assert_null(use(fixture, plan, "shops/mill.prill"));
    assert_null(use(fixture, plan, "shops/../shops/./mill.prill"));
    assert_null(use(fixture, plan, "alias.prill"));
    assert_int_equal(fixture->reports.all.count, 0);
}

static void test_use_refused(void **state)
{
    static const struct {
        const char *path, *rule, *wanted;
    } rows[] = {
        {"", "use-missing", "empty"},
        {"mill.prill", "use-missing", "no file \"mill.prill\""},
        {"nowhere/mill.prill", "use-missing", "nowhere"},
        {"../outside.prill", "use-outside", "outside the plan's folder"},
        {"shops/../../outside.prill", "use-outside", "outside the plan's folder"},
        {"shops/../../green/lawn.prill", "use-outside", "outside the plan's folder"},
        {"/etc/passwd", "use-outside", "outside the plan's folder"},
        {"link.prill", "use-outside", "symbolic link"},
        {"linked/outside.prill", "use-outside", "symbolic link"},
        {"shops", "use-unreadable", "is a folder"},
        {".", "use-unreadable", "is a folder"},
        {"shops/", "use-unreadable", "is a folder"},
        {"pipe", "use-unreadable", "pipe or device"},
        {"shop.prill/x", "use-unreadable", "no folder"},
        {"large.prill", "use-unreadable", "larger than 64 MiB"},
        {"lawn.prill", "use-cycle", "this statement stands in"},
    };
    struct fixture *fixture = *state;
    mkdir("green", 0700);
    mkdir("green/shops", 0700);
    write_file("outside.prill", "secret");
    write_file("green/lawn.prill", "plan");
    write_file("green/shop.prill", "shop");
    write_file("green/large.prill", "");
    assert_int_equal(truncate("green/large.prill", (off_t)SOURCE_LIMIT + 1), 0);
    assert_int_equal(symlink("../outside.prill", "green/link.prill"), 0);
    assert_int_equal(symlink("..", "green/linked"), 0);
    assert_int_equal(mkfifo("green/pipe", 0600), 0);
    const struct source *plan = open_plan(fixture, "green/lawn.prill", NULL);
    alarm(20); /* a pipe must not hold anybody up */
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_null(use(fixture, plan, rows[i].path));
        assert_int_equal(fixture->reports.all.count, i + 1);
        assert_newest(fixture, rows[i].rule, rows[i].wanted);
    }
    alarm(0);
}

static void test_long_name(void **state)
{
    struct fixture *fixture = *state;
    char name[400];
    memset(name, 'x', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    write_file("lawn.prill", "plan");
    assert_null(use(fixture, open_plan(fixture, "lawn.prill", NULL), name));
    assert_newest(fixture, "use-unreadable", "too long");
}

/* Equally near names: the same one, whatever order the folder lists them in. */
static void test_nearest_name(void **state)
{
    struct fixture *fixture = *state;
    write_file("lawn.prill", "plan");
    write_file("shopc.prill", "");
    write_file("shopa.prill", "");
    write_file("shopb.prill", "");
    const struct source *plan = open_plan(fixture, "lawn.prill", NULL);
    assert_null(use(fixture, plan, "shop.prill"));
    assert_string_equal(newest(fixture)->help, "the folder has \"shopa.prill\"");
    assert_null(use(fixture, plan, "equipment.prill"));
    assert_non_null(strstr(newest(fixture)->help, "the current folder"));
}

static void test_cycle_names_the_chain(void **state)
{
    struct fixture *fixture = *state;
    write_file("lawn.prill", "plan");
    write_file("a.prill", "a");
    write_file("b.prill", "b");
    const struct source *plan = open_plan(fixture, "lawn.prill", NULL);
    const struct source *a = use(fixture, plan, "a.prill");
    const struct source *b = use(fixture, a, "b.prill");
    assert_null(use(fixture, b, "lawn.prill"));
    assert_newest(fixture, "use-cycle", "\"lawn.prill\" uses this file");
    const struct report *report = newest(fixture);
    assert_ptr_equal(report->place.source, b);
    assert_int_equal(report->labels.count, 2);
    assert_ptr_equal(report->labels.items[0].place.source, a);
    assert_string_equal(report->labels.items[0].text, "b.prill is used here");
    assert_ptr_equal(report->labels.items[1].place.source, plan);
    /* Back to a, and not further. */
    assert_null(use(fixture, b, "a.prill"));
    assert_int_equal(newest(fixture)->labels.count, 1);
    /* A sibling's file, read already, is no cycle. */
    size_t reports = fixture->reports.all.count;
    assert_null(use(fixture, plan, "b.prill"));
    assert_int_equal(fixture->reports.all.count, reports);
}

static void test_depth(void **state)
{
    struct fixture *fixture = *state;
    write_file("0", "x");
    const struct source *source = open_plan(fixture, "0", NULL);
    for (int depth = 1; depth <= INCLUDE_DEPTH_LIMIT; depth++) {
        char name[8];
        snprintf(name, sizeof name, "%d", depth);
        write_file(name, "x");
        const struct source *used = use(fixture, source, name);
        if (depth < INCLUDE_DEPTH_LIMIT) {
            assert_non_null(used);
            source = used;
        } else {
            assert_null(used);
            assert_newest(fixture, "use-depth", "more than 16 deep");
        }
    }
}

static void test_too_many(void **state)
{
    struct fixture *fixture = *state;
    write_file("lawn.prill", "plan");
    const struct source *plan = open_plan(fixture, "lawn.prill", NULL);
    for (int i = 0; i <= INCLUDE_FILE_LIMIT; i++) {
        char name[16];
        snprintf(name, sizeof name, "%d.prill", i);
        write_file(name, "x");
        assert_true((use(fixture, plan, name) != NULL) == (i < INCLUDE_FILE_LIMIT));
    }
    assert_newest(fixture, "use-too-many", "more than 1000 files");
    assert_null(use(fixture, plan, "7.prill")); /* read already: nothing to say */
    assert_int_equal(fixture->reports.all.count, 1);
}

static void test_too_many_bytes(void **state)
{
    struct fixture *fixture = *state;
    write_file("lawn.prill", "plan");
    const struct source *plan = open_plan(fixture, "lawn.prill", NULL);
    for (int i = 0; i < 4; i++) {
        char name[16];
        snprintf(name, sizeof name, "%d.prill", i);
        write_file(name, "");
        assert_int_equal(truncate(name, SOURCE_LIMIT), 0);
        assert_true((use(fixture, plan, name) != NULL) == (i < 3));
    }
    assert_newest(fixture, "use-too-many", "larger than 256 MiB together");
}

static void test_holds_file(void **state)
{
    struct fixture *fixture = *state;
    write_file("lawn.prill", "plan");
    write_file("shop.prill", "shop");
    write_file("other.prill", "other");
    assert_int_equal(symlink("shop.prill", "link"), 0);
    use(fixture, open_plan(fixture, "lawn.prill", NULL), "shop.prill");
    assert_true(sources_holds_file(fixture->sources, "./lawn.prill"));
    assert_true(sources_holds_file(fixture->sources, "shop.prill"));
    assert_true(sources_holds_file(fixture->sources, "link"));
    assert_false(sources_holds_file(fixture->sources, "other.prill"));
    assert_false(sources_holds_file(fixture->sources, "nowhere"));
}

static void test_library(void **state)
{
    struct fixture *fixture = *state;
    write_file("lawn.prill", "plan");
    open_plan(fixture, "lawn.prill", NULL);
    assert_int_equal(sources_library_count(), embedded_file_count);
    for (size_t i = 0; i < sources_library_count(); i++) {
        struct source *source = sources_library(fixture->sources, i);
        assert_true(source->library);
        assert_string_equal(source->path, embedded_files[i].path);
        assert_true(i == 0 || strcmp(embedded_files[i - 1].path, source->path) < 0);
        assert_int_equal(source->index, i + 1);
        assert_ptr_equal(sources_library(fixture->sources, i), source);
        assert_null(use(fixture, source, "lawn.prill"));
        assert_newest(fixture, "use-missing", "from the library");
    }
}

/* Nothing may stay open behind all these refusals. */
static void test_no_descriptor_is_left(void **state)
{
    int before = dup(STDIN_FILENO);
    close(before);
    test_use_refused(state);
    int after = dup(STDIN_FILENO);
    close(after);
    assert_int_equal(before, after);
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, setup, teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_plan),
        TEST(test_empty_plan),
        TEST(test_long_plan),
        TEST(test_plan_refused),
        TEST(test_failed_read),
        TEST(test_pipe),
        TEST(test_pipe_without_waiting),
        TEST(test_pipe_by_name),
        TEST(test_stdin_name),
        TEST(test_text_in_memory),
        TEST(test_sealed),
        TEST(test_use),
        TEST(test_each_file_once),
        TEST(test_use_refused),
        TEST(test_long_name),
        TEST(test_nearest_name),
        TEST(test_cycle_names_the_chain),
        TEST(test_depth),
        TEST(test_too_many),
        TEST(test_too_many_bytes),
        TEST(test_holds_file),
        TEST(test_library),
        TEST(test_no_descriptor_is_left),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
