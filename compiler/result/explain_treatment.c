/* Treatments: each time it occurs, how its day came. */
#include "compiler/result/explanation.h"
#include "compiler/result/slip_words.h"

/* What the day at hand is bounded by. */
struct day_story {
    struct explanation *explanation;
    const struct season *season;
    uint32_t node;
    day_number first; /* the earliest day by everything but closed days */
};

static const char *date(const struct day_story *story, day_number day)
{
    return display_date(story->explanation->arena, day);
}

/* Who says so. */
static const char *cause_text(const struct day_story *story, uint32_t cause)
{
    if (cause == TIMETABLE_NONE)
        return "no statement";
    const struct bound *bound = &story->season->bounds.items[cause];
    return explain_statement(story->explanation, bound->place);
}

static const char *node_name(const struct day_story *story, uint32_t node)
{
    const struct season *season = story->season;
    const struct occurrence *occurrence =
        &season->occurrences.items[season->members[season->member_start[node]]];
    return occurrence_title(story->explanation->arena, occurrence);
}

/* ---- bounds from other treatments: of all edges of one statement only the strictest is told ---- */

static const uint32_t NO_EDGE = UINT32_MAX;

static day_number edge_bound(const struct day_story *story, const struct timetable_edge *edge, bool incoming)
{
    const struct timetable_result *timetable = &story->season->timetable;
    return (day_number)(incoming ? timetable_edge_first(edge, timetable->earliest[edge->from])
                                 : timetable_edge_last(edge, timetable->latest[edge->to]));
}

static bool edge_stricter(const struct day_story *story, uint32_t a, uint32_t b, bool incoming)
{
    if (b == NO_EDGE)
        return true;
    day_number first = edge_bound(story, &story->season->edges.items[a], incoming);
    day_number second = edge_bound(story, &story->season->edges.items[b], incoming);
    return incoming ? first > second : first < second;
}

/* By cause, one more place for none: the strictest edge into the node, or out of it. */
static uint32_t *strictest_edges(const struct day_story *story, bool incoming)
{
    const struct season *season = story->season;
    uint32_t *strictest = ARENA_ARRAY(story->explanation->arena, season->bounds.count + 1, uint32_t);
    for (size_t i = 0; i <= season->bounds.count; i++)
        strictest[i] = NO_EDGE;
    for (uint32_t i = 0; i < season->edges.count; i++) {
        const struct timetable_edge *edge = &season->edges.items[i];
        size_t cause = edge->cause == TIMETABLE_NONE ? season->bounds.count : edge->cause;
        if ((incoming ? edge->to : edge->from) == story->node && edge->from != edge->to &&
            edge_stricter(story, i, strictest[cause], incoming))
            strictest[cause] = i;
    }
    return strictest;
}

static void tell_edge(struct day_story *story, uint32_t index, bool incoming)
{
    const struct season *season = story->season;
    const struct timetable_edge *edge = &season->edges.items[index];
    uint32_t other = incoming ? edge->from : edge->to;
    day_number bound = edge_bound(story, edge, incoming);
    day_number from = incoming ? season->timetable.earliest[other] : season->timetable.latest[other];
    int32_t least = timetable_edge_days(edge);
    const char *on =
        index < season->first_wait
            ? ""
            : text_format(story->explanation->arena, " on %s",
                          name_string(season->waits[index - season->first_wait].zone->symbol.name));
    const char *apart = text_format(story->explanation->arena, "%s %s",
                                    display_duration(story->explanation->arena, timetable_edge_wait(edge)),
                                    incoming ? "after" : "before");
    if (least <= 0) /* below 0: an upper bound of the other's, seen from this end */
        apart = least == 0 ? "the day of" : "tied to";
    explain_line(story->explanation, 3, "not %s %s: %s %s (%s)%s, by %s%s", incoming ? "before" : "after",
                 date(story, bound), apart, node_name(story, other), date(story, from), on,
                 cause_text(story, edge->cause), incoming && bound == story->first ? " (decides)" : "");
}

static void tell_edges(struct day_story *story, bool incoming)
{
    const uint32_t *strictest = strictest_edges(story, incoming);
    for (size_t i = 0; i <= story->season->bounds.count; i++)
        if (strictest[i] != NO_EDGE)
            tell_edge(story, strictest[i], incoming);
}

/* ---- the node's own conditions ---- */

static const struct timetable_node *node_of(const struct day_story *story)
{
    return &story->season->nodes[story->node];
}

