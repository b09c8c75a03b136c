/* What products' labels allow at a time: rates, and the water to spray with. */
#include "compiler/check/checking.h"

/* ---- rates ---- */

struct label_dose { /* all of one product that reached a zone on one day */
    const struct application *application;
    const struct amount *amount; /* the last part planned, or the last of all */
    double rate;                 /* as the label measures it */
    size_t parts;
    bool done;
};

/* The zone and day are named but for a single planned part: it is the same in each zone and at each time. */
static struct report *report_rate(struct checking *checking, enum check_id id, const struct label_dose *dose,
                                  double bound, const char *word)
{
    const struct amount *amount = dose->amount;
    const struct product *product = amount->product;
    const struct treatment *treatment = application_owner(dose->application, amount)->treatment;
    struct display_pair pair = display_pair(
        checking->arena, checking->model, product->label.volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE,
        dose->rate, bound, text_format(checking->arena, "of %s", name_string(product->symbol.name)));
    struct buffer text = {.arena = checking->arena};
    const char *name = name_string(treatment->symbol.name), *zone = name_string(amount->zone->symbol.name);
    const char *date = display_date(checking->arena, dose->application->day);
    if (dose->parts > 1)
        buffer_format(&text, "with %s, %s gets %s on %s", name, zone, pair.value, date);
    else if (dose->done)
        buffer_format(&text, "%s put %s on %s on %s", name, pair.value, zone, date);
    else
        buffer_format(&text, "%s puts down %s", name, pair.value);
    buffer_format(&text, "; the label %s %s", word, pair.bound);
    struct report *report =
        finding_add(checking, id, ABOUT(&amount->zone->symbol, &treatment->symbol, &product->symbol),
                    amount->place, "%s", buffer_string(&text));
    report_label(checking->model->reports, report, product->label.rate_place, "the label's rates");
    return report;
}

/* ", that is 0.84 lb N per 1000 sqft" where the plan states the nutrient and not the product. */
static const char *supply_clause(struct checking *checking, const struct label_dose *dose, double bound,
                                 double (*round_to)(double, int))
{
    const struct dressing *dressing = dose->amount->dressing;
    if (!dressing || !dressing->by_supply || dose->parts != 1)
        return "";
    return text_format(checking->arena, " (%s)",
                       display_rounded(checking->arena, checking->model, QUANTITY_MASS_RATE,
                                       dressing->rate * bound / dose->rate, round_to,
                                       dressing->nutrient->name));
}

/* A way down is proposed for a single planned part only; with others on the day it is not known which. */
static void report_rate_high(struct checking *checking, const struct label_dose *dose)
{
    struct reports *reports = checking->model->reports;
    const struct amount *amount = dose->amount;
    const struct occurrence *owner = application_owner(dose->application, amount);
    double high = amount->product->label.high;
    enum check_id id = dose->done ? CHECK_RECORD_OVER_LABEL : CHECK_LABEL_RATE_HIGH;
    struct report *report = report_rate(checking, id, dose, high, "allows at most");
    if (dose->done)
        note_recovery(checking, report, owner->record, amount->zone, amount->product, dose->application->day);
    if (dose->parts > 1 || dose->done)
        return;
    struct rate_left left = {.share = INFINITY};
    if (amount->dressing)
        left = rate_left(checking, owner->treatment, amount->dressing);
    double label = high / dose->rate, share = fmin(label, left.share);
    const char *refused = rate_refused(checking, amount, share, &left);
    if (refused)
        report_help(reports, report, "%s", refused);
    else
        report_help(reports, report, "use %s or less%s%s",
                    product_rate_floor(checking, amount, amount->rate * share),
                    supply_clause(checking, dose, share * dose->rate, number_floor),
                    left.blocked            ? " for the label"
                    : exceeds(label, share) ? " for the label and all limits"
                                            : "");
    /* A rate far over what any label has is mostly one of another area. */
    const char *likelier = amount->dressing ? rate_meant(checking, amount->dressing) : NULL;
    if (likelier)
        report_note(reports, report, "did you mean %s?", likelier);
}

/* A way up is proposed only where the limits let so much on: else the product does not fit this place. */
static void report_rate_low(struct checking *checking, const struct label_dose *dose)
{
    struct reports *reports = checking->model->reports;
    const struct amount *amount = dose->amount;
    const struct product *product = amount->product;
    struct report *report =
        report_rate(checking, CHECK_LABEL_RATE_LOW, dose, product->label.low, "requires at least");
    if (dose->done)
        return;
    bool limits_allow = true;
    if (amount->dressing) {
        const struct treatment *treatment = application_owner(dose->application, amount)->treatment;
        const struct rate_left left = rate_left(checking, treatment, amount->dressing);
        limits_allow = !left.blocked && !rate_below_label(amount, left.share);
    }
    if (!limits_allow)
        report_help(reports, report, "the limits allow less than the label requires: use another product");
    else
        report_help(reports, report, "use %s or more%s",
                    display_rounded(checking->arena, checking->model,
                                    product->label.volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE,
                                    product->label.low, number_ceiling,
                                    text_format(checking->arena, "of %s", name_string(product->symbol.name))),
                    supply_clause(checking, dose, product->label.low, number_ceiling));
}

