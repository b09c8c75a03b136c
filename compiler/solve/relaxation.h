/* A programme with gaps and whole numbers set aside, solved by the simplex method. The one place that knows
 * GLPK.
 *
 * GLPK keeps its state by thread and answers a fault of its own by ending the program; here it says nothing
 * and a fault ends the compilation as the end of memory does. Nothing of it outlives relaxation_with. */
#ifndef PRILL_SOLVE_RELAXATION_H
#define PRILL_SOLVE_RELAXATION_H

#include "compiler/solve/lp_parts.h"

struct relaxation;

/* Calls `body` with the programme loaded. The arena may run out within it. */
void relaxation_with(struct lp *lp, void (*body)(struct relaxation *relaxation, void *task), void *task);

/* After another programme was solved within `body`: GLPK's hooks are this one's again. */
void relaxation_resume(struct relaxation *relaxation);

/* Other bounds of a column, until they are given anew. */
void relaxation_bound(struct relaxation *relaxation, uint32_t column, double low, double high);

enum relaxed { RELAXED_FITS, RELAXED_EMPTY, RELAXED_UNKNOWN };

/* Makes goal `goal` as small as the bounds, and what is held, let it be; it comes to `*value`. The first goal
 * begins from `*basis` (NULL: from wherever the last one ended), and leaves the one that is best for it
 * there; its memory is the arena's. */
enum relaxed relaxation_solve(struct relaxation *relaxation, uint32_t goal, const unsigned char **basis,
                              double *value);
/* Holds whatever would make the goal just solved larger by moving; until relaxation_release. */
void relaxation_hold(struct relaxation *relaxation);
void relaxation_release(struct relaxation *relaxation);

/* Whether anything keeps the bounds, by exact fractions. */
enum relaxed relaxation_exact(struct relaxation *relaxation);

/* What was done so far, as struct lp_budget counts it. */
uint64_t relaxation_work(const struct relaxation *relaxation);

void relaxation_columns(const struct relaxation *relaxation, double *columns);
/* Of the goal just solved: by row, then column. */
void relaxation_prices(const struct relaxation *relaxation, double *prices);

#endif
