/* Days: closed ones, weekdays, days outside the season, and treatments whose day is left open. The dates were
 * chosen to keep these; here they are looked at again by other means, and records, which nobody chose, for
 * the first time. */
#include "compiler/check/checking.h"

#include <assert.h>
#include <math.h>

/* ---- closed days and weekdays ---- */

bool check_most_holds(const struct checking *checking, const struct limit *limit,
                      const struct application *application)
{
    struct reading high = season_reading(checking->season, WEATHER_HIGH, application->day);
    bool known = high.origin != READING_NONE;
    double n = application->supplied[NUTRIENT_N], slow = application->supplied[NUTRIENT_SLOW_N];
    if (limit->in_window && !dose_window_holds(limit, application->day))
        return false;
    if (!isnan(limit->above) && !(known && exceeds(high.value, limit->above)))
        return false;
    if (!isnan(limit->unless_below) && known && exceeds(limit->unless_below, high.value))
        return false;
    return isnan(limit->unless_slow) || exceeds(limit->unless_slow, slow / n);
}

/* Whether a limit on days bars this one. */
static bool limit_bars(const struct limit *limit, day_number day)
{
    bool barred = limit->kind == LIMIT_CLOSED && dose_window_holds(limit, day);
    for (size_t i = 0; limit->kind == LIMIT_CLOSED_DAYS && i < limit->closed_days.count; i++)
        barred = barred || limit->closed_days.items[i] == day;
    return barred || (limit->kind == LIMIT_WEEKDAYS && !(limit->weekdays & 1U << weekday_of_day(day)));
}

const char *limit_nutrients_text(struct checking *checking, const struct limit *limit)
{
    if (limit->fertilizer)
        return "fertilizer";
    const char **names = ARENA_ARRAY(checking->arena, limit->nutrients.count + 1, const char *);
    for (size_t i = 0; i < limit->nutrients.count; i++)
        names[i] = limit->nutrients.items[i]->name;
    return list_text(checking->arena, names, limit->nutrients.count, " and ");
}

/* "a limit closes the day to N" */
static const char *bar_text(struct checking *checking, const struct limit *limit)
{
    const char *names[7];
    size_t count = 0;
    for (int day = MONDAY; day <= SUNDAY && limit->kind == LIMIT_WEEKDAYS; day++)
        if (limit->weekdays & 1U << day)
            names[count++] = weekday_name((enum weekday)day);
    if (limit->kind == LIMIT_WEEKDAYS)
        return text_format(checking->arena, "a limit allows applications only on %s",
                           list_text(checking->arena, names, count, " and "));
    return text_format(checking->arena, "a limit closes the day to %s",
                       limit->nutrients.count ? limit_nutrients_text(checking, limit) : "all applications");
}

struct part limit_first_part(const struct limit *limit, const struct application *application)
{
    struct part lead = {0};
    for (size_t i = 0; i < limit->nutrients.count && !lead.amount; i++)
        lead = application_lead(application, limit->nutrients.items[i]);
    return limit->nutrients.count ? lead : application_lead(application, NULL);
}

/* As the limit would bar an application of the product alone. */
bool limit_bars_product(const struct limit *limit, const struct product *product, const struct zone *zone,
                        day_number day)
{
    bool speaks = limit->nutrients.count == 0;
    for (size_t i = 0; i < limit->nutrients.count; i++)
        speaks = speaks || product_supplies(product, limit->nutrients.items[i]->nutrient);
    if (!speaks || !limit_binds(limit, zone) || !limit_concerns_product(limit, product))
        return false;
    if (limit->kind == LIMIT_DORMANT)
        return lawn_dormant(zone->lawn, day);
    return limit_bars(limit, day);
}

