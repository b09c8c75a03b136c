#include "compiler/season/need.h"
#include "compiler/season/judge.h"

const struct grass_range *lawn_range_of(const struct lawn *lawn, enum grass_range_kind kind,
                                        enum nutrient nutrient)
{
    const struct grass_range *anywhere = NULL;
    for (size_t i = 0; lawn->grass && i < lawn->grass->ranges.count; i++) {
        const struct grass_range *range = &lawn->grass->ranges.items[i];
        if (range->kind != kind || (range->nutrient && range->nutrient->nutrient != nutrient))
            continue;
        if (range->region && range->region == lawn->region)
            return range;
        if (!range->region)
            anywhere = range;
    }
    return anywhere;
}

static void need_lacks(struct zone_need *need, enum need_lack lack)
{
    need->lack = lack;
    need->kg_per_m2 = need->most = NAN;
}

static void need_is(struct zone_need *need, enum need_rule rule, double low, double high)
{
    need->rule = rule;
    need->kg_per_m2 = fmax(low, 0);
    need->most = fmax(high, need->kg_per_m2);
    need->low = need->low || need->most > 0;
}

static const struct lawn_amount *amount_of(const struct lawn_amount *amounts, size_t count,
                                           enum nutrient nutrient)
{
    for (size_t i = 0; i < count; i++)
        if (amounts[i].nutrient->nutrient == nutrient)
            return &amounts[i];
    return NULL;
}

/* ---- N ---- */

static void need_by_lawn(struct zone_need *need)
{
    need_is(need, NEED_BY_LAWN, need->stated->kg_per_m2, need->stated->kg_per_m2);
}

static void need_by_grass(struct zone_need *need)
{
    need->range = lawn_range_of(need->zone->lawn, GRASS_YEARLY, need->nutrient);
    if (need->range)
        need_is(need, NEED_BY_GRASS, need->range->low, need->range->high);
    else
        need_lacks(need, LACK_GRASS);
}

/* ---- what grass takes up ---- */

/* Of a year, where the season is longer than one. */
static double nitrogen_planned(const struct season *season, const struct zone *zone)
{
    const struct ledger *ledger = &season->ledgers[zone->index];
    double sum = 0, days = season->model->season_last - season->model->season_first + 1;
    for (size_t i = 0; i < ledger->applications.count; i++)
        sum += ledger->applications.items[i].supplied[NUTRIENT_N];
    return sum / fmax(days / 365.25, 1);
}

static bool nitrogen_find(const struct season *season, double asked, struct zone_need *need)
{
    const struct lawn *lawn = need->zone->lawn;
    const struct lawn_amount *stated = amount_of(lawn->yearly.items, lawn->yearly.count, NUTRIENT_N);
    const struct grass_range *range = lawn_range_of(lawn, GRASS_YEARLY, NUTRIENT_N);
    double planned = nitrogen_planned(season, need->zone);
    need->nitrogen = !isnan(asked) ? asked : stated ? stated->kg_per_m2 : planned;
    need->nitrogen_basis = !isnan(asked)   ? NITROGEN_ASKED
                           : stated        ? NITROGEN_LAWN
                           : planned > 0   ? NITROGEN_PLAN
                           : range != NULL ? NITROGEN_GRASS
                                           : NITROGEN_NONE;
    if (need->nitrogen_basis == NITROGEN_GRASS)
        need->nitrogen = (range->low + range->high) / 2;
    return need->nitrogen_basis != NITROGEN_NONE;
}

static const struct scale_use *scale_use_of(const struct scale *scale, enum nutrient nutrient)
{
    for (size_t i = 0; i < scale->uses.count; i++)
        if (scale->uses.items[i].nutrient->nutrient == nutrient)
            return &scale->uses.items[i];
    return NULL;
}

/* The lawn's own figure, or else its grass's share of the N given, or else the scale's. False where neither
 * is known; `lack` then says what is not. */
static bool use_find(const struct season *season, double asked, struct zone_need *need)
{
    const struct lawn *lawn = need->zone->lawn;
    need->use_stated = amount_of(lawn->uses.items, lawn->uses.count, need->nutrient);
    if (need->use_stated) {
        need->use = need->use_stated->kg_per_m2;
        return true;
    }
    need->range = lawn_range_of(lawn, GRASS_USE, need->nutrient);
    if (!need->range)
        need->use_scale = scale_use_of(need->reading.test->scale, need->nutrient);
    if (!need->range && !need->use_scale) {
        need_lacks(need, LACK_USE);
        return false;
    }
    if (!nitrogen_find(season, asked, need)) {
        need_lacks(need, LACK_NITROGEN);
        return false;
    }
    need->use = need->nitrogen * (need->range ? need->range->low : need->use_scale->share);
    return true;
}

/* ---- minimum levels ---- */

/* The mass of soil under a square metre; false where it is not known. */
static bool layer_find(struct zone_need *need)
{
    const struct soil_test *test = need->reading.test;
    const struct lawn *lawn = need->zone->lawn;
    need->depth_m = test->depth_m;
    need->density_assumed = isnan(lawn->bulk_density);
    need->bulk_density = need->density_assumed ? test->scale->bulk_density : lawn->bulk_density;
    if (isnan(need->depth_m))
        need_lacks(need, LACK_DEPTH);
    else if (isnan(need->bulk_density))
        need_lacks(need, LACK_DENSITY);
    return need->lack == LACK_NOTHING;
}

