/* `when` by the weather: the air, the soil, degree days, rain. */
#include "compiler/model/read.h"

#include <math.h>

static bool complain(struct model *model, struct place place, const char *sentence)
{
    report_add(model->reports, &model_rules[RULE_VALUE], place, "%s", sentence);
    return false;
}

/* The days of slot `held` up to the day, or from it on. */
static bool read_held(const struct stated *stated, struct weather_condition *condition, bool ahead)
{
    const struct value *held = slot_value(stated, "held");
    int days = held ? days_of_time(held) : 1;
    if (days > WEATHER_DAYS_LIMIT)
        return complain(stated->model, held->place, "a weather condition can cover at most one year");
    if (ahead)
        condition->to = days - 1;
    else
        condition->from = 1 - days;
    return true;
}

/* `9 years in 10`, which every condition may end with. */
static bool read_years(const struct stated *stated, struct weather_condition *condition)
{
    const struct value *years = slot_value(stated, "years"), *of = slot_value(stated, "of");
    if (!years)
        return true;
    if (years->number > of->number)
        return complain(stated->model, years->place, "the first number of years cannot be above the second");
    condition->years = (int)years->number;
    condition->of = (int)of->number;
    return true;
}

static void add_when(const struct stated *stated, const struct weather_condition *condition, bool sound)
{
    struct treatment *treatment = stated->subject;
    struct weather_condition *kept = ARENA_NEW(stated->model->arena, struct weather_condition);
    *kept = *condition;
    kept->place = stated->clause->place;
    struct when when = {.kind = WHEN_WEATHER, .place = stated->clause->place, .weather = kept};
    if (sound)
        VECTOR_PUSH(stated->model->arena, &treatment->whens, when);
    else
        treatment->symbol.broken = true;
}

/* "<quantity> below|above <limit>", held on each day or as a mean over them. Of the air by itself the day's
 * high must stay below, or its low above. */
void read_when_side(const struct stated *stated)
{
    const struct form *form = stated->clause->form;
    bool above = slot_value(stated, "side")->number > 0, mean = form_says(form, " over ");
    struct weather_condition condition = {.quantity = (enum weather_quantity)form->which,
                                          .side = above ? SIDE_ABOVE : SIDE_BELOW,
                                          .way = mean ? WAY_MEAN : WAY_EACH,
                                          .limit = slot_value(stated, "limit")->number};
    if (condition.quantity == WEATHER_MEAN && !mean)
        condition.quantity = above ? WEATHER_LOW : WEATHER_HIGH;
    bool held = read_held(stated, &condition, false), years = read_years(stated, &condition);
    add_when(stated, &condition, held && years);
}

/* A dry day has less than 1 mm of rain: the Expert Team on Climate Change Detection and Indices counts a day
 * with 1 mm or more as wet (its index CDD, maximum length of dry spell: RR < 1 mm). */
#define WET_DAY_M 0.001

void read_when_dry(const struct stated *stated)
{
    struct weather_condition condition = {.quantity = WEATHER_RAIN, .side = SIDE_BELOW, .limit = WET_DAY_M};
    bool held = read_held(stated, &condition, true), years = read_years(stated, &condition);
    add_when(stated, &condition, held && years);
}

/* With no years stated it is the usual frost that is meant, that of half the years, as tables of frost dates
 * have it (the normals of the National Centers for Environmental Information name the day with 50% beside
 * those with 10% and 90%: ANN-TMIN-PRBLST-T32FP50). */
void read_when_frost(const struct stated *stated)
{
    const struct value *limit = slot_value(stated, "limit");
    struct weather_condition condition = {.quantity = WEATHER_LOW,
                                          .side = SIDE_ABOVE,
                                          .way = WAY_EACH,
                                          .limit = limit ? limit->number : FREEZING_K,
                                          .frost = (enum weather_frost)stated->clause->form->which,
                                          .years = 5,
                                          .of = 10};
    bool years = read_years(stated, &condition);
    add_when(stated, &condition, years);
}

/* Where no start is said: Jan 1 of the season, or of the year it begins in. */
void read_when_degree_days(const struct stated *stated)
{
    const struct value *start = slot_value(stated, "start");
    const struct value new_year = {.place = stated->clause->place, .date = {0, 1, 1}};
    struct weather_condition condition = {
        .quantity = WEATHER_DEGREE_DAYS, .side = SIDE_AT_LEAST, .way = WAY_SUM};
    const struct value *base = slot_value(stated, "base"), *cap = slot_value(stated, "cap");
    const struct value *sum = slot_value(stated, "sum"), *method = slot_value(stated, "method");
    bool sound = true;
    condition.base = base->number;
    condition.cap = cap ? cap->number : INFINITY;
    condition.limit = unit_difference_to_si(base->unit, sum->number);
    condition.clipped = method && method->number == 0;
    if (cap && cap->number <= base->number)
        sound = complain(stated->model, cap->place, "the cap must be above the base");
    else if (sum->number <= 0)
        sound = complain(stated->model, sum->place, "the degree days to reach must be above zero");
    bool years = read_years(stated, &condition);
    add_when(stated, &condition,
             sound && years && day_of_value(stated->model, start ? start : &new_year, &condition.start));
}
