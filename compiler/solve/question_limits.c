/* Limits on amounts, needs and water as demands. What the plan puts down by itself is taken off first; where
 * that alone passes a limit nothing more may come, and the checks report it. */
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

/* Something of which an `allow` lifts the limit goes onto the zone within the days. */
static bool span_lifted(const struct question *question, uint32_t at, const struct limit *limit,
                        struct day_span span)
{
    const struct plot *plot = &question->problem->plots.items[at];
    const struct symbol *zone = &question->places.items[at].zone->symbol;
    bool lifted = limit_lifted(question->model, limit, (const struct symbol *const[]){zone, NULL});
    for (uint32_t i = 0; limit->set->always && i < plot->choices.count && !lifted; i++) {
        const struct choice *choice = &plot->choices.items[i];
        const struct symbol *const about[] = {zone,
                                              &choice_slot(question, choice)->occurrence->treatment->symbol,
                                              &choice_product(question, choice)->symbol, NULL};
        day_number day = choice_day(question, choice);
        lifted = day >= span.first && day <= span.last && limit_lifted(question->model, limit, about);
    }
    return lifted;
}

/* Everything with N that could come, or comes anyway, on the day is slow enough for the limit to leave it. */
static bool all_slow(const struct question *question, uint32_t at, const struct limit *limit,
                     struct day_span span)
{
    const struct plot *plot = &question->problem->plots.items[at];
    const struct plot_place *place = &question->places.items[at];
    bool slow = !isnan(limit->unless_slow);
    for (uint32_t i = 0; i < plot->choices.count && slow; i++) {
        const double *content = choice_product(question, &plot->choices.items[i])->content;
        slow = !exceeds(limit->unless_slow * content[NUTRIENT_N], content[NUTRIENT_SLOW_N]);
    }
    return slow && !exceeds(limit->unless_slow * facts_sum(place, span.first, span.last, NUTRIENT_N),
                            facts_sum(place, span.first, span.last, NUTRIENT_SLOW_N));
}

/* The sum of a nutrient within the days is at most what the limit leaves. */
static void most_within(struct question *question, uint32_t at, const struct limit *limit,
                        struct day_span span)
{
    struct plot *plot = &question->problem->plots.items[at];
    enum nutrient nutrient = limit->nutrient->nutrient;
    double given = facts_dose(&question->places.items[at], span.first, span.last, limit);
    double most = limit->most * limit->nutrient->element_per_unit;
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
    if (!span_lifted(question, at, limit, span) && !all_slow(question, at, limit, span))
        demand_keep(question, plot, &demand);
}

/* ---- the slow share ---- */

/* By how much 1 kg of the product falls short of the share, counted in N; a product's own share is not made
 * up for by another's where each is asked. */
static double slow_lack(const struct limit *limit, const struct product *product)
{
    double lack = limit->most * product->content[NUTRIENT_N] - product->content[NUTRIENT_SLOW_N];
    return !limit->each ? lack : exceeds(lack, 0) ? product->content[NUTRIENT_N] : 0;
}

/* share * N - slow N is at most 0, for all that comes on the day; or, where the limit begins above an amount,
 * N is at most that. */
static void slow_share_on(struct question *question, uint32_t at, const struct limit *limit, day_number day)
{
    struct plot *plot = &question->problem->plots.items[at];
    const struct plot_place *place = &question->places.items[at];
    double slow = facts_sum(place, day, day, NUTRIENT_SLOW_N), n = facts_sum(place, day, day, NUTRIENT_N);
    bool may = exceeds(limit->free_n, n);
    struct demand demand = question_demand(may ? DEMAND_EITHER : DEMAND_MOST, question_limit(question, limit),
                                           limit->each ? 0 : fmax(0, slow - limit->most * n));
    demand.other_bound = may ? limit->free_n - n : 0;
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        const struct product *product = choice_product(question, choice);
        struct demand_part part = {i, slow_lack(limit, product), product->content[NUTRIENT_N]};
        if (choice_day(question, choice) == day && part.other > 0)
            VECTOR_PUSH(question->arena, &demand.parts, part);
    }
    demand_keep(question, plot, &demand);
}

/* ---- what must not come at all ---- */

/* By a test no older than the limit accepts. */
static bool need_found(const struct question *question, const struct limit *limit, const struct zone *zone,
                       enum nutrient nutrient, day_number day)
{
    struct soil_reading reading;
    return soil_reading_on(question->season, zone, nutrient, day, &reading) && reading.shown == NEED_LOW &&
           day_after(reading.test->day, limit->time) >= day;
}

static bool choice_unneeded(const struct question *question, const struct limit *limit,
                            const struct zone *zone, const struct choice *choice)
{
    for (size_t i = 0; i < limit->nutrients.count; i++) {
        enum nutrient nutrient = limit->nutrients.items[i]->nutrient;
        const struct product *product = choice_product(question, choice);
        if (product_supplies(product, nutrient) && limit_concerns_content(limit, product) &&
            !need_found(question, limit, zone, nutrient, choice_day(question, choice)))
            return true;
    }
    return false;
}

