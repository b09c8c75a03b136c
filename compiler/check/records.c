/* Records beside what was planned. */
#include "compiler/check/checking.h"
#include "compiler/model/measure.h"
#include "compiler/season/layer.h"

#include <math.h>
#include <string.h>

/* A tenth. When a spreader is calibrated, 5 percent is what is accepted: UMass Extension, "Rotary Spreader
 * Calibration Procedures"; twice that on a real lawn: common practice, no source. */
static const double DEVIATION = 0.1;

/* ---- amounts ---- */

/* `product`: it is the product that the treatment does not have, otherwise the zone; or a zone that parts of
 * the record's time have done already. */
static void report_unforeseen(struct checking *checking, const struct occurrence *occurrence,
                              const struct amount *amount, bool product)
{
    const struct treatment *treatment = occurrence->treatment;
    bool by_part = false;
    for (size_t i = 0; i < treatment->zones.count && !product; i++)
        by_part = by_part || (occurrence->share == SHARE_REST && treatment->zones.items[i] == amount->zone);
    const char *which =
        text_format(checking->arena, by_part ? "a part of %s has done before" : "%s does not plan",
                    name_string(treatment->symbol.name));
    struct report *report =
        finding_add(checking, CHECK_RECORD_UNFORESEEN,
                    ABOUT(&treatment->symbol, &amount->zone->symbol, &amount->product->symbol), amount->place,
                    "%s %s, which %s", product ? "this puts down" : "this treats",
                    name_string(product ? amount->product->symbol.name : amount->zone->symbol.name), which);
    report_label(checking->model->reports, report, product ? treatment->symbol.place : treatment->zones_place,
                 "what was planned");
    report_help(checking->model->reports, report, "it counts toward every limit; check the name");
}

/* What one record puts on each zone of one product. A count is of the record and product whose stamp it
 * bears, so that nothing is cleared between them. */
struct tally {
    uint32_t planned, used; /* stamps */
    double amount;          /* in the measure of the first use */
    size_t first;           /* use of it on the zone, an index into the amounts */
};

struct tallies {
    struct tally *zones;   /* by index */
    uint32_t *products;    /* by index: the stamp of the record that has looked at them */
    uint32_t record, pass; /* stamps of now */
};

/* What the record puts of the product on each zone, in the measure of its first use there. */
static void tally_uses(const struct occurrence *occurrence, const struct product *product,
                       struct tallies *tallies)
{
    tallies->pass++;
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        struct tally *tally = &tallies->zones[amount->zone->index];
        if (amount->product != product)
            continue;
        if (tally->used != tallies->pass)
            *tally = (struct tally){tally->planned, 0, 0, i};
        tally->used = tallies->pass;
        tally->amount +=
            amount_rate_as(amount, occurrence->amounts.items[tally->first].volume) * amount->zone->area_m2;
    }
}

/* ---- zones left out, and records without amounts ---- */

/* Zones of its plan on which the record puts none of the product; a few are named, more are counted. */
static void check_left_out(struct checking *checking, const struct occurrence *occurrence,
                           const struct dressing *dressing, const struct tallies *tallies)
{
    const struct treatment *treatment = occurrence->treatment;
    const char *names[4];
    size_t count = 0, left = 0;
    for (size_t i = 0; i < occurrence->zones.count; i++) {
        if (tallies->zones[occurrence->zones.items[i]->index].used == tallies->pass)
            continue;
        if (left++ < 4)
            names[count++] = name_string(occurrence->zones.items[i]->symbol.name);
    }
    if (!left)
        return;
    struct report *report =
        finding_add(checking, CHECK_RECORD_PARTIAL, ABOUT(&treatment->symbol, &dressing->product->symbol),
                    occurrence->record->day_place, "this record leaves out %s on %s",
                    name_string(dressing->product->symbol.name),
                    left > count ? text_format(checking->arena, "%zu zones that the plan names", left)
                                 : list_text(checking->arena, names, count, " and "));
    report_label(checking->model->reports, report, dressing->place, "the plan");
    report_help(
        checking->model->reports, report,
        "what a record leaves out counts as not applied; write `part` in it to keep the rest planned");
}

