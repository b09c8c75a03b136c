/* The days of records beside the days the plan asked for. */
#include "compiler/check/checking.h"

/* ---- order ---- */

/* What the statement asked for, where `day` does not keep it with the other's day; NULL where it does. */
static const char *ask_text(struct checking *checking, const struct when *when, day_number other,
                            day_number day)
{
    const char *wait_text = display_duration(checking->arena, when->wait);
    day_number after = day_after(other, when->wait);
    day_number before = day_add_months(other, -when->wait.months) - when->wait.days;
    switch (when->kind) {
    case WHEN_SAME_DAY:
        return day != other ? "on the same day" : NULL;
    case WHEN_AT_LEAST_AFTER:
        return day < after ? text_format(checking->arena, "at least %s after", wait_text) : NULL;
    case WHEN_AT_LEAST_BEFORE:
        return day > before ? text_format(checking->arena, "at least %s before", wait_text) : NULL;
    case WHEN_WITHIN:
        return day < other || day > after ? text_format(checking->arena, "within %s after", wait_text) : NULL;
    case WHEN_EXACTLY_AFTER:
        return day != after ? text_format(checking->arena, "%s after", wait_text) : NULL;
    case WHEN_EXACTLY_BEFORE:
        return day != before ? text_format(checking->arena, "%s before", wait_text) : NULL;
    case WHEN_ON:
    case WHEN_BETWEEN:
    case WHEN_FROM:
    case WHEN_BY:
    case WHEN_EVERY:
    case WHEN_WEATHER:
        return NULL;
    }
    return NULL;
}

/* Which time of the other a statement means: as season.h tells. */
static const struct occurrence *other_of(const struct season *season, const struct when *when,
                                         const struct occurrence *occurrence)
{
    uint32_t first = season->first_of[when->other->index], end = season->first_of[when->other->index + 1];
    bool before = when->kind == WHEN_AT_LEAST_BEFORE || when->kind == WHEN_EXACTLY_BEFORE;
    const struct occurrence *other = NULL;
    if (when->kind == WHEN_SAME_DAY && end - first == (uint32_t)occurrence->times)
        return &season->occurrences.items[first + (uint32_t)occurrence->time - 1];
    for (uint32_t i = 0; i < end - first && !other; i++) {
        const struct occurrence *time = &season->occurrences.items[before ? first + i : end - 1 - i];
        if (!time->skipped)
            other = time;
    }
    first = season->added_of[when->other->index];
    end = season->added_of[when->other->index + 1];
    for (uint32_t i = first; i < end && !(before && other); i++) {
        const struct occurrence *added = &season->occurrences.items[i];
        if (!other || (other->done && added->day > other->day))
            other = added;
    }
    return other;
}

/* Of a part, or beside one, the same day is not asked for: the rest may have kept it. */
static void check_relation(struct checking *checking, const struct occurrence *occurrence,
                           const struct when *when)
{
    const struct occurrence *other = when->other ? other_of(checking->season, when, occurrence) : NULL;
    bool parts = occurrence->share != SHARE_WHOLE || (other && other->share != SHARE_WHOLE);
    if (!other || !other->done || (when->kind == WHEN_SAME_DAY && parts))
        return;
    int days = occurrence->day - other->day;
    const char *ask = ask_text(checking, when, other->day, occurrence->day);
    const char *first = name_string(other->treatment->symbol.name);
    if (!ask)
        return;
    const char *distance = days == 0 ? "on the same day as"
                                     : text_format(checking->arena, "%s %s",
                                                   display_days(checking->arena, days < 0 ? -days : days),
                                                   days < 0 ? "before" : "after");
    struct report *report = finding_add(
        checking, CHECK_RECORD_ORDER, ABOUT(&occurrence->treatment->symbol, &other->treatment->symbol),
        occurrence_place(occurrence), "%s was done %s %s; the plan says %s",
        name_string(occurrence->treatment->symbol.name), distance, first, ask);
    report_label(checking->model->reports, report, occurrence_place(other), "%s on %s", first,
                 display_date(checking->arena, other->day));
    report_label(checking->model->reports, report, when->place, "the plan");
}

/* Of what was done within its count of times: in the order of the times, as far from others as was asked, and
 * in its windows. */
void check_record_days(struct checking *checking)
{
    struct reports *reports = checking->model->reports;
    const struct season *season = checking->season;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        const struct treatment *treatment = occurrence->treatment;
        const char *name = name_string(treatment->symbol.name);
        if (!occurrence->done || occurrence->share == SHARE_BEYOND || treatment->symbol.broken ||
            occurrence->record->symbol.broken)
            continue;
        bool later = occurrence->time > 1 && occurrence->share != SHARE_PART;
        const struct occurrence *earlier = later ? occurrence - 1 : NULL;
        if (earlier && earlier->done && earlier->day > occurrence->day) {
            struct report *report = finding_add(
                checking, CHECK_RECORD_ORDER, ABOUT(&treatment->symbol), occurrence_place(occurrence),
                "time %d of %s is recorded before time %d", occurrence->time, name, earlier->time);
            report_label(reports, report, occurrence_place(earlier), "time %d on %s", earlier->time,
                         display_date(checking->arena, earlier->day));
        }
        for (size_t j = 0; j < treatment->whens.count; j++)
            check_relation(checking, occurrence, &treatment->whens.items[j]);
        for (size_t j = 0; j < treatment->whens.count; j++) {
            const struct when *when = &treatment->whens.items[j];
            bool has_first = when->kind == WHEN_ON || when->kind == WHEN_BETWEEN || when->kind == WHEN_FROM;
            bool has_last = when->kind == WHEN_ON || when->kind == WHEN_BETWEEN || when->kind == WHEN_BY;
            if (!(has_first && occurrence->day < when->first) && !(has_last && occurrence->day > when->last))
                continue;
            struct report *report = finding_add(
                checking, CHECK_RECORD_OFF_WINDOW, ABOUT(&treatment->symbol), occurrence_place(occurrence),
                "%s was done on %s; the plan said `%s`", name, display_date(checking->arena, occurrence->day),
                place_words(checking->arena, when->place));
            report_label(reports, report, when->place, "the plan");
        }
    }
}
