/* Applications, tasks and what was done of them. */
#include "compiler/model/read.h"

#include <math.h>

static void treatment_new(struct model *model, const struct clause *clause, bool task)
{
    struct treatment *treatment = symbol_new(model, clause, "name", sizeof *treatment);
    treatment->index = (uint32_t)model->treatments.count;
    treatment->task = task;
    treatment->lay_m = NAN;
    symbol_declare(model, SYMBOL_TREATMENT, &treatment->symbol);
    VECTOR_PUSH(model->arena, &model->treatments, treatment);
    body_later(model, clause, &treatment->symbol, PHASE_TREATMENT, NULL);
}

void read_apply(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    treatment_new(model, clause, false);
}

void read_task(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    treatment_new(model, clause, true);
}

void read_treatment_zones(struct model *model, const struct clause *clause, void *subject)
{
    struct treatment *treatment = subject;
    struct zone_list zones = {0};
    if (!zones_of(model, clause_value(clause, "zones"), &zones))
        treatment->symbol.broken = true;
    for (size_t i = 0; i < zones.count; i++)
        model->zones.items[zones.items[i]->index]->named_in_treatment = true;
    treatment->zones.items = zones.items;
    treatment->zones.count = zones.count;
    treatment->zones.capacity = zones.capacity;
    treatment->zones_place = clause->place;
}

static void dressing_new(struct model *model, const struct clause *clause, struct treatment *treatment,
                         bool by_supply)
{
    const struct value *rate = clause_value(clause, "rate");
    struct product *product =
        (struct product *)symbol_find(model, SYMBOL_PRODUCT, clause_value(clause, "product"));
    if (!product || product->symbol.broken)
        treatment->symbol.broken = true;
    if (!product)
        return;
    struct dressing dressing = {.by_supply = by_supply,
                                .product = product,
                                .nutrient = rate->nutrient,
                                .rate = rate->number,
                                .per_m2 = rate->per,
                                .volume = rate->volume,
                                .place = clause->place,
                                .rate_place = rate->place};
    VECTOR_PUSH(model->arena, &treatment->dressings, dressing);
}

void read_treatment_supply(struct model *model, const struct clause *clause, void *subject)
{
    dressing_new(model, clause, subject, true);
}

void read_treatment_rate(struct model *model, const struct clause *clause, void *subject)
{
    dressing_new(model, clause, subject, false);
}

void read_treatment_machine(struct model *model, const struct clause *clause, void *subject)
{
    struct treatment *treatment = subject;
    const struct value *name = clause_value(clause, "machine");
    treatment->machine = (struct machine *)symbol_find(model, SYMBOL_MACHINE, name);
    treatment->machine_place = name->place;
    if (!treatment->machine)
        treatment->symbol.broken = true;
}

void read_task_lay(struct model *model, const struct clause *clause, void *subject)
{
    struct treatment *treatment = subject;
    const struct value *mix = clause_value(clause, "mix");
    treatment->lay_m = clause_value(clause, "depth")->number;
    treatment->lay_place = clause->place;
    for (size_t i = 0; i < mix->count; i++) {
        struct mix_part part = {mix->items[i].number, mix->items[i].name};
        VECTOR_PUSH(model->arena, &treatment->mix, part);
    }
}

void read_task_kind(struct model *model, const struct clause *clause, void *subject)
{
    struct treatment *treatment = subject;
    const struct value *kinds = clause_value(clause, "kinds");
    for (size_t i = 0; i < kinds->count; i++)
        VECTOR_PUSH(model->arena, &treatment->kinds, kinds->items[i].name);
}

/* ---- when ---- */

static void add_when(struct model *model, struct treatment *treatment, struct when when)
{
    VECTOR_PUSH(model->arena, &treatment->whens, when);
}

/* The days in slots `first` and `last`, either of which may be absent. */
static void add_window(struct model *model, const struct clause *clause, void *subject, enum when_kind kind,
                       const char *first_slot, const char *last_slot)
{
    struct treatment *treatment = subject;
    struct when when = {.kind = kind, .place = clause->place};
    const struct value *first = first_slot ? clause_value(clause, first_slot) : NULL;
    const struct value *last = last_slot ? clause_value(clause, last_slot) : NULL;
    bool sound = (!first || day_of_value(model, first, &when.first)) &&
                 (!last || day_of_value(model, last, &when.last));
    if (sound && first && last && when.last < when.first) {
        report_add(model->reports, &model_rules[RULE_VALUE], clause->place,
                   "this window ends before it begins");
        sound = false;
    }
    if (sound)
        add_when(model, treatment, when);
    else
        treatment->symbol.broken = true;
}

void read_when_on(struct model *model, const struct clause *clause, void *subject)
{
    add_window(model, clause, subject, WHEN_ON, "day", "day");
}

