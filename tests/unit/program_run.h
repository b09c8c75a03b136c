/* The program run as a person runs it, each test in a folder of its own. $PRILL names the program. */
#ifndef PRILL_TESTS_PROGRAM_RUN_H
#define PRILL_TESTS_PROGRAM_RUN_H

#include "tests/unit/written_file.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/resource.h>

#include <cmocka.h>

extern const char plan_text[]; /* nothing is reported of it */
extern const char bad_plan_text[];

/* What a run of the program left. */
struct run {
    int status; /* 128 + n after signal n */
    char output[1 << 16], error[1 << 14];
};

/* How the program finds its streams. A descriptor of -1: the usual one; -2: closed. */
enum { USUAL = -1, CLOSED = -2 };
struct surroundings {
    int input, output;
    rlim_t memory, file_size; /* 0: no limit */
};
extern const struct surroundings ordinary;

const char *program(void); /* by its full path: the tests change folders */

int folder_setup(void **state);
int folder_teardown(void **state);
#define TEST(function) cmocka_unit_test_setup_teardown(function, folder_setup, folder_teardown)

void read_all(int descriptor, char *bytes, size_t size); /* and closes it */
void assert_file(const char *path, const char *bytes);
void assert_files(int wanted); /* nothing beside what the test put there: no draft of a file is left */

enum { WORDS = 24 };
void run_words(struct run *run, const struct surroundings *surroundings, const char *const *words);
void run_in(struct run *run, const struct surroundings *surroundings, const char *first, ...);
#define RUN(run, ...) run_in((run), &ordinary, __VA_ARGS__, (const char *)NULL)
#define RUN_IN(run, surroundings, ...) run_in((run), (surroundings), __VA_ARGS__, (const char *)NULL)

void assert_said(const struct run *run, int status, const char *words);

#endif
