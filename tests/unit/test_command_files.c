/* The files that the program writes: whole or not at all, whatever the system refuses. */
#include "tests/unit/program_run.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- files written ---- */

static const char calendar_start[] = "BEGIN:VCALENDAR";

static void assert_calendar(const char *path)
{
    char found[sizeof calendar_start];
    int descriptor = open(path, O_RDONLY);
    read_all(descriptor, found, sizeof found);
    assert_string_equal(found, calendar_start);
}

static mode_t mode_of(const char *path)
{
    struct stat status;
    assert_int_equal(lstat(path, &status), 0);
    return status.st_mode & 07777;
}

static void test_output_file(void **state)
{
    struct run run;
    write_file("plan.prill", plan_text);
    umask(027);
    RUN(&run, "calendar", "plan.prill", "-o", "new.ics");
    umask(022);
    assert_int_equal(run.status, 0);
    assert_string_equal(run.output, "");
    assert_calendar("new.ics");
    assert_int_equal(mode_of("new.ics"), 0640);
    assert_files(2);
}

static void test_output_replaces(void **state)
{
    struct run run;
    write_file("plan.prill", plan_text);
    mkdir("there", 0700);
    write_file("there/old.ics", "old");
    chmod("there/old.ics", 0604);
    assert_int_equal(symlink("there/old.ics", "link.ics"), 0);
    assert_int_equal(symlink("link.ics", "further.ics"), 0);
    RUN(&run, "calendar", "plan.prill", "--output=further.ics");
    assert_int_equal(run.status, 0);
    assert_calendar("there/old.ics");
    assert_int_equal(mode_of("there/old.ics"), 0604);
    assert_int_equal(mode_of("link.ics"), 0777); /* still a link */
    assert_files(4);
}

static void test_output_is_no_input(void **state)
{
    struct run run;
    write_file("plan.prill", "use \"shop.prill\"\nplan \"Test\"\nseason 2027-03-01 to 2027-11-20\n"
                             "lawn green { zone north area 100 sqft }\ntask mow { when on Apr 2 }\n");
    write_file("shop.prill", "product starter { grade 14-20-10 granular }\n");
    assert_int_equal(link("plan.prill", "hard.prill"), 0);
    assert_int_equal(symlink("shop.prill", "soft.prill"), 0);
    const char *const names[] = {"plan.prill", "./plan.prill", "hard.prill", "shop.prill", "soft.prill"};
    for (size_t i = 0; i < 5; i++) {
        RUN(&run, "calendar", "plan.prill", "--as", "ics", "-o", names[i]);
        assert_said(&run, 2, "it is part of the plan");
    }
    assert_file("shop.prill", "product starter { grade 14-20-10 granular }\n");
}

static void test_output_refused(void **state)
{
    struct run run;
    write_file("plan.prill", plan_text);
    mkdir("folder.ics", 0700);
    assert_int_equal(symlink("ring.ics", "ring.ics"), 0);
    RUN(&run, "calendar", "plan.prill", "-o", "folder.ics");
    assert_said(&run, 3, "folder.ics: not written: it is a folder");
    RUN(&run, "calendar", "plan.prill", "-o", "nowhere/new.ics");
    assert_said(&run, 3, "nowhere/new.ics: not written: there is no such folder");
    RUN(&run, "calendar", "plan.prill", "-o", "ring.ics");
    assert_said(&run, 3, "ring.ics: not written: ");
    RUN(&run, "calendar", "plan.prill", "-o", "new.pdf");
    assert_said(&run, 2, "new.pdf: its ending");
    RUN(&run, "calendar", "plan.prill", "--as", "text", "-o", "/dev/full");
    assert_said(&run, 3, "/dev/full: not written: the disk is full");
    RUN(&run, "calendar", "plan.prill", "--as", "text", "-o", "/dev/null");
    assert_int_equal(run.status, 0);
    assert_files(3);
}

/* After an error nothing new, and what was there stays. */
static void test_no_output_after_an_error(void **state)
{
    struct run run;
    write_file("bad.prill", bad_plan_text);
    write_file("old.ics", "old");
    RUN(&run, "calendar", "bad.prill", "-o", "old.ics");
    assert_said(&run, 1, "bad.prill:3:1: error");
    assert_file("old.ics", "old");
    RUN(&run, "calendar", "bad.prill", "-o", "new.ics");
    assert_int_equal(run.status, 1);
    assert_files(2);
    RUN(&run, "calendar", "bad.prill");
    assert_string_equal(run.output, "");
}

/* A limit on the size of files: the draft goes, the old file stays. */
static void test_file_size_limit(void **state)
{
    struct run run;
    struct surroundings surroundings = {USUAL, USUAL, 0, 128};
    write_file("plan.prill", plan_text);
    write_file("old.ics", "old");
    RUN_IN(&run, &surroundings, "calendar", "plan.prill", "-o", "old.ics");
    assert_said(&run, 3, "old.ics: not written");
    assert_file("old.ics", "old");
    assert_files(2);
}

