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

/* Makes goal `goal` as small as the bounds, and what is held, let it be. A first goal begins from the basis
 * that was best for it last time. */
enum relaxed relaxation_solve(struct relaxation *relaxation, uint32_t goal);
/* Holds whatever would make the goal just solved larger by moving; until relaxation_release. */
void relaxation_hold(struct relaxation *relaxation);
void relaxation_release(struct relaxation *relaxation);

/* The basis that was best for the first goal last time, and beginning with one of them the next time; NULL:
 * none. */
const unsigned char *relaxation_basis(const struct relaxation *relaxation);
void relaxation_begin(struct relaxation *relaxation, const unsigned char *basis);

/* Whether anything keeps the bounds, by exact fractions. */
enum relaxed relaxation_exact(struct relaxation *relaxation);

/* What was done so far, as struct lp_budget counts it. */
uint64_t relaxation_work(const struct relaxation *relaxation);

double relaxation_goal(const struct relaxation *relaxation);
double relaxation_column(const struct relaxation *relaxation, uint32_t column);
double relaxation_row_price(const struct relaxation *relaxation, uint32_t row);
double relaxation_column_price(const struct relaxation *relaxation, uint32_t column);

#endif
