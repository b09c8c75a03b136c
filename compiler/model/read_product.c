/* Products: what is in them, and what their labels say. */
#include "compiler/model/display.h"
#include "compiler/model/machine.h"
#include "compiler/model/read.h"
#include "compiler/model/tolerance.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

const struct usual *usual_of(struct model *model, const char *class)
{
    struct symbol *usual = symbol_seek(model, SYMBOL_USUAL, name_intern(model->names, text_of(class)));
    if (!usual || usual->broken)
        return NULL;
    usual->used = true;
    return (const struct usual *)usual;
}

/* A product is compared with the entries of its kinds, then of its form. */
static void finish_product(const struct stated *stated)
{
    static const char *const forms[] = {
        [FORM_GRANULAR] = "granular", [FORM_LIQUID] = "liquid", [FORM_SOLUBLE] = "soluble"};
    struct model *model = stated->model;
    struct product *product = stated->subject;
    for (size_t i = 0; i <= product->kinds.count; i++) {
        const char *class =
            i < product->kinds.count ? name_string(product->kinds.items[i]) : forms[product->form];
        const struct usual *usual = class ? usual_of(model, class) : NULL;
        if (usual)
            VECTOR_PUSH(model->arena, &product->usual, usual);
    }

    /* Soluble and slow N are parts of N: without a total they add up to it. What is not stated as slow counts
     * as soluble, unless the label states the soluble part itself. */
    const struct place *stated_at = product->content_place;
    double soluble = product->content[NUTRIENT_SOLUBLE_N], slow = product->content[NUTRIENT_SLOW_N];
    bool total = !isnan(product->grade[0]) || product->content[NUTRIENT_N] > 0;
    if (!total && soluble + slow > 0) {
        product->content[NUTRIENT_N] = soluble + slow;
        product->content_place[NUTRIENT_N] = stated_at[soluble > 0 ? NUTRIENT_SOLUBLE_N : NUTRIENT_SLOW_N];
    }
    double n = product->content[NUTRIENT_N];
    bool slow_stated = product->slow_place.source != NULL;
    if (slow_stated)
        slow = isnan(product->slow_content) ? n * product->slow_share : product->slow_content;
    else if (soluble > 0 && !(slow > 0))
        slow = fmax(0, n - soluble);
    bool parts = stated_at[NUTRIENT_SOLUBLE_N].source || stated_at[NUTRIENT_SLOW_N].source;
    if (parts && exceeds(soluble + slow, n)) {
        enum nutrient part = stated_at[NUTRIENT_SOLUBLE_N].source ? NUTRIENT_SOLUBLE_N : NUTRIENT_SLOW_N;
        struct report *report =
            report_add(model->reports, &model_rules[RULE_VALUE], stated_at[part],
                       "%s nitrogen is part of the total: the parts add up to %s, the total is %s",
                       part == NUTRIENT_SOLUBLE_N ? "soluble" : "slow",
                       display_share(model->arena, soluble + slow), display_share(model->arena, n));
        report_label(model->reports, report,
                     stated_at[NUTRIENT_N].source ? stated_at[NUTRIENT_N] : product->grade_place,
                     "the total");
        report_help(model->reports, report,
                    "give the total nitrogen in the grade; the total includes soluble and slow nitrogen");
        product->symbol.broken = true;
    }
    if (parts && !slow_stated)
        product->slow_place = slow > 0 && stated_at[NUTRIENT_SLOW_N].source ? stated_at[NUTRIENT_SLOW_N]
                                                                            : stated_at[NUTRIENT_SOLUBLE_N];
    if (n > 0)
        product->slow_share = slow / n;
    product->content[NUTRIENT_SLOW_N] = fmin(n, slow);
    product->content[NUTRIENT_SOLUBLE_N] = n - product->content[NUTRIENT_SLOW_N];

    /* A higher mark of one dial puts down more. */
    for (size_t i = 0; i < product->settings.count; i++)
        for (size_t j = 0; j < i; j++) {
            const struct label_setting *a = &product->settings.items[j], *b = &product->settings.items[i];
            if (a->dial == b->dial && !dial_rises(&a->setting, a->kg_per_m2, &b->setting, b->kg_per_m2))
                report_dial(model, &product->symbol, a->place, b->place,
                            "the label's rates do not rise with the dial");
        }
}

