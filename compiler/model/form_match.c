/* Patterns: how a statement of the table is recognised, and how far any of its forms reached. */
#include "compiler/model/form_match.h"
#include "compiler/model/slot.h"

#include <assert.h>
#include <stddef.h>
#include <string.h>

/* ---- the cursor and the furthest failure ---- */

void match_respell(struct matcher *matcher, struct place place, const char *written)
{
    struct spelling spelling = {place, written};
    VECTOR_PUSH(matcher->model->arena, &matcher->spellings, spelling);
}

/* What was expected is left as it is, since its count is 0: most statements fit, and nothing is said. */
static void failure_begin(struct failure *failure, uint32_t token)
{
    memset(failure, 0, offsetof(struct failure, expected));
    failure->token = token;
}

static bool reached(struct matcher *matcher, uint32_t at)
{
    struct failure *failure = &matcher->failure;
    if (matcher->quiet || at < failure->token)
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
    return !matcher->quiet && expect(matcher, at, text_of(what), false);
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
        PART_MARK,   /* a comma or a colon */
        PART_OPTION, /* its own parts follow */
        PART_OPTION_END,
        PART_END
    } kind;
    uint32_t length; /* of an option: parts from here to its end */
    enum token_kind mark;
    struct text text;             /* the word, within the pattern; of a slot its name */
    struct text rest;             /* the words from there to the next slot or mark; of a slot its type */
    const struct slot_type *type; /* of a slot; NULL: one of some words */
};

enum { HEADS = 128 }; /* a plan has some twenty first words, each many times */

/* Those of the table that begin with a word. */
struct rows {
    uint32_t first, end;
};

