/* What the readers share, and the order in which bodies are read. */
#include "compiler/model/read.h"
#include "compiler/model/always.h"
#include "compiler/model/embedded.h"
#include "compiler/model/include.h"

#include <assert.h>
#include <math.h>
#include <string.h>

void *symbol_new(struct model *model, const struct clause *clause, const char *slot, size_t size)
{
    struct symbol *symbol = arena_alloc(model->arena, size);
    const struct value *name = slot ? clause_value(clause, slot) : NULL;
    symbol->name = name ? name->name : NULL;
    symbol->place = name ? name->place : clause->place;
    symbol->statement = clause->place;
    symbol->library = model->building->library;
    symbol->broken = model->building->faulty;
    return symbol;
}

void body_later(struct model *model, const struct clause *clause, struct symbol *subject, enum phase phase,
                void (*finish)(struct model *, const struct clause *, struct symbol *))
{
    struct clause *kept = ARENA_NEW(model->arena, struct clause);
    *kept = *clause;
    kept->values = ARENA_ARRAY(model->arena, clause->value_count, struct value);
    memcpy(kept->values, clause->values, clause->value_count * sizeof *clause->values);
    struct pending pending = {phase, kept, subject, finish, false};
    VECTOR_PUSH(model->arena, &model->building->pending, pending);
}

/* A day without a year is the one within the season; outside it, the one in the year the season begins. */
bool day_of_value(struct model *model, const struct value *value, day_number *day)
{
    struct civil_date date = value->date;
    if (date.year) {
        *day = day_of_date(date);
        return true;
    }
    if (!model->has_season)
        return false; /* the missing season is reported once, for the whole plan */
    int first_year = date_of_day(model->season_first).year, last_year = date_of_day(model->season_last).year;
    for (date.year = first_year; date.year <= last_year; date.year++)
        if (date_valid(date)) {
            *day = day_of_date(date);
            if (*day >= model->season_first && *day <= model->season_last)
                return true;
        }
    date.year = first_year;
    if (!date_valid(date)) {
        struct text text = place_text(value->place);
        report_add(model->reports, &model_rules[RULE_DATE], value->place, "there is no day `%.*s` in %d",
                   (int)text.length, text.start, first_year);
        return false;
    }
    *day = day_of_date(date);
    return true;
}

struct duration duration_of_time(const struct value *value, bool at_most)
{
    if (value->calendar)
        return (struct duration){.months = (int32_t)value->number};
    double days = value->number / 86400;
    return (struct duration){.days = (int32_t)(at_most ? floor(days + 1e-9) : ceil(days - 1e-9))};
}

int days_of_time(const struct value *value)
{
    struct duration duration = duration_of_time(value, false);
    return duration.days + 31 * duration.months;
}

const char *string_of(struct model *model, const struct value *value)
{
    return text_string(model->arena, value->text);
}

/* Each list has a number of its own, which marks the zones that are in it. */
static void add_zone(struct model *model, struct zone_list *zones, struct zone *zone)
{
    struct building *building = model->building;
    if (zone->index >= building->listed_count) {
        building->listed_count = model->zones.count;
        building->listed = ARENA_ARRAY(model->arena, building->listed_count, uint32_t);
    }
    if (building->listed[zone->index] == building->list)
        return;
    building->listed[zone->index] = building->list;
    VECTOR_PUSH(model->arena, zones, zone);
}

/* A lawn and a zone of one name are two readings of a list, unless the zone is all of the lawn. */
static bool name_is_of_two(struct model *model, const struct value *name)
{
    const struct lawn *lawn = (const struct lawn *)symbol_look(model, SYMBOL_LAWN, name->name);
    const struct zone *zone = (const struct zone *)symbol_look(model, SYMBOL_ZONE, name->name);
    if (!lawn || !zone || (lawn->zones.count == 1 && lawn->zones.items[0] == zone))
        return false;
    const char *text = text_string(model->arena, name->name->text);
    struct report *report =
        report_add(model->reports, &model_rules[RULE_AMBIGUOUS], name->place,
                   "%s is the name of a lawn and of a zone; this could mean either", text);
    report_label(model->reports, report, lawn->symbol.place, "the lawn: %zu zone%s", lawn->zones.count,
                 lawn->zones.count == 1 ? "" : "s");
    report_label(model->reports, report, zone->symbol.place, "the zone");
    report_help(model->reports, report, "give the lawn or the zone another name");
    return true;
}

bool zones_of(struct model *model, const struct value *names, struct zone_list *zones)
{
    bool sound = true;
    model->building->list++;
    for (size_t i = 0; i < names->count; i++) {
        const struct value *name = &names->items[i];
        struct symbol *lawn = symbol_look(model, SYMBOL_LAWN, name->name);
        if (name_is_of_two(model, name)) {
            sound = false;
            continue;
        }
        if (lawn && !symbol_look(model, SYMBOL_ZONE, name->name)) {
            lawn->used = true;
            sound = sound && !lawn->broken;
            for (size_t z = 0; z < ((struct lawn *)lawn)->zones.count; z++)
                add_zone(model, zones, ((struct lawn *)lawn)->zones.items[z]);
            continue;
        }
        struct symbol *zone = symbol_find(model, SYMBOL_ZONE, name);
        sound = sound && zone && !zone->broken;
        if (zone)
            add_zone(model, zones, (struct zone *)zone);
    }
    return sound;
}

