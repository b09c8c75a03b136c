#include "compiler/season/dating.h"
#include "compiler/season/need.h"
#include "compiler/season/scale_class.h"

/* One for the lawn's own region before one for anywhere. */
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
    need->lack = LACK_NOTHING;
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

/* ---- which days ---- */

enum { MONTHS_A_YEAR = 12 };
static const double DAYS_A_YEAR = 365.25;

/* ---- what was given ---- */

/* Of the days between, both included. Called for each need of each test, and so by halves. */
double zone_given(const struct season *season, const struct zone *zone, enum nutrient nutrient,
                  day_number first, day_number last)
{
    const struct ledger *ledger = &season->ledgers[zone->index];
    const struct application *items = ledger->applications.items;
    size_t low = 0, high = ledger->applications.count;
    double sum = 0;
    while (low < high) { /* to the first one */
        size_t middle = low + (high - low) / 2;
        if (items[middle].day < first)
            low = middle + 1;
        else
            high = middle;
    }
    for (; high < ledger->applications.count && items[high].day <= last; high++)
        sum += items[high].supplied[nutrient];
    arena_work(season->arena, 1 + high - low);
    return sum;
}

/* ---- what grass takes up ---- */

/* Less than this share of the least N that the grass is usually given is no feeding: it comes along with iron
 * or a starter. */
static const double FED_SHARE = 0.1;

/* Whether the plan says how much N the zone gets: by amounts of its own or records, a match of a grade with
 * N, or a correction that needs N. N that comes by chance with a correction of something else says nothing of
 * a year's, whether it is chosen or not: so the answer is the same before and after rates are chosen. */
bool zone_fed(const struct season *season, const struct zone *zone)
{
    const struct ledger *ledger = &season->ledgers[zone->index];
    const struct model *model = season->model;
    const struct grass_range *range = lawn_range_of(zone->lawn, GRASS_YEARLY, NUTRIENT_N);
    double stated = 0;
    arena_work(season->arena, ledger->applications.count + model->matches.count + model->corrects.count);
    for (size_t i = 0; i < ledger->applications.count; i++)
        for (size_t j = 0; j < ledger->applications.items[i].amounts.count; j++) {
            const struct amount *amount = ledger->applications.items[i].amounts.items[j];
            if (!(amount->dressing && amount->dressing->open))
                stated += amount->supplied[NUTRIENT_N];
        }
    if (stated > 0 && (!range || stated >= FED_SHARE * range->low))
        return true;
    for (size_t i = 0; i < model->matches.count; i++) {
        const struct match *match = model->matches.items[i];
        if (match->treatment && match->grade[0] > 0 &&
            zone_among(match->treatment->zones.items, match->treatment->zones.count, zone))
            return true;
    }
    for (size_t i = 0; i < model->corrects.count; i++) {
        const struct correct *correct = model->corrects.items[i];
        /* One that names no zones reaches those of its treatments. */
        bool reaches = zone_among(correct->zones.items, correct->zones.count, zone) ||
                       (!correct->zones.count && correct->added &&
                        zone_among(correct->added->zones.items, correct->added->zones.count, zone));
        for (size_t j = 0; j < correct->treatments.count && !correct->zones.count; j++)
            reaches = reaches || zone_among(correct->treatments.items[j]->zones.items,
                                            correct->treatments.items[j]->zones.count, zone);
        for (size_t j = 0; j < correct->needs.count && reaches; j++)
            if (correct->needs.items[j].nutrient->nutrient == NUTRIENT_N)
                return true;
    }
    return false;
}

/* The lawn's own figure, or else its grass's share of the N given, or else the scale's. False where neither
 * is known; `lack` then says what is not. */
