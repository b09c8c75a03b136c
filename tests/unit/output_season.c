#include "tests/unit/output_season.h"

#include <stdlib.h>

static const char PLAN[] = "# spring-feed\n"
                           "apply spring-feed { supply 0.75 lb N per 1000 sqft from starter }\n";

const struct name *output_name(struct output_season *made, const char *text)
{
    return name_intern(&made->names, text_of(text));
}

day_number output_day(int year, int month, int day)
{
    return day_of_date((struct civil_date){year, month, day});
}

static struct symbol symbol_named(struct output_season *made, const char *name)
{
    struct place place = {&made->source, 0, 1};
    return (struct symbol){.name = output_name(made, name), .place = place, .statement = place};
}

static struct zone *zone_make(struct output_season *made, const char *name, double square_feet)
{
    struct zone *zone = ARENA_NEW(&made->arena, struct zone);
    *zone = (struct zone){.symbol = symbol_named(made, name),
                          .lawn = made->lawn,
                          .index = (uint32_t)made->model.zones.count,
                          .area_m2 = square_feet * SQFT,
                          .water_m = INFINITY};
    VECTOR_PUSH(&made->arena, &made->model.zones, zone);
    VECTOR_PUSH(&made->arena, &made->lawn->zones, zone);
    return zone;
}

static void ground_make(struct output_season *made)
{
    made->lawn = ARENA_NEW(&made->arena, struct lawn);
    *made->lawn = (struct lawn){.symbol = symbol_named(made, "reading-green"), .bulk_density = NAN};
    VECTOR_PUSH(&made->arena, &made->model.lawns, made->lawn);
    const double disc = 63.61725123519331; /* pi * 4.5^2, by bc */
    made->north = zone_make(made, "north", 62.0 * 40 - disc);
    made->south = zone_make(made, "south", 50.0 * 34 / 2);
    made->strip = zone_make(made, "strip", 10 * (8.0 / 2 + 9.5 + 11 + 10 + 7.0 / 2));
}

static struct product *product_make(struct output_season *made, const char *name, enum product_form form)
{
    struct product *product = ARENA_NEW(&made->arena, struct product);
    *product = (struct product){.symbol = symbol_named(made, name),
                                .index = (uint32_t)made->model.products.count,
                                .form = form,
                                .density = NAN,
                                .heat_below = NAN,
                                .cold_above = NAN,
                                .water_in_m = NAN,
                                .water_in_s = NAN,
                                .dry_s = NAN,
                                .label = {.low = NAN, .high = NAN, .water_low = NAN, .water_high = NAN}};
    VECTOR_PUSH(&made->arena, &made->model.products, product);
    return product;
}

/* grade 14-20-10, slow 30% of N; heat below 85 F; water-in 0.25 in within 1 day.
 * grade 6-0-0 liquid, 10.6 lb per gal, Fe 5%; dry 4 h. */
static void products_make(struct output_season *made)
{
    struct product *starter = made->starter = product_make(made, "starter", FORM_GRANULAR);
    starter->content[NUTRIENT_N] = 0.14;
    starter->content[NUTRIENT_SLOW_N] = 0.14 * 0.3;
    starter->content[NUTRIENT_SOLUBLE_N] = 0.14 * 0.7;
    starter->content[NUTRIENT_P] = 0.20 * nutrient_trade_form(NUTRIENT_P)->element_per_unit;
    starter->content[NUTRIENT_K] = 0.10 * nutrient_trade_form(NUTRIENT_K)->element_per_unit;
    starter->heat_below = (85 + 459.67) * 5 / 9;
    starter->water_in_m = 0.25 * INCH;
    starter->water_in_s = 86400;
    struct product *seaweed = made->seaweed = product_make(made, "seaweed", FORM_LIQUID);
    seaweed->density = 10.6 * LB / GALLON;
    seaweed->content[NUTRIENT_N] = seaweed->content[NUTRIENT_SOLUBLE_N] = 0.06;
    seaweed->content[NUTRIENT_FE] = 0.05;
    seaweed->dry_s = 4 * 3600;
}

