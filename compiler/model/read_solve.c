/* What is left to the compiler: corrections, matches, blends. A treatment whose rates are chosen has a
 * dressing for each product on the list from the start, so that it is dated by whatever it may come to
 * hold. */
#include "compiler/model/read.h"

#include <math.h>

static void dressings_open(struct model *model, struct treatment *treatment,
                           const struct product_list *products, struct place place)
{
    treatment->open = true;
    for (size_t i = 0; i < products->count; i++) {
        struct dressing dressing = {
            .product = products->items[i], .rate = NAN, .place = place, .rate_place = place, .open = true};
        VECTOR_PUSH(model->arena, &treatment->dressings, dressing);
    }
}

/* ---- correct ---- */

/* Opens the treatments whose rates are to be chosen; those of a broken one are broken too, since nothing can
 * be said of rates never chosen. */
static void finish_correct(const struct stated *stated)
{
    struct model *model = stated->model;
    struct correct *correct = stated->subject;
    struct place place = correct->symbol.place;
    if (!correct->symbol.broken && !correct->products_place.source)
        report_lacks(model, place, &correct->symbol, "this correction names no products",
                     "from urea, map, potash");
    else if (!correct->symbol.broken && !correct->treatments_place.source && !correct->added)
        report_lacks(model, place, &correct->symbol, "this correction names no applications",
                     "in spring-feed; or: add up to 4 times between Apr 10 and Oct 15");
    if (correct->added) {
        /* What is added goes where the rest goes, but where the plan says so. */
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
    for (size_t i = 0; i < correct->treatments.count; i++)
        if (correct->symbol.broken)
            correct->treatments.items[i]->symbol.broken = true;
        else
            dressings_open(model, correct->treatments.items[i], &correct->products,
                           correct->treatments_place);
    if (correct->added && !correct->symbol.broken)
        dressings_open(model, correct->added, &correct->products, correct->added_place);
}

void read_correct(const struct stated *stated)
{
    struct correct *correct =
        object_declare(stated, SYMBOL_CORRECT, sizeof *correct, PHASE_RULES, finish_correct);
    VECTOR_PUSH(stated->model->arena, &stated->model->corrects, correct);
}

/* An amount, or (NAN) what the soil test asks of each of these nutrients; each once. */
void read_correct_need(const struct stated *stated)
{
    struct model *model = stated->model;
    struct correct *correct = stated->subject;
    const struct value *stands = &stated->clause->values[0], *items = stands->count ? stands->items : stands;
    for (size_t i = 0; i < (stands->count ? stands->count : 1); i++) {
        const struct nutrient_form *nutrient = items[i].nutrient;
        struct correct_need need = {nutrient,
                                    stands->count ? NAN : items[i].number * nutrient->element_per_unit,
                                    stands->count ? items[i].place : stated->clause->place};
        const struct correct_need *before = NULL;
        for (size_t j = 0; j < correct->needs.count && !before; j++)
            if (correct->needs.items[j].nutrient->nutrient == nutrient->nutrient)
                before = &correct->needs.items[j];
        if (before) {
            report_repeated(model, need.place, before->place,
                            text_format(model->arena, "the need of %s is stated twice", nutrient->name));
            correct->symbol.broken = true;
        } else {
            VECTOR_PUSH(model->arena, &correct->needs, need);
        }
    }
}

void read_correct_bound(const struct stated *stated)
{
    struct correct *correct = stated->subject;
    const struct value *rate = slot_value(stated, "rate");
    struct correct_bound bound = {.least = form_says(stated->clause->form, "at least"),
                                  .nutrient = rate->nutrient,
                                  .kg_per_m2 = rate->number * rate->nutrient->element_per_unit,
                                  .treatment = slot_symbol(stated, SYMBOL_TREATMENT, "application"),
                                  .place = stated->clause->place};
    if (slot_value(stated, "application") && !bound.treatment)
        correct->symbol.broken = true;
    else
        VECTOR_PUSH(stated->model->arena, &correct->bounds, bound);
}

/* Only applications have rates to choose. */
void read_correct_treatments(const struct stated *stated)
{
    struct model *model = stated->model;
    struct correct *correct = stated->subject;
    const struct value *names = slot_value(stated, "applications");
    correct->treatments_place = stated->clause->place;
    for (size_t i = 0; i < names->count; i++) {
        struct treatment *treatment =
            (struct treatment *)symbol_find(model, SYMBOL_TREATMENT, &names->items[i]);
        if (!treatment || treatment->task)
            correct->symbol.broken = true;
        if (treatment && treatment->task)
            report_add(model->reports, &model_rules[RULE_VALUE], names->items[i].place,
                       "this is a task; a task applies no products")
                ->help = "declare it as `apply`";
        if (treatment && !treatment->task)
            VECTOR_PUSH(model->arena, &correct->treatments, treatment);
    }
}

/* A treatment of its own, named as the correction. The times divide the days evenly; whole weeks keep a
 * weekday that limits leave open. */
void read_correct_add(const struct stated *stated)
{
    struct model *model = stated->model;
    struct correct *correct = stated->subject;
    int times = (int)slot_value(stated, "times")->number;
    struct place place = stated->clause->place;
    struct when when = {.kind = WHEN_BETWEEN, .place = place};
    bool sound = days_in(stated, "first", &when.first, "last", &when.last);
    correct->added_place = place;
    if (sound && when.last - when.first + 1 < times) {
        report_add(model->reports, &model_rules[RULE_VALUE], place,
                   "these days are too few for so many applications");
        sound = false;
    }
    correct->symbol.broken = correct->symbol.broken || !sound;
    if (!sound)
        return;
    if (times > 1) {
        int period = (when.last - when.first + 1) / times;
        when.kind = WHEN_EVERY;
        when.wait.days = period >= 14 ? period / 7 * 7 : period;
        when.times = times;
    }
    struct treatment *added = ARENA_NEW(model->arena, struct treatment);
    added->symbol = correct->symbol;
    added->symbol.place = added->symbol.statement = place;
    added->index = (uint32_t)model->treatments.count;
    VECTOR_PUSH(model->arena, &added->whens, when);
    symbol_declare(model, SYMBOL_TREATMENT, &added->symbol);
    VECTOR_PUSH(model->arena, &model->treatments, added);
    correct->added = added;
}

/* ---- match ---- */

/* Of a treatment, or a question of the plan. */
void read_treatment_match(const struct stated *stated)
{
    static const enum nutrient parts[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    struct model *model = stated->model;
    struct treatment *treatment = stated->clause->form->block == BLOCK_PLAN ? NULL : stated->subject;
    const struct value *grade = slot_value(stated, "grade"), *rate = slot_value(stated, "rate");
    struct match *match = ARENA_NEW(model->arena, struct match);
    double share = 0; /* of the grade that the amount is stated in */
    for (int i = 0; i < 3 && share == 0; i++)
        if (rate->nutrient->nutrient == parts[i])
            share = grade->items[i].number * nutrient_trade_form(parts[i])->element_per_unit /
                    rate->nutrient->element_per_unit;
    if (!(share > 0)) {
        struct text text = place_text(grade->place);
        report_add(model->reports, &model_rules[RULE_VALUE], rate->place, "%.*s has no %s", (int)text.length,
                   text.start, rate->nutrient->name)
            ->help = "state the amount by a nutrient that the grade has";
    }
    bool sound = products_of(model, slot_value(stated, "products"), &match->products);
    if (!(share > 0) || !sound) {
        if (treatment)
            treatment->symbol.broken = true;
        return;
    }
    for (int i = 0; i < 3; i++)
        match->grade[i] = grade->items[i].number;
    match->nutrient = rate->nutrient;
    match->supply = rate->number;
    match->rate = rate->number / share;
    match->treatment = treatment;
    match->place = stated->clause->place;
    match->grade_place = grade->place;
    match->rate_place = rate->place;
    VECTOR_PUSH(model->arena, &model->matches, match);
    if (treatment)
        dressings_open(model, treatment, &match->products, match->place);
}

/* The products may be declared further down: the question is put once everything is. */
void read_match(const struct stated *stated)
{
    body_later(stated, object_new(stated, NULL, sizeof(struct symbol)), PHASE_RULES, read_treatment_match);
}

/* ---- blend ---- */

static void finish_blend(const struct stated *stated)
{
    struct blend *blend = stated->subject;
    bool grade = !isnan(blend->grade[0]);
    if (!blend->symbol.broken && (!grade || !blend->products.count))
        report_lacks(stated->model, blend->symbol.place, &blend->symbol,
                     grade ? "this blend names no materials" : "this blend has no grade",
                     "grade 16-4-8, of urea, map, potash");
}

void read_blend(const struct stated *stated)
{
    struct blend *blend = object_declare(stated, SYMBOL_BLEND, sizeof *blend, PHASE_RULES, finish_blend);
    blend->grade[0] = blend->grade[1] = blend->grade[2] = blend->mass = NAN;
    VECTOR_PUSH(stated->model->arena, &stated->model->blends, blend);
}

/* ---- what is known of materials ---- */

static void library_materials(const struct stated *stated)
{
    if (!stated->model->building->library)
        library_read_file(stated->model, LIBRARY_MATERIALS);
}

void read_salt_index(const struct stated *stated)
{
    library_materials(stated);
    struct salt_index salt = {.material = slot_value(stated, "material")->name,
                              .series = slot_value(stated, "series")->name,
                              .index = slot_value(stated, "index")->number,
                              .source = slot_source(stated),
                              .place = stated->clause->place};
    VECTOR_PUSH(stated->model->arena, &stated->model->salt_indices, salt);
}

/* `acidity` and `basicity` are one property with two signs. */
void read_material_acidity(const struct stated *stated)
{
    library_materials(stated);
    double amount = slot_value(stated, "amount")->number;
    struct acidity acidity = {.material = slot_value(stated, "material")->name,
                              .amount = form_says(stated->clause->form, "basicity") ? -amount : amount,
                              .source = slot_source(stated),
                              .place = stated->clause->place};
    VECTOR_PUSH(stated->model->arena, &stated->model->acidities, acidity);
}

void read_mix(const struct stated *stated)
{
    library_materials(stated);
    struct mixing *mixing = ARENA_NEW(stated->model->arena, struct mixing);
    *mixing = (struct mixing){.first = slot_value(stated, "first")->name,
                              .second = slot_value(stated, "second")->name,
                              .verdict = (enum mixing_verdict)(int)slot_value(stated, "verdict")->number,
                              .source = slot_source(stated),
                              .place = stated->clause->place,
                              .library = stated->model->building->library};
    VECTOR_PUSH(stated->model->arena, &stated->model->mixings, mixing);
}
