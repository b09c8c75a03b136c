#include "compiler/result/work.h"

#include "compiler/model/tolerance.h"
#include "compiler/form/terminal_text.h"
#include "compiler/form/uuid.h"

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

/* The work on the zone's lawn, made where the occurrence has none there yet, with the zone among its
 * zones. */
static struct work *zone_put(struct grouping *grouping, const struct occurrence *occurrence,
                             const struct zone *zone)
{
    uint32_t lawn = zone->lawn->zones.items[0]->index;
    if (grouping->lawn_stamp[lawn] != grouping->stamp) {
        grouping->lawn_stamp[lawn] = grouping->stamp;
        grouping->work_index[lawn] = grouping->list->count;
        work_new(grouping, occurrence, zone->lawn);
    }
    struct work *work = &grouping->list->items[grouping->work_index[lawn]];
    if (grouping->zone_stamp[zone->index] == grouping->stamp)
        return work;
    grouping->zone_stamp[zone->index] = grouping->stamp;
    grouping->zone_index[zone->index] = work->zones.count;
    struct work_zone item = {.zone = zone, .spray_m3 = NAN, .spray_m = NAN, .spray_s = NAN};
    VECTOR_PUSH(grouping->season->arena, &work->zones, item);
    work->area_m2 += zone->area_m2;
    return work;
}

/* One material for each product and statement: what a record used of the same product stands beside it. */
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
                                .rate = amount->rate,
                                .leeway = amount->leeway};
    VECTOR_PUSH(arena, &work->materials, material);
    return &work->materials.items[work->materials.count - 1];
}

/* Adds the works of one occurrence to the list, one for each lawn; one without a lawn where it names no zone.
 * What is done may have left out zones of the plan: then only those that got something are its zones. */
static void occurrence_group(struct grouping *grouping, const struct occurrence *occurrence)
{
    struct arena *arena = grouping->season->arena;
    grouping->stamp = occurrence->index + 1;
    if (!occurrence->done || occurrence->amounts.count == 0)
        for (size_t i = 0; i < occurrence->zones.count; i++)
            zone_put(grouping, occurrence, occurrence->zones.items[i]);
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        struct work *work = zone_put(grouping, occurrence, amount->zone);
        struct work_zone *zone = &work->zones.items[grouping->zone_index[amount->zone->index]];
        for (size_t n = 0; n < NUTRIENT_COUNT; n++)
            zone->supplied[n] += amount->supplied[n];
        struct material *material = material_of(arena, work, amount);
        if (differs(material->rate, amount->rate))
            material->rate = NAN;
        material->sum_exact += amount->total;
        material->leeway = leeway_both(material->leeway, amount->leeway);
        struct portion portion = {.amount = amount};
        VECTOR_PUSH(arena, &material->portions, portion);
    }
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

/* What, which time, where, and the products with their sums; the zones where it has no products. */
static const char *work_headline(const struct work *work, struct arena *arena)
{
    const struct occurrence *occurrence = work->occurrence;
    struct buffer text = {.arena = arena}, parts = {.arena = arena};
    buffer_add_string(&text, occurrence_title(arena, occurrence));
    if (work->lawn)
        buffer_format(&text, " on %s", name_string(work->lawn->symbol.name));
    bool by_zone = work->materials.count == 0 || occurrence->skipped;
    for (size_t i = 0; i < work->materials.count && !by_zone; i++) {
        buffer_separate(&parts, ", ");
        buffer_format(&parts, "%s %s", name_string(work->materials.items[i].product->symbol.name),
                      work->materials.items[i].sum_text);
    }
    for (size_t i = 0; i < work->zones.count && by_zone; i++) {
        buffer_separate(&parts, ", ");
        buffer_add_string(&parts, name_string(work->zones.items[i].zone->symbol.name));
    }
    if (parts.length)
        buffer_format(&text, ": %s", parts.string);
    if (occurrence->done)
        buffer_add_string(&text, ", done");
    if (occurrence->skipped)
        buffer_add_string(&text, ", skipped");
    return text.string;
}

/* The name space of works of lawn plans; drawn at random once, and never to change. */
static const uint8_t NAME_SPACE[UUID_SIZE] = {0x2b, 0x42, 0xdf, 0x1b, 0xe5, 0xc5, 0x4e, 0x3a,
                                              0xa1, 0x36, 0x4c, 0x99, 0x64, 0x19, 0xd5, 0x3b};

/* The season's year is part of the plan's name: next year's plan keeps its title, and must not move the
 * events of this one. */
static const char *work_uid(const struct work *work, const struct model *model)
{
    struct buffer name = {.arena = model->arena};
    int year = model->has_season ? date_of_day(model->season_first).year : 0;
    buffer_format(&name, "%s\n", model->title ? model->title : "");
    integer_add(&name, year, 0);
    buffer_format(&name, "\n%s\n%s\n", name_string(work->lawn ? work->lawn->symbol.name : NULL),
                  name_string(work->occurrence->treatment->symbol.name));
    integer_add(&name, work->occurrence->time, 0);
    if (work->occurrence->share == SHARE_PART)
        buffer_format(&name, "\npart %d", work->occurrence->part);
    return uuid_of_name(model->arena, NAME_SPACE, (struct text){name.string, name.length});
}

/* The steps of a work build on each other: its duties on materials and cautions, its sentences on all. */
struct work_list work_list_of(const struct season *season)
{
    struct work_list list = {0};
    struct grouping grouping = grouping_of(season, &list);
    for (size_t i = 0; i < season->calendar_count; i++)
        if (!season->calendar[i]->skipped)
            occurrence_group(&grouping, season->calendar[i]);
    /* Which cautions the products call for, each asked once; and which the list as a whole holds. */
    const struct model *model = season->model;
    size_t cautions = model->cautions.count;
    bool *calls = ARENA_ARRAY(season->arena, model->products.count * cautions, bool);
    for (size_t i = 0; i < model->products.count * cautions; i++)
        calls[i] =
            caution_of_product(model->cautions.items[i % cautions], model->products.items[i / cautions]);
    bool *listed = ARENA_ARRAY(season->arena, cautions, bool);
    for (size_t i = 0; i < list.count; i++) {
        struct work *work = &list.items[i];
        work_measure(work, model);
        /* The cautions of the library and the plan that its products or its kinds call for. */
        for (size_t k = 0; k < cautions; k++) {
            const struct caution *caution = model->cautions.items[k];
            bool concerned = caution_of_treatment(caution, work->occurrence->treatment);
            for (size_t j = 0; j < work->materials.count; j++)
                concerned = concerned || calls[work->materials.items[j].product->index * cautions + k];
            if (caution->symbol.broken || !concerned)
                continue;
            VECTOR_PUSH(model->arena, &work->cautions, caution);
            if (!listed[k])
                VECTOR_PUSH(model->arena, &list.cautions, caution);
            listed[k] = true;
        }
        work_duties(work, model);
        work_sentences(work, season);
        work->headline = work_headline(work, season->arena);
        work->uid = work_uid(work, model);
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
    for (size_t i = 0; i < list.count; i++) {
        list.items[i].headline = work_headline(&list.items[i], season->arena);
        list.items[i].uid = work_uid(&list.items[i], season->model);
    }
    return list;
}
