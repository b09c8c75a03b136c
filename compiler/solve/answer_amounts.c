/* What was chosen becomes amounts of the season's occurrences. */
#include "compiler/solve/solving.h"

/* The open dressing of the application for the product; it was made with the correction or match. */
static const struct dressing *open_dressing(const struct treatment *treatment, const struct product *product)
{
    for (size_t i = 0; i < treatment->dressings.count; i++)
        if (treatment->dressings.items[i].open && treatment->dressings.items[i].product == product)
            return &treatment->dressings.items[i];
    return NULL;
}

/* Occurrences of one treatment share their list until one of them gets its own. */
static void amounts_own(struct arena *arena, struct occurrence *occurrence)
{
    VECTOR(struct amount) kept = {0};
    for (size_t i = 0; i < occurrence->amounts.count; i++)
        if (occurrence->amounts.items[i].rate > 0)
            VECTOR_PUSH(arena, &kept, occurrence->amounts.items[i]);
    occurrence->amounts.items = kept.items;
    occurrence->amounts.count = kept.count;
    occurrence->amounts.capacity = kept.capacity;
}

void amounts_clear(struct season *season)
{
    for (size_t i = 0; i < season->occurrences.count; i++)
        if (season->occurrences.items[i].treatment->open)
            amounts_own(season->arena, &season->occurrences.items[i]);
}

static void slot_fill(const struct question *question, uint32_t at, const struct problem_answer *answer)
{
    struct occurrence *occurrence = question->slots.items[at].occurrence;
    for (size_t i = 0; i < question->problem->plots.count; i++) {
        const struct plot *plot = &question->problem->plots.items[i];
        for (size_t j = 0; j < plot->choices.count; j++) {
            const struct choice *choice = &plot->choices.items[j];
            const struct dressing *dressing =
                open_dressing(occurrence->treatment, choice_product(question, choice));
            if (choice->application != at || !(answer->plots[i].rates[j] > 0) || !dressing)
                continue;
            struct amount amount =
                amount_chosen(dressing, question->places.items[i].zone, answer->plots[i].rates[j]);
            VECTOR_PUSH(question->arena, &occurrence->amounts, amount);
        }
    }
}

void choices_fill(const struct question *question, const struct problem_answer *answer)
{
    for (uint32_t i = 0; i < question->slots.count; i++)
        slot_fill(question, i, answer);
}
