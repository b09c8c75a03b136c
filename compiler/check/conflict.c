/* Why there is no day: the timetable's contradictions, told in the plan's words, each step at its statement.
 */
#include "compiler/check/checking.h"
#include "compiler/season/weather_text.h"

#include <stdlib.h>

enum { STEPS_TOLD = 16, MEMBERS_NAMED = 3 };

static const char *const share_words[] = {[SHARE_WHOLE] = "",
                                          [SHARE_PART] = "a part of ",
                                          [SHARE_REST] = "the rest of ",
                                          [SHARE_BEYOND] = "one more "};

static const char *occurrence_text(struct checking *checking, const struct occurrence *occurrence)
{
    const char *name = thing_text(checking, &occurrence->treatment->thing);
    const char *share = share_words[occurrence->share];
    if (occurrence->times == 1 || occurrence->share == SHARE_BEYOND)
        return text_format(checking->arena, "%s%s", share, name);
    return text_format(checking->arena, "%s%s (time %d of %d)", share, name, occurrence->time,
                       occurrence->times);
}

static const struct occurrence *node_member(const struct season *season, uint32_t node, uint32_t at)
{
    return &season->occurrences.items[season->members[season->member_start[node] + at]];
}

/* "spring-feed", or "spring-feed and green-up" of what shares a day. */
static const char *node_text(struct checking *checking, uint32_t node)
{
    const struct season *season = checking->season;
    uint32_t count = season->member_start[node + 1] - season->member_start[node];
    const char *names[MEMBERS_NAMED + 1];
    uint32_t named = count > MEMBERS_NAMED ? MEMBERS_NAMED : count;
    for (uint32_t i = 0; i < named; i++)
        names[i] = occurrence_text(checking, node_member(season, node, i));
    if (count > named)
        names[named++] = text_format(checking->arena, "%u more", count - MEMBERS_NAMED);
    return list_text(checking->arena, names, named);
}

static const struct bound *step_bound(const struct season *season, const struct timetable_step *step)
{
    bool has_bound = step->cause != TIMETABLE_NONE && step->kind != TIMETABLE_RECORD;
    return has_bound ? &season->bounds.items[step->cause] : NULL;
}

/* ---- steps ---- */

static const char *limit_reason(struct checking *checking, const struct timetable_step *step,
                                const struct bound *bound, const char *zone)
{
    const struct limit *limit = bound->limit;
    const char *days = display_days(checking->arena, bound->days);
    if (limit->kind == LIMIT_ORDER)
        return text_format(checking->arena, "the limit states the order%s: ", zone);
    if (limit->kind == LIMIT_FOLLOW && step->least < 0)
        return text_format(checking->arena, "the limit allows %s from one to the other%s: ", days, zone);
    if (limit->kind == LIMIT_FOLLOW || (limit->directed && step->least != bound->days))
        return text_format(checking->arena, "this order was chosen%s, since none is stated: ", zone);
    return text_format(checking->arena, "the limit asks for %s between them%s: ", days, zone);
}

/* Why an edge keeps two apart, as a clause before the colon. */
static const char *edge_reason(struct checking *checking, const struct timetable_step *step,
                               const struct bound *bound, const struct wait *wait)
{
    const char *zone =
        wait ? text_format(checking->arena, " on %s", thing_text(checking, &wait->zone->thing)) : "";
    if (!bound)
        return "";
    switch (bound->kind) {
    case BOUND_LABEL_WAIT:
        return text_format(checking->arena, "the label of %s keeps treatments with it %s apart%s: ",
                           thing_text(checking, &bound->product->thing),
                           display_days(checking->arena, bound->days), zone);
    case BOUND_LIMIT_WAIT:
        return limit_reason(checking, step, bound, zone);
    case BOUND_ORDER:
        return "this order was chosen, since none is stated: ";
    case BOUND_SEASON:
    case BOUND_WHEN:
    case BOUND_CLOSED:
    case BOUND_WEEKDAYS:
    case BOUND_HEAT:
    case BOUND_COLD:
    case BOUND_WEATHER:
    case BOUND_DORMANT:
    case BOUND_PART:
    case BOUND_SUPPOSED:
        return "";
    }
    abort();
}

static const char *edge_text(struct checking *checking, const struct timetable_step *step)
{
    const struct season *season = checking->season;
    const struct wait *wait = season_wait(season, step);
    const char *reason = edge_reason(checking, step, step_bound(season, step), wait);
    const char *node = wait ? occurrence_text(checking, wait->second) : node_text(checking, step->node);
    const char *from = wait ? occurrence_text(checking, wait->first) : node_text(checking, step->from);
    const char *date = display_date(checking->arena, step->after);
    if (step->least > 0)
        return text_format(checking->arena, "%s%s comes at least %s after %s, not before %s", reason, node,
                           display_days(checking->arena, step->least), from, date);
    if (step->least < 0)
        return text_format(checking->arena, "%s%s lies at most %s before %s, so not before %s", reason, node,
                           display_days(checking->arena, -step->least), from, date);
    return text_format(checking->arena, "%s%s is not before %s, so not before %s", reason, node, from, date);
}

