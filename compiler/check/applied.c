/* What is put down on one day, against the limits on amounts for one application. A limit passed by one
 * statement is told once, however many zones and days show it. */
#include "compiler/check/checking.h"

#include <math.h>

/* Nothing is pointed at twice. */
void label_parts(struct checking *checking, struct report *report, const struct application *application,
                 const struct nutrient_form *form)
{
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        double value = supplied_as(amount->supplied, form);
        struct place place = amount->place;
        bool labelled = report->place.source == place.source && report->place.start == place.start;
        for (size_t j = 0; j < report->labels.count; j++)
            labelled = labelled || (report->labels.items[j].place.source == place.source &&
                                    report->labels.items[j].place.start == place.start);
        if (value > 0 && report->labels.count < LISTED && !labelled)
            report_label(checking->model->reports, report, amount->place, "%s from %s",
                         check_supply_text(checking, value, form), name_string(amount->product->symbol.name));
    }
}

/* This limit leaves `left_over` (kg/m2) for the lead, but another limit or the label may allow less, and the
 * label may require more: what is proposed passes all of them. The text is changed only where it is certain
 * which. */
static void help_application(struct checking *checking, struct report *report, const struct part *lead,
                             const struct nutrient_form *form, double left_over)
{
    struct reports *reports = checking->model->reports;
    const struct amount *amount = lead->amount;
    const struct dressing *dressing = amount->dressing;
    if (!dressing)
        return;
    if (!exceeds(left_over, 0)) {
        report_help(reports, report, "put %s on another day: the rest of this day already reaches the limit",
                    name_string(amount->product->symbol.name));
        return;
    }
    double here = left_over / lead->value;
    struct rate_left all = rate_left(checking, lead->occurrence->treatment, dressing);
    double share = fmin(here, all.share);
    const char *refused = rate_refused(checking, amount, share, &all);
    if (refused) {
        report_help(reports, report, "%s", refused);
        return;
    }
    const char *rate = product_rate_floor(checking, amount, amount->rate * share);
    const char *by = all.blocked                ? " for this limit"
                     : exceeds(here, all.share) ? " for all limits and the label"
                                                : "";
    report_help(reports, report, "use %s or less (%s)%s", rate,
                display_rounded(checking->arena, checking->model, QUANTITY_MASS_RATE, lead->value * share,
                                number_floor, form->name),
                by);
    if (report->labels.count == 0 && !dressing->open)
        report_fix(reports, report, false, dressing->rate_place,
                   display_rounded(checking->arena, checking->model,
                                   dressing->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE,
                                   dressing->rate * share, number_floor,
                                   dressing->by_supply ? dressing->nutrient->name : NULL),
                   "lower the rate to the most that passes");
}

/* What reached a zone on one day, over the most for an application. */
struct report *tell_application(struct checking *checking, const struct instance *instance)
{
    static const char *const means[] = {
        [MEANS_ANY] = "", [MEANS_SPRAY] = " by spray", [MEANS_SPREADER] = " by spreader"};
    const struct limit *limit = instance->limit;
    const struct nutrient_form *form = limit->nutrient;
    const struct dose *dose = instance->what;
    const struct application *application = dose->application;
    const struct zone *zone = instance->ledger->zone;
    struct part lead = part_lead(application, form, limit, limit_counts);
    bool happened = application_done(application, form);
    struct display_pair pair = supply_pair(checking, dose->value, limit->most, form);
    /* "N too high on north, Sat 2027-04-10: 1 lb N per 1000 sqft from feed; limit 0.9 lb N per 1000 sqft per
     * application of kind liquid by spray in such heat" */
    struct buffer text = {.arena = checking->arena};
    buffer_format(&text, "%s too high on %s, %s: ", form->name, name_string(zone->symbol.name),
                  display_date(checking->arena, application->day));
    buffer_format(&text, "%s from %s; limit %s per application", pair.value,
                  application_names(checking, application, form), pair.bound);
    if (limit->product_kind)
        buffer_format(&text, " of kind %s", text_string(checking->arena, limit->product_kind->text));
    buffer_format(&text, "%s%s%s", means[limit->means], isnan(limit->above) ? "" : " in such heat",
                  isnan(limit->unless_below) ? "" : " at that time of year");
    struct report *report = limit_finding(
        checking, limit, instance->id,
        ABOUT(&zone->symbol, &lead.occurrence->treatment->symbol, &lead.amount->product->symbol),
        lead.amount->place, "%s", buffer_string(&text));
    label_parts(checking, report, application, form);
    if (happened)
        note_recovery(checking, report, lead.occurrence->record, zone, lead.amount->product,
                      application->day);
    else
        help_application(checking, report, &lead, form, limit->most - (dose->value - lead.value));
    limit_label(checking, report, limit);
    /* What the limit takes for granted, since the plan does not say it. */
    struct reports *reports = checking->model->reports;
    bool cool = !isnan(limit->unless_below) &&
                season_reading(checking->season, WEATHER_HIGH, application->day).origin == READING_NONE;
    if (limit->but != BUT_NONE && !zone->lawn->grass)
        report_note(
            reports, report,
            "%s states no grass; add `grass NAME` to its lawn, since the limit is for some grasses only",
            name_string(zone->symbol.name));
    if (cool)
        report_note(reports, report,
                    "the plan has no highs for %s; add `normals` in a `weather` block, since the limit "
                    "depends on them",
                    month_name(date_of_day(application->day).month));
    return report;
}

/* Each day is an application of its own, whatever is done on it. What brings no more than the limit in all
 * brings no more of what it counts. */
void check_application(struct checking *checking, struct gathering *gathering, const struct instance *of)
{
    const struct limit *limit = of->limit;
    const struct nutrient_form *form = limit->nutrient;
    const double most = limit->most * form->element_per_unit;
    for (size_t i = 0; i < of->ledger->applications.count; i++) {
        const struct application *application = &of->ledger->applications.items[i];
        if (application->supplied[form->nutrient] <= most)
            continue;
        double value = limit_dose(limit, application);
        if (!exceeds(value, limit->most) || !check_most_holds(checking, limit, application))
            continue;
        struct dose *dose = ARENA_NEW(checking->arena, struct dose);
        *dose = (struct dose){.application = application, .value = value};
        struct part lead = part_lead(application, form, limit, limit_counts);
        struct instance instance = *of;
        instance.excess = value;
        instance.day = application->day;
        instance.what = dose;
        instance.place = lead.amount->place;
        bool happened = application_done(application, form);
        instance.id = happened ? CHECK_RECORD_OVER_LIMIT : CHECK_LIMIT_PER_APPLICATION;
        instance.record = happened ? lead.occurrence->record : NULL;
        gather(checking, gathering, instance);
    }
}
