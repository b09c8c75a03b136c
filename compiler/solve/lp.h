/* Linear programmes with several goals in order, and columns that are whole or have a gap above 0.
 *
 * A column is a figure to be found, a row keeps a sum of columns within bounds, a goal is a sum to be made as
 * small as it can be: the first goal first, and each further one among what the goals before it leave open.
 * Bounds may be INFINITY; columns are at least 0. Figures should be of the order of 1: what differs by less
 * than 1e-9 counts as equal. The same programme, built in the same order, has the same answer. */
#ifndef PRILL_SOLVE_LP_H
#define PRILL_SOLVE_LP_H

#include "lexer/arena.h"

#include <stdint.h>

enum lp_kind {
    LP_REAL,
    LP_WHOLE, /* a whole number */
    LP_GAP,   /* 0, or from `low` to `high` */
    LP_STEPS  /* 0, or for some whole k from k * low to k * high: a sum of k columns with that gap */
};

struct lp;

struct lp *lp_new(struct arena *arena);
uint32_t lp_column(struct lp *lp, enum lp_kind kind, double low, double high);
uint32_t lp_row(struct lp *lp, double low, double high);
/* Adds factor * column to the row's sum, or to the goal's. Goals count from 0 and come into being by their
 * first term. */
void lp_term(struct lp *lp, uint32_t row, uint32_t column, double factor);
void lp_goal_term(struct lp *lp, uint32_t goal, uint32_t column, double factor);
/* A goal without terms, so that those after it keep their numbers. */
void lp_goal(struct lp *lp, uint32_t goal);
/* From this goal on goals only settle which of equal answers a relaxation takes, so that rounding does not:
 * no search is made for them. */
void lp_ranked(struct lp *lp, uint32_t goals);
/* Only answers are wanted whose goal comes to no more than this. */
void lp_goal_most(struct lp *lp, uint32_t goal, double most);
/* Only an answer is wanted that is better than one with these goals: where there is none it is impossible. */
void lp_beat(struct lp *lp, const double *goals);
/* The column is settled before others: much follows from it. */
void lp_first(struct lp *lp, uint32_t column);

/* A guess that saves searching: is given columns that keep all rows and goals but not all kinds, and may
 * change them into ones that keep the kinds too, with every goal as it is. Called once what is to be settled
 * first is. */
typedef bool lp_guesser(void *task, double *columns);
void lp_guess(struct lp *lp, lp_guesser *guess, void *task);

enum lp_outcome {
    LP_SOLVED,
    LP_IMPOSSIBLE, /* nothing keeps all rows */
    LP_UNDECIDED   /* the search was ended, a figure was no number, or the numbers defeated the arithmetic:
                      nothing is known */
};

struct lp_answer {
    enum lp_outcome outcome;
    double *columns, *goals; /* of LP_SOLVED: values by column and by goal */
    /* By goal, then row, then column: what the goal would lose by each unit that the row's bound (the
     * column's) is moved out, by the relaxation at the answer. 0: the bound does not press. */
    double *prices;
    double least;   /* nothing that keeps the rows has a first goal below this; 0 where nothing is known */
    uint32_t nodes; /* relaxations that were looked at */
    bool proven;    /* false where the search was ended while a better answer may exist */
};

/* A programme may have a limit of its own. */
enum { LP_NODE_LIMIT = 20000 };
void lp_limit(struct lp *lp, uint32_t nodes);

/* What searches may cost together. Work is counted in steps of the simplex method times the size of what they
 * are made in, never in time: the same question ends at the same place everywhere. Some 10^8 take a second. A
 * search that has spent `most` ends there, or at `last` where it has no answer yet; one that begins with
 * nothing left looks at one relaxation. */
struct lp_budget {
    uint64_t spent, most, last; /* `last`: at least `most` */
};
void lp_spend(struct lp *lp, struct lp_budget *budget); /* NULL: no end but the limit */

struct lp_answer lp_solve(struct lp *lp);
/* The same; where that is impossible, what is possible with 5e-10 of every bound to spare, as lp_feasible
 * sees it. */
struct lp_answer lp_solve_rounded(struct lp *lp);

/* Whether anything keeps all rows; decided by exact fractions of the figures. These are good to some 1e-11,
 * and a want of 0.9 and a limit of 0.9 come here by different multiplications: every bound is given 5e-10 of
 * itself to spare. Goals are not looked at. */
enum lp_outcome lp_feasible(struct lp *lp);

/* Of the answer's prices that of a row, or of a column where `column`. */
double lp_price(const struct lp *lp, const struct lp_answer *answer, uint32_t goal, bool column, uint32_t at);

#endif
