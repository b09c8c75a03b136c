/* What the laboratory recommends beside what the scale gives, where the plan does not say whom it follows. */
#include "compiler/check/checking.h"
#include "compiler/season/need.h"

/* Whether the two differ by more than no spreader and no laboratory tells apart, or the scale calls low what
 * the laboratory recommends none of. */
static bool recommendation_differs(const struct zone_need *need)
{
    const struct recommendation *recommended = need->reading.recommended;
    double least = recommended->low * need->years, most = recommended->high * need->years;
    if (!(most > 0) && need->reading.need == NEED_LOW)
        return true;
    if (need->scale_lack != LACK_NOTHING)
        return false;
    const struct nutrient_form *form = nutrient_trade_form(need->nutrient);
    double greater = fmax(most, need->scale_most) / form->element_per_unit;
    double gap = fmax(least - need->scale_most, need->scale_least - most) / form->element_per_unit;
    return exceeds(gap, check_need_slack(greater, false));
}

static const char *amount_text(struct checking *checking, double low, double high,
                               const struct nutrient_form *form)
{
    if (isnan(high))
        return "no amount";
    if (!(high > 0))
        return text_format(checking->arena, "no %s", form->name);
    const char *most = check_supply_text(checking, high / form->element_per_unit, form);
    return exceeds(high, low) ? text_format(checking->arena, "up to %s", most) : most;
}

/* The scale counts until the plan says whom it follows. Once a nutrient, on the first zone where the two
 * differ: amounts differ by zone only where the grass's use does. */
void check_recommendations(struct checking *checking, const struct soil_test *test)
{
    for (size_t i = 0; i < test->recommends.count && test->follow == FOLLOW_UNSTATED; i++) {
        const struct recommendation *recommended = &test->recommends.items[i];
        const struct nutrient_form *form = nutrient_trade_form(recommended->nutrient->nutrient);
        struct zone_need need;
        bool differs = false;
        for (size_t j = 0; j < test->zones.count && !differs; j++) {
            need_on(checking->season, test->zones.items[j], form->nutrient, test->day, &need);
            differs = need.read && need.reading.test == test && !need.reading.laboratory &&
                      need.rule != NEED_BY_LABORATORY && recommendation_differs(&need);
        }
        if (!differs)
            continue;
        recommended = need.reading.recommended;
        const struct symbol *zone = &need.zone->symbol, *scale = &need.reading.scale->scale->symbol;
        const char *of_laboratory =
            amount_text(checking, recommended->low * need.years, recommended->high * need.years, form);
        struct report *report =
            finding_add(checking, CHECK_SOIL_RECOMMENDATION_DIFFERS, ABOUT(zone, scale), recommended->place,
                        "the laboratory recommends %s for %s; %s gives %s, which counts", of_laboratory,
                        name_string(zone->name), name_string(scale->name),
                        amount_text(checking, need.scale_least, need.scale_most, form));
        report_label(checking->model->reports, report, need.reading.scale->place, "the scale");
        source_note(checking, report, recommended->source);
        report_help(
            checking->model->reports, report,
            "say in the soil test which of the two the plan follows: follow laboratory, or follow scale");
    }
}
