/* Reading one statement by its forms: the cursor, the values in slots, and the furthest failure.
 * Between statement.c (statements), form_match.c (patterns) and slot.c (values); nobody else needs it. */
#ifndef PRILL_MODEL_FORM_MATCH_H
#define PRILL_MODEL_FORM_MATCH_H

#include "compiler/model/model.h"

#include <string.h>

enum { EXPECTED_LIMIT = 24 };
enum { LIST_ROOM = 8 }; /* most lists are shorter */

/* Words of a pattern, to be quoted, or a description such as "a name". Most failures are of forms that were
 * only tried, so nothing is put into words before a report is made. */
struct expected {
    struct text words;
    bool quoted;
};

/* What went wrong at the furthest place any form reached. A complaint says it in its own words; without one
 * the report lists what was expected. */
struct failure {
    uint32_t token;
    const struct form *form; /* the first that reached it */
    size_t expected_count;
    const struct rule *rule; /* of a complaint; NULL without */
    struct place place;
    const char *sentence;
    const char *help;
    struct text meant; /* what to write at `place` instead; empty where that would be a guess */
    struct expected expected[EXPECTED_LIMIT];
};

/* What may be written in several ways has one that `prill format` writes: this, in place of what stands
 * there. */
struct spelling {
    struct place place;
    const char *written;
};

struct matcher {
    struct model *model;
    const struct tree *tree;
    enum block_kind block;
    uint32_t first;          /* the statement's first token */
    uint32_t end;            /* token after the statement's terms */
    bool quiet;              /* what did not fit is not noted: see match_clause */
    bool plain;              /* forms that stand for others are not tried */
    bool chained;            /* one slip of the clause has been put right already */
    bool guessed;            /* the first word was misspelt; `continued` is what was probably meant */
    const struct form *form; /* being tried */
    struct value *room;      /* of LIST_ROOM items, for the first list of the form; NULL: without */
    bool room_taken;
    VECTOR(struct spelling) spellings; /* of what fitted so far */
    struct failure failure;
};

/* TOKEN_END at the statement's end. */
static inline enum token_kind match_kind(const struct matcher *matcher, uint32_t at)
{
    return at < matcher->end ? (enum token_kind)matcher->tree->tokens.items[at].kind : TOKEN_END;
}

/* Over line ends and comments. */
static inline uint32_t match_skip(const struct matcher *matcher, uint32_t at)
{
    enum token_kind kind;
    while ((kind = match_kind(matcher, at)) == TOKEN_NEWLINE || kind == TOKEN_COMMENT)
        at++;
    return at;
}

/* The token after `at`, skipped. */
static inline uint32_t match_next(const struct matcher *matcher, uint32_t at)
{
    return match_skip(matcher, at + 1);
}

static inline bool match_word(const struct matcher *matcher, uint32_t at, const char *word)
{
    return match_kind(matcher, at) == TOKEN_WORD &&
           text_equal(token_text(&matcher->tree->tokens, at), text_of(word));
}

/* From one token to the one before `end`, without the line ends and comments behind it. */
static inline struct place match_place(const struct matcher *matcher, uint32_t first, uint32_t end)
{
    const struct tokens *tokens = &matcher->tree->tokens;
    uint32_t last = end > first ? end - 1 : first;
    enum token_kind kind;
    while (last > first && ((kind = match_kind(matcher, last)) == TOKEN_NEWLINE || kind == TOKEN_COMMENT))
        last--;
    return (struct place){tokens->source, tokens->items[first].start, tokens->items[last].end};
}

/* Notes what `prill format` writes at the place. */
void match_respell(struct matcher *matcher, struct place place, const char *written);

/* These return false, so that a reader can end with them. */
bool match_expect(struct matcher *matcher, uint32_t at, const char *what);
/* The bare words from here to the pattern's next slot or mark: they are expected together. */
bool match_expect_words(struct matcher *matcher, uint32_t at, const char *pattern);

