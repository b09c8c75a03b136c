/* Patterns: how a statement of the table is recognised, and how far any of its forms reached. */
#include "compiler/model/form_match.h"
#include "compiler/model/slot.h"

#include <assert.h>
#include <stddef.h>
#include <string.h>

/* ---- the cursor and the furthest failure ---- */

bool match_word(const struct matcher *matcher, uint32_t at, const char *word)
{
    if (match_kind(matcher, at) != TOKEN_WORD)
        return false;
    struct text text = token_text(&matcher->tree->tokens, at);
    return *text.start == *word && text_is(text, word);
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

bool slot_complain(struct matcher *matcher, uint32_t at, struct place place, enum model_rule rule,
                   const char *sentence, const char *help)
{
    struct failure *failure = &matcher->failure;
    if (!reached(matcher, at) || failure->rule)
        return false;
    failure->rule = &model_rules[rule];
    failure->place = place;
    failure->sentence = sentence;
    failure->help = help;
    return false;
}

/* ---- patterns ---- */

/* A pattern is parts in a row, tried one after the other at the cursor. */
struct part {
    enum part_kind {
        PART_WORD,
        PART_SLOT,
        PART_COMMA,
        PART_COLON,
        PART_OPTION, /* its own parts follow, with a PART_END */
        PART_END
    } kind;
    uint32_t length;              /* of an option: parts from here to the one behind its end */
    struct text text;             /* the word, within the pattern; of a slot its name */
    struct text rest;             /* the words from there to the next slot or mark; of a slot its type */
    const struct slot_type *type; /* of a slot; NULL: one of some words */
};

enum { HEADS = 128 }; /* a plan has some twenty first words, each many times */

/* What of the table of forms is looked up over and over, kept while a model is built. */
struct patterns {
    const struct part **parts; /* by form; NULL: not taken apart yet */
    struct head {              /* the rows of the table that begin with a word */
        enum block_kind block; /* BLOCK_NONE: nothing is kept here */
        struct text word;
        size_t first, end;
    } heads[HEADS];
};

static struct text words_at(const char *pattern)
{
    struct text words = {pattern, strcspn(pattern, ",:<>[]|().")};
    while (words.length && pattern[words.length - 1] == ' ')
        words.length--;
    return words;
}

bool match_expect_words(struct matcher *matcher, uint32_t at, const char *pattern)
{
    return expect(matcher, at, words_at(pattern), true);
}

/* An option holds no other. */
static const struct part *take_apart(struct arena *arena, const char *pattern)
{
    VECTOR(struct part) parts = {0};
    size_t option = 0;
    for (const char *at = pattern;; at += strspn(at, " ")) {
        const char *colon = strchr(at, ':'), *end = strchr(at, '>');
        struct part part = {.length = 1};
        switch (*at) {
        case '<':
            part.kind = PART_SLOT;
            part.text = (struct text){at + 1, (size_t)(colon - at) - 1};
            part.rest = (struct text){colon + 1, (size_t)(end - colon) - 1};
            part.type = slot_type_find(part.rest);
            break;
        case ',':
            part.kind = PART_COMMA;
            break;
        case ':':
            part.kind = PART_COLON;
            break;
        case '[':
            part.kind = PART_OPTION;
            option = parts.count;
            break;
        case ']':
            parts.items[option].length = (uint32_t)(parts.count + 1 - option);
            part.kind = PART_END;
            break;
        case '\0':
            part.kind = PART_END;
            break;
        default:
            part.kind = PART_WORD;
            part.text = (struct text){at, strcspn(at, " ,:<>[]")};
            part.rest = words_at(at);
        }
        VECTOR_PUSH(arena, &parts, part);
        if (*at == '\0')
            return parts.items;
        at = part.kind == PART_SLOT ? end + 1 : at + (part.kind == PART_WORD ? part.text.length : 1);
    }
}

/* The forms of a first word, none of no word. They are kept by its first letter, its last and its length,
 * which hardly two words of a block have in common. */
static struct head forms_of(const struct matcher *matcher, struct text word)
{
    static const struct head none = {.first = SIZE_MAX};
    struct model *model = matcher->model;
    if (!word.length)
        return none;
    if (!model->patterns) {
        model->patterns = ARENA_NEW(arena_scratch(model->arena), struct patterns);
        model->patterns->parts = ARENA_ARRAY(arena_scratch(model->arena), form_count(), const struct part *);
    }
    size_t sum = (unsigned char)word.start[0] * 31u + (unsigned char)word.start[word.length - 1] +
                 word.length * 7 + (size_t)matcher->block * 13;
    struct head *head = &model->patterns->heads[sum % HEADS];
    if (head->block == matcher->block && text_equal(head->word, word))
        return *head;
    *head = (struct head){matcher->block, word, none.first, none.end};
    const struct form *form = form_find(matcher->block, word);
    if (form)
        head->first = head->end = (size_t)(form - form_at(0));
    for (; form && form_begins(form, word); form = form_next(form))
        head->end++;
    return *head;
}

/* The parts of a pattern up to its end, or to that of an option. A value keeps its slot's name: readers ask
 * by name, and forms of one reader share names. */
static bool match_parts(struct matcher *matcher, const struct part *part, uint32_t *at, struct clause *clause)
{
    uint32_t first = *at;
    struct value *value;
    for (; part->kind != PART_END; part += part->length, first = *at)
        switch (part->kind) {
        case PART_WORD:
            if (match_kind(matcher, first) != TOKEN_WORD ||
                !text_equal(token_text(&matcher->tree->tokens, first), part->text))
                return expect(matcher, first, part->rest, true);
            *at = match_next(matcher, first);
            break;
        case PART_SLOT:
            assert(clause->value_count < SLOT_LIMIT);
            value = &clause->values[clause->value_count];
            *value = (struct value){.slot = part->text};
            if (!slot_read(matcher, part->type, part->rest, at, value))
                return false;
            value->place = match_place(matcher, first, *at);
            clause->value_count++;
            break;
        case PART_COMMA:
        case PART_COLON: {
            enum token_kind kind = part->kind == PART_COMMA ? TOKEN_COMMA : TOKEN_COLON;
            if (match_kind(matcher, first) != kind)
                return match_expect(matcher, first, token_description(kind));
            *at = match_next(matcher, first);
            break;
        }
        case PART_OPTION: { /* it fits completely or leaves no trace, but in the furthest failure */
            size_t values = clause->value_count, spellings = matcher->spellings.count;
            if (!match_parts(matcher, part + 1, at, clause)) {
                *at = first;
                clause->value_count = values;
                matcher->spellings.count = spellings;
            }
            break;
        }
        case PART_END:
            break;
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

/* The forms that stand for others, or those that do not: of the clause's first word, and of the word before a
 * comma that it may go on with, which is then left out; in the order of the table. */
static bool match_forms(struct matcher *matcher, bool others, const struct head heads[2], uint32_t *at,
                        struct clause *clause)
{
    size_t spellings = matcher->spellings.count;
    size_t first = heads[0].first < heads[1].first ? heads[0].first : heads[1].first;
    size_t end = heads[0].end > heads[1].end ? heads[0].end : heads[1].end;
    for (size_t index = first; index < end; index++) {
        const struct form *form = form_at(index);
        for (int left_out = 0; left_out < 2 && (form->stands_for != NULL) == others; left_out++) {
            const struct head *head = &heads[left_out];
            if (index < head->first || index >= head->end ||
                (left_out && form_declares(form) && !matcher->guessed))
                continue;
            const struct part **parts = &matcher->model->patterns->parts[index];
            if (!*parts)
                *parts = take_apart(arena_scratch(matcher->model->arena), form->pattern);
            uint32_t here = left_out ? *at : match_next(matcher, *at);
            clause->value_count = 0;
            matcher->form = form;
            bool fits = match_parts(matcher, *parts + 1, &here, clause);
            enum token_kind kind = match_kind(matcher, here);
            if (fits && (kind == TOKEN_END || kind == TOKEN_COMMA)) {
                clause->form = form;
                clause->place = match_place(matcher, *at, here);
                if (others)
                    take_standing(matcher, left_out, clause);
                *at = here;
                return true;
            }
            if (fits) {
                match_expect(matcher, here, "`,`");
                match_expect(matcher, here, "the end of the line");
            }
            matcher->spellings.count = spellings;
        }
    }
    return false;
}

/* The first form that fits wins, so longer forms come before their beginnings in the table. What another way
 * of writing would have needed is left out: one way is enough to learn. */
bool match_clause(struct matcher *matcher, uint32_t *at, struct text continued, struct clause *clause)
{
    if (matcher->failure.token < *at) /* what comes before has not been tried further than this */
        failure_begin(&matcher->failure, *at);
    bool word = match_kind(matcher, *at) == TOKEN_WORD;
    const struct head heads[2] = {
        forms_of(matcher, word ? token_text(&matcher->tree->tokens, *at) : (struct text){0}),
        forms_of(matcher, continued)};
    if (match_forms(matcher, false, heads, at, clause))
        return true;
    if (matcher->plain)
        return false;
    const struct failure failure = matcher->failure;
    bool fits = match_forms(matcher, true, heads, at, clause);
    matcher->failure = failure;
    return fits;
}
