/* How the plan itself is read: files, pipes, text in memory. */
#include "tests/unit/plan_folder.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

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

/* What a file may be long bounds it while it is read; then what it is worked out in grows with it. */
static void test_memory_to_read(void **state)
{
    struct fixture *fixture = *state;
    enum { LINES = 20000000 };
    char *lines = malloc(LINES + 1);
    memset(lines, '\n', LINES);
    lines[LINES] = '\0';
    write_file("lines.prill", lines);
    free(lines);
    fixture->arena.most = 300000; /* the first block of its memory, and hardly more */
    const struct source *source = open_plan(fixture, "lines.prill", NULL);
    assert_int_equal(source_line_number(source, LINES), LINES + 1);
}

static void test_plan_refused(void **state)
{
    write_file("lawn.prill", "");
    write_file("secret.prill", "");
    mkdir("folder", 0700);
    assert_int_equal(truncate("lawn.prill", (off_t)SOURCE_LIMIT + 1), 0);
    assert_refused(*state, "lawn.prill", "larger than 120 MiB");
    assert_refused(*state, "lawm.prill", "no such file; the nearest is lawn.prill");
    assert_refused(*state, "folder/lawn.prill", "no such file");
    assert_refused(*state, "nowhere/lawn.prill", "no such file");
    assert_refused(*state, "lawn.prill/x", "not a folder");
    assert_refused(*state, "folder", "it is a folder");
    assert_refused(*state, "/dev/zero", "larger than 120 MiB");
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
    assert_newest(fixture, "use-cycle", "this statement is in");
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_plan),           TEST(test_empty_plan),           TEST(test_long_plan),
        TEST(test_memory_to_read), TEST(test_plan_refused),         TEST(test_failed_read),
        TEST(test_pipe),           TEST(test_pipe_without_waiting), TEST(test_pipe_by_name),
        TEST(test_stdin_name),     TEST(test_text_in_memory),       TEST(test_sealed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
