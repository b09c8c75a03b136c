/* How one time a treatment occurs came to its day: what bounds it, what decides, the weather it needs. */
#include "compiler/result/explanation.h"
#include "compiler/result/work.h"
#include "compiler/season/risk.h"
#include "compiler/season/weather_text.h"

/* What the day at hand is bounded by. */
struct bounded {
    struct explanation *explanation;
    const struct season *season;
    const struct timetable_node *node;
    uint32_t index;      /* of the node */
    day_number earliest; /* its day */
    day_number first;    /* the earliest day by everything but closed days */
};

static const char *date(const struct bounded *day, day_number value)
{
    return display_date(day->explanation->arena, value);
}

/* The statement that says so. */
static const char *cause_text(const struct bounded *day, uint32_t cause)
{
    if (cause == TIMETABLE_NONE)
        return "no statement";
    return explain_statement(day->explanation, season_bound(day->season, cause)->place);
}

/* ---- bounds from other treatments: of all edges of one statement only the strictest is shown ---- */

static day_number edge_bound(const struct bounded *day, const struct timetable_edge *edge, bool incoming)
{
    const struct timetable_result *timetable = &day->season->timetable;
    return (day_number)(incoming ? timetable_edge_first(edge, timetable->earliest[edge->from])
                                 : timetable_edge_last(edge, timetable->latest[edge->to]));
}

/* By cause, one more place for none: the strictest edge into the node, or out of it. */
static void explain_edges(struct bounded *day, bool incoming)
{
    const struct season *season = day->season;
    const uint32_t no_edge = UINT32_MAX;
    size_t count = season->bounds.count;
    uint32_t *strictest = ARENA_ARRAY(day->explanation->arena, count + 1, uint32_t);
    for (size_t i = 0; i <= count; i++)
        strictest[i] = no_edge;
    for (uint32_t i = 0; i < season->edges.count; i++) {
        const struct timetable_edge *edge = &season->edges.items[i];
        uint32_t *best = &strictest[edge->cause == TIMETABLE_NONE ? count : edge->cause];
        if ((incoming ? edge->to : edge->from) != day->index || edge->from == edge->to)
            continue;
        day_number bound = edge_bound(day, edge, incoming);
        day_number other = *best == no_edge ? bound : edge_bound(day, &season->edges.items[*best], incoming);
        if (*best == no_edge || (incoming ? bound > other : bound < other))
            *best = i;
    }
    for (size_t i = 0; i <= count; i++)
        if (strictest[i] != no_edge) {
            /* "not before Sat 2027-05-08: 28 days after feed 1 of 2 (Sat 2027-04-10) on north, by `at least
             * ...`, line 12 (decides)" */
            uint32_t index = strictest[i];
            struct arena *arena = day->explanation->arena;
            const struct timetable_edge *edge = &season->edges.items[index];
            uint32_t other = incoming ? edge->from : edge->to;
            const struct occurrence *occurrence =
                &season->occurrences.items[season->members[season->member_start[other]]];
            day_number bound = edge_bound(day, edge, incoming);
            day_number from = incoming ? season->timetable.earliest[other] : season->timetable.latest[other];
            int32_t least = timetable_edge_days(edge);
            struct buffer line = {.arena = arena};
            buffer_format(&line, "not %s %s: ", incoming ? "before" : "after", date(day, bound));
            if (least > 0)
                buffer_format(&line, "%s %s", display_duration(arena, timetable_edge_wait(edge)),
                              incoming ? "after" : "before");
            else /* below 0: an upper bound of the other's, seen from this end */
                buffer_add_string(&line, least == 0 ? "the day of" : "tied to");
            buffer_format(&line, " %s (%s)", occurrence_title(arena, occurrence), date(day, from));
            if (index >= season->first_wait)
                buffer_format(
                    &line, " on %s",
                    name_string(season->model->zones.items[season->waits[index - season->first_wait].zone]
                                    ->symbol.name));
            explain_line(day->explanation, 3, "%s, by %s%s", line.string, cause_text(day, edge->cause),
                         incoming && bound == day->first ? " (decides)" : "");
        }
}

