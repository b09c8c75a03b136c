/* Limits: what may not be passed, and days that are closed. */
#include "compiler/model/read.h"

#include <math.h>

/* Laws of several states take a test of at most three years (checks, soil-test-old). */
enum { NEED_TEST_MONTHS = 36 };

static struct limit *limit_new(const struct stated *stated, enum limit_kind kind)
{
    struct limit *limit = ARENA_NEW(stated->model->arena, struct limit);
    limit->kind = kind;
    limit->set = stated->subject;
    limit->place = stated->clause->place;
    limit->above = limit->unless_below = limit->unless_slow = NAN;
    VECTOR_PUSH(stated->model->arena, &stated->model->limits, limit);
    return limit;
}

/* The nutrients it speaks of: those in its slot; all that plants live on where it says "fertilizer" (lime and
 * what it is made of feeds them only by the way); where it says "nothing", none: every application. */
static void set_scope(const struct stated *stated, struct limit *limit)
{
    struct arena *arena = stated->model->arena;
    const struct value *nutrients = slot_value(stated, "nutrients");
    for (size_t i = 0; nutrients && i < nutrients->count; i++)
        VECTOR_PUSH(arena, &limit->nutrients, nutrients->items[i].nutrient);
    limit->fertilizer = form_says(stated->clause->form, "no fertilizer");
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_NA && limit->fertilizer; n++)
        if (n != NUTRIENT_CA && n != NUTRIENT_MG)
            VECTOR_PUSH(arena, &limit->nutrients, nutrient_trade_form(n));
}

/* With years its end cannot come first: it would close nothing. */
static void set_window(const struct stated *stated, struct limit *limit)
{
    struct civil_date first = slot_value(stated, "first")->date, last = slot_value(stated, "last")->date;
    limit->closed_first = first;
    limit->closed_last = last;
    if ((first.year == 0) != (last.year == 0))
        report_add(stated->model->reports, &model_rules[RULE_DATE], stated->clause->place,
                   "one of these dates has a year, the other has none")
            ->help = "write both with a year for that time only, or both without a year for every year";
    else if (first.year && day_of_date(last) < day_of_date(first))
        report_add(stated->model->reports, &model_rules[RULE_VALUE], stated->clause->place,
                   "this window ends before it begins");
}

/* ---- the most ---- */

/* The most per application, year, period or window, with whatever narrows it. Grass that nobody stated is not
 * known to be of the season that is excepted: the limit binds it. */
void read_limit_most(const struct stated *stated)
{
    struct limit *limit = limit_new(stated, (enum limit_kind)stated->clause->form->which);
    const struct value *rate = slot_value(stated, "rate"), *grasses = slot_value(stated, "grasses");
    const struct value *means = slot_value(stated, "means"), *but = slot_value(stated, "but");
    const struct value *heat = slot_value(stated, "heat"), *cool = slot_value(stated, "cool");
    const struct value *slow = slot_value(stated, "slow"), *kind = slot_value(stated, "kind");
    const struct value *period = slot_value(stated, "period");
    limit->nutrient = rate->nutrient;
    limit->most = rate->number;
    limit->in_window = slot_value(stated, "first") != NULL;
    if (limit->in_window)
        set_window(stated, limit);
    if (grasses && !grasses_of(stated->model, grasses, &limit->grasses))
        limit->set->symbol.broken = true;
    if (means)
        limit->means = (enum limit_means)(MEANS_SPRAY + (int)means->number);
    if (but)
        limit->but = (enum grass_but)(BUT_WARM + (int)but->number);
    if (heat)
        limit->above = heat->number;
    if (cool)
        limit->unless_below = cool->number;
    if (slow)
        limit->unless_slow = slow->number;
    if (kind)
        limit->product_kind = kind->name;
    if (period)
        limit->time = duration_of_time(period, false);
}

