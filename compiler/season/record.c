/* Which record speaks of which time, and the occurrences that records add: parts, and what is beyond the
 * plan. */
#include "compiler/season/dating.h"

#include <stdlib.h>

struct filed { /* a record beside its place in the text */
    const struct record *record;
    size_t position;
};

struct time_records { /* what is recorded of one time, by day */
    struct filed *items;
    size_t count, capacity;
    bool closed;
};

/* The records of one treatment. */
struct filing {
    struct season *season;
    const struct treatment *treatment;
    int times;
    VECTOR(struct filed) numbered, others;
    struct time_records *of_time; /* by time from 0 */
    VECTOR(const struct record *) beyond;
};

/* What was skipped has no day, and comes last. */
static int by_day(const struct filed *a, const struct filed *b)
{
    if (a->record->skipped != b->record->skipped)
        return a->record->skipped ? 1 : -1;
    if (!a->record->skipped && a->record->day != b->record->day)
        return a->record->day < b->record->day ? -1 : 1;
    return a->position < b->position ? -1 : a->position > b->position;
}

static int filed_by_day(const void *a, const void *b)
{
    return by_day(a, b);
}

static int filed_by_time(const void *a, const void *b)
{
    const struct filed *first = a, *second = b;
    if (first->record->time != second->record->time)
        return first->record->time < second->record->time ? -1 : 1;
    return by_day(first, second);
}

/* ---- what a part leaves ---- */

static bool list_has_zone(const struct zone *const *zones, size_t count, const struct zone *zone)
{
    for (size_t i = 0; i < count; i++)
        if (zones[i] == zone)
            return true;
    return false;
}

bool record_takes(const struct record *record, const struct zone *zone)
{
    return list_has_zone(record->part_zones.items, record->part_zones.count, zone);
}

bool record_uses(const struct record *record, const struct product *product, const struct zone *zone)
{
    for (size_t i = 0; i < record->uses.count; i++)
        if (record->uses.items[i].zone == zone && (!product || record->uses.items[i].product == product))
            return true;
    return false;
}

static bool record_names(const struct record *record, const struct product *product, const struct zone *zone)
{
    return record_takes(record, zone) || record_uses(record, product, zone);
}

static bool parts_name(const struct time_records *parts, const struct product *product,
                       const struct zone *zone)
{
    for (size_t i = 0; i < parts->count; i++)
        if (parts->items[i].record->part && record_names(parts->items[i].record, product, zone))
            return true;
    return false;
}

static bool zone_left(const struct filing *filing, const struct time_records *parts, const struct zone *zone)
{
    const struct dressing_list *dressings = season_dressings(filing->season, filing->treatment);
    for (size_t i = 0; i < dressings->count; i++)
        if (!parts_name(parts, dressings->items[i]->product, zone))
            return true;
    return dressings->count == 0 && !parts_name(parts, NULL, zone);
}

static bool anything_left(const struct filing *filing, const struct time_records *parts)
{
    for (size_t i = 0; i < filing->treatment->zones.count; i++)
        if (zone_left(filing, parts, filing->treatment->zones.items[i]))
            return true;
    return false;
}

/* ---- filing ---- */

static void file_under(struct filing *filing, int time, const struct filed *filed)
{
    struct time_records *records = &filing->of_time[time];
    VECTOR_PUSH(filing->season->arena, records, *filed);
    records->closed = !filed->record->part || !anything_left(filing, records);
}

static void file_apart(struct filing *filing, const struct record *record)
{
    if (record->skipped)
        VECTOR_PUSH(filing->season->arena, &filing->season->unplaced, record);
    else
        VECTOR_PUSH(filing->season->arena, &filing->beyond, record);
}

/* Records that name their time come first; the others take what is free. */
static void records_file(struct filing *filing)
{
    int next = 0;
    if (filing->numbered.count)
        qsort(filing->numbered.items, filing->numbered.count, sizeof *filing->numbered.items, filed_by_time);
    if (filing->others.count)
        qsort(filing->others.items, filing->others.count, sizeof *filing->others.items, filed_by_day);
    for (size_t i = 0; i < filing->numbered.count; i++) {
        const struct filed *filed = &filing->numbered.items[i];
        int time = filed->record->time - 1;
        if (time < filing->times && !filing->of_time[time].closed)
            file_under(filing, time, filed);
        else
            file_apart(filing, filed->record);
    }
    for (size_t i = 0; i < filing->others.count; i++) {
        while (next < filing->times && filing->of_time[next].closed)
            next++;
        if (next < filing->times)
            file_under(filing, next, &filing->others.items[i]);
        else
            file_apart(filing, filing->others.items[i].record);
    }
}

