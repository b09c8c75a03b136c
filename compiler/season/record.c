/* Which record speaks of which time, and the occurrences that records add: parts, what is beyond the plan. */
#include "compiler/model/tolerance.h"
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
    VECTOR(struct filed) all;
    struct time_records *of_time; /* by time from 0 */
    VECTOR(const struct record *) beyond;
};

/* Those that name their time first, by time; then by day: what was skipped has none, and comes last. */
static int by_time_and_day(const void *a, const void *b)
{
    const struct filed *first = a, *second = b;
    int named = ascending(second->record->time > 0, first->record->time > 0);
    int time = ascending(first->record->time, second->record->time);
    int skipped = ascending(first->record->skipped, second->record->skipped);
    int day = first->record->skipped ? 0 : ascending(first->record->day, second->record->day);
    int position = ascending((int64_t)first->position, (int64_t)second->position);
    return named ? named : time ? time : skipped ? skipped : day ? day : position;
}

/* ---- what a part leaves ---- */

bool record_takes(const struct record *record, const struct zone *zone)
{
    return zone_among(record->part_zones.items, record->part_zones.count, zone);
}

bool record_uses(const struct record *record, const struct product *product, const struct zone *zone)
{
    for (size_t i = 0; i < record->uses.count; i++)
        if (record->uses.items[i].zone == zone && (!product || record->uses.items[i].product == product))
            return true;
    return false;
}

/* Whether some product of the treatment, or the zone where it has none, is named by none of the parts. */
static bool zone_left(const struct filing *filing, const struct time_records *parts, const struct zone *zone)
{
    const struct dressing_list *dressings = &filing->season->dressings[filing->treatment->index];
    for (size_t i = 0; i < (dressings->count ? dressings->count : 1); i++) {
        const struct product *product = dressings->count ? dressings->items[i]->product : NULL;
        bool named = false;
        for (size_t j = 0; j < parts->count && !named; j++) {
            const struct record *record = parts->items[j].record;
            named = record->part && (record_takes(record, zone) || record_uses(record, product, zone));
        }
        if (!named)
            return true;
    }
    return false;
}

/* ---- occurrences ---- */

/* There is room for it. */
static void zone_add(struct occurrence *occurrence, const struct zone *zone)
{
    if (!zone_among(occurrence->zones.items, occurrence->zones.count, zone))
        occurrence->zones.items[occurrence->zones.count++] = zone;
}

/* An occurrence beside the planned ones. Its zones are those that the record names, those of the plan first
 * and in its order; the treatment's where it names none. */
static void occurrence_add(struct filing *filing, const struct record *record, enum occurrence_share share,
                           int time, int part)
{
    struct season *season = filing->season;
    const struct treatment *treatment = filing->treatment;
    bool names = record->uses.count || record->part_zones.count;
    struct occurrence occurrence = {.treatment = treatment,
                                    .index = (uint32_t)season->occurrences.count,
                                    .dressings = &season->dressings[treatment->index],
                                    .slip = &SLIP_UNASKED,
                                    .time = time,
                                    .times = filing->times,
                                    .share = share,
                                    .part = part,
                                    .record = record,
                                    .skipped = record->skipped,
                                    .done = !record->skipped};
    occurrence.zones.items =
        ARENA_ARRAY(season->arena, treatment->zones.count + record->uses.count, const struct zone *);
    for (size_t i = 0; i < treatment->zones.count; i++)
        if (!names || record_takes(record, treatment->zones.items[i]) ||
            record_uses(record, NULL, treatment->zones.items[i]))
            zone_add(&occurrence, treatment->zones.items[i]);
    for (size_t i = 0; i < record->uses.count; i++)
        if (record->uses.items[i].zone)
            zone_add(&occurrence, record->uses.items[i].zone);
    VECTOR_PUSH(season->arena, &season->occurrences, occurrence);
}

/* First the records are filed under times, then what they make of these goes into the season. */
void records_place(struct season *season, const struct treatment *treatment)
{
    if (!treatment_sound(treatment) || treatment->records.count == 0)
        return;
    int times = season->occurrences.items[season->first_of[treatment->index]].times;
    struct filing filing = {.season = season,
                            .treatment = treatment,
                            .times = times,
                            .of_time = ARENA_ARRAY(season->arena, (size_t)times, struct time_records)};
    for (size_t i = 0; i < treatment->records.count; i++) {
        struct filed filed = {treatment->records.items[i], i};
        if (!filed.record->symbol.broken)
            VECTOR_PUSH(season->arena, &filing.all, filed);
    }
    if (filing.all.count)
        qsort(filing.all.items, filing.all.count, sizeof *filing.all.items, by_time_and_day);
    int next = 0;
    for (size_t i = 0; i < filing.all.count; i++) {
        /* Records that name their time come first; the others take what is free. */
        const struct record *record = filing.all.items[i].record;
        while (record->time <= 0 && next < times && filing.of_time[next].closed)
            next++;
        int time = record->time > 0 ? record->time - 1 : next;
        if (time < times && !filing.of_time[time].closed) {
            /* A time is closed by a record of the whole, or by the part that leaves nothing of it. */
            struct time_records *records = &filing.of_time[time];
            bool left = false;
            VECTOR_PUSH(season->arena, records, filing.all.items[i]);
            for (size_t j = 0; j < treatment->zones.count && record->part && !left; j++)
                left = zone_left(&filing, records, treatment->zones.items[j]);
            records->closed = !record->part || !left;
        } else if (record->skipped)
            VECTOR_PUSH(season->arena, &season->unplaced, record);
        else
            VECTOR_PUSH(season->arena, &filing.beyond, record);
    }

    /* The parts done of one time become occurrences; the planned one is what they leave, or, closed by the
     * last of them, what that one took. */
    for (int time = 0; time < times; time++) {
        const struct time_records *records = &filing.of_time[time];
        struct occurrence *planned =
            &season->occurrences.items[season->first_of[treatment->index] + (uint32_t)time];
        struct time_records parts = *records;
        parts.count -= records->closed;
        if (records->closed) {
            planned->record = records->items[parts.count].record;
            planned->skipped = planned->record->skipped;
            planned->done = !planned->skipped;
        }
        if (parts.count == 0)
            continue;
        planned->share = SHARE_REST;
        planned->zones.items = ARENA_ARRAY(season->arena, treatment->zones.count, const struct zone *);
        planned->zones.count = 0;
        for (size_t i = 0; i < treatment->zones.count; i++)
            if (zone_left(&filing, &parts, treatment->zones.items[i]))
                zone_add(planned, treatment->zones.items[i]);
        for (size_t i = 0; i < parts.count; i++)
            occurrence_add(&filing, parts.items[i].record, SHARE_PART, time + 1, (int)i + 1);
    }
    for (size_t i = 0; i < filing.beyond.count; i++)
        occurrence_add(&filing, filing.beyond.items[i], SHARE_BEYOND, times + (int)i + 1, 0);
}
