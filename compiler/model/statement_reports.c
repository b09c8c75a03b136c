/* What is said of a statement, or of one of its clauses, that fits no form: the cause, and what its author
 * may have meant. */
#include "compiler/model/statement_reports.h"

#include "compiler/model/read.h"

#include <string.h>

struct text statement_head(const struct matcher *matcher, uint32_t at)
{
    return match_kind(matcher, at) == TOKEN_WORD ? token_text(&matcher->tree->tokens, at) : (struct text){0};
}

/* ---- what is said of a first word ---- */

/* *certain: no other first word is as near. */
static struct text nearest_head(enum block_kind kind, struct text word, bool *certain)
{
    struct text best = {0};
    size_t least = (word.length > 3 ? word.length : 3) / 3 + 1;
    if (word.length < 3 || text_is(word, "not")) /* which is not a misspelt `note` */
        return best;
    for (const struct form *form = form_first(kind); form; form = form_next(form)) {
        size_t distance = text_distance(word, form_head(form));
        if (distance < least) {
            least = distance;
            best = form_head(form);
            *certain = true;
        } else if (distance == least && !text_equal(best, form_head(form))) {
            *certain = false;
        }
    }
    return best;
}

/* Of a plan those that a person writes; the rest are for what the library has. */
static const char *heads_of(struct arena *arena, enum block_kind kind)
{
    struct buffer list = {.arena = arena};
    const struct form *last = NULL;
    for (const struct form *form = form_first(kind); form; form = form_next(form)) {
        struct text head = form_head(form);
        if (kind == BLOCK_PLAN && text_is(head, "mix"))
            break;
        if (!last || !text_equal(head, form_head(last)))
            buffer_format(&list, "%s%.*s", last ? ", " : "", (int)head.length, head.start);
        last = form;
    }
    return buffer_string(&list);
}

struct text complain_of_head(struct matcher *matcher, uint32_t at)
{
    struct model *model = matcher->model;
    struct place place = token_place(&matcher->tree->tokens, at);
    struct text word = statement_head(matcher, at);
    struct meaning meant[MEANT_LIMIT];
    model->building->complaints += model->building->complaints <= MEANT_REPORTS;
    if (!word.length) {
        struct report *report = report_add(model->reports, &model_rules[RULE_STATEMENT], place,
                                           "a statement begins with a word, not with %s",
                                           token_description(match_kind(matcher, at)));
        bool remark = match_kind(matcher, at) == TOKEN_SLASH && match_kind(matcher, at + 1) == TOKEN_SLASH;
        if (remark) {
            report_help(model->reports, report, "a comment begins with `#`");
            report_fix(model->reports, report, false, match_place(matcher, at, at + 2), "#", "write `#`");
        } else {
            size_t count = clause_by_notation(matcher, at, (struct text){0}, meant);
            count = count ? count : clause_by_head(matcher, at, meant);
            if (count)
                meaning_suggest(model, report, meant, count);
        }
        return word;
    }
    const char *block = block_kind_name(matcher->block), *where = "a plan";
    if (matcher->block != BLOCK_PLAN)
        where = text_format(model->arena, "%s `%s` block", strchr("aeiou", *block) ? "an" : "a", block);
    struct report *report = report_add(model->reports, &model_rules[RULE_STATEMENT], place,
                                       "%s has no `%.*s` statement", where, (int)word.length, word.start);
    size_t count = clause_by_notation(matcher, at, (struct text){0}, meant);
    if (count) {
        if (meant->lacks) {
            report->place = meant->place;
            report->sentence =
                text_format(model->arena, "`%s` %s", place_words(model->arena, meant->place), meant->lacks);
        }
        meaning_suggest(model, report, meant, count);
        symbol_lose(model, name_intern(model->names, word)); /* "front 2000 sqft" */
        return (struct text){0};
    }
    if (statement_elsewhere(matcher, at, report) || word_of_a_form(matcher, word, report))
        return (struct text){0};
    /* The kinds of block in which the word is a statement. */
    struct buffer homes = {.arena = model->arena};
    for (int kind = BLOCK_PLAN; kind < BLOCK_KIND_COUNT; kind++)
        if (form_find((enum block_kind)kind, word))
            buffer_format(&homes, kind == BLOCK_PLAN ? "%sthe plan itself" : "%s`%s`",
                          homes.length ? " or " : "", block_kind_name((enum block_kind)kind));
    bool certain = false;
    struct text near = homes.length ? (struct text){0} : nearest_head(matcher->block, word, &certain);
    if (near.length) {
        if (text_distance(word, near) == 0) /* but for its capitals */
            report->sentence = text_format(model->arena, "`%.*s` is written `%.*s` here, in small letters",
                                           (int)word.length, word.start, (int)near.length, near.start);
        else
            report_help(model->reports, report, "did you mean `%.*s`?", (int)near.length, near.start);
        if (certain && clause_with(matcher, match_place(matcher, at, matcher->end), (struct text){0}, place,
                                   text_string(model->arena, near), false))
            report_fix(model->reports, report, false, place, text_string(model->arena, near),
                       text_format(model->arena, "write `%.*s`", (int)near.length, near.start));
        return near;
    }
    const char *belongs = text_format(model->arena, "`%.*s` belongs in %s", (int)word.length, word.start,
                                      buffer_string(&homes));
    if (homes.length && matcher->block == BLOCK_PLAN) { /* whose own statements are many */
        report_help(model->reports, report, "%s", belongs);
        return near;
    }
    if (homes.length)
        report_note(model->reports, report, "%s", belongs);
    report_help(model->reports, report, "%s has: %s", where, heads_of(model->arena, matcher->block));
    return near;
}

