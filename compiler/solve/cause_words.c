/* A statement's part in a choice of rates, in the trade's words. */
#include "compiler/solve/cause.h"

#include "compiler/model/display.h"

/* What stood in the way, in the few words that fit beside its line. */
const char *cause_words(const struct model *model, const struct cause *cause, const struct zone *zone)
{
    const char *product = cause->product ? name_string(cause->product->symbol.name) : "";
    const struct limit *limit = cause->limit;
    struct arena *arena = model->arena;
    switch (cause->kind) {
    case CAUSE_LIMIT:
        break;
    case CAUSE_LABEL_LEAST:
        return text_format(arena, "the least %s the label allows at one time", product);
    case CAUSE_LABEL_MOST:
        return text_format(arena, "the most %s the label allows at one time", product);
    case CAUSE_LABEL_INTERVAL:
        return text_format(arena, "the label of %s: the applications are too close together", product);
    case CAUSE_LABEL_TIMES:
        return text_format(arena, "how often the label allows %s", product);
    case CAUSE_LABEL_YEAR:
        return text_format(arena, "the most %s the label allows in a year", product);
    case CAUSE_BOUND:
        return cause->bound->least ? "required here" : "the most allowed here";
    case CAUSE_HEAT:
        return text_format(arena, "the label of %s: that day is too hot", product);
    case CAUSE_COLD:
        return text_format(arena, "the label of %s: that day is too cold", product);
    case CAUSE_LEAST_RATE:
        return text_format(arena, "the lowest rate of %s that can be put down", product);
    case CAUSE_MATCH:
        return "no more than the amount to match";
    case CAUSE_PACKS:
        return "products without a pack are left out here";
    }
    switch (limit->kind) {
    case LIMIT_PER_APPLICATION:
        return "the limit for one application";
    case LIMIT_PER_YEAR:
        return "the limit for a year";
    case LIMIT_PER_PERIOD:
        return text_format(arena, "the limit for any %s", display_duration(arena, limit->time));
    case LIMIT_PER_WINDOW:
        return "the limit for these days of the year";
    case LIMIT_SLOW_SHARE:
        return "the limit on the slow share of N";
    case LIMIT_CONTENT:
        return text_format(arena, "the limit on %s in a product", limit->nutrient->name);
    case LIMIT_WAIT:
    case LIMIT_WAIT_BETWEEN:
        return text_format(arena, "the limit: the applications are less than %s apart",
                           display_duration(arena, limit->time));
    case LIMIT_FOLLOW:
        return text_format(arena, "the limit: the applications are more than %s apart",
                           display_duration(arena, limit->time));
    case LIMIT_ORDER:
        return "the limit on the order of kinds";
    case LIMIT_CLOSED:
    case LIMIT_CLOSED_DAYS:
    case LIMIT_WEEKDAYS:
        return "the limit: that day is closed";
    case LIMIT_NEED:
        return text_format(arena, "the limit: no soil test shows that %s needs it",
                           name_string(zone->symbol.name));
    case LIMIT_HEAT:
    case LIMIT_WEATHER:
        return "the limit: the weather that day breaks it";
    case LIMIT_DORMANT:
        return "the limit: the grass is not growing then";
    case LIMIT_WATER:
        return text_format(arena, "the limit: %s is %s from water", name_string(zone->symbol.name),
                           display_length(arena, model, zone->water_m));
    }
    return "the limit";
}

/* Nothing moves a label or a law; what the plan asks of itself, and practice, may be moved. */
const char *cause_fixed_by(const struct cause *cause)
{
    switch (cause->kind) {
    case CAUSE_LIMIT:
        if (!limit_is_fixed(cause->limit))
            return NULL;
        return cause->limit->set->basis == BASIS_LAW ? "law" : "label";
    case CAUSE_LABEL_LEAST:
    case CAUSE_LABEL_MOST:
    case CAUSE_LABEL_INTERVAL:
    case CAUSE_LABEL_TIMES:
    case CAUSE_LABEL_YEAR:
    case CAUSE_HEAT:
    case CAUSE_COLD:
        return "label";
    case CAUSE_BOUND:
    case CAUSE_LEAST_RATE:
    case CAUSE_MATCH:
    case CAUSE_PACKS:
        return NULL;
    }
    return NULL;
}

const char *cause_ways_round(const struct cause *cause, enum nutrient lacking)
{
    const struct limit *limit = cause->limit;
    bool summed = limit ? limit->kind == LIMIT_PER_YEAR || limit->kind == LIMIT_PER_WINDOW
                        : cause->kind == CAUSE_LABEL_YEAR || cause->kind == CAUSE_LABEL_TIMES;
    if (summed && limit && limit->nutrient->nutrient == lacking)
        return "lower the need";
    return summed ? "change the product, or lower the need"
                  : "change the product, add an application, or lower the need";
}

const char *cause_fixed_words(const struct model *model, const struct cause *cause, enum nutrient lacking)
{
    const char *by = cause_fixed_by(cause);
    return by ? text_format(model->arena, "fixed by the %s: %s", by, cause_ways_round(cause, lacking)) : NULL;
}

/* An upper figure is rounded up and a lower one down: a move that is said to be enough must be. */
const char *cause_bound_words(const struct model *model, const struct cause *cause, double bound)
{
    const struct nutrient_form *nutrient = cause->kind == CAUSE_LIMIT   ? cause->limit->nutrient
                                           : cause->kind == CAUSE_BOUND ? cause->bound->nutrient
                                           : cause->kind == CAUSE_MATCH ? cause->match->nutrient
                                                                        : NULL;
    if (!nutrient)
        return "";
    if (cause->kind == CAUSE_BOUND && cause->bound->least)
        return display_rounded(model->arena, model, QUANTITY_MASS_RATE, fmax(bound, 0), number_floor,
                               nutrient->name);
    return display_rounded(model->arena, model, QUANTITY_MASS_RATE, bound, number_ceiling, nutrient->name);
}
