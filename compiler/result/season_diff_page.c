/* Two seasons beside each other, for a person: what changes on the lawn, in the order of the season. What
 * holds from now on comes first, then what it was. */
#include "compiler/result/result.h"

#include "compiler/model/display.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/caution.h"
#include "compiler/result/season_diff.h"

#include <math.h>
#include <string.h>

/* ---- the plans ---- */

static const char *plan_words(struct arena *arena, const struct model *model, const struct text *file)
{
    struct buffer text = {.arena = arena};
    buffer_add_string(&text, model->title ? model->title : "a plan without a name");
    if (model->edition > 0)
        buffer_format(&text, ", edition %d of %s", model->edition, display_date(arena, model->edition_day));
    if (file)
        buffer_format(&text, ", with %.*s", (int)file->length, file->start);
    return buffer_string(&text);
}

/* ---- one work ---- */

/* Where the whole material has one rate, that is one line; otherwise each zone says its own. A record used
 * what it used: its rate is only worked out. */
static void describe_amounts(struct page *page, const struct comparison *comparison,
                             const struct pairing *pairing)
{
    const struct material *last = NULL;
    for (size_t i = 0; i < pairing->amounts.count; i++) {
        const struct portion_change *change = &pairing->amounts.items[i];
        const struct portion *old = change->old, *new = change->new;
        const struct amount *amount = (new ? new : old)->amount;
        const char *product = name_string(amount->product->symbol.name);
        const char *zone = name_string(amount->zone->symbol.name);
        const char *is = NULL, *was = NULL;
        if (old && new && !new->amount->recorded && !old->amount->recorded &&
            (old->amount->volume != new->amount->volume || differs(old->amount->rate, new->amount->rate))) {
            is = material_rate_text(change->new_material, new->amount->rate, pairing->new,
                                    comparison->new->model);
            was = material_rate_text(change->old_material, old->amount->rate, pairing->old,
                                     comparison->old->model);
        }
        bool whole = is && !isnan(change->new_material->rate) && !isnan(change->old_material->rate);
        if (whole && change->new_material != last)
            page_item(page, 1, text_format(page->arena, "Rate of %s: %s, was %s", product, is, was));
        last = change->new_material;
        if (is && !whole)
            page_item(page, 1,
                      text_format(page->arena, "Rate of %s on %s: %s, was %s", product, zone, is, was));
        if (!old)
            page_item(page, 1, text_format(page->arena, "%s on %s: %s, added", product, zone, new->text));
        else if (!new)
            page_item(page, 1,
                      text_format(page->arena, "%s on %s: removed, was %s", product, zone, old->text));
        else if (strcmp(old->text, new->text) != 0 || !is)
            page_item(page, 1,
                      text_format(page->arena, "%s on %s: %s, was %s", product, zone, new->text, old->text));
    }
}

/* The new day and headline lead: they are what holds from now on. */
static void describe_changed(struct page *page, const struct comparison *comparison,
                             const struct pairing *pairing)
{
    struct arena *arena = page->arena;
    const day_number is = pairing->new->occurrence->day;
    const day_number was = pairing->old ? pairing->old->occurrence->day : is;
    const char *moved = "";
    if (pairing->moved)
        moved = text_format(arena, ", was %s (%s)", display_date(arena, was), shift_words(arena, was, is));
    page_heading(page, 0,
                 text_format(arena, "%s%s: %s%s", display_date(arena, is), moved, pairing->new->headline,
                             pairing->old ? "" : ", added"));
    if (pairing->done)
        page_item(page, 1, pairing->moved ? "Done, was planned." : "Done on the day planned.");
    if (pairing->undone)
        page_item(page, 1, "To do, was done.");
    describe_amounts(page, comparison, pairing);
    for (size_t i = 0; i < pairing->sentences.count; i++) {
        const struct fact *old = pairing->sentences.items[i].old, *new = pairing->sentences.items[i].new;
        if (old && new)
            page_item(page, 1, text_format(arena, "%s Was: %s", new->words, old->words));
        else if (old)
            page_item(page, 1, text_format(arena, "No longer: %s", old->words));
        else
            page_item(page, 1, pairing->old ? text_format(arena, "New: %s", new->words) : new->words);
    }
}

/* ---- what the plan rests on ---- */

/* `mark` goes around the words, for a plan's own: "`". */
static void describe_facts(struct page *page, const char *heading, const char *nobody, const char *mark,
                           const struct fact_changes *changes)
{
    struct arena *arena = page->arena;
    for (size_t i = 0; i < changes->count; i++) {
        const struct fact *old = changes->items[i].old, *new = changes->items[i].new;
        const char *subject = (new ? new : old)->subject;
        const char *is = new ? text_format(arena, "%s%s%s", mark, new->words, mark) : "removed";
        const char *was = old ? text_format(arena, ", was %s%s%s", mark, old->words, mark) : ", added";
        if (i == 0 && heading)
            page_heading(page, 0, heading);
        page_item(page, 1, text_format(arena, "%s: %s%s", subject ? subject : nobody, is, was));
    }
}

