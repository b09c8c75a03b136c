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
