#include "compiler/solve/relaxation.h"

#include "compiler/model/late.h"

#include <glpk.h>
#include <math.h>
#include <stdlib.h>

/* With the number of its interface. */
#define GLPK_LIBRARY "libglpk.so.40"
#define GLPK(each)                                                                                           \
    each(glp_add_cols) each(glp_add_rows) each(glp_adv_basis) each(glp_create_prob) each(glp_delete_prob)    \
        each(glp_error_hook) each(glp_exact) each(glp_free_env) each(glp_get_col_dual)                       \
            each(glp_get_col_prim) each(glp_get_col_stat) each(glp_get_col_type) each(glp_get_it_cnt)        \
                each(glp_get_obj_coef) each(glp_get_obj_val) each(glp_get_prim_stat) each(glp_get_row_dual)  \
                    each(glp_get_row_prim) each(glp_get_row_stat) each(glp_get_row_type)                     \
                        each(glp_get_status) each(glp_init_env) each(glp_init_smcp) each(glp_load_matrix)    \
                            each(glp_set_col_bnds) each(glp_set_col_stat) each(glp_set_obj_coef)             \
                                each(glp_set_obj_dir) each(glp_set_row_bnds) each(glp_set_row_stat)          \
                                    each(glp_simplex) each(glp_std_basis) each(glp_term_hook)

struct glpk {
    GLPK(LATE_MEMBER)
};

/* Bounds are kept to this share of a unit; GLPK's own 1e-7 would let a limit be passed visibly. */
#define BOUND_TOLERANCE 1e-10
/* A reduced cost below this counts as none. Programmes have figures of the order of 1, from data of few
 * digits, so that what is not zero is far above it. */
#define PRICE_TOLERANCE 1e-8
/* Simplex steps; far beyond what a programme of 10^4 columns takes. STEPS_TO_END: what may come after the
 * budget is spent, so that small programmes always end. */
enum { STEP_LIMIT = 200000, STEPS_TO_END = 500 };
/* What loading and beginning cost beside steps, and what an exact step costs, in steps (measured, roughly).
 */
enum { STEPS_TO_LOAD = 80, STEPS_TO_BEGIN = 8, EXACT_STEP = 60 };

struct relaxation {
    struct glpk glpk;
    struct lp *lp;
    glp_prob *problem;
    double *low, *high; /* by column: the bounds in force */
    int *held;          /* rows as themselves, columns after them: GLPK's numbers from 1 */
    size_t held_count;
    uint64_t work;
    bool ended;     /* the last run came to the end of its steps */
    jmp_buf failed; /* where a fault of GLPK, or the end of memory, goes */
};

/* ---- work ---- */

static void work_add(struct relaxation *relaxation, uint64_t steps)
{
    relaxation->work += steps * (relaxation->lp->rows.count + relaxation->lp->columns.count + 1);
}

/* ---- loading ---- */

static int bound_kind(double low, double high)
{
    if (isinf(low) && isinf(high))
        return GLP_FR;
    if (isinf(high))
        return GLP_LO;
    if (isinf(low))
        return GLP_UP;
    return low < high ? GLP_DB : GLP_FX;
}

void relaxation_bound(struct relaxation *relaxation, uint32_t column, double low, double high)
{
    relaxation->low[column] = low;
    relaxation->high[column] = high;
    relaxation->glpk.glp_set_col_bnds(relaxation->problem, (int)column + 1, bound_kind(low, high), low, high);
}

static void row_bound(struct relaxation *relaxation, size_t row)
{
    const struct lp_row *bounds = &relaxation->lp->rows.items[row];
    relaxation->glpk.glp_set_row_bnds(relaxation->problem, (int)row + 1,
                                      bound_kind(bounds->low, bounds->high), bounds->low, bounds->high);
}

static int by_place(const void *a, const void *b)
{
    const struct lp_term *first = a, *second = b;
    if (first->row != second->row)
        return first->row < second->row ? -1 : 1;
    return first->column < second->column ? -1 : first->column > second->column;
}

