/* Twenty thousand of everything a plan may have many of: the time grows with the number. */
#include "tests/unit/model_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#include <cmocka.h>

enum { SMALL = 2000, LARGE = 20000 };

#define HEAD                                                                                                 \
    "season 2027-03-01 to 2027-11-20\nproduct p { grade 14-0-0 granular }\nlawn l { zone a square 30 ft }\n" \
    "task other { when on Apr 3 }\n"

/* Text with `part` many times in the middle; %d in it is the number of the time. */
struct growth {
    const char *name, *before, *part, *after;
    bool faulty; /* each part holds a mistake */
};

static const struct growth growths[] = {
    {"lawns", HEAD, "lawn l%d { zone z%d square 3 ft }\n", "", false},
    {"zones", HEAD "lawn m {\n", "zone z%d square 3 ft\n", "}\n", false},
    {"products", HEAD, "product q%d { grade 14-0-0 granular }\n", "", false},
    {"applications", HEAD, "apply x%d { to a\n when on Apr 3\n rate 4 lb per 1000 sqft of p }\n", "", false},
    {"tasks of a lawn", HEAD, "task t%d { to l\n when after other }\n", "", false},
    {"records", HEAD, "done other 2027-04-03 { note \"%d\" }\n", "", false},
    {"limits", HEAD "limits {\n", "at most 0.%d lb N per 1000 sqft per year\n", "}\n", false},
    {"sets of limits", HEAD, "limits s%d { nothing within 3 ft of water }\n", "", false},
    {"names in a list", HEAD "task t { to a", ", a", "\n when on Apr 3 }\n", false},
    {"days in a list", HEAD "limits { nothing on Jul 4", ", Jul 4", " }\n", false},
    {"whens", HEAD "task t {\n", "when after other\n", "}\n", false},
    {"whens after commas", HEAD "task t { when after other", ", after other", " }\n", false},
    {"everys", HEAD "task t {\n", "when every 2 weeks from Apr 3, 2 times\n", "}\n", true},
    {"uses",
     HEAD "apply x { to a\n when on Apr 3\n rate 4 lb per 1000 sqft of p }\ndone x 2027-04-03 {\n used 1 lb "
          "of p on a",
     ", 1 lb on a", "\n}\n", false},
    {"packs", HEAD "product q {\n", "pack 40 lb at 31.%d\n", "}\n", false},
    {"rows", HEAD "soil-test 2027-02-12 {\n of a\n method m\n results {\n spot pH\n", "s%d 6.4\n", "}\n}\n",
     false},
    {"columns", HEAD "soil-test 2027-02-12 {\n of a\n method m\n results {\n spot", " pH", "\n s 6\n}\n}\n",
     true},
    {"parts of a shape", HEAD "lawn m { zone z square 3 ft", ", plus square 3 ft", " }\n", false},
    {"groups of a shape", HEAD "lawn m { zone z square 3 ft", ", plus (square 3 ft)", " }\n", false},
    {"blank lines", HEAD, "\n", "", false},
    {"comments", HEAD, "# %d\n", "", false},
    {"blank lines in a statement", HEAD "task t { to a,\n", "\n# %d\n", " l\n when on Apr 3 }\n", false},
    {"unknown words", HEAD, "xyzzy%d 4\n", "", true},
    {"misspelt words", HEAD, "prodct q%d { }\n", "", true},
    {"unknown names", HEAD, "task t%d { when after othr }\n", "", true},
    {"names used twice", HEAD, "product p { grade 14-%d-0 granular }\n", "", true},
    {"misspelt units", HEAD, "lawn m%d { zone z%d square 3 fete }\n", "", true},
    {"stray characters", HEAD, "@ %d\n", "", true},
    {"broken bytes", HEAD, "\xff %d", "\n", true},
    {"curly quotes", HEAD, "\xe2\x80\x9c %d", "\n", true},
    {"open strings", HEAD, "plan \"%d\n", "", true},
    {"stray braces", HEAD, "}\n", "", true},
    {"braces alone", HEAD, "task t%d\n{\n when after other\n}\n", "", true},
    {"open groups", HEAD, "task t%d (\n", "", true},
    {"open groups in a line", HEAD, "task t%d (a\n ) (", "\n", true},
    {"commas", HEAD "follow", ",", "\n", true},
    {"conflicts", HEAD, "<<<<<<< %d\n", "", true},
    {"flat blocks in a block never closed", HEAD "lawn m {\n zone z square 3 ft\n",
     "task t%d { when after other }\n", "", true},
    {"statements after a missing brace", HEAD "lawn m {\n    zone z square 3 ft\n",
     "task t%d { when after other }\n", "}\n", true},
};
enum { GROWTHS = sizeof growths / sizeof *growths };

static void add_part(struct buffer *text, const char *part, int number)
{
    for (const char *mark; (mark = strstr(part, "%d")) != NULL; part = mark + 2) {
        buffer_add(text, (struct text){part, (size_t)(mark - part)});
        buffer_format(text, "%d", number);
    }
    buffer_add_string(text, part);
}

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static double time_of(const struct growth *growth, int count)
{
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer text = {.arena = &arena};
    buffer_add_string(&text, growth->before);
    for (int i = 0; i < count; i++)
        add_part(&text, growth->part, i + 1);
    buffer_add_string(&text, growth->after);
    struct model_text read;
    double start = seconds();
    model_text_read(&read, buffer_string(&text));
    double taken = seconds() - start;
    if (!growth->faulty && read.reports.errors)
        fail_msg("%s: %s", growth->name, model_text_error(&read)->sentence);
    if (growth->faulty)
        assert_true(read.reports.errors > 0);
    model_text_free(&read);
    arena_free(&arena);
    return taken;
}

static double best_time(const struct growth *growth, int count, int tries)
{
    double best = time_of(growth, count);
    for (int i = 1; i < tries; i++) {
        double taken = time_of(growth, count);
        best = taken < best ? taken : best;
    }
    return best;
}

/* Ten times the number may take thirty times as long, and what is too short to measure: room for caches and a
 * busy machine, none for a square. */
static void test_growth(void **state)
{
    for (size_t i = 0; i < GROWTHS; i++) {
        double small = best_time(&growths[i], SMALL, 3), large = best_time(&growths[i], LARGE, 1);
        if (large > 30 * small + 0.06)
            large = best_time(&growths[i], LARGE, 3);
        if (large > 30 * small + 0.06)
            fail_msg("%s: %d in %.2f ms, %d in %.2f ms", growths[i].name, SMALL, small * 1e3, LARGE,
                     large * 1e3);
        print_message("%-40s %8.2f ms %8.2f ms\n", growths[i].name, small * 1e3, large * 1e3);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_growth)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
