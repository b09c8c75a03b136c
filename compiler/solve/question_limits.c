/* Limits on amounts, needs and water as demands, and what labels allow in a year. What the plan puts down by
 * itself is taken off first; where that alone passes a limit nothing more may come, and the checks report it.
 */
#include "compiler/model/tolerance.h"
#include "compiler/solve/question.h"

struct demand question_demand(enum demand_kind kind, uint32_t cause, double bound)
{
    return (struct demand){.kind = kind, .cause = cause, .bound = bound};
}

void demand_part_add(struct question *question, struct demand *demand, uint32_t choice, double factor)
{
    struct demand_part part = {choice, factor, 0};
    VECTOR_PUSH(question->arena, &demand->parts, part);
}

void demand_keep(struct question *question, struct plot *plot, const struct demand *demand)
{
    bool asks = demand->kind == DEMAND_LEAST && demand->bound > 0;
    if (demand->parts.count || asks)
        VECTOR_PUSH(question->arena, &plot->demands, *demand);
}

/* ---- the most within days ---- */

/* The sum of a nutrient within the days is at most what the limit leaves: beside what comes anyway of
 * products that it counts. */
static void most_within(struct question *question, uint32_t at, const struct limit *limit,
                        struct day_span span)
{
    struct plot *plot = &question->problem->plots.items[at];
    const struct plot_place *place = &question->places.items[at];
    const struct symbol *zone = &place->zone->symbol;
    enum nutrient nutrient = limit->nutrient->nutrient;
    double given = 0, most = limit->most * limit->nutrient->element_per_unit;
    for (size_t i = 0; i < place->facts.count; i++) {
        const struct fact *fact = &place->facts.items[i];
        if (fact->amount && fact->day >= span.first && fact->day <= span.last &&
            limit_counts(limit, fact->amount->product))
            given += fact->amount->supplied[nutrient];
    }
    struct demand demand =
        question_demand(DEMAND_MOST, question_limit(question, limit), fmax(0, most - given));
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        day_number day = choice_day(question, choice);
        double content = choice_product(question, choice)->content[nutrient];
        if (day >= span.first && day <= span.last && content > 0 &&
            limit_counts(limit, choice_product(question, choice)))
            demand_part_add(question, &demand, i, content);
    }

    /* It binds nothing where something of which an `allow` lifts it goes onto the zone within the days; */
    bool lifted = limit_allowance(question->model, limit, (const struct symbol *const[]){zone, NULL});
    for (uint32_t i = 0; limit->set->always && i < plot->choices.count && !lifted; i++) {
        const struct choice *choice = &plot->choices.items[i];
        const struct symbol *const about[] = {zone,
                                              &choice_slot(question, choice)->occurrence->treatment->symbol,
                                              &choice_product(question, choice)->symbol, NULL};
        day_number day = choice_day(question, choice);
        lifted = day >= span.first && day <= span.last && limit_allowance(question->model, limit, about);
    }

    /* nor where everything with N that could come, or comes anyway, is slow enough for it. */
    bool slow = !isnan(limit->unless_slow);
    for (uint32_t i = 0; i < plot->choices.count && slow; i++) {
        const double *content = choice_product(question, &plot->choices.items[i])->content;
        slow = !exceeds(limit->unless_slow * content[NUTRIENT_N], content[NUTRIENT_SLOW_N]);
    }
    slow = slow && !exceeds(limit->unless_slow * facts_sum(place, span.first, span.last, NUTRIENT_N),
                            facts_sum(place, span.first, span.last, NUTRIENT_SLOW_N));
    if (!lifted && !slow)
        demand_keep(question, plot, &demand);
}

/* ---- the slow share ---- */

/* share * N - slow N is at most 0, for all that comes on the day; or, where the limit begins above an amount,
 * N is at most that. Where each product must have the share by itself, another's slow N makes up for nothing,
 * and all N of one that lacks it counts. Where no product has the share, and none lies there already, only
 * the amount is left. */
static void slow_share_on(struct question *question, uint32_t at, const struct limit *limit, day_number day)
{
    struct plot *plot = &question->problem->plots.items[at];
    const struct plot_place *place = &question->places.items[at];
    double slow = facts_sum(place, day, day, NUTRIENT_SLOW_N), n = facts_sum(place, day, day, NUTRIENT_N);
    double slowest = INFINITY; /* the least that a product lacks of the share; below 0 where it has more */
    bool may = exceeds(limit->free_n, n);
    struct demand demand = question_demand(may ? DEMAND_EITHER : DEMAND_MOST, question_limit(question, limit),
                                           limit->each ? 0 : fmax(0, slow - limit->least_share * n));
    demand.other_bound = may ? limit->free_n - n : 0;
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const double *content = choice_product(question, &plot->choices.items[i])->content;
        double lack = limit->least_share * content[NUTRIENT_N] - content[NUTRIENT_SLOW_N]; /* of 1 kg */
        if (limit->each)
            lack = exceeds(lack, 0) ? content[NUTRIENT_N] : 0;
        struct demand_part part = {i, lack, content[NUTRIENT_N]};
        if (choice_day(question, &plot->choices.items[i]) != day || !(part.other > 0))
            continue;
        slowest = fmin(slowest, lack);
        VECTOR_PUSH(question->arena, &demand.parts, part);
    }
    bool only_amount = may && !(demand.bound > 0) && slowest > 0;
    for (size_t i = 0; i < demand.parts.count && only_amount; i++)
        demand.parts.items[i].factor = demand.parts.items[i].other;
    if (only_amount) {
        demand.kind = DEMAND_MOST;
        demand.bound = demand.other_bound;
    }
    demand_keep(question, plot, &demand);
}

