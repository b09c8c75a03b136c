/* What the plan says between treatments, as relations between occurrences; and the nodes these make. */
#include "compiler/season/dating.h"

#include <assert.h>

enum { LONGEST_WAIT = 2 * DAY_SET_SPAN }; /* days; a longer one leaves the horizon as surely */

/* Takes part in this run: sound, and not skipped. */
static bool occurrence_live(const struct dating *dating, const struct occurrence *occurrence)
{
    bool added = occurrence->share == SHARE_PART || occurrence->share == SHARE_BEYOND;
    return treatment_sound(occurrence->treatment) && !(dating->records ? occurrence->skipped : added);
}

bool occurrence_fixed(const struct dating *dating, const struct occurrence *occurrence)
{
    return dating->records && occurrence->done;
}

struct ground occurrence_ground(const struct dating *dating, const struct occurrence *occurrence)
{
    if (dating->records)
        return (struct ground){occurrence->zones.items, occurrence->zones.count};
    return (struct ground){occurrence->treatment->zones.items, occurrence->treatment->zones.count};
}

static struct duration wait_bounded(struct duration wait)
{
    return duration_least_days(wait) < LONGEST_WAIT ? wait : (struct duration){.days = LONGEST_WAIT};
}

/* A statement on something skipped says nothing; the first such one is kept for the checks. */
static void when_relate(struct dating *dating, const struct occurrence *occurrence, uint32_t number)
{
    const struct treatment *treatment = occurrence->treatment;
    const struct when *when = &treatment->whens.items[number];
    if (!when->other || when->other == treatment || !treatment_sound(when->other))
        return;

    /* Which time of the treatment named it is about; none when that was skipped. Of several the first that is
     * not skipped where it says `before`, else the last; with records the last that was done of it, where
     * that lies after what is planned or nothing is planned any more. */
    const struct season *season = dating->season;
    const struct occurrence *items = season->occurrences.items, *other = NULL;
    uint32_t at = when->other->index, first = season->first_of[at], end = season->first_of[at + 1];
    bool before = when->kind == WHEN_AT_LEAST_BEFORE || when->kind == WHEN_EXACTLY_BEFORE;
    bool paired = when->kind == WHEN_SAME_DAY && items[first].times == occurrence->times;
    for (uint32_t i = 0; i < end - first && !other && !paired; i++) {
        const struct occurrence *one = &items[before ? first + i : end - 1 - i];
        other = occurrence_live(dating, one) ? one : NULL;
    }
    if (paired && occurrence_live(dating, &items[first] + (occurrence->time - 1)))
        other = &items[first] + (occurrence->time - 1);
    else if (dating->records && !paired && !(before && other))
        for (uint32_t i = season->added_of[at]; i < season->added_of[at + 1]; i++)
            if (!other || (occurrence_fixed(dating, other) && items[i].record->day > other->record->day))
                other = &items[i];
    if (!other) {
        if (!dating->season->moot)
            dating->season->moot = ARENA_ARRAY(dating->arena, season->occurrences.count, const struct when *);
        const struct when **moot = &dating->season->moot[occurrence->index];
        *moot = *moot ? *moot : when;
        return;
    }
    /* From the one named to the one that names it; `before` swaps them. */
    struct relation relation = {.early = other->index,
                                .late = occurrence->index,
                                .wait = wait_bounded(when->wait),
                                .cause = season->when_cause[treatment->index] + number};
    switch (when->kind) {
    case WHEN_SAME_DAY:
        relation.bounded = relation.same_day = true;
        break;
    case WHEN_WITHIN:
        relation.within = relation.bounded = true;
        break;
    case WHEN_EXACTLY_AFTER:
    case WHEN_EXACTLY_BEFORE:
        relation.bounded = true;
        break;
    case WHEN_AT_LEAST_AFTER:
    case WHEN_AT_LEAST_BEFORE:
        break;
    case WHEN_ON:
    case WHEN_BETWEEN:
    case WHEN_FROM:
    case WHEN_BY:
    case WHEN_EVERY:
    case WHEN_WEATHER:
        return;
    }
    if (before) {
        relation.early = occurrence->index;
        relation.late = other->index;
        relation.from_late = true;
    }
    VECTOR_PUSH(dating->arena, &dating->relations, relation);
}

