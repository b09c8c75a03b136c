/* The nearest change with which there would be a day. */
#include "compiler/check/no_day.h"

struct easing {
    const struct timetable_step *step; /* NULL: none found */
    int32_t days;
};

/* The plan's own wishes may be eased; labels, laws and the order of days are not proposed. The windows of
 * several times follow from their period, and none can be moved by itself. A wait may shrink to nothing, but
 * not turn round: that would be another order. */
static bool step_may_ease(const struct season *season, const struct timetable_step *step, int32_t days)
{
    const struct bound *bound = step_bound(season, step);
    if (!bound || (bound->kind != BOUND_WHEN && bound->kind != BOUND_SEASON) ||
        (bound->kind == BOUND_WHEN && bound->when->kind == WHEN_EVERY))
        return false;
    if (step->kind == TIMETABLE_EDGE)
        return bound->kind == BOUND_WHEN && bound->when->kind != WHEN_SAME_DAY && step->least != 0 &&
               (step->least < 0 || days <= step->least);
    return step->kind == TIMETABLE_NOT_BEFORE || step->kind == TIMETABLE_NOT_AFTER;
}

/* Where days end of which the weather is known or the plan is dated, none later is promised; nor is one
 * before, if the weather that closed days for it is not known then. */
static bool easing_is_known(const struct season *season, const struct timetable_contradiction *contradiction,
                            const struct timetable_step *eased, int32_t days)
{
    bool earlier = eased->kind == TIMETABLE_NOT_BEFORE;
    for (uint32_t i = 0; i < contradiction->step_count; i++) {
        const struct timetable_step *step = &contradiction->steps[i];
        const struct bound *bound = step_bound(season, step);
        if (step->kind == TIMETABLE_HORIZON_END || (!earlier && step_ends_in_unknown_weather(season, step)) ||
            (earlier && step->kind == TIMETABLE_CLOSED_DAYS && bound && bound->watch &&
             watch_day(bound->watch, eased->after - days).verdict == VERDICT_UNKNOWN))
            return false;
    }
    return true;
}

/* The nearest change of one statement that is enough. */
static const char *easing_text(struct checking *checking, const struct easing *easing)
{
    struct arena *arena = checking->arena;
    const struct timetable_step *step = easing->step;
    const struct bound *bound = step_bound(checking->season, step);
    const char *days = display_days(arena, easing->days);
    if (step->kind == TIMETABLE_EDGE)
        return step->least > 0
                   ? text_format(arena, "take %s off `%s`", days, place_words(arena, bound->place))
                   : text_format(arena, "allow %s more in `%s`", days, place_words(arena, bound->place));
    bool first = step->kind == TIMETABLE_NOT_BEFORE;
    const char *date = display_date(arena, first ? step->after - easing->days : step->after + easing->days);
    const char *side = first ? "earlier" : "later";
    if (bound->kind == BOUND_WHEN && bound->when->kind == WHEN_ON)
        return text_format(arena, "move %s to %s, %s %s", step_owner_text(checking, step), date, days, side);
    const char *what = bound->kind == BOUND_SEASON
                           ? "the season"
                           : text_format(arena, "the window of %s", step_owner_text(checking, step));
    return first ? text_format(arena, "start %s %s earlier, on %s", what, days, date)
                 : text_format(arena, "extend %s by %s, to %s", what, days, date);
}

/* ---- fewer times ---- */

const struct occurrence *last_occurrence(const struct season *season, uint32_t index)
{
    const struct timetable_contradiction *contradiction = &season->timetable.contradictions[index];
    return node_member(season, contradiction->steps[contradiction->step_count - 1].node, 0);
}

/* Step by step the same statement. */
bool same_reason(const struct season *season, uint32_t one, uint32_t other)
{
    const struct timetable_contradiction *a = &season->timetable.contradictions[one];
    const struct timetable_contradiction *b = &season->timetable.contradictions[other];
    bool same = last_occurrence(season, one)->treatment == last_occurrence(season, other)->treatment &&
                a->step_count == b->step_count;
    for (uint32_t i = 0; same && i < a->step_count; i++) {
        struct place here = step_place(season, &a->steps[i]), there = step_place(season, &b->steps[i]);
        same = a->steps[i].kind == b->steps[i].kind && here.source == there.source &&
               here.start == there.start && here.end == there.end;
    }
    return same;
}

/* The season without the times after `times`, and without what other reasons make impossible. False where a
 * day holds such a time and something else, or where something else goes by those times: it would go by
 * another one then. */