static void none_unneeded(struct question *question, uint32_t at, const struct limit *limit)
{
    struct plot *plot = &question->problem->plots.items[at];
    struct demand demand = question_demand(DEMAND_NONE, question_limit(question, limit), 0);
    for (uint32_t i = 0; i < plot->choices.count; i++)
        if (choice_unneeded(question, limit, question->places.items[at].zone, &plot->choices.items[i]))
            demand_part_add(question, &demand, i, 1);
    demand_keep(question, plot, &demand);
}

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

/* For each test, and for each year in which its need comes anew. */
static void by_need(struct question *question, uint32_t at, const struct limit *limit)
{
    const struct zone *zone = question->places.items[at].zone;
    none_unneeded(question, at, limit);
    for (size_t i = 0; i < limit->nutrients.count; i++) {
        enum nutrient nutrient = limit->nutrients.items[i]->nutrient;
        const struct soil_history *history = soil_history_of(question->season, zone, nutrient);
        for (size_t j = 0; j < history->readings.count; j++) {
            struct zone_need need = {.counted_until = history->readings.items[j]->test->day - 1};
            do {
                bool known = need_on(question->season, zone, nutrient, need.counted_until + 1, &need);
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

static void on_each_day(struct question *question, uint32_t at, const struct limit *limit)
{
    for (size_t i = 0; i < question->slots.count; i++) {
        day_number day = question->slots.items[i].occurrence->day;
        if (i > 0 && question->slots.items[i - 1].day == question->slots.items[i].day)
            continue;
        if (limit->kind == LIMIT_SLOW_SHARE)
            slow_share_on(question, at, limit, day);
        else if (limit_in_force(question->season, limit, day))
            most_within(question, at, limit, (struct day_span){day, day});
    }
}

static void in_each_year(struct question *question, uint32_t at, const struct limit *limit)
{
    int last = 0;
    for (size_t i = 0; i < question->slots.count; i++) {
        int year = date_of_day(question->slots.items[i].occurrence->day).year;
        struct day_span span = {day_of_date((struct civil_date){year, 1, 1}),
                                day_of_date((struct civil_date){year, 12, 31})};
        if (year != last)
            most_within(question, at, limit, span);
        last = year;
    }
}

static void in_each_window(struct question *question, uint32_t at, const struct limit *limit)
{
    struct day_span last = {DAY_NONE, DAY_NONE};
    for (size_t i = 0; i < question->slots.count; i++) {
        day_number day = question->slots.items[i].occurrence->day;
        struct day_span window = limit_window_on(limit, day);
        if (limit_window_holds(limit, day) && window.first != last.first)
            most_within(question, at, limit, last = window);
    }
}

/* A run of days matters if it begins with something that is put down. */
static void in_each_period(struct question *question, uint32_t at, const struct limit *limit)
{
    const struct plot_place *place = &question->places.items[at];
    for (size_t i = 0; i < place->facts.count; i++) {
        day_number day = place->facts.items[i].day;
        if (place->facts.items[i].amount)
            most_within(question, at, limit, (struct day_span){day, day_after(day, limit->time) - 1});
    }
    for (size_t i = 0; i < question->slots.count; i++) {
        day_number day = question->slots.items[i].occurrence->day;
        if (i == 0 || question->slots.items[i - 1].day != question->slots.items[i].day)
            most_within(question, at, limit, (struct day_span){day, day_after(day, limit->time) - 1});
    }
}

static void plot_limit(struct question *question, uint32_t at, const struct limit *limit)
{
    switch (limit->kind) {
    case LIMIT_PER_APPLICATION:
    case LIMIT_SLOW_SHARE:
        on_each_day(question, at, limit);
        break;
    case LIMIT_PER_YEAR:
        in_each_year(question, at, limit);
        break;
    case LIMIT_PER_PERIOD:
        in_each_period(question, at, limit);
        break;
    case LIMIT_PER_WINDOW:
        in_each_window(question, at, limit);
        break;
    case LIMIT_CONTENT:
        none_of_these(question, at, limit);
        break;
    case LIMIT_NEED:
        by_need(question, at, limit);
        break;
    case LIMIT_WATER:
        if (exceeds(limit->most, question->places.items[at].zone->water_m))
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
        break; /* question_days.c, or the dates see to them */
    }
}

void plot_limits(struct question *question, uint32_t at)
{
    for (size_t i = 0; i < question->model->limits.count; i++) {
        const struct limit *limit = question->model->limits.items[i];
        if (limit_binds(limit, question->places.items[at].zone) && limit_dates(question->model, limit))
            plot_limit(question, at, limit);
    }
}