/* In the order of occurrences, so that a contradiction is told in the order of the text. */
void relations_make(struct dating *dating)
{
    struct season *season = dating->season;
    season->moot = NULL;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        if (occurrence_live(dating, occurrence))
            for (uint32_t j = 0; j < occurrence->treatment->whens.count; j++)
                when_relate(dating, occurrence, j);
    }
    uint32_t planned = season->first_of[season->model->treatments.count];
    for (uint32_t i = 0, before = NO_KEY; i < planned; i++) {
        /* Each time of an `every` comes a period after the one before it that is not skipped. */
        const struct occurrence *items = season->occurrences.items;
        const struct treatment *treatment = items[i].treatment;
        if (items[i].times == 1 || !occurrence_live(dating, &items[i]))
            continue;
        const struct when *every = treatment_every(treatment);
        if (every && before != NO_KEY && items[before].treatment == treatment) {
            uint32_t cause =
                season->when_cause[treatment->index] + (uint32_t)(every - treatment->whens.items);
            struct relation relation = {before, i, cause, .wait = wait_bounded(every->wait)};
            VECTOR_PUSH(dating->arena, &dating->relations, relation);
        }
        before = i;
    }
    /* What parts leave comes not before them. */
    for (uint32_t i = planned; i < season->occurrences.count && dating->records; i++) {
        const struct occurrence *part = &season->occurrences.items[i];
        uint32_t rest = season->first_of[part->treatment->index] + (uint32_t)part->time - 1;
        uint32_t number = dating->trial ? dating->trial->members[i] : i; /* in the whole season */
        struct relation relation = {
            .early = i, .late = rest, .cause = dating->rules->part_cause + number - dating->rules->planned};
        if (part->share == SHARE_PART && occurrence_live(dating, &season->occurrences.items[rest]))
            VECTOR_PUSH(dating->arena, &dating->relations, relation);
    }
}

/* What is tied by `same day` is one node, and a node is named after its first occurrence. A record takes its
 * occurrence out of the group: the others follow its day by edges. */
void nodes_make(struct dating *dating)
{
    const struct occurrence *items = dating->season->occurrences.items;
    uint32_t count = (uint32_t)dating->season->occurrences.count;
    uint32_t *groups = groups_new(dating->scratch, count);
    for (size_t i = 0; i < dating->relations.count; i++) {
        const struct relation *relation = &dating->relations.items[i];
        if (relation->same_day && !occurrence_fixed(dating, &items[relation->early]) &&
            !occurrence_fixed(dating, &items[relation->late]))
            group_join(groups, relation->early, relation->late);
    }
    dating->node_of = ARENA_ARRAY(dating->arena, count, uint32_t);
    for (uint32_t i = 0; i < count; i++) {
        uint32_t group = group_of(groups, i);
        assert(group <= i);
        if (!occurrence_live(dating, &items[i]))
            dating->node_of[i] = TIMETABLE_NONE;
        else
            dating->node_of[i] = group < i ? dating->node_of[group] : dating->node_count++;
    }
    /* What is recorded is fixed, whatever conditions say. */
    dating->nodes = ARENA_ARRAY(dating->arena, dating->node_count, struct timetable_node);
    for (uint32_t i = 0; i < count; i++)
        if (dating->node_of[i] != TIMETABLE_NONE && occurrence_fixed(dating, &items[i]))
            dating->nodes[dating->node_of[i]] =
                (struct timetable_node){.fixed = true, .day = items[i].record->day, .cause = TIMETABLE_NONE};
    struct keyed members = sort_by_key(dating->arena, dating->node_of, count, dating->node_count);
    dating->member_start = members.start;
    dating->members = members.items;
    for (size_t i = 0; i < dating->relations.count; i++) {
        /* What was done holds back nothing that was to come before it: see season.h. */
        const struct relation *relation = &dating->relations.items[i];
        bool early_fixed = occurrence_fixed(dating, &items[relation->early]);
        bool late_fixed = occurrence_fixed(dating, &items[relation->late]);
        if (late_fixed || (relation->same_day && !early_fixed))
            continue;
        uint32_t early = dating->node_of[relation->early], late = dating->node_of[relation->late];
        struct duration wait = relation->within ? (struct duration){0} : relation->wait;
        struct timetable_edge least = timetable_at_least(early, late, wait, relation->cause);
        struct timetable_edge most = timetable_at_most(early, late, relation->wait, relation->cause);
        VECTOR_PUSH(dating->arena, &dating->edges,
                    relation->from_late ? timetable_counted_back(least) : least);
        if (relation->bounded)
            VECTOR_PUSH(dating->arena, &dating->edges,
                        relation->from_late ? timetable_counted_back(most) : most);
    }
    dating->first_wait = dating->edges.count;
}
