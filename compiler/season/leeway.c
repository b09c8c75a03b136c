/* How far a printed rate or amount may be from the exact one, so that an application put down as printed
 * keeps every limit on amounts and its labels (figure.h), whether the others are put down as printed or
 * exactly.
 *
 * Where a sum has a most, each amount in it may grow by the share by which all of them together may; where a
 * share of slow nitrogen has a least, those that raise it may shrink, and those that lower it grow, by the
 * share that all together may. */
#include "compiler/season/dating.h"
#include "compiler/season/dose.h"

/* A sum of what can still be put down otherwise and of what cannot. */
struct sum {
    double planned, fixed;
};

struct leeways {
    VECTOR(const struct limit *) mosts, slow_shares; /* that bind the plan */
    /* Of the ledger at hand. */
    double nutrient_rise[NUTRIENT_COUNT];
    struct label_dose { /* by product index; of the application or year whose stamp it bears */
        uint32_t stamp;
        struct sum sum; /* as the label measures them */
    } * days, *years;
    uint32_t stamp, year_stamp;
    double *product_rise; /* by product index; of the ledger whose stamp stands in `rise_of` */
    uint32_t *rise_of;
};

/* By what share all of the planned part may grow; none where the sum is over as it is, and no end where a
 * label states no most, or where it cannot be told in its measure. */
static double sum_rise(const struct sum *sum, double most)
{
    if (isnan(most) || isnan(sum->planned + sum->fixed))
        return INFINITY;
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

/* The window of applications counted with the one at hand moves on with it. */
static double limit_rise(const struct season *season, const struct limit *limit, const struct ledger *ledger)
{
    const struct application *items = ledger->applications.items;
    struct sum sum = {0, 0};
    struct dose_span span = limit_span(limit);
    double rise = INFINITY;
    arena_work(season->arena, 2 * (uint64_t)ledger->applications.count);
    for (size_t i = 0, first = 0; i < ledger->applications.count; i++) {
        for (bool together = false; first < i && !together;) {
            day_number before = items[first].day, day = items[i].day;
            switch (span.kind) {
            case SPAN_YEAR:
                together = date_of_day(before).year == date_of_day(day).year;
                break;
            case SPAN_DAYS:
                together = day < day_after(before, span.time);
                break;
            case SPAN_WINDOW:
                together = limit_window_holds(limit, day) && before >= limit_window_on(limit, day).first;
                break;
            }
            if (!together)
                sum_add(&sum, &items[first++], limit, -1);
        }
        if (first == i)
            sum = (struct sum){0, 0}; /* what subtracting left of it */
        sum_add(&sum, &items[i], limit, 1);
        if (limit_in_force(season, limit, items[i].day))
            rise = fmin(rise, sum_rise(&sum, limit->most));
    }
    return rise;
}

/* ---- labels ---- */

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
        for (int year = 0; year < 2; year++) {
            struct label_dose *dose = year ? &leeways->years[product->index] : &leeways->days[product->index];
            uint32_t stamp = year ? leeways->year_stamp : leeways->stamp;
            bool volume = year ? product->label.year_volume : product->label.volume;
            if (dose->stamp != stamp)
                *dose = (struct label_dose){.stamp = stamp};
            *(amount->recorded ? &dose->sum.fixed : &dose->sum.planned) += amount_rate_as(amount, volume);
        }
    }
    for (size_t i = 0; i < application->amounts.count; i++) {
        struct amount *amount = application->amounts.items[i];
        const struct product *product = amount->product;
        double *rise = &leeways->product_rise[product->index];
        amount->leeway.rise =
            fmin(amount->leeway.rise, sum_rise(&leeways->days[product->index].sum, product->label.high));
        *rise = fmin(*rise, sum_rise(&leeways->years[product->index].sum, product->label.year_most));
    }
    /* Several of a product may shrink together down to the label's least; what is under it is reported. */
    for (size_t i = 0; i < application->amounts.count; i++) {
        struct amount *amount = application->amounts.items[i];
        const struct sum *dose = &leeways->days[amount->product->index].sum;
        double low = amount->product->label.low * (1 - LEAST_RATE_TOLERANCE);
        double spare = dose->planned + dose->fixed - low;
        if (low > 0 && dose->planned > 0 && spare >= 0)
            amount->leeway.fall = fmin(amount->leeway.fall, spare / dose->planned);
    }
}

/* ---- the slow share ---- */

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
        double surplus =
            amount->supplied[NUTRIENT_SLOW_N] - limit->least_share * amount->supplied[NUTRIENT_N];
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
        double nitrogen = amount->supplied[NUTRIENT_N];
        if (amount->supplied[NUTRIENT_SLOW_N] - limit->least_share * nitrogen > 0)
            amount->leeway.fall = fmin(amount->leeway.fall, fall);
        else if (nitrogen > 0)
            amount->leeway.rise = fmin(amount->leeway.rise, rise);
    }
}

/* ---- all of them ---- */

/* Of what is in no ledger nothing is bound: it may be rounded as it likes. */
void season_leeways(struct season *season)
{
    if (season->leeways_known)
        return;
    season->leeways_known = true;
    size_t products = season->model->products.count + 1;
    struct leeways leeways = {.days = ARENA_ARRAY(season->arena, products, struct label_dose),
                              .years = ARENA_ARRAY(season->arena, products, struct label_dose),
                              .product_rise = ARENA_ARRAY(season->arena, products, double),
                              .rise_of = ARENA_ARRAY(season->arena, products, uint32_t)};
    /* Those that bind the plan at all; which zones they bind is seen ledger by ledger. */
    const struct model *model = season->model;
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

    /* What a sum leaves each of its amounts to grow by, the least of all its sums; then the slow shares. */
    for (size_t zone = 0; zone < model->zones.count; zone++) {
        const struct ledger *ledger = &season->ledgers[zone];
        /* How far each nutrient may rise under every limit that binds the zone. */
        for (size_t n = 0; n < NUTRIENT_COUNT; n++)
            leeways.nutrient_rise[n] = INFINITY;
        for (size_t i = 0; i < leeways.mosts.count; i++) {
            const struct limit *limit = leeways.mosts.items[i];
            double *rise = &leeways.nutrient_rise[limit->nutrient->nutrient];
            if (limit_binds(limit, ledger->zone))
                *rise = fmin(*rise, limit_rise(season, limit, ledger));
        }
        struct application *applications = ledger->applications.items;
        uint32_t ledger_stamp = leeways.stamp + 1;
        for (size_t i = 0; i < ledger->applications.count; i++) {
            if (i == 0 || date_of_day(applications[i - 1].day).year != date_of_day(applications[i].day).year)
                leeways.year_stamp++;
            label_bound_day(&leeways, &applications[i], ledger_stamp);
        }
        for (size_t i = 0; i < ledger->applications.count; i++)
            for (size_t j = 0; j < applications[i].amounts.count; j++) {
                struct amount *amount = applications[i].amounts.items[j];
                double rise = leeways.product_rise[amount->product->index];
                for (size_t n = 0; n < NUTRIENT_COUNT; n++)
                    if (amount->supplied[n] > 0)
                        rise = fmin(rise, leeways.nutrient_rise[n]);
                amount->leeway.rise = fmin(amount->leeway.rise, rise);
            }
        for (size_t k = 0; k < leeways.slow_shares.count; k++) {
            arena_work(season->arena, ledger->applications.count);
            for (size_t i = 0;
                 limit_binds(leeways.slow_shares.items[k], ledger->zone) && i < ledger->applications.count;
                 i++)
                slow_share_bound(&applications[i], leeways.slow_shares.items[k]);
        }
    }
}
