/* What checks share: who put down what on a day, the limits that bind, and words for them. */
#include "compiler/check/checking.h"

/* ---- applications ---- */

static bool amount_counts(const struct amount *amount, const struct nutrient_form *form)
{
    return !form || amount->supplied[form->nutrient] > 0;
}

/* What can still be changed comes before what cannot. */
struct part part_lead(const struct application *application, const struct nutrient_form *form,
                      const struct limit *limit, bool (*counts)(const struct limit *, const struct product *))
{
    struct part lead = {0};
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        struct part part = {amount, NULL, form ? supplied_as(amount->supplied, form) : amount->rate, false};
        if (!amount_counts(amount, form) || (limit && !counts(limit, amount->product)))
            continue;
        part.done = amount_done(application, amount);
        if (!lead.amount || (part.done == lead.done ? part.value > lead.value : !part.done))
            lead = part;
    }
    if (lead.amount)
        lead.occurrence = application_owner(application, lead.amount);
    return lead;
}

struct part application_lead(const struct application *application, const struct nutrient_form *form)
{
    return part_lead(application, form, NULL, NULL);
}

/* In the order of the day. */
const char *application_names(struct checking *checking, const struct application *application,
                              const struct nutrient_form *form)
{
    const char **names = ARENA_ARRAY(checking->arena, application->occurrences.count + 1, const char *);
    size_t count = 0;
    for (size_t i = 0; i < application->occurrences.count; i++) {
        const struct occurrence *occurrence = application->occurrences.items[i];
        bool counts = false;
        for (size_t j = 0; j < application->amounts.count && !counts; j++)
            counts = amount_counts(application->amounts.items[j], form) &&
                     application_owner(application, application->amounts.items[j]) == occurrence;
        if (counts)
            names[count++] = name_string(occurrence->treatment->symbol.name);
    }
    return list_text(checking->arena, names, count, " and ");
}

struct place occurrence_place(const struct occurrence *occurrence)
{
    return occurrence->done ? occurrence->record->day_place : occurrence->treatment->symbol.place;
}

const char *verb_be(bool happened)
{
    return happened ? "was" : "is";
}

/* ---- limits ---- */

const struct limit *limit_next(const struct checking *checking, enum limit_kind kind, size_t *at)
{
    arena_work(checking->arena, 1);
    return *at < checking->limits[kind].count ? checking->limits[kind].items[(*at)++] : NULL;
}

bool ledger_bound(const struct checking *checking, const struct limit *limit, const struct ledger *ledger)
{
    arena_work(checking->arena, 1 + 2 * (uint64_t)ledger->applications.count);
    return limit_binds(limit, ledger->zone);
}

/* A set that binds every plan says how to lift it, where nobody asked for it. */
void limit_label(struct checking *checking, struct report *report, const struct limit *limit)
{
    const struct limit_set *set = limit->set;
    const char *name = name_string(set->symbol.name);
    report_label(checking->model->reports, report, limit->place, "the limit%s%s", *name ? " of " : "", name);
    source_note(checking, report, set->source);
    if (set->always && !set->followed_at.source && *name && !report->allowed_because &&
        !limit_is_fixed(limit))
        report_note(checking->model->reports, report,
                    "%s binds every plan; where it must not, say why: `allow %s \"...\"`", name, name);
}

/* ---- words ---- */

bool symbol_is_plans(const struct checking *checking, const struct symbol *symbol)
{
    return !symbol->library && symbol->place.source == checking->model->plan;
}

const char *check_supply_text(struct checking *checking, double value, const struct nutrient_form *form)
{
    return display_of(checking->arena, checking->model, QUANTITY_MASS_RATE, value, form->name);
}

struct display_pair supply_pair(struct checking *checking, double value, double bound,
                                const struct nutrient_form *form)
{
    return display_pair(checking->arena, checking->model, QUANTITY_MASS_RATE, value, bound, form->name);
}

const char *product_rate_floor(struct checking *checking, const struct amount *amount, double rate)
{
    const char *of = text_format(checking->arena, "of %s", name_string(amount->product->symbol.name));
    return display_rounded(checking->arena, checking->model,
                           amount->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE, rate, number_floor,
                           of);
}

void source_note(struct checking *checking, struct report *report, const struct source_entry *source)
{
    if (!source || !source->title)
        return;
    struct buffer text = {.arena = checking->arena};
    buffer_add_string(&text, source->title);
    if (source->by)
        buffer_format(&text, ", %s", source->by);
    if (source->year)
        buffer_format(&text, ", %d", source->year);
    report_note(checking->model->reports, report, "source: %s", buffer_string(&text));
}