/* The figures that a label may leave out are the last members of the struct. */
void read_product(const struct stated *stated)
{
    struct product *product =
        object_declare(stated, SYMBOL_PRODUCT, sizeof *product, PHASE_PRODUCT, finish_product);
    product->index = (uint32_t)stated->model->products.count;
    static const double unstated = NAN;
    for (size_t at = offsetof(struct product, label.low); at < sizeof *product; at += sizeof unstated)
        memcpy((char *)product + at, &unstated, sizeof unstated);
    VECTOR_PUSH(stated->model->arena, &stated->model->products, product);
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

/* A 0 in the grade is stated, and supplies nothing. */
void read_product_grade(const struct stated *stated)
{
    static const enum nutrient parts[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    struct product *product = stated->subject;
    const struct value *grade = slot_value(stated, "grade"), *form = slot_value(stated, "form");
    const struct value *density = slot_value(stated, "density");
    product->grade_place = grade->place;
    if (form)
        product->form = (enum product_form)(FORM_GRANULAR + (int)form->number);
    if (density)
        set_density(product, density);
    for (int i = 0; i < 3; i++) {
        product->grade[i] = grade->items[i].number;
        if (product->grade[i] > 0)
            set_content(product, nutrient_trade_form(parts[i]), product->grade[i], grade->place);
    }
}

/* What the grade states of a nutrient, `contains` may state anew: the two add up where a label prints both as
 * parts. Two `contains` of one nutrient are a mistake. */
void read_product_contains(const struct stated *stated)
{
    struct model *model = stated->model;
    struct product *product = stated->subject;
    struct place place = stated->clause->place;
    const struct nutrient_form *nutrient = slot_value(stated, "nutrient")->nutrient;
    struct place before = product->content_place[nutrient->nutrient];
    if (nutrient_is_lime(nutrient->nutrient)) {
        report_add(model->reports, &model_rules[RULE_NUTRIENT], place,
                   "state lime by what it neutralizes, not by its content")
            ->help = "write, for example: neutralizing 90%";
    } else if (before.source && before.start != product->grade_place.start) {
        struct report *report = report_repeated(
            model, place, before,
            text_format(model->arena, "%s is stated twice", nutrient_trade_form(nutrient->nutrient)->name));
        report_help(model->reports, report, "state the label's total once");
        product->symbol.broken = true;
    } else {
        set_content(product, nutrient, slot_value(stated, "share")->number, place);
    }
}

void read_product_density(const struct stated *stated)
{
    struct product *product = stated->subject;
    if (!isnan(product->density))
        report_add(stated->model->reports, &model_rules[RULE_REPEATED], stated->clause->place,
                   "the density is stated twice");
    set_density(product, slot_value(stated, "density"));
}

void read_product_pack(const struct stated *stated)
{
    struct product *product = stated->subject;
    const struct value *amount = slot_value(stated, "amount"), *price = slot_value(stated, "price");
    struct pack pack = {amount->number, amount->volume, price ? price->number : NAN, stated->clause->place};
    VECTOR_PUSH(stated->model->arena, &product->packs, pack);
}

void read_product_load(const struct stated *stated)
{
    struct product *product = stated->subject;
    const struct value *amount = slot_value(stated, "amount"), *price = slot_value(stated, "price");
    product->load = amount->number;
    product->load_volume = amount->volume;
    product->load_price = price ? price->number : NAN;
}

void read_product_settles(const struct stated *stated)
{
    const struct value *share = slot_value(stated, "share");
    if (share->number < 1)
        ((struct product *)stated->subject)->settles = share->number;
    else
        report_add(stated->model->reports, &model_rules[RULE_VALUE], share->place,
                   "a layer cannot settle to nothing");
}

/* Seed is of that kind, to waits and to what is usual, whether or not the plan says so. */
void read_product_seed(const struct stated *stated)
{
    struct product *product = stated->subject;
    product->live = slot_value(stated, "purity")->number * slot_value(stated, "germination")->number;
    if (!(product->live > 0)) {
        report_add(stated->model->reports, &model_rules[RULE_VALUE], stated->clause->place,
                   "none of this seed lives");
        product->symbol.broken = true;
    }
    VECTOR_PUSH(stated->model->arena, &product->kinds, name_intern(stated->model->names, TEXT("seed")));
}

/* The water is stated for the same area as the rate: "2 to 4 fl oz per 1000 sqft in 1 to 2 gal of water". */
void read_label_rates(const struct stated *stated)
{
    struct product_label *label = &((struct product *)stated->subject)->label;
    const struct value *rates = slot_value(stated, "rates"), *most = slot_value(stated, "most");
    const struct value *water = slot_value(stated, "water"), *rate = rates ? rates : most;
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

void read_actives(const struct stated *stated)
{
    const struct value *kinds = slot_value(stated, "kinds");
    struct model *model = stated->model;
    slot_source(stated);
    for (size_t i = 0; i < kinds->count; i++)
        VECTOR_PUSH(model->arena, &model->actives,
                    ((struct active){kinds->items[i].name, stated->clause->place}));
}

void read_label_year(const struct stated *stated)
{
    struct product_label *label = &((struct product *)stated->subject)->label;
    const struct value *most = slot_value(stated, "most");
    label->year_most = most->number;
    label->year_volume = most->volume;
    label->year_place = stated->clause->place;
}

/* Water must come within the time, so a month of it is a short one; it must stay dry at least so long, and
 * that month is a long one. */
void read_product_water(const struct stated *stated)
{
    struct product *product = stated->subject;
    const struct value *depth = slot_value(stated, "depth"), *time = slot_value(stated, "time");
    double month_s = 86400.0 * (depth ? MONTH_SHORTEST : MONTH_LONGEST);
    if (depth)
        product->water_in_m = depth->number;
    if (time)
        *(depth ? &product->water_in_s : &product->dry_s) = time->number * (time->calendar ? month_s : 1);
}

/* `acidity` and `basicity` are one property with two signs. */
void read_product_acidity(const struct stated *stated)
{
    struct product *product = stated->subject;
    double amount = slot_value(stated, "amount")->number;
    product->acidity = form_says(stated->clause->form, "basicity") ? -amount : amount;
    product->acidity_place = stated->clause->place;
}

/* Whatever neutralizes is lime to waits and cautions, and counts as so much calcium carbonate. */
void read_product_neutralizing(const struct stated *stated)
{
    struct product *product = stated->subject;
    product->neutralizing = slot_value(stated, "value")->number;
    product->content[NUTRIENT_LIME] = product->neutralizing;
    product->content[NUTRIENT_LIMING_MATERIAL] = fmax(1, product->neutralizing);
    product->content_place[NUTRIENT_LIME] = product->content_place[NUTRIENT_LIMING_MATERIAL] =
        stated->clause->place;
    VECTOR_PUSH(stated->model->arena, &product->kinds, name_intern(stated->model->names, TEXT("lime")));
}

/* `setting 12 on broadcast for 3 lb per 1000 sqft`. Labels name dials that no spreader of the plan has. */
void read_product_setting(const struct stated *stated)
{
    struct product *product = stated->subject;
    struct label_setting setting = {
        .dial = slot_value(stated, "dial")->name,
        .setting = {slot_value(stated, "setting")->number, slot_string(stated, "setting")},
        .kg_per_m2 = slot_value(stated, "rate")->number,
        .place = stated->clause->place};
    VECTOR_PUSH(stated->model->arena, &product->settings, setting);
}

void read_product_caution(const struct stated *stated)
{
    struct product *product = stated->subject;
    const struct value *names = slot_value(stated, "cautions");
    for (size_t i = 0; i < names->count; i++) {
        const struct symbol *caution = symbol_find(stated->model, SYMBOL_CAUTION, &names->items[i]);
        if (caution)
            VECTOR_PUSH(stated->model->arena, &product->cautions, (const struct caution *)caution);
    }
}
