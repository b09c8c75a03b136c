#include "compiler/result/budget.h"

#include "compiler/model/display.h"
#include "compiler/model/tolerance.h"

#include <assert.h>

const enum nutrient budget_nutrients[] = {
    NUTRIENT_N,  NUTRIENT_SOLUBLE_N, NUTRIENT_P,  NUTRIENT_K,    NUTRIENT_CA, NUTRIENT_MG,
    NUTRIENT_S,  NUTRIENT_FE,        NUTRIENT_MN, NUTRIENT_ZN,   NUTRIENT_CU, NUTRIENT_B,
    NUTRIENT_MO, NUTRIENT_CL,        NUTRIENT_NA, NUTRIENT_LIME,
};
const size_t budget_nutrient_count = sizeof budget_nutrients / sizeof *budget_nutrients;

bool budget_gives(const struct budget_zone *zone, enum nutrient nutrient)
{
    return zone->total.done[nutrient] > 0 || zone->total.planned[nutrient] > 0;
}

bool budget_yearly(const struct budget_measure *measure)
{
    return measure->kind == BUDGET_RANGE || measure->kind == BUDGET_STATED;
}

/* ---- what is given ---- */

static void month_add(struct budget_month *month, bool done, const struct amount *amount)
{
    double *parts = done ? month->done : month->planned;
    for (size_t n = 0; n < NUTRIENT_COUNT; n++)
        parts[n] += amount->supplied[n];
}

/* ---- what it is held against ---- */

static struct budget_measure measure_of(const struct budget_month *sum, enum budget_kind kind,
                                        enum nutrient nutrient)
{
    const struct nutrient_form *form = nutrient_trade_form(nutrient);
    return (struct budget_measure){.kind = kind,
                                   .form = form,
                                   .done = supplied_as(sum->done, form),
                                   .planned = supplied_as(sum->planned, form),
                                   .least = NAN,
                                   .most = NAN};
}

/* Of N no test is asked: its range stands for it. What the lawn states has a measure of its own. */
static void need_measure(const struct season *season, struct budget_zone *zone, enum nutrient nutrient)
{
    struct budget_measure measure = measure_of(&zone->total, BUDGET_NEED, nutrient);
    if (nutrient == NUTRIENT_N)
        return;
    need_of(season, zone->zone, nutrient, &measure.need);
    if (measure.need.rule == NEED_BY_LAWN)
        return;
    if (!measure.need.read && isnan(measure.need.kg_per_m2))
        return;
    if (!measure.need.low && isnan(measure.need.kg_per_m2))
        return;
    /* What was put on since the test that the need is of; what came before is in its result. */
    const struct zone_need *need = &measure.need;
    measure.done = measure.planned = 0;
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        if (occurrence->skipped || occurrence->day < need->from || occurrence->day > need->until)
            continue;
        double *sum = occurrence->done ? &measure.done : &measure.planned;
        for (size_t j = 0; j < occurrence->amounts.count; j++)
            if (occurrence->amounts.items[j].zone == need->zone)
                *sum += supplied_as(occurrence->amounts.items[j].supplied, measure.form);
    }
    /* Of lime that is neither needed nor given nobody asks. */
    if (nutrient == NUTRIENT_LIME && !(measure.need.most > 0) && !(measure.done + measure.planned > 0))
        return;
    measure.least = measure.need.kg_per_m2 / measure.form->element_per_unit;
    measure.most = measure.need.most / measure.form->element_per_unit;
    VECTOR_PUSH(season->arena, &zone->measures, measure);
}

/* By nutrient: its need, then what is asked a year, then what is allowed. A library's burn caps bind always
 * and are no limit of a year that a plan follows. */
