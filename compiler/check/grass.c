/* What the lawn's grass asks for, by its entry: nitrogen of a year, months of growth, pH. */
#include "compiler/check/checking.h"
#include "compiler/model/soil_test.h"
#include "compiler/season/acid.h"
#include "compiler/season/need.h"
#include "compiler/season/season_year.h"

#include <math.h>

static void label_range(struct checking *checking, struct report *report, const struct grass_range *range,
                        const struct lawn *lawn)
{
    report_label(checking->model->reports, report, range->place, "what %s needs%s",
                 name_string(lawn->grass->symbol.name), range->region ? " in the lawn's region" : "");
    source_note(checking, report, range->source);
}

static bool lawn_usable(const struct lawn *lawn)
{
    return lawn->grass && !lawn->symbol.broken && !lawn->grass->symbol.broken;
}

/* ---- nitrogen of a year ---- */

struct total { /* of a zone within the days looked at */
    const struct zone *zone;
    double value; /* kg/m2 of the element */
};

/* One report for a lawn: its zones mostly get the same. The zone furthest out is named, the others
 * counted. */
static void report_yearly(struct checking *checking, enum check_id id, const struct lawn *lawn,
                          const struct grass_range *range, struct season_year year, const struct total *worst,
                          size_t zones)
{
    bool below = id == CHECK_YEARLY_BELOW;
    double element = range->nutrient->element_per_unit;
    struct display_pair pair = supply_pair(checking, worst->value / element,
                                           (below ? range->low : range->high) / element, range->nutrient);
    const char *when =
        season_is_long(checking->model)
            ? text_format(checking->arena, "from %s to %s", display_date(checking->arena, year.first),
                          display_date(checking->arena, year.last))
            : "this season";
    struct report *report = finding_add(
        checking, id, ABOUT(&lawn->symbol, &worst->zone->symbol), lawn->grass_place, "%s gets %s %s; %s",
        name_string(worst->zone->symbol.name), pair.value, when,
        text_format(checking->arena, "%s usually %s %s a year", name_string(lawn->grass->symbol.name),
                    below ? "needs at least" : "gets at most", pair.bound));
    if (zones > 1)
        report_note(checking->model->reports, report, "also %zu other %s of this lawn", zones - 1,
                    zones > 2 ? "zones" : "zone");
    label_range(checking, report, range, lawn);
    const struct name *region = NULL;
    for (size_t i = 0; i < lawn->grass->ranges.count && !region; i++)
        if (lawn->grass->ranges.items[i].kind == GRASS_YEARLY)
            region = lawn->grass->ranges.items[i].region;
    if (!range->region && region && lawn->region)
        report_note(checking->model->reports, report,
                    "%s has no yearly range for %s; this one is for any region",
                    name_string(lawn->grass->symbol.name), name_string(lawn->region));
    else if (!range->region && region)
        report_help(checking->model->reports, report,
                    "ranges differ by region; state the lawn's, such as: region %s",
                    text_string(checking->arena, region->text));
}

/* A plan of less than half a year need not give what a year asks for. */
enum { DAYS_TO_JUDGE = 180 };

/* A year of the season at a time; what is short at the end of a season cut off says nothing. */
void check_yearly(struct checking *checking)
{
    const struct model *model = checking->model;
    size_t years = checking->season->dated ? season_year_count(model) : 0;
    for (size_t i = 0; i < model->lawns.count; i++) {
        const struct lawn *lawn = model->lawns.items[i];
        const struct grass_range *range = lawn_range_of(lawn, GRASS_YEARLY, NUTRIENT_N);
        for (size_t j = 0; j < years && lawn_usable(lawn) && range; j++) {
            /* Zones that get none of it are left alone on purpose, and say nothing of the season. */
            struct season_year year = season_year_at(model, j);
            struct total least = {NULL, 0}, most = {NULL, 0};
            size_t below = 0, above = 0;
            for (size_t k = 0; k < lawn->zones.count; k++) {
                const struct zone *zone = lawn->zones.items[k];
                const struct ledger *ledger = &checking->season->ledgers[zone->index];
                double value = 0;
                for (size_t m = 0; m < ledger->applications.count; m++) {
                    const struct application *application = &ledger->applications.items[m];
                    if (application->day >= year.first && application->day <= year.last)
                        value += application->supplied[range->nutrient->nutrient];
                }
                if (value <= 0)
                    continue;
                below += exceeds(range->low, value);
                above += exceeds(value, range->high);
                if (!least.zone || value < least.value)
                    least = (struct total){zone, value};
                if (!most.zone || value > most.value)
                    most = (struct total){zone, value};
            }
            if (below && year.last - year.first >= DAYS_TO_JUDGE)
                report_yearly(checking, CHECK_YEARLY_BELOW, lawn, range, year, &least, below);
            if (above)
                report_yearly(checking, CHECK_YEARLY_ABOVE, lawn, range, year, &most, above);
        }
    }
}

/* ---- months of growth ---- */

