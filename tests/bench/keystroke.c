/* What an editor waits for after a keystroke: compiles the plan in the file again and again, each time with
 * one digit of it changed, asks for the reports, and prints the median time in seconds: `keystroke RUNS
 * PLAN`. */
#define _DEFAULT_SOURCE
#include "compiler/prill.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + (double)time.tv_nsec * 1e-9;
}

static int by_size(const void *a, const void *b)
{
    double first = *(const double *)a, second = *(const double *)b;
    return (first > second) - (first < second);
}

/* The next digit at `at` or behind it is another one. */
static void change(char *text, size_t length, size_t at)
{
    while (at < length && !isdigit((unsigned char)text[at]))
        at++;
    if (at < length)
        text[at] = text[at] == '1' ? '2' : '1';
}

int main(int count, char **arguments)
{
    int runs = count == 3 ? (int)strtol(arguments[1], NULL, 10) : 0;
    FILE *file = runs > 0 && runs < 1000 ? fopen(arguments[2], "rb") : NULL;
    static char text[1 << 20];
    static double seconds[1000];
    if (!file) {
        fputs("usage: keystroke RUNS PLAN\n", stderr);
        return 2;
    }
    size_t length = fread(text, 1, sizeof text, file);
    fclose(file);
    for (int i = 0; i < runs; i++) {
        struct prill_compilation *compilation;
        struct prill_options options = {
            .size = sizeof options, .text = text, .text_length = length, .sealed = true};
        change(text, length, length / 2);
        double start = now();
        prill_compile(arguments[2], &options, &compilation);
        for (const struct prill_report *report = NULL;
             (report = prill_report_after(compilation, report)) != NULL;)
            continue;
        prill_free(compilation);
        seconds[i] = now() - start;
    }
    qsort(seconds, (size_t)runs, sizeof *seconds, by_size);
    printf("%.6f\n", seconds[runs / 2]);
    return 0;
}
