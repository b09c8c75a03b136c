/* Prints a SARIF log about files, for sarif.check: a report on every word of each file, labelled with the
 * word before it, whose fix puts the word into angle quotes. Every third is allowed; the second file is used
 * from the first. */
#include "compiler/form/report_sarif.h"

#include <stdio.h>

static const struct rule rules[] = {
    {"odd-word", SEVERITY_WARNING, "words of an odd {place}", "For the test only.", "nowhere"},
    {"even-word", SEVERITY_ERROR, "words of an even place", NULL, NULL},
};

static bool blank(unsigned char byte)
{
    return byte == ' ' || byte == '\t' || byte == '\r' || byte == '\n';
}

static void word_report(struct reports *reports, struct place word, struct place before, int number)
{
    static const char opening[] = "\xC2\xAB", closing[] = "\xC2\xBB";
    struct report *report = report_add(reports, &rules[number % 2], word, "word {%d} of [all](0)", number);
    report->place_label = "this";
    if (before.source)
        report_label(reports, report, before, "the word before");
    report_fix(reports, report, true, (struct place){word.source, word.start, word.start}, opening,
               "quote it");
    report_fix(reports, report, true, (struct place){word.source, word.end, word.end}, closing, "quote it");
    if (number % 3 == 0)
        report_allow(reports, report, "a third of them are", before);
}

static void words_report(struct reports *reports, const struct source *source)
{
    struct place before = {0};
    int number = 0;
    for (uint32_t at = 0; at < source->length;) {
        uint32_t start = at;
        while (at < source->length && !blank(source->bytes[at]))
            at++;
        if (at > start) {
            struct place word = {source, start, at};
            word_report(reports, word, before, number++);
            before = word;
        }
        while (at < source->length && blank(source->bytes[at]))
            at++;
    }
}

/* False when the file cannot be read. */
static bool source_read(struct source *source, struct arena *arena, const char *path)
{
    enum { LARGEST = 1 << 20 };
    FILE *file = fopen(path, "rb");
    if (!file)
        return false;
    unsigned char *bytes = arena_alloc(arena, LARGEST + 1);
    size_t length = fread(bytes, 1, LARGEST, file);
    bool read = !ferror(file);
    fclose(file);
    source_init(source, arena, path, bytes, (uint32_t)length);
    return read;
}

int main(int count, char **paths)
{
    struct arena arena;
    struct reports reports;
    arena_init(&arena, NULL);
    reports_init(&reports, &arena);
    struct source *first = NULL;
    for (int i = 1; i < count; i++) {
        struct source *source = ARENA_NEW(&arena, struct source);
        if (!source_read(source, &arena, paths[i]))
            return 3;
        source->index = (uint32_t)i;
        if (first)
            source->used_at = (struct place){first, 0, first->length};
        first = first ? first : source;
        words_report(&reports, source);
    }
    report_add(&reports, &rules[0], (struct place){0}, "about no text");
    struct buffer out = {.arena = &arena};
    struct sarif_log log = {.arena = &arena, .results.arena = &arena};
    sarif_log_add(&log, &arena, &reports);
    sarif_log_print(&out, &log, "0.0.0");
    fputs(buffer_string(&out), stdout);
    arena_free(&arena);
    return ferror(stdout) != 0;
}
