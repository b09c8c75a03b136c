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

/* ---- at the end ---- */

static bool dressing_used(const struct season *season, const struct treatment *treatment,
                          const struct dressing *dressing)
{
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        for (size_t j = 0; j < occurrence->amounts.count && occurrence->treatment == treatment; j++)
            if (occurrence->amounts.items[j].dressing == dressing)
                return true;
    }
    return false;
}

struct moved {
    const struct dressing *from, *to;
};

static void amounts_follow(struct season *season, const struct treatment *treatment,
                           const struct moved *moved, size_t count)
{
    for (size_t i = 0; i < season->occurrences.count; i++) {
        struct occurrence *occurrence = &season->occurrences.items[i];
        for (size_t j = 0; j < occurrence->amounts.count && occurrence->treatment == treatment; j++)
            for (size_t k = 0; k < count; k++)
                if (occurrence->amounts.items[j].dressing == moved[k].from) {
                    occurrence->amounts.items[j].dressing = moved[k].to;
                    break;
                }
    }
}

/* A product of the list that was not chosen is no part of the application. */
static void dressings_settle(struct season *season, struct treatment *treatment)
{
    VECTOR(struct dressing) kept = {0};
    size_t count = treatment->dressings.count, moves = 0;
    struct moved *moved = ARENA_ARRAY(season->arena, count, struct moved);
    for (size_t i = 0; i < count; i++) {
        struct dressing dressing = treatment->dressings.items[i];
        if (dressing.open && !dressing_used(season, treatment, &treatment->dressings.items[i]))
            continue;
        if (dressing.open)
            dressing.rate = NAN;
        moved[moves++].from = &treatment->dressings.items[i];
        VECTOR_PUSH(season->arena, &kept, dressing);
    }
    for (size_t i = 0; i < moves; i++)
        moved[i].to = &kept.items[i];
    amounts_follow(season, treatment, moved, moves);
    treatment->dressings.items = kept.items;
    treatment->dressings.count = kept.count;
    treatment->dressings.capacity = kept.capacity;
}

void season_finish(struct season *season)
{
    for (size_t i = 0; i < season->model->treatments.count; i++)
        if (season->model->treatments.items[i]->open)
            dressings_settle(season, season->model->treatments.items[i]);
    season_settle(season);
}
