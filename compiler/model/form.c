/* Patterns: how a statement of the table is recognised, and what is said when none is. */
#include "compiler/model/match.h"
#include "compiler/model/read.h"

#include <assert.h>
#include <string.h>

#define ONE true
#define MANY false
#define FORM(block, pattern, opens, times, reader, meaning, example)                                         \
    {BLOCK_##block, pattern, BLOCK_##opens, times, read_##reader, meaning, example},
static const struct form forms[] = {
#include "compiler/model/statement.def"
};
#undef FORM
#undef ONE
#undef MANY
enum { FORM_COUNT = sizeof forms / sizeof *forms };

static const char *const block_names[BLOCK_KIND_COUNT] = {
    [BLOCK_NONE] = "",
    [BLOCK_PLAN] = "plan",
    [BLOCK_LAWN] = "lawn",
    [BLOCK_SOIL_TEST] = "soil-test",
    [BLOCK_RESULTS] = "results",
    [BLOCK_PRODUCT] = "product",
    [BLOCK_SPREADER] = "spreader",
    [BLOCK_SPRAYER] = "sprayer",
    [BLOCK_WEATHER] = "weather",
    [BLOCK_NORMALS] = "normals",
    [BLOCK_LIMITS] = "limits",
    [BLOCK_APPLY] = "apply",
    [BLOCK_TASK] = "task",
    [BLOCK_DONE] = "done",
    [BLOCK_GRASS] = "grass",
    [BLOCK_SCALE] = "scale",
    [BLOCK_SOURCE] = "source",
    [BLOCK_CAUTION] = "caution",
};

size_t form_count(void)
{
    return FORM_COUNT;
}

const struct form *form_at(size_t index)
{
    return index < FORM_COUNT ? &forms[index] : NULL;
}

const char *block_kind_name(enum block_kind kind)
{
    return block_names[kind];
}

static struct text form_head(const struct form *form)
{
    const char *end = strchr(form->pattern, ' ');
    return (struct text){form->pattern, end ? (size_t)(end - form->pattern) : strlen(form->pattern)};
}

bool block_has_head(enum block_kind kind, struct text word)
{
    for (size_t i = 0; i < FORM_COUNT; i++)
        if (forms[i].block == kind && text_equal(form_head(&forms[i]), word))
            return true;
    return false;
}

enum block_kind block_kind_of(enum block_kind outer, struct text head)
{
    for (size_t i = 0; i < FORM_COUNT; i++)
        if (forms[i].block == outer && forms[i].opens != BLOCK_NONE && text_equal(form_head(&forms[i]), head))
            return forms[i].opens;
    return BLOCK_NONE;
}

const struct value *clause_value(const struct clause *clause, const char *slot)
{
    for (size_t i = 0; i < clause->value_count; i++)
        if (text_is(clause->values[i].slot, slot))
            return &clause->values[i];
    return NULL;
}

/* ---- the cursor and the furthest failure ---- */

enum token_kind match_kind(const struct matcher *matcher, uint32_t at)
{
    return at < matcher->end ? (enum token_kind)matcher->tree->tokens.items[at].kind : TOKEN_END;
}

uint32_t match_skip(const struct matcher *matcher, uint32_t at)
{
    while (match_kind(matcher, at) == TOKEN_NEWLINE || match_kind(matcher, at) == TOKEN_COMMENT)
        at++;
    return at;
}

uint32_t match_next(const struct matcher *matcher, uint32_t at)
{
    return match_skip(matcher, at + 1);
}

bool match_word(const struct matcher *matcher, uint32_t at, const char *word)
{
    return match_kind(matcher, at) == TOKEN_WORD && text_is(token_text(&matcher->tree->tokens, at), word);
}

struct place match_place(const struct matcher *matcher, uint32_t first, uint32_t end)
{
    struct place place = token_place(&matcher->tree->tokens, first);
    while (end > first + 1 &&
           (match_kind(matcher, end - 1) == TOKEN_NEWLINE || match_kind(matcher, end - 1) == TOKEN_COMMENT))
        end--;
    if (end > first)
        place.end = token_place(&matcher->tree->tokens, end - 1).end;
    return place;
}

static bool reached(struct failure *failure, uint32_t at)
{
    if (at < failure->token)
        return false;
    if (at > failure->token)
        *failure = (struct failure){.token = at};
    return true;
}

bool match_expect(struct matcher *matcher, uint32_t at, const char *what)
{
    struct failure *failure = &matcher->failure;
    if (!reached(failure, at) || failure->expected_count == EXPECTED_LIMIT)
        return false;
    for (size_t i = 0; i < failure->expected_count; i++)
        if (!strcmp(failure->expected[i], what))
            return false;
    failure->expected[failure->expected_count++] = what;
    return false;
}

bool match_complain(struct matcher *matcher, uint32_t at, struct place place, const struct rule *rule,
                    const char *sentence, const char *help)
{
    struct failure *failure = &matcher->failure;
    if (!reached(failure, at) || failure->rule)
        return false;
    failure->rule = rule;
    failure->place = place;
    failure->sentence = sentence;
    failure->help = help;
    return false;
}

/* ---- patterns ---- */

static bool is_word_character(char character)
{
    return (character >= 'a' && character <= 'z') || (character >= 'A' && character <= 'Z') ||
           (character >= '0' && character <= '9') || character == '-';
}

static struct text pattern_word(const char *pattern)
{
    size_t length = 0;
    while (is_word_character(pattern[length]))
        length++;
    return (struct text){pattern, length};
}

/* The bare words from here to the next slot or mark, quoted: they are expected together. */
static const char *words_ahead(struct arena *arena, const char *pattern)
{
    const char *end = pattern;
    for (const char *at = pattern; is_word_character(*at) || *at == ' '; at++)
        if (*at != ' ')
            end = at + 1;
    return text_format(arena, "`%.*s`", (int)(end - pattern), pattern);
}

static bool match_literal(struct matcher *matcher, const char **pattern, uint32_t *at)
{
    struct text word = pattern_word(*pattern);
    if (match_kind(matcher, *at) != TOKEN_WORD || !text_equal(token_text(&matcher->tree->tokens, *at), word))
        return match_expect(matcher, *at, words_ahead(matcher->model->arena, *pattern));
    *pattern += word.length;
    *at = match_next(matcher, *at);
    return true;
}

static bool match_slot(struct matcher *matcher, const char **pattern, uint32_t *at, struct clause *clause)
{
    const char *name = *pattern + 1, *colon = strchr(name, ':'), *end = strchr(colon, '>');
    struct value value = {.slot = {name, (size_t)(colon - name)}};
    struct text type = {colon + 1, (size_t)(end - colon - 1)};
    uint32_t first = *at;
    if (!slot_read(matcher, type, at, &value))
        return false;
    value.place = match_place(matcher, first, *at);
    assert(clause->value_count < SLOT_LIMIT);
    clause->values[clause->value_count++] = value;
    *pattern = end + 1;
    return true;
}

static bool match_sequence(struct matcher *matcher, const char *pattern, uint32_t *at, struct clause *clause);

/* An optional part either fits whole or leaves no trace (but in the furthest failure). */
static void match_optional(struct matcher *matcher, const char **pattern, uint32_t *at, struct clause *clause)
{
    uint32_t before = *at;
    size_t values = clause->value_count;
    if (!match_sequence(matcher, *pattern + 1, at, clause)) {
        *at = before;
        clause->value_count = values;
    }
    *pattern = strchr(*pattern, ']') + 1;
}

static bool match_mark(struct matcher *matcher, const char **pattern, uint32_t *at)
{
    enum token_kind kind = **pattern == ',' ? TOKEN_COMMA : TOKEN_COLON;
    if (match_kind(matcher, *at) != kind)
        return match_expect(matcher, *at, token_description(kind));
    ++*pattern;
    *at = match_next(matcher, *at);
    return true;
}

/* Up to the pattern's end or the `]` of the optional part. */
static bool match_sequence(struct matcher *matcher, const char *pattern, uint32_t *at, struct clause *clause)
{
    while (*pattern && *pattern != ']') {
        bool fits = true;
        if (*pattern == ' ')
            pattern++;
        else if (*pattern == '[')
            match_optional(matcher, &pattern, at, clause);
        else if (*pattern == '<')
            fits = match_slot(matcher, &pattern, at, clause);
        else if (*pattern == ',' || *pattern == ':')
            fits = match_mark(matcher, &pattern, at);
        else
            fits = match_literal(matcher, &pattern, at);
        if (!fits)
            return false;
    }
    return true;
}

/* One form at *at, its first word left out when `continued`. */
static bool match_form(struct matcher *matcher, const struct form *form, bool continued, uint32_t *at,
                       struct clause *clause)
{
    const char *pattern = form->pattern;
    uint32_t first = *at, here = *at;
    if (continued)
        pattern += form_head(form).length;
    clause->value_count = 0;
    if (!match_sequence(matcher, pattern, &here, clause))
        return false;
    enum token_kind kind = match_kind(matcher, here);
    if (kind != TOKEN_END && kind != TOKEN_COMMA) {
        match_expect(matcher, here, "`,`");
        return match_expect(matcher, here, "the end of the line");
    }
    clause->form = form;
    clause->place = match_place(matcher, first, here);
    *at = here;
    return true;
}

/* ---- statements ---- */

static struct text nearest_head(enum block_kind kind, struct text word)
{
    struct text best = {0};
    size_t least = (word.length > 3 ? word.length : 3) / 3 + 1;
    for (size_t i = 0; i < FORM_COUNT && word.length > 2; i++) {
        struct text head = form_head(&forms[i]);
        size_t distance = forms[i].block == kind ? text_distance(word, head) : least;
        if (distance < least) {
            least = distance;
            best = head;
        }
    }
    return best;
}

static const char *heads_of(struct arena *arena, enum block_kind kind)
{
    struct buffer list = {.arena = arena};
    struct text last = {0};
    for (size_t i = 0; i < FORM_COUNT; i++) {
        struct text head = form_head(&forms[i]);
        if (forms[i].block != kind || (last.start && text_equal(head, last)))
            continue;
        buffer_format(&list, "%s%.*s", list.length ? ", " : "", (int)head.length, head.start);
        last = head;
    }
    return buffer_string(&list);
}

static void add_homes(struct model *model, struct report *report, struct text word)
{
    struct buffer list = {.arena = model->arena};
    for (int kind = BLOCK_PLAN; kind < BLOCK_KIND_COUNT; kind++)
        if (block_has_head((enum block_kind)kind, word))
            buffer_format(&list, "%s%s", list.length ? ", " : "",
                          kind == BLOCK_PLAN ? "the plan itself" : block_names[kind]);
    if (list.length)
        report_note(model->reports, report, "`%.*s` is a statement of: %s", (int)word.length, word.start,
                    buffer_string(&list));
}

static const char *block_phrase(struct arena *arena, enum block_kind kind)
{
    return kind == BLOCK_PLAN ? "a plan" : text_format(arena, "a `%s` block", block_names[kind]);
}

/* Returns the word that was probably meant, empty without one: reading then goes on as if it stood there. */
static struct text complain_of_head(struct matcher *matcher, uint32_t at)
{
    struct model *model = matcher->model;
    struct place place = token_place(&matcher->tree->tokens, at);
    struct text word = place_text(place);
    const char *where = block_phrase(model->arena, matcher->block);
    if (match_kind(matcher, at) != TOKEN_WORD) {
        report_add(model->reports, &model_rules[RULE_STATEMENT], place,
                   "a statement begins with a word; %s stands here",
                   token_description(match_kind(matcher, at)));
        return (struct text){0};
    }
    struct report *report = report_add(model->reports, &model_rules[RULE_STATEMENT], place,
                                       "`%.*s` is no statement of %s", (int)word.length, word.start, where);
    struct text near = nearest_head(matcher->block, word);
    if (near.length) {
        report_help(model->reports, report, "did you mean `%.*s`?", (int)near.length, near.start);
        report_fix(model->reports, report, false, place, text_string(model->arena, near),
                   text_format(model->arena, "write `%.*s`", (int)near.length, near.start));
        return near;
    }
    add_homes(model, report, word);
    report_help(model->reports, report, "%s has: %s", where, heads_of(model->arena, matcher->block));
    return near;
}

static const char *list_of_expected(struct arena *arena, const struct failure *failure)
{
    struct buffer list = {.arena = arena};
    for (size_t i = 0; i < failure->expected_count; i++) {
        const char *between = i == 0 ? "" : i + 1 == failure->expected_count ? " or " : ", ";
        buffer_format(&list, "%s%s", between, failure->expected[i]);
    }
    return buffer_string(&list);
}

/* A comma at a line's end carries the statement on; when the next line does not fit, that is the likely
 * cause. */
static void note_line_break(struct matcher *matcher, struct report *report, uint32_t at)
{
    uint32_t before = at;
    bool broken = false;
    while (before > 0 && (matcher->tree->tokens.items[before - 1].kind == TOKEN_NEWLINE ||
                          matcher->tree->tokens.items[before - 1].kind == TOKEN_COMMENT)) {
        before--;
        broken = broken || matcher->tree->tokens.items[before].kind == TOKEN_NEWLINE;
    }
    if (broken && before > 0 && matcher->tree->tokens.items[before - 1].kind == TOKEN_COMMA)
        report_label(matcher->model->reports, report, token_place(&matcher->tree->tokens, before - 1),
                     "this comma at the end of its line carries the statement on");
}

static void show_form(struct matcher *matcher, struct report *report, struct text head)
{
    const struct form *only = NULL;
    size_t count = 0;
    for (size_t i = 0; i < FORM_COUNT; i++)
        if (forms[i].block == matcher->block && text_equal(form_head(&forms[i]), head)) {
            only = only ? only : &forms[i];
            count++;
        }
    if (only && !strchr(only->example, '\n'))
        report_note(matcher->model->reports, report, "%s: %s", count > 1 ? "one of its forms" : "its form",
                    only->example);
}

static void complain_of_form(struct matcher *matcher, struct text head)
{
    struct model *model = matcher->model;
    struct failure *failure = &matcher->failure;
    struct report *report;
    if (failure->rule) {
        report = report_add(model->reports, failure->rule, failure->place, "%s", failure->sentence);
        if (failure->help)
            report_help(model->reports, report, "%s", failure->help);
        if (failure->meant.length)
            report_fix(
                model->reports, report, false, failure->place, text_string(model->arena, failure->meant),
                text_format(model->arena, "write `%.*s`", (int)failure->meant.length, failure->meant.start));
        return;
    }
    const char *expected = list_of_expected(model->arena, failure);
    if (failure->token >= matcher->end) {
        struct place last = match_place(matcher, matcher->end - 1, matcher->end);
        report = report_add(model->reports, &model_rules[RULE_FORM],
                            (struct place){last.source, last.end, last.end}, "this statement ends too soon");
        report_help(model->reports, report, "%s is missing", expected);
    } else {
        struct place place = token_place(&matcher->tree->tokens, failure->token);
        struct text found = place_text(place);
        report = report_add(model->reports, &model_rules[RULE_FORM], place, "`%.*s` does not fit here",
                            (int)(found.length < 60 ? found.length : 60), found.start);
        report_help(model->reports, report, "expected %s", expected);
        note_line_break(matcher, report, failure->token);
    }
    show_form(matcher, report, head);
}

/* The clause at *at; `continued` is the first word of the clause before it, empty at the statement's start.
 */
static bool match_clause(struct matcher *matcher, uint32_t *at, struct text continued, struct clause *clause)
{
    matcher->failure = (struct failure){.token = *at};
    struct text word =
        match_kind(matcher, *at) == TOKEN_WORD ? token_text(&matcher->tree->tokens, *at) : (struct text){0};
    for (size_t i = 0; i < FORM_COUNT; i++) {
        if (forms[i].block != matcher->block)
            continue;
        struct text head = form_head(&forms[i]);
        if (word.length && text_equal(head, word) && match_form(matcher, &forms[i], false, at, clause))
            return true;
        if (continued.length && text_equal(head, continued) &&
            match_form(matcher, &forms[i], true, at, clause))
            return true;
    }
    return false;
}

static bool fits_block(struct matcher *matcher, const struct clause *clause, const struct block *block)
{
    struct model *model = matcher->model;
    struct text head = form_head(clause->form);
    if (block && clause->form->opens == BLOCK_NONE) {
        report_add(model->reports, &model_rules[RULE_BLOCK], token_place(&matcher->tree->tokens, block->open),
                   "`%.*s` carries no block", (int)head.length, head.start);
        return false;
    }
    if (!block && clause->form->opens != BLOCK_NONE && clause->form->opens != BLOCK_DONE) {
        struct report *report = report_add(model->reports, &model_rules[RULE_BLOCK], clause->place,
                                           "`%.*s` needs a block", (int)head.length, head.start);
        if (!strchr(clause->form->example, '\n'))
            report_help(model->reports, report, "for example: %s", clause->form->example);
        return false;
    }
    return true;
}

/* What may stand once in a block and was seen in it. */
struct seen {
    void (*read)(struct model *model, const struct clause *clause, void *subject);
    struct place place;
};

struct seen_list {
    struct seen *items;
    size_t count, capacity;
};

static bool seen_before(struct model *model, const struct clause *clause, struct seen_list *seen)
{
    if (!clause->form->once)
        return false;
    for (size_t i = 0; i < seen->count; i++)
        if (seen->items[i].read == clause->form->read) {
            struct text head = form_head(clause->form);
            struct report *report = report_add(model->reports, &model_rules[RULE_REPEATED], clause->place,
                                               "`%.*s` stands twice", (int)head.length, head.start);
            report_label(model->reports, report, seen->items[i].place, "it stands here already");
            return true;
        }
    struct seen entry = {clause->form->read, clause->place};
    VECTOR_PUSH(model->arena, seen, entry);
    return false;
}

static bool read_statement(struct model *model, const struct tree *tree, const struct statement *statement,
                           enum block_kind kind, void *subject, struct seen_list *seen)
{
    struct matcher matcher = {.model = model, .tree = tree, .block = kind, .end = statement->end};
    uint32_t at = match_skip(&matcher, statement->first);
    struct text head = {0}, word = token_text(&tree->tokens, at);
    bool known = match_kind(&matcher, at) == TOKEN_WORD && block_has_head(kind, word);
    if (!known) {
        head = complain_of_head(&matcher, at);
        if (!head.length)
            return false;
        at = match_next(&matcher, at);
    }
    struct value values[SLOT_LIMIT];
    for (;;) {
        struct clause clause = {.statement = statement, .tree = tree, .values = values};
        if (!match_clause(&matcher, &at, head, &clause)) {
            complain_of_form(&matcher, head.length ? head : word);
            return false;
        }
        head = form_head(clause.form);
        bool last = match_kind(&matcher, at) == TOKEN_END;
        if (!fits_block(&matcher, &clause, last ? statement->block : NULL))
            return false;
        if (seen_before(model, &clause, seen))
            return false;
        clause.form->read(model, &clause, subject);
        if (last)
            return known;
        at = match_next(&matcher, at);
    }
}

bool block_read(struct model *model, const struct tree *tree, const struct block *block, enum block_kind kind,
                void *subject)
{
    bool sound = true;
    struct seen_list seen = {0};
    for (const struct statement *statement = block->first; statement; statement = statement->next) {
        bool fine = !statement->broken && read_statement(model, tree, statement, kind, subject, &seen);
        sound = sound && fine;
    }
    return sound;
}
