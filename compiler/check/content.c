/* Products that hold more of a nutrient than a limit allows, whatever their rate. */
#include "compiler/check/checking.h"

static struct report *tell_content(struct checking *checking, const struct instance *instance)
{
    const struct limit *limit = instance->limit;
    const struct part *part = instance->what;
    const struct zone *zone = instance->ledger->zone;
    const struct product *product = part->amount->product;
    const struct nutrient_form *form = limit->nutrient;
    double held = product_share(product, form);
    struct display_pair pair = display_share_pair(checking->arena, held, limit->content);
    struct report *report = finding_add(
        checking, part->done ? CHECK_RECORD_PRODUCT_CONTENT : CHECK_PRODUCT_CONTENT,
        ABOUT(&zone->symbol, &part->occurrence->treatment->symbol, &product->symbol), part->amount->place,
        "%s has %s %s, and %s %s on %s; limit %s", name_string(product->symbol.name), pair.value, form->name,
        name_string(part->occurrence->treatment->symbol.name), part->done ? "used it" : "uses it",
        name_string(zone->symbol.name), pair.bound);
    if (product->content_place[form->nutrient].source)
        report_label(checking->model->reports, report, product->content_place[form->nutrient], "its %s",
                     form->name);
    if (!part->done)
        report_help(
            checking->model->reports, report, "use a product with at most %s %s%s", pair.bound, form->name,
            limit->excepted.count ? ", or one of a kind that the limit excepts, if its label says so" : "");
    limit_label(checking, report, limit);
    return report;
}

static void check_application(struct checking *checking, struct gathering *gathering,
                              struct instance instance, const struct application *application)
{
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        bool concerned = amount->rate > 0 && limit_concerns_content(instance.limit, amount->product);
        bool done = amount_done(application, amount);
        if (!concerned ||
            !finding_once(checking, done ? CHECK_RECORD_PRODUCT_CONTENT : CHECK_PRODUCT_CONTENT,
                          amount->place, (uint64_t)instance.bound << 32 | instance.ledger->zone->index))
            continue;
        struct part *part = ARENA_NEW(checking->arena, struct part);
        *part = (struct part){amount, application_owner(application, amount), amount->rate, done};
        instance.place = amount->place;
        instance.record = part->done ? part->occurrence->record : NULL;
        instance.what = part;
        gather(checking, gathering, instance);
    }
}

/* Told once for a statement, not for each zone or time of it. */
void check_contents(struct checking *checking)
{
    struct gathering gathering = {.groups = {0}};
    struct instance instance = {.day = DAY_NONE};
    for (size_t at = 0; (instance.limit = limit_next(checking, LIMIT_CONTENT, &at)) != NULL;) {
        instance.bound = at;
        for (size_t i = 0; i < checking->model->zones.count; i++) {
            const struct ledger *ledger = instance.ledger = &checking->season->ledgers[i];
            for (size_t j = 0; j < ledger->applications.count && limit_binds(instance.limit, ledger->zone);
                 j++)
                check_application(checking, &gathering, instance, &ledger->applications.items[j]);
        }
    }
    gathering_tell(checking, &gathering, tell_content);
}
