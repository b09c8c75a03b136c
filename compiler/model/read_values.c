/* What the readers share: objects and their names, the values in slots, lists, days and times. */
#include "compiler/model/read.h"

#include <math.h>
#include <string.h>

/* ---- objects ---- */

void *object_new(const struct stated *stated, const struct value *name, size_t size)
{
    struct symbol *symbol = arena_alloc(stated->model->arena, size);
    symbol->name = name ? name->name : NULL;
    symbol->place = name ? name->place : stated->clause->place;
    symbol->statement = stated->clause->place;
    symbol->library = stated->model->building->library;
    symbol->broken = stated->model->building->faulty;
    return symbol;
}

/* With the items of lists. */
static struct value *values_copy(struct arena *arena, const struct value *values, size_t count)
{
    struct value *copy = ARENA_ARRAY(arena, count, struct value);
    for (size_t i = 0; i < count; i++) {
        copy[i] = values[i];
        if (values[i].count)
            copy[i].items = values_copy(arena, values[i].items, values[i].count);
    }
    return copy;
}

/* A clause's values last as long as its statement is read: what is used later is copied. */
void body_later(const struct stated *stated, void *object, enum phase phase, reader_function *finish)
{
    const struct clause *clause = stated->clause;
    struct arena *arena = arena_scratch(stated->model->arena);
    struct pending pending = {.subject = object,
                              .tree = clause->tree,
                              .block = clause->statement->block,
                              .phase = (uint8_t)phase,
                              .opens = (uint8_t)clause->form->opens};
    if (finish) {
        pending.later = ARENA_NEW(arena, struct finishing);
        *pending.later = (struct finishing){finish, *clause};
        pending.later->clause.values = values_copy(arena, clause->values, clause->value_count);
    }
    VECTOR_PUSH(arena, &stated->model->building->pending, pending);
}

void *object_declare(const struct stated *stated, enum symbol_kind kind, size_t size, enum phase phase,
                     reader_function *finish)
{
    struct symbol *symbol = object_new(stated, slot_value(stated, "name"), size);
    symbol_declare(stated->model, kind, symbol);
    body_later(stated, symbol, phase, finish);
    return symbol;
}

/* ---- values in slots ---- */

const char *slot_string(const struct stated *stated, const char *slot)
{
    const struct value *value = slot_value(stated, slot);
    return value ? text_string(stated->model->arena, value->text) : NULL;
}

const struct source_entry *slot_source(const struct stated *stated)
{
    return slot_symbol(stated, SYMBOL_SOURCE, "source");
}

const char *slot_written(const struct stated *stated, const char *slot)
{
    return text_string(stated->model->arena, place_text(slot_value(stated, slot)->place));
}

/* Names and what they stand for are shown where the name is, a number with the words around it. */
void field_keep(const struct stated *stated)
{
    static const enum symbol_kind kinds[] = {[FIELD_GRASS] = SYMBOL_GRASS,
                                             [FIELD_SOURCE] = SYMBOL_SOURCE,
                                             [FIELD_LIME] = SYMBOL_LIME,
                                             [FIELD_MACHINE] = SYMBOL_MACHINE};
    const struct clause *clause = stated->clause;
    const struct field *field = &clause->form->field;
    const struct value *value = clause->values; /* the form's first slot, which a flag alone may lack */
    struct model *model = stated->model;
    void *member = (char *)stated->subject + field->offset;
    bool symbol = field->kind >= FIELD_GRASS && field->kind <= FIELD_MACHINE;
    const void *found = symbol ? symbol_find(model, kinds[field->kind], value) : NULL;
    bool sound = found || field->kind != FIELD_MACHINE, named = symbol || field->kind == FIELD_NAME;
    switch (field->kind) {
    case FIELD_NONE:
        break;
    case FIELD_NUMBER:
        *(double *)member = value->number;
        break;
    case FIELD_COUNT:
        *(int *)member = (int)value->number;
        break;
    case FIELD_FLAG:
        *(bool *)member = !clause->value_count || value->number > 0;
        break;
    case FIELD_CHOICE:
        *(unsigned *)member = 1 + (unsigned)value->number;
        break;
    case FIELD_TEXT:
        *(const char **)member = text_string(model->arena, value->text);
        break;
    case FIELD_DURATION:
        *(struct duration *)member = duration_of_time(value, false);
        break;
    case FIELD_NAME:
        *(const struct name **)member = value->name;
        break;
    case FIELD_GRASS:
        *(const struct grass **)member = found;
        break;
    case FIELD_SOURCE:
        *(const struct source_entry **)member = found;
        break;
    case FIELD_LIME:
        *(const struct lime_table **)member = found;
        break;
    case FIELD_MACHINE:
        *(const struct machine **)member = found;
        break;
    case FIELD_GRADE:
        for (size_t i = 0; i < value->count; i++)
            ((double *)member)[i] = value->items[i].number;
        break;
    case FIELD_NAMES:
        for (size_t i = 0; i < value->count; i++)
            VECTOR_PUSH(model->arena, (struct name_list *)member, value->items[i].name);
        break;
    case FIELD_ZONES:
        sound = zones_of(model, value, member);
        break;
    case FIELD_PRODUCTS:
        sound = products_of(model, value, member);
        break;
    case FIELD_GRASSES:
        sound = grasses_of(model, value, member);
        break;
    }
    if (field->place)
        *(struct place *)((char *)stated->subject + field->place) = named ? value->place : clause->place;
    if (!sound)
        ((struct symbol *)stated->subject)->broken = true;
}

