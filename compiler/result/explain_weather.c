/* The weather of a day: what is asked of it, what it is known or expected to be, and how often it was not so.
 */
#include "compiler/result/explanation.h"
#include "compiler/season/risk.h"
#include "compiler/season/weather_text.h"

static void explain_bound(struct explanation *explanation, const struct bound *bound, day_number day,
                          int depth)
{
    struct weather_look look = watch_day(bound->watch, day);
    struct weather_odds odds = watch_odds(bound->watch, day);
    const char *text =
        weather_text(explanation->arena, explanation->model, watch_condition(bound->watch), &look);
    const char *years = "";
    if (odds.known && !look.by_years)
        years = text_format(explanation->arena, "; kept %s",
                            years_text(explanation->arena, odds.kept, odds.known));
    explain_line(explanation, depth, "%s: %s%s", explain_statement(explanation, bound->place), text, years);
}

/* "in 1 of 4 years" */
static const char *risk_years(struct explanation *explanation, struct risk risk)
{
    return years_text(explanation->arena, risk.broken, risk.known);
}

static void explain_risk(struct explanation *explanation, const struct occurrence *occurrence, int depth)
{
    struct risk risk = season_risk(explanation->season, occurrence, occurrence->day), least;
    day_number day;
    if (risk.known == 0)
        return;
    const char *found = risk.broken
                            ? text_format(explanation->arena, "Risk: that day's weather was not so %s",
                                          risk_years(explanation, risk))
                            : text_format(explanation->arena, "Risk: that day's weather was so %s",
                                          years_text(explanation->arena, risk.known, risk.known));
    if (risk.broken && season_least_risk(explanation->season, occurrence, &day, &least) &&
        day != occurrence->day)
        explain_line(explanation, depth, "%s; least on %s, %s.", found, display_date(explanation->arena, day),
                     risk_years(explanation, least));
    else
        explain_line(explanation, depth, "%s.", found);
}

void explain_day_weather(struct explanation *explanation, const struct occurrence *occurrence, int depth)
{
    const struct bound *bound;
    bool any = false;
    for (uint32_t at = 0; (bound = season_weather_bound(explanation->season, occurrence, &at)) != NULL;) {
        explain_bound(explanation, bound, occurrence->day, depth);
        any = true;
    }
    if (any)
        explain_risk(explanation, occurrence, depth);
}