/* The least share of slow N, in the application or in each product. */
void read_limit_slow_share(const struct stated *stated)
{
    struct reports *reports = stated->model->reports;
    struct limit *limit = limit_new(stated, LIMIT_SLOW_SHARE);
    const struct value *above = slot_value(stated, "rate");
    limit->least_share = slot_value(stated, "share")->number;
    limit->nutrient = nutrient_trade_form(NUTRIENT_N);
    limit->each = form_says(stated->clause->form, "in each product");
    if (above && above->nutrient->nutrient != NUTRIENT_N)
        report_help(reports,
                    report_add(reports, &model_rules[RULE_FORM], above->place,
                               "a slow share is a share of N; this amount is of %s", above->nutrient->name),
                    "state an amount of N: above 0.7 lb N per 1000 sqft");
    else if (above)
        limit->free_n = above->number;
}

/* ---- waits and orders ---- */

/* At least so long between two applications of a nutrient, or of two classes in either order or in one; or at
 * most so long after the first. */
void read_limit_between(const struct stated *stated)
{
    enum limit_kind kind = (enum limit_kind)stated->clause->form->which;
    struct limit *limit = limit_new(stated, kind);
    const struct value *first = slot_value(stated, "first");
    limit->time = duration_of_time(slot_value(stated, "wait"), kind == LIMIT_FOLLOW);
    if (kind == LIMIT_WAIT) {
        limit->nutrient = first->nutrient;
        return;
    }
    limit->first = treatment_class_of(first);
    limit->second = treatment_class_of(slot_value(stated, "second"));
    limit->directed = kind == LIMIT_WAIT_BETWEEN && form_says(stated->clause->form, " from ");
}

void read_limit_order(const struct stated *stated)
{
    struct reports *reports = stated->model->reports;
    struct limit *limit = limit_new(stated, LIMIT_ORDER);
    const struct value *classes = slot_value(stated, "classes");
    for (size_t i = 0; i < classes->count; i++)
        VECTOR_PUSH(stated->model->arena, &limit->classes, treatment_class_of(&classes->items[i]));
    if (classes->count == 1)
        report_add(reports, &model_rules[RULE_FORM], stated->clause->place,
                   "an order needs at least two kinds")
            ->help = "list the kinds in the order they must come: order aerate, topdress, seed";
}

/* ---- days, places and needs ---- */

/* Days of every year, the months without growth, or a strip along water, closed to what it speaks of. */
void read_limit_closed(const struct stated *stated)
{
    struct limit *limit = limit_new(stated, (enum limit_kind)stated->clause->form->which);
    const struct value *distance = slot_value(stated, "distance");
    if (limit->kind == LIMIT_CLOSED)
        set_window(stated, limit);
    if (distance)
        limit->distance_m = distance->number;
    set_scope(stated, limit);
}

/* Single days, or all days but some of the week. */
void read_limit_days(const struct stated *stated)
{
    struct limit *limit = limit_new(stated, (enum limit_kind)stated->clause->form->which);
    const struct value *days = slot_value(stated, "days");
    for (size_t i = 0; i < days->count; i++) {
        day_number day;
        if (limit->kind == LIMIT_WEEKDAYS)
            limit->weekdays |= 1U << (unsigned)days->items[i].number;
        if (limit->kind == LIMIT_WEEKDAYS || !day_of_value(stated->model, &days->items[i], &day))
            continue;
        VECTOR_PUSH(stated->model->arena, &limit->closed_days, day);
        /* Without a year the day comes every year, as windows do. */
        struct civil_date date = days->items[i].date;
        int last_year = date.year ? 0 : date_of_day(stated->model->season_last).year;
        for (date.year = date_of_day(stated->model->season_first).year; date.year <= last_year; date.year++)
            if (date_valid(date) && day_of_date(date) != day)
                VECTOR_PUSH(stated->model->arena, &limit->closed_days, day_of_date(date));
    }
}

