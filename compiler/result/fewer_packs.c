#include "compiler/result/fewer_packs.h"

#include "compiler/model/display.h"
#include "compiler/model/machine.h"
#include "compiler/model/product.h"
#include "compiler/model/tolerance.h"

#include <string.h>

enum { STATEMENTS_NAMED = 3 }; /* a person does not change more for one pack */

static const double MOST_LOWERED = 0.1; /* of a rate (common practice, no source) */

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

/* The rate in `share` of what it is, in the coarsest step of spreader or sprayer that neither the label nor a
 * tenth forbids; 0 where none is, or where something else hangs on the rate. */
static double rate_lowered(const struct season *season, const struct occurrence *occurrence,
                           const struct amount *amount, double share)
{
    const struct product *product = amount->product;
    const struct product_label *label = &product->label;
    if (!amount->dressing || amount->dressing->open || amount->dressing->laid_m > 0 || !(label->low > 0))
        return 0;
    if (product->content[NUTRIENT_N] > 0 && shares_nitrogen(season, occurrence, amount))
        return 0;
    struct rate_steps steps =
        rate_steps_of(season->model, occurrence->treatment->machine, product, amount->volume);
    double least = fmax(product_measure(product, label->low, label->volume, amount->volume),
                        amount->rate * (1 - MOST_LOWERED));
    for (size_t i = 0; i < steps.count; i++) {
        double step = steps.items[i];
        double rate = floor(amount->rate * share / step * (1 + COMPARE_TOLERANCE)) * step;
        if (!exceeds(least, rate))
            return rate;
    }
    return 0;
}

/* Each dressing once, as the plan would state it; none at all where one of them cannot be lowered. */
static void rates_lower(const struct season *season, const struct purchase *purchase, double share,
                        struct fewer_packs *fewer)
{
    struct arena *arena = season->arena;
    size_t statements = 0;
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        for (size_t j = 0; j < occurrence->amounts.count && !occurrence->done; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            size_t known = 0, alike = 0;
            if (amount->product != purchase->product || !(amount->total > 0))
                continue;
            double rate = rate_lowered(season, occurrence, amount, share);
            if (!(rate > 0)) {
                fewer->rates.count = 0;
                return;
            }
            while (known < fewer->rates.count && fewer->rates.items[known].dressing != amount->dressing)
                known++;
            if (known < fewer->rates.count)
                continue;
            struct lower_rate lower = {.treatment = occurrence->treatment, .dressing = amount->dressing};
            lower.statement = text_format(
                arena, "rate %s of %s",
                display_of(arena, season->model, amount->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE,
                           rate, NULL),
                name_string(amount->product->symbol.name));
            while (alike < fewer->rates.count &&
                   strcmp(fewer->rates.items[alike].statement, lower.statement) != 0)
                alike++;
            statements += alike == fewer->rates.count;
            VECTOR_PUSH(arena, &fewer->rates, lower);
        }
    }
    if (statements > STATEMENTS_NAMED)
        fewer->rates.count = 0;
}

/* The smallest pack that is bought is the one to spare, where that costs less or, without prices, is fewer
 * packs. */
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

/* One rate is said once, with all treatments that take it. */
const char *fewer_packs_text(struct arena *arena, const struct model *model, const struct fewer_packs *fewer)
{
    struct buffer text = {.arena = arena};
    const char **names = ARENA_ARRAY(arena, fewer->rates.count + 1, const char *);
    bool *said = ARENA_ARRAY(arena, fewer->rates.count + 1, bool);
    size_t statements = 0;
    for (size_t i = 0; i < fewer->rates.count; i++) {
        const char *statement = fewer->rates.items[i].statement;
        size_t alike = 0;
        for (size_t j = i; j < fewer->rates.count && !said[i]; j++)
            if (strcmp(fewer->rates.items[j].statement, statement) == 0) {
                names[alike++] = name_string(fewer->rates.items[j].treatment->symbol.name);
                said[j] = j > i;
            }
        if (alike)
            buffer_format(&text, "%s`%s` in %s", statements++ ? "; " : "", statement,
                          list_text(arena, names, alike, " and "));
    }
    if (!text.length)
        return NULL;
    if (fewer->packs)
        buffer_format(&text, " would need %zu %s", fewer->packs, fewer->packs == 1 ? "pack" : "packs");
    else
        buffer_add_string(&text, " would need none");
    if (!isnan(fewer->saved))
        buffer_format(&text, " and save %s", money_text(arena, model, fewer->saved));
    buffer_add_string(&text, statements == 1 ? "; the label allows it" : "; the label allows them");
    return text.string;
}
