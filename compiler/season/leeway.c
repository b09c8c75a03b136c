/* How far a printed rate or amount may be from the exact one, so that an application put down as printed
 * keeps every limit on amounts and its labels (figure.h), whether the others are put down as printed or
 * exactly.
 *
 * Where a sum has a most, each amount in it may grow by the share by which all of them together may; where a
 * share of slow nitrogen has a least, those that raise it may shrink, and those that lower it grow, by the
 * share that all together may. */
#include "compiler/season/dating.h"
#include "compiler/season/dose.h"

struct leeways {
    const struct season *season;
    VECTOR(const struct limit *) mosts, slow_shares; /* that bind the plan */
    /* Of the ledger at hand. */
    double nutrient_rise[NUTRIENT_COUNT];
    struct label_dose { /* by product index; of the application or year whose stamp it bears */
        uint32_t stamp;
        double planned, fixed; /* as the label measures them */
    } * days, *years;
    uint32_t stamp, year_stamp;
    double *product_rise; /* by product index; of the ledger whose stamp stands in `rise_of` */
    uint32_t *rise_of;
};

/* A sum of what can still be put down otherwise and of what cannot. */
struct sum {
    double planned, fixed;
};

/* By what share all of the planned part may grow; none where the sum is over as it is. */
static double sum_rise(const struct sum *sum, double most)
{
    return sum->planned > 0 ? fmax(0, most - sum->fixed - sum->planned) / sum->planned : INFINITY;
}

/* ---- limits on a nutrient ---- */

static void sum_add(struct sum *sum, const struct application *application, const struct limit *limit,
                    double sign)
{
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        double value = sign * supplied_as(amount->supplied, limit->nutrient);
        if (!limit_counts(limit, amount->product))
            continue;
        *(amount->recorded ? &sum->fixed : &sum->planned) += value;
    }
}

/* Whether two applications, the second not before the first, are counted in one sum. */
static bool counted_together(const struct limit *limit, day_number first, day_number second)
{
    struct dose_span span = limit_span(limit);
    switch (span.kind) {
    case SPAN_YEAR:
        return date_of_day(first).year == date_of_day(second).year;
    case SPAN_DAYS:
        return second < day_after(first, span.time);
    case SPAN_WINDOW:
        break;
    }
    day_number begin = limit_window_on(limit, second).first;
    return first == second || (limit_window_holds(limit, second) && first >= begin);
}

/* The window of applications counted with the one at hand moves on with it. */
static double limit_rise(const struct season *season, const struct limit *limit, const struct ledger *ledger)
{
    const struct application *items = ledger->applications.items;
    struct sum sum = {0, 0};
    double rise = INFINITY;
    arena_work(season->arena, 2 * ledger->applications.count);
    for (size_t i = 0, first = 0; i < ledger->applications.count; i++) {
        while (first < i && !counted_together(limit, items[first].day, items[i].day))
            sum_add(&sum, &items[first++], limit, -1);
        if (first == i)
            sum = (struct sum){0, 0}; /* what subtracting left of it */
        sum_add(&sum, &items[i], limit, 1);
        if (limit_in_force(season, limit, items[i].day))
            rise = fmin(rise, sum_rise(&sum, limit->most));
    }
    return rise;
}

/* ---- labels ---- */

static void dose_add(struct label_dose *dose, uint32_t stamp, const struct amount *amount, bool volume)
{
    if (dose->stamp != stamp)
        *dose = (struct label_dose){.stamp = stamp};
    *(amount->recorded ? &dose->fixed : &dose->planned) += amount_rate_as(amount, volume);
}

/* No end where the label states no most, or where it cannot be told in its measure. */
static double dose_rise(const struct label_dose *dose, double most)
{
    struct sum sum = {dose->planned, dose->fixed};
    return isnan(most) || isnan(dose->planned + dose->fixed) ? INFINITY : sum_rise(&sum, most);
}

/* By day and by year, each in the measure of that clause of the label. */
static void label_bound_day(struct leeways *leeways, const struct application *application,
                            uint32_t ledger_stamp)
{
    leeways->stamp++;
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        const struct product *product = amount->product;
        if (leeways->rise_of[product->index] != ledger_stamp)
            leeways->product_rise[product->index] = INFINITY;
        leeways->rise_of[product->index] = ledger_stamp;
        dose_add(&leeways->days[product->index], leeways->stamp, amount, product->label.volume);
        dose_add(&leeways->years[product->index], leeways->year_stamp, amount, product->label.year_volume);
    }
    for (size_t i = 0; i < application->amounts.count; i++) {
        struct amount *amount = application->amounts.items[i];
        const struct product *product = amount->product;
        double *rise = &leeways->product_rise[product->index];
        amount->leeway.rise =
            fmin(amount->leeway.rise, dose_rise(&leeways->days[product->index], product->label.high));
        *rise = fmin(*rise, dose_rise(&leeways->years[product->index], product->label.year_most));
    }
    /* Several of a product may shrink together down to the label's least; what is under it is reported as
     * such. */
    for (size_t i = 0; i < application->amounts.count; i++) {
        struct amount *amount = application->amounts.items[i];
        const struct label_dose *dose = &leeways->days[amount->product->index];
        double low = amount->product->label.low * (1 - LEAST_RATE_TOLERANCE);
        double spare = dose->planned + dose->fixed - low;
        if (low > 0 && dose->planned > 0 && spare >= 0)
            amount->leeway.fall = fmin(amount->leeway.fall, spare / dose->planned);
    }
}

/* ---- the slow share ---- */