/* Rows, columns and terms; GLPK counts all of them from 1, and refuses a term of 0. */
static void programme_load(struct relaxation *relaxation)
{
    const struct glpk *glpk = &relaxation->glpk;
    struct lp *lp = relaxation->lp;
    glp_prob *problem = relaxation->problem;
    glpk->glp_set_obj_dir(problem, GLP_MIN);
    if (lp->rows.count)
        glpk->glp_add_rows(problem, (int)lp->rows.count);
    if (lp->columns.count)
        glpk->glp_add_cols(problem, (int)lp->columns.count);
    for (size_t i = 0; i < lp->rows.count; i++)
        row_bound(relaxation, i);
    for (uint32_t i = 0; i < lp->columns.count; i++) {
        const struct lp_column *column = &lp->columns.items[i];
        relaxation_bound(relaxation, i, column_low(column), column_high(column));
    }

    /* GLPK refuses two terms in one place: they are added up. */
    struct lp_term *terms = lp->terms.items;
    size_t count = 0;
    if (lp->terms.count)
        qsort(terms, lp->terms.count, sizeof *terms, by_place);
    for (size_t i = 0; i < lp->terms.count; i++) {
        if (count && by_place(&terms[count - 1], &terms[i]) == 0)
            terms[count - 1].factor += terms[i].factor;
        else
            terms[count++] = terms[i];
    }
    lp->terms.count = count;

    int *rows = ARENA_ARRAY(lp->arena, count + 1, int), *columns = ARENA_ARRAY(lp->arena, count + 1, int);
    double *factors = ARENA_ARRAY(lp->arena, count + 1, double);
    int filled = 0;
    for (size_t i = 0; i < count; i++) {
        if (terms[i].factor == 0)
            continue;
        filled++;
        rows[filled] = (int)terms[i].row + 1;
        columns[filled] = (int)terms[i].column + 1;
        factors[filled] = terms[i].factor;
    }
    glpk->glp_load_matrix(problem, filled, rows, columns, factors);
    glpk->glp_adv_basis(problem, 0);
    work_add(relaxation, STEPS_TO_LOAD);
}

/* ---- solving ---- */

/* A goal that no term is of, UINT32_MAX, leaves nothing to be made small. */
static void goal_set(struct relaxation *relaxation, uint32_t goal)
{
    const struct glpk *glpk = &relaxation->glpk;
    const struct lp *lp = relaxation->lp;
    for (int i = 1; i <= (int)lp->columns.count; i++)
        glpk->glp_set_obj_coef(relaxation->problem, i, 0);
    for (size_t i = 0; i < lp->goal_terms.count; i++) {
        const struct lp_term *term = &lp->goal_terms.items[i];
        int column = (int)term->column + 1;
        if (term->row == goal)
            glpk->glp_set_obj_coef(relaxation->problem, column,
                                   glpk->glp_get_obj_coef(relaxation->problem, column) + term->factor);
    }
}

/* By a method of GLPK's, or by exact fractions, which take none of its options but the number of steps. */
enum { EXACT = 0 };

/* With no more steps than the budget leaves. */
static enum relaxed simplex_run(struct relaxation *relaxation, int method)
{
    const struct glpk *glpk = &relaxation->glpk;
    const struct lp *lp = relaxation->lp;
    uint64_t cost = method == EXACT ? EXACT_STEP : 1, left = UINT64_MAX;
    if (lp->budget && lp->budget->last > lp->budget->spent)
        left = (lp->budget->last - lp->budget->spent) / ((lp->rows.count + lp->columns.count + 1) * cost);
    else if (lp->budget)
        left = 0;
    glp_smcp options;
    glpk->glp_init_smcp(&options);
    options.msg_lev = GLP_MSG_OFF;
    options.it_lim = left < STEPS_TO_END ? STEPS_TO_END : left < STEP_LIMIT ? (int)left : STEP_LIMIT;
    if (method != EXACT) {
        options.meth = method;
        options.tol_bnd = BOUND_TOLERANCE;
        options.tol_dj = BOUND_TOLERANCE;
    }
    int before = glpk->glp_get_it_cnt(relaxation->problem);
    int failed = method == EXACT ? glpk->glp_exact(relaxation->problem, &options)
                                 : glpk->glp_simplex(relaxation->problem, &options);
    uint64_t steps = (uint64_t)(glpk->glp_get_it_cnt(relaxation->problem) - before) + STEPS_TO_BEGIN;
    work_add(relaxation, steps * cost);

