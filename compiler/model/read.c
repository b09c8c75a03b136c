/* The order in which files, declarations and bodies are read. */
#include "compiler/model/read.h"
#include "compiler/model/always.h"
#include "compiler/model/embedded.h"
#include "compiler/model/include.h"
#include "compiler/model/product.h"
#include "compiler/model/slot.h"

#include <math.h>
#include <string.h>

static void read_body(struct model *model, size_t index)
{
    struct pending *pending = &model->building->pending.items[index];
    const struct pending kept = *pending; /* the list may grow, and move */
    pending->read = true;
    model->building->library = kept.subject->library;
    if (kept.block && !block_read(model, kept.tree, kept.block, (enum block_kind)kept.opens, kept.subject))
        kept.subject->broken = true;
    if (kept.later)
        kept.later->finish(&(struct stated){model, &kept.later->clause, kept.subject});
}

/* A file that is used is read in the middle of the one that uses it. Of the library an entry is read; NULL: a
 * whole file of the plan. */
static struct tree *read_file(struct model *model, struct source *source, const struct embedded_entry *entry)
{
    struct building *building = model->building;
    struct arena *scratch = arena_scratch(model->arena);
    struct tree *tree = ARENA_NEW(scratch, struct tree);
    const struct tree *outer = building->tree;
    bool outer_library = building->library;
    uint32_t length = source->length;
    /* What is read of an entry keeps its place and its lines in the file. */
    source->from = entry ? (uint32_t)entry->start : 0;
    source->length = entry ? (uint32_t)entry->end : length;
    parse_source(source, scratch, model->reports, tree);
    source->from = 0;
    source->length = length;
    tree_mend(model, tree);
    model->bytes += entry ? entry->end - entry->start : length;
    if (!entry && !outer) /* a price may come before the statement of what it is in */
        model->currency = stated_currency(model->arena, tree);
    building->tree = tree;
    building->library = entry;
    block_read(model, tree, tree->plan, BLOCK_PLAN, model);
    building->tree = outer;
    building->library = outer_library;
    return tree;
}

/* Comes in the middle of another file, which goes on as if nothing had been. */
void library_read(struct model *model, size_t entry)
{
    struct building *building = model->building;
    if (building->library_read[entry])
        return;
    const struct building outer = *building;
    building->library_read[entry] = true;
    read_file(model, sources_library(model->sources, embedded_entries[entry].file), &embedded_entries[entry]);
    for (size_t i = outer.pending.count; i < building->pending.count; i++)
        if (!building->pending.items[i].read && building->pending.items[i].phase <= building->phase)
            read_body(model, i);
    building->library = outer.library;
    building->faulty = outer.faulty;
    building->repeated = outer.repeated;
    building->repeated_at = outer.repeated_at;
    building->using = outer.using;
    building->used = outer.used;
}

void library_read_file(struct model *model, const char *path)
{
    for (size_t i = 0; i < embedded_entry_count; i++)
        if (strcmp(embedded_files[embedded_entries[i].file].path, path) == 0)
            library_read(model, i);
}

void read_use(const struct stated *stated)
{
    struct model *model = stated->model;
    const struct value *file = slot_value(stated, "file");
    size_t errors = model->reports->errors;
    struct source *source =
        sources_use(model->sources, model->reports, stated->clause->tree->source, file->text, file->place);
    if (source)
        read_file(model, source, NULL);
    else if (model->reports->errors > errors)
        symbol_lose_file(model);
}

/* What is not sought by its name, and the plan has something for: what is known of materials and of sampling.
 * Where a test is not read by the scales it names, and where a correction cannot work out a need, reports say
 * what other scales there are. */
static void read_unnamed(struct model *model)
{
    bool materials = model->blends.count > 0, scales = model->corrects.count > 0;
    for (size_t i = 0; i < embedded_entry_count && !materials; i++) {
        const struct embedded_entry *entry = &embedded_entries[i];
        if (strcmp(embedded_files[entry->file].path, LIBRARY_MATERIALS) != 0)
            continue;
        const struct name *material = name_intern(model->names, text_of(entry->name));
        for (size_t j = 0; j < model->products.count; j++) {
            const struct product *product = model->products.items[j];
            materials = materials || product->symbol.name == material ||
                        kind_among(product->kinds.items, product->kinds.count, material);
        }
    }
    for (size_t i = 0; i < model->soil_tests.count; i++) {
        const struct soil_test *test = model->soil_tests.items[i];
        scales = scales || !test->scales.count;
        for (size_t j = 0; j < test->scales.count; j++)
            scales = scales || test->scales.items[j].scale->method != test->method;
    }
    if (materials)
        library_read_file(model, LIBRARY_MATERIALS);
    if (model->soil_tests.count)
        library_read_file(model, LIBRARY_SAMPLING);
    if (model->soil_tests.count && scales) {
        symbols_read(model, SYMBOL_SCALE);
        symbols_read(model, SYMBOL_CONVERSION);
    }
}