/* Without closed days: the latest of what it may not come before. */
static day_number first_day(const struct day_story *story)
{
    const struct timetable_node *node = node_of(story);
    day_number first = INT32_MIN;
    for (uint32_t i = 0; i < node->condition_count; i++)
        if (node->conditions[i].kind == TIMETABLE_NOT_BEFORE && node->conditions[i].day > first)
            first = node->conditions[i].day;
    for (size_t i = 0; i < story->season->edges.count; i++) {
        const struct timetable_edge *edge = &story->season->edges.items[i];
        if (edge->to == story->node && edge->from != edge->to && edge_bound(story, edge, true) > first)
            first = edge_bound(story, edge, true);
    }
    return first;
}

/* Whether all sets of days but this one leave the day. */
static bool open_besides(const struct timetable_node *node, const struct timetable_condition *besides,
                         day_number day)
{
    for (uint32_t i = 0; i < node->condition_count; i++) {
        const struct timetable_condition *condition = &node->conditions[i];
        if (condition != besides && condition->kind == TIMETABLE_CLOSED_DAYS &&
            !day_set_contains(condition->days, day))
            return false;
    }
    return true;
}

/* A set of days decides where the day would be an earlier one without it. */
static bool set_decides(const struct day_story *story, const struct timetable_condition *condition,
                        day_number earliest)
{
    for (day_number day = story->first; day < earliest; day++)
        if (open_besides(node_of(story), condition, day))
            return true;
    return false;
}

static void tell_closed(struct day_story *story, const struct timetable_condition *condition,
                        day_number earliest)
{
    day_number open;
    bool decides = set_decides(story, condition, earliest);
    if (decides && day_set_next(condition->days, story->first, &open) && open == earliest)
        explain_line(story->explanation, 3, "the first open day from %s on is %s: %s (decides)",
                     date(story, story->first), date(story, open), cause_text(story, condition->cause));
    else
        explain_line(story->explanation, 3, "only on the days left by %s%s",
                     cause_text(story, condition->cause), decides ? " (decides)" : "");
}

static void tell_conditions(struct day_story *story, enum timetable_kind kind, day_number earliest)
{
    const struct timetable_node *node = node_of(story);
    for (uint32_t i = 0; i < node->condition_count; i++) {
        const struct timetable_condition *condition = &node->conditions[i];
        if (condition->kind != kind)
            continue;
        if (kind == TIMETABLE_CLOSED_DAYS)
            tell_closed(story, condition, earliest);
        else
            explain_line(story->explanation, 3, "not %s %s: %s%s",
                         kind == TIMETABLE_NOT_BEFORE ? "before" : "after", date(story, condition->day),
                         cause_text(story, condition->cause),
                         kind == TIMETABLE_NOT_BEFORE && condition->day == story->first ? " (decides)" : "");
    }
}

