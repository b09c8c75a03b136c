#include "compiler/result/fewer_packs.h"

#include "compiler/model/display.h"
#include "compiler/model/product.h"
#include "compiler/model/tolerance.h"

enum { RATES_NAMED = 3 }; /* a person does not change more for one pack */

static const double MOST_LOWERED = 0.1;  /* of a rate (common practice, no source) */
static const double MOST_ROUNDED = 1e-3; /* that rounding down to four digits takes of it */

/* Whether another product with N goes on with it: then less of this one may change the slow share. */
static bool shares_nitrogen(const struct season *season, const struct occurrence *occurrence,
                            const struct amount *amount)
{
    const struct ledger *ledger = &season->ledgers[amount->zone->index];
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        for (size_t j = 0; j < application->amounts.count && application->day == occurrence->day; j++)
            if (application->amounts.items[j]->product != amount->product &&
                application->amounts.items[j]->supplied[NUTRIENT_N] > 0)
                return true;
    }
    return false;
}

/* Whether so much less of it is still what the label allows, and nothing else hangs on the rate. */
static bool can_be_lowered(const struct season *season, const struct occurrence *occurrence,
                           const struct amount *amount, double share)
{
    const struct product *product = amount->product;
    const struct product_label *label = &product->label;
    if (!amount->dressing || amount->dressing->open || amount->dressing->laid_m > 0 || !(label->low > 0))
        return false;
    double rate = amount_rate_as(amount, label->volume) * share * (1 - MOST_ROUNDED);
    if (!(rate >= label->low))
        return false;
    return !(product->content[NUTRIENT_N] > 0) || !shares_nitrogen(season, occurrence, amount);
}

/* As the plan would state it, rounded down. */
static const char *lowered_statement(struct arena *arena, const struct model *model,
                                     const struct dressing *dressing, double share)
{
    const char *product = name_string(dressing->product->symbol.name);
    enum quantity quantity = dressing->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    if (dressing->by_supply)
        return text_format(
            arena, "supply %s from %s",
            display_floor(arena, model, QUANTITY_MASS_RATE, dressing->rate * share, dressing->nutrient->name),
            product);
    if (dressing->live_rate > 0)
        return text_format(arena, "live-seed %s from %s",
                           display_floor(arena, model, quantity, dressing->live_rate * share, NULL), product);
    return text_format(arena, "rate %s of %s",
                       display_floor(arena, model, quantity, dressing->rate * share, NULL), product);
}

static void rates_lower(const struct season *season, const struct purchase *purchase, double share,
                        struct fewer_packs *fewer)
{
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        for (size_t j = 0; j < occurrence->amounts.count && !occurrence->done; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            size_t known = 0;
            if (amount->product != purchase->product || !(amount->total > 0))
                continue;
            if (!can_be_lowered(season, occurrence, amount, share)) {
                fewer->rates.count = 0;
                return;
            }
            while (known < fewer->rates.count && fewer->rates.items[known].dressing != amount->dressing)
                known++;
            if (known < fewer->rates.count)
                continue;
            struct lower_rate rate = {.treatment = occurrence->treatment, .dressing = amount->dressing};
            rate.statement = lowered_statement(season->arena, season->model, amount->dressing, share);
            VECTOR_PUSH(season->arena, &fewer->rates, rate);
        }
    }
    if (fewer->rates.count > RATES_NAMED)
        fewer->rates.count = 0;
}

struct fewer_packs fewer_packs_of(const struct season *season, const struct purchase *purchase)
{
    struct fewer_packs fewer = {.saved = NAN};
    struct pack_size sizes[PACK_SIZE_LIMIT];
    double smallest = INFINITY;
    if (purchase->state != PURCHASE_PACKED || season->model->corrects.count || purchase->bulk)
        return fewer;
    for (size_t i = 0; i < purchase->packs.count; i++) {
        const struct purchase_pack *line = &purchase->packs.items[i];
        sizes[i] = (struct pack_size){line->amount, line->pack->price};
        if (line->count)
            smallest = fmin(smallest, line->amount);
    }
    /* What there is without the smallest pack, and what that leaves of the rates. */
    double bought = fmax(purchase->choice.bought - smallest, 0), enough = purchase->held + bought;
    double share = enough / purchase->needed;
    if (exceeds(1 - MOST_LOWERED, share) || !exceeds(1, share))
        return fewer;
    struct pack_choice choice = packs_choose(sizes, purchase->packs.count, bought);
    fewer.packs = choice.packs;
    fewer.saved = purchase->choice.cost - (choice.packs ? choice.cost : 0);
    bool better = isnan(fewer.saved) ? fewer.packs < purchase->choice.packs : exceeds(fewer.saved, 0);
    if (better)
        rates_lower(season, purchase, share, &fewer);
    return fewer;
}

const char *fewer_packs_text(struct arena *arena, const struct model *model, const struct fewer_packs *fewer)
{
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < fewer->rates.count; i++)
        buffer_format(&text, "%s`%s` in %s", i ? ", " : "", fewer->rates.items[i].statement,
                      name_string(fewer->rates.items[i].treatment->symbol.name));
    if (!text.length)
        return NULL;
    if (fewer->packs)
        buffer_format(&text, " would need %zu %s", fewer->packs, fewer->packs == 1 ? "pack" : "packs");
    else
        buffer_add_string(&text, " would need none");
    if (!isnan(fewer->saved))
        buffer_format(&text, " and save %s", money_text(arena, model, fewer->saved));
    buffer_add_string(&text, fewer->rates.count == 1 ? "; the label allows it" : "; the label allows them");
    return text.string;
}