static bool use_find(const struct season *season, struct zone_need *need)
{
    const struct lawn *lawn = need->zone->lawn;
    need->use_stated = amount_of(lawn->uses.items, lawn->uses.count, need->nutrient);
    if (need->use_stated) {
        need->use = need->use_stated->kg_per_m2 * need->years;
        return true;
    }
    const struct scale *scale = need->reading.scale->scale;
    need->range = lawn_range_of(lawn, GRASS_USE, need->nutrient);
    if (!need->range)
        for (size_t i = 0; i < scale->uses.count && !need->use_scale; i++)
            if (scale->uses.items[i].nutrient->nutrient == need->nutrient)
                need->use_scale = &scale->uses.items[i];
    if (!need->range && !need->use_scale) {
        need_lacks(need, LACK_USE);
        return false;
    }
    /* The N is what the lawn states, what the plan gives, or what the grass is usually given. */
    const struct lawn_amount *stated = amount_of(lawn->yearly.items, lawn->yearly.count, NUTRIENT_N);
    const struct grass_range *range = lawn_range_of(lawn, GRASS_YEARLY, NUTRIENT_N);
    need->nitrogen_basis = stated                           ? NITROGEN_LAWN
                           : season->fed[need->zone->index] ? NITROGEN_PLAN
                           : range != NULL                  ? NITROGEN_GRASS
                                                            : NITROGEN_NONE;
    switch (need->nitrogen_basis) {
    case NITROGEN_NONE:
        need_lacks(need, LACK_NITROGEN);
        return false;
    case NITROGEN_LAWN:
        need->nitrogen = stated->kg_per_m2 * need->years;
        break;
    case NITROGEN_PLAN: {
        /* Of the plan's N that of the years begun. A test made after the season says what the next one
         * needs, which is taken to get as much in a year as this one. */
        const struct model *model = season->model;
        bool after = model->has_season && need->from > model->season_last;
        double years = (model->season_last - model->season_first + 1) / DAYS_A_YEAR;
        need->nitrogen =
            after ? zone_given(season, need->zone, NUTRIENT_N, model->season_first, model->season_last) /
                        fmax(years, 1)
                  : zone_given(season, need->zone, NUTRIENT_N, need->from, need->counted_until);
        break;
    }
    case NITROGEN_GRASS:
        need->nitrogen = (range->low + range->high) / 2 * need->years;
        break;
    }
    need->use_share = need->range ? need->range->low : need->use_scale->share;
    need->use = need->nitrogen * need->use_share;
    return true;
}

/* ---- by the soil test ---- */

/* What a scale that judged the result says of the amount. Of a minimum everything is counted as mass under a
 * square metre, down to the depth of the cores. */
static void need_amount(const struct season *season, struct zone_need *need)
{
    const struct soil_reading *reading = &need->reading;
    need->level = reading->level;
    if (need->level && !need->level->minimum && !isnan(need->level->need_low))
        need_is(need, NEED_BY_CLASS, need->level->need_low * need->years,
                need->level->need_high * need->years);
    else if (reading->equation) {
        const struct scale_equation *equation = need->reading.equation;
        need->operand = level_in_unit(need->reading.judged, &equation->operand);
        need->read_at = equation_operand(equation, need->operand);
        need->equation = polynomial_at(&equation->need, need->read_at) * equation->nutrient->element_per_unit;
        need_is(need, NEED_BY_EQUATION, need->equation * need->years, need->equation * need->years);
    } else if (need->level && need->level->minimum && reading->scale->scale->sum != SUM_NONE) {
        const struct lawn *lawn = need->zone->lawn;
        const struct scale *scale = reading->scale->scale;
        if (need->level->index) {
            need_lacks(need, LACK_INDEX);
            return;
        }
        need->depth_m = reading->test->depth_m;
        need->density_assumed = isnan(lawn->bulk_density);
        need->bulk_density = need->density_assumed ? scale->bulk_density : lawn->bulk_density;
        if (isnan(need->depth_m) || isnan(need->bulk_density)) {
            need_lacks(need, isnan(need->depth_m) ? LACK_DEPTH : LACK_DENSITY);
            return;
        }
        if (scale->sum == SUM_USE_AND_SHORTFALL && !use_find(season, need))
            return;
        double soil = need->depth_m * need->bulk_density; /* the mass of it under a square metre */
        need->minimum = level_begin(need->level) * soil;
        need->test = reading->judged * soil;
        double sum = need->use + need->minimum - need->test;
        need_is(need, NEED_BY_MINIMUM, sum, sum);
    } else if (reading->need == NEED_NONE)
        need_is(need, NEED_BY_ENOUGH, 0, 0);
    else
        need_lacks(need, LACK_AMOUNT);
}

