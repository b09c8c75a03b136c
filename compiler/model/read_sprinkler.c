/* Sprinklers, by what they leave in cans. */
#include "compiler/model/read.h"

#include <math.h>
#include <stdlib.h>

/* A zone has one sprinkler: of two nobody knows which runs, or whether both do. */
static void finish_sprinkler(const struct stated *stated)
{
    struct model *model = stated->model;
    struct sprinkler *sprinkler = stated->subject;
    const char *name = name_string(sprinkler->symbol.name);
    if (isnan(sprinkler->m_per_s) && !sprinkler->symbol.broken)
        report_lacks(model, sprinkler->symbol.place, &sprinkler->symbol,
                     "this sprinkler states no catch-cans",
                     model->metric ? "catch-cans 5.5, 6, 7 mm after 20 min"
                                   : "catch-cans 0.22, 0.25, 0.28 in after 20 min");
    for (size_t i = 0; i < sprinkler->zones.count && !sprinkler->symbol.broken; i++) {
        struct zone *zone = model->zones.items[sprinkler->zones.items[i]->index];
        if (zone->sprinkler) {
            struct report *report =
                report_add(model->reports, &model_rules[RULE_VALUE], sprinkler->symbol.place,
                           "%s has two sprinklers, %s and %s", name_string(zone->symbol.name),
                           name_string(zone->sprinkler->symbol.name), name);
            report_label(model->reports, report, zone->sprinkler->symbol.place, "the other");
            report_help(model->reports, report, "measure what both give together, as one sprinkler");
            continue;
        }
        zone->sprinkler = sprinkler;
    }
}

void read_sprinkler(const struct stated *stated)
{
    struct sprinkler *sprinkler =
        object_declare(stated, SYMBOL_SPRINKLER, sizeof *sprinkler, PHASE_PRODUCT, finish_sprinkler);
    sprinkler->m_per_s = sprinkler->driest = NAN;
    VECTOR_PUSH(stated->model->arena, &stated->model->sprinklers, sprinkler);
}

static int by_depth(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* The mean of all cans, dry ones included, and distribution uniformity: the mean of the driest quarter over
 * the mean of all (Oki, University of California, https://ccuh.ucdavis.edu/measuring-DU-run-time). Where the
 * number does not divide by four, the last can of the quarter counts by the part of it that is still in. */
void read_catch_cans(const struct stated *stated)
{
    struct sprinkler *sprinkler = stated->subject;
    const struct value *depths = slot_value(stated, "depths"), *unit = slot_value(stated, "unit");
    double *sorted = ARENA_ARRAY(stated->model->arena, depths->count, double);
    double count = (double)depths->count, metres = 0, sum = 0, low = 0;
    for (size_t i = 0; i < depths->count; i++) {
        metres += unit_to_si(unit->unit, depths->items[i].number);
        sum += sorted[i] = depths->items[i].number;
    }
    sprinkler->m_per_s = metres / count / slot_value(stated, "time")->number;
    sprinkler->cans = depths->count;
    sprinkler->cans_place = stated->clause->place;
    if (metres > 0) {
        qsort(sorted, depths->count, sizeof *sorted, by_depth);
        for (size_t i = 0; i < depths->count; i++)
            low += sorted[i] * fmax(0, fmin(1, count / 4 - (double)i));
        sprinkler->driest = depths->count < 4 ? (double)NAN : low / (count / 4) / (sum / count);
        return;
    }
    report_add(stated->model->reports, &model_rules[RULE_VALUE], stated->clause->place,
               "these cans hold no water");
    sprinkler->symbol.broken = true;
}