static bool strace_works(void)
{
    return system("strace -o /dev/null true >/dev/null 2>&1") == 0;
}

/* `prill calendar plan.prill [-o old.ics]` with one fault of the system, in calls about `path` only unless
 * that is NULL. Leaks cannot be looked for under strace. */
static void run_with_fault(struct run *run, const char *fault, const char *path, bool to_file)
{
    char inject[64];
    const char *words[WORDS] = {"strace", "-o", "/dev/null", "-E", "ASAN_OPTIONS=detect_leaks=0:exitcode=99",
                                "-e"};
    int count = 6;
    snprintf(inject, sizeof inject, "inject=%s", fault);
    words[count++] = inject;
    if (path) {
        words[count++] = "-P";
        words[count++] = path;
    }
    words[count++] = program();
    words[count++] = "calendar";
    words[count++] = "plan.prill";
    if (to_file) {
        words[count++] = "-o";
        words[count++] = "old.ics";
    }
    run_words(run, &ordinary, words);
}

/* Each step of writing a file made to fail in turn. */
static void test_faults_of_the_system(void **state)
{
    static const char *const faults[] = {
        "write:error=ENOSPC:when=1", "write:error=EIO:when=1",    "fsync:error=EIO:when=1",
        "fchmod:error=EPERM:when=1", "rename:error=EXDEV:when=1",
    };
    struct run run;
    if (!strace_works())
        skip();
    write_file("plan.prill", plan_text);
    write_file("old.ics", "old");
    for (size_t i = 0; i < sizeof faults / sizeof *faults; i++) {
        run_with_fault(&run, faults[i], NULL, true);
        if (run.status != 3 || !strstr(run.error, "prill: old.ics: not written: "))
            fail_msg("%s: status %d, %s", faults[i], run.status, run.error);
        assert_file("old.ics", "old");
        assert_files(2);
    }
}

/* A call that a signal interrupts is made again. */
static void test_interrupted_calls(void **state)
{
    struct run whole, run;
    if (!strace_works())
        skip();
    write_file("plan.prill", plan_text);
    RUN(&whole, "calendar", "plan.prill");
    assert_int_equal(whole.status, 0);
    run_with_fault(&run, "read:error=EINTR:when=1+2", "plan.prill", false);
    assert_int_equal(run.status, 0);
    assert_string_equal(run.output, whole.output);
    run_with_fault(&run, "write:error=EINTR:when=1", NULL, false);
    assert_int_equal(run.status, 0);
    assert_string_equal(run.output, whole.output);
}

/* The reads of the plan, each made to fail, the one that would have met the end too: never an empty plan. */
static void test_faults_of_reading(void **state)
{
    static const char *const faults[] = {"read:error=EIO:when=1", "read:error=EIO:when=2"};
    struct run run;
    if (!strace_works())
        skip();
    write_file("plan.prill", plan_text);
    for (size_t i = 0; i < 2; i++) {
        run_with_fault(&run, faults[i], "plan.prill", false);
        assert_said(&run, 3, "plan.prill: the disk or device failed");
        assert_string_equal(run.output, "");
    }
}

/* ---- layout in place ---- */

static void test_format_in_place(void **state)
{
    struct run run;
    struct stat before, after;
    write_file("loose.prill", "plan    \"Test\"   # c\r\n");
    chmod("loose.prill", 0604);
    RUN(&run, "format", "--check", "loose.prill");
    assert_int_equal(run.status, 1);
    assert_string_equal(run.output, "loose.prill\n");
    assert_file("loose.prill", "plan    \"Test\"   # c\r\n");
    RUN(&run, "format", "loose.prill");
    assert_int_equal(run.status, 0);
    assert_file("loose.prill", "plan \"Test\"                                 # c\n");
    assert_int_equal(mode_of("loose.prill"), 0604);
    stat("loose.prill", &before);
    RUN(&run, "format", "loose.prill");
    RUN(&run, "format", "--check", "loose.prill");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.output, "");
    stat("loose.prill", &after);
    assert_int_equal(before.st_ino, after.st_ino); /* not written again */
    assert_files(1);
}

static void test_format_leaves_errors_alone(void **state)
{
    struct run run;
    write_file("bad.prill", "lawn   x {\n");
    write_file("loose.prill", "plan    \"Test\"\n");
    RUN(&run, "format", "bad.prill", "loose.prill");
    assert_said(&run, 1, "bad.prill: left unchanged");
    assert_file("bad.prill", "lawn   x {\n");
    assert_file("loose.prill", "plan \"Test\"\n");
    RUN(&run, "format", "/dev/null");
    assert_int_equal(run.status, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_output_file),
        TEST(test_output_replaces),
        TEST(test_output_is_no_input),
        TEST(test_output_refused),
        TEST(test_no_output_after_an_error),
        TEST(test_file_size_limit),
        TEST(test_faults_of_the_system),
        TEST(test_interrupted_calls),
        TEST(test_faults_of_reading),
        TEST(test_format_in_place),
        TEST(test_format_leaves_errors_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
