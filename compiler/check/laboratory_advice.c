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

/* The scale counts until the plan says whom it follows. */
static void report_differs(struct checking *checking, const struct zone_need *need)
{
    const struct recommendation *recommended = need->reading.recommended;
    const struct nutrient_form *form = nutrient_trade_form(need->nutrient);
    const struct symbol *scale = &need->reading.scale->scale->symbol;
    const char *of_laboratory =
        amount_text(checking, recommended->low * need->years, recommended->high * need->years, form);
    struct report *report =
        finding_add(checking, CHECK_SOIL_RECOMMENDATION_DIFFERS, ABOUT(&need->zone->symbol, scale),
                    recommended->place, "the laboratory recommends %s for %s; %s gives %s, which counts",
                    of_laboratory, name_string(need->zone->symbol.name), name_string(scale->name),
                    amount_text(checking, need->scale_least, need->scale_most, form));
    report_label(checking->model->reports, report, need->reading.scale->place, "the scale");
    source_note(checking, report, recommended->source);
    report_help(checking->model->reports, report,
                "say in the soil test which of the two the plan follows: follow laboratory, or follow scale");
}

/* Once a nutrient, on the first zone where it is so: amounts differ by zone only where the grass's use
 * does. */
static void check_recommendation(struct checking *checking, const struct soil_test *test,
                                 const struct recommendation *recommended)
{
    for (size_t i = 0; i < test->zones.count; i++) {
        struct zone_need need;
        need_on(checking->season, test->zones.items[i], recommended->nutrient->nutrient, test->day, &need);
        if (!need.read || need.reading.test != test || need.reading.laboratory ||
            need.rule == NEED_BY_LABORATORY || !recommendation_differs(&need))
            continue;
        report_differs(checking, &need);
        return;
    }
}

void check_recommendations(struct checking *checking)
{
    for (size_t i = 0; i < checking->model->soil_tests.count; i++) {
        const struct soil_test *test = checking->model->soil_tests.items[i];
        for (size_t j = 0;
             j < test->recommends.count && test->follow == FOLLOW_UNSTATED && !test->symbol.broken; j++)
            check_recommendation(checking, test, &test->recommends.items[j]);
    }
}