/* width 8 ft, hopper 35 lb, passes 2; tank 4 gal, output 1 gal per 1000 sqft. */
static void machines_make(struct output_season *made)
{
    made->broadcast = ARENA_NEW(&made->arena, struct machine);
    *made->broadcast = (struct machine){.symbol = symbol_named(made, "broadcast"),
                                        .width_m = 8 * FOOT,
                                        .hopper_kg = 35 * LB,
                                        .passes = 2,
                                        .tank_m3 = NAN,
                                        .output = NAN};
    made->backpack = ARENA_NEW(&made->arena, struct machine);
    *made->backpack = (struct machine){.symbol = symbol_named(made, "backpack"),
                                       .sprayer = true,
                                       .width_m = NAN,
                                       .hopper_kg = NAN,
                                       .passes = 1,
                                       .tank_m3 = 4 * GALLON,
                                       .speed = NAN,
                                       .output = GALLON / (1000 * SQFT)};
}

static struct treatment *treatment_make(struct output_season *made, const char *name, struct machine *machine)
{
    struct treatment *treatment = ARENA_NEW(&made->arena, struct treatment);
    *treatment = (struct treatment){.symbol = symbol_named(made, name),
                                    .index = (uint32_t)made->model.treatments.count,
                                    .machine = machine};
    VECTOR_PUSH(&made->arena, &made->model.treatments, treatment);
    return treatment;
}

static void dressing_make(struct output_season *made, struct treatment *treatment, struct product *product,
                          double rate, bool volume)
{
    struct dressing dressing = {.product = product, .rate = rate, .volume = volume};
    VECTOR_PUSH(&made->arena, &treatment->dressings, dressing);
    VECTOR_PUSH(&made->arena, &treatment->zones, made->north);
    VECTOR_PUSH(&made->arena, &treatment->zones, made->south);
    VECTOR_PUSH(&made->arena, &treatment->zones, made->strip);
}

static void treatments_make(struct output_season *made)
{
    made->spring_feed = treatment_make(made, "spring-feed", made->broadcast);
    dressing_make(made, made->spring_feed, made->starter, 0.75 / 0.14 * LB_PER_1000SQFT, false);
    made->tonic = treatment_make(made, "tonic", made->backpack);
    dressing_make(made, made->tonic, made->seaweed, 3 * FL_OZ_PER_1000SQFT, true);
    struct when same = {.kind = WHEN_SAME_DAY, .other = made->spring_feed};
    VECTOR_PUSH(&made->arena, &made->tonic->whens, same);
    made->fall_feed = treatment_make(made, "fall-feed", made->broadcast);
    dressing_make(made, made->fall_feed, made->starter, 4 * LB_PER_1000SQFT, false);
    struct treatment *topdress = made->topdress = treatment_make(made, "topdress", NULL);
    topdress->task = true;
    struct layer *layer = ARENA_NEW(&made->arena, struct layer);
    layer->depth_m = 0.25 * INCH;
    topdress->layer = layer;
    VECTOR_PUSH(&made->arena, &topdress->zones, made->north);
    struct mix_part compost = {0.6, output_name(made, "compost"), NULL},
                    sand = {0.4, output_name(made, "sand"), NULL};
    VECTOR_PUSH(&made->arena, &layer->mix, compost);
    VECTOR_PUSH(&made->arena, &layer->mix, sand);
}

