/* Branch and bound over relaxations. Every goal takes part in the bound, in order, so one tree decides them
 * all: a branch is left as soon as its goals, compared one after the other, are no better than the best
 * answer's. A division is followed down to its end, and then the side is taken up that promises most:
 * answers are found early, and what is looked at last is what could not be better. */
#include "compiler/solve/relaxation.h"

#include <math.h>
#include <string.h>

/* Values closer than this count as equal; see compare.h for the same figure elsewhere. */
#define EQUAL 1e-9
/* Promises that differ by less are alike: the newer node is nearer to an answer. */
#define PROMISE 1e-7

/* One side of a division. */
#define NO_NODE UINT32_MAX
struct node {
    uint32_t parent; /* NO_NODE: the whole programme was divided */
    uint32_t column;
    bool above;                 /* the gap around the column's value, not below it */
    double share;               /* of the gap, that is closed */
    double low, high;           /* of the column */
    const double *goals;        /* of what was divided: none is better here */
    const unsigned char *basis; /* that was best for it */
};

struct search {
    struct lp *lp;
    struct relaxation *relaxation;
    double *low, *high; /* the bounds in force */
    LP_VECTOR(struct node) nodes;
    LP_VECTOR(uint32_t) open; /* nodes still to be looked at: a heap, the most promising first */
    bool *bounded;            /* by column: room for node_enter */
    double *gains;            /* by goal, column, side: what divisions have brought, the last ones most */
    double *goals, *columns;  /* of the relaxation at hand */
    double *kept;             /* room for a copy of the columns */
    double *prices;
    const unsigned char *basis; /* best for the first goal last time; NULL before there is one */
    bool undecided;
    bool beaten;                /* the answer's goals are to be beaten: those found last, or given */
    uint64_t charged, guessing; /* work that the budget knows of; that guesses took of it */
    struct lp_answer *answer;
};

static bool clearly_less(double a, double b)
{
    return a < b - EQUAL * fmax(1, fabs(b));
}

/* The first goal in which these are better than what is to be beaten, those before it being equal; NO_GOAL
 * where they are no better. */
#define NO_GOAL UINT32_MAX
static uint32_t goal_open(const struct search *search, const double *goals)
{
    const double *best = search->answer->goals;
    for (uint32_t goal = 0; goal < search->lp->goal_count && goal < search->lp->ranked; goal++)
        if (clearly_less(goals[goal], best[goal]) || clearly_less(best[goal], goals[goal]))
            return goals[goal] < best[goal] ? goal : NO_GOAL;
    return NO_GOAL;
}

/* The goals one after the other; RELAXED_EMPTY where one of them, those before it being equal, is no better
 * than the best answer's, or larger than it may be. */
static enum relaxed node_goals(struct search *search)
{
    const struct lp *lp = search->lp;
    enum relaxed outcome = RELAXED_FITS;
    bool ahead = !search->beaten;
    for (uint32_t goal = 0; goal < lp->goal_count && outcome == RELAXED_FITS; goal++) {
        double best = search->answer->goals[goal], value;
        outcome = relaxation_solve(search->relaxation, goal, &search->basis, &value);
        if (outcome != RELAXED_FITS)
            break;
        search->goals[goal] = value;
        if (goal < lp->ranked) {
            bool too_large = goal < lp->goal_most.count && clearly_less(lp->goal_most.items[goal], value);
            if (too_large || (!ahead && clearly_less(best, value)))
                outcome = RELAXED_EMPTY;
            else
                ahead = ahead || clearly_less(value, best);
        }
        relaxation_prices(search->relaxation,
                          search->prices + (size_t)goal * (lp->rows.count + lp->columns.count));
        relaxation_hold(search->relaxation);
    }
    if (!ahead && outcome == RELAXED_FITS)
        outcome = RELAXED_EMPTY;
    if (outcome == RELAXED_FITS)
        relaxation_columns(search->relaxation, search->columns);
    relaxation_release(search->relaxation);
    return outcome;
}

