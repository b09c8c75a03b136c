/* Branch and bound over the sizes, the cheapest by amount first.
 *
 * The remainder costs at least as much as it would at the cheapest price by amount of the sizes that are
 * left, and takes at least as many packs as it would of the largest of them; a branch whose least is no
 * better than what was found is not entered. With the cheapest size first and its largest count first, the
 * first answer is near the best, and few branches remain. */
#include "compiler/result/packs.h"

#include <assert.h>
#include <math.h>

static const double SLACK = 1e-9; /* as a share of the amount or the cost */

struct search {
    const struct pack_size *sizes;
    size_t count, order[PACK_SIZE_LIMIT];
    double largest[PACK_SIZE_LIMIT]; /* amount of the sizes from order[i] on */
    double amount;
    bool priced, found;
    size_t steps, taken[PACK_SIZE_LIMIT]; /* by place in order */
    struct pack_choice best;
};

struct taken { /* so far */
    double cost, held;
    size_t packs;
};

static double price_of(const struct search *search, size_t place)
{
    return search->priced ? search->sizes[search->order[place]].price : 0;
}

static double size_of(const struct search *search, size_t place)
{
    return search->sizes[search->order[place]].amount;
}

/* Whether size `a` is cheaper by amount or, at the same price, larger. */
static bool comes_before(const struct search *search, size_t a, size_t b)
{
    const struct pack_size *x = &search->sizes[a], *y = &search->sizes[b];
    double left = search->priced ? x->price * y->amount : 0;
    double right = search->priced ? y->price * x->amount : 0;
    if (left != right)
        return left < right;
    return x->amount != y->amount ? x->amount > y->amount : a < b;
}

/* Packs of one size that cover the rest. */
static double packs_for(const struct search *search, double rest, double size)
{
    return fmax(ceil((rest - search->amount * SLACK) / size), 0);
}

static int compare(double a, double b)
{
    double slack = SLACK * fmax(fabs(a), fabs(b));
    return a < b - slack ? -1 : a > b + slack;
}

/* Whether cost, packs and what is held are better than the best, in this order. */
static bool improves(const struct search *search, double cost, double packs, double held)
{
    if (!search->found)
        return true;
    int order = search->priced ? compare(cost, search->best.cost) : 0;
    if (order == 0)
        order = compare(packs, (double)search->best.packs);
    if (order == 0)
        order = compare(held, search->best.bought);
    return order < 0;
}

/* What the sizes from `place` on can lead to: something better; nothing better; nothing better, and nothing
 * with fewer of the size before either, since each that is missing is made up at a higher price by amount
 * (or, without prices, with smaller packs). */
enum promise { PROMISE_BETTER, PROMISE_NONE, PROMISE_NEVER };

static enum promise promise_of(const struct search *search, const struct taken *taken, size_t place)
{
    double rest = fmax(search->amount - taken->held, 0);
    double price = price_of(search, place) / size_of(search, place);
    double cost = taken->cost + rest * (1 - SLACK) * price;
    double packs = (double)taken->packs + packs_for(search, rest, search->largest[place]);
    if (improves(search, cost, packs, fmax(taken->held, search->amount * (1 - SLACK))))
        return PROMISE_BETTER;
    int behind =
        search->priced ? compare(cost, search->best.cost) : compare(packs, (double)search->best.packs);
    return behind > 0 ? PROMISE_NEVER : PROMISE_NONE;
}

/* Depth first, the largest count of the cheapest size first: the first answer is near the best, so most
 * branches end early. */
static void search_from(struct search *search, struct taken taken, size_t place)
{
    double rest = search->amount - taken.held;
    if (rest <= search->amount * SLACK) {
        /* The best so far. */
        if (improves(search, taken.cost, (double)taken.packs, taken.held)) {
            struct pack_choice *best = &search->best;
            search->found = true;
            best->cost = taken.cost;
            best->packs = taken.packs;
            best->bought = taken.held;
            for (size_t j = 0; j < search->count; j++)
                best->counts[search->order[j]] = search->taken[j];
        }
        return;
    }
    if (place == search->count)
        return;
    size_t most = (size_t)fmin(packs_for(search, rest, size_of(search, place)), PACK_COUNT_LIMIT);
    size_t choices = place + 1 == search->count ? 1 : most + 1;
    for (size_t i = 0; i < choices && search->steps < PACK_STEP_LIMIT; i++) {
        size_t n = most - i;
        struct taken next = {.cost = taken.cost + (double)n * price_of(search, place),
                             .held = taken.held + (double)n * size_of(search, place),
                             .packs = taken.packs + n};
        enum promise promise = i == 0 ? PROMISE_BETTER : promise_of(search, &next, place + 1);
        search->steps++;
        search->taken[place] = n;
        if (promise == PROMISE_BETTER)
            search_from(search, next, place + 1);
        else if (promise == PROMISE_NEVER)
            break;
    }
    search->taken[place] = 0;
}

/* By cost only where every size has a price: an unknown price is no low one. */
struct pack_choice packs_choose(const struct pack_size *sizes, size_t count, double amount)
{
    assert(count > 0 && count <= PACK_SIZE_LIMIT && amount >= 0 && isfinite(amount));
    struct search search = {.sizes = sizes, .count = count, .amount = amount, .priced = true};
    for (size_t i = 0; i < count; i++) {
        assert(sizes[i].amount > 0);
        search.priced = search.priced && !isnan(sizes[i].price);
    }
    /* The cheapest size by amount first; behind each place the largest that is left. */
    for (size_t i = 0; i < count; i++) {
        size_t at = i;
        for (; at > 0 && comes_before(&search, i, search.order[at - 1]); at--)
            search.order[at] = search.order[at - 1];
        search.order[at] = i;
    }
    double largest = 0;
    for (size_t i = count; i-- > 0;)
        search.largest[i] = largest = fmax(largest, size_of(&search, i));
    search_from(&search, (struct taken){0}, 0);
    search.best.priced = search.priced;
    search.best.proven = search.found && search.steps < PACK_STEP_LIMIT;
    /* Without all prices the search did not count them: what the chosen ones cost, if it is known. */
    search.best.cost = 0;
    for (size_t i = 0; i < count; i++)
        if (search.best.counts[i])
            search.best.cost += (double)search.best.counts[i] * sizes[i].price;
    return search.best;
}
