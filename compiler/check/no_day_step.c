/* The steps of a contradiction in the plan's words, each at its statement. */
#include "compiler/check/no_day.h"
#include "compiler/season/weather_text.h"

#include <stdlib.h>

enum { MEMBERS_NAMED = 3 };

static const char *const share_words[] = {[SHARE_WHOLE] = "",
                                          [SHARE_PART] = "a part of ",
                                          [SHARE_REST] = "the rest of ",
                                          [SHARE_BEYOND] = "one more "};

const char *conflict_occurrence_text(struct checking *checking, const struct occurrence *occurrence)
{
    const char *name = name_string(occurrence->treatment->symbol.name);
    const char *share = share_words[occurrence->share];
    if (occurrence->times == 1 || occurrence->share == SHARE_BEYOND)
        return text_format(checking->arena, "%s%s", share, name);
    return text_format(checking->arena, "%s%s (time %d of %d)", share, name, occurrence->time,
                       occurrence->times);
}

uint32_t node_members(const struct season *season, uint32_t node)
{
    return season->member_start[node + 1] - season->member_start[node];
}

const struct occurrence *node_member(const struct season *season, uint32_t node, uint32_t at)
{
    return &season->occurrences.items[season->members[season->member_start[node] + at]];
}

const char *node_text(struct checking *checking, uint32_t node)
{
    const struct season *season = checking->season;
    uint32_t count = node_members(season, node);
    const char *names[MEMBERS_NAMED + 1];
    uint32_t named = count > MEMBERS_NAMED ? MEMBERS_NAMED : count;
    for (uint32_t i = 0; i < named; i++)
        names[i] = conflict_occurrence_text(checking, node_member(season, node, i));
    if (count > named)
        names[named++] = text_format(checking->arena, "%u more", count - MEMBERS_NAMED);
    return list_text(checking->arena, names, named, " and ");
}

const struct bound *step_bound(const struct season *season, const struct timetable_step *step)
{
    bool has_bound = step->cause != TIMETABLE_NONE && step->kind != TIMETABLE_RECORD;
    return has_bound ? season_bound(season, step->cause) : NULL;
}

static bool when_is_of(const struct when *when, const struct treatment *treatment)
{
    return when >= treatment->whens.items && when < treatment->whens.items + treatment->whens.count;
}

/* The member whose `when` the bound is; NULL: the bound is nobody's own. */
static const struct occurrence *step_owner(const struct season *season, const struct timetable_step *step)
{
    const struct bound *bound = step_bound(season, step);
    for (uint32_t i = 0; bound && bound->when && i < node_members(season, step->node); i++) {
        const struct occurrence *member = node_member(season, step->node, i);
        if (when_is_of(bound->when, member->treatment))
            return member;
    }
    return NULL;
}

const char *step_owner_text(struct checking *checking, const struct timetable_step *step)
{
    const struct occurrence *owner = step_owner(checking->season, step);
    return owner ? conflict_occurrence_text(checking, owner) : node_text(checking, step->node);
}

