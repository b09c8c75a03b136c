/* Limits: what may not be passed, and days that are closed. */
#include "compiler/model/read.h"

#include <math.h>

/* Laws of several states take a test of at most three years (checks, soil-test-old). */
enum { NEED_TEST_MONTHS = 36 };

static struct limit *limit_new(struct model *model, const struct clause *clause, struct limit_set *set,
                               enum limit_kind kind)
{
    struct limit *limit = ARENA_NEW(model->arena, struct limit);
    limit->kind = kind;
    limit->set = set;
    limit->place = clause->place;
    limit->above = limit->unless_below = limit->unless_slow = NAN;
    VECTOR_PUSH(model->arena, &model->limits, limit);
    return limit;
}

/* Grass that nobody stated is not known to be of that season: the limit binds it. */
static void set_but(const struct clause *clause, struct limit *limit)
{
    const struct value *but = clause_value(clause, "but");
    if (but)
        limit->but = (enum grass_but)(BUT_WARM + (int)but->number);
}

static void add_nutrients(struct model *model, struct limit *limit, const struct value *nutrients)
{
    for (size_t i = 0; i < nutrients->count; i++)
        VECTOR_PUSH(model->arena, &limit->nutrients, nutrients->items[i].nutrient);
}

static struct limit *most_new(struct model *model, const struct clause *clause, void *subject,
                              enum limit_kind kind)
{
    struct limit *limit = limit_new(model, clause, subject, kind);
    const struct value *rate = clause_value(clause, "rate");
    limit->nutrient = rate->nutrient;
    limit->most = rate->number;
    return limit;
}

static void set_window(struct model *model, const struct clause *clause, struct limit *limit)
{
    limit->closed_first = clause_value(clause, "first")->date;
    limit->closed_last = clause_value(clause, "last")->date;
    if ((limit->closed_first.year == 0) != (limit->closed_last.year == 0))
        report_add(model->reports, &model_rules[RULE_DATE], clause->place,
                   "one end of these days has a year and the other has none")
            ->help = "write both with a year for one time only, or both without for every year";
}

static void add_grasses(struct model *model, struct limit *limit, const struct value *grasses)
{
    for (size_t i = 0; grasses && i < grasses->count; i++) {
        const struct grass *grass =
            (const struct grass *)symbol_find(model, SYMBOL_GRASS, &grasses->items[i]);
        if (grass)
            VECTOR_PUSH(model->arena, &limit->grasses, grass);
        else
            limit->set->symbol.broken = true;
    }
}

void read_limit_per_application(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = most_new(model, clause, subject, LIMIT_PER_APPLICATION);
    limit->in_window = clause_value(clause, "first") != NULL;
    if (limit->in_window)
        set_window(model, clause, limit);
    add_grasses(model, limit, clause_value(clause, "grasses"));
}

static struct limit *application_new(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = most_new(model, clause, subject, LIMIT_PER_APPLICATION);
    const struct value *means = clause_value(clause, "means");
    if (means)
        limit->means = (enum limit_means)(MEANS_SPRAY + (int)means->number);
    set_but(clause, limit);
    return limit;
}

void read_limit_per_hot_application(struct model *model, const struct clause *clause, void *subject)
{
    application_new(model, clause, subject)->above = clause_value(clause, "heat")->number;
}

void read_limit_per_summer_application(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = application_new(model, clause, subject);
    limit->in_window = true;
    set_window(model, clause, limit);
    limit->unless_below = clause_value(clause, "cool")->number;
}

void read_limit_per_soluble_application(struct model *model, const struct clause *clause, void *subject)
{
    application_new(model, clause, subject)->unless_slow = clause_value(clause, "slow")->number;
}

void read_limit_per_means_application(struct model *model, const struct clause *clause, void *subject)
{
    application_new(model, clause, subject);
}

void read_limit_per_kind_application(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *heat = clause_value(clause, "heat");
    struct limit *limit = application_new(model, clause, subject);
    limit->product_kind = clause_value(clause, "kind")->name;
    limit->above = heat ? heat->number : NAN;
}