/* Parts of one product that reach a zone on one day are one dose. A single planned part is told once: it is
 * the same in each zone and at each time. */
void check_label_rates(struct checking *checking)
{
    struct label_dose *doses =
        ARENA_ARRAY(checking->arena, checking->model->products.count + 1, struct label_dose);
    for (size_t i = 0; i < checking->model->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[i];
        for (size_t j = 0; j < ledger->applications.count; j++) {
            const struct application *application = &ledger->applications.items[j];
            for (size_t k = 0; k < application->amounts.count; k++) {
                /* A product's parts in one application count together; the report stands at the one that is
                 * still to come. */
                struct label_dose *dose = &doses[application->amounts.items[k]->product->index];
                const struct amount *amount = application->amounts.items[k];
                double rate = amount_rate_as(amount, amount->product->label.volume);
                if (dose->application != application)
                    *dose = (struct label_dose){application, amount, 0, 0, amount_done(application, amount)};
                dose->rate += rate;
                dose->parts++;
                if (dose->done) {
                    dose->amount = amount;
                    dose->done = amount_done(application, amount);
                }
            }
            for (size_t k = 0; k < application->amounts.count; k++) {
                const struct product *product = application->amounts.items[k]->product;
                struct label_dose *dose = &doses[product->index];
                if (dose->application != application)
                    continue;
                bool several = dose->parts > 1 || dose->done;
                if (exceeds(dose->rate, product->label.high) &&
                    (several || finding_once(checking, CHECK_LABEL_RATE_HIGH, dose->amount->place, 0)))
                    report_rate_high(checking, dose);
                if (exceeds(product->label.low * (1 - LEAST_RATE_TOLERANCE), dose->rate) &&
                    (several ||
                     finding_once_by(checking, CHECK_LABEL_RATE_LOW, dose->amount->place, 0,
                                     zone_allowed(checking, CHECK_LABEL_RATE_LOW, NULL, dose->amount->zone))))
                    report_rate_low(checking, dose);
                dose->application = NULL;
            }
        }
    }
}

/* ---- water to spray with ---- */

/* The sprayer's output as calibrated, against the water that the label requires. */
void check_water(struct checking *checking, const struct treatment *treatment,
                 const struct dressing *dressing)
{
    struct reports *reports = checking->model->reports;
    struct arena *arena = checking->arena;
    const struct machine *machine = treatment->machine;
    const struct product *product = dressing->product;
    const struct product_label *label = &product->label;
    if (isnan(label->water_low) || !machine || machine->symbol.broken || !machine->sprayer)
        return;
    const char *sprayer = name_string(machine->symbol.name), *name = name_string(product->symbol.name);
    const struct symbol *const *about = ABOUT(&treatment->symbol, &product->symbol, &machine->symbol);
    bool much = exceeds(machine->output, label->water_high);
    if (much || exceeds(label->water_low, machine->output)) {
        struct display_pair pair = display_pair(arena, checking->model, QUANTITY_WATER_RATE, machine->output,
                                                much ? label->water_high : label->water_low, "of water");
        struct report *report =
            finding_add(checking, CHECK_WATER_VOLUME, about, treatment->machine_place, "%s puts out %s; %s",
                        sprayer, pair.value,
                        text_format(arena, "the label of %s %s %s", name,
                                    much ? "allows at most" : "requires at least", pair.bound));
        report_label(reports, report, label->rate_place, "the label");
        report_label(reports, report, machine->outputs.items[0].place, "the sprayer");
        report_help(reports, report,
                    "set nozzle, pressure and speed for an output of %s to %s, and calibrate again",
                    display_number(arena, checking->model, QUANTITY_WATER_RATE, label->water_low),
                    display_of(arena, checking->model, QUANTITY_WATER_RATE, label->water_high, NULL));
    } else if (isnan(machine->output) &&
               finding_once(checking, CHECK_OUTPUT_MISSING, machine->symbol.place, 0)) {
        struct report *report = finding_add(
            checking, CHECK_OUTPUT_MISSING, about, machine->symbol.place,
            "%s states no output, so the water for %s cannot be compared with its label", sprayer, name);
        report_label(reports, report, label->rate_place, "the label");
        report_help(reports, report, "state what calibration gave as `output OUTPUT`");
    }
}