/* ---- the node's own conditions ---- */

/* One end of its windows; which of them decides is known of the earliest days only. */
static void explain_windows(struct bounded *day, bool before)
{
    for (uint32_t i = 0; i < day->node->window_count; i++) {
        const struct timetable_window *window = &day->node->windows[i];
        if (before ? window->first != DAY_EVER : window->last != DAY_NEVER)
            explain_line(day->explanation, 3, "not %s %s: %s%s", before ? "before" : "after",
                         date(day, before ? window->first : window->last), cause_text(day, window->cause),
                         before && window->first == day->first ? " (decides)" : "");
    }
}

/* A set of days decides where the day would be an earlier one without it. */
static void explain_closures(struct bounded *day)
{
    for (const struct timetable_closure *set = day->node->closures; set; set = set->next) {
        day_number open;
        bool decides = false;
        for (day_number other = day->first; other < day->earliest && !decides; other++) {
            decides = true; /* where all other sets of days leave it */
            for (const struct timetable_closure *besides = day->node->closures; besides;
                 besides = besides->next)
                decides = decides && (besides == set || day_set_contains(besides->days, other));
        }
        if (decides && day_set_next(set->days, day->first, &open) && open == day->earliest)
            explain_line(day->explanation, 3, "the first open day from %s is %s: %s (decides)",
                         date(day, day->first), date(day, open), cause_text(day, set->cause));
        else
            explain_line(day->explanation, 3, "only on days allowed by %s%s", cause_text(day, set->cause),
                         decides ? " (decides)" : "");
    }
}

/* ---- what holds the day, wherever it is said ---- */

enum { NODES_LOOKED_AT = 64, HOLDERS_TRIED = 48 };

struct holders { /* causes behind the day, in the order met */
    uint32_t causes[HOLDERS_TRIED];
    size_t count;
};

static void holder_note(struct holders *holders, uint32_t cause)
{
    for (size_t i = 0; i < holders->count; i++)
        if (holders->causes[i] == cause)
            return;
    if (cause != TIMETABLE_NONE && holders->count < HOLDERS_TRIED)
        holders->causes[holders->count++] = cause;
}

/* The causes of everything that the day can rest on: its own conditions, those of what it comes after, and so
 * on. */
static struct holders holders_gather(const struct bounded *day)
{
    const struct season *season = day->season;
    struct holders holders = {.count = 0};
    uint32_t nodes[NODES_LOOKED_AT] = {day->index};
    size_t count = 1;
    for (size_t at = 0; at < count; at++) {
        const struct timetable_node *node = &season->nodes[nodes[at]];
        for (uint32_t i = 0; i < node->window_count; i++)
            if (node->windows[i].first != DAY_EVER)
                holder_note(&holders, node->windows[i].cause);
        for (const struct timetable_closure *set = node->closures; set; set = set->next)
            holder_note(&holders, set->cause);
        for (size_t i = 0; i < season->edges.count; i++) {
            const struct timetable_edge *edge = &season->edges.items[i];
            bool met = edge->to != nodes[at];
            for (size_t j = 0; j < count && !met; j++)
                met = nodes[j] == edge->from;
            if (edge->to == nodes[at] && edge->from != edge->to)
                holder_note(&holders, edge->cause);
            if (!met && count < NODES_LOOKED_AT)
                nodes[count++] = edge->from;
        }
    }
    return holders;
}

/* What was done lies on its day and obeys nothing; what is still to come on the first that everything
 * leaves. */