/* What a record says was used, product by product, beside what was planned. */
static void check_uses(struct checking *checking, const struct occurrence *occurrence,
                       struct tallies *tallies)
{
    const struct treatment *treatment = occurrence->treatment;
    bool rest = occurrence->share == SHARE_REST;
    const struct dressing_list *dressings = occurrence->dressings;
    const struct zone *const *zones = rest ? occurrence->zones.items : treatment->zones.items;
    tallies->record++;
    for (size_t i = 0; i < (rest ? occurrence->zones.count : treatment->zones.count); i++)
        tallies->zones[zones[i]->index].planned = tallies->record;
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct product *product = occurrence->amounts.items[i].product;
        if (tallies->products[product->index] == tallies->record)
            continue;
        tallies->products[product->index] = tallies->record;
        tally_uses(occurrence, product, tallies);
        for (size_t j = 0; j < occurrence->amounts.count; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            const struct tally *tally = &tallies->zones[amount->zone->index];
            if (amount->product != product || tally->first != j)
                continue;
            double planned = product_planned(occurrence, product, amount->zone, amount->volume);
            bool foreseen = amount->dressing || treatment_lays(treatment, product);
            if (!foreseen || tally->planned != tallies->record)
                report_unforeseen(checking, occurrence, amount, !foreseen);
            else if (planned > 0 && exceeds(fabs(tally->amount - planned), planned * DEVIATION)) {
                struct display_pair pair = display_pair(
                    checking->arena, checking->model, amount->volume ? QUANTITY_VOLUME : QUANTITY_MASS,
                    tally->amount, planned,
                    text_format(checking->arena, "of %s", name_string(amount->product->symbol.name)));
                struct report *report =
                    finding_add(checking, CHECK_RECORD_DEVIATES,
                                ABOUT(&treatment->symbol, &amount->zone->symbol, &amount->product->symbol),
                                amount->place, "%s went on %s, %s than the planned %s", pair.value,
                                name_string(amount->zone->symbol.name),
                                text_format(checking->arena, "%s %s",
                                            display_share(checking->arena, fabs(tally->amount / planned - 1)),
                                            tally->amount > planned ? "more" : "less"),
                                pair.bound);
                if (amount->dressing)
                    report_label(checking->model->reports, report, amount->dressing->place, "the plan");
            }
        }
    }
    for (size_t i = 0; i < dressings->count && !occurrence->record->part; i++) {
        tally_uses(occurrence, dressings->items[i]->product, tallies);
        check_left_out(checking, occurrence, dressings->items[i], tallies);
    }
}

/* A name as a plan has it: in quotes where it is more than one word. */
static const char *written_name(struct checking *checking, const struct symbol *symbol)
{
    const char *name = name_string(symbol->name);
    return strpbrk(name, " ,:;()") ? text_format(checking->arena, "\"%s\"", name) : name;
}

/* "used 12.94 lb of starter on north, 4.55 lb on south", as it was planned. */
static const char *used_as_planned(struct checking *checking, const struct occurrence *occurrence)
{
    struct buffer text = {.arena = checking->arena};
    const struct product *product = NULL;
    season_leeways(checking->season);
    for (size_t i = 0; i < occurrence->amounts.count && i < 4; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        const struct unit *unit = portion_unit(checking->model, amount->total, amount->volume);
        int decimals;
        double value = measure_portion(checking->model, unit, amount->total, amount->leeway, &decimals);
        buffer_format(&text, "%s %s %s", i ? "," : "used", number_text(checking->arena, value, decimals),
                      unit->name);
        if (amount->product != product)
            buffer_format(&text, " of %s", written_name(checking, &amount->product->symbol));
        buffer_format(&text, " on %s", written_name(checking, &amount->zone->symbol));
        product = amount->product;
    }
    return buffer_string(&text);
}

