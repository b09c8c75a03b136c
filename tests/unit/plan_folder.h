/* A folder of its own for each test, and a compilation in it. */
#ifndef PRILL_TESTS_PLAN_FOLDER_H
#define PRILL_TESTS_PLAN_FOLDER_H

#include "compiler/model/include.h"

#include "tests/unit/written_file.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

struct fixture { /* the tests' state */
    struct arena arena;
    struct reports reports;
    struct sources *sources;
    int saved_stdin;
    char folder[64];
};

int plan_folder_setup(void **state);
int plan_folder_teardown(void **state);
#define TEST(function) cmocka_unit_test_setup_teardown(function, plan_folder_setup, plan_folder_teardown)

struct source *open_plan(struct fixture *fixture, const char *path, const char *stdin_name);
void assert_refused(struct fixture *fixture, const char *path, const char *wanted);

/* The last byte of the user's text stands for the statement. */
struct source *use(struct fixture *fixture, const struct source *user, const char *path);
void assert_newest(const struct fixture *fixture, const char *rule, const char *wanted);
void assert_bytes(const struct source *source, const char *bytes);

#endif