/* Why a scale judged nothing; LACK_NOTHING where it did. */
static enum need_lack judgement_lack(const struct soil_reading *reading)
{
    const struct soil_test *test = reading->test;
    const struct scale *scale = reading->scale ? reading->scale->scale : NULL;
    enum nutrient nutrient = reading->nutrient->nutrient;
    if (!scale || scale->symbol.broken)
        return LACK_SCALE;
    if (scale->method != test->method && !reading->conversion)
        return test->conversions.count ? LACK_CONVERSION : LACK_METHOD;
    if (scale->method != test->method && !reading->step)
        return LACK_CONVERSION;
    if (reading->step && reading->step->operand.index != reading->index)
        return LACK_INDEX;
    if (reading->activity && isnan(reading->ph))
        return LACK_PH;
    if (reading->open_above)
        return LACK_ABOVE;
    if (reading->level || reading->equation || reading->activity)
        return LACK_NOTHING;
    bool other_way =
        scale_speaks_of(scale, nutrient) && !scale_speaks_so(scale, nutrient, reading->judged_index);
    return other_way ? LACK_INDEX : LACK_LEVEL;
}

/* The laboratory where the plan follows it; what the lawn states for N, or without a scale; the scale. */
static void need_find(const struct season *season, struct zone_need *need)
{
    const struct lawn *lawn = need->zone->lawn;
    const struct recommendation *recommended = need->read ? need->reading.recommended : NULL;
    enum need_lack lack = need->read ? judgement_lack(&need->reading) : LACK_FIGURE;
    need->low = need->read && need->reading.counts == NEED_LOW;
    if (recommended) {
        /* What the scale alone gives, beside what the laboratory recommends. */
        struct zone_need by_scale = *need;
        by_scale.low = need->reading.need == NEED_LOW;
        if (lack == LACK_NOTHING)
            need_amount(season, &by_scale);
        else
            need_lacks(&by_scale, lack);
        need->scale_least = by_scale.kg_per_m2;
        need->scale_most = by_scale.most;
        need->scale_lack = by_scale.lack;
    }
    if (recommended && need->reading.laboratory) {
        need_is(need, NEED_BY_LABORATORY, recommended->low * need->years, recommended->high * need->years);
        return;
    }
    need->stated = need->nutrient == NUTRIENT_N || lack != LACK_NOTHING
                       ? amount_of(lawn->yearly.items, lawn->yearly.count, need->nutrient)
                       : NULL;
    if (need->stated)
        need_is(need, NEED_BY_LAWN, need->stated->kg_per_m2 * need->years,
                need->stated->kg_per_m2 * need->years);
    else if (need->nutrient == NUTRIENT_N && lack != LACK_NOTHING) {
        need->range = lawn_range_of(need->zone->lawn, GRASS_YEARLY, need->nutrient);
        if (need->range)
            need_is(need, NEED_BY_GRASS, need->range->low * need->years, need->range->high * need->years);
        else
            need_lacks(need, LACK_GRASS);
    } else if (!need->read)
        need_lacks(need, need->retested ? LACK_LATER : need->zone->tests.count ? LACK_FIGURE : LACK_TEST);
    else if (lack != LACK_NOTHING && need->reading.by_rating && need->reading.counts == NEED_NONE)
        need_is(need, NEED_BY_RATING, 0, 0);
    else if (lack != LACK_NOTHING)
        need_lacks(need, lack);
    else
        need_amount(season, need);
    if (!need->read || lack != LACK_NOTHING || need->lack == LACK_NOTHING)
        return;
    /* Where the scale judges and gives no amount, the laboratory's stands, or else what the lawn states. */
    if (recommended && recommended->high > 0) {
        need_is(need, NEED_BY_LABORATORY, recommended->low * need->years, recommended->high * need->years);
        return;
    }
    need->stated = amount_of(lawn->yearly.items, lawn->yearly.count, need->nutrient);
    if (need->stated)
        need_is(need, NEED_BY_LAWN, need->stated->kg_per_m2 * need->years,
                need->stated->kg_per_m2 * need->years);
}

