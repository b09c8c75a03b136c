/* The files that a plan uses, and those it may not. */
#include "tests/unit/plan_folder.h"

#include "compiler/model/embedded.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const struct report *newest(const struct fixture *fixture)
{
    return fixture->reports.all.items[fixture->reports.all.count - 1];
}

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
        {"shop.prill/x", "use-unreadable", "not a folder"},
        {"large.prill", "use-unreadable", "larger than 120 MiB"},
        {"lawn.prill", "use-cycle", "this statement is in"},
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
    for (int i = 0; i < 3; i++) {
        char name[16];
        snprintf(name, sizeof name, "%d.prill", i);
        write_file(name, "");
        assert_int_equal(truncate(name, SOURCE_LIMIT), 0);
        assert_true((use(fixture, plan, name) != NULL) == (i < 2));
    }
    assert_newest(fixture, "use-too-many", "total more than 256 MiB");
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
    for (size_t i = 0; i < embedded_file_count; i++) {
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_use),        TEST(test_each_file_once), TEST(test_use_refused),
        TEST(test_long_name),  TEST(test_nearest_name),   TEST(test_cycle_names_the_chain),
        TEST(test_depth),      TEST(test_too_many),       TEST(test_too_many_bytes),
        TEST(test_holds_file), TEST(test_library),        TEST(test_no_descriptor_is_left),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