static void records_sort(struct filing *filing)
{
    for (size_t i = 0; i < filing->treatment->records.count; i++) {
        const struct record *record = filing->treatment->records.items[i];
        struct filed filed = {record, i};
        if (record->symbol.broken)
            continue;
        if (record->time > 0)
            VECTOR_PUSH(filing->season->arena, &filing->numbered, filed);
        else
            VECTOR_PUSH(filing->season->arena, &filing->others, filed);
    }
}

/* ---- occurrences ---- */

static void record_attach(struct occurrence *occurrence, const struct record *record)
{
    occurrence->record = record;
    occurrence->skipped = record->skipped;
    occurrence->done = !record->skipped;
}

static void zone_add(struct season *season, struct occurrence *occurrence, const struct zone *zone)
{
    if (!list_has_zone(occurrence->zones.items, occurrence->zones.count, zone))
        VECTOR_PUSH(season->arena, &occurrence->zones, zone);
}

/* The zones a record names, those of the plan first and in its order; the treatment's where it names none. */
static void zones_of_record(struct season *season, struct occurrence *occurrence)
{
    const struct treatment *treatment = occurrence->treatment;
    const struct record *record = occurrence->record;
    bool names = record->uses.count || record->part_zones.count;
    for (size_t i = 0; i < treatment->zones.count; i++)
        if (!names || record_names(record, NULL, treatment->zones.items[i]))
            zone_add(season, occurrence, treatment->zones.items[i]);
    for (size_t i = 0; i < record->uses.count; i++)
        if (record->uses.items[i].zone)
            zone_add(season, occurrence, record->uses.items[i].zone);
}

static void occurrence_push(struct filing *filing, const struct record *record, enum occurrence_share share,
                            int time, int part)
{
    struct season *season = filing->season;
    struct occurrence occurrence = {.treatment = filing->treatment,
                                    .index = (uint32_t)season->occurrences.count,
                                    .dressings = season_dressings(season, filing->treatment),
                                    .time = time,
                                    .times = filing->times,
                                    .share = share,
                                    .part = part};
    record_attach(&occurrence, record);
    zones_of_record(season, &occurrence);
    VECTOR_PUSH(season->arena, &season->occurrences, occurrence);
}

static struct occurrence *planned_of(const struct filing *filing, int time)
{
    return &filing->season->occurrences
                .items[filing->season->first_of[filing->treatment->index] + (uint32_t)time];
}

static void rest_zones(const struct filing *filing, struct occurrence *rest, const struct time_records *parts)
{
    struct time_records before = *parts;
    before.count -= rest->record != NULL; /* what closed the time took what was left */
    rest->zones.items = NULL;
    rest->zones.count = rest->zones.capacity = 0;
    for (size_t i = 0; i < filing->treatment->zones.count; i++)
        if (zone_left(filing, &before, filing->treatment->zones.items[i]))
            zone_add(filing->season, rest, filing->treatment->zones.items[i]);
}

static void time_place(struct filing *filing, int time)
{
    const struct time_records *records = &filing->of_time[time];
    size_t parts = records->count - records->closed;
    if (records->closed)
        record_attach(planned_of(filing, time), records->items[parts].record);
    if (parts == 0)
        return;
    planned_of(filing, time)->share = SHARE_REST;
    rest_zones(filing, planned_of(filing, time), records);
    for (size_t i = 0; i < parts; i++)
        occurrence_push(filing, records->items[i].record, SHARE_PART, time + 1, (int)i + 1);
}

void records_place(struct season *season, const struct treatment *treatment)
{
    if (!treatment_sound(treatment) || treatment->records.count == 0)
        return;
    int times = season->occurrences.items[season->first_of[treatment->index]].times;
    struct filing filing = {.season = season,
                            .treatment = treatment,
                            .times = times,
                            .of_time = ARENA_ARRAY(season->arena, (size_t)times, struct time_records)};
    records_sort(&filing);
    records_file(&filing);
    for (int time = 0; time < times; time++)
        time_place(&filing, time);
    for (size_t i = 0; i < filing.beyond.count; i++)
        occurrence_push(&filing, filing.beyond.items[i], SHARE_BEYOND, times + (int)i + 1, 0);
}