/* The clause at *at, by the first form that fits; `continued` is the first word of the clause before it,
 * empty at the statement's start. `clause` has room for SLOT_LIMIT values. False leaves *at and tells in
 * matcher->failure what was found: of a quiet matcher nothing is noted until that is asked for, and then the
 * statement is read once more up to here, since most fit. */
bool match_clause(struct matcher *matcher, uint32_t *at, struct text continued, struct clause *clause);

enum { MEANT_LIMIT = 4 };

/* A change of the text by which a clause fits: `written` in place of what stands at `place`, and what the
 * clause then says. */
struct meaning {
    struct place place;
    const char *written;
    const char *clause;
    const char *lacks; /* what is said of the words at `place`, where the clause has more than they say: a
                          question, and no fix; NULL otherwise */
    const char *help;  /* what is said before the clause in place of "did you mean"; NULL: that */
};

/* Reports what was probably meant, at the words that would change; with a fix where that is certain. */
struct report *meaning_report(const struct matcher *matcher, const struct meaning *meant, size_t count);
/* The help and the fix alone, for a report that says the cause itself. */
void meaning_suggest(struct model *model, struct report *report, const struct meaning *meant, size_t count);

/* A clause longer than this is not repeated in a report. */
enum { CLAUSE_LIMIT = 120 };
/* What the clause `whole` says with `words` in place of what stands at `place`; NULL where it does not fit so
 * either. `chain`: also where it then fits with one more change, behind that one. */
const char *clause_with(const struct matcher *failed, struct place whole, struct text continued,
                        struct place place, const char *words, bool chain);

/* The change by which a clause fits that is written as other texts would write it; two where it can mean
 * either. The number of them. */
size_t clause_by_notation(const struct matcher *matcher, uint32_t at, struct text continued,
                          struct meaning meant[MEANT_LIMIT]);
/* "rate 4# per 1000 sqft": the sign of pounds begins a comment. */
bool clause_by_pound_sign(const struct matcher *matcher, uint32_t at, struct text continued,
                          struct meaning *meant);
/* The same where its first word was left out. */
bool clause_by_head(const struct matcher *matcher, uint32_t at, struct meaning *meant);

/* After match_clause failed: the changes by a word of the forms, none where there are too many to tell what
 * was meant. */
size_t clause_meant(const struct matcher *matcher, uint32_t at, struct text continued,
                    struct meaning meant[MEANT_LIMIT]);

/* After match_clause failed at the clause's end: what it says with the rest of an example behind it, in
 * backquotes, for up to two of its forms. NULL where there are too many ways on, or none. */
const char *clause_examples(const struct matcher *matcher, uint32_t at, struct text continued);

/* A first word that begins nothing in this block: what is said where the statement fits another block, and
 * where the word is one of some that a form of this block may have. False where neither is so. */
bool statement_elsewhere(const struct matcher *matcher, uint32_t at, struct report *report);
bool word_of_a_form(const struct matcher *matcher, struct text word, struct report *report);

struct slot_type;
/* The row of a type; NULL where the text is a list of words, one of which is to be chosen. */
const struct slot_type *slot_type_find(struct text type);
/* Reads a slot of this type, or one of the words where it is NULL, at *at; true and moves on when it fits. */
bool slot_read(struct matcher *matcher, const struct slot_type *type, struct text words, uint32_t *at,
               struct value *value);

/* The symbol of the nutrient whose symbol or name the word at `at` is: "Fe" for "iron". NULL where it is
 * none, and for a name that some use for the element and some for the oxide. */
const char *nutrient_symbol(const struct matcher *matcher, uint32_t at);

/* A unit at *at, with everything "per" that follows while `wanted` is not reached. */
bool unit_read(struct matcher *matcher, uint32_t *at, const struct dimension *wanted, double *factor,
               double *zero, struct dimension *dimension, const struct unit **first);

#endif
