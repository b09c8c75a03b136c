/* A text that is edited piece by piece gives, after each edit, what the same text gives when it is compiled
 * from nothing: reports, results and layout, byte for byte.
 *
 * Environment: DOCUMENT_EDITS, how many edits of each plan (24). */
#include "compiler/prill.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { TEXT_SIZE = 1 << 16, ROUND = 6 };

static const char *const paths[] = {"plans/wrenfield/reading-green.prill",
                                    "plans/kiln-close/kiln-close.prill", "plans/library/scales.prill"};

static uint32_t seed = 41;

static size_t draw(size_t below)
{
    seed ^= seed << 13;
    seed ^= seed >> 17;
    seed ^= seed << 5;
    return seed % below;
}

static size_t read_text(const char *path, char *text)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    size_t length = fread(text, 1, TEXT_SIZE / 2, file);
    fclose(file);
    return length;
}

static void same(const char *first, size_t first_length, const char *second, size_t second_length)
{
    assert_int_equal(first_length, second_length);
    assert_true(!first == !second);
    if (first)
        assert_memory_equal(first, second, first_length);
}

static void compare(struct prill_document *document, const char *path, const char *text, size_t length)
{
    static const char *const results[][2] = {{"calendar", "json"}, {"needs", "text"}, {"budget", "csv"}};
    static const char *const forms[] = {"text", "json"};
    struct prill_compilation *edited = prill_document_compilation(document), *fresh;
    struct prill_options options = {.size = sizeof options, .text = text, .text_length = length};
    size_t edited_length, fresh_length;
    prill_compile(path, &options, &fresh);
    assert_int_equal(prill_status(edited), prill_status(fresh));
    for (int severity = PRILL_NOTE; severity <= PRILL_ERROR; severity++)
        assert_int_equal(prill_count(edited, (enum prill_severity)severity),
                         prill_count(fresh, (enum prill_severity)severity));
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        const char *first = prill_reports(&edited, 1, forms[i], false, &edited_length);
        const char *second = prill_reports(&fresh, 1, forms[i], false, &fresh_length);
        same(first, edited_length, second, fresh_length);
    }
    for (size_t i = 0; i < sizeof results / sizeof *results; i++) {
        const char *first = prill_result(edited, results[i][0], results[i][1], NULL, &edited_length);
        const char *second = prill_result(fresh, results[i][0], results[i][1], NULL, &fresh_length);
        same(first, edited_length, second, fresh_length);
    }
    const char *first = prill_format(edited, &edited_length), *second = prill_format(fresh, &fresh_length);
    same(first, edited_length, second, fresh_length);
    prill_free(fresh);
}

/* A digit, a line, a brace, some words of the plan itself, or nothing, in place of a few bytes. */
static size_t draw_edit(const char *text, size_t length, size_t *offset, size_t *removed, const char **piece)
{
    static const char *const pieces[] = {"1", "\n", " ", "}", "{", "\"", ",", "#", "0.5 ", "apply x {\n", ""};
    size_t drawn = draw(sizeof pieces / sizeof *pieces + 2);
    *offset = draw(length + 1);
    *removed = draw(3) ? 0 : draw(9) % (length - *offset + 1);
    if (drawn < sizeof pieces / sizeof *pieces) {
        *piece = pieces[drawn];
        return strlen(*piece);
    }
    size_t from = draw(length), bytes = draw(40);
    *piece = text + from;
    return bytes < length - from ? bytes : length - from;
}