static void zone_measures(const struct season *season, struct budget_zone *zone, enum nutrient nutrient)
{
    const struct model *model = season->model;
    if (nutrient < NUTRIENT_SOLUBLE_N || nutrient == NUTRIENT_LIME)
        need_measure(season, zone, nutrient);
    for (size_t year = 0; year < zone->years.count; year++) {
        const struct lawn *lawn = zone->zone->lawn;
        const struct grass_range *range =
            nutrient < NUTRIENT_SOLUBLE_N ? lawn_range_of(lawn, GRASS_YEARLY, nutrient) : NULL;
        if (range) {
            struct budget_measure measure = measure_of(&zone->years.items[year], BUDGET_RANGE, nutrient);
            measure.of_season = season_year_at(model, year);
            measure.range = range;
            measure.least = range->low / measure.form->element_per_unit;
            measure.most = range->high / measure.form->element_per_unit;
            VECTOR_PUSH(season->arena, &zone->measures, measure);
        }
        for (size_t i = 0; i < lawn->yearly.count; i++) {
            struct budget_measure measure = measure_of(&zone->years.items[year], BUDGET_STATED, nutrient);
            measure.of_season = season_year_at(season->model, year);
            measure.stated = &lawn->yearly.items[i];
            if (measure.stated->nutrient->nutrient != nutrient)
                continue;
            measure.least = measure.most = measure.stated->kg_per_m2 / measure.form->element_per_unit;
            VECTOR_PUSH(season->arena, &zone->measures, measure);
        }
    }
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        if (limit->kind == LIMIT_PER_YEAR && limit->nutrient->nutrient == nutrient && !limit->set->always &&
            limit_binds(limit, zone->zone)) {
            /* One for each calendar year in which the zone gets something. */
            for (size_t j = 0; j < zone->months.count; j++) {
                const struct budget_month *month = &zone->months.items[j];
                if (j == 0 || zone->months.items[j - 1].year != month->year) {
                    struct budget_measure bound = {.kind = BUDGET_LIMIT,
                                                   .form = limit->nutrient,
                                                   .limit = limit,
                                                   .year = month->year,
                                                   .least = NAN,
                                                   .most = limit->most};
                    VECTOR_PUSH(season->arena, &zone->measures, bound);
                }
                struct budget_measure *bound = &zone->measures.items[zone->measures.count - 1];
                bound->done += supplied_as(month->done, limit->nutrient);
                bound->planned += supplied_as(month->planned, limit->nutrient);
            }
        }
    }
}

/* Sums of the calendar: what was skipped gives nothing, and what was done and is planned is kept apart. */
struct budget budget_of(const struct season *season)
{
    const struct model *model = season->model;
    struct budget budget = {.zones = {.count = 0}};
    for (size_t i = 0; i < model->zones.count; i++) {
        struct budget_zone zone = {.zone = model->zones.items[i]};
        for (size_t year = 0; year < season_year_count(model); year++)
            VECTOR_PUSH(season->arena, &zone.years, ((struct budget_month){.year = 0}));
        VECTOR_PUSH(season->arena, &budget.zones, zone);
    }
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        for (size_t j = 0; j < occurrence->amounts.count && !occurrence->skipped; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            assert(amount->zone->index < budget.zones.count);
            /* To its month, to the year of the season in which the day lies, if any does, and to the
             * whole. */
            struct budget_zone *zone = &budget.zones.items[amount->zone->index];
            struct civil_date date = date_of_day(occurrence->day);
            size_t count = zone->months.count;
            /* The calendar goes by day, so a month that is not the last one begins a new row. */
            if (count == 0 || zone->months.items[count - 1].year != date.year ||
                zone->months.items[count - 1].month != date.month)
                VECTOR_PUSH(model->arena, &zone->months,
                            ((struct budget_month){.year = date.year, .month = date.month}));
            month_add(&zone->months.items[zone->months.count - 1], occurrence->done, amount);
            month_add(&zone->total, occurrence->done, amount);
            for (size_t k = 0; k < zone->years.count; k++) {
                struct season_year year = season_year_at(model, k);
                if (occurrence->day >= year.first && occurrence->day <= year.last)
                    month_add(&zone->years.items[k], occurrence->done, amount);
            }
        }
    }
    for (size_t i = 0; i < budget.zones.count; i++)
        for (size_t n = 0; n < budget_nutrient_count; n++)
            zone_measures(season, &budget.zones.items[i], budget_nutrients[n]);
    return budget;
}

