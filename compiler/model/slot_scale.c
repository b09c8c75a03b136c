/* Values of which scales and lime tables are made: levels of a soil, polynomials, the units of a level. */
#include "compiler/model/slot.h"

/* A laboratory's "lb per acre" counts the soil of a furrow slice as 2,000,000 lb per acre, so that it is
 * twice the ppm (Purdue University as quoted in Farm Progress; Ohio State University, "Understanding Soil
 * Test Reports: Phosphorus Values",
 * https://agbmps.osu.edu/faq/understanding-soil-test-reports-phosphorus-values). Its kg per ha are the same
 * slice. */
#define FURROW_SLICE_KG_PER_M2 (2e6 * 0.45359237 / 4046.8564224)

double level_of_area(double kg_per_m2)
{
    return kg_per_m2 / FURROW_SLICE_KG_PER_M2;
}

/* ---- levels ---- */

/* A share of the soil (ppm, mg/kg), or lb per acre as laboratories mean it, both results in a share; or an
 * index: "65 index", "26 to 50 index". */
bool slot_read_level(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    struct slot_type level = {.name = "level",
                              .description = type->description,
                              .read = slot_read_quantity,
                              .dimension = {.mass = 1, .length = -2},
                              .range = type->range,
                              .share = true};
    uint32_t first = *at, end = first; /* behind "21" or, in a range, "25 to 45" */
    bool both = type->range && match_kind(matcher, first) == TOKEN_RANGE;
    if (both || match_kind(matcher, first) == TOKEN_NUMBER)
        end = match_next(matcher, first);
    if (!both && type->range && match_word(matcher, end, "to")) {
        uint32_t high = match_next(matcher, end);
        end = match_kind(matcher, high) == TOKEN_NUMBER ? match_next(matcher, high) : end;
    }
    if (end != first && match_word(matcher, end, "index")) {
        if (!slot_read_range(matcher, &level, at, value))
            return false;
        *at = match_next(matcher, end);
        if (value->number < 0 || value->high < value->number)
            return slot_complain(
                matcher, *at, match_place(matcher, first, *at), RULE_VALUE,
                value->number < 0 ? "an index cannot be below zero" : "this goes from high to low", NULL);
        value->index = true;
    } else {
        if (!slot_read_quantity(matcher, &level, at, value))
            return false;
        if (!value->volume) {
            value->number = level_of_area(value->number);
            value->high = level_of_area(value->high);
        }
        value->volume = false;
    }
    value->text = place_text(match_place(matcher, first, *at));
    return true;
}

/* ---- what a level is counted in ---- */

/* What a result is counted in: a share of the soil, lb per acre as laboratories mean it, or an index. */
bool slot_read_level_unit(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                          struct value *value)
{
    static const struct dimension share = {0};
    uint32_t first = *at;
    struct dimension dimension;
    double zero;
    value->index = match_word(matcher, first, "index");
    value->number = 1;
    if (value->index)
        *at = match_next(matcher, first);
    else if (!unit_read(matcher, at, &share, &value->number, &zero, &dimension, &value->unit))
        return false;
    struct place place = match_place(matcher, first, *at);
    value->text = place_text(place);
    if (value->index || dimension_equal(dimension, share))
        return true;
    if (!dimension_equal(dimension, measure_rows[MEASURE_MASS_PER_AREA].dimension))
        return slot_complain(matcher, *at, place, RULE_DIMENSION,
                             text_format(matcher->model->arena, "results are not given in `%.*s`",
                                         (int)value->text.length, value->text.start),
                             text_format(matcher->model->arena, "%s is needed here", type->description));
    value->number = level_of_area(value->number);
    return true;
}

/* By the mass of the soil, or by its volume (`volume`), which no density turns into the other here. */
bool slot_read_charge_unit(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                           struct value *value)
{
    uint32_t first = *at;
    struct dimension dimension;
    double zero;
    if (!unit_read(matcher, at, &type->dimension, &value->number, &zero, &dimension, &value->unit))
        return false;
    value->text = place_text(match_place(matcher, first, *at));
    value->volume = dimension_equal(dimension, type->other);
    if (value->volume || dimension_equal(dimension, type->dimension))
        return true;
    return slot_complain(matcher, *at, match_place(matcher, first, *at), RULE_DIMENSION,
                         text_format(matcher->model->arena, "`%.*s` is not a unit of charge in soil",
                                     (int)value->text.length, value->text.start),
                         text_format(matcher->model->arena, "%s is needed here", type->description));
}

/* ---- polynomials and rows ---- */

/* "9, -0.135, 0.0005 lb per 1000 sqft": numbers as written, and in value->number what 1 of them is in SI.
 * Unlike other lists it ends before a comma that no number follows: the rate of the terms does. */
bool slot_read_terms(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    uint32_t first = *at;
    VECTOR(struct value) list = {0};
    bool fine = true;
    for (bool more = true; more;) {
        struct value item = {.place = slot_place(matcher, *at)};
        fine = slot_read_number(matcher, type, at, &item);
        VECTOR_PUSH(arena_scratch(matcher->model->arena), &list, item);
        more = fine && match_kind(matcher, *at) == TOKEN_COMMA &&
               match_kind(matcher, match_next(matcher, *at)) == TOKEN_NUMBER;
        *at = more ? match_next(matcher, *at) : *at;
    }
    value->items = list.items;
    value->count = list.count;
    fine = fine && (type->share ? slot_read_level_unit(matcher, type, at, value)
                                : slot_read_unit(matcher, type, at, value));
    value->text = place_text(match_place(matcher, first, *at));
    return fine;
}