    /* A basis that cannot be worked with says nothing, whatever the status is. */
    int status = glpk->glp_get_status(relaxation->problem);
    relaxation->ended = failed == GLP_EITLIM;
    if (failed == GLP_EBADB || failed == GLP_ESING || failed == GLP_ECOND)
        return RELAXED_UNKNOWN;
    if (status == GLP_OPT)
        return RELAXED_FITS;
    if (status == GLP_NOFEAS || glpk->glp_get_prim_stat(relaxation->problem) == GLP_NOFEAS)
        return RELAXED_EMPTY;
    return RELAXED_UNKNOWN;
}

/* The basis is rows, then columns. What defeats the simplex method is tried again from the plain basis, and
 * then by exact fractions; not what only took too many steps. */
enum relaxed relaxation_solve(struct relaxation *relaxation, uint32_t goal, const unsigned char **basis,
                              double *value)
{
    const struct glpk *glpk = &relaxation->glpk;
    const struct lp *lp = relaxation->lp;
    glp_prob *problem = relaxation->problem;
    int rows = (int)lp->rows.count, columns = (int)lp->columns.count;
    goal_set(relaxation, goal);
    for (int i = 1; i <= rows && goal == 0 && *basis; i++)
        glpk->glp_set_row_stat(problem, i, (*basis)[i - 1]);
    for (int i = 1; i <= columns && goal == 0 && *basis; i++)
        glpk->glp_set_col_stat(problem, i, (*basis)[rows + i - 1]);
    enum relaxed outcome = simplex_run(relaxation, goal == 0 ? GLP_DUALP : GLP_PRIMAL);
    if (outcome == RELAXED_UNKNOWN && !relaxation->ended) {
        glpk->glp_std_basis(problem);
        outcome = simplex_run(relaxation, GLP_PRIMAL);
    }
    if (outcome == RELAXED_UNKNOWN && !relaxation->ended) {
        glpk->glp_std_basis(problem);
        outcome = simplex_run(relaxation, EXACT);
    }
    *value = glpk->glp_get_obj_val(problem);
    if (goal > 0 || outcome != RELAXED_FITS)
        return outcome;
    unsigned char *best = ARENA_ARRAY(lp->arena, lp->rows.count + lp->columns.count + 1, unsigned char);
    *basis = best;
    for (int i = 1; i <= rows; i++)
        best[i - 1] = (unsigned char)glpk->glp_get_row_stat(problem, i);
    for (int i = 1; i <= columns; i++)
        best[rows + i - 1] = (unsigned char)glpk->glp_get_col_stat(problem, i);
    return outcome;
}

enum relaxed relaxation_exact(struct relaxation *relaxation)
{
    goal_set(relaxation, UINT32_MAX);
    if (simplex_run(relaxation, GLP_PRIMAL) == RELAXED_UNKNOWN)
        relaxation->glpk.glp_std_basis(relaxation->problem);
    return simplex_run(relaxation, EXACT);
}

/* ---- holding ---- */

/* At an optimum every other optimum has what carries a reduced cost where it is: holding it there keeps the
 * goal at its best, and needs no row and no slack. */
void relaxation_hold(struct relaxation *relaxation)
{
    const struct glpk *glpk = &relaxation->glpk;
    glp_prob *problem = relaxation->problem;
    int rows = (int)relaxation->lp->rows.count, columns = (int)relaxation->lp->columns.count;
    for (int i = 1; i <= rows; i++) {
        if (glpk->glp_get_row_stat(problem, i) == GLP_BS ||
            !(fabs(glpk->glp_get_row_dual(problem, i)) > PRICE_TOLERANCE) ||
            glpk->glp_get_row_type(problem, i) == GLP_FX)
            continue;
        double value = glpk->glp_get_row_prim(problem, i);
        glpk->glp_set_row_bnds(problem, i, GLP_FX, value, value);
        relaxation->held[relaxation->held_count++] = i;
    }
    for (int i = 1; i <= columns; i++) {
        if (glpk->glp_get_col_stat(problem, i) == GLP_BS ||
            !(fabs(glpk->glp_get_col_dual(problem, i)) > PRICE_TOLERANCE) ||
            glpk->glp_get_col_type(problem, i) == GLP_FX)
            continue;
        double value = glpk->glp_get_col_prim(problem, i);
        glpk->glp_set_col_bnds(problem, i, GLP_FX, value, value);
        relaxation->held[relaxation->held_count++] = rows + i;
    }
}

