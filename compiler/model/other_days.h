/* Ways of writing that other texts have taught: what a row of their table is, and those of days. Private to
 * other_notation.c and other_days.c. */
#ifndef PRILL_MODEL_OTHER_DAYS_H
#define PRILL_MODEL_OTHER_DAYS_H

#include "compiler/model/form_match.h"

/* A place within the statement and what to write there. */
struct rewriting {
    struct place place;
    const char *written;
    const char *lacks, *help; /* as of a meaning */
};

/* Whether the notation is met with its first token at `at`; `way`: which of its readings is asked for. */
typedef bool notation(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting);

static inline struct text text_at(const struct matcher *matcher, uint32_t at)
{
    return token_text(&matcher->tree->tokens, at);
}

static inline const char *string_at(const struct matcher *matcher, uint32_t at)
{
    return text_string(matcher->model->arena, text_at(matcher, at));
}

static inline bool touch(const struct matcher *matcher, uint32_t at)
{
    const struct tokens *tokens = &matcher->tree->tokens;
    return at + 1 < matcher->end && tokens->items[at].end == tokens->items[at + 1].start;
}

static inline int month_at(const struct matcher *matcher, uint32_t at)
{
    return match_kind(matcher, at) == TOKEN_WORD ? month_of_text(text_at(matcher, at)) : 0;
}

/* "about", "roughly": a word before a figure or day that need not be exact. */
bool nearly_at(const struct matcher *matcher, uint32_t at);

/* "May 1st", "1 May", "4/15", "Apr 10-20", "in April", "early April", "week of Apr 10", "2027", "not on
 * Sunday". */
notation ordinal, day_in_words, slash_day, days_of_month, whole_month, part_of_month, week_of, week_of_month,
    whole_year, month_to_month, other_weekdays;
/* "2 bags of feed" as a rate, "covers 5000 sqft". */
notation bags, covers;

#endif
