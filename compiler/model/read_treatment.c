/* Applications, tasks, when they are done, and what was done of them. */
#include "compiler/model/product.h"
#include "compiler/model/read.h"

#include <assert.h>
#include <math.h>

/* `apply` or `task`. */
void read_treatment(const struct stated *stated)
{
    struct treatment *treatment =
        object_declare(stated, SYMBOL_TREATMENT, sizeof *treatment, PHASE_TREATMENT, NULL);
    treatment->index = (uint32_t)stated->model->treatments.count;
    treatment->task = stated->clause->form->opens == BLOCK_TASK;
    VECTOR_PUSH(stated->model->arena, &stated->model->treatments, treatment);
}

void read_treatment_zones(const struct stated *stated)
{
    struct treatment *treatment = stated->subject;
    if (!zones_of(stated->model, slot_value(stated, "zones"), &treatment->zones))
        treatment->symbol.broken = true;
    for (size_t i = 0; i < treatment->zones.count; i++)
        stated->model->zones.items[treatment->zones.items[i]->index]->named_in_treatment = true;
    treatment->zones_place = stated->clause->place;
}

/* `supply` fixes what a nutrient gets, `rate` what goes on of the product, `live-seed` (which: 1) what lives
 * of it. */
void read_treatment_dressing(const struct stated *stated)
{
    struct treatment *treatment = stated->subject;
    const struct value *rate = slot_value(stated, "rate");
    struct product *product = slot_symbol(stated, SYMBOL_PRODUCT, "product");
    if (!product || product->symbol.broken)
        treatment->symbol.broken = true;
    if (!product)
        return;
    struct dressing dressing = {.by_supply = rate->nutrient != NULL,
                                .product = product,
                                .nutrient = rate->nutrient,
                                .rate = rate->number,
                                .per_m2 = rate->per,
                                .volume = rate->volume,
                                .place = stated->clause->place,
                                .rate_place = rate->place};
    bool live = stated->clause->form->which && !product->symbol.broken;
    if (live && !isnan(product->live)) { /* what lives of the seed takes so much more of the bag */
        dressing.live_rate = dressing.rate;
        dressing.rate /= product->live;
    } else if (live) {
        struct reports *reports = stated->model->reports;
        struct report *report =
            report_add(reports, &model_rules[RULE_VALUE], slot_value(stated, "product")->place,
                       "%s does not state its share of live seed", name_string(product->symbol.name));
        report_label(reports, report, product->symbol.place, "the product");
        report->help = "its tag says it: seed 98% pure, 85% germinating";
        treatment->symbol.broken = true;
    }
    VECTOR_PUSH(stated->model->arena, &treatment->dressings, dressing);
}

/* An application is made of products, whose nutrients count, each by its density as it is sold, loose. A task
 * may lay whatever it names; what is a product too is one that shopping knows. */
void read_treatment_lay(const struct stated *stated)
{
    struct model *model = stated->model;
    struct treatment *treatment = stated->subject;
    const struct value *mix = slot_value(stated, "mix"), *depth = slot_value(stated, "depth");
    struct place place = stated->clause->place;
    struct layer *layer = ARENA_NEW(model->arena, struct layer);
    layer->depth_m = depth->number;
    layer->place = place;
    treatment->layer = layer;
    for (size_t i = 0; i < mix->count; i++) {
        struct value name = mix->items[i];
        struct mix_part part = {name.number, name.name, NULL};
        struct symbol *symbol = treatment->task ? symbol_look(model, SYMBOL_PRODUCT, name.name)
                                                : symbol_find(model, SYMBOL_PRODUCT, &name);
        const struct product *product = (const struct product *)symbol;
        if (symbol)
            symbol->used = true;
        if (symbol && !symbol->broken)
            part.product = product;
        VECTOR_PUSH(model->arena, &layer->mix, part);
        if (treatment->task)
            continue;
        struct dressing dressing = {.product = part.product,
                                    .per_m2 = 1,
                                    .laid_m = depth->number * part.share,
                                    .place = place,
                                    .rate_place = depth->place};
        if (part.product)
            dressing.rate = layer_loose_m(product, dressing.laid_m) * product->density;
        if (part.product && !isnan(dressing.rate)) {
            VECTOR_PUSH(model->arena, &treatment->dressings, dressing);
            continue;
        }
        treatment->symbol.broken = true;
        if (!part.product)
            continue;
        struct report *report = report_add(model->reports, &model_rules[RULE_VALUE], place,
                                           "%s states no density, so what this layer weighs is not known",
                                           name_string(part.material));
        report_label(model->reports, report, product->symbol.place, "the product");
        report_help(model->reports, report, "state it for the loose material: density 1.5 kg per L");
    }
}

