/* What differs between two seasons for the person on the lawn: the work of the one beside that of the other,
 * and what it is held to.
 *
 * Work is the same where lawn, treatment and time are, whatever the plan is called: a treatment that was
 * given another name is dropped and added. */
#ifndef PRILL_RESULT_SEASON_DIFF_H
#define PRILL_RESULT_SEASON_DIFF_H

#include "compiler/model/replacement.h"
#include "compiler/result/fact_diff.h"
#include "compiler/result/shopping.h"
#include "compiler/result/work.h"

/* One product on one zone, before and after; one of the portions may be NULL. They differ in amount or rate.
 */
struct portion_change {
    const struct material *old_material, *new_material;
    const struct portion *old, *new;
    size_t position; /* in the new work, what only the old one has behind it */
};

struct pairing { /* one of `old` and `new` may be NULL */
    const struct work *old, *new;
    bool moved;   /* another day */
    bool done;    /* recorded in the new one only */
    bool undone;  /* recorded in the old one only */
    bool skipped; /* recorded as skipped in the new one; `new` is of work_list_skipped */
    VECTOR(struct portion_change) amounts;
    struct fact_changes sentences; /* how it is done and what is kept afterwards; of what is added, or
                                      recorded in the new one only, its duties. No `new`: no longer so */
};

struct comparison {
    const struct season *old, *new;
    struct work_list old_list, new_list, new_skipped;
    VECTOR(struct pairing) pairings; /* by day: the new one's, of what only the old one has its */
    size_t same;                     /* how many do not differ at all */
    /* The zones' areas; the rest of the ground; limits in force; contents and labels of the products that are
     * in use in both. */
    struct fact_changes areas, ground, limits, products;
    /* Those of the whole season that only one of the two has, or has with this text. */
    struct caution_list new_cautions, old_cautions;
    const struct replacement *replacement; /* by which the new one is another; NULL without */
    struct shopping old_shopping, new_shopping;
};

/* Of two seasons in which everything has its day. Allocates in `arena`, and for each list in its season's. */
struct comparison *comparison_of(struct arena *arena, const struct season *old, const struct season *new,
                                 const struct replacement *replacement);

bool pairing_differs(const struct pairing *pairing);

/* Whether something differs besides the titles: work, what it is held to, what it costs. */
bool comparison_differs(const struct comparison *comparison);

/* "21 days later" */
const char *shift_words(struct arena *arena, day_number from, day_number to);

#endif
