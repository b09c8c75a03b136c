/* What an editor waits for after a keystroke: opens the plan in the file as a document, changes one digit of
 * it again and again, gets the reports each time, and prints the median time in seconds: `keystroke RUNS
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

/* From the edit to the last report. */
static double keystroke(struct prill_document *document, size_t at, const char *digit)
{
    double start = now();
    prill_document_edit(document, at, 1, digit, 1);
    struct prill_compilation *compilation = prill_document_compilation(document);
    for (const struct prill_report *report = NULL;
         (report = prill_report_after(compilation, report)) != NULL;)
        continue;
    return now() - start;
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
    struct prill_options options = {
        .size = sizeof options, .text = text, .text_length = length, .sealed = true};
    struct prill_document *document;
    size_t at = length / 2;
    while (at < length && !isdigit((unsigned char)text[at]))
        at++;
    if (at == length || prill_document_open(arguments[2], &options, &document) != PRILL_FINE)
        return 1;
    for (int i = 0; i < runs; i++)
        seconds[i] = keystroke(document, at, i % 2 ? "2" : "1");
    prill_document_close(document);
    qsort(seconds, (size_t)runs, sizeof *seconds, by_size);
    printf("%.6f\n", seconds[runs / 2]);
    return 0;
}
