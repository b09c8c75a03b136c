/* Products, and the machines that put them down. */
#include "compiler/model/tolerance.h"
#include "compiler/model/display.h"
#include "compiler/model/read.h"

#include <math.h>

static void add_usual(struct model *model, struct product *product, const struct name *class)
{
    struct symbol *usual = symbol_seek(model, SYMBOL_USUAL, class);
    if (!usual || usual->broken)
        return;
    usual->used = true;
    VECTOR_PUSH(model->arena, &product->usual, (const struct usual *)usual);
}

/* More of the parts of N than the N that the grade, or `contains N`, states. */
static void report_parts(struct model *model, struct product *product, double n, double parts)
{
    enum nutrient part =
        product->content_place[NUTRIENT_SOLUBLE_N].source ? NUTRIENT_SOLUBLE_N : NUTRIENT_SLOW_N;
    struct place whole =
        product->content_place[NUTRIENT_N].source ? product->content_place[NUTRIENT_N] : product->grade_place;
    struct report *report =
        report_add(model->reports, &model_rules[RULE_VALUE], product->content_place[part],
                   "%s nitrogen is part of the nitrogen: the parts come to %s, the total is %s",
                   part == NUTRIENT_SOLUBLE_N ? "soluble" : "slow", display_share(model->arena, parts),
                   display_share(model->arena, n));
    report_label(model->reports, report, whole, "the total");
    report_help(model->reports, report, "state all of the nitrogen in the grade, and its parts within it");
    product->symbol.broken = true;
}

/* Soluble and slow N are parts of N: without a total they add up to it. What is not stated as slow counts as
 * soluble, unless the label states the soluble part itself. */
static void finish_product(struct model *model, const struct clause *clause, struct symbol *subject)
{
    static const char *const forms[] = {NULL, "granular", "liquid", "soluble"};
    (void)clause;
    struct product *product = (struct product *)subject;
    for (size_t i = 0; i < product->kinds.count; i++)
        add_usual(model, product, product->kinds.items[i]);
    if (product->form != FORM_UNKNOWN)
        add_usual(model, product, name_intern(model->names, text_of(forms[product->form])));
    double soluble = product->content[NUTRIENT_SOLUBLE_N], slow = product->content[NUTRIENT_SLOW_N];
    bool total = !isnan(product->grade[0]) || product->content[NUTRIENT_N] > 0;
    if (!total && soluble + slow > 0) {
        product->content[NUTRIENT_N] = soluble + slow;
        product->content_place[NUTRIENT_N] =
            product->content_place[soluble > 0 ? NUTRIENT_SOLUBLE_N : NUTRIENT_SLOW_N];
    }
    double n = product->content[NUTRIENT_N];
    bool stated = product->slow_place.source != NULL;
    if (stated && isnan(product->slow_content))
        slow = n * product->slow_share;
    else if (stated)
        slow = product->slow_content;
    else if (soluble > 0 && !(slow > 0))
        slow = fmax(0, n - soluble);
    bool parts =
        product->content_place[NUTRIENT_SOLUBLE_N].source || product->content_place[NUTRIENT_SLOW_N].source;
    if (parts && exceeds(soluble + slow, n))
        report_parts(model, product, n, soluble + slow);
    if (parts && !stated)
        product->slow_place =
            product->content_place[slow > 0 && product->content_place[NUTRIENT_SLOW_N].source
                                       ? NUTRIENT_SLOW_N
                                       : NUTRIENT_SOLUBLE_N];
    if (n > 0)
        product->slow_share = slow / n;
    product->content[NUTRIENT_SLOW_N] = fmin(n, slow);
    product->content[NUTRIENT_SOLUBLE_N] = n - product->content[NUTRIENT_SLOW_N];
}

void read_product(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct product *product = symbol_new(model, clause, "name", sizeof *product);
    product->index = (uint32_t)model->products.count;
    product->grade[0] = product->grade[1] = product->grade[2] = NAN;
    product->density = product->slow_content = NAN;
    product->label = (struct product_label){
        .low = NAN, .high = NAN, .water_low = NAN, .water_high = NAN, .year_most = NAN};
    product->heat_below = product->cold_above = NAN;
    product->water_in_m = product->water_in_s = product->dry_s = NAN;
    product->salt_index = product->neutralizing = product->acidity = NAN;
    symbol_declare(model, SYMBOL_PRODUCT, &product->symbol);
    VECTOR_PUSH(model->arena, &model->products, product);
    body_later(model, clause, &product->symbol, PHASE_PRODUCT, finish_product);
}