/* Holes that overlap are none. */
void read_task_tines(const struct stated *stated)
{
    struct treatment *treatment = stated->subject;
    double across = slot_value(stated, "across")->number, along = slot_value(stated, "along")->number;
    double diameter = slot_value(stated, "diameter")->number;
    struct tines *tines = ARENA_NEW(stated->model->arena, struct tines);
    *tines = (struct tines){diameter, slot_value(stated, "depth")->number, across * along};
    treatment->tines = tines;
    if (diameter <= across && diameter <= along)
        return;
    report_add(stated->model->reports, &model_rules[RULE_VALUE], stated->clause->place,
               "these holes are wider than they are apart");
    treatment->symbol.broken = true;
}

/* ---- when ---- */

static void add_when(const struct stated *stated, const struct when *when, bool sound)
{
    struct treatment *treatment = stated->subject;
    assert(treatment);
    if (sound)
        VECTOR_PUSH(stated->model->arena, &treatment->whens, *when);
    else
        treatment->symbol.broken = true;
}

/* On a day, between two, from one or by one. */
void read_when_days(const struct stated *stated)
{
    enum when_kind kind = (enum when_kind)stated->clause->form->which;
    struct when when = {.kind = kind, .place = stated->clause->place};
    const char *first = kind == WHEN_BY ? NULL : kind == WHEN_ON ? "day" : "first";
    const char *last = kind == WHEN_FROM ? NULL : kind == WHEN_ON ? "day" : "last";
    bool sound = days_in(stated, first, &when.first, last, &when.last);
    add_when(stated, &when, sound);
}

/* So long before or after another treatment. Without a time, `after` is the next day or later, and `same day`
 * that very day. */
void read_when_relation(const struct stated *stated)
{
    struct model *model = stated->model;
    struct treatment *treatment = stated->subject;
    enum when_kind kind = (enum when_kind)stated->clause->form->which;
    const struct value *name = slot_value(stated, "other"), *wait = slot_value(stated, "wait");
    struct treatment *other = slot_symbol(stated, SYMBOL_TREATMENT, "other");
    struct when when = {.kind = kind, .place = stated->clause->place, .other = other};
    if (wait)
        when.wait = duration_of_time(wait, kind == WHEN_WITHIN);
    else if (kind != WHEN_SAME_DAY)
        when.wait.days = 1;
    if (other == treatment)
        report_add(model->reports, &model_rules[RULE_VALUE], name->place,
                   "a treatment cannot wait for itself");
    add_when(stated, &when, other && other != treatment);
}

/* So many times, or as often as it fits until a day. */
void read_when_every(const struct stated *stated)
{
    struct building *building = stated->model->building;
    struct treatment *treatment = stated->subject;
    const struct value *times = slot_value(stated, "times");
    struct when when = {.kind = WHEN_EVERY,
                        .place = stated->clause->place,
                        .wait = duration_of_time(slot_value(stated, "period"), false),
                        .times = times ? (int)times->number : 0};
    bool sound = days_in(stated, "first", &when.first, "last", &when.last);
    if (building->repeated == treatment) {
        struct report *report = report_add(stated->model->reports, &model_rules[RULE_REPEATED],
                                           stated->clause->place, "a treatment can have only one `every`");
        report_label(stated->model->reports, report, building->repeated_at, "the first is here");
        sound = false;
    }
    building->repeated = treatment;
    building->repeated_at = stated->clause->place;
    add_when(stated, &when, sound);
}