/* ---- lists ---- */

/* A lawn and a zone of one name are two readings of a list, unless the zone is all of the lawn: reported
 * once. Each list has a number of its own, which marks the zones that are in it. */
bool zones_of(struct model *model, const struct value *names, struct zone_list *zones)
{
    struct building *building = model->building;
    bool sound = true;
    building->list++;
    if (building->listed_count < model->zones.count) {
        building->listed_count = model->zones.count;
        building->listed = ARENA_ARRAY(arena_scratch(model->arena), building->listed_count, uint32_t);
    }
    for (size_t i = 0; i < names->count; i++) {
        const struct value *name = &names->items[i];
        struct lawn *lawn = (struct lawn *)symbol_look(model, SYMBOL_LAWN, name->name);
        struct zone *zone = (struct zone *)symbol_look(model, SYMBOL_ZONE, name->name);
        bool of_two = lawn && zone && !(lawn->zones.count == 1 && lawn->zones.items[0] == zone);
        if (of_two && !lawn->symbol.ambiguous) {
            struct report *report = report_add(
                model->reports, &model_rules[RULE_AMBIGUOUS], name->place,
                "%s is the name of a lawn and of a zone; this could mean either", name_string(name->name));
            report_label(model->reports, report, lawn->symbol.place, "the lawn: %u zone%s", lawn->zones.count,
                         lawn->zones.count == 1 ? "" : "s");
            report_label(model->reports, report, zone->symbol.place, "the zone");
            report_help(model->reports, report, "give the lawn or the zone another name");
            lawn->symbol.ambiguous = true;
        }
        if (of_two) {
            sound = false;
            continue;
        }
        struct zone *const *added = &zone;
        size_t count = 1;
        if (lawn && !zone) {
            lawn->symbol.used = true;
            sound = sound && !lawn->symbol.broken;
            added = lawn->zones.items;
            count = lawn->zones.count;
        } else {
            zone = zone ? zone : (struct zone *)symbol_find(model, SYMBOL_ZONE, name);
            count = zone != NULL;
            sound = sound && zone && !zone->symbol.broken;
            if (zone)
                zone->symbol.used = true;
        }
        for (size_t z = 0; z < count; z++)
            if (building->listed[added[z]->index] != building->list) {
                building->listed[added[z]->index] = building->list;
                VECTOR_PUSH(model->arena, zones, added[z]);
            }
    }
    return sound;
}

/* A product that is listed twice is taken once. */
bool products_of(struct model *model, const struct value *names, struct product_list *products)
{
    bool sound = true;
    for (size_t i = 0; i < names->count; i++) {
        const struct product *product =
            (const struct product *)symbol_find(model, SYMBOL_PRODUCT, &names->items[i]);
        bool listed = false;
        for (size_t j = 0; j < products->count; j++)
            listed = listed || products->items[j] == product;
        sound = sound && product && !product->symbol.broken;
        if (product && !listed)
            VECTOR_PUSH(model->arena, products, product);
    }
    return sound;
}

