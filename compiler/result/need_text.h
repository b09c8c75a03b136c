/* Needs in words: how much, how that was found, what was lacking; and what the pH asks. */
#ifndef PRILL_RESULT_NEED_TEXT_H
#define PRILL_RESULT_NEED_TEXT_H

#include "compiler/result/footnote.h"
#include "compiler/season/acid.h"
#include "compiler/season/need.h"

/* Where sources get their numbers, and whose units count. */
struct need_words {
    struct arena *arena;
    const struct model *model;
    struct footnotes *notes; /* may be NULL: no marks then */
};

double words_unit(const struct need_words *words); /* 1 lb per 1000 sq ft, or 1 g per m2, in kg/m2 */
const char *words_number(struct arena *arena, double value);
/* "0.92 lb lime per 1000 sqft"; without `what` where it is NULL. */
const char *words_rate(const struct need_words *words, double kg_per_m2, const char *what);
/* The same, down to a number that words_number and words_rate print as it is: for what is not to be passed.
 */
double words_floor(const struct need_words *words, double kg_per_m2);
const char *words_mark(const struct need_words *words, const struct source_entry *source);
const char *words_at(const struct need_words *words, struct place place); /* "plan.prill:84" */
/* Where a figure is from, and where it stands: " [6] (plan.prill:30)". */
const char *words_cited(const struct need_words *words, const struct source_entry *source,
                        struct place place);

/* "0.92 lb P2O5 per 1000 sqft": of the element, in the trade's form, three digits. */
const char *need_rate_text(const struct need_words *words, double kg_per_m2, enum nutrient nutrient);

/* "0.92", "2 to 4", "none", "low" (the amount is not known), "?": for a table under its unit. */
const char *need_cell(const struct need_words *words, const struct zone_need *need);

/* "needs 0.92 lb P2O5 per 1000 sqft a year", "needs none", "low; how much it needs is not known". */
const char *need_sentence(const struct need_words *words, const struct zone_need *need);

/* How the need was found, or what was lacking and which statement would help; "" where nothing is to be said.
 * `brief` leaves out what need_layer and need_nitrogen tell. */
const char *need_reason(const struct need_words *words, const struct zone_need *need, bool brief);

/* Of a need by a minimum level, "" of others: the soil that was counted, "4 in of soil at 1.5 kg per L"; and
 * the N that the use goes by, "1.89 lb N per 1000 sqft in the season, as the plan gives it". */
const char *need_layer(const struct need_words *words, const struct zone_need *need);
const char *need_nitrogen(const struct need_words *words, const struct zone_need *need);

/* "none", "70", "too low", "too high", "?". */
const char *lime_cell(const struct need_words *words, const struct lime_need *need);

/* What the pH asks and why: a sentence or two. */
const char *lime_sentence(const struct need_words *words, const struct lime_need *need);
const char *lime_reason(const struct need_words *words, const struct lime_need *need);

/* What the season puts on of a need of lime since the test; "" where it puts on nothing or the need is not
 * known. Zones that need the same differ in it by the rounding of their amounts. */
const char *lime_given(const struct need_words *words, const struct lime_need *need);

/* The acid that the season's products make, against what limes; "" where nothing makes any. */
const char *acid_sentence(const struct need_words *words, const struct acid_balance *balance);

/* "9 - 0.135 x + 0.0005 x^2 lb per 1000 sqft", from the numbers and the unit as written. */
const char *words_formula(const struct need_words *words, const struct polynomial *polynomial);

#endif