/* ---- records ---- */

/* A part is told from the rest zone by zone: the treatment has zones, the record names some of them. */
static void finish_record(const struct stated *stated)
{
    struct model *model = stated->model;
    struct record *record = stated->subject;
    const struct treatment *treatment = record->treatment = slot_symbol(stated, SYMBOL_TREATMENT, "what");
    if (!treatment || treatment->symbol.broken) {
        record->symbol.broken = true;
        return;
    }
    const char *sentence = NULL, *help = NULL;
    const struct symbol *about = NULL;
    if (record->part && !record->symbol.broken && treatment->zones.count == 0) {
        sentence = " names no zones, so it cannot be done in part";
        about = &treatment->symbol;
    } else if (record->part && !record->symbol.broken && !record->uses.count && !record->part_zones.count) {
        sentence = "this does not say which part was done";
        help = "name the zones, as in: part on north, or write what was used on each zone";
    }
    for (size_t i = 0; i < record->part_zones.count && !record->symbol.broken && !sentence; i++) {
        const struct zone *zone = record->part_zones.items[i];
        if (!zone_among(treatment->zones.items, treatment->zones.count, zone)) {
            sentence = " is not a zone of this treatment";
            about = &zone->symbol;
        }
    }
    if (sentence) {
        struct report *report = report_add(model->reports, &model_rules[RULE_VALUE], record->part_place,
                                           "%s%s", about ? name_string(about->name) : "", sentence);
        report_label(model->reports, report, treatment->symbol.place, "the treatment");
        report->help = help;
        record->symbol.broken = true;
    }
    VECTOR_PUSH(model->arena, &record->treatment->records, record);
}

/* `done` on a day, or `skipped` for good. */
void read_record(const struct stated *stated)
{
    struct record *record = object_new(stated, slot_value(stated, "what"), sizeof *record);
    const struct value *day = slot_value(stated, "day"), *time = slot_value(stated, "time");
    record->skipped = !day;
    record->day_place = day ? day->place : (struct place){0};
    if (day && !day_of_value(stated->model, day, &record->day))
        record->symbol.broken = true;
    if (record->skipped) {
        record->time = time ? (int)time->number : 0;
        record->time_place = time ? time->place : stated->clause->place;
        record->why = slot_string(stated, "why");
    }
    VECTOR_PUSH(stated->model->arena, &stated->model->records, record);
    body_later(stated, record, PHASE_RECORD, finish_record);
}

void read_done_part(const struct stated *stated)
{
    struct record *record = stated->subject;
    const struct value *names = slot_value(stated, "zones");
    record->part = true;
    record->part_place = stated->clause->place;
    if (names && !zones_of(stated->model, names, &record->part_zones))
        record->symbol.broken = true;
}

/* Where no product is named, what the record used last goes on a further zone. */
void read_used(const struct stated *stated)
{
    struct model *model = stated->model;
    struct building *building = model->building;
    struct record *record = stated->subject;
    const struct value *amount = slot_value(stated, "amount");
    struct use use = {.amount = amount->number, .volume = amount->volume, .place = stated->clause->place};
    if (slot_value(stated, "product")) {
        building->using = record;
        building->used = slot_symbol(stated, SYMBOL_PRODUCT, "product");
    } else if (building->using != record) {
        struct report *report = report_add(model->reports, &model_rules[RULE_FORM], stated->clause->place,
                                           "this does not say which product was used");
        report_help(model->reports, report, "name it after the amount: used %s of PRODUCT on %s",
                    slot_written(stated, "amount"), slot_written(stated, "zone"));
    }
    use.product = building->using == record ? building->used : NULL;
    use.zone = slot_symbol(stated, SYMBOL_ZONE, "zone");
    if (use.product && use.zone && !use.product->symbol.broken && !use.zone->symbol.broken)
        VECTOR_PUSH(model->arena, &record->uses, use);
    else
        record->symbol.broken = true;
}
