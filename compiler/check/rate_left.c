/* How much of its rate a dressing may keep, by every limit on amounts and by its label at once: what a report
 * proposes must pass them all, not only the limit it speaks of. */
#include "compiler/check/checking.h"

#include <math.h>

/* kg/m2 of product: what is below it is nothing by the figures that are shown. */
static const double LEAST_RATE = 1e-6;

/* Lowers *left to what each run of the ledger leaves the dressing: its own part of the sum against the rest,
 * which stays as it is. What the rest breaks by itself is not the dressing's to repair. `limit`: of one
 * application, which may be in force on some days only; NULL without. */
static void lower_by_runs(struct checking *checking, struct rate_left *left, const struct dressing *dressing,
                          const struct ledger *ledger, const struct yardstick *yardstick,
                          struct dose_span span, double most, const struct limit *limit)
{
    struct doses doses = doses_of(checking->arena, ledger, yardstick, false);
    for (struct dose_run run = {0}; dose_run_next(&run, &doses, &span);) {
        double own = 0;
        for (size_t i = run.first; i < run.end; i++) {
            const struct application *application = doses.items[i].application;
            double part = 0; /* of the dose: the dressing's own, which can still be changed */
            for (size_t j = 0; j < application->amounts.count; j++) {
                const struct amount *amount = application->amounts.items[j];
                if (amount->dressing == dressing && !amount_done(application, amount))
                    part += amount_measured(amount, yardstick);
            }
            own += part;
        }
        double rest = run.total - own;
        if (!(own > 0) || (limit && !check_most_holds(checking, limit, doses.items[run.end - 1].application)))
            continue;
        if (exceeds(rest, most))
            left->blocked = true;
        else
            left->share = fmin(left->share, fmax(0, most - rest) / own);
    }
}

/* Raises *least to the share at which an application that has enough slow-release N as planned still has:
 * with less of a slow product the rest weighs more. At a share x (S + s x) / (N + n x) = most, where N and S
 * are the rest's nitrogen and its slow part, n and s the dressing's own. */
static void raise_for_slow(double *least, const struct dressing *dressing, const struct ledger *ledger,
                           const struct limit *limit)
{
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        double n = application->supplied[NUTRIENT_N], slow = application->supplied[NUTRIENT_SLOW_N];
        double own = 0, own_slow = 0;
        for (size_t j = 0; j < application->amounts.count; j++) {
            const struct amount *amount = application->amounts.items[j];
            if (amount->dressing == dressing && !amount_done(application, amount)) {
                own += amount->supplied[NUTRIENT_N];
                own_slow += amount->supplied[NUTRIENT_SLOW_N];
            }
        }
        if (exceeds(n, limit->free_n) && !exceeds(limit->least_share * n, slow) &&
            own_slow > limit->least_share * own)
            *least = fmax(*least, (limit->least_share * (n - own) - (slow - own_slow)) /
                                      (own_slow - limit->least_share * own));
    }
}

/* Over the treatment's zones, the limits on amounts that count the product, and its label. */
struct rate_left rate_left(struct checking *checking, const struct treatment *treatment,
                           const struct dressing *dressing)
{
    static const enum limit_kind kinds[] = {LIMIT_PER_APPLICATION, LIMIT_PER_YEAR, LIMIT_PER_PERIOD,
                                            LIMIT_PER_WINDOW};
    const struct product *product = dressing->product;
    const struct product_label *label = &product->label;
    struct yardstick by_rate = {.product = product, .measure = label->volume ? DOSE_BY_VOLUME : DOSE_BY_MASS};
    struct yardstick by_year = {.product = product,
                                .measure = label->year_volume ? DOSE_BY_VOLUME : DOSE_BY_MASS};
    struct dose_span day = {.kind = SPAN_DAYS, .time = {.days = 1}}, year = {.kind = SPAN_YEAR};
    struct rate_left left = {.share = INFINITY};
    for (size_t i = 0; i < treatment->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[treatment->zones.items[i]->index];
        for (size_t j = 0; j < sizeof kinds / sizeof *kinds; j++) {
            const struct limit *limit;
            for (size_t at = 0; (limit = limit_next(checking, kinds[j], &at)) != NULL;) {
                struct yardstick nutrient = {.form = limit->nutrient};
                if (limit_binds(limit, ledger->zone) && limit_counts(limit, product))
                    lower_by_runs(checking, &left, dressing, ledger, &nutrient, limit_span(limit),
                                  limit->most, kinds[j] == LIMIT_PER_APPLICATION ? limit : NULL);
            }
        }
        const struct limit *slow;
        for (size_t at = 0; (slow = limit_next(checking, LIMIT_SLOW_SHARE, &at)) != NULL;)
            if (!slow->each && limit_binds(slow, ledger->zone))
                raise_for_slow(&left.least, dressing, ledger, slow);
        if (!isnan(label->high))
            lower_by_runs(checking, &left, dressing, ledger, &by_rate, day, label->high, NULL);
        if (!isnan(label->year_most))
            lower_by_runs(checking, &left, dressing, ledger, &by_year, year, label->year_most, NULL);
    }
    return left;
}

bool rate_below_label(const struct amount *amount, double share)
{
    const struct product_label *label = &amount->product->label;
    return !isnan(label->low) && exceeds(label->low, share * amount_rate_as(amount, label->volume));
}

/* What the sentence says is what to do instead; NULL where a lower rate would pass. */
const char *rate_refused(struct checking *checking, const struct amount *amount, double share,
                         const struct rate_left *left)
{
    const char *name = name_string(amount->product->symbol.name);
    if (share * amount_rate_as(amount, false) < LEAST_RATE)
        return text_format(checking->arena,
                           "the limits leave nothing for %s at that time: use another product or another day",
                           name);
    if (rate_below_label(amount, share))
        return text_format(checking->arena,
                           "the limits allow only %s and the label requires more: use another product",
                           product_rate_floor(checking, amount, amount->rate * share));
    if (exceeds(left->least, share))
        return text_format(
            checking->arena,
            "with less of %s, too little of this day's N is slow-release: use less of the others", name);
    return NULL;
}