void read_when_between(struct model *model, const struct clause *clause, void *subject)
{
    add_window(model, clause, subject, WHEN_BETWEEN, "first", "last");
}

void read_when_from(struct model *model, const struct clause *clause, void *subject)
{
    add_window(model, clause, subject, WHEN_FROM, "first", NULL);
}

void read_when_by(struct model *model, const struct clause *clause, void *subject)
{
    add_window(model, clause, subject, WHEN_BY, NULL, "last");
}

static void add_relation(struct model *model, const struct clause *clause, void *subject, enum when_kind kind,
                         struct duration wait)
{
    struct treatment *treatment = subject;
    const struct value *name = clause_value(clause, "other");
    struct treatment *other = (struct treatment *)symbol_find(model, SYMBOL_TREATMENT, name);
    if (other == treatment) {
        report_add(model->reports, &model_rules[RULE_VALUE], name->place,
                   "a treatment cannot wait for itself");
        other = NULL;
    }
    if (!other) {
        treatment->symbol.broken = true;
        return;
    }
    add_when(
        model, treatment,
        (struct when){
            .kind = kind, .place = clause->place, .other = other, .other_place = name->place, .wait = wait});
}

static struct duration wait_of(const struct clause *clause, bool at_most)
{
    return duration_of_time(clause_value(clause, "wait"), at_most);
}

void read_when_same_day(struct model *model, const struct clause *clause, void *subject)
{
    add_relation(model, clause, subject, WHEN_SAME_DAY, (struct duration){0});
}

void read_when_at_least(struct model *model, const struct clause *clause, void *subject)
{
    add_relation(model, clause, subject, WHEN_AT_LEAST_AFTER, wait_of(clause, false));
}

void read_when_at_least_before(struct model *model, const struct clause *clause, void *subject)
{
    add_relation(model, clause, subject, WHEN_AT_LEAST_BEFORE, wait_of(clause, false));
}

void read_when_within(struct model *model, const struct clause *clause, void *subject)
{
    add_relation(model, clause, subject, WHEN_WITHIN, wait_of(clause, true));
}

void read_when_exactly(struct model *model, const struct clause *clause, void *subject)
{
    add_relation(model, clause, subject, WHEN_EXACTLY_AFTER, wait_of(clause, false));
}

void read_when_exactly_before(struct model *model, const struct clause *clause, void *subject)
{
    add_relation(model, clause, subject, WHEN_EXACTLY_BEFORE, wait_of(clause, false));
}

void read_when_after(struct model *model, const struct clause *clause, void *subject)
{
    add_relation(model, clause, subject, WHEN_AT_LEAST_AFTER, (struct duration){.days = 1});
}

void read_when_before(struct model *model, const struct clause *clause, void *subject)
{
    add_relation(model, clause, subject, WHEN_AT_LEAST_BEFORE, (struct duration){.days = 1});
}

static void add_every(struct model *model, const struct clause *clause, void *subject,
                      const struct value *times)
{
    struct treatment *treatment = subject;
    const struct value *period = clause_value(clause, "period"), *last = clause_value(clause, "last");
    struct when when = {.kind = WHEN_EVERY, .place = clause->place, .times = times ? (int)times->number : 0};
    when.period = duration_of_time(period, false);
    bool sound = day_of_value(model, clause_value(clause, "first"), &when.first) &&
                 (!last || day_of_value(model, last, &when.last));
    if (sound && last && when.last < when.first) {
        report_add(model->reports, &model_rules[RULE_VALUE], clause->place,
                   "this window ends before it begins");
        sound = false;
    }
    struct building *building = model->building;
    if (building->repeated == treatment) {
        struct report *report = report_add(model->reports, &model_rules[RULE_REPEATED], clause->place,
                                           "a treatment is repeated by one `every` only");
        report_label(model->reports, report, building->repeated_at, "it is repeated here already");
        sound = false;
    }
    building->repeated = treatment;
    building->repeated_at = clause->place;
    if (sound)
        add_when(model, treatment, when);
    else
        treatment->symbol.broken = true;
}

void read_when_every(struct model *model, const struct clause *clause, void *subject)
{
    add_every(model, clause, subject, clause_value(clause, "times"));
}

void read_when_every_until(struct model *model, const struct clause *clause, void *subject)
{
    add_every(model, clause, subject, NULL);
}

/* ---- records ---- */

static bool treatment_has_zone(const struct treatment *treatment, const struct zone *zone)
{
    for (size_t i = 0; i < treatment->zones.count; i++)
        if (treatment->zones.items[i] == zone)
            return true;
    return false;
}