/* What the amount has of slow N beyond the share asked of it. */
static double slow_surplus(const struct amount *amount, const struct limit *limit)
{
    return amount->supplied[NUTRIENT_SLOW_N] - limit->least_share * amount->supplied[NUTRIENT_N];
}

struct slow_sum {
    double surplus; /* of all */
    double rising,
        lowers; /* planned: of those with a surplus; of those with a deficit, as positive numbers */
    bool free;  /* each of the latter may be put down as a little less */
};

/* A spare five hundredth, which is what rounding to the next finer digit takes. */
static const double SPARE = 0.002;

/* An answer at the very share, and at the most N too, would leave no figure but the exact one: there what
 * lowers the share is put down a little less, which lets the rest be rounded. */
static void slow_share_bound(const struct application *application, const struct limit *limit)
{
    /* What the application has of slow N beyond the share, and which amounts move it. */
    struct slow_sum sum = {.free = true};
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        double surplus = slow_surplus(amount, limit);
        sum.surplus += surplus;
        if (amount->recorded)
            continue;
        *(surplus > 0 ? &sum.rising : &sum.lowers) += fabs(surplus);
        sum.free = sum.free && (surplus >= 0 || amount->leeway.fall > 2 * SPARE);
    }
    double moving = sum.rising + sum.lowers;
    double fall = moving > 0 ? fmax(0, sum.surplus) / moving : 1, rise = fall;
    if (fall < SPARE && sum.lowers > 0 && sum.rising > 0 && sum.free) {
        rise = -SPARE;
        fall = fmin((fmax(0, sum.surplus) + SPARE * sum.lowers) / sum.rising, 1);
    }
    for (size_t i = 0; i < application->amounts.count; i++) {
        struct amount *amount = application->amounts.items[i];
        if (slow_surplus(amount, limit) > 0)
            amount->leeway.fall = fmin(amount->leeway.fall, fall);
        else if (amount->supplied[NUTRIENT_N] > 0)
            amount->leeway.rise = fmin(amount->leeway.rise, rise);
    }
}

/* ---- all of them ---- */

/* What a sum leaves each of its amounts to grow by, the least of all sums that it is in; then the slow
 * shares. */
static void ledger_leeways(struct leeways *leeways, const struct ledger *ledger)
{
    /* How far each nutrient may rise under every limit that binds the zone. */
    for (size_t n = 0; n < NUTRIENT_COUNT; n++)
        leeways->nutrient_rise[n] = INFINITY;
    for (size_t i = 0; i < leeways->mosts.count; i++) {
        const struct limit *limit = leeways->mosts.items[i];
        double *rise = &leeways->nutrient_rise[limit->nutrient->nutrient];
        if (limit_binds(limit, ledger->zone))
            *rise = fmin(*rise, limit_rise(leeways->season, limit, ledger));
    }
    struct application *applications = ledger->applications.items;
    uint32_t ledger_stamp = leeways->stamp + 1;
    for (size_t i = 0; i < ledger->applications.count; i++) {
        if (i == 0 || date_of_day(applications[i - 1].day).year != date_of_day(applications[i].day).year)
            leeways->year_stamp++;
        label_bound_day(leeways, &applications[i], ledger_stamp);
    }
    for (size_t i = 0; i < ledger->applications.count; i++)
        for (size_t j = 0; j < applications[i].amounts.count; j++) {
            struct amount *amount = applications[i].amounts.items[j];
            double rise = leeways->product_rise[amount->product->index];
            for (size_t n = 0; n < NUTRIENT_COUNT; n++)
                if (amount->supplied[n] > 0)
                    rise = fmin(rise, leeways->nutrient_rise[n]);
            amount->leeway.rise = fmin(amount->leeway.rise, rise);
        }
    for (size_t k = 0; k < leeways->slow_shares.count; k++) {
        arena_work(leeways->season->arena, ledger->applications.count);
        for (size_t i = 0;
             limit_binds(leeways->slow_shares.items[k], ledger->zone) && i < ledger->applications.count; i++)
            slow_share_bound(&applications[i], leeways->slow_shares.items[k]);
    }
}

/* Of what is in no ledger nothing is bound: it may be rounded as it likes. */
void season_leeways(struct season *season)
{
    if (season->leeways_known)
        return;
    season->leeways_known = true;
    size_t products = season->model->products.count + 1;
    struct leeways leeways = {.season = season,
                              .days = ARENA_ARRAY(season->arena, products, struct label_dose),
                              .years = ARENA_ARRAY(season->arena, products, struct label_dose),
                              .product_rise = ARENA_ARRAY(season->arena, products, double),
                              .rise_of = ARENA_ARRAY(season->arena, products, uint32_t)};
    /* Those that bind the plan at all; which zones they bind is seen ledger by ledger. */
    const struct model *model = leeways.season->model;
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        bool most = limit->kind == LIMIT_PER_APPLICATION || limit->kind == LIMIT_PER_YEAR ||
                    limit->kind == LIMIT_PER_PERIOD || limit->kind == LIMIT_PER_WINDOW;
        if (!limit->set->bound || limit->set->symbol.broken)
            continue;
        if (most)
            VECTOR_PUSH(model->arena, &leeways.mosts, limit);
        else if (limit->kind == LIMIT_SLOW_SHARE)
            VECTOR_PUSH(model->arena, &leeways.slow_shares, limit);
    }
    for (size_t i = 0; i < season->occurrences.count; i++)
        for (size_t j = 0; j < season->occurrences.items[i].amounts.count; j++)
            season->occurrences.items[i].amounts.items[j].leeway = (struct leeway){1, INFINITY};
    for (size_t i = 0; i < season->model->zones.count; i++)
        ledger_leeways(&leeways, &season->ledgers[i]);
}
