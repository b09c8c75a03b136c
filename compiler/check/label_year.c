/* What products' labels allow in a calendar year: how often, and how much.
 *
 * Where more was done than that, it is told as done; but where something planned is left in the year, that is
 * what can be changed, and it is an error. */
#include "compiler/check/checking.h"

#include <math.h>

/* A zone's year with a product, over what its label allows. */
struct product_year {
    const struct ledger *ledger;
    const struct product *product;
    bool count;                  /* of how often, otherwise of how much */
    struct doses doses;          /* as the label counts: days, or kg/m2 or m3/m2 of product */
    struct dose_run run;         /* all of the year */
    size_t passed;               /* the dose that passes the label, or adds to what had passed it */
    double sum;                  /* of the year up to it */
    size_t shown;                /* the dose reported: that one, or the last that can still be changed */
    const struct amount *amount; /* the last of the product in it, of what can still be changed if any can */
};

/* The dose that passes the label has its own number or sum; one that is told in its place, the year's. */
static const char *year_sentence(struct checking *checking, const struct product_year *year)
{
    const struct dose *dose = &year->doses.items[year->shown];
    const struct product_label *label = &year->product->label;
    const char *product = name_string(year->product->symbol.name),
               *zone = name_string(year->ledger->zone->symbol.name),
               *treatment =
                   name_string(application_owner(dose->application, year->amount)->treatment->symbol.name);
    bool passes = year->shown == year->passed;
    int date_year = date_of_day(dose->day).year;
    const char *number = passes ? text_format(checking->arena, "treatment %d", (int)year->sum)
                                : text_format(checking->arena, "one of %d treatments", (int)year->run.total);
    if (year->count)
        return text_format(
            checking->arena, "%s %s %s; the label allows %d a year", treatment, verb_be(dose->done),
            text_format(checking->arena, "%s with %s on %s in %d", number, product, zone, date_year),
            label->times_a_year);
    struct display_pair pair = display_pair(checking->arena, checking->model,
                                            label->year_volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE,
                                            passes ? year->sum : year->run.total, label->year_most,
                                            text_format(checking->arena, "of %s", product));
    const char *when = passes
                           ? text_format(checking->arena, "on %s", display_date(checking->arena, dose->day))
                           : text_format(checking->arena, "in %d", date_year);
    return text_format(checking->arena, "%s %s %s; the label allows %s in a calendar year", zone,
                       dose->done ? "reached" : "reaches",
                       text_format(checking->arena, "%s %s", pair.value, when), pair.bound);
}

/* What passes the label on that day, and, of a dressing that comes several times, all limits each time. */
static void help_sum(struct checking *checking, struct report *report, const struct product_year *year)
{
    const struct product_label *label = &year->product->label;
    const struct amount *amount = year->amount;
    const struct dose *dose = &year->doses.items[year->shown];
    const struct occurrence *occurrence = application_owner(dose->application, amount);
    double rate = amount_rate_as(amount, label->year_volume);
    double others = (year->shown == year->passed ? year->sum : year->run.total) - rate;
    double share = (label->year_most - others) / rate;
    const char *when = "on that day";
    if (!exceeds(label->year_most, others))
        return;
    struct rate_left left = {.share = INFINITY};
    if (amount->dressing && !amount->dressing->open) {
        left = rate_left(checking, occurrence->treatment, amount->dressing);
        if (occurrence->times > 1 && left.blocked)
            return;
        if (occurrence->times > 1)
            when = "each time";
        else if (exceeds(share, left.share) && !left.blocked)
            when = "on that day (for the label and all limits)";
        share = occurrence->times > 1 ? left.share : fmin(share, left.share);
    }
    if (!rate_refused(checking, amount, share, &left))
        report_help(checking->model->reports, report, "use %s or less %s",
                    product_rate_floor(checking, amount, amount->rate * share), when);
}