static void set_content(struct product *product, const struct nutrient_form *nutrient, double share,
                        struct place place)
{
    product->content[nutrient->nutrient] += share * nutrient->element_per_unit;
    product->content_place[nutrient->nutrient] = place;
}

static void set_density(struct product *product, const struct value *density)
{
    product->density = density->number;
    product->density_number = density->unit ? density->number * density->per / density->unit->factor : NAN;
    product->density_place = density->place;
}

void read_product_grade(struct model *model, const struct clause *clause, void *subject)
{
    static const char *const parts[3] = {"N", "P2O5", "K2O"};
    struct product *product = subject;
    const struct value *grade = clause_value(clause, "grade"), *form = clause_value(clause, "form");
    const struct value *density = clause_value(clause, "density");
    product->grade_place = grade->place;
    if (form)
        product->form = (enum product_form)(FORM_GRANULAR + (int)form->number);
    if (density)
        set_density(product, density);
    for (int i = 0; i < 3; i++) {
        product->grade[i] = grade->grade[i];
        if (grade->grade[i] > 0)
            set_content(product, nutrient_find(text_of(parts[i])), grade->grade[i], grade->place);
    }
    (void)model;
}

void read_product_slow_share(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product *product = subject;
    product->slow_share = clause_value(clause, "share")->number;
    product->slow_place = clause->place;
}

void read_product_slow_content(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product *product = subject;
    product->slow_content = clause_value(clause, "share")->number;
    product->slow_place = clause->place;
}

void read_product_contains(struct model *model, const struct clause *clause, void *subject)
{
    if (nutrient_is_lime(clause_value(clause, "nutrient")->nutrient->nutrient)) {
        report_add(model->reports, &model_rules[RULE_NUTRIENT], clause->place,
                   "lime is not stated by its content but by what it neutralizes")
            ->help = "write, for example: neutralizing 90%";
        return;
    }
    struct product *product = subject;
    const struct nutrient_form *nutrient = clause_value(clause, "nutrient")->nutrient;
    struct place before = product->content_place[nutrient->nutrient];
    if (before.source && before.start != product->grade_place.start) {
        struct report *report =
            report_add(model->reports, &model_rules[RULE_REPEATED], clause->place, "%s is stated twice",
                       nutrient_trade_form(nutrient->nutrient)->name);
        report_label(model->reports, report, before, "it stands here already");
        report_help(model->reports, report, "state once what the label gives in all");
        product->symbol.broken = true;
        return;
    }
    set_content(product, nutrient, clause_value(clause, "share")->number, clause->place);
}

void read_product_kind(struct model *model, const struct clause *clause, void *subject)
{
    struct product *product = subject;
    const struct value *kinds = clause_value(clause, "kinds");
    for (size_t i = 0; i < kinds->count; i++)
        VECTOR_PUSH(model->arena, &product->kinds, kinds->items[i].name);
}

void read_product_density(struct model *model, const struct clause *clause, void *subject)
{
    struct product *product = subject;
    if (!isnan(product->density))
        report_add(model->reports, &model_rules[RULE_REPEATED], clause->place, "the density is stated twice");
    set_density(product, clause_value(clause, "density"));
}

void read_product_pack(struct model *model, const struct clause *clause, void *subject)
{
    struct product *product = subject;
    const struct value *amount = clause_value(clause, "amount"), *price = clause_value(clause, "price");
    struct pack pack = {amount->number, amount->volume, price ? price->number : NAN, clause->place};
    VECTOR_PUSH(model->arena, &product->packs, pack);
}

/* The water is stated for the same area as the rate: "2 to 4 fl oz per 1000 sqft in 1 to 2 gal of water". */
void read_label_rates(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product_label *label = &((struct product *)subject)->label;
    const struct value *rates = clause_value(clause, "rates"), *most = clause_value(clause, "most");
    const struct value *water = clause_value(clause, "water");
    const struct value *rate = rates ? rates : most;
    label->low = rates ? rates->number : 0;
    label->high = rate->high;
    label->per_m2 = rate->per;
    label->volume = rate->volume;
    label->rate_place = rate->place;
    if (water) {
        label->water_low = water->number / rate->per;
        label->water_high = water->high / rate->per;
    }
}

void read_label_interval(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product_label *label = &((struct product *)subject)->label;
    label->interval = duration_of_time(clause_value(clause, "interval"), false);
    label->interval_place = clause->place;
}