void read_limit_per_year(struct model *model, const struct clause *clause, void *subject)
{
    add_grasses(model, most_new(model, clause, subject, LIMIT_PER_YEAR), clause_value(clause, "grasses"));
}

void read_limit_per_period(struct model *model, const struct clause *clause, void *subject)
{
    most_new(model, clause, subject, LIMIT_PER_PERIOD)->time =
        duration_of_time(clause_value(clause, "period"), false);
}

void read_limit_per_window(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = most_new(model, clause, subject, LIMIT_PER_WINDOW);
    limit->in_window = true;
    set_window(model, clause, limit);
    add_grasses(model, limit, clause_value(clause, "grasses"));
}

static struct limit *slow_share_new(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_SLOW_SHARE);
    const struct value *above = clause_value(clause, "rate");
    limit->most = clause_value(clause, "share")->number;
    limit->nutrient = nutrient_find(TEXT("N"));
    if (above && above->nutrient->nutrient != NUTRIENT_N)
        report_help(model->reports,
                    report_add(model->reports, &model_rules[RULE_FORM], above->place,
                               "a slow share is of N, and this amount is of %s", above->nutrient->name),
                    "state an amount of N: above 0.7 lb N per 1000 sqft");
    else if (above)
        limit->free_n = above->number;
    return limit;
}

void read_limit_slow_share(struct model *model, const struct clause *clause, void *subject)
{
    slow_share_new(model, clause, subject);
}

void read_limit_slow_share_each(struct model *model, const struct clause *clause, void *subject)
{
    slow_share_new(model, clause, subject)->each = true;
}

void read_limit_wait(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_WAIT);
    limit->nutrient = clause_value(clause, "first")->nutrient;
    limit->time = duration_of_time(clause_value(clause, "wait"), false);
}

struct treatment_class treatment_class_of(const struct value *name)
{
    const struct nutrient_form *nutrient = nutrient_find(name->name->text);
    if (nutrient && nutrient->nutrient == NUTRIENT_LIME)
        nutrient = NULL;
    return (struct treatment_class){nutrient, nutrient ? NULL : name->name};
}

static struct limit *two_classes(struct model *model, const struct clause *clause, void *subject,
                                 enum limit_kind kind)
{
    struct limit *limit = limit_new(model, clause, subject, kind);
    limit->first = treatment_class_of(clause_value(clause, "first"));
    limit->second = treatment_class_of(clause_value(clause, "second"));
    limit->time = duration_of_time(clause_value(clause, "wait"), kind == LIMIT_FOLLOW);
    return limit;
}

void read_limit_wait_between(struct model *model, const struct clause *clause, void *subject)
{
    two_classes(model, clause, subject, LIMIT_WAIT_BETWEEN);
}

void read_limit_wait_from(struct model *model, const struct clause *clause, void *subject)
{
    two_classes(model, clause, subject, LIMIT_WAIT_BETWEEN)->directed = true;
}

void read_limit_follow(struct model *model, const struct clause *clause, void *subject)
{
    two_classes(model, clause, subject, LIMIT_FOLLOW);
}

void read_limit_order(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_ORDER);
    const struct value *classes = clause_value(clause, "classes");
    for (size_t i = 0; i < classes->count; i++)
        VECTOR_PUSH(model->arena, &limit->classes, treatment_class_of(&classes->items[i]));
    if (classes->count == 1)
        report_help(
            model->reports,
            report_add(model->reports, &model_rules[RULE_FORM], clause->place, "one kind alone has no order"),
            "name the kinds as they are to come: order aerate, topdress, seed");
}

static struct limit *closed_new(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_CLOSED);
    set_window(model, clause, limit);
    return limit;
}

void read_limit_closed(struct model *model, const struct clause *clause, void *subject)
{
    add_nutrients(model, closed_new(model, clause, subject), clause_value(clause, "nutrients"));
}

/* What plants live on; lime and what it is made of feeds them only by the way. */
static void add_fertilizer(struct model *model, struct limit *limit)
{
    limit->fertilizer = true;
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_NA; n++)
        if (n != NUTRIENT_CA && n != NUTRIENT_MG)
            VECTOR_PUSH(model->arena, &limit->nutrients, nutrient_trade_form(n));
}