/* ---- what is said of the rest ---- */

/* What could go on, as a sentence; where it is more than anyone reads, the first forms instead. */
static const char *expected_text(struct arena *arena, const struct failure *failure, bool missing)
{
    enum { READABLE = 10, FORMS_SHOWN = 3 };
    struct buffer list = {.arena = arena};
    const struct form *form = failure->form;
    struct text head = form ? form_head(form) : (struct text){0};
    const char *forms[FORMS_SHOWN];
    size_t count = 0;
    for (; form && form_begins(form, head) && count < FORMS_SHOWN; form = form_next(form))
        if (!strchr(form->example, '\n'))
            forms[count++] = text_format(arena, "`%s`", form->example);
    if (failure->expected_count > READABLE && count)
        return text_format(arena, "for example %s", list_text(arena, forms, count, " or "));
    for (size_t i = 0; i < failure->expected_count; i++) {
        const struct expected *expected = &failure->expected[i];
        const char *between = i == 0 ? "" : i + 1 == failure->expected_count ? " or " : ", ";
        const char *quote = expected->quoted ? "`" : "";
        buffer_format(&list, "%s%s%.*s%s", between, quote, (int)expected->words.length, expected->words.start,
                      quote);
    }
    return text_format(arena, missing ? "%s is missing" : "expected %s", buffer_string(&list));
}

/* A comma at a line's end carries the statement on; when the next line does not fit, that is the likely
 * cause. */
static void note_line_break(struct matcher *matcher, struct report *report, uint32_t at)
{
    const struct token *tokens = matcher->tree->tokens.items;
    uint32_t before = at;
    bool broken = false;
    for (;
         before > 0 && (tokens[before - 1].kind == TOKEN_NEWLINE || tokens[before - 1].kind == TOKEN_COMMENT);
         before--)
        broken = broken || tokens[before - 1].kind == TOKEN_NEWLINE;
    if (broken && before > 0 && tokens[before - 1].kind == TOKEN_COMMA)
        report_label(matcher->model->reports, report, token_place(&matcher->tree->tokens, before - 1),
                     "the comma at the end of this line continues the statement");
}

