#include "compiler/result/budget_words.h"

#include "compiler/model/tolerance.h"
#include "compiler/model/display.h"

const char budget_bar_legend[] =
    "Bars: # is put down, + is planned, . is free; [ is the least that is asked, ] "
    "the most that is asked or allowed.";

/* ---- bars ---- */

enum { BAR_BOUND = 20, BAR_CELLS = 24 }; /* cells up to the higher bound, and in all */

/* Whole cells that are full, and the cell by which a bound is reached: what is below a bound never looks as
 * if it reached it, and what is above it always passes it. */
static size_t cells_full(double share)
{
    return (size_t)fmax(fmin(floor(share * BAR_BOUND + COMPARE_TOLERANCE), BAR_CELLS), 0);
}

static size_t cells_to(double share)
{
    return (size_t)fmax(fmin(ceil(share * BAR_BOUND - COMPARE_TOLERANCE), BAR_CELLS), 0);
}

static bool stands_at(double bound, double scale, size_t cell)
{
    return !isnan(bound) && cells_to(bound / scale) == cell;
}

const char *budget_bar(struct arena *arena, const struct budget_measure *measure)
{
    double scale = fmax(isnan(measure->most) ? 0 : measure->most, isnan(measure->least) ? 0 : measure->least);
    if (!(scale > 0))
        return NULL;
    double sum = measure->done + measure->planned;
    size_t done = cells_full(measure->done / scale), all = cells_full(sum / scale);
    if (exceeds(sum, scale) && all <= BAR_BOUND)
        all = BAR_BOUND + 1;
    struct buffer bar = {.arena = arena};
    for (size_t i = 0; i <= BAR_CELLS; i++) {
        if (stands_at(measure->least, scale, i))
            buffer_add_string(&bar, "[");
        if (stands_at(measure->most, scale, i) &&
            (isnan(measure->least) || differs(measure->least, measure->most)))
            buffer_add_string(&bar, "]");
        if (i < BAR_CELLS)
            buffer_add_string(&bar, i < done ? "#" : i < all ? "+" : ".");
    }
    if (sum / scale * BAR_BOUND > BAR_CELLS)
        buffer_add_string(&bar, ">");
    return bar.string;
}

/* ---- sentences ---- */

static const char *rate(const struct need_words *words, const struct budget_measure *measure, double value)
{
    return display_of(words->arena, words->model, QUANTITY_MASS_RATE, value, measure->form->name);
}

/* "1 to 3 lb N per 1000 sqft" */
static const char *range_text(const struct need_words *words, const struct budget_measure *measure)
{
    if (!differs(measure->least, measure->most))
        return rate(words, measure, measure->most);
    return text_format(words->arena, "%s to %s",
                       display_number(words->arena, words->model, QUANTITY_MASS_RATE, measure->least),
                       rate(words, measure, measure->most));
}

/* "; from Mon 2027-03-01 to Tue 2028-02-29" where the season is longer than a year. */
static const char *year_text(const struct need_words *words, const struct budget_measure *measure)
{
    if (!season_is_long(words->model))
        return "";
    return text_format(words->arena, "; from %s to %s", display_date(words->arena, measure->of_season.first),
                       display_date(words->arena, measure->of_season.last));
}

/* What is asked, and where that stands. */
static const char *bound_text(const struct need_words *words, const struct budget_measure *measure)
{
    switch (measure->kind) {
    case BUDGET_NEED:
        return text_format(words->arena, "By the soil test it %s", need_sentence(words, &measure->need));
    case BUDGET_RANGE:
        return text_format(words->arena, "The grass asks for %s a year%s%s", range_text(words, measure),
                           words_mark(words, measure->range->source), year_text(words, measure));
    case BUDGET_STATED:
        return text_format(words->arena, "The lawn is to be given %s a year (%s)%s",
                           range_text(words, measure), words_at(words, measure->stated->place),
                           year_text(words, measure));
    case BUDGET_LIMIT:
        return text_format(words->arena, "At most %s in %d (%s)", rate(words, measure, measure->most),
                           measure->year, words_at(words, measure->limit->place));
    }
    return "";
}

static const char *limit_verdict(const struct need_words *words, const struct budget_measure *measure)
{
    double room = measure->most - (measure->done + measure->planned);
    if (exceeds(measure->done + measure->planned, measure->most))
        return text_format(words->arena, "passed by %s",
                           display_ceiling(words->arena, words->model, QUANTITY_MASS_RATE, -room, NULL));
    if (!exceeds(measure->most, measure->done + measure->planned))
        return "all of it is used";
    return text_format(words->arena, "%s is free",
                       display_floor(words->arena, words->model, QUANTITY_MASS_RATE, room, NULL));
}

static const char *asked_verdict(const struct need_words *words, const struct budget_measure *measure)
{
    double sum = measure->done + measure->planned;
    if (isnan(measure->least))
        return sum > 0 ? "some is given" : "none is given";
    if (exceeds(measure->least, sum))
        return text_format(
            words->arena, "%s is lacking",
            display_ceiling(words->arena, words->model, QUANTITY_MASS_RATE, measure->least - sum, NULL));
    double most = isnan(measure->most) ? measure->least : measure->most;
    if (exceeds(sum, most))
        return text_format(words->arena, "%s more is given",
                           display_of(words->arena, words->model, QUANTITY_MASS_RATE, sum - most, NULL));
    return sum > 0 ? "met" : "none is given";
}

const char *budget_sentence(const struct need_words *words, const struct budget_measure *measure)
{
    const char *verdict =
        measure->kind == BUDGET_LIMIT ? limit_verdict(words, measure) : asked_verdict(words, measure);
    return text_format(words->arena, "%s: %s.", bound_text(words, measure), verdict);
}

const char *budget_kind_name(enum budget_kind kind)
{
    switch (kind) {
    case BUDGET_NEED:
        return "need";
    case BUDGET_RANGE:
        return "range";
    case BUDGET_STATED:
        return "stated";
    case BUDGET_LIMIT:
        return "limit";
    }
    return "";
}

const char *budget_month_text(struct arena *arena, const struct budget_month *month)
{
    return text_format(arena, "%04d-%02d", month->year, month->month);
}
