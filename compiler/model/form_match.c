/* Patterns: how a statement of the table is recognised, and how far any of its forms reached. */
#include "compiler/model/form_match.h"
#include "compiler/model/pattern.h"

#include <assert.h>
#include <stddef.h>
#include <string.h>

/* ---- the cursor and the furthest failure ---- */

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

void match_respell(struct matcher *matcher, struct place place, const char *written)
{
    struct spelling spelling = {place, written};
    VECTOR_PUSH(matcher->model->arena, &matcher->spellings, spelling);
}

/* What was expected is left as it is, since the count of it is 0: most statements fit, and nothing is said.
 */
static void failure_begin(struct failure *failure, uint32_t token)
{
    memset(failure, 0, offsetof(struct failure, expected));
    failure->token = token;
}

static bool reached(struct matcher *matcher, uint32_t at)
{
    struct failure *failure = &matcher->failure;
    if (at < failure->token)
        return false;
    if (at > failure->token)
        failure_begin(failure, at);
    if (!failure->form)
        failure->form = matcher->form;
    return true;
}

static bool expect(struct matcher *matcher, uint32_t at, struct text words, bool quoted)
{
    struct failure *failure = &matcher->failure;
    if (!reached(matcher, at) || failure->expected_count == EXPECTED_LIMIT)
        return false;
    for (size_t i = 0; i < failure->expected_count; i++)
        if (failure->expected[i].quoted == quoted && text_equal(failure->expected[i].words, words))
            return false;
    failure->expected[failure->expected_count++] = (struct expected){words, quoted};
    return false;
}

bool match_expect(struct matcher *matcher, uint32_t at, const char *what)
{
    return expect(matcher, at, text_of(what), false);
}

bool match_complain(struct matcher *matcher, uint32_t at, struct place place, const struct rule *rule,
                    const char *sentence, const char *help)
{
    struct failure *failure = &matcher->failure;
    if (!reached(matcher, at) || failure->rule)
        return false;
    failure->rule = rule;
    failure->place = place;
    failure->sentence = sentence;
    failure->help = help;
    return false;
}

/* ---- patterns ---- */

bool match_expect_words(struct matcher *matcher, uint32_t at, const char *pattern)
{
    struct text words = {pattern, strcspn(pattern, ",:<>[]|().")};
    while (words.length && pattern[words.length - 1] == ' ')
        words.length--;
    return expect(matcher, at, words, true);
}

/* Its value keeps the slot's name: readers ask by name, and forms of one reader share names. */
static bool match_slot(struct matcher *matcher, const struct part *part, uint32_t *at, struct clause *clause)
{
    assert(clause->value_count < SLOT_LIMIT);
    struct value *value = &clause->values[clause->value_count];
    uint32_t first = *at;
    *value = (struct value){.slot = part->text};
    if (!slot_read(matcher, part->type, part->type_text, at, value))
        return false;
    value->place = match_place(matcher, first, *at);
    clause->value_count++;
    return true;
}

/* Up to the end of the pattern, or of an option. */
static bool match_parts(struct matcher *matcher, const struct part *part, uint32_t *at, struct clause *clause)
{
    for (; part->kind != PART_END; part += part->kind == PART_OPTION ? part->length : 1) {
        if (part->kind == PART_OPTION) {
            /* It fits completely or leaves no trace, but in the furthest failure. */
            uint32_t before = *at;
            size_t values = clause->value_count, spellings = matcher->spellings.count;
            if (!match_parts(matcher, part + 1, at, clause)) {
                *at = before;
                clause->value_count = values;
                matcher->spellings.count = spellings;
            }
        } else if (part->kind == PART_SLOT) {
            if (!match_slot(matcher, part, at, clause))
                return false;
        } else if (part->kind == PART_WORD) {
            if (match_kind(matcher, *at) != TOKEN_WORD ||
                !text_equal(token_text(&matcher->tree->tokens, *at), part->text))
                return match_expect_words(matcher, *at, part->text.start);
            *at = match_next(matcher, *at);
        } else {
            enum token_kind kind = part->kind == PART_COMMA ? TOKEN_COMMA : TOKEN_COLON;
            if (match_kind(matcher, *at) != kind)
                return match_expect(matcher, *at, token_description(kind));
            *at = match_next(matcher, *at);
        }
    }
    return true;
}