void read_limit_closed_fertilizer(struct model *model, const struct clause *clause, void *subject)
{
    add_fertilizer(model, closed_new(model, clause, subject));
}

void read_limit_closed_all(struct model *model, const struct clause *clause, void *subject)
{
    closed_new(model, clause, subject);
}

void read_limit_closed_days(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_CLOSED_DAYS);
    const struct value *days = clause_value(clause, "days");
    for (size_t i = 0; i < days->count; i++) {
        day_number day;
        if (day_of_value(model, &days->items[i], &day))
            VECTOR_PUSH(model->arena, &limit->closed_days, day);
    }
}

static struct limit *need_new(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_NEED);
    const struct value *age = clause_value(clause, "age");
    limit->time = age ? duration_of_time(age, true) : (struct duration){.months = NEED_TEST_MONTHS};
    return limit;
}

/* No test reports lime itself: such a limit would forbid what the pH calls for. */
void read_limit_need(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *nutrients = clause_value(clause, "nutrients");
    for (size_t i = 0; i < nutrients->count; i++)
        if (nutrient_is_lime(nutrients->items[i].nutrient->nutrient)) {
            report_add(model->reports, &model_rules[RULE_NUTRIENT], clause->place,
                       "no soil test has a result of lime; the pH shows whether it is needed")
                ->help = "cap it instead, for example: at most 50 lb liming-material per 1000 sqft per "
                         "application; more than the pH calls for is reported anyway";
            return;
        }
    add_nutrients(model, need_new(model, clause, subject), clause_value(clause, "nutrients"));
}

/* ---- what a product may hold ---- */

static void set_content(struct model *model, const struct clause *clause, struct limit *limit)
{
    limit->nutrient = clause_value(clause, "nutrient")->nutrient;
    limit->content = clause_value(clause, "share")->number;
    VECTOR_PUSH(model->arena, &limit->nutrients, limit->nutrient);
}

void read_limit_need_content(struct model *model, const struct clause *clause, void *subject)
{
    set_content(model, clause, need_new(model, clause, subject));
}

void read_limit_content(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_CONTENT);
    const struct value *kinds = clause_value(clause, "kinds");
    set_content(model, clause, limit);
    for (size_t i = 0; kinds && i < kinds->count; i++)
        VECTOR_PUSH(model->arena, &limit->excepted, kinds->items[i].name);
}

/* ---- weather ---- */

static struct weather_condition *weather_new(struct model *model, const struct clause *clause,
                                             struct limit *limit, struct weather_condition condition)
{
    const struct value *nutrients = clause_value(clause, "nutrients");
    struct weather_condition *kept = ARENA_NEW(model->arena, struct weather_condition);
    *kept = condition;
    kept->place = clause->place;
    limit->weather = kept;
    if (nutrients)
        add_nutrients(model, limit, nutrients);
    return kept;
}

static struct limit *heat_new(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_HEAT);
    limit->most = clause_value(clause, "limit")->number;
    weather_new(
        model, clause, limit,
        (struct weather_condition){.quantity = WEATHER_HIGH, .side = SIDE_AT_MOST, .limit = limit->most});
    return limit;
}

void read_limit_heat(struct model *model, const struct clause *clause, void *subject)
{
    heat_new(model, clause, subject);
}

void read_limit_heat_all(struct model *model, const struct clause *clause, void *subject)
{
    heat_new(model, clause, subject);
}

void read_limit_heat_kind(struct model *model, const struct clause *clause, void *subject)
{
    heat_new(model, clause, subject)->product_kind = clause_value(clause, "kind")->name;
}

void read_limit_cold(struct model *model, const struct clause *clause, void *subject)
{
    double least = clause_value(clause, "limit")->number;
    weather_new(model, clause, limit_new(model, clause, subject, LIMIT_WEATHER),
                (struct weather_condition){.quantity = WEATHER_LOW, .side = SIDE_AT_LEAST, .limit = least});
}

void read_limit_cold_all(struct model *model, const struct clause *clause, void *subject)
{
    read_limit_cold(model, clause, subject);
}

#define FREEZING_K 273.15