/* "41.00 crowns", "41.00 crowns and 2 products of unknown cost" */
static const char *cost_words(struct arena *arena, const struct model *model, const struct shopping *shopping)
{
    const char *cost = money_text(arena, model, shopping->cost);
    if (shopping->unpriced == 0)
        return cost;
    return text_format(arena, "%s%s%zu %s of unknown cost", shopping->cost > 0 ? cost : "",
                       shopping->cost > 0 ? " and " : "", shopping->unpriced,
                       shopping->unpriced == 1 ? "product" : "products");
}

/* What is still to be bought, where it costs something else or comes from another shop. */
static void describe_cost(struct page *page, const struct comparison *comparison)
{
    struct arena *arena = page->arena;
    const struct model *old = comparison->old->model, *new = comparison->new->model;
    const struct shopping *before = &comparison->old_shopping, *now = &comparison->new_shopping;
    bool all_priced = before->unpriced == 0 && now->unpriced == 0;
    bool same = !differs(before->cost, now->cost) && before->unpriced == now->unpriced;
    bool one_currency = old->currency && new->currency ? strcmp(old->currency, new->currency) == 0
                                                       : old->currency == new->currency;
    double more = now->cost - before->cost;
    const char *change = ", as before";
    if (same && (!comparison->replacement || now->cost + (double)now->unpriced <= 0))
        return;
    if (!same)
        change = text_format(arena, ", was %s", cost_words(arena, old, before));
    if (!same && all_priced && one_currency)
        change = text_format(arena, "%s (%s %s)", change, money_text(arena, new, fabs(more)),
                             more > 0 ? "more" : "less");
    page_gap(page);
    page_say(page, 0, "Still to buy: %s%s.", cost_words(arena, new, now), change);
}

/* What changes on the lawn first; what it rests on, costs, and what to mind, behind it. */
void compare_page(struct page *page, const struct result_input *input)
{
    const struct replacement *replacement = input->replacement;
    const struct comparison *comparison =
        comparison_of(page->arena, input->before, input->season, replacement);
    const size_t same = comparison->same, all = comparison->pairings.count;
    const char *plan = comparison->new->model->title;
    page->title = plan ? text_format(page->arena, "%s: what changes", plan) : "What changes";
    page_entry(page, 0, "From",
               plan_words(page->arena, comparison->old->model, replacement ? &replacement->replaced : NULL));
    page_entry(page, 0, "to  ",
               plan_words(page->arena, comparison->new->model, replacement ? &replacement->by : NULL));
    page_gap(page);
    if (!comparison_differs(comparison))
        page_line(page, 0, "Nothing changes on the lawn.");
    for (size_t i = 0; i < all; i++) {
        const struct pairing *pairing = &comparison->pairings.items[i];
        if (!pairing->new || pairing->skipped) {
            /* What is no longer done, and why where the record says it. */
            struct arena *arena = page->arena;
            const struct record *record = pairing->new ? pairing->new->occurrence->record : NULL;
            const char *why = record && record->why ? text_format(arena, " (%s)", record->why) : "";
            page_heading(page, 0,
                         text_format(arena, "%s%s, was %s: %s", pairing->skipped ? "Skipped" : "Removed", why,
                                     display_date(arena, pairing->old->occurrence->day),
                                     pairing->old->headline));
        } else if (pairing_differs(pairing))
            describe_changed(page, comparison, pairing);
    }
    page_gap(page);
    if (comparison_differs(comparison) && same == all)
        page_line(page, 0, "No work changes.");
    else if (same < all && same)
        page_say(page, 0, "%zu other%s unchanged.", same, same == 1 ? "" : "s");
    else if (same < all)
        page_line(page, 0, "All work changes.");
    page_gap(page);
    describe_facts(page, "Ground:", "", "", &comparison->ground);
    describe_facts(page, comparison->ground.count ? NULL : "Ground:", "", "", &comparison->areas);
    page_gap(page);
    describe_facts(page, "Limits:", "this plan", "`", &comparison->limits);
    page_gap(page);
    describe_facts(page, "Products:", "", "`", &comparison->products);
    describe_cost(page, comparison);
    struct footnotes notes = {.arena = page->arena};
    /* In full where they are new; those that go, in few words. One whose words change is both. */
    page_gap(page);
    if (comparison->new_cautions.count)
        page_heading(page, 0, "New cautions:");
    for (size_t j = 0; j < comparison->new_cautions.count; j++)
        page_item(page, 1, caution_sentence(page->arena, comparison->new_cautions.items[j], &notes));
    page_gap(page);
    if (comparison->old_cautions.count)
        page_heading(page, 0, "Cautions no longer needed:");
    for (size_t j = 0; j < comparison->old_cautions.count; j++)
        page_item(page, 1, caution_brief(comparison->old_cautions.items[j]));
    page_sources(page, &notes);
}
