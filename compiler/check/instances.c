/* One mistake is one report: the same check, at the same place, by the same limit, is told of the worst zone
 * and day, and the others are named. */
#include "compiler/check/checking.h"

#include <string.h>

static struct instance_group *group_of(struct checking *checking, struct gathering *gathering,
                                       const struct instance *instance)
{
    size_t of = told_add(checking->arena, &gathering->bounds, instance->place, instance->bound);
    uint64_t key = (uint64_t)of << 42;
    if (instance->record)
        key |= (uint64_t)instance->record->day_place.source->index << 32 | instance->record->day_place.start;
    size_t at = told_add(checking->arena, &gathering->told, instance->place, key);
    if (at == gathering->groups.count)
        VECTOR_PUSH(checking->arena, &gathering->groups, (struct instance_group){.worst = 0});
    return &gathering->groups.items[at];
}

void gather(struct checking *checking, struct gathering *gathering, struct instance instance)
{
    struct instance_group *group = group_of(checking, gathering, &instance);
    if (group->instances.count && exceeds(instance.excess, group->instances.items[group->worst].excess))
        group->worst = group->instances.count;
    VECTOR_PUSH(checking->arena, &group->instances, instance);
}

/* Zones on which it is so on the same days. */
struct share {
    const char *zones[LISTED];
    size_t zone_count;
    const char *dates; /* "on Mon 2027-04-05 and Mon 2027-05-10"; "" where days say nothing */
};

/* The dates of the instances from `*at` on that are of one zone; `*at` moves behind them. */
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

static struct share *share_of(struct share shares[LISTED], size_t *count, const char *dates)
{
    for (size_t i = 0; i < *count; i++)
        if (strcmp(shares[i].dates, dates) == 0)
            return &shares[i];
    if (*count == LISTED)
        return NULL;
    shares[*count] = (struct share){.dates = dates};
    return &shares[(*count)++];
}

static void note_share(struct checking *checking, struct report *report, const struct share *share,
                       bool one_zone)
{
    size_t listed = share->zone_count < LISTED ? share->zone_count : LISTED;
    const char *zones = one_zone ? ""
                                 : text_format(checking->arena, " on %s",
                                               list_text(checking->arena, share->zones, listed, " and "));
    const char *more = share->zone_count > listed
                           ? text_format(checking->arena, ", and %zu more zones", share->zone_count - listed)
                           : "";
    report_note(checking->model->reports, report, "this is so%s%s%s%s", zones, more,
                *share->dates && !one_zone ? ", "
                : *share->dates            ? " "
                                           : "",
                share->dates);
}

/* The instances of a group stand zone by zone: its checks walk the zones' ledgers. */
static void note_instances(struct checking *checking, struct report *report,
                           const struct instance_group *group)
{
    struct share shares[LISTED];
    size_t count = 0, zones = 0, left = 0;
    for (size_t at = 0; at < group->instances.count; zones++) {
        const struct zone *zone = group->instances.items[at].ledger->zone;
        struct share *share = share_of(shares, &count, dates_of(checking, group, &at));
        if (!share)
            left++;
        else if (share->zone_count++ < LISTED)
            share->zones[share->zone_count - 1] = name_string(zone->symbol.name);
    }
    for (size_t i = 0; i < count; i++)
        note_share(checking, report, &shares[i], zones == 1);
    if (left)
        report_note(checking->model->reports, report, "and so it is on %zu more zones", left);
}

void gathering_tell(struct checking *checking, const struct gathering *gathering,
                    struct report *(*tell)(struct checking *, const struct instance *))
{
    for (size_t i = 0; i < gathering->groups.count; i++) {
        const struct instance_group *group = &gathering->groups.items[i];
        const struct limit *limit = group->instances.items[group->worst].limit;
        /* A set that nobody asked for speaks of one statement once, and of what was done by it apart. */
        bool recorded = group->instances.items[group->worst].record != NULL;
        if (limit && limit->set->always &&
            !finding_once(checking, recorded ? CHECK_RECORD_OVER_LIMIT : CHECK_LIMIT_PER_APPLICATION,
                          group->instances.items[group->worst].place, (uint64_t)(uintptr_t)limit->set))
            continue;
        struct report *report = tell(checking, &group->instances.items[group->worst]);
        if (group->instances.count > 1)
            note_instances(checking, report, group);
    }
}
