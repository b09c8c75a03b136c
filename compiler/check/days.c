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

static bool bars_single(const struct limit *limit, day_number day)
{
    for (size_t i = 0; i < limit->closed_days.count; i++)
        if (limit->closed_days.items[i] == day)
            return true;
    return false;
}

static bool bars_weekday(const struct limit *limit, day_number day)
{
    return (limit->weekdays & 1U << weekday_of_day(day)) == 0;
}

/* A kind of limit on days: whether it bars one, and how that is said. */
struct day_limit {
    enum limit_kind kind;
    bool (*bars)(const struct limit *limit, day_number day);
    enum check_id planned, recorded;
    const char *(*says)(struct checking *checking, const struct limit *limit);
};

const char *limit_nutrients_text(struct checking *checking, const struct limit *limit)
{
    if (limit->fertilizer)
        return "fertilizer";
    const char **names = ARENA_ARRAY(checking->arena, limit->nutrients.count + 1, const char *);
    for (size_t i = 0; i < limit->nutrients.count; i++)
        names[i] = limit->nutrients.items[i]->name;
    return list_text(checking->arena, names, limit->nutrients.count, " and ");
}

static const char *says_closed(struct checking *checking, const struct limit *limit)
{
    if (!limit->nutrients.count)
        return "the day is closed to every application";
    return text_format(checking->arena, "the day is closed to %s", limit_nutrients_text(checking, limit));
}

static const char *says_weekdays(struct checking *checking, const struct limit *limit)
{
    const char *names[7];
    size_t count = 0;
    for (int day = MONDAY; day <= SUNDAY; day++)
        if (limit->weekdays & 1U << day)
            names[count++] = weekday_name((enum weekday)day);
    return text_format(checking->arena, "applications are only on %s",
                       list_text(checking->arena, names, count, " and "));
}

static const struct day_limit DAY_LIMITS[] = {
    {LIMIT_CLOSED, dose_window_holds, CHECK_CLOSED_DAY, CHECK_RECORD_CLOSED_DAY, says_closed},
    {LIMIT_CLOSED_DAYS, bars_single, CHECK_CLOSED_DAY, CHECK_RECORD_CLOSED_DAY, says_closed},
    {LIMIT_WEEKDAYS, bars_weekday, CHECK_CLOSED_WEEKDAY, CHECK_RECORD_CLOSED_WEEKDAY, says_weekdays},
};

struct part limit_first_part(const struct limit *limit, const struct application *application)
{
    struct part lead = {0};
    for (size_t i = 0; i < limit->nutrients.count && !lead.amount; i++)
        lead = application_lead(application, limit->nutrients.items[i]);
    return limit->nutrients.count ? lead : application_lead(application, NULL);
}

/* Told once for a treatment, day and limit: it is the same in every zone. */
static void report_barred(struct checking *checking, const struct day_limit *row, const struct limit *limit,
                          uint64_t limit_at, const struct application *application)
{
    struct part lead = limit_first_part(limit, application);
    const struct occurrence *occurrence = lead.occurrence;
    assert(lead.amount && "an application that a limit speaks of holds what it speaks of");
    enum check_id id = occurrence->done ? row->recorded : row->planned;
    if (!finding_once(checking, id, occurrence_place(occurrence),
                      limit_at << 32 | (uint32_t)application->day))
        return;
    struct report *report = limit_finding(
        checking, limit, id,
        ABOUT(&lead.amount->zone->symbol, &occurrence->treatment->symbol, &lead.amount->product->symbol),
        occurrence_place(occurrence), "%s %s on %s; %s", name_string(occurrence->treatment->symbol.name),
        occurrence->done ? "was done" : "is planned", display_date(checking->arena, application->day),
        row->says(checking, limit));
    limit_label(checking, report, limit);
}

static void check_day_limit(struct checking *checking, const struct day_limit *row)
{
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, row->kind, &at)) != NULL;)
        for (size_t i = 0; i < checking->model->zones.count; i++) {
            const struct ledger *ledger = &checking->season->ledgers[i];
            for (size_t j = 0; j < ledger->applications.count && limit_binds(limit, ledger->zone); j++) {
                const struct application *application = &ledger->applications.items[j];
                if (limit_concerns(limit, application->supplied) && row->bars(limit, application->day))
                    report_barred(checking, row, limit, at, application);
            }
        }
}