/* What a value in its slot complained of. */
static void complain_of_value(struct matcher *matcher)
{
    struct model *model = matcher->model;
    const struct failure *failure = &matcher->failure;
    struct report *report =
        report_add(model->reports, failure->rule, failure->place, "%s", failure->sentence);
    if (failure->help)
        report_help(model->reports, report, "%s", failure->help);
    if (failure->meant.length)
        report_fix(
            model->reports, report, false, failure->place, text_string(model->arena, failure->meant),
            text_format(model->arena, "write `%.*s`", (int)failure->meant.length, failure->meant.start));
}

enum { FOUND_LIMIT = 60 }; /* bytes of the plan in a sentence */

void complain_of_clause(struct matcher *matcher, uint32_t at, struct text continued)
{
    struct model *model = matcher->model;
    struct failure *failure = &matcher->failure;
    struct report *report;
    model->building->complaints += model->building->complaints <= MEANT_REPORTS;
    struct meaning meant[MEANT_LIMIT];
    size_t count = clause_by_notation(matcher, at, continued, meant);
    if (!count && clause_by_pound_sign(matcher, at, continued, meant)) {
        struct place sign = token_place(&matcher->tree->tokens, matcher->end);
        sign.end = sign.start + 1;
        report = report_add(model->reports, &model_rules[RULE_FORM], sign,
                            "`#` begins a comment: what follows is not read");
        meaning_suggest(model, report, meant, 1);
        return;
    }
    if (failure->rule && !count) {
        complain_of_value(matcher);
        return;
    }
    if (!count)
        count = clause_meant(matcher, at, continued, meant);
    if (!count && continued.length && failure->token == at && match_kind(matcher, at) == TOKEN_WORD) {
        complain_of_head(matcher, at); /* nor does it go on with the statement before */
        return;
    }
    bool at_end = failure->token >= matcher->end;
    const char *expected = expected_text(model->arena, failure, at_end),
               *example = count || !at_end ? NULL : clause_examples(matcher, at, continued);
    struct place place = at_end ? match_place(matcher, matcher->end - 1, matcher->end)
                                : token_place(&matcher->tree->tokens, failure->token);
    if (count) {
        report = meaning_report(matcher, meant, count);
    } else if (at_end) {
        place.start = place.end;
        report = report_add(model->reports, &model_rules[RULE_FORM], place, "this statement is incomplete");
        if (example)
            report_help(model->reports, report, "for example %s", example);
        else
            report_help(model->reports, report, "%s", expected);
    } else {
        struct text found = place_text(place);
        found.length = found.length < FOUND_LIMIT ? found.length : FOUND_LIMIT;
        const char *before =
            failure->token > at ? place_words(model->arena, match_place(matcher, at, failure->token)) : "";
        bool shown = *before && strlen(before) < FOUND_LIMIT;
        report = report_add(model->reports, &model_rules[RULE_FORM], place,
                            shown ? "`%.*s` cannot come after `%s`" : "`%.*s` was not expected here%s",
                            (int)found.length, found.start, shown ? before : "");
        report_help(model->reports, report, "%s", expected);
    }
    if (at_end) {
        const struct tokens *tokens = &matcher->tree->tokens;
        struct place comment = token_place(tokens, matcher->end); /* `zone green #4 area 90 m2` */
        struct text words = place_text(comment);
        if (tokens->items[matcher->end].kind == TOKEN_COMMENT && words.length > 1 && words.start[1] != ' ' &&
            words.start[1] != '#')
            report_label(model->reports, report, comment, "`#` begins a comment: this is not read");
    } else if (!failure->rule) {
        note_line_break(matcher, report, failure->token);
    }
    const struct form *form = failure->form;
    if (!count && !example && form && !strchr(form->example, '\n') &&
        strncmp(expected, "for example", 11) != 0) {
        const struct form *first = form_find(matcher->block, form_head(form)), *next = form_next(first);
        bool more = next && form_begins(next, form_head(form));
        report_note(model->reports, report, "%s: %s", more ? "one of its forms" : "its form", form->example);
    }
}