/* STEPS_A_NEED: beside what zone_given goes through; results look at every test of every zone. */
bool need_on(const struct season *season, const struct zone *zone, enum nutrient nutrient, day_number day,
             struct zone_need *need)
{
    enum { STEPS_A_NEED = 16 };
    *need = (struct zone_need){
        .zone = zone, .nutrient = nutrient, .nitrogen = NAN, .scale_least = NAN, .scale_most = NAN};
    if (nutrient == NUTRIENT_LIME) { /* is one, however long the season is; it is met when it is given */
        struct lime_need lime;
        bool known = lime_need_of(season, zone, &lime);
        need->reading.test = lime.test;
        need->from = lime.test ? lime.test->day : INT32_MIN;
        need->until = need->counted_until = INT32_MAX;
        need->years = 1;
        if (known)
            need_is(need, NEED_BY_LIME, lime.kg_per_m2, lime.kg_per_m2);
        else
            need_lacks(need, LACK_LIME);
        need->given = zone_given(season, zone, NUTRIENT_LIME, need->from, day);
        need->left = known ? fmax(0, need->kg_per_m2 - need->given) : (double)NAN;
        return known;
    }
    arena_work(season->arena, STEPS_A_NEED);

    /* The test in force on the day and the days it is in force. */
    const struct model *model = season->model;
    const struct soil_history *history = soil_history_of(season, zone, nutrient);
    size_t next = soil_history_until(history, day);
    need->read = next > 0;
    need->from = INT32_MIN;
    if (need->read) {
        need->reading = *history->readings.items[next - 1];
        need->from = need->reading.test->day;
    }
    need->retested = next < history->readings.count;
    need->until = need->retested ? history->readings.items[next]->test->day - 1
                  : model->has_season && need->from <= model->season_last ? model->season_last
                                                                          : INT32_MAX;

    /* A need of a year comes anew with each year, of which a season of a year and a bit has one, one of two
     * growing seasons two. They begin on the day of sampling, or with the season if that is later; without
     * a season, or with a test made after it or replaced before it, there is one. */
    day_number first =
        model->has_season && model->season_first > need->from ? model->season_first : need->from;
    day_number last = day < need->until ? day : need->until;
    int whole = need->until == INT32_MAX || need->until <= first
                    ? 1
                    : (int)lround((need->until - first + 1) / DAYS_A_YEAR);
    need->years = 1;
    need->counted_until = need->until;
    if (whole > 1 && last > first) {
        int begun = date_of_day(last).year - date_of_day(first).year; /* in full, or but for some days */
        begun -= day_add_months(first, begun * MONTHS_A_YEAR) > last;
        need->years = begun < whole ? begun + 1 : whole;
    }
    if (need->years < whole)
        need->counted_until = day_add_months(first, need->years * MONTHS_A_YEAR) - 1;
    need_find(season, need);
    need->given = zone_given(season, zone, nutrient, need->from, last);
    need->left = need->lack == LACK_NOTHING ? fmax(0, need->kg_per_m2 - need->given) : (double)NAN;
    return need->lack == LACK_NOTHING;
}

bool need_of(const struct season *season, const struct zone *zone, enum nutrient nutrient,
             struct zone_need *need)
{
    return need_on(season, zone, nutrient, INT32_MAX, need);
}