/* The words of a pattern up to its next slot, without the blanks around them; *pattern moves behind the slot.
 */
static struct text next_words(const char **pattern)
{
    const char *start = *pattern + strspn(*pattern, " ");
    const char *end = start + strcspn(start, "<");
    *pattern = *end ? strchr(end, '>') + 1 : end;
    while (end > start && end[-1] == ' ')
        end--;
    return (struct text){start, (size_t)(end - start)};
}

/* The clause fits a form that stands for another: it is that one's, and has its words between the same
 * values. */
static void take_standing(struct matcher *matcher, bool continued, struct clause *clause)
{
    const struct form *other = clause->form;
    const char *written = other->pattern, *wanted = other->stands_for;
    for (const struct form *form = form_first(matcher->block); form; form = form_next(form))
        if (strcmp(form->pattern, wanted) == 0)
            clause->form = form;
    struct text head = form_head(other);
    if (continued) { /* its first word is that of the clause before, unless the other form has another one */
        written += head.length;
        wanted += form_begins(clause->form, head) ? head.length : 0;
    }
    struct place whole = clause->place, gap = {whole.source, whole.start, whole.start};
    for (size_t i = 0; i <= clause->value_count; i++) {
        struct text old = next_words(&written), new = next_words(&wanted);
        gap.end = i < clause->value_count ? clause->values[i].place.start : whole.end;
        if (!text_equal(old, new))
            match_respell(matcher, gap,
                          text_format(matcher->model->arena, "%s%.*s%s", i ? " " : "", (int)new.length,
                                      new.start, i < clause->value_count ? " " : ""));
        gap.start = i < clause->value_count ? clause->values[i].place.end : whole.end;
    }
}

/* One form at *at, its first word left out when `continued`. */
static bool match_form(struct matcher *matcher, const struct form *form, bool continued, uint32_t *at,
                       struct clause *clause)
{
    const struct part *parts = pattern_parts(matcher->model, form);
    uint32_t first = *at, here = *at;
    size_t spellings = matcher->spellings.count;
    clause->value_count = 0;
    matcher->form = form;
    bool fits = match_parts(matcher, continued ? parts + 1 : parts, &here, clause);
    enum token_kind kind = match_kind(matcher, here);
    if (fits && kind != TOKEN_END && kind != TOKEN_COMMA) {
        match_expect(matcher, here, "`,`");
        fits = match_expect(matcher, here, "the end of the line");
    }
    if (!fits) {
        matcher->spellings.count = spellings;
        return false;
    }
    clause->form = form;
    clause->place = match_place(matcher, first, here);
    if (form->stands_for)
        take_standing(matcher, continued, clause);
    *at = here;
    return true;
}

/* The forms that stand for others, or those that do not. */
static bool match_forms(struct matcher *matcher, bool others, uint32_t *at, struct text continued,
                        struct clause *clause)
{
    struct text word =
        match_kind(matcher, *at) == TOKEN_WORD ? token_text(&matcher->tree->tokens, *at) : (struct text){0};
    const struct form *form = pattern_form(matcher->model, matcher->block, word);
    const struct form *other = pattern_form(matcher->model, matcher->block, continued);
    if (!form || (other && other < form))
        form = other;
    for (; form; form = form_next(form)) {
        bool begins = form_begins(form, word);
        if (!begins && !continued.length) /* the forms of one first word stand together */
            return false;
        if ((form->stands_for != NULL) != others)
            continue;
        if (begins && match_form(matcher, form, false, at, clause))
            return true;
        if (form_begins(form, continued) && (matcher->guessed || !form_declares(form)) &&
            match_form(matcher, form, true, at, clause))
            return true;
    }
    return false;
}

/* The first form that fits wins, so longer forms come before their beginnings in the table. What another way
 * of writing would have needed is left out: one way is enough to learn. */
bool match_clause(struct matcher *matcher, uint32_t *at, struct text continued, struct clause *clause)
{
    if (matcher->failure.token < *at) /* what comes before has not been tried further than this */
        failure_begin(&matcher->failure, *at);
    if (match_forms(matcher, false, at, continued, clause))
        return true;
    if (matcher->plain)
        return false;
    const struct failure failure = matcher->failure;
    bool fits = match_forms(matcher, true, at, continued, clause);
    matcher->failure = failure;
    return fits;
}