/* A record without amounts counts as planned, so it is shown what it could state. */
void check_record_amounts(struct checking *checking)
{
    const struct season *season = checking->season;
    struct tallies tallies = {
        .zones = ARENA_ARRAY(checking->arena, checking->model->zones.count + 1, struct tally),
        .products = ARENA_ARRAY(checking->arena, checking->model->products.count + 1, uint32_t)};
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        const struct treatment *treatment = occurrence->treatment;
        if (!occurrence->done || treatment->symbol.broken || occurrence->record->symbol.broken)
            continue;
        if (occurrence->record->uses.count) {
            check_uses(checking, occurrence, &tallies);
        } else if (occurrence->dressings->count) {
            struct report *report =
                finding_add(checking, CHECK_RECORD_WITHOUT_AMOUNTS, ABOUT(&treatment->symbol),
                            occurrence->record->day_place,
                            "the record of %s has no amounts, so the planned ones are counted",
                            name_string(treatment->symbol.name));
            if (occurrence->amounts.count)
                report_help(checking->model->reports, report, "write what was used, for example: %s",
                            used_as_planned(checking, occurrence));
        }
    }
}

/* ---- how many ---- */

/* A record beyond the planned times. `counts`: something was put down, which it does whatever was
 * planned. */
static void report_many(struct checking *checking, const struct record *record, bool counts)
{
    const struct treatment *treatment = record->treatment;
    const struct season *season = checking->season;
    uint32_t first = season->first_of[treatment->index],
             times = season->first_of[treatment->index + 1] - first;
    const char *name = name_string(treatment->symbol.name);
    bool time_taken = record->time > 0 && (uint32_t)record->time <= times;
    struct place place = record->time > 0 ? record->time_place : record->symbol.place;
    struct report *report = time_taken
                                ? finding_add(checking, CHECK_RECORD_MANY, ABOUT(&treatment->symbol), place,
                                              "time %d of %s is recorded twice", record->time, name)
                                : finding_add(checking, CHECK_RECORD_MANY, ABOUT(&treatment->symbol), place,
                                              "%s has %u planned %s, and this record is one more", name,
                                              times, times == 1 ? "time" : "times");
    if (time_taken)
        report_label(checking->model->reports, report,
                     occurrence_place(&season->occurrences.items[first + (uint32_t)record->time - 1]),
                     "the other record");
    report_label(checking->model->reports, report, treatment->symbol.place, "the plan");
    report_help(checking->model->reports, report,
                counts ? "it counts toward every limit; check its date and name, or write `part` in the "
                         "first of two records of one time"
                       : "nothing is left to skip; delete it");
}

void check_record_counts(struct checking *checking)
{
    const struct season *season = checking->season;
    for (size_t i = season->first_of[checking->model->treatments.count]; i < season->occurrences.count; i++)
        if (season->occurrences.items[i].share == SHARE_BEYOND)
            report_many(checking, season->occurrences.items[i].record, true);
    for (size_t i = 0; i < season->unplaced.count; i++)
        report_many(checking, season->unplaced.items[i], false);
}

/* What the limits' and labels' checks, which come before, reported of a record's amounts lies within it:
 * behind its beginning, and behind that of no other. Of what it left as planned it lies at the plan. */
void check_admitted(struct checking *checking)
{
    const struct model *model = checking->model;
    size_t reported = model->reports->all.count;
    for (size_t i = 0; i < model->records.count && checking->sound; i++) {
        const struct record *record = model->records.items[i];
        const struct place own = record->symbol.statement;
        uint32_t next = UINT32_MAX;
        bool used =
            !record->admitted || record->symbol.broken || !record->uses.count || record->part_zones.count;
        if (!used)
            arena_work(checking->arena, model->records.count + reported);
        for (size_t j = 0; j < model->records.count && !used; j++) {
            const struct place other = model->records.items[j]->symbol.statement;
            if (other.source == own.source && other.start > own.start && other.start < next)
                next = other.start;
        }
        for (size_t j = 0; j < reported && !used; j++) {
            const struct report *report = model->reports->all.items[j];
            used = (report->rule == &CHECKS[CHECK_RECORD_OVER_LIMIT].rule ||
                    report->rule == &CHECKS[CHECK_RECORD_OVER_LABEL].rule) &&
                   report->place.source == own.source && report->place.start >= own.start &&
                   report->place.start < next;
        }
        if (used)
            continue;
        struct report *report =
            finding_add(checking, CHECK_ADMIT_UNUSED, ABOUT(&record->treatment->symbol), record->day_place,
                        "nothing to admit: this record of %s is not reported to exceed a limit or a label",
                        name_string(record->treatment->symbol.name));
        report_help(model->reports, report,
                    "check the amounts, or delete the `admit`, so that it hides nothing later");
    }
}
