/* docs/language.md against the tables of the language: it shows every form, unit, nutrient, kind of value and
 * bound, and what it shows can be read. Run from the repository's root. */
#include "tests/unit/model_text.h"

#include "compiler/check/check.h"
#include "compiler/model/area.h"
#include "compiler/model/form.h"
#include "compiler/model/include.h"
#include "compiler/model/slot.h"
#include "compiler/season/season.h"
#include "lexer/token.h"
#include "parser/tree.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const char path[] = "docs/language.md";

struct document {
    struct arena arena;
    const char *text;
};

static int setup(void **state)
{
    static struct document document;
    arena_init(&document.arena, NULL);
    FILE *file = fopen(path, "rb");
    if (!file) {
        print_error("%s is not here: run this from the repository's root\n", path);
        return -1;
    }
    struct buffer text = {.arena = &document.arena};
    char piece[4096];
    for (size_t length; (length = fread(piece, 1, sizeof piece, file)) > 0;)
        buffer_add(&text, (struct text){piece, length});
    document.text = buffer_string(&text);
    *state = &document;
    return fclose(file);
}

static int teardown(void **state)
{
    arena_free(&((struct document *)*state)->arena);
    return 0;
}

/* ---- what it has to show ---- */

/* A pattern as the document writes it: `label RATES [in VOLUMES of water]`, between backquotes; in a table
 * with a backslash before each bar. */
static const char *form_shown(struct arena *arena, const char *pattern)
{
    struct buffer out = {.arena = arena};
    buffer_add_string(&out, "`");
    while (*pattern) {
        size_t plain = strcspn(pattern, "<");
        buffer_add(&out, (struct text){pattern, plain});
        pattern += plain;
        if (!*pattern)
            break;
        const char *type = strchr(pattern, ':') + 1, *end = strchr(type, '>');
        bool choice = memchr(type, '|', (size_t)(end - type)) != NULL;
        for (; type < end; type++) {
            char letter = !choice && *type >= 'a' && *type <= 'z' ? (char)(*type - 'a' + 'A') : *type;
            buffer_add(&out, (struct text){&letter, 1});
        }
        pattern = end + 1;
    }
    buffer_add_string(&out, "`");
    return buffer_string(&out);
}

static void test_forms_are_shown(void **state)
{
    struct document *document = *state;
    size_t missing = 0;
    for (size_t i = 0; i < form_count(); i++) {
        const struct form *form = form_at(i);
        const char *shown = form_shown(&document->arena, form->pattern);
        struct buffer in_table = {.arena = &document->arena};
        for (const char *at = shown; *at; at++)
            buffer_format(&in_table, *at == '|' ? "\\%c" : "%c", *at);
        if (strstr(document->text, shown) || strstr(document->text, buffer_string(&in_table)))
            continue;
        missing++;
        print_error(
            "%s does not show a form of `%s`; it may be written so:\n- %s: %s%s\n\n```prill %s\n%s\n```\n",
            path, block_kind_name(form->block), shown, form->meaning, form->once ? " (once)" : "",
            block_kind_name(form->block), form->example);
    }
    assert_int_equal(missing, 0);
}

/* Every form that the document lists is one of the language: "- `form`: meaning". */
static void test_no_form_is_invented(void **state)
{
    struct document *document = *state;
    size_t count = 0;
    for (const char *at = document->text; (at = strstr(at, "\n- `")) != NULL; count++) {
        at += 3;
        const char *end = strchr(at + 1, '`') + 1;
        bool known = false;
        for (size_t i = 0; i < form_count() && !known; i++) {
            const char *shown = form_shown(&document->arena, form_at(i)->pattern);
            known = strlen(shown) == (size_t)(end - at) && !memcmp(shown, at, (size_t)(end - at));
        }
        if (!known)
            fail_msg("%s lists %.*s, which is no form of the language", path, (int)(end - at), at);
        at = end;
    }
    assert_true(count > 100);
}

static void check_shown(struct document *document, const char *what, const char *word)
{
    if (!strstr(document->text, text_format(&document->arena, "`%s`", word)))
        fail_msg("%s does not show the %s `%s`", path, what, word);
}

static void test_values_are_shown(void **state)
{
    struct document *document = *state;
    for (size_t i = 0; slot_type_at(i); i++) {
        char *name = (char *)text_string(&document->arena, text_of(slot_type_at(i)->name));
        for (char *at = name; *at; at++)
            *at = *at >= 'a' && *at <= 'z' ? (char)(*at - 'a' + 'A') : *at;
        check_shown(document, "kind of value", name);
        assert_true(slot_type_at(i)->description[0] != '\0');
    }
    for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit)) {
        for (size_t i = 0; unit->symbols[i]; i++)
            check_shown(document, "unit", unit->symbols[i]);
        for (size_t i = 0; unit->words[i]; i++)
            check_shown(document, "unit", unit->words[i]);
    }
    for (size_t i = 0; nutrient_form_at(i); i++)
        check_shown(document, "nutrient", nutrient_form_at(i)->name);
}

