/* The share of slowly available nitrogen in an application, or in each product of it. */
#include "compiler/check/checking.h"

static const struct nutrient_form nitrogen = {"N", NUTRIENT_N, 1};

/* Of an application whose slow share is too low; or of the one product that has too little, each of them
 * being asked. */
struct share_low {
    const struct application *application;
    struct part lead;
    double share;
};

/* With what the label would have to state. */
struct report *tell_slow_share(struct checking *checking, const struct instance *instance)
{
    struct reports *reports = checking->model->reports;
    const struct limit *limit = instance->limit;
    const struct zone *zone = instance->ledger->zone;
    const struct share_low *low = instance->what;
    const struct part lead = low->lead;
    const struct treatment *treatment = lead.occurrence->treatment;
    const struct product *product = lead.amount->product;
    bool happened = limit->each ? lead.done : application_done(low->application, &nitrogen);
    struct display_pair pair = display_share_pair(checking->arena, low->share, limit->least_share);
    /* "too little slow-release N on north, Sat 2027-04-10: 20% of the N from feed; the limit requires 30%" */
    struct buffer text = {.arena = checking->arena};
    buffer_format(&text, "too little slow-release N on %s, %s: %s of the N from ",
                  name_string(zone->symbol.name), display_date(checking->arena, low->application->day),
                  pair.value);
    if (limit->each)
        buffer_format(&text, "%s in %s", name_string(product->symbol.name),
                      name_string(treatment->symbol.name));
    else
        buffer_add_string(&text, application_names(checking, low->application, &nitrogen));
    buffer_format(&text, "; the limit requires %s", pair.bound);
    struct report *report = limit_finding(checking, limit, instance->id,
                                          ABOUT(&zone->symbol, &treatment->symbol, &product->symbol),
                                          lead.amount->place, "%s", buffer_string(&text));
    if (!limit->each)
        label_parts(checking, report, low->application, &nitrogen);
    if (product->slow_place.source)
        report_label(reports, report, product->slow_place, "%s by its label",
                     display_share(checking->arena, product->slow_share));
    if (limit->free_n > 0)
        report_note(reports, report, "the limit allows %s in one application without slow-release N",
                    check_supply_text(checking, limit->free_n, &nitrogen));
    if (!happened)
        report_help(reports, report,
                    "use a product with %s or more of its N slow-release; if the label of %s guarantees "
                    "that, state it as `slow`",
                    pair.bound, name_string(product->symbol.name));
    limit_label(checking, report, limit);
    return report;
}

static void gather_share(struct checking *checking, struct gathering *gathering, const struct instance *of,
                         struct share_low low)
{
    struct share_low *kept = ARENA_NEW(checking->arena, struct share_low);
    *kept = low;
    struct instance instance = *of;
    bool happened = of->limit->each ? low.lead.done : application_done(low.application, &nitrogen);
    instance.place = low.lead.amount->place;
    instance.id = happened ? CHECK_RECORD_SLOW_SHARE_LOW : CHECK_SLOW_SHARE_LOW;
    instance.record = happened ? low.lead.occurrence->record : NULL;
    instance.excess = 1 - low.share;
    instance.day = low.application->day;
    instance.what = kept;
    gather(checking, gathering, instance);
}

/* What has no more N than the limit lets be soluble is free of it; `in each product` looks at each alone. */
void check_slow_share(struct checking *checking, struct gathering *gathering, const struct instance *of)
{
    for (size_t i = 0; i < of->ledger->applications.count; i++) {
        const struct application *application = &of->ledger->applications.items[i];
        double n = application->supplied[NUTRIENT_N], share = application->supplied[NUTRIENT_SLOW_N] / n;
        if (!exceeds(n, of->limit->free_n))
            continue;
        if (!of->limit->each && exceeds(of->limit->least_share, share))
            gather_share(checking, gathering, of,
                         (struct share_low){application, application_lead(application, &nitrogen), share});
        for (size_t j = 0; of->limit->each && j < application->amounts.count; j++) {
            const struct amount *amount = application->amounts.items[j];
            n = amount->supplied[NUTRIENT_N];
            share = amount->supplied[NUTRIENT_SLOW_N] / n;
            struct part part = {amount, application_owner(application, amount), n,
                                amount_done(application, amount)};
            if (n > 0 && exceeds(of->limit->least_share, share))
                gather_share(checking, gathering, of, (struct share_low){application, part, share});
        }
    }
}
