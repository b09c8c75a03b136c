#include "compiler/output/work.h"

#include "compiler/model/compare.h"
#include "compiler/output/uuid.h"

/* Where the occurrence at hand has its lawns and zones: by zone index, valid where the stamp is the
 * occurrence's. Keeps a plan of thousands of zones from taking thousands of searches. */
struct grouping {
    const struct season *season;
    struct work_list *list;
    uint32_t stamp;
    uint32_t *lawn_stamp, *zone_stamp;
    size_t *work_index; /* in the list, by the index of a lawn's first zone */
    size_t *zone_index; /* in the work's zones, by zone index */
};

static struct work *work_new(struct grouping *grouping, const struct occurrence *occurrence,
                             const struct lawn *lawn)
{
    struct work work = {.occurrence = occurrence, .lawn = lawn, .mix = {.volume_m3 = NAN}};
    VECTOR_PUSH(grouping->season->arena, grouping->list, work);
    return &grouping->list->items[grouping->list->count - 1];
}

static struct work *work_of_zone(struct grouping *grouping, const struct occurrence *occurrence,
                                 const struct zone *zone)
{
    uint32_t lawn = zone->lawn->zones.items[0]->index;
    if (grouping->lawn_stamp[lawn] != grouping->stamp) {
        grouping->lawn_stamp[lawn] = grouping->stamp;
        grouping->work_index[lawn] = grouping->list->count;
        work_new(grouping, occurrence, zone->lawn);
    }
    return &grouping->list->items[grouping->work_index[lawn]];
}

static struct work *zone_put(struct grouping *grouping, const struct occurrence *occurrence,
                             const struct zone *zone)
{
    struct work *work = work_of_zone(grouping, occurrence, zone);
    if (grouping->zone_stamp[zone->index] == grouping->stamp)
        return work;
    grouping->zone_stamp[zone->index] = grouping->stamp;
    grouping->zone_index[zone->index] = work->zones.count;
    struct work_zone item = {.zone = zone};
    VECTOR_PUSH(grouping->season->arena, &work->zones, item);
    work->area_m2 += zone->area_m2;
    return work;
}

static struct material *material_of(struct arena *arena, struct work *work, const struct amount *amount)
{
    for (size_t i = work->materials.count; i-- > 0;) {
        struct material *material = &work->materials.items[i];
        if (material->product == amount->product && material->dressing == amount->dressing &&
            material->volume == amount->volume)
            return material;
    }
    struct material material = {.product = amount->product,
                                .dressing = amount->dressing,
                                .volume = amount->volume,
                                .recorded = amount->recorded,
                                .rate = amount->rate};
    VECTOR_PUSH(arena, &work->materials, material);
    return &work->materials.items[work->materials.count - 1];
}

static void supply_put(struct work_zone *zone, const struct amount *amount)
{
    for (size_t n = 0; n < NUTRIENT_COUNT; n++)
        zone->supplied[n] += amount->supplied[n];
}

static void amount_put(struct grouping *grouping, const struct occurrence *occurrence,
                       const struct amount *amount)
{
    struct arena *arena = grouping->season->arena;
    struct work *work = zone_put(grouping, occurrence, amount->zone);
    supply_put(&work->zones.items[grouping->zone_index[amount->zone->index]], amount);
    struct material *material = material_of(arena, work, amount);
    if (exceeds(material->rate, amount->rate) || exceeds(amount->rate, material->rate))
        material->rate = NAN;
    material->sum_exact += amount->total;
    struct portion portion = {.amount = amount};
    VECTOR_PUSH(arena, &material->portions, portion);
}

static const struct machine *spreader_of(const struct work *work)
{
    const struct machine *machine = work->occurrence->treatment->machine;
    return machine && !machine->sprayer && !work->occurrence->done ? machine : NULL;
}

static int hopper_fills(const struct machine *spreader, const struct portion *portion)
{
    if (!(spreader->hopper_kg > 0) || !isfinite(portion->amount->mass_total))
        return 0;
    double fills = portion->amount->mass_total / spreader->passes / spreader->hopper_kg;
    const double most = 1e6; /* far beyond what anyone walks; keeps the conversion defined */
    return exceeds(fills, 1) ? (int)ceil(fmin(fills, most) * (1 - COMPARE_TOLERANCE)) : 1;
}

static void portion_measure(struct arena *arena, const struct material *material, struct portion *portion,
                            const struct machine *spreader, int *decimals)
{
    int places = 0;
    if (material->recorded) {
        portion->value = unit_from_si(material->unit, portion->amount->total);
        portion->text =
            text_format(arena, "%s %s", number_short(arena, portion->value), material->unit->name);
        return;
    }
    portion->value = measure_down(material->unit, portion->amount->total, &places);
    portion->text = measure_text(arena, material->unit, portion->value, places);
    *decimals = places > *decimals ? places : *decimals;
    if (!spreader)
        return;
    portion->fills = hopper_fills(spreader, portion);
    if (spreader->passes > 1)
        portion->each = measure_down_text(arena, material->unit, portion->amount->total / spreader->passes);
}