/* What building alone needs is given back; what may still be read of the library stays known. */
static void building_end(struct model *model, struct arena_mark mark)
{
    struct building *building = model->building;
    *building = (struct building){.library_read = building->library_read, .phase = PHASE_COUNT};
    model->patterns = NULL;
    arena_rewind(arena_scratch(model->arena), mark);
}

/* Declarations first, then bodies: a statement may refer to what comes after it. Tokens, trees and what of
 * them waits for its turn are given back when all is read: the model holds places in the sources, and no part
 * of a tree. */
struct model *model_build(struct arena *arena, struct names *names, struct reports *reports,
                          struct sources *sources, struct source *plan)
{
    struct model *model = ARENA_NEW(arena, struct model);
    struct arena *scratch = arena_scratch(arena);
    struct arena_mark mark = arena_mark(scratch);
    struct building *building = model->building = ARENA_NEW(arena, struct building);
    building->phase = -1;
    model->arena = arena;
    model->names = names;
    model->reports = reports;
    model->sources = sources;
    model->symbols = symbols_new(arena);
    for (int month = 0; month <= 12; month++)
        model->weather.high[month] = model->weather.low[month] = model->weather.rain[month] =
            model->weather.soil[month] = NAN;
    model->weather.history.soil_depth_m = model->weather.forecast.soil_depth_m = NAN;
    size_t errors = reports->errors;
    building->library_read = ARENA_ARRAY(arena, embedded_entry_count + 1, bool);
    symbols_await(model);
    model->plan = plan;
    const struct tree *tree = read_file(model, plan, NULL);
    /* The sets of limits that bind plans which name none of them, where there is something to bind. */
    if (model->treatments.count)
        library_read_file(model, LIBRARY_LIMITS);
    for (building->phase = 0; building->phase < PHASE_COUNT; building->phase++)
        for (size_t i = 0; i < building->pending.count; i++) /* reading a body may add further ones */
            if (building->pending.items[i].phase == building->phase && !building->pending.items[i].read)
                read_body(model, i);
    always_settle(model);
    tools_settle(model);
    read_unnamed(model);
    limits_idle(model);

    /* What no single statement can be blamed for. */
    struct place start = {plan, 0, 0};
    if (!tree->plan->first && reports->errors == errors) {
        report_add(reports, &model_rules[RULE_EMPTY], start, "this plan has no statements");
    } else if (!model->has_season && (model->treatments.count || model->records.count) &&
               !model->season_place.source && !building->season_lost) {
        struct report *report = report_add(reports, &model_rules[RULE_MISSING], start,
                                           "the plan does not say what season it covers");
        report_help(reports, report, "write, for example: season 2027-03-01 to 2027-11-20");
    }
    /* The two statements may be in any order. */
    if (model->ground == PER_FIELD && model->metric != (building->ground_system == UNIT_METRIC)) {
        struct report *report = report_add(reports, &model_rules[RULE_UNIT], building->ground_place,
                                           "rates per %s do not go with `units %s`",
                                           model->metric ? "acre" : "ha", model->metric ? "metric" : "us");
        report_help(reports, report,
                    "write `units us, rates lb per acre` or `units metric, rates kg per ha`");
    }
    building_end(model, mark);
    return model;
}

void model_read_for_results(struct model *model, bool scales)
{
    struct arena_mark mark = arena_mark(arena_scratch(model->arena));
    library_read_file(model, LIBRARY_CAUTIONS);
    if (model->soil_tests.count && scales)
        symbols_read(model, SYMBOL_SCALE);
    building_end(model, mark);
}

bool limit_set_is_fixed(const struct limit_set *set)
{
    return set->basis == BASIS_LAW || set->basis == BASIS_LABEL;
}

bool limit_is_fixed(const struct limit *limit)
{
    return limit_set_is_fixed(limit->set);
}
