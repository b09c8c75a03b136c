/* What is left to the compiler: corrections, matches, blends. A treatment whose rates are chosen has a
 * dressing for each product on the list from the start, so that it is dated by whatever it may come to hold.
 */
#include "compiler/model/read.h"

#include <math.h>
#include <string.h>

/* ---- lists of names ---- */

struct product_list {
    const struct product **items;
    size_t count, capacity;
};

/* False after a report. */
static bool products_of(struct model *model, const struct value *names, struct product_list *list)
{
    bool sound = true;
    for (size_t i = 0; i < names->count; i++) {
        const struct product *product =
            (const struct product *)symbol_find(model, SYMBOL_PRODUCT, &names->items[i]);
        bool listed = false;
        for (size_t j = 0; j < list->count; j++)
            listed = listed || list->items[j] == product;
        sound = sound && product && !product->symbol.broken;
        if (product && !listed)
            VECTOR_PUSH(model->arena, list, product);
    }
    return sound;
}

static void dressings_open(struct model *model, struct treatment *treatment,
                           const struct product *const *products, size_t count, struct place place)
{
    treatment->open = true;
    for (size_t i = 0; i < count; i++) {
        struct dressing dressing = {
            .product = products[i], .rate = NAN, .place = place, .rate_place = place, .open = true};
        VECTOR_PUSH(model->arena, &treatment->dressings, dressing);
    }
}

/* ---- correct ---- */

static void correct_lacks(struct model *model, struct correct *correct, const char *sentence,
                          const char *example)
{
    struct report *report =
        report_add(model->reports, &model_rules[RULE_MISSING], correct->symbol.place, "%s", sentence);
    report_help(model->reports, report, "write, for example: %s", example);
    correct->symbol.broken = true;
}

static void correct_open(struct model *model, const struct correct *correct)
{
    for (size_t i = 0; i < correct->treatments.count; i++)
        dressings_open(model, correct->treatments.items[i], correct->products.items, correct->products.count,
                       correct->treatments_place);
    if (correct->added)
        dressings_open(model, correct->added, correct->products.items, correct->products.count,
                       correct->added_place);
}

/* What is added goes where the rest goes, but where the plan says so. */
static void added_finish(struct model *model, struct correct *correct)
{
    struct treatment *added = correct->added;
    added->machine = correct->machine;
    added->symbol.broken = added->symbol.broken || correct->symbol.broken;
    for (size_t i = 0; i < correct->zones.count; i++)
        VECTOR_PUSH(model->arena, &added->zones, correct->zones.items[i]);
    for (size_t i = 0; i < model->zones.count && !correct->zones.count; i++)
        VECTOR_PUSH(model->arena, &added->zones, model->zones.items[i]);
    for (size_t i = 0; i < added->zones.count; i++)
        model->zones.items[added->zones.items[i]->index]->named_in_treatment = true;
}

static void finish_correct(struct model *model, const struct clause *clause, struct symbol *subject)
{
    (void)clause;
    struct correct *correct = (struct correct *)subject;
    if (!correct->symbol.broken && !correct->products_place.source)
        correct_lacks(model, correct, "this does not say which products may be used",
                      "from urea, map, potash");
    else if (!correct->symbol.broken && !correct->treatments_place.source && !correct->added)
        correct_lacks(model, correct, "this does not say in which applications",
                      "in spring-feed; or: add up to 4 times between Apr 10 and Oct 15");
    if (correct->added)
        added_finish(model, correct);
    if (!correct->symbol.broken)
        correct_open(model, correct);
    for (size_t i = 0; i < correct->treatments.count && correct->symbol.broken; i++)
        correct->treatments.items[i]->symbol.broken = true; /* nothing is to be said of rates never chosen */
}

void read_correct(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct correct *correct = symbol_new(model, clause, "name", sizeof *correct);
    symbol_declare(model, SYMBOL_CORRECT, &correct->symbol);
    VECTOR_PUSH(model->arena, &model->corrects, correct);
    body_later(model, clause, &correct->symbol, PHASE_RULES, finish_correct);
}

