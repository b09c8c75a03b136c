/* The program as a whole, where the system lets it down: streams, plans to read, memory. */
#include "tests/unit/program_run.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- standard streams ---- */

/* One call of each command that prints. */
static const char *const printing[][4] = {
    {"check", "bad.prill"},
    {"calendar", "plan.prill"},
    {"needs", "plan.prill"},
    {"shopping", "plan.prill"},
    {"budget", "plan.prill"},
    {"rates", "plan.prill"},
    {"weather", "plan.prill"},
    {"explain", "use-missing"},
    {"format", "--check", "loose.prill"},
    {"checks"},
    {"help"},
    {"help", "check"},
    {"--version"},
    {"--help"},
};
enum { PRINTING = sizeof printing / sizeof *printing };

static void write_plans(void)
{
    write_file("plan.prill", plan_text);
    write_file("bad.prill", bad_plan_text);
    write_file("loose.prill", "plan    \"Test\"   \n");
}

static void run_printing(struct run *run, int output, size_t index)
{
    const char *words[6] = {program()};
    struct surroundings surroundings = {USUAL, output, 0, 0};
    for (size_t i = 0; i < 4; i++)
        words[i + 1] = printing[index][i];
    run_words(run, &surroundings, words);
}

static void test_full_disk(void **state)
{
    struct run run;
    write_plans();
    for (size_t i = 0; i < PRINTING; i++) {
        int full = open("/dev/full", O_WRONLY);
        run_printing(&run, full, i);
        close(full);
        assert_said(&run, 3, "prill: standard output: the disk is full");
    }
}

/* No message: whoever closed the pipe knows. And no death by a signal. */
static void test_closed_pipe(void **state)
{
    struct run run;
    write_plans();
    for (size_t i = 0; i < PRINTING; i++) {
        int ends[2];
        assert_int_equal(pipe(ends), 0);
        close(ends[0]);
        run_printing(&run, ends[1], i);
        close(ends[1]);
        assert_int_equal(run.status, 3);
        assert_null(strstr(run.error, "standard output"));
    }
}

static void test_closed_output(void **state)
{
    struct run run;
    write_plans();
    for (size_t i = 0; i < PRINTING; i++) {
        run_printing(&run, CLOSED, i);
        assert_said(&run, 3, "prill: standard output: it is closed");
    }
    assert_file("plan.prill", plan_text);
}

static void test_closed_input(void **state)
{
    struct run run;
    struct surroundings surroundings = {CLOSED, USUAL, 0, 0};
    RUN_IN(&run, &surroundings, "check", "-");
    assert_said(&run, 3, "prill: standard input: it is closed");
}

static void test_quiet_when_fine(void **state)
{
    struct run run;
    write_file("plan.prill", plan_text);
    RUN(&run, "check", "plan.prill");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.output, "");
    assert_string_equal(run.error, "");
}

/* ---- reading ---- */

static void test_failed_read(void **state)
{
    struct run run;
    const char *const commands[] = {"check", "calendar", "needs", "format"};
    for (size_t i = 0; i < 4; i++) {
        RUN(&run, commands[i], "/proc/self/mem");
        assert_said(&run, 3, "prill: /proc/self/mem: the disk or device failed");
        assert_string_equal(run.output, "");
    }
}

static void test_missing_plans(void **state)
{
    struct run run;
    write_file("plan.prill", plan_text);
    mkdir("folder", 0700);
    RUN(&run, "check", "folder");
    assert_said(&run, 3, "prill: folder: it is a folder, not a file");
    RUN(&run, "calendar", "plan.pril");
    assert_said(&run, 3, "prill: plan.pril: there is no such file; the nearest is plan.prill");
    assert_string_equal(run.output, "");
    if (geteuid() != 0) {
        chmod("plan.prill", 0);
        RUN(&run, "check", "plan.prill");
        assert_said(&run, 3, "prill: plan.prill: the system does not permit it");
    }
}

