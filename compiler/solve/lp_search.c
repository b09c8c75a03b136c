/* Branch and bound over relaxations, goal by goal: those before it are held to what they came to, so that a
 * case takes one relaxation, and is left as soon as its goal is no better than the best answer's. A division
 * is followed down to its end, and then the side is taken up that promises most: answers are found early, and
 * what is looked at last is what could not be better. Answers are settled by all goals in order. */
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
    bool above;                 /* the gap around its value, not below it */
    double share;               /* of the gap, that is closed */
    double low, high;           /* of the column */
    double bound;               /* of what was divided: the goal is no better here */
    const unsigned char *basis; /* that was best for it */
};

/* What the sides of a division have brought so far: by how much the goal grew, for each share of the gap that
 * was closed. */
struct column_gain {
    double sum[2];
    uint32_t count[2];
};

struct search {
    struct lp *lp;
    struct relaxation *relaxation;
    double *low, *high; /* the bounds in force */
    LP_VECTOR(struct node) nodes;
    LP_VECTOR(uint32_t) open;  /* nodes still to be looked at: a heap, the most promising first */
    bool *bounded;             /* by column: room for node_enter */
    uint32_t goal;             /* that is searched for */
    bool *of_goal;             /* by column: the goal is a sum of it, among others */
    bool counts;               /* the goal is a sum of whole numbers */
    double bound;              /* of the goal, by the relaxation at hand */
    double *root;              /* by goal: of the whole programme, each as the ones before it leave it */
    double *held;              /* by goal: what it may come to while those after it are searched for */
    struct column_gain *gains; /* by column */
    double *goals, *columns;   /* of the relaxation at hand */
    double *kept;              /* room for a copy of the columns */
    double *prices;
    const unsigned char *basis; /* best for the goal last time; NULL before there is one */
    bool found, undecided;
    uint64_t charged, guessing; /* work that the budget knows of; that guesses took of it */
    struct lp_answer *answer;
};

static bool clearly_less(double a, double b)
{
    return a < b - EQUAL * fmax(1, fabs(b));
}

/* The goals from `from` on, one after the other; RELAXED_EMPTY where one of them, those before it being
 * equal, is no better than the best answer's, or larger than it may be. Those before `from` are held to the
 * best answer's. */
static enum relaxed node_goals(struct search *search, uint32_t from)
{
    const struct lp *lp = search->lp;
    const struct lp_answer *answer = search->answer;
    const unsigned char *basis = search->basis;
    size_t by_goal = lp->rows.count + lp->columns.count;
    enum relaxed outcome = RELAXED_FITS;
    bool ahead = !search->found;
    memcpy(search->goals, answer->goals, from * sizeof *search->goals);
    memcpy(search->prices, answer->prices, from * by_goal * sizeof *search->prices);
    for (uint32_t goal = from; goal < lp->goal_count && outcome == RELAXED_FITS; goal++) {
        double best = answer->goals[goal], value;
        outcome = relaxation_solve(search->relaxation, goal, goal == from ? &basis : NULL, &value);
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
        relaxation_prices(search->relaxation, search->prices + goal * by_goal);
        relaxation_hold(search->relaxation);
    }
    if (!ahead && outcome == RELAXED_FITS)
        outcome = RELAXED_EMPTY;
    if (outcome == RELAXED_FITS)
        relaxation_columns(search->relaxation, search->columns);
    relaxation_release(search->relaxation);
    return outcome;
}

/* Whether a goal that comes to `bound` at least may still be better than the best answer's: by 1 where it is
 * a number of things. */
static bool promises(const struct search *search, double bound)
{
    double best = search->answer->goals[search->goal], alike = PROMISE * fmax(1, fabs(best));
    return !search->found || bound < (search->counts ? best - 1 + alike : best - alike);
}