/* Where a column is astray: the allowed figures next below and above; and whether it is at all. */
struct gap {
    double below, above;
    bool astray;
};

/* LP_STEPS: the nearest whole number of parts whose most is not below the value. */
static struct gap gap_around(const struct lp_column *column, double value)
{
    struct gap gap = {0, 0, false};
    double steps;
    switch (column->kind) {
    case LP_REAL:
        break;
    case LP_WHOLE:
        gap = (struct gap){floor(value), floor(value) + 1, true};
        break;
    case LP_GAP:
        gap = (struct gap){0, column->low, true};
        break;
    case LP_STEPS:
        steps = column->high > 0 ? ceil(value / column->high * (1 - EQUAL)) : 1;
        gap = (struct gap){(steps - 1) * column->high, steps * column->low, true};
        break;
    }
    gap.astray = gap.astray && gap.above > gap.below && value - gap.below > EQUAL * fmax(1, gap.below) &&
                 gap.above - value > EQUAL * fmax(1, gap.above);
    return gap;
}

/* ---- which column is divided ---- */

/* What the side of a division brought in the goal that was open, for each share of the gap that it closed:
 * all that was left to gain, where nothing better fits. */
static void gain_add(struct search *search, const struct node *side, bool fits)
{
    uint32_t goal = search->beaten ? goal_open(search, side->goals) : NO_GOAL;
    if (goal == NO_GOAL)
        return;
    double grew = (fits ? search->goals : search->answer->goals)[goal] - side->goals[goal];
    double *gain = &search->gains[(goal * search->lp->columns.count + side->column) * 2 + side->above];
    *gain += (fmax(0, grew) / side->share - *gain) / 2;
}

/* The column to divide, among those to be settled first if any is astray; false where none is. Before the
 * first answer it is the one that lies deepest within the gap around it; after that the one whose sides are
 * likely to bring most, by the product of what they brought in the goal that is open: what is left is proven
 * with the fewest divisions. */
static bool branch_find(const struct search *search, uint32_t *found)
{
    double worst = 0;
    bool first = false;
    uint32_t goal = search->beaten && !search->lp->exact ? goal_open(search, search->goals) : NO_GOAL;
    double least = goal != NO_GOAL ? 1e-6 * fmax(1, fabs(search->goals[goal])) : 0;
    for (uint32_t i = 0; i < search->lp->columns.count; i++) {
        const struct lp_column *column = &search->lp->columns.items[i];
        double value = search->columns[i];
        struct gap gap = gap_around(column, value);
        double share = gap.astray ? (value - gap.below) / (gap.above - gap.below) : 0;
        double off = fmin(share, 1 - share);
        if (off > 0 && goal != NO_GOAL) {
            const double *gain = &search->gains[(goal * search->lp->columns.count + i) * 2];
            off += fmax(1, share * gain[0] / least) * fmax(1, (1 - share) * gain[1] / least);
        }
        if (off > 0 && ((column->first && !first) || (column->first == first && off > worst + EQUAL))) {
            worst = off;
            first = column->first;
            *found = i;
        }
    }
    return worst > 0;
}

static void bound_set(struct search *search, uint32_t column, double low, double high)
{
    search->low[column] = low;
    search->high[column] = high;
    relaxation_bound(search->relaxation, column, low, high);
}

/* ---- what is still to be looked at ---- */

/* Whether the first promises more: by the goals in order, and then as the newer one. */
static bool node_before(const struct search *search, uint32_t a, uint32_t b)
{
    const struct node *first = &search->nodes.items[a], *second = &search->nodes.items[b];
    for (uint32_t goal = 0; goal < search->lp->goal_count && goal < search->lp->ranked && !search->lp->exact;
         goal++) {
        double x = floor(first->goals[goal] / PROMISE + 0.5), y = floor(second->goals[goal] / PROMISE + 0.5);
        if (x != y)
            return x < y;
    }
    return a > b;
}