void read_correct_zones(struct model *model, const struct clause *clause, void *subject)
{
    struct correct *correct = subject;
    struct zone_list zones = {0};
    if (!zones_of(model, clause_value(clause, "zones"), &zones))
        correct->symbol.broken = true;
    correct->zones.items = zones.items;
    correct->zones.count = zones.count;
    correct->zones.capacity = zones.capacity;
}

static void need_add(struct model *model, struct correct *correct, const struct nutrient_form *nutrient,
                     double kg_per_m2, struct place place)
{
    struct correct_need need = {nutrient, kg_per_m2, place};
    correct->needs_place = place;
    for (size_t i = 0; i < correct->needs.count; i++) {
        if (correct->needs.items[i].nutrient->nutrient != nutrient->nutrient)
            continue;
        struct report *report = report_add(model->reports, &model_rules[RULE_REPEATED], place,
                                           "the need of %s is stated twice", nutrient->name);
        report_label(model->reports, report, correct->needs.items[i].place, "it stands here already");
        correct->symbol.broken = true;
        return;
    }
    VECTOR_PUSH(model->arena, &correct->needs, need);
}

void read_correct_need_of_test(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *nutrients = clause_value(clause, "nutrients");
    for (size_t i = 0; i < nutrients->count; i++)
        need_add(model, subject, nutrients->items[i].nutrient, NAN, nutrients->items[i].place);
}

void read_correct_need(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *rate = clause_value(clause, "rate");
    need_add(model, subject, rate->nutrient, rate->number * rate->nutrient->element_per_unit, clause->place);
}

void read_correct_bound(struct model *model, const struct clause *clause, void *subject)
{
    struct correct *correct = subject;
    const struct value *rate = clause_value(clause, "rate"), *name = clause_value(clause, "application");
    struct correct_bound bound = {.least = strstr(clause->form->pattern, "at least") != NULL,
                                  .nutrient = rate->nutrient,
                                  .kg_per_m2 = rate->number * rate->nutrient->element_per_unit,
                                  .place = clause->place};
    if (name)
        bound.treatment = (struct treatment *)symbol_find(model, SYMBOL_TREATMENT, name);
    if (name && !bound.treatment)
        correct->symbol.broken = true;
    else
        VECTOR_PUSH(model->arena, &correct->bounds, bound);
}

void read_correct_products(struct model *model, const struct clause *clause, void *subject)
{
    struct correct *correct = subject;
    struct product_list list = {0};
    if (!products_of(model, clause_value(clause, "products"), &list))
        correct->symbol.broken = true;
    correct->products.items = list.items;
    correct->products.count = list.count;
    correct->products.capacity = list.capacity;
    correct->products_place = clause->place;
}

void read_correct_treatments(struct model *model, const struct clause *clause, void *subject)
{
    struct correct *correct = subject;
    const struct value *names = clause_value(clause, "applications");
    correct->treatments_place = clause->place;
    for (size_t i = 0; i < names->count; i++) {
        struct treatment *treatment =
            (struct treatment *)symbol_find(model, SYMBOL_TREATMENT, &names->items[i]);
        if (!treatment || treatment->task)
            correct->symbol.broken = true;
        if (treatment && treatment->task)
            report_add(model->reports, &model_rules[RULE_VALUE], names->items[i].place,
                       "this is a task, and puts nothing down")
                ->help = "declare it as `apply`";
        if (treatment && !treatment->task)
            VECTOR_PUSH(model->arena, &correct->treatments, treatment);
    }
}

/* The times divide the days evenly; whole weeks keep a weekday that limits leave open. */
static struct when added_when(const struct clause *clause, day_number first, day_number last, int times)
{
    struct when when = {.kind = WHEN_BETWEEN, .place = clause->place, .first = first, .last = last};
    int period = (last - first + 1) / times;
    if (times == 1)
        return when;
    when.kind = WHEN_EVERY;
    when.period.days = period >= 14 ? period / 7 * 7 : period;
    when.times = times;
    return when;
}