/* ---- in words ---- */

static const char *rate(const struct need_words *words, const struct budget_measure *measure, double value)
{
    return display_of(words->arena, words->model, QUANTITY_MASS_RATE, value, measure->form->name);
}

/* "1 to 3 lb N per 1000 sqft a year" and, where the season is longer than that, which of them it is. */
static const char *yearly_text(const struct need_words *words, const struct budget_measure *measure,
                               const char *mark)
{
    struct buffer text = {.arena = words->arena};
    if (differs(measure->least, measure->most))
        buffer_format(&text, "%s to ",
                      display_number(words->arena, words->model, QUANTITY_MASS_RATE, measure->least));
    buffer_format(&text, "%s a year%s", rate(words, measure, measure->most), mark);
    if (season_is_long(words->model))
        buffer_format(&text, ", %s",
                      display_dates(words->arena, measure->of_season.first, measure->of_season.last));
    return text.string;
}

/* What is asked or allowed. */
static const char *bound_text(const struct need_words *words, const struct budget_measure *measure)
{
    struct arena *arena = words->arena;
    switch (measure->kind) {
    case BUDGET_NEED:
        return text_format(arena, "Soil test: %s", need_sentence(words, &measure->need));
    case BUDGET_RANGE:
        return text_format(arena, "Grass needs %s",
                           yearly_text(words, measure, words_mark(words, measure->range->source)));
    case BUDGET_STATED:
        return text_format(arena, "The lawn's `yearly`: %s",
                           yearly_text(words, measure,
                                       text_format(arena, " (%s)", words_at(words, measure->stated->place))));
    case BUDGET_LIMIT:
        return text_format(arena, "Limit %s in %d (%s)", rate(words, measure, measure->most), measure->year,
                           words_at(words, measure->limit->place));
    }
    return "";
}

/* Where the sum is beside its bound. What is left under a limit is rounded down and what is over it up: who
 * acts on the figure stays on the right side. A need whose amount is not known (NAN) is only met in part. */
static const char *verdict_text_of(const struct need_words *words, const struct budget_measure *measure)
{
    struct arena *arena = words->arena;
    const struct model *model = words->model;
    double sum = measure->done + measure->planned, most = measure->most;
    if (measure->kind == BUDGET_LIMIT) {
        if (exceeds(sum, most))
            return text_format(
                arena, "%s over the limit",
                display_rounded(arena, model, QUANTITY_MASS_RATE, sum - most, number_ceiling, NULL));
        if (!exceeds(most, sum))
            return "limit reached";
        return text_format(arena, "%s left",
                           display_rounded(arena, model, QUANTITY_MASS_RATE, most - sum, number_floor, NULL));
    }
    if (isnan(measure->least))
        return sum > 0 ? "some is applied" : "none is applied";
    if (exceeds(measure->least, sum))
        return text_format(
            arena, "%s short",
            display_rounded(arena, model, QUANTITY_MASS_RATE, measure->least - sum, number_ceiling, NULL));
    double enough = isnan(most) ? measure->least : most;
    if (exceeds(sum, enough))
        return text_format(arena, "%s over",
                           display_of(arena, model, QUANTITY_MASS_RATE, sum - enough, NULL));
    return sum > 0 ? "met" : "none is applied";
}

const char *budget_sentence(const struct need_words *words, const struct budget_measure *measure)
{
    /* One after the other: sources are numbered as they are named. */
    const char *bound = bound_text(words, measure);
    return text_format(words->arena, "%s; %s.", bound, verdict_text_of(words, measure));
}

const char *budget_month_text(struct arena *arena, const struct budget_month *month)
{
    return text_format(arena, "%04d-%02d", month->year, month->month);
}