/* One unit for all portions and their sum: a column of gallons and fluid ounces misleads. The sum's, where a
 * jug shows both of a system's units at once, as of litres and millilitres; otherwise the largest portion's.
 */
static const struct unit *portions_unit(struct arena *arena, const struct model *model,
                                        const struct material *material)
{
    double largest = 0;
    for (size_t i = 0; i < material->portions.count; i++)
        largest = fmax(largest, material->portions.items[i].amount->total);
    return measure_unit(arena, model, model->metric ? material->sum_exact : largest, material->volume);
}

static void material_measure(struct arena *arena, const struct model *model, struct material *material,
                             const struct machine *spreader)
{
    int decimals = 0;
    material->unit = material->tank_unit = portions_unit(arena, model, material);
    for (size_t i = 0; i < material->portions.count; i++) {
        portion_measure(arena, material, &material->portions.items[i], spreader, &decimals);
        material->sum += material->portions.items[i].value;
    }
    const char *sum =
        material->recorded ? number_short(arena, material->sum) : number_text(arena, material->sum, decimals);
    material->sum_text = text_format(arena, "%s %s", sum, material->unit->name);
}

static void work_measure(struct work *work, const struct season *season)
{
    const struct machine *spreader = spreader_of(work);
    for (size_t i = 0; i < work->materials.count; i++)
        material_measure(season->arena, season->model, &work->materials.items[i], spreader);
}

static void occurrence_group(struct grouping *grouping, const struct occurrence *occurrence)
{
    grouping->stamp = occurrence->index + 1;
    if (!occurrence->done || occurrence->amounts.count == 0)
        for (size_t i = 0; i < occurrence->zones.count; i++)
            zone_put(grouping, occurrence, occurrence->zones.items[i]);
    for (size_t i = 0; i < occurrence->amounts.count; i++)
        amount_put(grouping, occurrence, &occurrence->amounts.items[i]);
    if (occurrence->zones.count == 0 && occurrence->amounts.count == 0)
        work_new(grouping, occurrence, NULL);
}

static struct grouping grouping_of(const struct season *season, struct work_list *list)
{
    size_t zones = season->model->zones.count;
    return (struct grouping){.season = season,
                             .list = list,
                             .lawn_stamp = ARENA_ARRAY(season->arena, zones, uint32_t),
                             .zone_stamp = ARENA_ARRAY(season->arena, zones, uint32_t),
                             .work_index = ARENA_ARRAY(season->arena, zones, size_t),
                             .zone_index = ARENA_ARRAY(season->arena, zones, size_t)};
}

static void work_name(struct work *work, const struct season *season)
{
    work->headline = work_headline(work, season);
    work->uid = work_uid(work, season->model);
}

struct work_list work_list_of(const struct season *season)
{
    struct work_list list = {0};
    struct grouping grouping = grouping_of(season, &list);
    for (size_t i = 0; i < season->calendar_count; i++)
        if (!season->calendar[i]->skipped)
            occurrence_group(&grouping, season->calendar[i]);
    bool *listed = ARENA_ARRAY(season->arena, season->model->cautions.count, bool);
    for (size_t i = 0; i < list.count; i++) {
        struct work *work = &list.items[i];
        work_measure(work, season);
        work_mix(work, season->model);
        work_heaps(work, season->model);
        work_cautions(&list, work, season->model, listed);
        work_sentences(work, season);
        work_name(work, season);
    }
    return list;
}

struct work_list work_list_skipped(const struct season *season)
{
    struct work_list list = {0};
    struct grouping grouping = grouping_of(season, &list);
    for (size_t i = 0; i < season->occurrences.count; i++)
        if (season->occurrences.items[i].skipped)
            occurrence_group(&grouping, &season->occurrences.items[i]);
    for (size_t i = 0; i < list.count; i++)
        work_name(&list.items[i], season);
    return list;
}

/* The name space of works of lawn plans; drawn at random once, and never to change. */
static const uint8_t NAME_SPACE[UUID_SIZE] = {0x2b, 0x42, 0xdf, 0x1b, 0xe5, 0xc5, 0x4e, 0x3a,
                                              0xa1, 0x36, 0x4c, 0x99, 0x64, 0x19, 0xd5, 0x3b};

/* The season's year is part of the plan's name: next year's plan keeps its title, and must not move the
 * events of this one. */
const char *work_uid(const struct work *work, const struct model *model)
{
    struct buffer name = {.arena = model->arena};
    int year = model->has_season ? date_of_day(model->season_first).year : 0;
    buffer_format(&name, "%s\n%d\n", model->title ? model->title : "", year);
    if (work->lawn)
        buffer_add(&name, work->lawn->thing.name->text);
    buffer_add_string(&name, "\n");
    buffer_add(&name, work->occurrence->treatment->thing.name->text);
    buffer_format(&name, "\n%d", work->occurrence->time);
    if (work->occurrence->share == SHARE_PART)
        buffer_format(&name, "\npart %d", work->occurrence->part);
    return uuid_of_name(model->arena, NAME_SPACE, (struct text){name.string, name.length});
}
