/* How much of its rate a dressing may keep, by every limit on amounts and by its label at once: what a report
 * proposes must pass them all, not only the limit it speaks of. */
#include "compiler/check/checking.h"

#include <math.h>

struct room {
    const struct dressing *dressing;
    struct dressing_room least; /* so far */
};

/* The dressing's own part of a sum, and the rest, which stays as it is. What the rest breaks by itself is not
 * the dressing's to mend. */
static void room_bound(struct room *room, double own, double rest, double most)
{
    if (own > 0 && exceeds(rest, most))
        room->least.blocked = true;
    else if (own > 0)
        room->least.share = fmin(room->least.share, fmax(0, most - rest) / own);
}

static bool owned(const struct room *room, const struct application *application, const struct amount *amount)
{
    return amount->dressing == room->dressing && !amount_done(application, amount);
}

/* How an amount counts toward a bound. */
struct yardstick {
    const struct nutrient_form *form; /* NULL: the product itself */
    const struct product *product;
    bool volume;
};

static double measured(const struct yardstick *yardstick, const struct amount *amount)
{
    if (yardstick->form)
        return supplied_as(amount->supplied, yardstick->form);
    return amount->product == yardstick->product ? amount_rate_as(amount, yardstick->volume) : 0;
}

/* A run of applications of one ledger that are counted together. */
struct run {
    double own, all;
};

static void run_add(struct run *run, const struct room *room, const struct application *application,
                    const struct yardstick *yardstick, double sign)
{
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        double value = sign * measured(yardstick, amount);
        run->all += value;
        run->own += owned(room, application, amount) ? value : 0;
    }
}

static bool same_year(const struct application *one, const struct application *other)
{
    return date_of_day(one->day).year == date_of_day(other->day).year;
}

/* `time`: 1 day counts each application alone, nothing all of a calendar year, more those of a run so long.
 */
static void room_by_runs(struct room *room, const struct ledger *ledger, const struct yardstick *yardstick,
                         struct duration time, double most)
{
    const struct application *items = ledger->applications.items;
    struct run run = {0, 0};
    size_t first = 0;
    for (size_t i = 0; i < ledger->applications.count; i++) {
        while (first < i && (duration_any(time) ? items[i].day >= day_after(items[first].day, time)
                                                : !same_year(&items[first], &items[i])))
            run_add(&run, room, &items[first++], yardstick, -1);
        if (first == i)
            run = (struct run){0, 0};
        run_add(&run, room, &items[i], yardstick, 1);
        room_bound(room, run.own, run.all - run.own, most);
    }
}

/* A limit that is in force on some days of the year only. */
static void room_by_season(struct checking *checking, struct room *room, const struct limit *limit,
                           const struct ledger *ledger, const struct yardstick *yardstick)
{
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        struct run run = {0, 0};
        if (!check_most_holds(checking, limit, application))
            continue;
        run_add(&run, room, application, yardstick, 1);
        room_bound(room, run.own, run.all - run.own, limit->most);
    }
}

/* A limit on the sum within days of every year. */
static void room_by_windows(struct room *room, const struct limit *limit, const struct ledger *ledger,
                            const struct yardstick *yardstick)
{
    struct run run = {0, 0};
    int last = 0;
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        int year = check_window_year(limit, application->day);
        if (!check_window_holds(limit, application->day))
            continue;
        if (year != last)
            run = (struct run){0, 0};
        last = year;
        run_add(&run, room, application, yardstick, 1);
        room_bound(room, run.own, run.all - run.own, limit->most);
    }
}

static void room_by_limits(struct checking *checking, struct room *room, const struct ledger *ledger)
{
    static const struct {
        enum limit_kind kind;
        struct duration time;
        bool own; /* the limit's own time */
    } kinds[] = {{LIMIT_PER_APPLICATION, {.days = 1}, false},
                 {LIMIT_PER_YEAR, {0}, false},
                 {LIMIT_PER_PERIOD, {0}, true},
                 {LIMIT_PER_WINDOW, {0}, false}};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        const struct limit *limit;
        for (size_t at = 0; (limit = limit_next(checking, kinds[i].kind, &at)) != NULL;) {
            struct yardstick yardstick = {.form = limit->nutrient};
            if (!limit_binds(limit, ledger->zone) || !limit_counts(limit, room->dressing->product))
                continue;
            if (limit->kind == LIMIT_PER_WINDOW)
                room_by_windows(room, limit, ledger, &yardstick);
            else if (limit->kind == LIMIT_PER_APPLICATION)
                room_by_season(checking, room, limit, ledger, &yardstick);
            else
                room_by_runs(room, ledger, &yardstick, kinds[i].own ? limit->time : kinds[i].time,
                             limit->most);
        }
    }
}

static void room_by_label(struct room *room, const struct ledger *ledger)
{
    const struct product *product = room->dressing->product;
    const struct product_label *label = &product->label;
    struct yardstick rate = {.product = product, .volume = label->volume};
    struct yardstick year = {.product = product, .volume = label->year_volume};
    if (!isnan(label->high))
        room_by_runs(room, ledger, &rate, (struct duration){.days = 1}, label->high);
    if (!isnan(label->year_most))
        room_by_runs(room, ledger, &year, (struct duration){0}, label->year_most);
}

struct dressing_room dressing_room(struct checking *checking, const struct treatment *treatment,
                                   const struct dressing *dressing)
{
    struct room room = {dressing, {INFINITY, false}};
    for (size_t i = 0; i < treatment->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[treatment->zones.items[i]->index];
        room_by_limits(checking, &room, ledger);
        room_by_label(&room, ledger);
    }
    return room.least;
}

bool rate_below_label(const struct amount *amount, double share)
{
    const struct product_label *label = &amount->product->label;
    return !isnan(label->low) && exceeds(label->low, share * amount_rate_as(amount, label->volume));
}
