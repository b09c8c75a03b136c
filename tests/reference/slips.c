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
static const char *first_error(struct prill_compilation *compilation, char check[64])
{
    size_t length;
    const char *reports = prill_reports(compilation, "json", false, &length);
    strcpy(check, "-");
    for (const char *line = reports; line && *line && check[0] == '-';) {
        size_t end = strcspn(line, "\n");
        const char *rule = strstr(line, "\"rule\":\""), *error = strstr(line, "\"severity\":\"error\"");
        if (error && rule && error < line + end)
            sscanf(rule + 8, "%63[^\"]", check);
        line += end + (line[end] == '\n');
    }
    return check;
}

static struct prill_compilation *take_plan(size_t length)
{
    struct prill_compilation *compilation = NULL;
    char *text = malloc(length + 1), check[64];
    if (!text || fread(text, 1, length, stdin) != length)
        exit(3);
    enum prill_status status = prill_compile_text("random.prill", text, length, true, &compilation);
    printf("plan %d %s\n", (int)status, first_error(compilation, check));
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
    char check[64];
    enum prill_status status = prill_compile_late(plan, what, day, &late);
    printf("late %d %s\n", (int)status, first_error(late, check));
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