void explain_day(struct explanation *explanation, const struct occurrence *occurrence)
{
    const struct season *season = explanation->season;
    struct bounded day = {
        .explanation = explanation, .season = season, .index = season->node_of[occurrence->index]};
    if (occurrence->done) {
        explain_line(explanation, 2, "Recorded day: %s.",
                     explain_statement(explanation, occurrence->record->symbol.statement));
        if (occurrence->planned != occurrence->day)
            explain_line(explanation, 2, "Without the record: %s.", date(&day, occurrence->planned));
        return;
    }
    if (day.index == TIMETABLE_NONE || !season->timetable.earliest)
        return;
    day.node = &season->nodes[day.index];
    day.earliest = season->timetable.earliest[day.index];
    /* Without closed days: the latest of what it may not come before, which another treatment or a window of
     * its own leaves. */
    day_number own = DAY_EVER;
    for (uint32_t i = 0; i < day.node->window_count; i++)
        own = day.node->windows[i].first > own ? day.node->windows[i].first : own;
    day_number first = own;
    for (size_t i = 0; i < day.season->edges.count; i++) {
        const struct timetable_edge *edge = &day.season->edges.items[i];
        if (edge->to == day.index && edge->from != edge->to && edge_bound(&day, edge, true) > first)
            first = edge_bound(&day, edge, true);
    }
    bool by_others = own < first;
    day.first = first;
    explain_line(explanation, 2, "The first day that meets all of these:");
    explain_windows(&day, true);
    explain_edges(&day, true);
    explain_closures(&day);
    if (by_others) {
        /* Where another treatment decides, two may each seem to wait for the other. What really holds the day
         * is each statement without which it would come earlier, so each is left out in turn. */
        const struct holders holders = holders_gather(&day);
        bool any = false;
        for (size_t j = 0; j < holders.count; j++) {
            const day_number *days =
                timetable_least_without(day.explanation->arena, &day.season->question, holders.causes[j]);
            if (!days || days[day.index] >= day.earliest)
                continue;
            if (!any)
                explain_line(day.explanation, 2, "What holds the day back, and the day without it:");
            any = true;
            explain_line(day.explanation, 3, "%s: %s", cause_text(&day, holders.causes[j]),
                         date(&day, days[day.index]));
        }
    }
    const struct slip *slip = occurrence->slip;
    const char *sentence = slip_sentence(explanation->arena, occurrence);
    if (sentence)
        explain_line(explanation, 2, "%s", sentence);
    if (slip->at.source && (slip->end == SLIP_BROKEN || slip->end == SLIP_CLOSED))
        explain_line(explanation, 3, "%s: %s", slip->end == SLIP_BROKEN ? "a later day breaks" : "closed by",
                     explain_statement(explanation, slip->at));
    explain_windows(&day, false);
}

/* ---- the weather ---- */

/* Each condition on the day's weather, and what that is known or expected to be. */
void explain_day_weather(struct explanation *explanation, const struct occurrence *occurrence, int depth)
{
    struct arena *arena = explanation->arena;
    const struct bound *bound;
    bool any = false;
    for (uint32_t at = 0; (bound = season_weather_bound(explanation->season, occurrence, &at)) != NULL;) {
        struct weather_look look = watch_day(bound->watch, occurrence->day);
        struct weather_odds odds = watch_odds(bound->watch, occurrence->day);
        struct buffer years = {.arena = arena};
        if (odds.known && !look.by_years)
            buffer_format(&years, "; met %s", years_text(arena, odds.kept, odds.known));
        explain_line(explanation, depth, "%s: %s%s", explain_statement(explanation, bound->place),
                     weather_text(arena, explanation->model, watch_condition(bound->watch), &look),
                     buffer_string(&years));
        any = true;
    }
    if (any) {
        /* How often, by the years of the history, that day's weather was not what is needed; and the day on
         * which it was so least often. */
        struct risk risk = season_risk(explanation->season, occurrence, occurrence->day), least;
        day_number day;
        if (risk.known != 0) {
            struct buffer line = {.arena = arena};
            buffer_format(&line, "Risk: this day's weather %s %s",
                          risk.broken ? "broke a condition" : "met every condition",
                          years_text(arena, risk.broken ? risk.broken : risk.known, risk.known));
            if (risk.broken && season_least_risk(explanation->season, occurrence, &day, &least) &&
                day != occurrence->day)
                buffer_format(&line, "; least often on %s, %s", display_date(arena, day),
                              years_text(arena, least.broken, least.known));
            explain_line(explanation, depth, "%s.", line.string);
        }
    }
}