static void test_control_characters_in_names(void **state)
{
    struct run run;
    RUN(&run, "check", "\x1b[31mred\n.prill");
    assert_said(&run, 3, "there is no such file");
    assert_null(strchr(run.error, '\x1b'));
    assert_ptr_equal(strchr(run.error, '\n'), run.error + strlen(run.error) - 1);
}

/* The worst counts, and what can be told is told. */
static void test_several_plans(void **state)
{
    struct run run;
    write_plans();
    RUN(&run, "check", "plan.prill", "plan.prill");
    assert_int_equal(run.status, 0);
    RUN(&run, "check", "plan.prill", "bad.prill", "plan.prill");
    assert_int_equal(run.status, 1);
    RUN(&run, "check", "nowhere.prill", "bad.prill");
    assert_said(&run, 3, "nowhere.prill");
    assert_non_null(strstr(run.output, "bad.prill:3:1: error"));
    RUN(&run, "check", "--as", "sarif", "bad.prill", "bad.prill");
    assert_int_equal(run.status, 1);
    char *log = strstr(run.output, "\"runs\"");
    assert_non_null(log);
    assert_null(strstr(log + 1, "\"runs\""));
    RUN(&run, "check", "-", "-");
    assert_said(&run, 2, "once only");
}

/* A plan piped in finds what it uses beside the name it was given. */
static void test_stdin_name(void **state)
{
    struct run run;
    mkdir("green", 0700);
    write_file("green/shop.prill", "product starter { grade 14-20-10 granular }\n");
    write_file("piped",
               "plan \"Test\"\nuse \"shop.prill\"\nseason 2027-03-01 to 2027-11-20\n"
               "lawn green { zone north area 100 sqft }\ntask mow { when on Apr 2 }\nuse \"none.prill\"\n");
    struct surroundings surroundings = {open("piped", O_RDONLY), USUAL, 0, 0};
    RUN_IN(&run, &surroundings, "check", "-", "--stdin-name", "green/lawn.prill");
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.output, "green/lawn.prill:6:"));
    assert_null(strstr(run.output, "green/lawn.prill:2:"));
    close(surroundings.input);
}

/* ---- memory ---- */

/* The least memory, in steps of 64 KiB, under which the program can be loaded; 0 when none of these is
 * enough, as for an instrumented program. */
static rlim_t least_memory(void)
{
    struct run run;
    for (rlim_t megabytes = 2; megabytes <= 128; megabytes++) {
        struct surroundings surroundings = {USUAL, USUAL, megabytes * 1024 * 1024, 0};
        RUN_IN(&run, &surroundings, "--version");
        if (run.status == 0)
            return (megabytes - 1) * 1024 * 1024;
    }
    return 0;
}

/* Under every limit the program can be loaded and does its work, or says that it cannot. */
static void test_little_memory(void **state)
{
    static const char *const forms[] = {"text", "csv", "json", "ics"};
    struct run run;
    rlim_t least = least_memory();
    int refused = 0, done = 0;
    if (!least)
        skip();
    write_file("plan.prill", plan_text);
    for (rlim_t step = 0; step < 64; step++) {
        struct surroundings surroundings = {USUAL, USUAL, least + step * 64 * 1024, 0};
        RUN_IN(&run, &surroundings, "--version");
        if (run.status != 0)
            continue;
        RUN_IN(&run, &surroundings, "calendar", "plan.prill", "--as", forms[step % 4]);
        if (run.status != 0)
            assert_said(&run, 3, "memory");
        refused += run.status == 3;
        done += run.status == 0;
    }
    assert_true(refused > 0 && done > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_full_disk),       TEST(test_closed_pipe),
        TEST(test_closed_output),   TEST(test_closed_input),
        TEST(test_quiet_when_fine), TEST(test_failed_read),
        TEST(test_missing_plans),   TEST(test_control_characters_in_names),
        TEST(test_several_plans),   TEST(test_stdin_name),
        TEST(test_little_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
