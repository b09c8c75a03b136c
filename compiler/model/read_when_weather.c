/* `when` by the weather: the air, the soil, degree days, rain. */
#include "compiler/model/read.h"

static bool complain(struct model *model, struct place place, const char *sentence)
{
    report_add(model->reports, &model_rules[RULE_VALUE], place, "%s", sentence);
    return false;
}

/* The days of slot `held` up to the day, or from it on. */
static bool read_held(struct model *model, const struct clause *clause, struct weather_condition *condition,
                      bool ahead)
{
    const struct value *held = clause_value(clause, "held");
    int days = held ? days_of_time(held) : 1;
    if (days > WEATHER_DAYS_LIMIT)
        return complain(model, held->place, "a condition on the weather reaches over a year at most");
    if (ahead)
        condition->to = days - 1;
    else
        condition->from = 1 - days;
    return true;
}

static bool read_years(struct model *model, const struct clause *clause, struct weather_condition *condition)
{
    const struct value *years = clause_value(clause, "years"), *of = clause_value(clause, "of");
    if (!years)
        return true;
    if (years->number > of->number)
        return complain(model, years->place, "that is more years than there are");
    condition->years = (int)years->number;
    condition->of = (int)of->number;
    return true;
}

static void add_when(struct model *model, const struct clause *clause, struct treatment *treatment,
                     const struct weather_condition *condition, bool sound)
{
    struct weather_condition *kept = ARENA_NEW(model->arena, struct weather_condition);
    *kept = *condition;
    kept->place = clause->place;
    struct when when = {.kind = WHEN_WEATHER, .place = clause->place, .weather = kept};
    if (sound)
        VECTOR_PUSH(model->arena, &treatment->whens, when);
    else
        treatment->symbol.broken = true;
}

/* "<quantity> below|above <limit>", held or as a mean. */
static void read_side(struct model *model, const struct clause *clause, void *subject,
                      enum weather_quantity quantity, enum weather_way way)
{
    struct weather_condition condition = {.quantity = quantity,
                                          .side = clause_value(clause, "side")->number > 0 ? SIDE_ABOVE
                                                                                           : SIDE_BELOW,
                                          .way = way,
                                          .limit = clause_value(clause, "limit")->number};
    bool held = read_held(model, clause, &condition, false), years = read_years(model, clause, &condition);
    add_when(model, clause, subject, &condition, held && years);
}

void read_when_air(struct model *model, const struct clause *clause, void *subject)
{
    bool above = clause_value(clause, "side")->number > 0;
    read_side(model, clause, subject, above ? WEATHER_LOW : WEATHER_HIGH, WAY_EACH);
}

void read_when_mean(struct model *model, const struct clause *clause, void *subject)
{
    read_side(model, clause, subject, WEATHER_MEAN, WAY_MEAN);
}

void read_when_soil(struct model *model, const struct clause *clause, void *subject)
{
    read_side(model, clause, subject, WEATHER_SOIL, WAY_EACH);
}

void read_when_soil_mean(struct model *model, const struct clause *clause, void *subject)
{
    read_side(model, clause, subject, WEATHER_SOIL, WAY_MEAN);
}

/* A dry day has less than 1 mm of rain: the Expert Team on Climate Change Detection and Indices counts a day
 * with 1 mm or more as wet (its index CDD, maximum length of dry spell: RR < 1 mm). */
#define WET_DAY_M 0.001

void read_when_dry(struct model *model, const struct clause *clause, void *subject)
{
    struct weather_condition condition = {.quantity = WEATHER_RAIN, .side = SIDE_BELOW, .limit = WET_DAY_M};
    bool held = read_held(model, clause, &condition, true), years = read_years(model, clause, &condition);
    add_when(model, clause, subject, &condition, held && years);
}

/* Water freezes at 32 F. With no years stated it is the usual frost that is meant, that of half the years, as
 * tables of frost dates have it (the normals of the National Centers for Environmental Information name the
 * day with 50% beside those with 10% and 90%: ANN-TMIN-PRBLST-T32FP50). */
#define FREEZING_K 273.15

static void read_frost(struct model *model, const struct clause *clause, void *subject,
                       enum weather_frost frost)
{
    const struct value *limit = clause_value(clause, "limit");
    struct weather_condition condition = {.quantity = WEATHER_LOW,
                                          .side = SIDE_ABOVE,
                                          .way = WAY_EACH,
                                          .limit = limit ? limit->number : FREEZING_K,
                                          .frost = frost,
                                          .years = 5,
                                          .of = 10};
    bool years = read_years(model, clause, &condition);
    add_when(model, clause, subject, &condition, years);
}

void read_when_last_frost(struct model *model, const struct clause *clause, void *subject)
{
    read_frost(model, clause, subject, FROST_LAST);
}

void read_when_first_frost(struct model *model, const struct clause *clause, void *subject)
{
    read_frost(model, clause, subject, FROST_FIRST);
}

/* Where no start is said: Jan 1 of the season, or of the year it begins in. */
static bool read_start(struct model *model, const struct clause *clause, struct weather_condition *condition)
{
    const struct value *stated = clause_value(clause, "start");
    struct value new_year = {.place = clause->place, .date = {0, 1, 1}};
    return day_of_value(model, stated ? stated : &new_year, &condition->start);
}

static bool read_base(struct model *model, const struct clause *clause, struct weather_condition *condition)
{
    const struct value *base = clause_value(clause, "base"), *cap = clause_value(clause, "cap");
    const struct value *sum = clause_value(clause, "sum"), *method = clause_value(clause, "method");
    condition->base = base->number;
    condition->cap = cap ? cap->number : INFINITY;
    condition->limit = unit_difference_to_si(base->unit, sum->number);
    condition->clipped = method && method->number == 0;
    if (cap && cap->number <= base->number)
        return complain(model, cap->place, "the cap is not above the base");
    if (sum->number <= 0)
        return complain(model, sum->place, "no degree days are reached before the first day");
    return true;
}

void read_when_degree_days(struct model *model, const struct clause *clause, void *subject)
{
    struct weather_condition condition = {
        .quantity = WEATHER_DEGREE_DAYS, .side = SIDE_AT_LEAST, .way = WAY_SUM};
    bool base = read_base(model, clause, &condition), years = read_years(model, clause, &condition);
    add_when(model, clause, subject, &condition, base && years && read_start(model, clause, &condition));
}