static void need_by_minimum(const struct season *season, double asked, struct zone_need *need)
{
    bool with_use = need->reading.test->scale->sum == SUM_USE_AND_SHORTFALL;
    if (need->level->index) {
        need_lacks(need, LACK_INDEX);
        return;
    }
    if (!layer_find(need) || (with_use && !use_find(season, asked, need)))
        return;
    double soil = need->depth_m * need->bulk_density;
    need->minimum = level_begin(need->level) * soil;
    need->test = need->reading.judged * soil;
    double sum = need->use + need->minimum - need->test;
    need_is(need, NEED_BY_MINIMUM, sum, sum);
}

/* ---- by the soil test ---- */

static void need_by_equation(struct zone_need *need)
{
    const struct scale_equation *equation = need->reading.equation;
    need->operand = level_in_unit(need->reading.judged, &equation->operand);
    need->read_at = equation_operand(equation, need->operand);
    need->equation = polynomial_at(&equation->need, need->read_at) * equation->nutrient->element_per_unit;
    need_is(need, NEED_BY_EQUATION, need->equation, need->equation);
}

/* What a scale that judged the result says of the amount. */
static void need_amount(const struct season *season, double asked, struct zone_need *need)
{
    const struct soil_reading *reading = &need->reading;
    need->level = reading->level;
    if (need->level && !need->level->minimum && !isnan(need->level->need_low))
        need_is(need, NEED_BY_CLASS, need->level->need_low, need->level->need_high);
    else if (reading->equation)
        need_by_equation(need);
    else if (need->level && need->level->minimum && reading->test->scale->sum != SUM_NONE)
        need_by_minimum(season, asked, need);
    else if (reading->need == NEED_NONE)
        need_is(need, NEED_BY_ENOUGH, 0, 0);
    else
        need_lacks(need, LACK_AMOUNT);
}

/* Why a scale judged nothing; LACK_NOTHING where it did. */
static enum need_lack judgement_lack(const struct soil_reading *reading)
{
    const struct soil_test *test = reading->test;
    enum nutrient nutrient = reading->nutrient->nutrient;
    if (!test->scale || test->scale->thing.broken)
        return LACK_SCALE;
    if (test->scale->method != test->method && !reading->conversion)
        return test->conversions.count ? LACK_CONVERSION : LACK_METHOD;
    if (test->scale->method != test->method && !reading->step)
        return LACK_CONVERSION;
    if (reading->step && reading->step->operand.index != reading->index)
        return LACK_INDEX;
    if (reading->activity && isnan(reading->ph))
        return LACK_PH;
    if (reading->level || reading->equation || reading->activity)
        return LACK_NOTHING;
    bool other_way = scale_speaks_of(test->scale, nutrient) &&
                     !scale_speaks_so(test->scale, nutrient, reading->judged_index);
    return other_way ? LACK_INDEX : LACK_LEVEL;
}

/* A test of the zone that could hold the nutrient and does not. */
static bool zone_tested(const struct season *season, const struct zone *zone)
{
    for (size_t i = 0; i < season->model->soil_tests.count; i++) {
        const struct soil_test *test = season->model->soil_tests.items[i];
        for (size_t j = 0; j < test->zones.count && !test->thing.broken; j++)
            if (test->zones.items[j] == zone)
                return true;
    }
    return false;
}

/* Where the scale judges and gives no amount, what the lawn states stands: the laboratory's own
 * recommendation. */
static void need_by_laboratory(struct zone_need *need)
{
    const struct lawn *lawn = need->zone->lawn;
    need->stated = amount_of(lawn->yearly.items, lawn->yearly.count, need->nutrient);
    if (!need->stated)
        return;
    need->lack = LACK_NOTHING;
    need_by_lawn(need);
}

bool need_with_nitrogen(const struct season *season, const struct zone *zone, enum nutrient nutrient,
                        double nitrogen, struct zone_need *need)
{
    *need = (struct zone_need){.zone = zone, .nutrient = nutrient, .nitrogen = NAN};
    need->read = soil_reading_of(season, zone, nutrient, &need->reading);
    need->low = need->read && need->reading.need == NEED_LOW;
    enum need_lack lack = need->read ? judgement_lack(&need->reading) : LACK_FIGURE;
    const struct lawn *lawn = zone->lawn;
    need->stated = nutrient == NUTRIENT_N || lack != LACK_NOTHING
                       ? amount_of(lawn->yearly.items, lawn->yearly.count, nutrient)
                       : NULL;
    if (need->stated)
        need_by_lawn(need);
    else if (nutrient == NUTRIENT_N && lack != LACK_NOTHING)
        need_by_grass(need);
    else if (!need->read)
        need_lacks(need, zone_tested(season, zone) ? LACK_FIGURE : LACK_TEST);
    else if (lack != LACK_NOTHING)
        need_lacks(need, lack);
    else
        need_amount(season, nitrogen, need);
    if (need->read && lack == LACK_NOTHING && need->lack != LACK_NOTHING)
        need_by_laboratory(need);
    return need->lack == LACK_NOTHING;
}

bool need_of(const struct season *season, const struct zone *zone, enum nutrient nutrient,
             struct zone_need *need)
{
    return need_with_nitrogen(season, zone, nutrient, NAN, need);
}