/* The larger side first, however far: the relaxation uses what it divides, and one that is kept from it only
 * puts the same into the next column. The side that comes first, which is entered; the other one is left
 * open. */
static uint32_t node_sides(struct search *search, uint32_t parent, uint32_t at)
{
    struct arena *arena = search->lp->arena;
    struct gap gap = gap_around(&search->lp->columns.items[at], search->columns[at]);
    double low = search->low[at], high = search->high[at];
    double *goals = ARENA_ARRAY(arena, search->lp->goal_count, double);
    double share = (search->columns[at] - gap.below) / (gap.above - gap.below);
    struct node side = {parent, at, false, share, low, gap.below, goals, search->basis};
    memcpy(goals, search->goals, search->lp->goal_count * sizeof *goals);
    if (low <= gap.below)
        VECTOR_PUSH(arena, &search->nodes, side);
    /* Where both sides have something, this one waits in the heap: it rises to its place. */
    if (low <= gap.below && gap.above <= high) {
        uint32_t node = (uint32_t)search->nodes.count - 1;
        VECTOR_PUSH(arena, &search->open, node);
        uint32_t *heap = search->open.items;
        for (size_t i = search->open.count - 1; i > 0 && node_before(search, node, heap[(i - 1) / 2]);) {
            heap[i] = heap[(i - 1) / 2];
            heap[i = (i - 1) / 2] = node;
        }
    }
    if (gap.above <= high) {
        side.above = true;
        side.share = 1 - share;
        side.low = gap.above;
        side.high = high;
        VECTOR_PUSH(arena, &search->nodes, side);
    }
    side = search->nodes.items[search->nodes.count - 1];
    bound_set(search, at, side.low, side.high);
    return (uint32_t)search->nodes.count - 1;
}

/* Takes up the open side that promises most, from the top of the heap, and enters the bounds of all divisions
 * that led to it; of several of one column the last holds. */
static uint32_t node_enter(struct search *search)
{
    const struct lp *lp = search->lp;
    uint32_t *heap = search->open.items, entered = heap[0];
    size_t count = --search->open.count, place = 0;

    /* The heap's last sinks from the top to its place. */
    uint32_t last = heap[count];
    for (size_t below; (below = 2 * place + 1) < count; place = below) {
        if (below + 1 < count && node_before(search, heap[below + 1], heap[below]))
            below++;
        if (!node_before(search, heap[below], last))
            break;
        heap[place] = heap[below];
    }
    heap[place] = last;
    memset(search->bounded, 0, lp->columns.count * sizeof *search->bounded);
    for (uint32_t at = entered; at != NO_NODE; at = search->nodes.items[at].parent) {
        const struct node *node = &search->nodes.items[at];
        if (!search->bounded[node->column])
            bound_set(search, node->column, node->low, node->high);
        search->bounded[node->column] = true;
    }
    for (uint32_t i = 0; i < lp->columns.count; i++) {
        double low = column_low(&lp->columns.items[i]), high = column_high(&lp->columns.items[i]);
        if (!search->bounded[i] && (search->low[i] != low || search->high[i] != high))
            bound_set(search, i, low, high);
    }
    search->basis = search->nodes.items[entered].basis;
    return entered;
}

/* A whole column within rounding of its number lets what hangs on it be a little more than it should: the
 * relaxation is solved once more with every column within the bounds that keep its kind around its value.
 * False where that is no better than the best answer. */