static bool limit_speaks_of(const struct limit *limit, const struct product *product)
{
    for (size_t i = 0; i < limit->nutrients.count; i++)
        if (product_supplies(product, limit->nutrients.items[i]->nutrient))
            return true;
    return limit->nutrients.count == 0;
}

bool limit_bars_product(const struct limit *limit, const struct product *product, const struct zone *zone,
                        day_number day)
{
    if (!limit_binds(limit, zone) || !limit_concerns_product(limit, product) ||
        !limit_speaks_of(limit, product))
        return false;
    if (limit->kind == LIMIT_DORMANT)
        return lawn_dormant(zone->lawn, day);
    for (size_t i = 0; i < sizeof DAY_LIMITS / sizeof *DAY_LIMITS; i++)
        if (DAY_LIMITS[i].kind == limit->kind)
            return DAY_LIMITS[i].bars(limit, day);
    return false;
}

static void check_day_limits(struct checking *checking, enum check_id planned)
{
    for (size_t i = 0; i < sizeof DAY_LIMITS / sizeof *DAY_LIMITS; i++)
        if (DAY_LIMITS[i].planned == planned)
            check_day_limit(checking, &DAY_LIMITS[i]);
}

void check_closed_days(struct checking *checking)
{
    check_day_limits(checking, CHECK_CLOSED_DAY);
}

void check_weekdays(struct checking *checking)
{
    check_day_limits(checking, CHECK_CLOSED_WEEKDAY);
}

/* ---- the season ---- */

static void report_outside(struct checking *checking, const struct occurrence *occurrence)
{
    const struct model *model = checking->model;
    bool early = occurrence->day < model->season_first;
    const struct treatment *treatment = occurrence->treatment;
    struct place place = occurrence->done || !treatment->whens.count ? occurrence_place(occurrence)
                                                                     : treatment->whens.items[0].place;
    struct report *report = finding_add(
        checking, CHECK_OUTSIDE_SEASON, ABOUT(&treatment->symbol), place, "%s %s on %s; the season %s on %s",
        name_string(treatment->symbol.name), occurrence->done ? "was done" : "falls",
        display_date(checking->arena, occurrence->day), early ? "begins" : "ends",
        display_date(checking->arena, early ? model->season_first : model->season_last));
    report_label(checking->model->reports, report, model->season_place, "the season");
}

void check_outside_season(struct checking *checking)
{
    const struct model *model = checking->model;
    for (size_t i = 0; model->has_season && i < checking->season->calendar_count; i++) {
        const struct occurrence *occurrence = checking->season->calendar[i];
        if (occurrence->skipped || occurrence->treatment->symbol.broken)
            continue;
        if (occurrence->day < model->season_first || occurrence->day > model->season_last)
            report_outside(checking, occurrence);
    }
}

/* ---- what is said of the day ---- */

static void report_no_when(struct checking *checking, const struct occurrence *occurrence)
{
    const struct treatment *treatment = occurrence->treatment;
    struct report *report =
        finding_add(checking, CHECK_NO_WHEN, ABOUT(&treatment->symbol), treatment->symbol.place,
                    "%s has no `when`; the first day open to it is %s", name_string(treatment->symbol.name),
                    display_date(checking->arena, occurrence->day));
    report_help(checking->model->reports, report, "say when: `when on DAY`, or `when between DAY and DAY`");
}

static void report_moot(struct checking *checking, const struct occurrence *occurrence)
{
    const struct when *when = occurrence->moot;
    const struct treatment *treatment = occurrence->treatment;
    if (!finding_once(checking, CHECK_WHEN_MOOT, when->place, 0))
        return;
    struct report *report =
        finding_add(checking, CHECK_WHEN_MOOT, ABOUT(&treatment->symbol, &when->other->symbol), when->place,
                    "%s was skipped, so this says nothing of the day of %s",
                    name_string(when->other->symbol.name), name_string(treatment->symbol.name));
    if (occurrence->dated)
        report_note(checking->model->reports, report, "%s falls on %s by what else is said of it",
                    name_string(treatment->symbol.name), display_date(checking->arena, occurrence->day));
    report_help(checking->model->reports, report, "say when it is to be done now");
}

void check_whens(struct checking *checking)
{
    const struct season *season = checking->season;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        if (occurrence->treatment->symbol.broken || occurrence->done || occurrence->skipped)
            continue;
        if (occurrence->dated && occurrence->treatment->whens.count == 0)
            report_no_when(checking, occurrence);
        if (occurrence->moot)
            report_moot(checking, occurrence);
    }
}