void read_label_times(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product_label *label = &((struct product *)subject)->label;
    label->times_a_year = (int)clause_value(clause, "times")->number;
    label->times_place = clause->place;
}

void read_label_year(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product_label *label = &((struct product *)subject)->label;
    const struct value *most = clause_value(clause, "most");
    label->year_most = most->number;
    label->year_volume = most->volume;
    label->year_place = clause->place;
}

void read_product_heat(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product *product = subject;
    product->heat_below = clause_value(clause, "limit")->number;
    product->heat_place = clause->place;
}

void read_product_cold(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product *product = subject;
    product->cold_above = clause_value(clause, "limit")->number;
    product->cold_place = clause->place;
}

void read_product_water_in(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product *product = subject;
    const struct value *time = clause_value(clause, "time");
    product->water_in_m = clause_value(clause, "depth")->number;
    if (time)
        product->water_in_s = time->calendar ? time->number * 28 * 86400 : time->number;
}

void read_product_dry(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    const struct value *time = clause_value(clause, "time");
    ((struct product *)subject)->dry_s = time->calendar ? time->number * 31 * 86400 : time->number;
}

void read_product_salt(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product *product = subject;
    product->salt_index = clause_value(clause, "index")->number;
    product->salt_place = clause->place;
}

/* `acidity` and `basicity` are one property with two signs. */
void read_product_acidity(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct product *product = subject;
    double amount = clause_value(clause, "amount")->number;
    product->acidity = text_is(form_head(clause->form), "basicity") ? -amount : amount;
    product->acidity_place = clause->place;
}

/* Whatever neutralizes is lime to waits and cautions, and counts as so much calcium carbonate. */
void read_product_neutralizing(struct model *model, const struct clause *clause, void *subject)
{
    struct product *product = subject;
    product->neutralizing = clause_value(clause, "value")->number;
    product->content[NUTRIENT_LIME] = product->neutralizing;
    product->content_place[NUTRIENT_LIME] = clause->place;
    product->content[NUTRIENT_LIMING_MATERIAL] = fmax(1, product->neutralizing);
    product->content_place[NUTRIENT_LIMING_MATERIAL] = clause->place;
    VECTOR_PUSH(model->arena, &product->kinds, name_intern(model->names, TEXT("lime")));
}

void read_product_caution(struct model *model, const struct clause *clause, void *subject)
{
    struct product *product = subject;
    const struct value *names = clause_value(clause, "cautions");
    for (size_t i = 0; i < names->count; i++) {
        const struct symbol *caution = symbol_find(model, SYMBOL_CAUTION, &names->items[i]);
        if (caution)
            VECTOR_PUSH(model->arena, &product->cautions, (const struct caution *)caution);
    }
}

/* ---- machines ---- */

static void machine_new(struct model *model, const struct clause *clause, bool sprayer)
{
    struct machine *machine = symbol_new(model, clause, "name", sizeof *machine);
    machine->sprayer = sprayer;
    machine->width_m = machine->hopper_kg = machine->tank_m3 = machine->output = NAN;
    machine->passes = 1;
    struct symbol *usual = symbol_seek(model, SYMBOL_USUAL,
                                       name_intern(model->names, text_of(sprayer ? "sprayer" : "spreader")));
    if (usual && !usual->broken) {
        usual->used = true;
        machine->usual = (const struct usual *)usual;
    }
    symbol_declare(model, SYMBOL_MACHINE, &machine->symbol);
    VECTOR_PUSH(model->arena, &model->machines, machine);
    body_later(model, clause, &machine->symbol, PHASE_PRODUCT, NULL);
}

void read_spreader(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    machine_new(model, clause, false);
}

void read_sprayer(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    machine_new(model, clause, true);
}

void read_spreader_width(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct machine *)subject)->width_m = clause_value(clause, "width")->number;
}

void read_sprayer_width(struct model *model, const struct clause *clause, void *subject)
{
    read_spreader_width(model, clause, subject);
}

void read_spreader_hopper(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct machine *)subject)->hopper_kg = clause_value(clause, "mass")->number;
}

void read_spreader_passes(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct machine *)subject)->passes = (int)clause_value(clause, "count")->number;
}

void read_sprayer_tank(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct machine *)subject)->tank_m3 = clause_value(clause, "volume")->number;
}

void read_sprayer_output(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct machine *)subject)->output = clause_value(clause, "rate")->number;
}