/* The number that stands in the document after `start`. */
static double figure_after(const struct document *document, const char *start)
{
    const char *at = strstr(document->text, start);
    if (!at) {
        fail_msg("%s has no line with `%s`", path, start);
        return 0;
    }
    at += strlen(start);
    return token_number((struct text){at, strcspn(at, " |\n")});
}

/* The tables of units and nutrients, figure by figure: volumes stand in L, charge in mmol. */
static void test_figures(void **state)
{
    struct document *document = *state;
    for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit)) {
        if (unit->measure == MEASURE_TEMPERATURE || unit->measure == MEASURE_NUMBER)
            continue;
        bool thousandths = unit->measure == MEASURE_VOLUME || unit->measure == MEASURE_CHARGE ||
                           unit->measure == MEASURE_VOLUME_PER_TIME;
        double shown = figure_after(document, text_format(&document->arena, "\n| %s | ", unit->name));
        assert_figure(shown, unit->factor * (thousandths ? 1000 : 1));
    }
    for (size_t i = 0; nutrient_form_at(i); i++) {
        const struct nutrient_form *form = nutrient_form_at(i);
        const char *line = strstr(document->text, text_format(&document->arena, "\n| `%s` | ", form->name));
        assert_non_null(line);
        const char *second = strstr(line + 3, " | "), *third = second ? strstr(second + 3, " | ") : NULL;
        assert_true(third && third < strchr(line + 1, '\n'));
        double shown = token_number((struct text){third + 3, strcspn(third + 3, " ")});
        assert_true(shown - form->element_per_unit <= 5e-5 && form->element_per_unit - shown <= 5e-5);
    }
}

/* ---- what it says of sizes ---- */

/* Sentences made from the bounds: rows of the chapter, and of what is said of a check that watches over one.
 */
static void test_sizes(void **state)
{
    enum { MIB = 1 << 20, MILLION = 1000000, THOUSAND = 1000 };
    struct document *document = *state;
    struct arena *arena = &document->arena;
    const struct {
        const char *check, *sentence;
    } sizes[] = {
        {NULL, text_format(arena, "| a word | %d bytes |", WORD_LIMIT)},
        {NULL, text_format(arena, "| a number | %d digits, not counting zeros in front |", DIGIT_LIMIT)},
        {"too-long", text_format(arena, "Words have at most %d bytes and numbers at most %d digits.",
                                 WORD_LIMIT, DIGIT_LIMIT)},
        {NULL, text_format(arena, "| blocks, or groups, inside one another | %d deep |", DEPTH_LIMIT)},
        {"depth", text_format(arena, "nested %d deep;", DEPTH_LIMIT)},
        {NULL, text_format(arena, "| corners of a polygon | %d |", POLYGON_LIMIT)},
        {NULL, text_format(arena, "| a file | %d MiB |", SOURCE_LIMIT / MIB)},
        {NULL, text_format(arena, "| files of a plan | %d, %d MiB in total, %d deep |", INCLUDE_FILE_LIMIT,
                           INCLUDE_BYTE_LIMIT / MIB, INCLUDE_DEPTH_LIMIT)},
        {NULL, text_format(arena, "A file may use others, up to %d deep;", INCLUDE_DEPTH_LIMIT)},
        {"use-depth", text_format(arena, "up to %d deep.", INCLUDE_DEPTH_LIMIT)},
        {"use-too-many", text_format(arena, "of %d files of at most %d MiB each, %d MiB in total.",
                                     INCLUDE_FILE_LIMIT, SOURCE_LIMIT / MIB, INCLUDE_BYTE_LIMIT / MIB)},
        {NULL, text_format(arena, "| dates of a plan | %d,000, or one for every %d bytes",
                           OCCURRENCE_LIMIT / THOUSAND, ROOM_BYTES)},
        {NULL, text_format(arena, "each time | %d,000, or one for every %d bytes", AMOUNT_LIMIT / THOUSAND,
                           ROOM_BYTES)},
        {NULL, text_format(arena, "plan out | %d MiB, and %d bytes for each", PLAN_MEMORY / MIB,
                           PLAN_MEMORY_PER_BYTE)},
        {NULL, text_format(arena, "each result | %d million steps, and %d for each", PLAN_WORK / MILLION,
                           PLAN_WORK_PER_BYTE)},
        {"too-large",
         text_format(arena, "%d MiB and %d million steps, and %d bytes and %d steps more for each",
                     PLAN_MEMORY / MIB, PLAN_WORK / MILLION, PLAN_MEMORY_PER_BYTE, PLAN_WORK_PER_BYTE)},
        {NULL, text_format(arena, "| reports of one severity | %d;", REPORT_LIMIT)},
    };
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        const char *check = sizes[i].check;
        if (!strstr(check ? rule_find(text_of(check))->explanation : document->text, sizes[i].sentence))
            fail_msg("%s does not say: %s", check ? check : path, sizes[i].sentence);
    }
}