static const char *closed_text(struct checking *checking, const struct timetable_step *step)
{
    const char *from = display_date(checking->arena, step->before);
    if (step->after == DAY_NEVER)
        return text_format(checking->arena, "from %s on it leaves %s no day", from,
                           node_text(checking, step->node));
    return text_format(checking->arena, "it keeps %s from %s until %s", node_text(checking, step->node), from,
                       display_date(checking->arena, step->after));
}

static const char *record_text(struct checking *checking, const struct timetable_step *step, bool last)
{
    return text_format(checking->arena, "%s%s was done on %s", last ? "but " : "",
                       node_text(checking, step->node), display_date(checking->arena, step->after));
}

static const char *step_text(struct checking *checking, const struct timetable_step *step, bool last)
{
    const char *node = node_text(checking, step->node);
    const char *date = step->after == DAY_NEVER ? "" : display_date(checking->arena, step->after);
    const struct bound *bound = step_bound(checking->season, step);
    if (bound && bound->kind == BOUND_SUPPOSED)
        return text_format(checking->arena, "%staken to fall on %s: %s", last ? "but " : "", date, node);
    switch (step->kind) {
    case TIMETABLE_NOT_BEFORE:
    case TIMETABLE_HORIZON_START:
        return text_format(checking->arena, "%s comes on %s at the earliest", node, date);
    case TIMETABLE_NOT_AFTER:
    case TIMETABLE_HORIZON_END:
        return text_format(checking->arena, "but %s comes on %s at the latest", node, date);
    case TIMETABLE_CLOSED_DAYS:
        return closed_text(checking, step);
    case TIMETABLE_EDGE:
        return edge_text(checking, step);
    case TIMETABLE_RECORD:
        return record_text(checking, step, last);
    }
    abort();
}

static struct place step_place(const struct season *season, const struct timetable_step *step)
{
    const struct bound *bound = step_bound(season, step);
    if (bound)
        return bound->place;
    if (step->kind == TIMETABLE_RECORD)
        return occurrence_place(node_member(season, step->node, 0));
    return (struct place){0};
}

/* The weather of the first of the days that are closed; of a sum, the last, when it has come nearest. */
static day_number day_told(const struct timetable_step *step, const struct weather_condition *condition)
{
    bool sum = condition->quantity == WEATHER_DEGREE_DAYS && step->after != DAY_NEVER;
    return sum ? step->after - 1 : step->before;
}

/* Beside a statement that goes by the weather. */
static void tell_weather(struct checking *checking, struct report *report, const struct timetable_step *step)
{
    const struct bound *bound = step_bound(checking->season, step);
    if (step->kind != TIMETABLE_CLOSED_DAYS || !bound || !bound->watch)
        return;
    const struct weather_condition *condition = watch_condition(bound->watch);
    day_number day = day_told(step, condition);
    struct weather_look look = watch_day(bound->watch, day);
    struct place place = weather_place(&checking->model->weather, &look, day);
    if (place.source)
        report_label(checking->model->reports, report, place, "%s",
                     weather_text_on(checking->arena, checking->model, condition, &look, day));
}

static void tell_step(struct checking *checking, struct report *report, const struct timetable_step *step,
                      bool last)
{
    struct place place = step_place(checking->season, step);
    const char *text = step_text(checking, step, last);
    if (step->skipped)
        text = text_format(checking->arena, "and so on, %u steps more; then %s", step->skipped, text);
    if (place.source)
        report_label(checking->model->reports, report, place, "%s", text);
    else
        report_note(checking->model->reports, report, "%s", text);
    tell_weather(checking, report, step);
}

static void tell_steps(struct checking *checking, struct report *report,
                       const struct timetable_contradiction *contradiction)
{
    uint32_t count = contradiction->step_count;
    for (uint32_t i = 0; i < count; i++) {
        if (i < STEPS_TOLD || i + 1 == count)
            tell_step(checking, report, &contradiction->steps[i], i + 1 == count);
        else if (i == STEPS_TOLD)
            report_note(checking->model->reports, report, "%u further steps are left out",
                        count - STEPS_TOLD - 1);
    }
}

/* ---- the way out ---- */

struct easing {
    const struct timetable_step *step; /* NULL: none found */
    int32_t days;
};

/* The plan's own wishes may be eased; labels, laws and the order of days are not proposed. */
static bool step_may_ease(const struct season *season, const struct timetable_step *step)
{
    const struct bound *bound = step_bound(season, step);
    return bound && (bound->kind == BOUND_WHEN || bound->kind == BOUND_SEASON) &&
           (step->kind == TIMETABLE_NOT_BEFORE || step->kind == TIMETABLE_NOT_AFTER ||
            step->kind == TIMETABLE_EDGE);
}