/* What may go on only where a test finds a need, or products that hold more of a nutrient than a share; of
 * such products a need may be asked too. No test reports lime itself: such a limit would forbid what the pH
 * calls for. */
void read_limit_need(const struct stated *stated)
{
    struct arena *arena = stated->model->arena;
    const struct value *nutrients = slot_value(stated, "nutrients"), *age = slot_value(stated, "age");
    const struct value *kinds = slot_value(stated, "kinds"), *time_new = slot_value(stated, "new");
    const struct value *classes = slot_value(stated, "classes");
    for (size_t i = 0; nutrients && i < nutrients->count; i++)
        if (nutrient_is_lime(nutrients->items[i].nutrient->nutrient)) {
            report_add(stated->model->reports, &model_rules[RULE_NUTRIENT], stated->clause->place,
                       "a soil test has no result for lime; the pH shows whether lime is needed")
                ->help = "cap it instead, for example: at most 50 lb liming-material per 1000 sqft per "
                         "application; more than the pH calls for is reported anyway";
            return;
        }
    struct limit *limit = limit_new(stated, (enum limit_kind)stated->clause->form->which);
    if (limit->kind == LIMIT_NEED)
        limit->time = age ? duration_of_time(age, true) : (struct duration){.months = NEED_TEST_MONTHS};
    if (nutrients) {
        set_scope(stated, limit);
    } else {
        limit->nutrient = slot_value(stated, "nutrient")->nutrient;
        limit->content = slot_value(stated, "share")->number;
        VECTOR_PUSH(arena, &limit->nutrients, limit->nutrient);
    }
    for (size_t i = 0; kinds && i < kinds->count; i++)
        VECTOR_PUSH(arena, &limit->excepted, kinds->items[i].name);
    if (time_new)
        limit->new_for = duration_of_time(time_new, true);
    for (size_t i = 0; classes && i < classes->count; i++)
        VECTOR_PUSH(arena, &limit->classes, treatment_class_of(&classes->items[i]));
}

/* ---- weather ---- */

/* Heat, cold, frozen ground or rain: `which` is what is measured, and the condition what an application must
 * have. Of rain that is less than so much in the days before, or in those that are forecast. */
void read_limit_weather(const struct stated *stated)
{
    static const enum weather_side sides[] = {[WEATHER_HIGH] = SIDE_AT_MOST,
                                              [WEATHER_LOW] = SIDE_AT_LEAST,
                                              [WEATHER_SOIL] = SIDE_ABOVE,
                                              [WEATHER_RAIN] = SIDE_BELOW};
    enum weather_quantity quantity = (enum weather_quantity)stated->clause->form->which;
    struct limit *limit = limit_new(stated, quantity == WEATHER_HIGH ? LIMIT_HEAT : LIMIT_WEATHER);
    struct weather_condition *keeps = ARENA_NEW(stated->model->arena, struct weather_condition);
    const struct value *bound = slot_value(stated, "limit"), *kind = slot_value(stated, "kind");
    keeps->quantity = quantity;
    keeps->side = sides[quantity];
    keeps->limit = bound ? bound->number : FREEZING_K;
    keeps->place = stated->clause->place;
    if (quantity == WEATHER_RAIN) {
        const struct value *wait = slot_value(stated, "wait");
        int days = days_of_time(wait);
        bool after = slot_value(stated, "side")->number > 0;
        keeps->way = WAY_SUM;
        keeps->limit = slot_value(stated, "depth")->number;
        keeps->from = after ? -days : 0;
        keeps->to = after ? 0 : days;
        if (days > WEATHER_DAYS_LIMIT)
            report_add(stated->model->reports, &model_rules[RULE_VALUE], wait->place,
                       "no forecast looks that far ahead");
    }
    limit->weather = keeps;
    if (limit->kind == LIMIT_HEAT)
        limit->hottest_k = keeps->limit;
    limit->product_kind = kind ? kind->name : NULL;
    set_scope(stated, limit);
}