/* What of the table of forms is looked up over and over, kept while a model is built. */
struct patterns {
    const struct form *table;
    const struct part **parts; /* by form; NULL: not taken apart yet */
    struct head {
        enum block_kind block; /* BLOCK_NONE: nothing is kept here */
        struct rows rows;
        struct text word;
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
        struct part part = {0};
        switch (*at) {
        case '<':
            part.kind = PART_SLOT;
            part.text = (struct text){at + 1, (size_t)(colon - at) - 1};
            part.rest = (struct text){colon + 1, (size_t)(end - colon) - 1};
            part.type = slot_type_find(part.rest);
            break;
        case ',':
        case ':':
            part.kind = PART_MARK;
            part.mark = *at == ',' ? TOKEN_COMMA : TOKEN_COLON;
            break;
        case '[':
            part.kind = PART_OPTION;
            option = parts.count;
            break;
        case ']':
            assert(option < parts.count);
            parts.items[option].length = (uint32_t)(parts.count - option);
            part.kind = PART_OPTION_END;
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

static const struct rows no_forms = {UINT32_MAX, 0};

/* The forms of a first word, taken apart, with what is kept of the table from now on. */
static struct rows forms_look(struct model *model, enum block_kind block, struct text word, size_t slot)
{
    struct arena *arena = arena_scratch(model->arena);
    if (!model->patterns) {
        model->patterns = ARENA_NEW(arena, struct patterns);
        model->patterns->table = form_at(0);
        model->patterns->parts = ARENA_ARRAY(arena, form_count(), const struct part *);
    }
    struct head *head = &model->patterns->heads[slot];
    *head = (struct head){block, no_forms, word};
    const struct form *form = form_find(block, word);
    if (form)
        head->rows.first = head->rows.end = (uint32_t)(form - form_at(0));
    for (; form && form_begins(form, word); form = form_next(form)) {
        const struct part **parts = &model->patterns->parts[head->rows.end++];
        if (!*parts)
            *parts = take_apart(arena, form->pattern);
    }
    return head->rows;
}

/* The same, mostly known. They are kept by the word's first two letters and its length, which hardly two
 * words of a block have in common. */
static inline struct rows forms_of(const struct matcher *matcher, struct text word)
{
    const struct patterns *patterns = matcher->model->patterns;
    size_t slot = ((unsigned char)word.start[0] * 31u + (unsigned char)word.start[1] + word.length * 7 +
                   (size_t)matcher->block * 13) %
                  HEADS;
    if (patterns && patterns->heads[slot].block == matcher->block &&
        text_equal(word, patterns->heads[slot].word))
        return patterns->heads[slot].rows;
    return forms_look(matcher->model, matcher->block, word, slot);
}

/* The clause by the parts of one pattern, of which the first is read already: from `here` on, which moves to
 * its end. An option fits completely or leaves no trace, but in the furthest failure. A value keeps its
 * slot's name: readers ask by name, and forms of one reader share names. */
static bool match_parts(struct matcher *matcher, const struct part *part, uint32_t *here,
                        struct clause *clause)
{
    static const struct value empty;
    const uint32_t spellings = matcher->spellings.count;
    const struct part *option = NULL;                            /* that the part is in, */
    uint32_t at = *here, option_first = 0, option_spellings = 0; /* and what was read before it */
    size_t option_values = 0;
    clause->value_count = 0;
    for (;; part++) {
        bool fits = true;
        switch (part->kind) {
        case PART_WORD:
            fits = match_kind(matcher, at) == TOKEN_WORD &&
                   text_equal(token_text(&matcher->tree->tokens, at), part->text);
            if (fits)
                at = match_next(matcher, at);
            else if (!matcher->quiet)
                expect(matcher, at, part->rest, true);
            break;
        case PART_SLOT: {
            assert(clause->value_count < SLOT_LIMIT);
            struct value *value = &clause->values[clause->value_count];
            *value = empty;
            value->slot = part->text.start;
            value->slot_length = (uint8_t)part->text.length;
            *here = at;
            fits = part->type && !part->type->list ? part->type->read(matcher, part->type, here, value)
                                                   : slot_read(matcher, part->type, part->rest, here, value);
            if (fits) {
                value->place = match_place(matcher, at, *here);
                clause->value_count++;
                at = *here;
            }
            break;
        }
        case PART_MARK:
            fits = match_kind(matcher, at) == part->mark;
            if (fits)
                at = match_next(matcher, at);
            else
                match_expect(matcher, at, token_description(part->mark));
            break;
        case PART_OPTION:
            option = part;
            option_first = at;
            option_values = clause->value_count;
            option_spellings = matcher->spellings.count;
            break;
        case PART_OPTION_END:
            option = NULL;
            break;
        case PART_END:
            *here = at;
            if (at >= matcher->end || match_kind(matcher, at) == TOKEN_COMMA)
                return true;
            match_expect(matcher, at, "`,`");
            match_expect(matcher, at, "the end of the line");
            fits = false;
        }
        if (fits)
            continue;
        if (!option) {
            matcher->spellings.count = spellings;
            return false;
        }
        at = option_first;
        clause->value_count = option_values;
        matcher->spellings.count = option_spellings;
        part = option + option->length;
        option = NULL;
    }
}

/* The words of a pattern up to its next slot, without blanks around them; *pattern moves behind the slot. */
static struct text next_words(const char **pattern)
{
    const char *start = *pattern + strspn(*pattern, " ");
    const char *end = start + strcspn(start, "<");
    *pattern = *end ? strchr(end, '>') + 1 : end;
    while (end > start && end[-1] == ' ')
        end--;
    return (struct text){start, (size_t)(end - start)};
}

/* The clause fits a form that stands for another: it is that one's, with its words between the values. */
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

/* The forms of the clause's first word, and of the word before a comma that it may go on with, which is then
 * left out, in the order of the table: first those that stand for themselves. The first that fits wins, so
 * longer forms come before their beginnings in the table. What another way of writing would have needed is
 * left out: one way is enough to learn. */
static bool match_forms(struct matcher *matcher, uint32_t *at, struct text continued, struct clause *clause)
{
    const bool quiet = matcher->quiet, word = match_kind(matcher, *at) == TOKEN_WORD;
    struct rows own = word ? forms_of(matcher, token_text(&matcher->tree->tokens, *at)) : no_forms;
    struct rows before = continued.length ? forms_of(matcher, continued) : no_forms;
    const struct patterns *patterns = matcher->model->patterns;
    uint32_t behind = match_next(matcher, *at), end = own.end > before.end ? own.end : before.end;
    for (int others = 0; others <= !matcher->plain; others++) {
        matcher->quiet = quiet || others;
        for (uint32_t index = own.first < before.first ? own.first : before.first; index < end; index++) {
            const struct form *form = &patterns->table[index];
            if ((form->stands_for != NULL) != others)
                continue;
            matcher->form = form;
            bool goes_on =
                index >= before.first && index < before.end && (!form_declares(form) || matcher->guessed);
            for (int left_out = index < own.first || index >= own.end; left_out <= goes_on; left_out++) {
                uint32_t here = left_out ? *at : behind;
                matcher->room_taken = false;
                if (!match_parts(matcher, patterns->parts[index] + 1, &here, clause))
                    continue;
                clause->form = form;
                clause->place = match_place(matcher, *at, here);
                if (others)
                    take_standing(matcher, left_out, clause);
                *at = here;
                matcher->quiet = quiet;
                return true;
            }
        }
    }
    matcher->quiet = quiet;
    return false;
}

bool match_clause(struct matcher *matcher, uint32_t *at, struct text continued, struct clause *clause)
{
    if (!matcher->quiet &&
        matcher->failure.token < *at) /* what comes before was not tried further than this */
        failure_begin(&matcher->failure, *at);
    bool fits = match_forms(matcher, at, continued, clause);
    if (fits || !matcher->quiet || matcher->plain)
        return fits;

    matcher->quiet =
        false; /* from the statement's start, since a clause before may have been tried further */
    failure_begin(&matcher->failure, matcher->first);
    struct text head = {0};
    for (uint32_t here = match_skip(matcher, matcher->first); match_clause(matcher, &here, head, clause);
         here = match_next(matcher, here))
        head = form_head(clause->form);
    return false;
}