/* Once for a statement and day. The months of growth may run over New Year. */
void check_growth(struct checking *checking)
{
    const struct nutrient_form *form = nutrient_trade_form(NUTRIENT_N);
    for (size_t i = 0; i < checking->model->lawns.count; i++) {
        const struct lawn *lawn = checking->model->lawns.items[i];
        const struct grass_range *range = lawn_range_of(lawn, GRASS_MONTHS, NUTRIENT_N);
        for (size_t j = 0; lawn_usable(lawn) && range && j < lawn->zones.count; j++) {
            const struct ledger *ledger = &checking->season->ledgers[lawn->zones.items[j]->index];
            int low = (int)range->low, high = (int)range->high;
            for (size_t k = 0; k < ledger->applications.count; k++) {
                const struct application *application = &ledger->applications.items[k];
                int month = date_of_day(application->day).month;
                bool grows = low <= high ? month >= low && month <= high : month >= low || month <= high;
                if (grows || !(application->supplied[NUTRIENT_N] > 0))
                    continue;
                struct part lead = application_lead(application, form);
                if (!finding_once(checking, CHECK_GROWTH_DORMANT, lead.amount->place,
                                  (uint32_t)application->day))
                    continue;
                const char *what = text_format(
                    checking->arena, "%s %s on %s", application_names(checking, application, form),
                    lead.done ? "applied N" : "applies N", display_date(checking->arena, application->day));
                struct report *report = finding_add(
                    checking, CHECK_GROWTH_DORMANT,
                    ABOUT(&lead.occurrence->treatment->symbol, &lead.amount->zone->symbol, &lawn->symbol),
                    lead.amount->place, "%s; %s grows from %s to %s", what,
                    name_string(lawn->grass->symbol.name), month_name(low), month_name(high));
                label_range(checking, report, range, lawn);
            }
        }
    }
}

/* ---- pH ---- */

/* Once for a soil test and lawn. */
void check_ph(struct checking *checking)
{
    struct reports *reports = checking->model->reports;
    for (size_t i = 0; i < checking->model->lawns.count; i++) {
        const struct lawn *lawn = checking->model->lawns.items[i];
        const struct grass_range *range = lawn_range_of(lawn, GRASS_PH, NUTRIENT_N);
        for (size_t j = 0; lawn_usable(lawn) && range && j < lawn->zones.count; j++) {
            const struct soil_test *test = soil_test_with_ph(lawn->zones.items[j]);
            const struct table_column *column;
            if (!test || !finding_once(checking, CHECK_PH_OUTSIDE, test->symbol.statement, i))
                continue;
            double ph = soil_test_mean(test, ANALYTE_PH, &column);
            if (!exceeds(range->low, ph) && !exceeds(ph, range->high))
                continue;
            const char *does_well = text_format(
                checking->arena, "%s than the %s to %s that %s does well in",
                ph < range->low ? "lower" : "higher", number_short(checking->arena, range->low),
                number_short(checking->arena, range->high), name_string(lawn->grass->symbol.name));
            struct report *report =
                finding_add(checking, CHECK_PH_OUTSIDE, ABOUT(&lawn->symbol), column->place,
                            "the mean pH of %s is %s, %s", name_string(lawn->symbol.name),
                            number_short(checking->arena, ph), does_well);
            label_range(checking, report, range, lawn);
            report_help(reports, report,
                        "use the laboratory's recommendation of lime or sulfur: how much, and how often");
        }
    }
}

/* ---- acid ---- */

/* The season's fertilizers against its lime, where the pH is too low already. */
void check_acidifying(struct checking *checking)
{
    const struct nutrient_form *lime = nutrient_trade_form(NUTRIENT_LIME);
    struct reports *reports = checking->model->reports;
    for (size_t i = 0; i < checking->model->zones.count; i++) {
        const struct zone *zone = checking->model->zones.items[i];
        const struct lawn *lawn = zone->lawn;
        struct lime_need need;
        if (!lawn_usable(lawn) || zone->symbol.broken || !zone->tests.count)
            continue;
        struct acid_balance balance = zone_acid(checking->season, zone);
        lime_need_of(checking->season, zone, &need);
        if (need.verdict != PH_LOW || !exceeds(balance.acid, balance.lime))
            continue;
        double low = isnan(lawn->goal_ph) ? need.range->low : lawn->goal_ph;
        struct report *report = finding_add(
            checking, CHECK_ACIDIFYING, ABOUT(&zone->symbol, &lawn->symbol), need.test->symbol.place,
            "pH of %s is %s, below %s, and its fertilizers make it more acid", name_string(zone->symbol.name),
            number_short(checking->arena, need.ph), number_short(checking->arena, low));
        report_note(reports, report, "their acid takes %s to neutralize; the season adds %s",
                    check_supply_text(checking, balance.acid, lime),
                    balance.lime > 0 ? check_supply_text(checking, balance.lime, lime) : "no lime");
        if (balance.unknown)
            report_note(reports, report, "not counted: %s, whose acidity is not known",
                        name_string(balance.unknown->symbol.name));
        report_help(reports, report,
                    "lime as the laboratory recommends, or use a nitrogen source that makes less acid");
    }
}