/* With the dates on which the zone gets the product. */
static struct report *tell_year(struct checking *checking, const struct instance *instance)
{
    struct reports *reports = checking->model->reports;
    const struct product_year *year = instance->what;
    const struct dose *dose = &year->doses.items[year->shown];
    const struct product_label *label = &year->product->label;
    const struct occurrence *owner = application_owner(dose->application, year->amount);
    struct report *report =
        finding_add(checking, instance->id,
                    ABOUT(&year->ledger->zone->symbol, &owner->treatment->symbol, &year->product->symbol),
                    year->amount->place, "%s", year_sentence(checking, year));
    const char *dates[LISTED];
    size_t days = year->run.end - year->run.first, listed = days < LISTED ? days : LISTED;
    for (size_t i = 0; i < listed; i++)
        dates[i] = display_date(checking->arena, year->doses.items[year->run.first + i].day);
    report_note(reports, report, "applied on %s%s", list_text(checking->arena, dates, listed, " and "),
                days > listed ? text_format(checking->arena, ", and %zu more", days - listed) : "");
    if (dose->done)
        note_recovery(checking, report, owner->record, year->ledger->zone, year->product, dose->day);
    report_label(reports, report, year->count ? label->times_place : label->year_place, "the label");
    if (!dose->done && year->count)
        report_help(reports, report, "use it %s, or use another product",
                    label->times_a_year == 1
                        ? "once"
                        : text_format(checking->arena, "%d times or fewer", label->times_a_year));
    else if (!dose->done)
        help_sum(checking, report, year);
    return report;
}

/* What is still planned in the year is reported once; where all was done, every record that went over the
 * label or added to it is, since each needs its own `admit`. */
static void gather_year(struct checking *checking, struct gathering *gathering, const struct product_year *of,
                        double most)
{
    double sum = 0;
    for (size_t i = of->run.first; i < of->run.end; i++) {
        sum += of->doses.items[i].value;
        if (!exceeds(sum, most))
            continue;
        struct product_year *year = ARENA_NEW(checking->arena, struct product_year);
        *year = *of;
        year->passed = year->shown = i;
        year->sum = sum;
        if (of->run.planned && of->doses.items[i].done)
            for (year->shown = of->run.end - 1; of->doses.items[year->shown].done;)
                year->shown--;
        const struct dose *dose = &of->doses.items[year->shown];
        for (size_t j = 0; j < dose->application->amounts.count; j++) {
            const struct amount *amount = dose->application->amounts.items[j];
            if (amount->product == of->product && (dose->done || !amount_done(dose->application, amount)))
                year->amount = amount;
        }
        const struct record *record = application_owner(dose->application, year->amount)->record;
        gather(checking, gathering,
               (struct instance){.id = dose->done    ? CHECK_RECORD_OVER_LABEL
                                       : year->count ? CHECK_LABEL_COUNT
                                                     : CHECK_LABEL_YEAR,
                                 .place = year->amount->place,
                                 .record = dose->done ? record : NULL,
                                 .bound = of->product->index,
                                 .excess = of->run.total,
                                 .ledger = of->ledger,
                                 .day = DAY_NONE,
                                 .what = year});
        if (of->run.planned)
            return;
    }
}

/* Of how often, then of how much. */
void check_label_years(struct checking *checking)
{
    const struct model *model = checking->model;
    const struct dose_span span = {.kind = SPAN_YEAR};
    for (int by_count = 1; by_count >= 0; by_count--) {
        struct gathering gathering = {.groups = {0}};
        for (size_t i = 0; i < model->zones.count; i++)
            for (size_t j = 0; j < model->products.count; j++) {
                const struct product_label *label = &model->products.items[j]->label;
                double most = !by_count                 ? label->year_most
                              : label->times_a_year > 0 ? label->times_a_year
                                                        : (double)NAN;
                if (isnan(most))
                    continue;
                struct product_year year = {.ledger = &checking->season->ledgers[i],
                                            .product = model->products.items[j],
                                            .count = by_count};
                struct yardstick yardstick = {.product = year.product,
                                              .measure = by_count             ? DOSE_BY_TIMES
                                                         : label->year_volume ? DOSE_BY_VOLUME
                                                                              : DOSE_BY_MASS};
                year.doses = doses_of(checking->arena, year.ledger, &yardstick, false);
                while (dose_run_next(&year.run, &year.doses, &span))
                    if (dose_run_complete(&year.run, &year.doses))
                        gather_year(checking, &gathering, &year, most);
            }
        gathering_tell(checking, &gathering, tell_year);
    }
}
