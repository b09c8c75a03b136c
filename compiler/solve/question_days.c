/* Waits and closed days as demands: where an application is dated as if it put nothing down, its day does not
 * see to them. No day sees to two kinds that must lie apart within one application. */
#include "compiler/solve/question.h"

/* ---- waits ---- */

struct wait_demand {
    struct treatment_class first, second; /* of product intervals: neither */
    const struct product *product;        /* of product intervals */
    bool directed;                        /* only where the second comes after the first */
    bool dated;                           /* the dates keep it, but within a day */
    enum wait_clash {
        CLASH_NEARER,  /* than `time` */
        CLASH_FARTHER, /* than it; some that the checks would let pass, for another first may lie between */
        CLASH_ALWAYS
    } clash;
    struct duration time;
    uint32_t cause;
};

static bool product_on_side(const struct wait_demand *wait, const struct product *product, int side)
{
    if (wait->product)
        return product == wait->product;
    return product_in_class(product, side ? &wait->second : &wait->first);
}

static bool wait_one_class(const struct wait_demand *wait)
{
    const struct treatment_class *first = &wait->first, *second = &wait->second;
    if (first->nutrient && second->nutrient)
        return first->nutrient->nutrient == second->nutrient->nutrient;
    return wait->product || (first->nutrient == second->nutrient && first->kind == second->kind);
}

/* Of one application nothing of one class clashes; what is of two that must lie apart does. */
static bool days_clash(const struct wait_demand *wait, day_number first, day_number second)
{
    day_number earlier = first < second ? first : second, later = first < second ? second : first;
    if (first == second)
        return wait->clash == CLASH_NEARER && !wait_one_class(wait);
    if (wait->dated || (wait->directed && first > second))
        return false;
    switch (wait->clash) {
    case CLASH_NEARER:
        return later < day_after(earlier, wait->time);
    case CLASH_FARTHER:
        return later > day_after(earlier, wait->time);
    case CLASH_ALWAYS:
        return true;
    }
    return true;
}

/* Nothing of one side where something of the other is put down anyway. A product does not wait for itself
 * within one application. */
static void none_beside_facts(struct question *question, uint32_t at, const struct wait_demand *wait)
{
    struct plot *plot = &question->problem->plots.items[at];
    const struct plot_place *place = &question->places.items[at];
    struct demand demand = question_demand(DEMAND_NONE, wait->cause, 0);
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct product *product = choice_product(question, &plot->choices.items[i]);
        day_number day = choice_day(question, &plot->choices.items[i]);
        bool clash = false;
        for (size_t j = 0; j < 2 * (size_t)place->facts.count && !clash; j++) {
            const struct fact *fact = &place->facts.items[j / 2];
            const struct product *given = fact->amount ? fact->amount->product : NULL;
            const struct treatment *treatment = fact->occurrence->treatment;
            int side = (int)(j % 2); /* of the choice; the fact is on the other */
            const struct name *kind = (side ? wait->first : wait->second).kind;
            /* What was put down counts by its product, and by the kinds of its treatment. */
            bool counts =
                (given && product_on_side(wait, given, !side)) ||
                (!wait->product && kind && kind_among(treatment->kinds.items, treatment->kinds.count, kind));
            clash = counts && !(given == product && fact->day == day) &&
                    product_on_side(wait, product, side) &&
                    days_clash(wait, side ? fact->day : day, side ? day : fact->day);
        }
        if (clash)
            demand_part_add(question, &demand, i, 1);
    }
    demand_keep(question, plot, &demand);
}

/* Side 0 on the one day and side 1 on the other. */
static void apart_between(struct question *question, uint32_t at, const struct wait_demand *wait,
                          day_number first, day_number second)
{
    struct plot *plot = &question->problem->plots.items[at];
    struct demand demand = question_demand(DEMAND_APART, wait->cause, 0);
    bool sides[2] = {false, false};
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        for (int side = 0; side < 2; side++) {
            if (choice_day(question, choice) != (side ? second : first) ||
                !product_on_side(wait, choice_product(question, choice), side))
                continue;
            demand_part_add(question, &demand, i, side);
            sides[side] = true;
        }
    }
    if (sides[0] && sides[1])
        demand_keep(question, plot, &demand);
}