/* The goal that is searched for, by itself; RELAXED_EMPTY where it is no better than the best answer's. */
static enum relaxed node_bound(struct search *search)
{
    enum relaxed outcome = relaxation_solve(search->relaxation, search->goal, &search->basis, &search->bound);
    if (outcome == RELAXED_FITS && !promises(search, search->bound))
        outcome = RELAXED_EMPTY;
    if (outcome == RELAXED_FITS)
        relaxation_columns(search->relaxation, search->columns);
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

/* The column that is nearest to the upper side of the gap it is in, as a share of the gap; among those to be
 * settled first if any is. False where every column is allowed. What is nearly used is used: answers are
 * found soon. */
static bool branch_find(const struct search *search, uint32_t *found)
{
    double worst = 0;
    bool first = false;
    for (uint32_t i = 0; i < search->lp->columns.count; i++) {
        const struct lp_column *column = &search->lp->columns.items[i];
        double value = search->columns[i];
        struct gap gap = gap_around(column, value);
        double off = gap.astray ? (value - gap.below) / (gap.above - gap.below) : 0;
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

/* ---- which column is divided ---- */

/* Columns whose sides are tried at one relaxation. */
enum { COLUMN_TRIES = 8 };

/* What the side of a division brought, whose goal comes to `value`. */
static void gain_add(struct search *search, const struct node *side, double value)
{
    struct column_gain *gain = &search->gains[side->column];
    gain->sum[side->above] += fmax(0, value - side->bound) / side->share;
    gain->count[side->above]++;
}

/* The two sides of the column's gap. */
static void sides_make(const struct search *search, uint32_t column, double value, struct node sides[2])
{
    struct gap gap = gap_around(&search->lp->columns.items[column], value);
    double share = (value - gap.below) / (gap.above - gap.below);
    struct node side = {.column = column, .bound = search->bound, .basis = search->basis};
    sides[0] = sides[1] = side;
    sides[0].low = search->low[column];
    sides[0].high = gap.below;
    sides[0].share = share;
    sides[1].low = gap.above;
    sides[1].high = search->high[column];
    sides[1].share = 1 - share;
    sides[1].above = true;
}

/* Of all columns astray the one whose two sides promise most: the product of what they are likely to bring,
 * by what they have brought before. Sides of which nothing is known are tried; one that nothing keeps brings
 * all that is left to gain. Of a number of things, what is counted comes first. */
static void branch_choose(struct search *search, uint32_t *found)
{
    const struct lp *lp = search->lp;
    double least = 1e-6 * fmax(1, fabs(search->bound)), most = -1, all = fmax(1, fabs(search->bound));
    uint32_t tries = 0;
    bool counted = false; /* some of what is counted is astray */
    if (search->found)
        all = fmax(least, search->answer->goals[search->goal] - search->bound);
    for (uint32_t i = 0; i < lp->columns.count && search->counts && !counted; i++)
        counted = search->of_goal[i] && gap_around(&lp->columns.items[i], search->columns[i]).astray;
    for (uint32_t i = 0; i < lp->columns.count; i++) {
        struct column_gain *gain = &search->gains[i];
        struct node sides[2];
        double score = 1;
        bool try = tries < COLUMN_TRIES && !counted && !(gain->count[0] && gain->count[1]);
        if (!gap_around(&lp->columns.items[i], search->columns[i]).astray || (counted && !search->of_goal[i]))
            continue;
        tries += try;
        sides_make(search, i, search->columns[i], sides);
        for (int above = 0; above < 2; above++) {
            struct node *side = &sides[above];
            double value;
            bool possible = side->low <= side->high;
            if (try && possible && !gain->count[above]) {
                relaxation_bound(search->relaxation, i, side->low, side->high);
                possible =
                    relaxation_solve(search->relaxation, search->goal, &side->basis, &value) == RELAXED_FITS;
                if (possible)
                    gain_add(search, side, value);
            }
            double mean = gain->count[above] ? gain->sum[above] / gain->count[above] : 0;
            score *= fmax(least, possible ? fmin(all, mean * side->share) : all);
        }
        relaxation_bound(search->relaxation, i, search->low[i], search->high[i]);
        score += least * least * (fmin(sides[0].share, sides[1].share) + lp->columns.items[i].first);
        if (score > most) {
            most = score;
            *found = i;
        }
    }
}

/* ---- what is still to be looked at ---- */

/* Whether the first promises more: by the goal, and then as the newer one. */
static bool node_before(const struct search *search, uint32_t a, uint32_t b)
{
    double first = floor(search->nodes.items[a].bound / PROMISE + 0.5);
    double second = floor(search->nodes.items[b].bound / PROMISE + 0.5);
    return search->lp->exact || first == second ? a > b : first < second;
}

/* The larger side first, however far: the relaxation uses what it divides, and one that is kept from it only
 * puts the same into the next column. The side that comes first, which is entered; the other one is left
 * open. */
static uint32_t node_sides(struct search *search, uint32_t parent, uint32_t at)
{
    struct arena *arena = search->lp->arena;
    struct node sides[2];
    sides_make(search, at, search->columns[at], sides);
    sides[0].parent = sides[1].parent = parent;
    for (int above = 0; above < 2; above++)
        if (sides[above].low <= sides[above].high)
            VECTOR_PUSH(arena, &search->nodes, sides[above]);

    /* Where both sides have something, the lower one waits in the heap: it rises to its place. */
    uint32_t first = (uint32_t)search->nodes.count - 1;
    if (sides[0].low <= sides[0].high && sides[1].low <= sides[1].high) {
        uint32_t node = first - 1;
        VECTOR_PUSH(arena, &search->open, node);
        uint32_t *heap = search->open.items;
        for (size_t i = search->open.count - 1; i > 0 && node_before(search, node, heap[(i - 1) / 2]);) {
            heap[i] = heap[(i - 1) / 2];
            heap[i = (i - 1) / 2] = node;
        }
    }
    bound_set(search, at, search->nodes.items[first].low, search->nodes.items[first].high);
    return first;
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

/* What the goals before the one that is searched for may come to: as the search found, or anything. */
static void holds_set(struct search *search, bool on)
{
    const struct lp *lp = search->lp;
    for (uint32_t goal = 0; goal < search->goal; goal++) {
        double most = goal < lp->goal_most.count ? lp->goal_most.items[goal] : INFINITY;
        relaxation_most(search->relaxation, goal, on ? search->held[goal] : most);
    }
}

/* A whole column within rounding of its number lets what hangs on it be a little more than it should: the
 * relaxation is solved once more, for all goals, with every column within the bounds that keep its kind
 * around its value. False where that is no better than the best answer. */
static bool leaf_round(struct search *search)
{
    const struct lp *lp = search->lp;
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
    holds_set(search, false);
    enum relaxed outcome = node_goals(search, 0);
    holds_set(search, true);
    for (uint32_t i = 0; i < lp->columns.count; i++)
        if (lp->columns.items[i].kind != LP_REAL)
            relaxation_bound(search->relaxation, i, search->low[i], search->high[i]);
    if (outcome == RELAXED_FITS || search->found)
        return outcome == RELAXED_FITS;
    memcpy(search->columns, search->kept, lp->columns.count * sizeof *search->kept);
    memset(search->goals, 0, lp->goal_count * sizeof *search->goals);
    for (size_t i = 0; i < lp->goal_terms.count; i++) {
        const struct lp_term *term = &lp->goal_terms.items[i];
        search->goals[term->row] += term->factor * search->columns[term->column];
    }
    return true;
}

/* How many relaxations are looked at with all goals while no answer is found; and the part of its work that a
 * search spends on guesses: before it has an answer, and after. */
enum { FULL_NODES = 60, GUESS_PART = 2, GUESS_PART_FOUND = 8 };

/* A guess (lp_guess) fails more often than not, and is made once what is to be settled first is. */
static bool guess_due(const struct search *search, uint32_t column)
{
    uint64_t part = search->found ? GUESS_PART_FOUND : GUESS_PART;
    return search->lp->guess && !search->lp->columns.items[column].first &&
           search->guessing * (part - 1) <= relaxation_work(search->relaxation);
}

/* True when the node was divided, and its first side, `*node` now, is entered; otherwise it is done with, as
 * an answer where it is one. */
static bool node_divide(struct search *search, uint32_t *node)
{
    const struct lp *lp = search->lp;
    struct lp_answer *answer = search->answer;
    uint32_t column = 0;
    enum relaxed outcome = lp->exact ? relaxation_exact(search->relaxation) : node_bound(search);
    if (lp->exact && outcome == RELAXED_FITS)
        relaxation_columns(search->relaxation, search->columns);
    answer->nodes++;
    bool whole = outcome == RELAXED_FITS && !branch_find(search, &column), guessed = false;
    if (outcome == RELAXED_FITS && !lp->exact) {
        bool root = answer->nodes == 1;
        bool full = root || (!search->found && lp->goal_count > 1 && answer->nodes <= FULL_NODES);
        uint64_t work = relaxation_work(search->relaxation);
        if (*node != NO_NODE)
            gain_add(search, &search->nodes.items[*node], search->bound);
        if (root)
            answer->least = search->bound;

        /* With all goals, where it is to be an answer as it is, or leads to the first one. */
        if (root || (!whole && (full || guess_due(search, column)))) {
            outcome = node_goals(search, search->goal);
            whole = outcome == RELAXED_FITS && !branch_find(search, &column);
            search->guessing += full ? 0 : relaxation_work(search->relaxation) - work;
        }
        if (root)
            memcpy(search->root, search->goals, lp->goal_count * sizeof *search->root);
    }
    search->undecided = search->undecided || outcome == RELAXED_UNKNOWN;
    if (outcome != RELAXED_FITS)
        return false;

    /* It may make a whole answer of the columns; otherwise they stay as they are. */
    if (!whole && !lp->exact && guess_due(search, column)) {
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
        if ((search->found || answer->nodes > FULL_NODES) && !lp->exact)
            branch_choose(search, &column);
        *node = node_sides(search, *node, column);
        return true;
    }
    if (!lp->exact && whole && !leaf_round(search))
        return false;
    size_t prices = (size_t)lp->goal_count * (lp->rows.count + lp->columns.count);
    search->found = true;

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

/* One goal: all sides that could be better in it. False where the search ended before its end, as it does
 * where nothing more can be learned, as of no goals from one answer on, the work is spent, or too many
 * relaxations were looked at. */
static bool goal_search(struct search *search)
{
    struct lp_budget *budget = search->lp->budget;
    struct lp_answer *answer = search->answer;
    uint32_t node = NO_NODE;
    enum { SETTLE_LEAST = 2000000 }; /* work: small questions settle it to the end */
    uint64_t most = search->goal < search->lp->settled ? UINT64_MAX : 2 * search->charged + SETTLE_LEAST;
    search->nodes.count = search->open.count = 0;
    for (bool more = true; more;) {
        bool divided = node_divide(search, &node);
        more = divided ||
               (search->open.count > 0 &&
                (search->lp->exact || promises(search, search->nodes.items[search->open.items[0]].bound)));
        if (more && !divided)
            node = node_enter(search);

        /* The budget is charged with the work since last time. */
        uint64_t since = relaxation_work(search->relaxation) - search->charged;
        search->charged += since;
        if (budget)
            budget->spent += since;
        arena_work(search->lp->arena, since);
        bool spent = budget && budget->spent >= (search->found ? budget->most : budget->last);
        bool ended = more && (spent || answer->nodes >= search->lp->node_limit || search->charged >= most);
        answer->proven = answer->proven && (!ended || search->goal >= search->lp->settled);
        if (search->undecided || ended ||
            (search->found && (search->lp->exact || !search->lp->goal_terms.count)))
            return false;
    }
    return true;
}

/* Goal by goal, each with those before it held to what they came to. A goal that the best answer has as good
 * as the whole programme's relaxation, those before it too, is not searched for. */
static void search_run(struct relaxation *relaxation, void *task)
{
    struct search *search = task;
    const struct lp *lp = search->lp;
    const double *best = search->answer->goals;
    bool bounded = false; /* all goals so far are as the relaxation has them */
    search->relaxation = relaxation;
    for (search->goal = 0; search->goal < lp->goal_count && search->goal < lp->ranked; search->goal++) {
        uint32_t goal = search->goal;
        search->counts = true;
        memset(search->of_goal, 0, lp->columns.count * sizeof *search->of_goal);
        for (size_t i = 0; i < lp->goal_terms.count; i++) {
            const struct lp_term *term = &lp->goal_terms.items[i];
            if (term->row != goal)
                continue;
            search->of_goal[term->column] = true;
            search->counts = search->counts && term->factor == floor(term->factor) &&
                             lp->columns.items[term->column].kind == LP_WHOLE;
        }
        bounded = bounded && !clearly_less(search->root[goal], best[goal]);
        holds_set(search, true);
        if (!bounded) {
            memset(search->gains, 0, lp->columns.count * sizeof *search->gains);
            for (uint32_t i = 0; i < lp->columns.count; i++)
                bound_set(search, i, column_low(&lp->columns.items[i]), column_high(&lp->columns.items[i]));
            if (!goal_search(search) || !search->found)
                return;
            bounded = goal == 0 && !clearly_less(search->root[0], best[0]);
        }
        search->held[goal] = best[goal] + EQUAL * fmax(1, fabs(best[goal]));
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
    search.of_goal = ARENA_ARRAY(lp->arena, columns + 1, bool);
    search.root = ARENA_ARRAY(lp->arena, lp->goal_count + 1, double);
    search.held = ARENA_ARRAY(lp->arena, lp->goal_count + 1, double);
    search.gains = ARENA_ARRAY(lp->arena, columns + 1, struct column_gain);
    search.prices = ARENA_ARRAY(lp->arena, prices + 1, double);
    answer.columns = ARENA_ARRAY(lp->arena, columns + 1, double);
    answer.goals = ARENA_ARRAY(lp->arena, lp->goal_count + 1, double);
    answer.prices = ARENA_ARRAY(lp->arena, prices + 1, double);
    for (size_t i = 0; i < columns; i++) {
        search.low[i] = column_low(&lp->columns.items[i]);
        search.high[i] = column_high(&lp->columns.items[i]);
    }
    if (lp->unsound)
        return answer;
    relaxation_with(lp, search_run, &search);
    answer.proven = answer.proven && !search.undecided;
    if (search.found)
        answer.outcome = LP_SOLVED;
    else if (answer.proven)
        answer.outcome = LP_IMPOSSIBLE;
    return answer;
}
