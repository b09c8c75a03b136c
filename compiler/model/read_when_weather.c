/* `when` by the weather: the air, the soil, degree days, rain. */
#include "compiler/model/read.h"

#include <math.h>

/* Every condition may end with `9 years in 10`; `fault` is what is wrong with it already, NULL mostly. */
static void add_weather(const struct stated *stated, struct weather_condition condition, struct place place,
                        const char *fault)
{
    struct model *model = stated->model;
    struct treatment *treatment = stated->subject;
    const struct value *years = slot_value(stated, "years"), *of = slot_value(stated, "of");
    bool sound = !fault && (!years || years->number <= of->number);
    if (fault)
        report_add(model->reports, &model_rules[RULE_VALUE], place, "%s", fault);
    if (years && years->number > of->number)
        report_add(model->reports, &model_rules[RULE_VALUE], years->place,
                   "the first number of years cannot be above the second");
    condition.years = years ? (int)years->number : condition.years;
    condition.of = years ? (int)of->number : condition.of;
    condition.place = stated->clause->place;
    /* Where no start of degree days is said: Jan 1 of the season, or of the year it begins in. */
    const struct value new_year = {.place = condition.place, .date = {0, 1, 1}},
                       *start = slot_value(stated, "start");
    if (sound && condition.quantity == WEATHER_DEGREE_DAYS)
        sound = day_of_value(model, start ? start : &new_year, &condition.start);
    struct weather_condition *kept = ARENA_NEW(model->arena, struct weather_condition);
    *kept = condition;
    struct when when = {.kind = WHEN_WEATHER, .place = condition.place, .weather = kept};
    if (sound)
        VECTOR_PUSH(model->arena, &treatment->whens, when);
    else
        treatment->symbol.broken = true;
}

/* A dry day has less than 1 mm of rain: the Expert Team on Climate Change Detection and Indices counts a day
 * with 1 mm or more as wet (its index CDD, maximum length of dry spell: RR < 1 mm). */
#define WET_DAY_M 0.001

/* "<quantity> below|above <limit>", held on each day or as a mean over them. Of the air by itself the day's
 * high must stay below, or its low above. What stays dry does so from the day on, all else up to it. */
void read_when_side(const struct stated *stated)
{
    const struct form *form = stated->clause->form;
    const struct value *side = slot_value(stated, "side"), *held = slot_value(stated, "held");
    bool above = side && side->number > 0, mean = form_says(form, " over ");
    int days = held ? days_of_time(held) : 1;
    struct weather_condition condition = {.quantity = (enum weather_quantity)form->which,
                                          .side = above ? SIDE_ABOVE : SIDE_BELOW,
                                          .way = mean ? WAY_MEAN : WAY_EACH,
                                          .limit = side ? slot_value(stated, "limit")->number : WET_DAY_M};
    if (condition.quantity == WEATHER_MEAN && !mean)
        condition.quantity = above ? WEATHER_LOW : WEATHER_HIGH;
    *(side ? &condition.from : &condition.to) = side ? 1 - days : days - 1;
    add_weather(stated, condition, held ? held->place : stated->clause->place,
                days > WEATHER_DAYS_LIMIT ? "a weather condition can cover at most one year" : NULL);
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
    add_weather(stated, condition, stated->clause->place, NULL);
}

/* Degree days add up from a base; with no cap there is no heat that stops counting. */
void read_when_degree_days(const struct stated *stated)
{
    const struct value *base = slot_value(stated, "base"), *cap = slot_value(stated, "cap");
    const struct value *sum = slot_value(stated, "sum"), *method = slot_value(stated, "method");
    bool capped = cap && cap->number <= base->number;
    struct weather_condition condition = {.quantity = WEATHER_DEGREE_DAYS,
                                          .side = SIDE_AT_LEAST,
                                          .way = WAY_SUM,
                                          .base = base->number,
                                          .cap = cap ? cap->number : INFINITY,
                                          .limit = unit_difference_to_si(base->unit, sum->number),
                                          .clipped = method && method->number == 0};
    add_weather(stated, condition, capped ? cap->place : sum->place,
                capped             ? "the cap must be above the base"
                : sum->number <= 0 ? "the degree days to reach must be above zero"
                                   : NULL);
}