/* The same in every zone, so once for a treatment, day and limit. */
void check_closed_days(struct checking *checking)
{
    static const enum limit_kind kinds[] = {LIMIT_CLOSED, LIMIT_CLOSED_DAYS, LIMIT_WEEKDAYS};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        const struct limit *limit;
        for (size_t at = 0; (limit = limit_next(checking, kinds[i], &at)) != NULL;)
            for (size_t j = 0; j < checking->model->zones.count; j++) {
                const struct ledger *ledger = &checking->season->ledgers[j];
                bool bound = ledger_bound(checking, limit, ledger), weekday = kinds[i] == LIMIT_WEEKDAYS;
                for (size_t k = 0; k < ledger->applications.count && bound; k++) {
                    const struct application *application = &ledger->applications.items[k];
                    if (!limit_concerns(limit, application->supplied) || !limit_bars(limit, application->day))
                        continue;
                    struct part lead = limit_first_part(limit, application);
                    const struct occurrence *occurrence = lead.occurrence;
                    assert(lead.amount && "an application that a limit speaks of holds what it speaks of");
                    enum check_id planned = weekday ? CHECK_CLOSED_WEEKDAY : CHECK_CLOSED_DAY;
                    enum check_id recorded = weekday ? CHECK_RECORD_CLOSED_WEEKDAY : CHECK_RECORD_CLOSED_DAY;
                    enum check_id id = occurrence->done ? recorded : planned;
                    uint64_t number = at * LIMIT_KINDS + kinds[i]; /* of the limit among those of all kinds */
                    if (!finding_once(checking, id, occurrence_place(occurrence),
                                      number << 32 | (uint32_t)application->day))
                        continue;
                    struct report *report = limit_finding(
                        checking, limit, id,
                        ABOUT(&lead.amount->zone->symbol, &occurrence->treatment->symbol,
                              &lead.amount->product->symbol),
                        occurrence_place(occurrence), "%s %s on %s; %s",
                        name_string(occurrence->treatment->symbol.name),
                        occurrence->done ? "was done" : "is planned",
                        display_date(checking->arena, application->day), bar_text(checking, limit));
                    limit_label(checking, report, limit);
                }
            }
    }
}

/* ---- the season ---- */

/* What is dated stands in the season; a `when` may name days outside it, and so may a record. */
void check_outside_season(struct checking *checking)
{
    const struct model *model = checking->model;
    struct occurrence *const *calendar = checking->season->calendar;
    size_t count = model->has_season ? checking->season->calendar_count : 0;
    if (!count || (calendar[0]->day >= model->season_first && calendar[count - 1]->day <= model->season_last))
        return;
    for (size_t i = 0; i < count; i++) {
        const struct occurrence *occurrence = calendar[i];
        const struct treatment *treatment = occurrence->treatment;
        bool early = occurrence->day < model->season_first;
        if (occurrence->skipped || treatment->symbol.broken ||
            (!early && occurrence->day <= model->season_last))
            continue;
        struct place place = occurrence->done || !treatment->whens.count ? occurrence_place(occurrence)
                                                                         : treatment->whens.items[0].place;
        const char *what = text_format(checking->arena, "%s %s on %s", name_string(treatment->symbol.name),
                                       occurrence->done ? "was done" : "falls",
                                       display_date(checking->arena, occurrence->day));
        struct report *report =
            finding_add(checking, CHECK_OUTSIDE_SEASON, ABOUT(&treatment->symbol), place,
                        "%s; the season %s on %s", what, early ? "begins" : "ends",
                        display_date(checking->arena, early ? model->season_first : model->season_last));
        report_label(model->reports, report, model->season_place, "the season");
    }
}

/* ---- what is said of the day ---- */

/* A treatment whose day nobody stated, or whose `when` names what was skipped. */
void check_whens(struct checking *checking)
{
    struct reports *reports = checking->model->reports;
    for (size_t i = 0; i < checking->season->occurrences.count; i++) {
        const struct occurrence *occurrence = &checking->season->occurrences.items[i];
        const struct treatment *treatment = occurrence->treatment;
        const struct when *moot = checking->season->moot ? checking->season->moot[i] : NULL;
        const char *name = name_string(treatment->symbol.name);
        if (treatment->symbol.broken || occurrence->done || occurrence->skipped)
            continue;
        if (occurrence->dated && treatment->whens.count == 0) {
            struct report *report =
                finding_add(checking, CHECK_NO_WHEN, ABOUT(&treatment->symbol), treatment->symbol.place,
                            "%s has no `when`; its first open day is %s", name,
                            display_date(checking->arena, occurrence->day));
            report_help(reports, report, "add `when on DAY`, or `when between DAY and DAY`");
        }
        if (!moot || !finding_once(checking, CHECK_WHEN_MOOT, moot->place, 0))
            continue;
        struct report *report = finding_add(
            checking, CHECK_WHEN_MOOT, ABOUT(&treatment->symbol, &moot->other->symbol), moot->place,
            "%s was skipped, so this does not date %s", name_string(moot->other->symbol.name), name);
        if (occurrence->dated)
            report_note(reports, report, "%s falls on %s by its other statements", name,
                        display_date(checking->arena, occurrence->day));
        report_help(reports, report, "state a new `when`");
    }
}
