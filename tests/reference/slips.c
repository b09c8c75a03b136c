/* Answers slips.check: compiles a plan, gives its calendar, and supposes days. On standard input
 *   plan BYTES\n and the plan -> "plan STATUS CHECK\n" (the first error's check, or -), and after 0 the
 *                                calendar as JSON, CSV and text
 *   late NAME:TIME DATE\n     -> "late STATUS CHECK\n", and after 0 JSON
 * each text as "BYTES\n" and the bytes. */
#include "compiler/prill.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void give(const char *text, size_t length)
{
    printf("%zu\n", text ? length : 0);
    if (text)
        fwrite(text, 1, length, stdout);
}

static void give_result(struct prill_compilation *compilation, const char *form)
{
    size_t length = 0;
    const char *text = prill_result(compilation, "calendar", form, NULL, &length);
    give(text, length);
}

/* The check that found the first error; "-" without one. */
static const char *first_error(struct prill_compilation *compilation)
{
    for (const struct prill_report *report = NULL; (report = prill_report_after(compilation, report));)
        if (report->severity == PRILL_ERROR && !report->allowed_because)
            return report->check;
    return "-";
}

static struct prill_compilation *take_plan(size_t length)
{
    struct prill_compilation *compilation = NULL;
    char *text = malloc(length + 1);
    if (!text || fread(text, 1, length, stdin) != length)
        exit(3);
    struct prill_options options = {
        .size = sizeof options, .text = text, .text_length = length, .sealed = true};
    enum prill_status status = prill_compile("random.prill", &options, &compilation);
    printf("plan %d %s\n", (int)status, first_error(compilation));
    if (status == PRILL_FINE) {
        give_result(compilation, "json");
        give_result(compilation, "csv");
        give_result(compilation, "text");
    }
    free(text);
    return compilation;
}

static void suppose(const struct prill_compilation *plan, const char *what, const char *day)
{
    struct prill_compilation *late = NULL;
    struct prill_options options = {.size = sizeof options, .sealed = true, .late = what, .late_day = day};
    options.text = prill_text(plan, &options.text_length);
    enum prill_status status = prill_compile("random.prill", &options, &late);
    printf("late %d %s\n", (int)status, first_error(late));
    if (status == PRILL_FINE)
        give_result(late, "json");
    prill_free(late);
}

int main(void)
{
    char line[256], what[128], day[32];
    size_t length;
    struct prill_compilation *plan = NULL;
    while (fgets(line, sizeof line, stdin)) {
        if (sscanf(line, "plan %zu", &length) == 1) {
            prill_free(plan);
            plan = take_plan(length);
        } else if (plan && sscanf(line, "late %127s %31s", what, day) == 2) {
            suppose(plan, what, day);
        }
        fflush(stdout);
    }
    prill_free(plan);
    return 0;
}