/* ---- what must not come at all ---- */

/* While a test is in force no more may come than it shows a need of: what is chosen of the nutrient, less the
 * use by the grass of what is chosen of N. */
static void most_needed(struct question *question, uint32_t at, const struct limit *limit,
                        const struct zone_need *need)
{
    struct plot *plot = &question->problem->plots.items[at];
    double given = facts_sum(&question->places.items[at], need->from, need->counted_until, need->nutrient);
    double use = need->nitrogen_basis == NITROGEN_PLAN ? need->use_share : 0;
    struct demand demand =
        question_demand(DEMAND_MOST, question_limit(question, limit), fmax(0, need->most - given));
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        day_number day = choice_day(question, choice);
        const double *content = choice_product(question, choice)->content;
        double factor = content[need->nutrient] - use * content[NUTRIENT_N];
        if (day >= need->from && day <= need->counted_until && factor != 0)
            demand_part_add(question, &demand, i, factor);
    }
    demand_keep(question, plot, &demand);
}

/* Nothing without a need that a test shows, no older than the limit accepts; and for each test, and each year
 * in which its need comes anew, no more than that need. */
static void by_need(struct question *question, uint32_t at, const struct limit *limit)
{
    const struct season *season = question->season;
    const struct zone *zone = question->places.items[at].zone;
    struct plot *plot = &question->problem->plots.items[at];
    struct demand none = question_demand(DEMAND_NONE, question_limit(question, limit), 0);
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct product *product = choice_product(question, &plot->choices.items[i]);
        day_number day = choice_day(question, &plot->choices.items[i]);
        bool unneeded = false;
        for (size_t j = 0; j < limit->nutrients.count && !unneeded; j++) {
            enum nutrient nutrient = limit->nutrients.items[j]->nutrient;
            struct soil_reading reading;
            bool needed = limit_spares_new(season, limit, zone, day) ||
                          (soil_reading_on(season, zone, nutrient, day, &reading) &&
                           reading.shown == NEED_LOW && day_after(reading.test->day, limit->time) >= day);
            unneeded =
                !needed && product_supplies(product, nutrient) && limit_concerns_content(limit, product);
        }
        if (unneeded)
            demand_part_add(question, &none, i, 1);
    }
    demand_keep(question, plot, &none);
    for (size_t i = 0; i < limit->nutrients.count; i++) {
        enum nutrient nutrient = limit->nutrients.items[i]->nutrient;
        const struct soil_history *history = soil_history_of(season, zone, nutrient);
        for (size_t j = 0; j < history->readings.count; j++) {
            struct zone_need need = {.counted_until = history->readings.items[j]->test->day - 1};
            do {
                bool known = need_on(season, zone, nutrient, need.counted_until + 1, &need);
                if (known && need.read && need.reading.shown == NEED_LOW)
                    most_needed(question, at, limit, &need);
            } while (need.counted_until < need.until);
        }
    }
}

/* Products that the limit speaks of: what they are for may be fixed by its nutrients, or by what they hold.
 */
static void none_of_these(struct question *question, uint32_t at, const struct limit *limit)
{
    struct plot *plot = &question->problem->plots.items[at];
    struct demand demand = question_demand(DEMAND_NONE, question_limit(question, limit), 0);
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct product *product = choice_product(question, &plot->choices.items[i]);
        if (limit_concerns(limit, product->content) && limit_concerns_content(limit, product))
            demand_part_add(question, &demand, i, 1);
    }
    demand_keep(question, plot, &demand);
}

/* ---- by the limit's kind ---- */

/* Which days count together, for a limit on what is put down within them: each day, the calendar year, the
 * limit's own days of the year, or a run of days. A run matters if it begins with something that is put down,
 * by the plan or by what is chosen. */
static void limit_on_slots(struct question *question, uint32_t at, const struct limit *limit)
{
    struct day_span last = {DAY_NONE, DAY_NONE};
    for (size_t i = 0; i < question->slots.count; i++) {
        day_number day = question->slots.items[i].occurrence->day;
        struct day_span span = {day, day};
        if (limit->kind == LIMIT_PER_YEAR) {
            int year = date_of_day(day).year;
            span = (struct day_span){day_of_date((struct civil_date){year, 1, 1}),
                                     day_of_date((struct civil_date){year, 12, 31})};
        } else if (limit->kind == LIMIT_PER_WINDOW) {
            span = limit_window_on(limit, day);
        } else if (limit->kind == LIMIT_PER_PERIOD) {
            span.last = day_after(day, limit->time) - 1;
        }
        bool counts = limit->kind == LIMIT_PER_WINDOW        ? limit_window_holds(limit, day)
                      : limit->kind == LIMIT_PER_APPLICATION ? limit_in_force(question->season, limit, day)
                                                             : true;
        if (!counts || (i > 0 && span.first == last.first))
            continue;
        last = span;
        if (limit->kind == LIMIT_SLOW_SHARE)
            slow_share_on(question, at, limit, day);
        else
            most_within(question, at, limit, span);
    }
}