static struct report *part_report(struct model *model, const struct record *record, const char *sentence,
                                  const struct symbol *symbol)
{
    struct text name = symbol ? symbol->name->text : TEXT("");
    struct report *report = report_add(model->reports, &model_rules[RULE_VALUE], record->part_place, "%.*s%s",
                                       (int)name.length, name.start, sentence);
    report_label(model->reports, report, record->treatment->symbol.place, "what is planned");
    return report;
}

/* A part is told from the rest zone by zone. */
static bool part_tells(struct model *model, const struct record *record)
{
    const struct treatment *treatment = record->treatment;
    if (treatment->zones.count == 0) {
        part_report(model, record, " names no zones, so a part of it cannot be told from the rest",
                    &treatment->symbol);
        return false;
    }
    if (record->uses.count == 0 && record->part_zones.count == 0) {
        report_help(model->reports, part_report(model, record, "this does not say which part was done", NULL),
                    "name the zones, as in: part on north, or say what was used on them");
        return false;
    }
    for (size_t i = 0; i < record->part_zones.count; i++)
        if (!treatment_has_zone(treatment, record->part_zones.items[i])) {
            part_report(model, record, " is no zone of the treatment", &record->part_zones.items[i]->symbol);
            return false;
        }
    return true;
}

static void finish_record(struct model *model, const struct clause *clause, struct symbol *subject)
{
    struct record *record = (struct record *)subject;
    record->treatment =
        (struct treatment *)symbol_find(model, SYMBOL_TREATMENT, clause_value(clause, "what"));
    if (!record->treatment || record->treatment->symbol.broken) {
        record->symbol.broken = true;
        return;
    }
    if (record->part && !record->symbol.broken && !part_tells(model, record))
        record->symbol.broken = true;
    VECTOR_PUSH(model->arena, &record->treatment->records, record);
}

static struct record *record_new(struct model *model, const struct clause *clause, bool skipped)
{
    struct record *record = symbol_new(model, clause, "what", sizeof *record);
    record->skipped = skipped;
    VECTOR_PUSH(model->arena, &model->records, record);
    body_later(model, clause, &record->symbol, PHASE_RECORD, finish_record);
    return record;
}

void read_done(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    const struct value *day = clause_value(clause, "day");
    struct record *record = record_new(model, clause, false);
    record->day_place = day->place;
    if (!day_of_value(model, day, &record->day))
        record->symbol.broken = true;
}

void read_skipped(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    const struct value *time = clause_value(clause, "time"), *why = clause_value(clause, "why");
    struct record *record = record_new(model, clause, true);
    record->time = time ? (int)time->number : 0;
    record->time_place = time ? time->place : clause->place;
    record->why = why ? string_of(model, why) : NULL;
}

void read_done_part(struct model *model, const struct clause *clause, void *subject)
{
    struct record *record = subject;
    const struct value *names = clause_value(clause, "zones");
    struct zone_list zones = {0};
    record->part = true;
    record->part_place = clause->place;
    if (names && !zones_of(model, names, &zones))
        record->symbol.broken = true;
    record->part_zones.items = zones.items;
    record->part_zones.count = zones.count;
    record->part_zones.capacity = zones.capacity;
}

void read_done_admit(struct model *model, const struct clause *clause, void *subject)
{
    ((struct record *)subject)->admitted = string_of(model, clause_value(clause, "why"));
}

void read_done_time(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct record *record = subject;
    record->time = (int)clause_value(clause, "count")->number;
    record->time_place = clause->place;
}

/* What a record used last: a further zone goes on with it. */
static struct product *product_used(struct model *model, const struct clause *clause,
                                    const struct record *record)
{
    struct building *building = model->building;
    const struct value *name = clause_value(clause, "product");
    if (name) {
        building->using = record;
        building->used = (struct product *)symbol_find(model, SYMBOL_PRODUCT, name);
    } else if (building->using != record) {
        struct report *report = report_add(model->reports, &model_rules[RULE_FORM], clause->place,
                                           "this does not say which product was used");
        report_help(model->reports, report, "name it after the amount: used %s of PRODUCT on %s",
                    text_string(model->arena, place_text(clause_value(clause, "amount")->place)),
                    text_string(model->arena, place_text(clause_value(clause, "zone")->place)));
        return NULL;
    }
    return building->used;
}

void read_used(struct model *model, const struct clause *clause, void *subject)
{
    struct record *record = subject;
    const struct value *amount = clause_value(clause, "amount");
    struct use use = {.amount = amount->number, .volume = amount->volume, .place = clause->place};
    use.product = product_used(model, clause, record);
    use.zone = (struct zone *)symbol_find(model, SYMBOL_ZONE, clause_value(clause, "zone"));
    if (use.product && use.zone && !use.product->symbol.broken && !use.zone->symbol.broken)
        VECTOR_PUSH(model->arena, &record->uses, use);
    else
        record->symbol.broken = true;
}
