#include "compiler/result/budget.h"

#include "compiler/model/display.h"
#include "compiler/model/tolerance.h"

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
            return text_format(arena, "%s over the limit",
                               display_ceiling(arena, model, QUANTITY_MASS_RATE, sum - most, NULL));
        if (!exceeds(most, sum))
            return "limit reached";
        return text_format(arena, "%s left",
                           display_floor(arena, model, QUANTITY_MASS_RATE, most - sum, NULL));
    }
    if (isnan(measure->least))
        return sum > 0 ? "some is applied" : "none is applied";
    if (exceeds(measure->least, sum))
        return text_format(arena, "%s short",
                           display_ceiling(arena, model, QUANTITY_MASS_RATE, measure->least - sum, NULL));
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