/* Waits, closed days and an order of kinds are seen to by question_days.c, or by the dates. */
void plot_limits(struct question *question, uint32_t at)
{
    const struct plot_place *place = &question->places.items[at];
    for (size_t i = 0; i < question->model->limits.count; i++) {
        const struct limit *limit = question->model->limits.items[i];
        if (!limit_binds(limit, place->zone) || !limit_dates(question->model, limit))
            continue;
        switch (limit->kind) {
        case LIMIT_PER_PERIOD:
            for (size_t j = 0; j < place->facts.count; j++) {
                day_number day = place->facts.items[j].day;
                if (place->facts.items[j].amount)
                    most_within(question, at, limit, (struct day_span){day, day_after(day, limit->time) - 1});
            }
            limit_on_slots(question, at, limit);
            break;
        case LIMIT_PER_APPLICATION:
        case LIMIT_SLOW_SHARE:
        case LIMIT_PER_YEAR:
        case LIMIT_PER_WINDOW:
            limit_on_slots(question, at, limit);
            break;
        case LIMIT_CONTENT:
            none_of_these(question, at, limit);
            break;
        case LIMIT_NEED:
            by_need(question, at, limit);
            break;
        case LIMIT_WATER:
            if (exceeds(limit->distance_m, place->zone->water_m))
                none_of_these(question, at, limit);
            break;
        case LIMIT_WAIT:
        case LIMIT_WAIT_BETWEEN:
        case LIMIT_FOLLOW:
        case LIMIT_ORDER:
        case LIMIT_CLOSED:
        case LIMIT_CLOSED_DAYS:
        case LIMIT_HEAT:
        case LIMIT_WEATHER:
        case LIMIT_DORMANT:
        case LIMIT_WEEKDAYS:
            break;
        }
    }
}

/* ---- what labels allow in a calendar year: how often, and how much ---- */

static bool fact_of_year(const struct fact *fact, const struct product *product, int year)
{
    return fact->amount && fact->amount->product == product && date_of_day(fact->day).year == year;
}

/* Beside what the plan puts down by itself. A day on which the plan uses the product anyway counts once, and
 * takes no further count. */
static void label_year(struct question *question, uint32_t at, uint32_t product, int year)
{
    struct plot *plot = &question->problem->plots.items[at];
    const struct plot_place *place = &question->places.items[at];
    const struct product *used = question->products[product];
    const struct product_label *label = &used->label;
    struct demand times = question_demand(DEMAND_TIMES, NO_CAUSE, label->times_a_year), mass = times;
    double most = product_mass(used, label->year_most, label->year_volume);
    day_number last = DAY_NEVER;
    for (size_t i = 0; i < place->facts.count; i++) {
        const struct fact *fact = &place->facts.items[i];
        if (!fact_of_year(fact, used, year))
            continue;
        times.bound -= fact->day != last;
        most -= fact->amount->mass_rate;
        last = fact->day;
    }
    times.bound = fmax(0, times.bound);
    mass.kind = DEMAND_MOST;
    mass.bound = fmax(0, most);
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        day_number day = choice_day(question, choice);
        bool anyway = false;
        if (choice->product != product || date_of_day(day).year != year)
            continue;
        for (size_t j = 0; j < place->facts.count && !anyway; j++)
            anyway = place->facts.items[j].day == day && fact_of_year(&place->facts.items[j], used, year);
        if (!anyway)
            demand_part_add(question, &times, i, 1);
        demand_part_add(question, &mass, i, 1);
    }
    if (label->times_a_year > 0)
        times.cause = question_label(question, used, CAUSE_LABEL_TIMES);
    if (label->times_a_year > 0 && (double)times.parts.count > times.bound)
        demand_keep(question, plot, &times);
    if (!isnan(label->year_most)) {
        mass.cause = question_label(question, used, CAUSE_LABEL_YEAR);
        demand_keep(question, plot, &mass);
    }
}

/* Slots come by day, so each calendar year is met once. */
void plot_labels(struct question *question, uint32_t at)
{
    for (uint32_t product = 0; product < question->problem->products.count; product++) {
        const struct product_label *label = &question->products[product]->label;
        bool states = label->times_a_year > 0 || !isnan(label->year_most);
        int last = 0;
        for (size_t i = 0; i < question->slots.count && states; i++) {
            int year = date_of_day(question->slots.items[i].occurrence->day).year;
            if (year != last)
                label_year(question, at, product, year);
            last = year;
        }
    }
}
