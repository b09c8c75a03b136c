/* One mistake is one report: the same check, at the same place, by the same limit, is told of the worst zone
 * and day, and the others are named. */
#include "compiler/check/checking.h"
#include "compiler/model/allow.h"
#include "compiler/model/always.h"

#include <string.h>

const struct allowance *zone_allowed(const struct checking *checking, enum check_id id,
                                     const struct limit *limit, const struct zone *zone)
{
    const struct model *model = checking->model;
    const struct symbol *const *about = ABOUT(&zone->symbol);
    const struct allowance *of = NULL;
    while (model->allowances.count && (of = allowance_of_rule(model, &CHECKS[id].rule, about, of)) &&
           !of->subject)
        ;
    if (!of && limit)
        of = limit_allowance(model, limit, about);
    return of && of->subject ? of : NULL;
}

/* One of a statement, a limit or label, a record, and an `allow` for its zone alone. */
void gather(struct checking *checking, struct gathering *gathering, struct instance instance)
{
    const struct place *day = instance.record ? &instance.record->day_place : NULL;
    struct seen mistake = {.source = instance.place.source,
                           .start = instance.place.start,
                           .key = instance.bound,
                           .record = day ? (uint64_t)day->source->index << 32 | day->start : 0,
                           .allowed =
                               zone_allowed(checking, instance.id, instance.limit, instance.ledger->zone)};
    struct arena *scratch = arena_scratch(checking->arena);
    size_t at = seen_add(scratch, &gathering->mistakes, mistake);
    if (at == gathering->groups.count)
        VECTOR_PUSH(scratch, &gathering->groups, (struct instance_group){.worst = 0});
    struct instance_group *group = &gathering->groups.items[at];
    if (group->instances.count && exceeds(instance.excess, group->instances.items[group->worst].excess))
        group->worst = group->instances.count;
    VECTOR_PUSH(scratch, &group->instances, instance);
}

void gather_unless_allowed(struct checking *checking, struct gathering *gathering, struct instance instance,
                           enum check_id id, const struct symbol *const *about,
                           struct report *(*tell)(struct checking *, const struct instance *))
{
    instance.id = id;
    if (allowance_of_rule(checking->model, &CHECKS[id].rule, about, NULL))
        tell(checking, &instance);
    else
        gather(checking, gathering, instance);
}

/* "on Mon 2027-04-05 and Mon 2027-05-10": the dates of the instances from `*at` on that are of one zone, ""
 * where days say nothing; `*at` moves behind them. */
static const char *dates_of(struct checking *checking, const struct instance_group *group, size_t *at)
{
    const struct ledger *ledger = group->instances.items[*at].ledger;
    const char *dates[LISTED];
    size_t count = 0, left = 0;
    for (; *at < group->instances.count && group->instances.items[*at].ledger == ledger; ++*at) {
        day_number day = group->instances.items[*at].day;
        if (day != DAY_NONE && count < LISTED)
            dates[count++] = display_date(checking->arena, day);
        else if (day != DAY_NONE)
            left++;
    }
    if (!count)
        return "";
    return text_format(checking->arena, "on %s%s", list_text(checking->arena, dates, count, " and "),
                       left ? text_format(checking->arena, ", and %zu more days", left) : "");
}

/* Zones on which it is so on the same days share a note. The instances of a group stand zone by zone: its
 * checks walk the zones' ledgers. */
static void note_instances(struct checking *checking, struct report *report,
                           const struct instance_group *group)
{
    struct alike {
        const char *zones[LISTED];
        size_t zone_count;
        const char *dates;
    } alike[LISTED];
    struct arena *arena = checking->arena;
    size_t count = 0, zones = 0, left = 0;
    for (size_t at = 0; at < group->instances.count; zones++) {
        const struct zone *zone = group->instances.items[at].ledger->zone;
        const char *dates = dates_of(checking, group, &at);
        size_t same = 0;
        while (same < count && strcmp(alike[same].dates, dates) != 0)
            same++;
        if (same == LISTED) {
            left++;
            continue;
        }
        if (same == count)
            alike[count++] = (struct alike){.dates = dates};
        if (alike[same].zone_count++ < LISTED)
            alike[same].zones[alike[same].zone_count - 1] = name_string(zone->symbol.name);
    }
    for (size_t i = 0; i < count; i++) {
        size_t listed = alike[i].zone_count < LISTED ? alike[i].zone_count : LISTED;
        struct buffer note = {.arena = arena};
        buffer_add_string(&note, zones > 1 ? "this affects " : "this happens");
        if (zones > 1)
            buffer_add_string(&note, list_text(arena, alike[i].zones, listed, " and "));
        if (alike[i].zone_count > listed)
            buffer_format(&note, ", and %zu more zones", alike[i].zone_count - listed);
        if (*alike[i].dates)
            buffer_format(&note, "%s%s", zones > 1 ? ", " : " ", alike[i].dates);
        report_note(checking->model->reports, report, "%s", buffer_string(&note));
    }
    if (left)
        report_note(checking->model->reports, report, "and %zu more zones", left);
}

/* A set that nobody asked for speaks of one statement once, and of what was done by it apart. */
void gathering_tell(struct checking *checking, const struct gathering *gathering,
                    struct report *(*tell)(struct checking *, const struct instance *))
{
    for (size_t i = 0; i < gathering->groups.count; i++) {
        const struct instance_group *group = &gathering->groups.items[i];
        const struct instance *worst = &group->instances.items[group->worst];
        if (worst->limit && worst->limit->set->always &&
            !finding_once_by(checking, worst->record ? CHECK_RECORD_OVER_LIMIT : CHECK_LIMIT_PER_APPLICATION,
                             worst->place, (uintptr_t)worst->limit->set,
                             zone_allowed(checking, worst->id, worst->limit, worst->ledger->zone)))
            continue;
        struct report *report = tell(checking, worst);
        if (group->instances.count > 1)
            note_instances(checking, report, group);
    }
}