/* Two classes on one day: each choice of the first against all others of the second, since a product of both
 * does not wait for itself. */
static void apart_on(struct question *question, uint32_t at, const struct wait_demand *wait, day_number day)
{
    struct plot *plot = &question->problem->plots.items[at];
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct product *product = choice_product(question, &plot->choices.items[i]);
        struct demand demand = question_demand(DEMAND_APART, wait->cause, 0);
        if (choice_day(question, &plot->choices.items[i]) != day || !product_on_side(wait, product, 0))
            continue;
        demand_part_add(question, &demand, i, 0);
        for (uint32_t j = 0; j < plot->choices.count; j++) {
            const struct product *other = choice_product(question, &plot->choices.items[j]);
            if (other != product && choice_day(question, &plot->choices.items[j]) == day &&
                product_on_side(wait, other, 1))
                demand_part_add(question, &demand, j, 1);
        }
        if (demand.parts.count > 1)
            demand_keep(question, plot, &demand);
    }
}

/* Each two days once: slots of one day stand side by side, and where both sides are the same so are the days
 * turned round. */
static void wait_keep(struct question *question, uint32_t at, const struct wait_demand *wait)
{
    none_beside_facts(question, at, wait);
    for (size_t i = 0; i < question->slots.count; i++)
        for (size_t j = 0; j < question->slots.count; j++) {
            day_number first = question->slots.items[i].occurrence->day;
            day_number second = question->slots.items[j].occurrence->day;
            bool new_days = (i == 0 || question->slots.items[i - 1].day != question->slots.items[i].day) &&
                            (j == 0 || question->slots.items[j - 1].day != question->slots.items[j].day);
            bool same_sides = wait_one_class(wait) && (wait->product || !wait->directed);
            if (!new_days || !days_clash(wait, first, second))
                continue;
            if (first == second)
                apart_on(question, at, wait, first);
            else if (!same_sides || first < second)
                apart_between(question, at, wait, first, second);
        }
}

/* Of one kind of wait, between applications of a nutrient, both sides are the same. An order of kinds says
 * that none that comes later in it lies before one that comes earlier, however far apart. */
void plot_waits(struct question *question, uint32_t at)
{
    for (size_t i = 0; i < question->model->limits.count; i++) {
        const struct limit *limit = question->model->limits.items[i];
        if (!limit_binds(limit, question->places.items[at].zone) || !limit_dates(question->model, limit))
            continue;
        if (limit->kind == LIMIT_WAIT || limit->kind == LIMIT_WAIT_BETWEEN || limit->kind == LIMIT_FOLLOW) {
            struct treatment_class own = {limit->nutrient, NULL};
            bool same = limit->kind == LIMIT_WAIT, follow = limit->kind == LIMIT_FOLLOW;
            wait_keep(question, at,
                      &(struct wait_demand){.first = same ? own : limit->first,
                                            .second = same ? own : limit->second,
                                            .directed = limit->directed || follow,
                                            .dated = !question->apart,
                                            .clash = follow ? CLASH_FARTHER : CLASH_NEARER,
                                            .time = limit->time,
                                            .cause = question_limit(question, limit)});
        }
        for (size_t early = 0; early < limit->classes.count && limit->kind == LIMIT_ORDER; early++)
            for (size_t late = early + 1; late < limit->classes.count && question->apart; late++)
                wait_keep(question, at,
                          &(struct wait_demand){.first = limit->classes.items[late],
                                                .second = limit->classes.items[early],
                                                .directed = true,
                                                .clash = CLASH_ALWAYS,
                                                .cause = question_limit(question, limit)});
    }
    for (uint32_t i = 0; i < question->problem->products.count && question->apart; i++) {
        const struct product *product = question->products[i];
        if (duration_any(product->label.interval))
            wait_keep(
                question, at,
                &(struct wait_demand){.product = product,
                                      .time = product->label.interval,
                                      .cause = question_label(question, product, CAUSE_LABEL_INTERVAL)});
    }
}

