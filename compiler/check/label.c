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

static void dose_add(struct label_dose *dose, const struct application *application,
                     const struct amount *amount)
{
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

/* " on north on Sat 2027-04-10", but "" for a single planned part: it is the same in each zone and at each
 * time. */
static const char *dose_where(struct checking *checking, const struct label_dose *dose)
{
    if (dose->parts == 1 && !dose->done)
        return "";
    return text_format(checking->arena, " on %s on %s", name_string(dose->amount->zone->symbol.name),
                       display_date(checking->arena, dose->application->day));
}

static struct report *report_rate(struct checking *checking, enum check_id id, const struct label_dose *dose,
                                  double bound, const char *word)
{
    const struct amount *amount = dose->amount;
    const struct product *product = amount->product;
    const struct occurrence *occurrence = application_owner(dose->application, amount);
    bool volume = product->label.volume;
    struct display_pair pair = display_pair(
        checking->arena, checking->model, volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE, dose->rate,
        bound, text_format(checking->arena, "of %s", name_string(product->symbol.name)));
    struct report *report = finding_add(
        checking, id, ABOUT(&amount->zone->symbol, &occurrence->treatment->symbol, &product->symbol),
        amount->place, "%s %s %s%s; the label's %s %s %s", name_string(occurrence->treatment->symbol.name),
        dose->done        ? "put"
        : dose->parts > 1 ? "brings it to"
                          : "puts",
        pair.value, dose_where(checking, dose), word, verb_be(dose->done), pair.bound);
    report_label(checking->model->reports, report, product->label.rate_place, "the label's rates");
    return report;
}

/* ", that is 0.84 lb N per 1000 sqft" where the plan states the nutrient and not the product. */
static const char *supply_clause(struct checking *checking, const struct label_dose *dose, double bound,
                                 const char *(*round_to)(struct arena *, const struct model *, enum quantity,
                                                         double, const char *))
{
    const struct dressing *dressing = dose->amount->dressing;
    if (!dressing || !dressing->by_supply || dose->parts != 1)
        return "";
    return text_format(checking->arena, ", that is %s,",
                       round_to(checking->arena, checking->model, QUANTITY_MASS_RATE,
                                dressing->rate * bound / dose->rate, dressing->nutrient->name));
}

static struct rate_left dose_room(struct checking *checking, const struct label_dose *dose)
{
    const struct amount *amount = dose->amount;
    if (!amount->dressing)
        return (struct rate_left){INFINITY, false};
    return rate_left(checking, application_owner(dose->application, amount)->treatment, amount->dressing);
}

static void help_rate_high(struct checking *checking, struct report *report, const struct label_dose *dose)
{
    const struct amount *amount = dose->amount;
    struct rate_left room = dose_room(checking, dose);
    double label = amount->product->label.high / dose->rate, share = fmin(label, room.share);
    if (rate_below_label(amount, share))
        report_help(checking->model->reports, report,
                    "the limits leave room for %s, and the label asks for more: use another product",
                    product_rate_floor(checking, amount, amount->rate * share));
    else
        report_help(checking->model->reports, report, "%s%s or less would pass%s",
                    product_rate_floor(checking, amount, amount->rate * share),
                    supply_clause(checking, dose, share * dose->rate, display_floor),
                    room.blocked            ? " the label"
                    : exceeds(label, share) ? " the label and all limits on amounts"
                                            : "");
}

static void report_rate_high(struct checking *checking, const struct label_dose *dose)
{
    const struct product_label *label = &dose->amount->product->label;
    enum check_id id = dose->done ? CHECK_RECORD_OVER_LABEL : CHECK_LABEL_RATE_HIGH;
    struct report *report = report_rate(checking, id, dose, label->high, "most");
    if (dose->done)
        note_recovery(checking, report, application_owner(dose->application, dose->amount)->record,
                      dose->amount->zone, dose->amount->product, dose->application->day);
    if (dose->parts == 1 && !dose->done)
        help_rate_high(checking, report, dose);
    /* A rate far over what any label has is mostly one of another area. */
    const char *meant = dose->parts == 1 && !dose->done && dose->amount->dressing
                            ? rate_meant(checking, dose->amount->dressing)
                            : NULL;
    if (meant)
        report_note(checking->model->reports, report, "did you mean %s?", meant);
}

static void report_rate_low(struct checking *checking, const struct label_dose *dose)
{
    const struct product *product = dose->amount->product;
    struct report *report = report_rate(checking, CHECK_LABEL_RATE_LOW, dose, product->label.low, "least");
    if (!dose->done)
        report_help(checking->model->reports, report, "%s%s or more would pass",
                    display_ceiling(checking->arena, checking->model,
                                    product->label.volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE,
                                    product->label.low,
                                    text_format(checking->arena, "of %s", name_string(product->symbol.name))),
                    supply_clause(checking, dose, product->label.low, display_ceiling));
}

static bool dose_to_tell(struct checking *checking, enum check_id id, const struct label_dose *dose)
{
    return dose->parts > 1 || dose->done || finding_once(checking, id, dose->amount->place, 0);
}

static void check_dose(struct checking *checking, const struct label_dose *dose)
{
    const struct product_label *label = &dose->amount->product->label;
    if (exceeds(dose->rate, label->high) && dose_to_tell(checking, CHECK_LABEL_RATE_HIGH, dose))
        report_rate_high(checking, dose);
    if (exceeds(label->low * (1 - LEAST_RATE_TOLERANCE), dose->rate) &&
        dose_to_tell(checking, CHECK_LABEL_RATE_LOW, dose))
        report_rate_low(checking, dose);
}

static void check_application_rates(struct checking *checking, const struct application *application,
                                    struct label_dose *doses)
{
    for (size_t i = 0; i < application->amounts.count; i++)
        dose_add(&doses[application->amounts.items[i]->product->index], application,
                 application->amounts.items[i]);
    for (size_t i = 0; i < application->amounts.count; i++) {
        struct label_dose *dose = &doses[application->amounts.items[i]->product->index];
        if (dose->application == application)
            check_dose(checking, dose);
        dose->application = NULL;
    }
}

void check_label_rates(struct checking *checking)
{
    struct label_dose *doses =
        ARENA_ARRAY(checking->arena, checking->model->products.count + 1, struct label_dose);
    for (size_t i = 0; i < checking->model->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[i];
        for (size_t j = 0; j < ledger->applications.count; j++)
            check_application_rates(checking, &ledger->applications.items[j], doses);
    }
}

/* ---- water to spray with ---- */

static void report_water(struct checking *checking, const struct treatment *treatment,
                         const struct product *product)
{
    const struct machine *machine = treatment->machine;
    const struct product_label *label = &product->label;
    struct arena *arena = checking->arena;
    bool much = exceeds(machine->output, label->water_high);
    struct display_pair pair = display_pair(arena, checking->model, QUANTITY_WATER_RATE, machine->output,
                                            much ? label->water_high : label->water_low, "of water");
    struct report *report =
        finding_add(checking, CHECK_WATER_VOLUME,
                    ABOUT(&treatment->symbol, &product->symbol, &machine->symbol), treatment->machine_place,
                    "%s puts out %s; the label of %s asks for at %s %s", name_string(machine->symbol.name),
                    pair.value, name_string(product->symbol.name), much ? "most" : "least", pair.bound);
    report_label(checking->model->reports, report, label->rate_place, "the label");
    report_label(checking->model->reports, report, machine->symbol.statement, "the sprayer");
    report_help(checking->model->reports, report,
                "an output of %s to %s would pass; set nozzle, pressure and speed anew and calibrate",
                display_number(arena, checking->model, QUANTITY_WATER_RATE, label->water_low),
                display_of(arena, checking->model, QUANTITY_WATER_RATE, label->water_high, NULL));
}

static void check_water(struct checking *checking, const struct treatment *treatment,
                        const struct dressing *dressing)
{
    const struct machine *machine = treatment->machine;
    const struct product *product = dressing->product;
    if (product->symbol.broken || isnan(product->label.water_low))
        return;
    if (exceeds(machine->output, product->label.water_high) ||
        exceeds(product->label.water_low, machine->output)) {
        report_water(checking, treatment, product);
    } else if (isnan(machine->output) &&
               finding_once(checking, CHECK_OUTPUT_MISSING, machine->symbol.place, 0)) {
        struct report *report =
            finding_add(checking, CHECK_OUTPUT_MISSING,
                        ABOUT(&machine->symbol, &treatment->symbol, &product->symbol), machine->symbol.place,
                        "%s states no output, so the water for %s cannot be compared with its label",
                        name_string(machine->symbol.name), name_string(product->symbol.name));
        report_label(checking->model->reports, report, product->label.rate_place, "the label");
        report_help(checking->model->reports, report, "state what calibration gave as `output OUTPUT`");
    }
}

void check_water_volumes(struct checking *checking)
{
    for (size_t i = 0; i < checking->model->treatments.count; i++) {
        const struct treatment *treatment = checking->model->treatments.items[i];
        const struct machine *machine = treatment->machine;
        if (treatment->symbol.broken || !machine || machine->symbol.broken || !machine->sprayer)
            continue;
        const struct dressing_list *dressings = season_dressings(checking->season, treatment);
        for (size_t j = 0; j < dressings->count; j++)
            check_water(checking, treatment, dressings->items[j]);
    }
}