/* Whether the first day is one that another treatment leaves, and no window of its own. */
static bool decided_by_others(const struct day_story *story)
{
    const struct timetable_node *node = node_of(story);
    for (uint32_t i = 0; i < node->condition_count; i++)
        if (node->conditions[i].kind == TIMETABLE_NOT_BEFORE && node->conditions[i].day == story->first)
            return false;
    return true;
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
static struct holders holders_gather(const struct day_story *story)
{
    const struct season *season = story->season;
    struct holders holders = {.count = 0};
    uint32_t nodes[NODES_LOOKED_AT] = {story->node};
    size_t count = 1;
    for (size_t at = 0; at < count; at++) {
        const struct timetable_node *node = &season->nodes[nodes[at]];
        for (uint32_t i = 0; i < node->condition_count; i++)
            if (node->conditions[i].kind != TIMETABLE_NOT_AFTER)
                holder_note(&holders, node->conditions[i].cause);
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

/* Where another treatment decides, two may each seem to wait for the other. What really holds the day is each
 * statement without which it would come earlier, so each is left out in turn. */
static void tell_holders(struct day_story *story, day_number earliest)
{
    const struct season *season = story->season;
    struct arena *arena = story->explanation->arena;
    const struct holders holders = holders_gather(story);
    bool told = false;
    for (size_t i = 0; i < holders.count; i++) {
        const day_number *days = timetable_least_without(arena, &season->question, holders.causes[i]);
        if (!days || days[story->node] >= earliest)
            continue;
        if (!told)
            explain_line(story->explanation, 2, "What holds it there; without it the day would be earlier:");
        told = true;
        explain_line(story->explanation, 3, "%s: %s", cause_text(story, holders.causes[i]),
                     date(story, days[story->node]));
    }
}

/* ---- how far it may slip ---- */

static void tell_slip(struct day_story *story, const struct occurrence *occurrence)
{
    const struct slip *slip = &occurrence->slip;
    const char *sentence = slip_sentence(story->explanation->arena, occurrence);
    if (sentence)
        explain_line(story->explanation, 2, "%s", sentence);
    if (slip->at.source && (slip->end == SLIP_BROKEN || slip->end == SLIP_CLOSED))
        explain_line(story->explanation, 3, "%s: %s",
                     slip->end == SLIP_BROKEN ? "a later day breaks" : "closed by",
                     explain_statement(story->explanation, slip->at));
}

static void explain_record(struct explanation *explanation, const struct occurrence *occurrence)
{
    explain_line(explanation, 2, "The day is recorded: %s.",
                 explain_statement(explanation, occurrence->record->symbol.statement));
    if (occurrence->planned != occurrence->day)
        explain_line(explanation, 2, "The plan alone puts it on %s.",
                     display_date(explanation->arena, occurrence->planned));
}

void explain_day(struct explanation *explanation, const struct occurrence *occurrence)
{
    const struct season *season = explanation->season;
    if (occurrence->done) {
        explain_record(explanation, occurrence);
        return;
    }
    struct day_story story = {
        .explanation = explanation, .season = season, .node = season->node_of[occurrence->index]};
    if (story.node == TIMETABLE_NONE || !season->timetable.earliest)
        return;
    day_number earliest = season->timetable.earliest[story.node];
    story.first = first_day(&story);
    explain_line(explanation, 2, "The day is the first that all of these leave:");
    tell_conditions(&story, TIMETABLE_NOT_BEFORE, earliest);
    tell_edges(&story, true);
    tell_conditions(&story, TIMETABLE_CLOSED_DAYS, earliest);
    if (decided_by_others(&story))
        tell_holders(&story, earliest);
    tell_slip(&story, occurrence);
    tell_conditions(&story, TIMETABLE_NOT_AFTER, earliest);
}

/* ---- the treatment ---- */

static void explain_where(struct explanation *explanation, const struct treatment *treatment)
{
    struct buffer zones = {.arena = explanation->arena};
    for (size_t i = 0; i < treatment->zones.count; i++)
        buffer_format(&zones, "%s%s", i ? ", " : "", name_string(treatment->zones.items[i]->symbol.name));
    if (zones.length)
        explain_line(explanation, 1, "To %s (%s).", zones.string,
                     explain_place(explanation, treatment->zones_place));
    if (treatment->machine)
        explain_line(explanation, 1, "With %s (%s).", name_string(treatment->machine->symbol.name),
                     explain_place(explanation, treatment->machine_place));
    if (!isnan(treatment->lay_m))
        explain_line(explanation, 1, "%s.", explain_statement(explanation, treatment->lay_place));
}

static void explain_occurrence(struct explanation *explanation, const struct occurrence *occurrence,
                               bool amounts)
{
    const char *name = occurrence_title(explanation->arena, occurrence);
    if (occurrence->skipped || !occurrence->dated) {
        explain_line(explanation, 1, "%s: %s", name, occurrence->skipped ? "skipped" : "without a day");
        return;
    }
    explain_line(explanation, 1, "%s: %s%s", name, display_date(explanation->arena, occurrence->day),
                 occurrence->done ? ", done" : "");
    explain_day(explanation, occurrence);
    explain_day_weather(explanation, occurrence, 2);
    if (occurrence->amounts.count == 0)
        return;
    if (amounts)
        explain_amounts(explanation, occurrence);
    explain_limits(explanation, occurrence);
    if (occurrence->done)
        explain_again(explanation, occurrence);
}

/* What is planned is the same each time and is told once. */
void explain_treatment(struct explanation *explanation, const struct treatment *treatment)
{
    const struct season *season = explanation->season;
    bool told = false;
    uint32_t added = season->added_of[treatment->index + 1] - season->added_of[treatment->index];
    uint32_t planned = season->first_of[treatment->index + 1] - season->first_of[treatment->index];
    explain_line(explanation, 0, "%s %s (%s)", treatment->task ? "Task" : "Treatment",
                 name_string(treatment->symbol.name), explain_place(explanation, treatment->symbol.place));
    explain_where(explanation, treatment);
    for (uint32_t i = 0; i < planned + added; i++) {
        uint32_t index = i < planned ? season->first_of[treatment->index] + i
                                     : season->added_of[treatment->index] + i - planned;
        const struct occurrence *occurrence = &season->occurrences.items[index];
        buffer_add_string(explanation->out, "\n");
        explain_occurrence(explanation, occurrence, !told || occurrence->done);
        told = told || (occurrence->dated && !occurrence->skipped && !occurrence->done);
    }
}