static struct easing nearest_easing(struct checking *checking, uint32_t index)
{
    const struct season *season = checking->season;
    const struct timetable_contradiction *contradiction = &season->timetable.contradictions[index];
    struct easing best = {0};
    for (uint32_t i = 0; i < contradiction->step_count && i <= STEPS_TOLD; i++) {
        const struct timetable_step *step = &contradiction->steps[i];
        int32_t days;
        if (step_may_ease(season, step) &&
            timetable_ease(checking->arena, &season->question, &season->timetable, index, step->kind,
                           step->cause, &days) &&
            (!best.step || days <= best.days))
            best = (struct easing){step, days};
    }
    return best;
}

static const char *easing_text(struct checking *checking, const struct easing *easing)
{
    const struct timetable_step *step = easing->step;
    const struct bound *bound = step_bound(checking->season, step);
    const char *what = bound->kind == BOUND_SEASON ? "the season"
                                                   : text_format(checking->arena, "the window of %s",
                                                                 node_text(checking, step->node));
    const char *days = display_days(checking->arena, easing->days);
    if (step->kind == TIMETABLE_NOT_BEFORE)
        return text_format(checking->arena, "%s would do if it began %s earlier, on %s", what, days,
                           display_date(checking->arena, step->after - easing->days));
    if (step->kind == TIMETABLE_NOT_AFTER)
        return text_format(checking->arena, "%s would do if it ended %s later, on %s", what, days,
                           display_date(checking->arena, step->after + easing->days));
    const char *statement = place_words(checking->arena, bound->place);
    const char *of =
        bound->kind == BOUND_LABEL_WAIT ? "label " : ""; /* it may stand after other words of it */
    return text_format(checking->arena, "`%s%s` would do if it were eased by %s", of, statement, days);
}

/* ---- reports ---- */

/* What the last step comes to, after "no day is left for ...: ". */
static const char *end_text(struct checking *checking, const struct timetable_contradiction *contradiction)
{
    const struct timetable_step *last = &contradiction->steps[contradiction->step_count - 1];
    if (contradiction->ring_days > 0)
        return text_format(checking->arena, "what is said of its order asks it to lie %s after itself",
                           display_days(checking->arena, contradiction->ring_days));
    const char *before = display_date(checking->arena, last->before);
    if (last->after == DAY_NEVER)
        return text_format(checking->arena, "it cannot come before %s, and no day is open from then on",
                           before);
    return text_format(checking->arena, "it cannot come before %s, and %s %s", before,
                       last->kind == TIMETABLE_RECORD ? "was done on" : "must be done by",
                       display_date(checking->arena, last->after));
}

static void tell_orders(struct checking *checking, struct report *report, const struct conflict *conflict)
{
    for (size_t i = 0; i < conflict->orders.count; i++) {
        const struct bound *order = &conflict->orders.items[i];
        report_note(
            checking->model->reports, report,
            "no order is stated between %s and %s, so the one with the earlier first day was put first",
            occurrence_text(checking, order->first), occurrence_text(checking, order->second));
    }
}

static struct report *report_conflict(struct checking *checking, uint32_t index)
{
    const struct season *season = checking->season;
    const struct conflict *conflict = &season->conflicts[index];
    const struct timetable_contradiction *contradiction = conflict->contradiction;
    uint32_t node = contradiction->steps[contradiction->step_count - 1].node;
    const struct treatment *treatment = node_member(season, node, 0)->treatment;
    struct report *report = finding_add(checking, CHECK_NO_DAY, ABOUT(&treatment->thing),
                                        treatment->thing.place, "no day is left for %s: %s",
                                        node_text(checking, node), end_text(checking, contradiction));
    tell_steps(checking, report, contradiction);
    tell_orders(checking, report, conflict);
    if (!contradiction->minimal)
        report_note(checking->model->reports, report, "some of these statements may not be needed for this");
    struct easing easing = nearest_easing(checking, index);
    if (easing.step)
        report_help(checking->model->reports, report, "%s", easing_text(checking, &easing));
    return report;
}

void check_contradictions(struct checking *checking)
{
    const struct timetable_result *timetable = &checking->season->timetable;
    struct report *report = NULL;
    for (uint32_t i = 0; i < timetable->contradiction_count; i++)
        report = report_conflict(checking, i);
    if (report && timetable->more)
        report_note(checking->model->reports, report, "there are more contradictions besides");
}

void check_crowded(struct checking *checking)
{
    const struct treatment *treatment = checking->season->crowded;
    if (!treatment)
        return;
    struct report *report = finding_add(checking, CHECK_TOO_MANY_TIMES, ABOUT(&treatment->thing),
                                        treatment->thing.place, "%s brings the plan to more than %d dates",
                                        thing_text(checking, &treatment->thing), OCCURRENCE_LIMIT);
    report_help(checking->model->reports, report, "let it come less often, or end earlier");
}