static bool leaf_round(struct search *search)
{
    const struct lp *lp = search->lp;
    bool open = false; /* some whole number is not fixed yet */
    for (uint32_t i = 0; i < lp->columns.count && !open; i++)
        open = lp->columns.items[i].kind == LP_WHOLE && search->low[i] < search->high[i];
    if (!open)
        return true;
    memcpy(search->kept, search->columns, lp->columns.count * sizeof *search->kept);
    for (uint32_t i = 0; i < lp->columns.count; i++) {
        const struct lp_column *column = &lp->columns.items[i];
        double value = search->kept[i], low = floor(value + 0.5), high = low;
        double steps =
            column->high > 0 && value > column->low / 2 ? ceil(value / column->high * (1 - EQUAL)) : 0;
        switch (column->kind) {
        case LP_REAL:
            continue;
        case LP_WHOLE:
            break;
        case LP_GAP:
            low = value < column->low / 2 ? 0 : fmax(column->low, search->low[i]);
            high = value < column->low / 2 ? 0 : search->high[i];
            break;
        case LP_STEPS:
            low = fmax(search->low[i], steps * column->low);
            high = fmin(search->high[i], steps * column->high);
            break;
        }
        relaxation_bound(search->relaxation, i, low, high);
    }
    enum relaxed outcome = node_goals(search);
    for (uint32_t i = 0; i < lp->columns.count; i++)
        if (lp->columns.items[i].kind != LP_REAL)
            relaxation_bound(search->relaxation, i, search->low[i], search->high[i]);
    if (outcome != RELAXED_FITS)
        memcpy(search->columns, search->kept, lp->columns.count * sizeof *search->kept);
    return outcome == RELAXED_FITS || !search->beaten;
}

/* True when the node was divided, and its first side, `*node` now, is entered; otherwise it is done with, as
 * an answer where it is one. */
static bool node_divide(struct search *search, uint32_t *node)
{
    const struct lp *lp = search->lp;
    struct lp_answer *answer = search->answer;
    uint32_t column = 0;
    enum relaxed outcome = lp->exact ? relaxation_exact(search->relaxation) : node_goals(search);
    if (lp->exact && outcome == RELAXED_FITS)
        relaxation_columns(search->relaxation, search->columns);
    answer->nodes++;
    if (*node != NO_NODE && !lp->exact)
        gain_add(search, &search->nodes.items[*node], outcome == RELAXED_FITS);
    search->undecided = search->undecided || outcome == RELAXED_UNKNOWN;
    if (outcome != RELAXED_FITS)
        return false;
    if (answer->nodes == 1 && !lp->exact)
        answer->least = search->goals[0];
    bool whole = !branch_find(search, &column), guessed = false;

    /* A guess (lp_guess) may make a whole answer of the columns; otherwise they stay as they are. It fails
     * more often than not, and may cost what the relaxations have cost so far, so that the search takes at
     * most twice as long for it. */
    if (!whole && !lp->exact && lp->guess && !lp->columns.items[column].first &&
        search->guessing <= relaxation_work(search->relaxation)) {
        uint32_t left = 0;
        uint64_t before = lp->budget ? lp->budget->spent : 0;
        memcpy(search->kept, search->columns, lp->columns.count * sizeof *search->kept);
        guessed = lp->guess(lp->guess_task, search->columns) && !branch_find(search, &left);
        relaxation_resume(search->relaxation);
        search->guessing += lp->budget ? lp->budget->spent - before : 0;
        if (!guessed)
            memcpy(search->columns, search->kept, lp->columns.count * sizeof *search->kept);
    }
    if (!whole && !guessed) {
        *node = node_sides(search, *node, column);
        return true;
    }
    if (!lp->exact && whole && !leaf_round(search))
        return false;
    size_t prices = (size_t)lp->goal_count * (lp->rows.count + lp->columns.count);
    search->beaten = true;
    answer->outcome = LP_SOLVED;

    /* What is within rounding of where its kind wants it is put there. */
    for (size_t i = 0; i < lp->columns.count; i++) {
        const struct lp_column *kept = &lp->columns.items[i];
        double value = search->columns[i];
        switch (kept->kind) {
        case LP_REAL:
            value = fmin(value < EQUAL ? kept->low : value, kept->high);
            break;
        case LP_WHOLE:
            value = floor(value + 0.5);
            break;
        case LP_GAP:
            value = fmin(value < kept->low / 2 ? 0 : fmax(value, kept->low), kept->high);
            break;
        case LP_STEPS:
            value = fmax(0, value);
            break;
        }
        answer->columns[i] = value;
    }
    memcpy(answer->goals, search->goals, lp->goal_count * sizeof *answer->goals);
    memcpy(answer->prices, search->prices, prices * sizeof *answer->prices);
    return false;
}