static bool keep_fewer(struct checking *checking, uint32_t index, uint32_t times, bool *keep)
{
    const struct season *season = checking->season;
    const struct timetable *question = &season->question;
    const struct treatment *treatment = last_occurrence(season, index)->treatment;
    for (uint32_t node = 0; node < question->node_count; node++) {
        uint32_t later = 0, count = node_members(season, node);
        for (uint32_t i = 0; i < count; i++) {
            const struct occurrence *member = node_member(season, node, i);
            later += member->treatment == treatment && (uint32_t)member->time > times;
        }
        keep[node] = later == 0;
        if (later > 0 && later < count)
            return false;
    }
    for (uint32_t i = 0; i < question->edge_count; i++) {
        const struct timetable_edge *edge = &question->edges[i];
        if (keep[edge->from] == keep[edge->to] || season_bound(season, edge->cause)->kind != BOUND_WHEN)
            continue;
        uint32_t kept = keep[edge->from] ? edge->from : edge->to;
        if (node_member(season, kept, 0)->treatment != treatment)
            return false;
    }
    for (uint32_t i = 0; i < season->timetable.contradiction_count; i++)
        for (uint32_t j = 0; i != index && !same_reason(season, i, index) &&
                             j < season->timetable.contradictions[i].node_count;
             j++)
            keep[season->timetable.contradictions[i].nodes[j]] = false;
    return true;
}

/* Fewer times, a longer period, or one statement eased: all that are known. */
struct way way_out(struct checking *checking, uint32_t index, uint32_t others)
{
    const struct season *season = checking->season;
    const struct timetable_contradiction *contradiction = &season->timetable.contradictions[index];
    const struct occurrence *last = last_occurrence(season, index);
    const struct when *every = NULL;
    for (size_t i = 0; i < last->treatment->whens.count && !every; i++)
        if (last->treatment->whens.items[i].kind == WHEN_EVERY)
            every = &last->treatment->whens.items[i];
    const char *ways[3];
    size_t count = 0;
    /* How many of a stated count of times have their day; 0 where fewer times would not help. */
    uint32_t times = every && every->times && last->time > 1 ? (uint32_t)last->time - 1 : 0;
    bool *keep = ARENA_ARRAY(checking->arena, season->question.node_count, bool);
    if (times && (!keep_fewer(checking, index, times, keep) ||
                  !timetable_holds(checking->arena, &season->question, keep)))
        times = 0;
    if (times)
        ways[count++] = text_format(checking->arena, "plan %u time%s", times, times == 1 ? "" : "s");
    /* A label's or limit's wait between the times of one treatment that is longer than their period. */
    struct duration period = {0};
    for (uint32_t i = 0; every && every->wait.months == 0 && i < contradiction->step_count; i++) {
        const struct wait *wait = season_wait(season, &contradiction->steps[i]);
        const struct bound *bound = step_bound(season, &contradiction->steps[i]);
        const struct occurrence *items = season->occurrences.items;
        if (!wait || !bound || items[wait->first].treatment != items[wait->second].treatment)
            continue;
        struct duration stated = bound->limit ? bound->limit->time : bound->product->label.interval;
        if (duration_least_days(stated) > every->wait.days &&
            duration_least_days(stated) > duration_least_days(period))
            period = stated;
    }
    if (duration_any(period))
        ways[count++] = text_format(checking->arena, "use a period of %s, which keeps the wait between them",
                                    display_duration(checking->arena, period));
    /* The easing of the fewest days, the latest step's of equal ones. */
    struct easing best = {0};
    for (uint32_t i = 0; i < contradiction->step_count && !others; i++) {
        const struct timetable_step *step = &contradiction->steps[i];
        int32_t days;
        if (step_listed(contradiction, i) && step_may_ease(season, step, 0) &&
            timetable_ease(checking->arena, &season->question, &season->timetable, index, step, &days) &&
            step_may_ease(season, step, days) && easing_is_known(season, contradiction, step, days) &&
            (!best.step || days <= best.days))
            best = (struct easing){step, days};
    }
    if (best.step)
        ways[count++] = easing_text(checking, &best);
    if (count == 0 && contradiction->ring_days > 0)
        ways[count++] = "remove one of these statements that is not a law or a label";
    const char *text = count ? ways[0] : NULL;
    for (size_t i = 1; i < count; i++)
        text = text_format(checking->arena, "%s; or %s", text, ways[i]);
    return (struct way){text, times > 0};
}