void read_correct_add(struct model *model, const struct clause *clause, void *subject)
{
    struct correct *correct = subject;
    int times = (int)clause_value(clause, "times")->number;
    day_number first, last;
    struct treatment *added = ARENA_NEW(model->arena, struct treatment);
    bool sound = day_of_value(model, clause_value(clause, "first"), &first) &&
                 day_of_value(model, clause_value(clause, "last"), &last);
    correct->added_place = clause->place;
    if (sound && last - first + 1 < times) {
        report_add(model->reports, &model_rules[RULE_VALUE], clause->place,
                   "these days do not hold so many applications");
        sound = false;
    }
    correct->symbol.broken = correct->symbol.broken || !sound;
    if (!sound)
        return;
    added->symbol = correct->symbol;
    added->symbol.place = added->symbol.statement = clause->place;
    added->index = (uint32_t)model->treatments.count;
    added->lay_m = NAN;
    struct when when = added_when(clause, first, last, times);
    VECTOR_PUSH(model->arena, &added->whens, when);
    symbol_declare(model, SYMBOL_TREATMENT, &added->symbol);
    VECTOR_PUSH(model->arena, &model->treatments, added);
    correct->added = added;
}

void read_correct_machine(struct model *model, const struct clause *clause, void *subject)
{
    struct correct *correct = subject;
    correct->machine = (struct machine *)symbol_find(model, SYMBOL_MACHINE, clause_value(clause, "machine"));
    if (!correct->machine)
        correct->symbol.broken = true;
}

void read_correct_packs(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct correct *correct = subject;
    correct->whole_packs = true;
    correct->packs_place = clause->place;
}

/* ---- match ---- */

