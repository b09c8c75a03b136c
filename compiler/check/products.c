/* Products and the machines that put them down: what cannot be, and what cannot be worked out. */
#include "compiler/check/checking.h"
#include "compiler/model/machine.h"

#include <math.h>
#include <string.h>

/* ---- grades ---- */

/* Parts of N are counted within N. */
static double content_sum(const struct product *product)
{
    double sum = 0;
    for (int i = 0; i < NUTRIENT_SOLUBLE_N; i++)
        sum += product->content[i];
    return sum;
}

static struct place product_place(const struct product *product)
{
    return product->grade_place.source ? product->grade_place : product->symbol.place;
}

/* Parts of a product against each other: a grade over 100 %, more slow nitrogen than nitrogen. */
void check_grades(struct checking *checking)
{
    struct reports *reports = checking->model->reports;
    for (size_t i = 0; i < checking->model->products.count; i++) {
        const struct product *product = checking->model->products.items[i];
        const double *grade = product->grade, n = product->content[NUTRIENT_N];
        const char *name = name_string(product->symbol.name);
        if (product->symbol.broken)
            continue;
        /* The grade alone, or all nutrients as elements. */
        double sum = isnan(grade[0]) ? 0 : grade[0] + grade[1] + grade[2];
        bool graded_over = exceeds(sum, 1);
        sum = graded_over ? sum : content_sum(product);
        if (exceeds(sum, 1)) {
            struct display_pair pair = display_share_pair(checking->arena, sum, 1);
            struct report *report = finding_add(
                checking, CHECK_GRADE_OVER_100, ABOUT(&product->symbol), product_place(product),
                "%s of %s %s; the most is %s", graded_over ? "the grade" : "the nutrients", name,
                text_format(checking->arena, "%s %s", graded_over ? "adds up to" : "add up to", pair.value),
                pair.bound);
            report_help(reports, report, "check the label");
        }
        /* The slow part is a share of the nitrogen or of the product; as one of the other it comes out above
         * all N. */
        if (product->slow_place.source && (n <= 0 || exceeds(product->slow_share, 1))) {
            const char *fault =
                n > 0 ? text_format(checking->arena,
                                    "%s of the product is slowly available N, but its total N is %s",
                                    display_share(checking->arena, product->slow_content),
                                    display_share(checking->arena, n))
                      : text_format(checking->arena, "%s has slowly available N, but holds no N", name);
            struct report *report = finding_add(checking, CHECK_SLOW_OVER_TOTAL, ABOUT(&product->symbol),
                                                product->slow_place, "%s", fault);
            report_label(reports, report, product_place(product), "its grade");
            report_help(reports, report,
                        "a label that gives a share of the nitrogen is written `slow 30%% of N`, one that "
                        "gives a share of the whole product `slow 4.2%% of product`");
        }
        /* What the grade states and `contains` states again is added up. */
        static const enum nutrient graded[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
        for (int j = 0; j < 3; j++) {
            const struct nutrient_form *form = nutrient_trade_form(graded[j]);
            double all = product_share(product, form);
            if (!(product->grade[j] > 0) || !exceeds(all, product->grade[j]))
                continue;
            struct report *report =
                finding_add(checking, CHECK_GRADE_AND_CONTAINS, ABOUT(&product->symbol),
                            product->content_place[graded[j]],
                            "%s is stated by the grade and again by `contains`; they add up to %s",
                            form->name, display_share(checking->arena, all));
            report_label(reports, report, product->grade_place, "the grade");
            report_help(reports, report,
                        "delete it from `contains`, unless the label lists it beside the grade");
        }
    }
}

/* ---- what a treatment asks of a product ---- */

/* With up to four products of the plan that hold what this one should supply. */
void check_supply(struct checking *checking, const struct treatment *treatment,
                  const struct dressing *dressing)
{
    const struct model *model = checking->model;
    const struct product *product = dressing->product;
    if (!dressing->by_supply || product_supplies(product, dressing->nutrient->nutrient))
        return;
    struct report *report = finding_add(
        checking, CHECK_SUPPLY_WITHOUT, ABOUT(&treatment->symbol, &product->symbol), dressing->place,
        "%s holds no %s to supply", name_string(product->symbol.name), dressing->nutrient->name);
    report_label(model->reports, report, product_place(product), "what it holds");
    const char *names[4];
    size_t count = 0;
    for (size_t i = 0; i < model->products.count && count < 4; i++)
        if (!model->products.items[i]->symbol.broken &&
            product_supplies(model->products.items[i], dressing->nutrient->nutrient))
            names[count++] = name_string(model->products.items[i]->symbol.name);
    if (count)
        report_help(model->reports, report, "%s would: %s", dressing->nutrient->name,
                    list_text(checking->arena, names, count, " and "));
    else
        report_help(model->reports, report, "no product of the plan holds %s", dressing->nutrient->name);
}

/* A task's layer is in no ledger: a limit would not see what it supplies. */
void check_layers(struct checking *checking)
{
    for (size_t i = 0; i < checking->model->treatments.count; i++) {
        const struct treatment *treatment = checking->model->treatments.items[i];
        const struct layer *layer = treatment->task ? treatment->layer : NULL;
        if (layer && !treatment->zones.count && !treatment->symbol.broken) {
            struct report *report =
                finding_add(checking, CHECK_NO_ZONE, ABOUT(&treatment->symbol), layer->place,
                            "%s does not say where this layer goes", name_string(treatment->symbol.name));
            report_help(checking->model->reports, report, "name zones or lawns: to north, south");
        }
        for (size_t j = 0; layer && j < layer->mix.count; j++) {
            const struct product *product = layer->mix.items[j].product;
            const char *names[NUTRIENT_COUNT];
            size_t count = 0;
            for (enum nutrient n = NUTRIENT_N; product && n < NUTRIENT_SOLUBLE_N; n++)
                if (product->content[n] > 0)
                    names[count++] = nutrient_trade_form(n)->name;
            if (product && product->content[NUTRIENT_LIME] > 0)
                names[count++] = "lime";
            /* What the label allows, and when, is checked of applications alone. */
            struct place label = {0};
            if (product && !count) {
                const struct place stated[] = {product->label.rate_place,  product->label.interval_place,
                                               product->label.times_place, product->label.year_place,
                                               product->heat_place,        product->cold_place};
                for (size_t k = 0; k < sizeof stated / sizeof *stated && !label.source; k++)
                    label = stated[k];
            }
            if (!count && !label.source)
                continue;
            struct report *report = finding_add(
                checking, CHECK_LAYER_SUPPLIES, ABOUT(&treatment->symbol, &product->symbol), layer->place,
                count ? "%s supplies %s, which a task does not count"
                      : "%s has a %s, which a task does not check",
                name_string(product->symbol.name),
                count ? list_text(checking->arena, names, count, " and ") : "label");
            report_label(checking->model->reports, report, count ? product_place(product) : label,
                         count ? "what it holds" : "the label");
            report_help(checking->model->reports, report,
                        "write `apply %s` in place of `task %s`, so that %s",
                        name_string(treatment->symbol.name), name_string(treatment->symbol.name),
                        count ? "limits count it" : "it is checked");
        }
    }
}

static void report_no_density(struct checking *checking, const struct product *product, struct place place,
                              const char *reason)
{
    if (!finding_once(checking, CHECK_NO_DENSITY, product->symbol.place, 0))
        return;
    struct report *report =
        finding_add(checking, CHECK_NO_DENSITY, ABOUT(&product->symbol), product->symbol.place,
                    "%s states no density, and %s", name_string(product->symbol.name), reason);
    report_label(checking->model->reports, report, place, "here");
    report_help(checking->model->reports, report,
                "its label or safety sheet gives it; state it as `density DENSITY`");
}

/* "oz" as a word of its own in the statement, without "fl" before it. */
static void report_ounces(struct checking *checking, const struct product *product,
                          const struct symbol *about, struct place place)
{
    if (!place.source)
        return;
    struct text words = text_of(place_words(checking->arena, place));
    bool ounces = false;
    for (size_t i = 0; i + 2 <= words.length; i++) {
        bool begins = i == 0 || strchr(" 0123456789", words.start[i - 1]);
        bool ends = i + 2 == words.length || strchr(" /", words.start[i + 2]);
        bool fluid = i >= 3 && memcmp(words.start + i - 3, "fl ", 3) == 0;
        ounces = ounces || (begins && ends && !fluid && memcmp(words.start + i, "oz", 2) == 0);
    }
    if (!ounces || !finding_once(checking, CHECK_OUNCES_OF_LIQUID, product->symbol.place, 0))
        return;
    const char *name = name_string(product->symbol.name);
    struct report *report = finding_add(checking, CHECK_OUNCES_OF_LIQUID, ABOUT(&product->symbol, about),
                                        place, "%s is a liquid, and its ounces are read as a weight", name);
    report_label(checking->model->reports, report, product_place(product), "liquid here");
    report_help(
        checking->model->reports, report,
        "if the label means fluid ounces, write `fl oz`; if it is weighed: allow ounces-of-liquid for "
        "%s \"weighed\"",
        name);
}

/* What a rate by volume says of the product, and one by ounces. */
void check_volume(struct checking *checking, const struct treatment *treatment,
                  const struct dressing *dressing)
{
    const struct product *product = dressing->product;
    const struct product_label *label = &product->label;
    /* Where the volume has to be counted as mass: its nutrients, or a label by the other measure. */
    bool other_measure = (!isnan(label->high) && label->volume != dressing->volume) ||
                         (!isnan(label->year_most) && label->year_volume != dressing->volume);
    if (isnan(product->density) && dressing->volume && content_sum(product) > 0)
        report_no_density(checking, product, dressing->place,
                          "its nutrients cannot be worked out from a volume");
    else if (isnan(product->density) && other_measure)
        report_no_density(checking, product, dressing->place,
                          "a rate by mass cannot be compared with a label by volume, or the other way round");
    if (dressing->volume && product->form == FORM_GRANULAR) {
        struct report *report =
            finding_add(checking, CHECK_VOLUME_OF_GRANULAR, ABOUT(&treatment->symbol, &product->symbol),
                        dressing->rate_place, "%s is granular, and its rate is stated by volume",
                        name_string(product->symbol.name));
        report_label(checking->model->reports, report, product_place(product), "granular here");
        report_help(checking->model->reports, report,
                    "weigh it: granules settle, and a scoop holds more or less each time; state the rate in "
                    "lb or g");
    }
    /* The label's own rate is looked at with the treatment's: whichever is wrong, the other mostly is too. */
    if (product->form != FORM_LIQUID)
        return;
    report_ounces(checking, product, &treatment->symbol, dressing->rate_place);
    report_ounces(checking, product, NULL, label->rate_place);
    for (size_t i = 0; i < product->packs.count; i++)
        report_ounces(checking, product, NULL, product->packs.items[i].place);
}

/* What was used of a product needs a density as what is planned of it does, told of once. */
void check_recorded_volumes(struct checking *checking)
{
    for (size_t i = 0; i < checking->model->records.count; i++) {
        const struct record *record = checking->model->records.items[i];
        for (size_t j = 0; j < record->uses.count && !record->symbol.broken; j++) {
            const struct use *use = &record->uses.items[j];
            if (use->volume && isnan(use->product->density) && content_sum(use->product) > 0)
                report_no_density(checking, use->product, use->place,
                                  "its nutrients cannot be worked out from a volume");
        }
    }
}

/* ---- forms ---- */

/* Only of what has a grade; a kind or cautions of its own say enough. */
void check_form(struct checking *checking, const struct treatment *treatment, const struct dressing *dressing)
{
    const struct product *product = dressing->product;
    if (product->form != FORM_UNKNOWN || product->kinds.count || product->cautions.count ||
        isnan(product->grade[0]) || !finding_once(checking, CHECK_FORM_MISSING, product->symbol.place, 0))
        return;
    const char *name = name_string(product->symbol.name);
    struct report *report = finding_add(
        checking, CHECK_FORM_MISSING, ABOUT(&product->symbol, &treatment->symbol), product->symbol.place,
        "%s does not say whether it is granular or liquid, so no cautions for either are printed", name);
    report_label(checking->model->reports, report, dressing->place, "%s applies it",
                 name_string(treatment->symbol.name));
    report_help(checking->model->reports, report,
                "write it after the grade, as the label has it: granular, liquid or soluble");
}

/* ---- machines ---- */

/* What the machine states of itself, and what else of the treatment is in the tank. */
static void check_machine_fits(struct checking *checking, const struct treatment *treatment,
                               const struct dressing *dressing)
{
    struct reports *reports = checking->model->reports;
    const struct product *product = dressing->product;
    const struct machine *machine = treatment->machine;
    const struct dressing_list *dressings = &checking->season->dressings[treatment->index];
    const char *machine_name = name_string(machine->symbol.name);
    bool volume = false;
    double rate = dressing->open ? (double)NAN : dressing_rate(dressing, &volume);
    for (int measure = 0; measure < MEASURES && !isnan(rate); measure++) {
        bool by_volume = measure == BY_VOLUME;
        double least = machine_least_rate(machine, measure);
        if (!exceeds(least, product_measure(product, rate, volume, by_volume)))
            continue;
        struct report *report = finding_add(
            checking, CHECK_RATE_BELOW_MACHINE, ABOUT(&treatment->symbol, &product->symbol, &machine->symbol),
            dressing->place, "%s applies %s of %s; %s cannot apply less than %s%s",
            name_string(treatment->symbol.name),
            display_product_rate(checking->arena, checking->model, rate, volume),
            name_string(product->symbol.name), machine_name,
            display_product_rate(checking->arena, checking->model, least, by_volume),
            machine->passes > 1 ? text_format(checking->arena, " in %d passes", machine->passes) : "");
        report_label(reports, report, machine->symbol.statement, "the machine");
        break;
    }
    /* What the library knows of mixing is of dry materials. */
    for (size_t i = 0; machine->sprayer && dressings->items[i] != dressing; i++) {
        const struct product *other = dressings->items[i]->product;
        const struct mixing *mixing = product_mixing(checking->model, other, product);
        if (!mixing || mixing->library || mixing->verdict != MIXING_NEVER)
            continue;
        struct report *report = finding_add(
            checking, CHECK_TANK_APART, ABOUT(&treatment->symbol, &product->symbol, &other->symbol),
            dressing->place, "%s and %s must not be mixed, but both go into the tank of %s",
            name_string(other->symbol.name), name_string(product->symbol.name), machine_name);
        report_label(reports, report, mixing->place, "stated here");
        source_note(checking, report, mixing->source);
        report_help(reports, report, "spray %s in a treatment of its own, and rinse the tank first",
                    name_string(product->symbol.name));
    }
}

/* What is soluble goes through either kind of machine. */
void check_machine(struct checking *checking, const struct treatment *treatment,
                   const struct dressing *dressing)
{
    struct reports *reports = checking->model->reports;
    const struct product *product = dressing->product;
    const struct machine *machine = treatment->machine;
    bool liquid = product->form == FORM_LIQUID;
    enum product_form wrong = machine && machine->sprayer ? FORM_GRANULAR : FORM_LIQUID;
    if (machine && !machine->symbol.broken && product->form == wrong) {
        struct report *report = finding_add(
            checking, CHECK_MACHINE_MISMATCH, ABOUT(&treatment->symbol, &product->symbol, &machine->symbol),
            treatment->machine_place, "%s is a %s, and %s is %s", name_string(machine->symbol.name),
            machine->sprayer ? "sprayer" : "spreader", name_string(product->symbol.name),
            liquid ? "liquid" : "granular");
        report_label(reports, report, product_place(product), "the product");
        report_label(reports, report, machine->symbol.statement, "the machine");
        report_help(reports, report, "name a %s after `with`", machine->sprayer ? "spreader" : "sprayer");
    }
    if (machine && !machine->symbol.broken && product->form != wrong)
        check_machine_fits(checking, treatment, dressing);
    if (!machine && !(dressing->laid_m > 0) &&
        finding_once(checking, CHECK_MACHINE_MISSING, treatment->symbol.place, 0)) {
        struct report *report = finding_add(
            checking, CHECK_MACHINE_MISSING, ABOUT(&treatment->symbol, &product->symbol),
            treatment->symbol.place, "%s names no machine, so %s are not worked out",
            name_string(treatment->symbol.name), liquid ? "tanks and water" : "hopper loads and passes");
        report_help(reports, report, "declare a %s and name it: with %s", liquid ? "sprayer" : "spreader",
                    liquid ? "backpack" : "broadcast");
    }
}

/* ---- treatments that come to nothing ---- */

/* Where a correction that could not be read names no treatments, it is not known which it was to choose rates
 * for. */
void check_nothing_applied(struct checking *checking)
{
    const struct model *model = checking->model;
    for (size_t i = 0; i < model->corrects.count; i++)
        if (model->corrects.items[i]->symbol.broken && !model->corrects.items[i]->treatments.count)
            return;
    for (size_t i = 0; i < model->treatments.count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        const char *name = name_string(treatment->symbol.name);
        struct report *report;
        if (treatment->task || treatment->symbol.broken)
            continue;
        if (!treatment->zones.count) {
            report = finding_add(checking, CHECK_NO_ZONE, ABOUT(&treatment->symbol), treatment->symbol.place,
                                 "%s does not say where it goes", name);
            report_help(model->reports, report, "name zones or lawns: to north, south");
        }
        if (!checking->season->dressings[treatment->index].count && !treatment->open) {
            report = finding_add(checking, CHECK_NOTHING_APPLIED, ABOUT(&treatment->symbol),
                                 treatment->symbol.place, "%s does not say what goes down", name);
            report_help(model->reports, report,
                        "write `rate RATE of PRODUCT` or `supply SUPPLY from PRODUCT`, or declare it as a "
                        "`task`");
        }
    }
}