void relaxation_release(struct relaxation *relaxation)
{
    int rows = (int)relaxation->lp->rows.count;
    for (size_t i = 0; i < relaxation->held_count; i++) {
        int held = relaxation->held[i];
        if (held <= rows) {
            row_bound(relaxation, (size_t)held - 1);
        } else {
            uint32_t column = (uint32_t)(held - rows - 1);
            relaxation_bound(relaxation, column, relaxation->low[column], relaxation->high[column]);
        }
    }
    relaxation->held_count = 0;
}

/* ---- the answer ---- */

uint64_t relaxation_work(const struct relaxation *relaxation)
{
    return relaxation->work;
}

void relaxation_columns(const struct relaxation *relaxation, double *columns)
{
    for (int i = 0; i < (int)relaxation->lp->columns.count; i++)
        columns[i] = relaxation->glpk.glp_get_col_prim(relaxation->problem, i + 1);
}

void relaxation_prices(const struct relaxation *relaxation, double *prices)
{
    int rows = (int)relaxation->lp->rows.count, columns = (int)relaxation->lp->columns.count;
    for (int i = 0; i < rows; i++)
        prices[i] = relaxation->glpk.glp_get_row_dual(relaxation->problem, i + 1);
    for (int i = 0; i < columns; i++)
        prices[rows + i] = relaxation->glpk.glp_get_col_dual(relaxation->problem, i + 1);
}

/* ---- GLPK's ways, kept in ---- */

/* Its terminal is the program's standard output, even for a fault with messages off. */
static int say_nothing(void *info, const char *text)
{
    (void)info;
    (void)text;
    return 1;
}

static void leave(void *failed)
{
    longjmp(*(jmp_buf *)failed, 1);
}

void relaxation_resume(struct relaxation *relaxation)
{
    relaxation->glpk.glp_term_hook(say_nothing, NULL);
    relaxation->glpk.glp_error_hook(leave, &relaxation->failed);
}

/* GLPK keeps a state for each thread, which nobody frees when the thread ends: what this call began it ends.
 * After a fault that state is given up whoever began it: nothing in it can be trusted, and it would leak. */
void relaxation_with(struct lp *lp, void (*body)(struct relaxation *relaxation, void *task), void *task)
{
    struct arena *arena = lp->arena;
    struct relaxation *relaxation = ARENA_NEW(arena, struct relaxation);
    relaxation->lp = lp;
    relaxation->low = ARENA_ARRAY(arena, lp->columns.count + 1, double);
    relaxation->high = ARENA_ARRAY(arena, lp->columns.count + 1, double);
    relaxation->held = ARENA_ARRAY(arena, lp->rows.count + lp->columns.count + 1, int);
    const struct glpk *glpk = &relaxation->glpk;
    LATE_OPEN(arena, GLPK_LIBRARY, GLPK, relaxation->glpk);
    jmp_buf *outer = arena->exhausted;
    bool begun = glpk->glp_init_env() == 0;
    if (setjmp(relaxation->failed)) {
        glpk->glp_free_env();
        arena->exhausted = outer;
        arena_exhausted(arena);
    }
    arena->exhausted = &relaxation->failed;
    relaxation_resume(relaxation);
    relaxation->problem = glpk->glp_create_prob();
    programme_load(relaxation);
    body(relaxation, task);
    glpk->glp_delete_prob(relaxation->problem);
    glpk->glp_error_hook(NULL, NULL);
    glpk->glp_term_hook(NULL, NULL);
    if (begun)
        glpk->glp_free_env();
    arena->exhausted = outer;
}