/* ---- what it shows can be read ---- */

static const struct form *opener_of(enum block_kind kind)
{
    for (size_t i = 0; i < form_count(); i++)
        if (form_at(i)->opens == kind)
            return form_at(i);
    fail_msg("no statement opens a block of `%s`", block_kind_name(kind));
    return NULL;
}

/* The first line of a statement that opens a block, made from its form without what may be left out. */
static void add_opening(struct buffer *out, const char *pattern)
{
    while (*pattern) {
        if (*pattern == '[') {
            pattern = strchr(pattern, ']') + 1;
        } else if (*pattern == '<') {
            const char *type = strchr(pattern, ':') + 1;
            bool date = !strncmp(type, "date>", 5), text = !strncmp(type, "text>", 5);
            buffer_add_string(out, date ? "2027-04-17" : text ? "\"file\"" : "framed");
            pattern = strchr(type, '>') + 1;
        } else {
            buffer_add(out, (struct text){pattern++, 1});
        }
    }
    buffer_add_string(out, " {\n");
}

/* Opens the blocks around statements of this kind; returns how many. */
static int add_frame(struct buffer *out, enum block_kind kind)
{
    if (kind == BLOCK_PLAN)
        return 0;
    const struct form *opener = opener_of(kind);
    int depth = add_frame(out, opener->block);
    if (depth == 0)
        buffer_add_string(out, "season 2027-03-01 to 2027-11-20\n");
    add_opening(out, opener->pattern);
    return depth + 1;
}

/* Examples name things that they do not declare, and leave out what they are not about. */
static bool is_meant(const struct report *report)
{
    static const char *const rules[] = {"unknown-name", "missing", "use-missing"};
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        if (!strcmp(report->rule->name, rules[i]))
            return true;
    return report->severity != SEVERITY_ERROR;
}

static void check_example(enum block_kind kind, struct text example, const char *from)
{
    struct arena arena;
    struct model_text read;
    arena_init(&arena, NULL);
    struct buffer plan = {.arena = &arena};
    int depth = add_frame(&plan, kind);
    buffer_add(&plan, example);
    buffer_add_string(&plan, "\n");
    while (depth-- > 0)
        buffer_add_string(&plan, "}\n");
    model_text_read(&read, buffer_string(&plan));
    for (size_t i = 0; i < read.reports.all.count; i++) {
        const struct report *report = read.reports.all.items[i];
        if (is_meant(report))
            continue;
        struct position at = source_position(report->place.source, report->place.start);
        print_error("%s, line %u: %s\n", buffer_string(&plan), at.line, report->sentence);
        fail_msg("an example of %s cannot be read", from);
    }
    model_text_free(&read);
    arena_free(&arena);
}

static void test_examples_of_the_table(void **state)
{
    for (size_t i = 0; i < form_count(); i++)
        check_example(form_at(i)->block, text_of(form_at(i)->example), form_at(i)->pattern);
}

/* "```prill product": statements of a product; "```prill" alone: statements of the plan. */
static enum block_kind kind_of_fence(struct text info)
{
    if (info.length == 0)
        return BLOCK_PLAN;
    for (int kind = BLOCK_PLAN; kind < BLOCK_KIND_COUNT; kind++)
        if (text_is(info, block_kind_name((enum block_kind)kind)))
            return (enum block_kind)kind;
    fail_msg("%s: there is no block of the kind `%.*s`", path, (int)info.length, info.start);
    return BLOCK_NONE;
}

static void test_examples_of_the_document(void **state)
{
    static const char fence[] = "\n```prill";
    struct document *document = *state;
    size_t count = 0;
    for (const char *at = document->text; (at = strstr(at, fence)) != NULL; count++) {
        const char *info = at + sizeof fence - 1, *line_end = strchr(info, '\n');
        const char *end = strstr(line_end, "\n```");
        assert_non_null(end);
        info += *info == ' ';
        enum block_kind kind = kind_of_fence((struct text){info, (size_t)(line_end - info)});
        check_example(kind, (struct text){line_end + 1, (size_t)(end - line_end)}, path);
        at = end + 4;
    }
    assert_true(count > 50);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_forms_are_shown),
        cmocka_unit_test(test_no_form_is_invented),
        cmocka_unit_test(test_values_are_shown),
        cmocka_unit_test(test_figures),
        cmocka_unit_test(test_examples_of_the_table),
        cmocka_unit_test(test_examples_of_the_document),
        cmocka_unit_test(test_sizes),
    };
    return cmocka_run_group_tests(tests, setup, teardown);
}