static void amount_make(struct output_season *made, struct occurrence *occurrence,
                        const struct dressing *dressing, const struct zone *zone)
{
    const struct product *product = dressing->product;
    double density = dressing->volume ? product->density : 1;
    struct amount amount = {.dressing = dressing,
                            .leeway = LEEWAY_DOWN,
                            .product = product,
                            .zone = zone,
                            .volume = dressing->volume,
                            .rate = dressing->rate,
                            .total = dressing->rate * zone->area_m2,
                            .mass_rate = dressing->rate * density};
    double *supplied = ARENA_ARRAY(&made->arena, NUTRIENT_COUNT, double);
    for (size_t n = 0; n < NUTRIENT_COUNT; n++)
        supplied[n] = amount.mass_rate * product->content[n];
    amount.supplied = supplied;
    VECTOR_PUSH(&made->arena, &occurrence->amounts, amount);
}

static void occurrence_make(struct output_season *made, struct treatment *treatment, int time, int times,
                            day_number day)
{
    struct slip *slip = ARENA_NEW(&made->arena, struct slip);
    *slip = (struct slip){.end = SLIP_WINDOW, .latest = day + 7, .alone = day + 7};
    struct occurrence occurrence = {.treatment = treatment,
                                    .index = (uint32_t)made->season.occurrences.count,
                                    .time = time,
                                    .times = times,
                                    .dated = true,
                                    .day = day,
                                    .planned = day,
                                    .latest_by_dates = day + 7,
                                    .slip = slip};
    occurrence.zones.items = treatment->zones.items;
    occurrence.zones.count = treatment->zones.count;
    for (size_t d = 0; d < treatment->dressings.count; d++)
        for (size_t z = 0; z < treatment->zones.count; z++)
            amount_make(made, &occurrence, &treatment->dressings.items[d], treatment->zones.items[z]);
    VECTOR_PUSH(&made->arena, &made->season.occurrences, occurrence);
}

static int calendar_compare(const void *a, const void *b)
{
    const struct occurrence *left = *(struct occurrence *const *)a, *right = *(struct occurrence *const *)b;
    if (left->day != right->day)
        return left->day < right->day ? -1 : 1;
    return left->index < right->index ? -1 : 1;
}

void output_season_order(struct output_season *made)
{
    struct season *season = &made->season;
    season->calendar = ARENA_ARRAY(&made->arena, season->occurrences.count, struct occurrence *);
    season->calendar_count = 0;
    for (size_t i = 0; i < season->occurrences.count; i++)
        if (season->occurrences.items[i].dated)
            season->calendar[season->calendar_count++] = &season->occurrences.items[i];
    qsort(season->calendar, season->calendar_count, sizeof *season->calendar, calendar_compare);
}

void output_season_make(struct output_season *made)
{
    *made = (struct output_season){.season = {.dated = true}};
    arena_init(&made->arena, NULL);
    names_init(&made->names, &made->arena);
    reports_init(&made->reports, &made->arena);
    source_init(&made->source, &made->arena, "green.prill", (const unsigned char *)PLAN, sizeof PLAN - 1);
    made->model = (struct model){.arena = &made->arena,
                                 .names = &made->names,
                                 .reports = &made->reports,
                                 .title = "Wrenfield reading green",
                                 .edition = 1,
                                 .edition_day = output_day(2027, 2, 20),
                                 .has_season = true,
                                 .season_first = output_day(2027, 3, 1),
                                 .season_last = output_day(2027, 11, 20)};
    made->season.model = &made->model;
    made->season.arena = &made->arena;
    ground_make(made);
    products_make(made);
    machines_make(made);
    treatments_make(made);
    occurrence_make(made, made->spring_feed, 1, 1, output_day(2027, 4, 10));
    occurrence_make(made, made->tonic, 1, 1, output_day(2027, 4, 10));
    occurrence_make(made, made->fall_feed, 1, 2, output_day(2027, 9, 4));
    occurrence_make(made, made->fall_feed, 2, 2, output_day(2027, 10, 16));
    occurrence_make(made, made->topdress, 1, 1, output_day(2027, 5, 29));
    output_season_order(made);
}

void output_season_free(struct output_season *made)
{
    arena_free(&made->arena);
}