/* ---- closed days ---- */

/* The days that the weather leaves open; NULL where it closes none. */
static const struct day_set *weather_open(const struct season *season, const struct limit *limit,
                                          const struct product *product, enum bound_kind kind)
{
    for (size_t i = 0; i < season->bounds.count; i++) {
        const struct bound *bound = &season->bounds.items[i];
        if (bound->open && (limit ? bound->limit == limit : bound->product == product && bound->kind == kind))
            return bound->open;
    }
    return NULL;
}

/* Single days and days of the week are closed to every application, so the dates see to them. */
static bool limit_closes(const struct question *question, const struct limit *limit, const struct zone *zone,
                         day_number day)
{
    const struct day_set *open;
    switch (limit->kind) {
    case LIMIT_CLOSED:
        return limit_window_holds(limit, day);
    case LIMIT_DORMANT:
        return lawn_dormant(zone->lawn, day);
    case LIMIT_HEAT:
    case LIMIT_WEATHER:
        open = weather_open(question->season, limit, NULL, BOUND_HEAT);
        return open && !day_set_contains(open, day);
    case LIMIT_PER_APPLICATION:
    case LIMIT_PER_YEAR:
    case LIMIT_PER_PERIOD:
    case LIMIT_PER_WINDOW:
    case LIMIT_SLOW_SHARE:
    case LIMIT_WAIT:
    case LIMIT_WAIT_BETWEEN:
    case LIMIT_FOLLOW:
    case LIMIT_ORDER:
    case LIMIT_CLOSED_DAYS: /* of every application: the dates see to it */
    case LIMIT_WEEKDAYS:
    case LIMIT_NEED:
    case LIMIT_CONTENT:
    case LIMIT_WATER:
        return false;
    }
    return false;
}

/* No rate of what a limit concerns on a day that it closes, nor of a product on a day that the season found
 * its own heat or cold to close. */
void plot_closings(struct question *question, uint32_t at)
{
    static const struct {
        enum bound_kind bound;
        enum cause_kind cause;
    } own[] = {{BOUND_HEAT, CAUSE_HEAT}, {BOUND_COLD, CAUSE_COLD}};
    struct plot *plot = &question->problem->plots.items[at];
    const struct zone *zone = question->places.items[at].zone;
    for (size_t i = 0; i < question->model->limits.count; i++) {
        const struct limit *limit = question->model->limits.items[i];
        struct demand demand = question_demand(DEMAND_NONE, NO_CAUSE, 0);
        if (!limit_binds(limit, zone) || !limit_dates(question->model, limit))
            continue;
        for (uint32_t j = 0; j < plot->choices.count; j++) {
            const struct product *product = choice_product(question, &plot->choices.items[j]);
            bool concerns = limit->nutrients.count == 0;
            for (size_t k = 0; k < limit->nutrients.count && !concerns; k++)
                concerns = product_supplies(product, limit->nutrients.items[k]->nutrient);
            if (concerns && limit_concerns_product(limit, product) &&
                limit_closes(question, limit, zone, choice_day(question, &plot->choices.items[j])))
                demand_part_add(question, &demand, j, 1);
        }
        if (demand.parts.count)
            demand.cause = question_limit(question, limit);
        demand_keep(question, plot, &demand);
    }
    for (uint32_t product = 0; product < question->problem->products.count; product++)
        for (size_t i = 0; i < sizeof own / sizeof *own; i++) {
            const struct product *used = question->products[product];
            const struct day_set *open = weather_open(question->season, NULL, used, own[i].bound);
            struct demand demand = question_demand(DEMAND_NONE, NO_CAUSE, 0);
            for (uint32_t j = 0; j < plot->choices.count && open; j++)
                if (plot->choices.items[j].product == product &&
                    !day_set_contains(open, choice_day(question, &plot->choices.items[j])))
                    demand_part_add(question, &demand, j, 1);
            if (demand.parts.count)
                demand.cause = question_label(question, used, own[i].cause);
            demand_keep(question, plot, &demand);
        }
}