/* Some edits on from the plan as it was, and back to it in one edit. */
static void test_edits(void **state)
{
    static char original[TEXT_SIZE], text[TEXT_SIZE], piece_copy[TEXT_SIZE];
    const char *count = getenv("DOCUMENT_EDITS");
    int edits = count ? (int)strtol(count, NULL, 10) : 24;
    for (size_t i = 0; i < sizeof paths / sizeof *paths; i++) {
        size_t whole = read_text(paths[i], original), length = whole;
        struct prill_options options = {.size = sizeof options, .text = original, .text_length = whole};
        struct prill_document *document;
        assert_int_equal(prill_document_open(paths[i], &options, &document), PRILL_FINE);
        memcpy(text, original, whole);
        compare(document, paths[i], text, length);
        for (int edit = 0; edit < edits; edit++) {
            size_t offset = 0, removed = length, added = whole;
            const char *piece = original;
            if (edit % ROUND < ROUND - 1)
                added = draw_edit(text, length, &offset, &removed, &piece);
            memcpy(piece_copy, piece, added);
            memmove(text + offset + added, text + offset + removed, length - offset - removed);
            memcpy(text + offset, piece_copy, added);
            length += added - removed;
            assert_int_equal(prill_document_edit(document, offset, removed, piece_copy, added), PRILL_FINE);
            compare(document, paths[i], text, length);
        }
        prill_document_close(document);
    }
}

static void test_begins_with_nothing(void **state)
{
    struct prill_document *document;
    size_t length;
    assert_int_equal(prill_document_open("a.prill", NULL, &document), PRILL_FINE);
    assert_int_equal(prill_status(prill_document_compilation(document)), PRILL_PLAN_HAS_ERRORS);
    assert_int_equal(prill_document_edit(document, 0, 0, "plan \"A\"\n", 9), PRILL_FINE);
    struct prill_compilation *compilation = prill_document_compilation(document);
    assert_int_equal(prill_status(compilation), PRILL_FINE);
    assert_ptr_equal(compilation, prill_document_compilation(document)); /* compiled once */
    assert_string_equal(prill_text(compilation, &length), "plan \"A\"\n");
    prill_document_close(document);
}

/* A call that is not an edit changes nothing, and what the document was opened with is its own. */
static void test_bad_calls(void **state)
{
    struct prill_document *document;
    char day[] = "2027-04-17", text[] = "plan \"A\"\nlawn l { zone a area 1 m2 }\n";
    struct prill_options options = {
        .size = sizeof options, .text = text, .text_length = sizeof text - 1, .day = day, .sealed = true};
    assert_int_equal(prill_document_open(NULL, &options, &document), PRILL_BAD_CALL);
    assert_null(document);
    options.size = 1;
    assert_int_equal(prill_document_open("a.prill", &options, &document), PRILL_BAD_CALL);
    options.size = sizeof options;
    assert_int_equal(prill_document_open("a.prill", &options, &document), PRILL_FINE);
    memset(day, 'x', sizeof day - 1);
    memset(text, 'x', sizeof text - 1);
    struct prill_compilation *compilation = prill_document_compilation(document);
    assert_int_equal(prill_status(compilation), PRILL_FINE);
    assert_int_equal(prill_document_edit(document, sizeof text, 0, "a", 1), PRILL_BAD_CALL);
    assert_int_equal(prill_document_edit(document, 1, sizeof text, "a", 1), PRILL_BAD_CALL);
    assert_int_equal(prill_document_edit(document, 1, 0, NULL, 1), PRILL_BAD_CALL);
    assert_int_equal(prill_document_edit(document, 0, 0, "a", SIZE_MAX), PRILL_BAD_CALL);
    assert_int_equal(prill_document_edit(document, 0, 1, "a", PRILL_TEXT_LIMIT - (sizeof text - 1) + 2),
                     PRILL_BAD_CALL);
    assert_ptr_equal(compilation, prill_document_compilation(document));
    assert_memory_equal(prill_text(compilation, NULL), "plan \"A\"", 8);
    prill_document_close(document);
    prill_document_close(NULL);
    assert_null(prill_document_compilation(NULL));
    assert_int_equal(prill_document_edit(NULL, 0, 0, "", 0), PRILL_BAD_CALL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_edits),
        cmocka_unit_test(test_begins_with_nothing),
        cmocka_unit_test(test_bad_calls),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