/* Why an edge keeps two apart, as a clause before the colon. */
static const char *edge_reason(struct checking *checking, const struct timetable_step *step,
                               const struct bound *bound, const struct wait *wait)
{
    const char *zone = wait ? text_format(checking->arena, " on %s",
                                          name_string(checking->model->zones.items[wait->zone]->symbol.name))
                            : "";
    if (!bound)
        return "";
    switch (bound->kind) {
    case BOUND_LABEL_WAIT:
        return text_format(checking->arena, "the label of %s requires %s between treatments%s: ",
                           name_string(bound->product->symbol.name),
                           display_duration(checking->arena, bound->product->label.interval), zone);
    case BOUND_LIMIT_WAIT: {
        const struct limit *limit = bound->limit;
        const char *days = display_duration(checking->arena, limit->time);
        bool stated = step->wait.days == limit->time.days && step->wait.months == limit->time.months;
        if (limit->kind == LIMIT_ORDER)
            return text_format(checking->arena, "the limit states the order%s: ", zone);
        if (limit->kind == LIMIT_FOLLOW && step->least < 0)
            return text_format(checking->arena, "the limit allows %s from one to the other%s: ", days, zone);
        if (limit->kind == LIMIT_FOLLOW || (limit->directed && !stated))
            return text_format(checking->arena, "this order was chosen%s, since none is stated: ", zone);
        return text_format(checking->arena, "the limit requires %s between them%s: ", days, zone);
    }
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

/* Of those that share a day, the one that the statement behind an edge is about: whose it is, or whom it
 * names. */
static const char *edge_end_text(struct checking *checking, const struct bound *bound, uint32_t node,
                                 bool named)
{
    for (uint32_t i = 0; bound && bound->when && i < node_members(checking->season, node); i++) {
        const struct occurrence *member = node_member(checking->season, node, i);
        if (named ? member->treatment == bound->when->other : when_is_of(bound->when, member->treatment))
            return conflict_occurrence_text(checking, member);
    }
    return NULL;
}

/* "feed comes at least 28 days after lime, not before Sat 2027-04-17". In a ring no day is reached: what
 * follows the horizon's first day would look like the plan's own. */
static const char *edge_text(struct checking *checking, const struct timetable_step *step, bool dated)
{
    struct arena *arena = checking->arena;
    const struct season *season = checking->season;
    const struct bound *bound = step_bound(season, step);
    const struct wait *wait = season_wait(season, step);
    const char *node = wait ? conflict_occurrence_text(checking, &season->occurrences.items[wait->second])
                            : node_text(checking, step->node);
    const char *from = wait ? conflict_occurrence_text(checking, &season->occurrences.items[wait->first])
                            : node_text(checking, step->from);
    /* Whether the statement is of the edge's later end, and names the earlier one. */
    const struct when *when = bound ? bound->when : NULL;
    bool before = when && (when->kind == WHEN_AT_LEAST_BEFORE || when->kind == WHEN_EXACTLY_BEFORE);
    bool of_end = when && (step->least >= 0) != before;
    const char *end = edge_end_text(checking, bound, step->node, !of_end);
    const char *start = edge_end_text(checking, bound, step->from, of_end);
    bool one = wait || end || node_members(season, step->node) == 1;
    const char *days = display_duration(arena, step->wait);
    struct buffer text = {.arena = arena};
    buffer_format(&text, "%s%s ", edge_reason(checking, step, bound, wait), end ? end : node);
    if (step->least > 0)
        buffer_format(&text, "%s at least %s after ", one ? "comes" : "come", days);
    else if (step->least < 0)
        buffer_format(&text, "%s at most %s before ", one ? "lies" : "lie", days);
    else
        buffer_format(&text, "%s not before ", one ? "is" : "are");
    buffer_add_string(&text, start ? start : from);
    if (dated)
        buffer_format(&text, ", %snot before %s", step->least > 0 ? "" : "so ",
                      display_date(arena, step->after));
    return buffer_string(&text);
}

bool step_ends_in_unknown_weather(const struct season *season, const struct timetable_step *step)
{
    const struct bound *bound = step_bound(season, step);
    return step->kind == TIMETABLE_CLOSED_DAYS && step->after != DAY_NEVER && bound && bound->watch &&
           watch_day(bound->watch, step->after).verdict == VERDICT_UNKNOWN;
}

/* How a step stands to those beside it that closed the same days: no one of them did it alone. */
enum together { TOGETHER_ALONE, TOGETHER_FIRST, TOGETHER_LAST };

/* A row of closed days, and what is left behind it; of several that close the same days the first and last
 * are told as such. */
static const char *closed_text(struct checking *checking, const struct timetable_step *step,
                               enum together together)
{
    struct arena *arena = checking->arena;
    bool ours = step->before <= checking->season->question.first; /* the horizon's day, not the plan's */
    bool never = step->after == DAY_NEVER, first = together == TOGETHER_FIRST;
    bool unknown = step_ends_in_unknown_weather(checking->season, step);
    struct buffer text = {.arena = arena};
    buffer_add_string(&text, together == TOGETHER_LAST ? "together they rule out " : "it rules out ");
    bool one = !ours && !never && !first && step->after - 1 == step->before;
    buffer_format(&text, "%s%s",
                  first                        ? "some days for "
                  : (never || unknown) && !one ? "every day for "
                                               : "",
                  node_text(checking, step->node));
    if (!ours)
        buffer_format(&text, " %s %s", one ? "on" : "from", display_date(arena, step->before));
    if (never || first)
        buffer_add_string(&text, ours ? "" : " on");
    else if (!one)
        buffer_format(&text, " %s %s", ours ? "up to" : "to", display_date(arena, step->after - 1));
    if (unknown)
        buffer_add_string(&text, ", as far as the weather is known");
    return buffer_string(&text);
}

/* How one step of the contradiction reads. */
static const char *step_text(struct checking *checking, const struct timetable_contradiction *contradiction,
                             uint32_t at)
{
    const struct timetable_step *step = &contradiction->steps[at];
    const char *but = at + 1 == contradiction->step_count ? "but " : "";
    const struct bound *bound = step_bound(checking->season, step);
    if (bound && bound->kind == BOUND_SUPPOSED)
        return text_format(checking->arena, "%s%s assumed to be on %s", but,
                           text_format(checking->arena, "%s %s", node_text(checking, step->node),
                                       node_members(checking->season, step->node) == 1 ? "is" : "are"),
                           display_date(checking->arena, step->after));
    switch (step->kind) {
    case TIMETABLE_NOT_BEFORE:
    case TIMETABLE_HORIZON_START:
    case TIMETABLE_NOT_AFTER:
    case TIMETABLE_HORIZON_END: {
        /* The first or last day that a statement leaves. Each but the last of several times ends where the
         * next begins. */
        bool first = step->kind == TIMETABLE_NOT_BEFORE || step->kind == TIMETABLE_HORIZON_START;
        bool one = step_owner(checking->season, step) || node_members(checking->season, step->node) == 1;
        bool next = !first && bound && bound->when && bound->when->kind == WHEN_EVERY &&
                    step->after != bound->when->last;
        return text_format(checking->arena, "%s%s %s on %s", first ? "" : "but ",
                           step_owner_text(checking, step), one ? "comes" : "come",
                           text_format(checking->arena, "%s %s%s", display_date(checking->arena, step->after),
                                       first ? "at the earliest" : "at the latest",
                                       next ? ", before the next is due" : ""));
    }
    case TIMETABLE_CLOSED_DAYS: {
        /* Rows of closed days that close the same days are told together. */
        bool alike[2] = {false, false}; /* with the step before, with the one after */
        for (uint32_t i = 0; i < 2; i++) {
            uint32_t other_at = at + 2 * i; /* plus 1 */
            if (other_at == 0 || other_at > contradiction->step_count)
                continue;
            const struct timetable_step *other = &contradiction->steps[other_at - 1];
            alike[i] = step->kind == TIMETABLE_CLOSED_DAYS && other->kind == TIMETABLE_CLOSED_DAYS &&
                       step->node == other->node && step->before == other->before &&
                       step->after == other->after;
        }
        return closed_text(checking, step,
                           alike[1]   ? TOGETHER_FIRST
                           : alike[0] ? TOGETHER_LAST
                                      : TOGETHER_ALONE);
    }
    case TIMETABLE_EDGE:
        return edge_text(checking, step, contradiction->ring_days == 0);
    case TIMETABLE_RECORD:
        return text_format(checking->arena, "%s%s %s done on %s", but, node_text(checking, step->node),
                           node_members(checking->season, step->node) == 1 ? "was" : "were",
                           display_date(checking->arena, step->after));
    }
    abort();
}

struct place step_place(const struct season *season, const struct timetable_step *step)
{
    const struct bound *bound = step_bound(season, step);
    if (bound)
        return bound->place;
    if (step->kind == TIMETABLE_RECORD)
        return occurrence_place(node_member(season, step->node, 0));
    return (struct place){0};
}

bool step_listed(const struct timetable_contradiction *contradiction, uint32_t at)
{
    return at < STEPS_LISTED || at + 1 == contradiction->step_count;
}

/* First which statements put what shares a day there, then the steps in the order of the argument, each at
 * its statement; beside one that goes by the weather the weather of the first of the days that are closed, or
 * of a sum of the last, when it has come nearest. The days of the horizon are the program's own, and nobody's
 * statement. */
void tell_steps(struct checking *checking, struct report *report,
                const struct timetable_contradiction *contradiction)
{
    struct reports *reports = checking->model->reports;
    for (uint32_t i = 0; i < contradiction->node_count && i < STEPS_LISTED; i++) {
        uint32_t node = contradiction->nodes[i], members = node_members(checking->season, node);
        for (uint32_t j = 0; members > 1 && j < members && j < MEMBERS_NAMED; j++) {
            const struct treatment *treatment = node_member(checking->season, node, j)->treatment;
            for (size_t k = 0; k < treatment->whens.count; k++)
                if (treatment->whens.items[k].kind == WHEN_SAME_DAY)
                    report_label(reports, report, treatment->whens.items[k].place, "%s share a day",
                                 node_text(checking, node));
        }
    }
    for (uint32_t i = 0; i < contradiction->step_count; i++) {
        const struct timetable_step *step = &contradiction->steps[i];
        const struct bound *bound = step_bound(checking->season, step);
        if (!step_listed(contradiction, i) || step->kind == TIMETABLE_HORIZON_START ||
            step->kind == TIMETABLE_HORIZON_END)
            continue;
        struct place place = step_place(checking->season, step);
        const char *text = step_text(checking, contradiction, i);
        if (step->skipped)
            text = text_format(checking->arena, "and so on, %u step%s more; then %s", step->skipped,
                               step->skipped == 1 ? "" : "s", text);
        if (place.source)
            report_label(reports, report, place, "%s", text);
        else
            report_note(reports, report, "%s", text);
        if (step->kind != TIMETABLE_CLOSED_DAYS || !bound || !bound->watch)
            continue;
        const struct weather_condition *condition = watch_condition(bound->watch);
        bool sum = condition->quantity == WEATHER_DEGREE_DAYS && step->after != DAY_NEVER;
        day_number day = sum ? step->after - 1 : step->before;
        struct weather_look look = watch_day(bound->watch, day);
        place = weather_place(&checking->model->weather, &look, day);
        if (place.source)
            report_label(reports, report, place, "%s",
                         weather_text_on(checking->arena, checking->model, condition, &look, day));
    }
    if (contradiction->step_count > STEPS_LISTED + 1) {
        uint32_t left = contradiction->step_count - STEPS_LISTED - 1;
        report_note(reports, report, "%u further step%s left out before the last", left,
                    left == 1 ? " is" : "s are");
    }
}
