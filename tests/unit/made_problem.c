#include "tests/unit/made_problem.h"

void product_add(struct problem *problem, const char *name, double n, double p, double k, double price)
{
    struct problem_product product = {.name = text_of(name)};
    struct problem_pack pack = {0.45359237 * 10, price};
    product.content[NUTRIENT_N] = n;
    product.content[NUTRIENT_P] = p;
    product.content[NUTRIENT_K] = k;
    VECTOR_PUSH(problem->arena, &product.packs, pack);
    VECTOR_PUSH(problem->arena, &problem->products, product);
}

struct demand demand_new(struct problem *problem, enum demand_kind kind, double bound)
{
    return (struct demand){.kind = kind, .cause = problem->cause_count++, .bound = bound};
}

void part_add(struct problem *problem, struct demand *demand, uint32_t choice, double factor)
{
    struct demand_part part = {choice, factor, 0};
    VECTOR_PUSH(problem->arena, &demand->parts, part);
}

static uint64_t random_bits(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return *seed;
}

int random_between(uint64_t *seed, int low, int high)
{
    return low + (int)(random_bits(seed) % (uint64_t)(high - low + 1));
}

static bool demand_fits(const struct demand *demand, const double *rates)
{
    double sum = 0, other = 0;
    int above = 0;
    bool side[2] = {false, false};
    for (size_t i = 0; i < demand->parts.count; i++) {
        const struct demand_part *part = &demand->parts.items[i];
        sum += rates[part->choice] * part->factor;
        other += rates[part->choice] * part->other;
        above += rates[part->choice] > 0;
        side[part->factor > 0.5] |= rates[part->choice] > 0;
    }
    switch (demand->kind) {
    case DEMAND_MOST:
        return sum <= demand->bound * (1 + 1e-9);
    case DEMAND_EITHER:
        return sum <= demand->bound + 1e-9 * UNIT || other <= demand->other_bound * (1 + 1e-9);
    case DEMAND_LEAST:
        return sum >= demand->bound * (1 - 1e-9);
    case DEMAND_NONE:
        return above == 0;
    case DEMAND_TIMES:
        return above <= demand->bound;
    case DEMAND_APART:
        return !side[0] || !side[1];
    }
    return false;
}

bool rates_fit(const struct plot *plot, const double *rates)
{
    for (size_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        if (rates[i] != 0 && (rates[i] < choice->low * (1 - 1e-9) || rates[i] > choice->high * (1 + 1e-9)))
            return false;
    }
    for (size_t i = 0; i < plot->demands.count; i++)
        if (!demand_fits(&plot->demands.items[i], rates))
            return false;
    return true;
}