/* The share of the grade that the amount is stated in; 0 after a report. */
static double grade_share(struct model *model, const struct value *grade, const struct value *rate)
{
    static const enum nutrient parts[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    for (int i = 0; i < 3; i++)
        if (rate->nutrient->nutrient == parts[i] && grade->grade[i] > 0)
            return grade->grade[i] * nutrient_trade_form(parts[i])->element_per_unit /
                   rate->nutrient->element_per_unit;
    struct text text = place_text(grade->place);
    report_add(model->reports, &model_rules[RULE_VALUE], rate->place, "%.*s holds no %s", (int)text.length,
               text.start, rate->nutrient->name)
        ->help = "state how much of the grade by a nutrient that it holds";
    return 0;
}

static struct match *match_new(struct model *model, const struct clause *clause, struct treatment *treatment)
{
    const struct value *grade = clause_value(clause, "grade"), *rate = clause_value(clause, "rate");
    struct match *match = ARENA_NEW(model->arena, struct match);
    struct product_list list = {0};
    double share = grade_share(model, grade, rate);
    bool sound = products_of(model, clause_value(clause, "products"), &list);
    if (!(share > 0) || !sound)
        return NULL;
    for (int i = 0; i < 3; i++)
        match->grade[i] = grade->grade[i];
    match->nutrient = rate->nutrient;
    match->supply = rate->number;
    match->rate = rate->number / share;
    match->products.items = list.items;
    match->products.count = list.count;
    match->products.capacity = list.capacity;
    match->treatment = treatment;
    match->place = clause->place;
    match->grade_place = grade->place;
    match->rate_place = rate->place;
    VECTOR_PUSH(model->arena, &model->matches, match);
    return match;
}

/* The products may be declared further down: the question is put once everything is. */
static void finish_match(struct model *model, const struct clause *clause, struct symbol *subject)
{
    (void)subject;
    match_new(model, clause, NULL);
}

void read_match(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    body_later(model, clause, symbol_new(model, clause, NULL, sizeof(struct symbol)), PHASE_RULES,
               finish_match);
}

void read_treatment_match(struct model *model, const struct clause *clause, void *subject)
{
    struct treatment *treatment = subject;
    const struct match *match = match_new(model, clause, treatment);
    if (match)
        dressings_open(model, treatment, match->products.items, match->products.count, clause->place);
    else
        treatment->symbol.broken = true;
}

/* ---- blend ---- */

static void finish_blend(struct model *model, const struct clause *clause, struct symbol *subject)
{
    (void)clause;
    struct blend *blend = (struct blend *)subject;
    const char *lacks = isnan(blend->grade[0])   ? "the grade"
                        : !blend->products.count ? "the materials"
                                                 : NULL;
    if (blend->symbol.broken || !lacks)
        return;
    struct report *report = report_add(model->reports, &model_rules[RULE_MISSING], blend->symbol.place,
                                       "this blend does not say %s", lacks);
    report_help(model->reports, report, "write, for example: grade 16-4-8, of urea, map, potash");
    blend->symbol.broken = true;
}

void read_blend(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct blend *blend = symbol_new(model, clause, "name", sizeof *blend);
    blend->grade[0] = blend->grade[1] = blend->grade[2] = blend->mass = NAN;
    symbol_declare(model, SYMBOL_BLEND, &blend->symbol);
    VECTOR_PUSH(model->arena, &model->blends, blend);
    body_later(model, clause, &blend->symbol, PHASE_RULES, finish_blend);
}

void read_blend_grade(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct blend *blend = subject;
    for (int i = 0; i < 3; i++)
        blend->grade[i] = clause_value(clause, "grade")->grade[i];
    blend->grade_place = clause->place;
}

void read_blend_products(struct model *model, const struct clause *clause, void *subject)
{
    struct blend *blend = subject;
    struct product_list list = {0};
    if (!products_of(model, clause_value(clause, "materials"), &list))
        blend->symbol.broken = true;
    blend->products.items = list.items;
    blend->products.count = list.count;
    blend->products.capacity = list.capacity;
    blend->products_place = clause->place;
}

void read_blend_filler(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct blend *)subject)->filler = clause_value(clause, "material")->name;
}

void read_blend_mass(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct blend *blend = subject;
    blend->mass = clause_value(clause, "mass")->number;
    blend->mass_place = clause->place;
}

/* ---- what is known of materials ---- */

void read_salt_index(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct salt_index salt = {.material = clause_value(clause, "material")->name,
                              .series = clause_value(clause, "series")->name,
                              .index = clause_value(clause, "index")->number,
                              .source = (const struct source_entry *)symbol_find(
                                  model, SYMBOL_SOURCE, clause_value(clause, "source")),
                              .place = clause->place};
    VECTOR_PUSH(model->arena, &model->salt_indices, salt);
}

void read_material_acidity(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    double amount = clause_value(clause, "amount")->number;
    struct acidity acidity = {.material = clause_value(clause, "material")->name,
                              .amount = text_is(form_head(clause->form), "basicity") ? -amount : amount,
                              .source = (const struct source_entry *)symbol_find(
                                  model, SYMBOL_SOURCE, clause_value(clause, "source")),
                              .place = clause->place};
    VECTOR_PUSH(model->arena, &model->acidities, acidity);
}

void read_mix(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct mixing *mixing = ARENA_NEW(model->arena, struct mixing);
    mixing->first = clause_value(clause, "first")->name;
    mixing->second = clause_value(clause, "second")->name;
    mixing->verdict = (enum mixing_verdict)(int)clause_value(clause, "verdict")->number;
    mixing->place = clause->place;
    mixing->library = model->building->library;
    mixing->source =
        (const struct source_entry *)symbol_find(model, SYMBOL_SOURCE, clause_value(clause, "source"));
    VECTOR_PUSH(model->arena, &model->mixings, mixing);
}