bool grasses_of(struct model *model, const struct value *names, struct grass_list *grasses)
{
    bool sound = true;
    for (size_t i = 0; i < names->count; i++) {
        struct symbol *grass = symbol_find(model, SYMBOL_GRASS, &names->items[i]);
        sound = sound && grass;
        if (grass)
            VECTOR_PUSH(model->arena, grasses, (const struct grass *)grass);
    }
    return sound;
}

/* ---- days and times ---- */

static struct report *report_no_day(struct reports *reports, struct place place, int year)
{
    struct text text = place_text(place);
    return report_add(reports, &model_rules[RULE_DATE], place, "%d has no `%.*s`", year, (int)text.length,
                      text.start);
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
        report_no_day(model->reports, value->place, first_year);
        return false;
    }
    *day = day_of_date(date);
    return true;
}

bool days_in(const struct stated *stated, const char *first_slot, day_number *first, const char *last_slot,
             day_number *last)
{
    const struct value *from = first_slot ? slot_value(stated, first_slot) : NULL;
    const struct value *to = last_slot ? slot_value(stated, last_slot) : NULL;
    if ((from && !day_of_value(stated->model, from, first)) || (to && !day_of_value(stated->model, to, last)))
        return false;
    struct reports *reports = stated->model->reports;
    if (from && to && *first > *last) {
        report_add(reports, &model_rules[RULE_VALUE], stated->clause->place,
                   "this window ends before it begins");
        return false;
    }
    /* In a season of years a Feb 29 may end the February that is meant, or one a year or more behind it. */
    bool leap_day = to && !to->date.year && to->date.month == 2 && to->date.day == 29;
    if (!from || !leap_day || *last - *first <= 365)
        return true;
    struct civil_date begins = date_of_day(*first);
    struct report *report = report_no_day(reports, to->place, begins.year + (begins.month > 2));
    begins.year = date_of_day(*last).year - (begins.month > 2);
    report_help(reports, report, "end on Feb 28, or write both years: %s and %s",
                day_text(stated->model->arena, day_of_date(begins)), day_text(stated->model->arena, *last));
    return false;
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
    return duration.days + MONTH_LONGEST * duration.months;
}

struct treatment_class treatment_class_of(const struct value *name)
{
    const struct nutrient_form *nutrient = nutrient_find(name->name->text);
    if (nutrient && nutrient->nutrient == NUTRIENT_LIME)
        nutrient = NULL;
    return (struct treatment_class){nutrient, nutrient ? NULL : name->name};
}

/* ---- what is lacking, and what is there twice ---- */

void report_lacks(struct model *model, struct place place, struct symbol *object, const char *sentence,
                  const char *example)
{
    struct report *report = report_add(model->reports, &model_rules[RULE_MISSING], place, "%s", sentence);
    report_help(model->reports, report, "write, for example: %s", example);
    object->broken = true;
}

struct report *report_repeated(struct model *model, struct place place, struct place before,
                               const char *sentence)
{
    struct report *report = report_add(model->reports, &model_rules[RULE_REPEATED], place, "%s", sentence);
    report_label(model->reports, report, before, "first stated here");
    return report;
}

/* ---- formulas in library text ---- */

struct level_unit level_unit_of(struct model *model, const struct value *unit)
{
    return (struct level_unit){unit->index, unit->number, text_string(model->arena, unit->text)};
}

/* The terms as written are kept as text, for explanations. */
bool polynomial_of(struct model *model, const struct value *terms, double factor,
                   struct polynomial *polynomial)
{
    if (terms->count > POLYNOMIAL_LIMIT) {
        report_add(model->reports, &model_rules[RULE_VALUE], terms->items[POLYNOMIAL_LIMIT].place,
                   "an equation has at most %d numbers: up to the cube of the result", POLYNOMIAL_LIMIT);
        return false;
    }
    polynomial->count = terms->count;
    polynomial->factor = factor;
    polynomial->text = text_string(model->arena, terms->text);
    for (size_t i = 0; i < terms->count; i++)
        polynomial->term[i] = terms->items[i].number * factor;
    return true;
}