void read_note(struct model *model, const struct clause *clause, void *subject)
{
    ((struct symbol *)subject)->note = string_of(model, clause_value(clause, "text"));
}

static void read_body(struct model *model, size_t index)
{
    struct pending *pending = &model->building->pending.items[index];
    const struct pending kept = *pending; /* the list may grow, and move */
    const struct block *block = kept.clause->statement->block;
    pending->read = true;
    model->building->library = kept.subject->library;
    if (block && !block_read(model, kept.clause->tree, block, kept.clause->form->opens, kept.subject))
        kept.subject->broken = true;
    if (kept.finish)
        kept.finish(model, kept.clause, kept.subject);
}

static void read_bodies(struct model *model)
{
    struct building *building = model->building;
    for (building->phase = 0; building->phase < PHASE_COUNT; building->phase++)
        for (size_t i = 0; i < building->pending.count; i++)
            if (!building->pending.items[i].read &&
                building->pending.items[i].phase == (enum phase)building->phase)
                read_body(model, i);
}

static struct tree *read_file(struct model *model, struct source *source, bool library)
{
    struct building *building = model->building;
    struct tree *tree = ARENA_NEW(model->arena, struct tree);
    const struct tree *outer = building->tree;
    bool outer_library = building->library;
    parse_source(source, model->arena, model->reports, tree);
    tree_mend(model, tree);
    VECTOR_PUSH(model->arena, &model->trees, tree);
    building->tree = tree;
    building->library = library;
    block_read(model, tree, tree->plan, BLOCK_PLAN, NULL);
    building->tree = outer;
    building->library = outer_library;
    return tree;
}

/* Comes in the middle of another file, which goes on as if nothing had been. */
void library_read(struct model *model, size_t file)
{
    struct building *building = model->building;
    if (building->library_read[file])
        return;
    const struct building outer = *building;
    building->library_read[file] = true;
    read_file(model, sources_library(model->sources, file), true);
    for (size_t i = outer.pending.count; i < building->pending.count; i++)
        if (!building->pending.items[i].read && (int)building->pending.items[i].phase <= building->phase)
            read_body(model, i);
    building->library = outer.library;
    building->faulty = outer.faulty;
    building->repeated = outer.repeated;
    building->repeated_at = outer.repeated_at;
    building->using = outer.using;
    building->used = outer.used;
}

/* What is sought by name waits till it is; the rest is read. */
static void read_library(struct model *model)
{
    model->building->library_read = ARENA_ARRAY(model->arena, embedded_file_count + 1, bool);
    bool *waits = ARENA_ARRAY(model->arena, embedded_file_count + 1, bool);
    for (size_t i = 0; i < embedded_file_count; i++)
        waits[i] = symbols_await(model, &embedded_files[i], i);
    for (size_t i = 0; i < embedded_file_count; i++)
        if (!waits[i])
            library_read(model, i);
}

/* The sets of limits that bind plans which name none of them, where there is something to bind. */
static void library_read_always(struct model *model)
{
    for (size_t i = 0; i < embedded_file_count; i++)
        if (strcmp(embedded_files[i].path, "library/limits-always.prill") == 0)
            library_read(model, i);
}

void read_use(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    const struct value *file = clause_value(clause, "file");
    size_t errors = model->reports->errors;
    struct source *source =
        sources_use(model->sources, model->reports, clause->tree->source, file->text, file->place);
    if (source)
        read_file(model, source, false);
    else if (model->reports->errors > errors)
        symbol_lose_file(model);
}

static void check_whole(struct model *model, const struct tree *plan, size_t errors_before)
{
    struct place start = {plan->source, 0, 0};
    if (!plan->plan->count && model->reports->errors == errors_before) {
        report_add(model->reports, &model_rules[RULE_EMPTY], start, "this plan has no statements");
        return;
    }
    if (!model->has_season && (model->treatments.count || model->records.count) &&
        !model->season_place.source && !model->building->season_lost) {
        struct report *report = report_add(model->reports, &model_rules[RULE_MISSING], start,
                                           "the plan does not say what season it covers");
        report_help(model->reports, report, "write, for example: season 2027-03-01 to 2027-11-20");
    }
}

struct model *model_build(struct arena *arena, struct names *names, struct reports *reports,
                          struct sources *sources, struct source *plan)
{
    struct model *model = ARENA_NEW(arena, struct model);
    model->building = ARENA_NEW(arena, struct building);
    model->building->phase = -1;
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
    read_library(model);
    model->plan = read_file(model, plan, false);
    if (model->treatments.count)
        library_read_always(model);
    read_bodies(model);
    always_settle(model);
    if (model->soil_tests.count) { /* outputs offer others of the library: nothing is read later */
        symbols_read(model, SYMBOL_SCALE);
        symbols_read(model, SYMBOL_CONVERSION);
    }
    check_whole(model, model->plan, errors);
    return model;
}

bool limit_is_fixed(const struct limit *limit)
{
    return limit->set->basis == BASIS_LAW || limit->set->basis == BASIS_LABEL;
}