/* Ends at the last side, or before it where nothing more can be learned, as of no goals from one answer on,
 * the work is spent, or too many relaxations were looked at; the answer is proven all the same where no side
 * that is left promises more. */
static void search_run(struct relaxation *relaxation, void *task)
{
    struct search *search = task;
    struct lp_budget *budget = search->lp->budget;
    uint32_t node = NO_NODE;
    search->relaxation = relaxation;
    for (bool more = true; more;) {
        bool divided = node_divide(search, &node);
        more = divided || search->open.count > 0;
        if (more && !divided)
            node = node_enter(search);

        /* The budget is charged with the work since last time. */
        uint64_t since = relaxation_work(relaxation) - search->charged;
        search->charged += since;
        if (budget)
            budget->spent += since;
        arena_work(search->lp->arena, since);
        bool spent = budget && budget->spent >= (search->beaten ? budget->most : budget->last);
        spent = spent || search->answer->nodes >= search->lp->node_limit;
        for (size_t i = 0; i <= search->open.count && more && spent && search->answer->proven; i++) {
            uint32_t left = i < search->open.count ? search->open.items[i] : node;
            search->answer->proven =
                search->beaten && goal_open(search, search->nodes.items[left].goals) == NO_GOAL;
        }
        if (search->undecided || spent ||
            (search->answer->outcome == LP_SOLVED && (search->lp->exact || !search->lp->goal_terms.count)))
            break;
    }
}

/* With a figure that is no number nothing is looked at: it would reach the arithmetic. */
struct lp_answer lp_solve(struct lp *lp)
{
    struct lp_answer answer = {.outcome = LP_UNDECIDED, .proven = true};
    struct search search = {.lp = lp, .answer = &answer};
    lp_goal(lp, 0);
    size_t columns = lp->columns.count, prices = (size_t)lp->goal_count * (lp->rows.count + columns);
    search.low = ARENA_ARRAY(lp->arena, columns + 1, double);
    search.high = ARENA_ARRAY(lp->arena, columns + 1, double);
    search.bounded = ARENA_ARRAY(lp->arena, columns + 1, bool);
    search.columns = ARENA_ARRAY(lp->arena, columns + 1, double);
    search.kept = ARENA_ARRAY(lp->arena, columns + 1, double);
    search.goals = ARENA_ARRAY(lp->arena, lp->goal_count + 1, double);
    search.gains = ARENA_ARRAY(lp->arena, (columns + 1) * 2 * lp->goal_count, double);
    search.prices = ARENA_ARRAY(lp->arena, prices + 1, double);
    answer.columns = ARENA_ARRAY(lp->arena, columns + 1, double);
    answer.goals = ARENA_ARRAY(lp->arena, lp->goal_count + 1, double);
    answer.prices = ARENA_ARRAY(lp->arena, prices + 1, double);
    search.beaten = lp->beaten != NULL;
    if (lp->beaten)
        memcpy(answer.goals, lp->beaten, lp->goal_count * sizeof *answer.goals);
    for (size_t i = 0; i < columns; i++) {
        search.low[i] = column_low(&lp->columns.items[i]);
        search.high[i] = column_high(&lp->columns.items[i]);
    }
    if (lp->unsound)
        return answer;
    relaxation_with(lp, search_run, &search);
    answer.proven = answer.proven && !search.undecided;
    if (answer.outcome != LP_SOLVED && answer.proven)
        answer.outcome = LP_IMPOSSIBLE;
    return answer;
}
