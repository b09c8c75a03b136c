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

static struct report *tell_slow_share(struct checking *checking, const struct instance *instance)
{
    const struct limit *limit = instance->limit;
    const struct ledger *ledger = instance->ledger;
    const struct share_low *low = instance->what;
    const struct application *application = low->application;
    const struct part lead = low->lead;
    const struct product *product = lead.amount->product;
    bool happened = limit->each ? lead.done : application_done(application, &nitrogen);
    struct display_pair pair = display_share_pair(checking->arena, low->share, limit->most);
    const char *who = limit->each
                          ? text_format(checking->arena, "%s of %s", name_string(product->symbol.name),
                                        name_string(lead.occurrence->treatment->symbol.name))
                          : application_names(checking, application, &nitrogen);
    struct report *report = limit_finding(
        checking, limit, happened ? CHECK_RECORD_SLOW_SHARE_LOW : CHECK_SLOW_SHARE_LOW,
        ABOUT(&ledger->zone->symbol, &lead.occurrence->treatment->symbol, &product->symbol),
        lead.amount->place, "%s of the N that %s %s on %s on %s %s slowly available; the least %s %s",
        pair.value, who, verb_put(happened), name_string(ledger->zone->symbol.name),
        display_date(checking->arena, application->day), verb_be(happened), verb_be(happened), pair.bound);
    if (!limit->each)
        label_parts(checking, report, application, &nitrogen);
    if (product->slow_place.source)
        report_label(checking->model->reports, report, product->slow_place, "%s by its label",
                     display_share(checking->arena, product->slow_share));
    if (limit->free_n > 0)
        report_note(checking->model->reports, report,
                    "%s in one application may be all soluble by this limit",
                    check_supply_text(checking, limit->free_n, &nitrogen));
    if (!happened)
        report_help(
            checking->model->reports, report,
            "a product with %s or more of its N slowly available would pass; if the label guarantees it, "
            "state `slow` for %s",
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
    instance.record = happened ? low.lead.occurrence->record : NULL;
    instance.excess = 1 - low.share;
    instance.day = low.application->day;
    instance.what = kept;
    gather(checking, gathering, instance);
}

static void gather_each_share(struct checking *checking, struct gathering *gathering,
                              const struct instance *of, const struct application *application)
{
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        double n = amount->supplied[NUTRIENT_N], share = amount->supplied[NUTRIENT_SLOW_N] / n;
        struct part part = {amount, application_owner(application, amount), n,
                            amount_done(application, amount)};
        if (n > 0 && exceeds(of->limit->most, share))
            gather_share(checking, gathering, of, (struct share_low){application, part, share});
    }
}

static void check_ledger_slow_share(struct checking *checking, struct gathering *gathering,
                                    const struct instance *of)
{
    for (size_t i = 0; i < of->ledger->applications.count; i++) {
        const struct application *application = &of->ledger->applications.items[i];
        double n = application->supplied[NUTRIENT_N], share = application->supplied[NUTRIENT_SLOW_N] / n;
        if (!exceeds(n, of->limit->free_n))
            continue;
        if (of->limit->each)
            gather_each_share(checking, gathering, of, application);
        else if (exceeds(of->limit->most, share))
            gather_share(checking, gathering, of,
                         (struct share_low){application, application_lead(application, &nitrogen), share});
    }
}

void check_slow_share(struct checking *checking)
{
    check_ledgers(checking, LIMIT_SLOW_SHARE, check_ledger_slow_share, tell_slow_share);
}
