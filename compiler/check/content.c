/* Products that hold more of a nutrient than a limit allows, whatever their rate. */
#include "compiler/check/checking.h"

/* Once for a statement, with the share that the limit allows. */
struct report *tell_content(struct checking *checking, const struct instance *instance)
{
    struct reports *reports = checking->model->reports;
    const struct limit *limit = instance->limit;
    const struct part *part = instance->what;
    const struct zone *zone = instance->ledger->zone;
    const struct product *product = part->amount->product;
    const struct treatment *treatment = part->occurrence->treatment;
    const struct nutrient_form *form = limit->nutrient;
    double held = product_share(product, form);
    struct display_pair pair = display_share_pair(checking->arena, held, limit->content);
    /* "starter has 20% P2O5, and spring uses it on north; limit 0%" */
    const char *use = text_format(checking->arena, "%s %s on %s", name_string(treatment->symbol.name),
                                  part->done ? "used it" : "uses it", name_string(zone->symbol.name));
    struct report *report =
        finding_add(checking, instance->id, ABOUT(&zone->symbol, &treatment->symbol, &product->symbol),
                    part->amount->place, "%s has %s %s, and %s", name_string(product->symbol.name),
                    pair.value, form->name, text_format(checking->arena, "%s; limit %s", use, pair.bound));
    if (product->content_place[form->nutrient].source)
        report_label(reports, report, product->content_place[form->nutrient], "its %s", form->name);
    if (!part->done)
        report_help(reports, report, "use a product with at most %s %s%s", pair.bound, form->name,
                    limit->excepted.count ? ", or one of a kind that the limit excepts, if its label says so"
                                          : "");
    limit_label(checking, report, limit);
    return report;
}

/* Told once for a statement, not for each zone or time of it. */
void check_content(struct checking *checking, struct gathering *gathering, const struct instance *of)
{
    for (size_t i = 0; i < of->ledger->applications.count; i++) {
        const struct application *application = &of->ledger->applications.items[i];
        for (size_t j = 0; j < application->amounts.count; j++) {
            const struct amount *amount = application->amounts.items[j];
            if (!(amount->rate > 0) || !limit_concerns_content(of->limit, amount->product))
                continue;
            bool done = amount_done(application, amount);
            struct instance instance = *of;
            instance.id = done ? CHECK_RECORD_PRODUCT_CONTENT : CHECK_PRODUCT_CONTENT;
            if (!finding_once(checking, instance.id, amount->place,
                              of->bound << 32 | of->ledger->zone->index))
                continue;
            struct part *part = ARENA_NEW(checking->arena, struct part);
            *part = (struct part){amount, application_owner(application, amount), amount->rate, done};
            instance.place = amount->place;
            instance.record = done ? part->occurrence->record : NULL;
            instance.day = DAY_NONE;
            instance.what = part;
            gather(checking, gathering, instance);
        }
    }
}