static struct limit *frozen_new(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_WEATHER);
    weather_new(
        model, clause, limit,
        (struct weather_condition){.quantity = WEATHER_SOIL, .side = SIDE_ABOVE, .limit = FREEZING_K});
    return limit;
}

void read_limit_frozen(struct model *model, const struct clause *clause, void *subject)
{
    frozen_new(model, clause, subject);
}

void read_limit_frozen_fertilizer(struct model *model, const struct clause *clause, void *subject)
{
    add_fertilizer(model, frozen_new(model, clause, subject));
}

void read_limit_frozen_all(struct model *model, const struct clause *clause, void *subject)
{
    frozen_new(model, clause, subject);
}

static struct limit *rain_new(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_WEATHER);
    int days = days_of_time(clause_value(clause, "wait"));
    bool after = clause_value(clause, "side")->number > 0;
    weather_new(model, clause, limit,
                (struct weather_condition){.quantity = WEATHER_RAIN,
                                           .side = SIDE_BELOW,
                                           .way = WAY_SUM,
                                           .limit = clause_value(clause, "depth")->number,
                                           .from = after ? -days : 0,
                                           .to = after ? 0 : days});
    if (days > WEATHER_DAYS_LIMIT)
        report_add(model->reports, &model_rules[RULE_VALUE], clause_value(clause, "wait")->place,
                   "no forecast reaches so far");
    return limit;
}

void read_limit_rain(struct model *model, const struct clause *clause, void *subject)
{
    rain_new(model, clause, subject);
}

void read_limit_rain_fertilizer(struct model *model, const struct clause *clause, void *subject)
{
    add_fertilizer(model, rain_new(model, clause, subject));
}

void read_limit_rain_all(struct model *model, const struct clause *clause, void *subject)
{
    rain_new(model, clause, subject);
}

void read_limit_dormant(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_DORMANT);
    const struct value *nutrients = clause_value(clause, "nutrients");
    if (nutrients)
        add_nutrients(model, limit, nutrients);
}

void read_limit_dormant_all(struct model *model, const struct clause *clause, void *subject)
{
    read_limit_dormant(model, clause, subject);
}

static struct limit *water_new(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_WATER);
    limit->most = clause_value(clause, "distance")->number;
    return limit;
}

void read_limit_water(struct model *model, const struct clause *clause, void *subject)
{
    water_new(model, clause, subject);
}

void read_limit_water_nutrients(struct model *model, const struct clause *clause, void *subject)
{
    add_nutrients(model, water_new(model, clause, subject), clause_value(clause, "nutrients"));
}

void read_limit_water_fertilizer(struct model *model, const struct clause *clause, void *subject)
{
    add_fertilizer(model, water_new(model, clause, subject));
}

void read_limit_weekdays(struct model *model, const struct clause *clause, void *subject)
{
    struct limit *limit = limit_new(model, clause, subject, LIMIT_WEEKDAYS);
    const struct value *days = clause_value(clause, "days");
    for (size_t i = 0; i < days->count; i++)
        limit->weekdays |= 1U << (unsigned)days->items[i].number;
}

void read_limit_places(struct model *model, const struct clause *clause, void *subject)
{
    struct limit_set *set = subject;
    struct zone_list zones = {0};
    if (!zones_of(model, clause_value(clause, "places"), &zones))
        set->symbol.broken = true;
    set->places.items = zones.items;
    set->places.count = zones.count;
    set->places.capacity = zones.capacity;
}

void read_limit_basis(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct limit_set *)subject)->basis =
        (enum limit_basis)(BASIS_LAW + (int)clause_value(clause, "basis")->number);
}

void read_limit_source(struct model *model, const struct clause *clause, void *subject)
{
    ((struct limit_set *)subject)->source =
        (const struct source_entry *)symbol_find(model, SYMBOL_SOURCE, clause_value(clause, "source"));
}

void read_limit_incomplete(struct model *model, const struct clause *clause, void *subject)
{
    ((struct limit_set *)subject)->incomplete = string_of(model, clause_value(clause, "what"));
}

void read_limit_always(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    (void)clause;
    ((struct limit_set *)subject)->always = true;
}
