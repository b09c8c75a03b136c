#include "compiler/result/rates_caution.h"

#include "compiler/solve/solution.h"

struct caution_list rates_cautions(const struct season *season)
{
    const struct solution none = {0}, *solution = season->solution ? season->solution : &none;
    struct {
        const struct product **items;
        size_t count, capacity;
    } chosen = {0};
    for (size_t i = 0; i < solution->choices.count; i++)
        for (size_t j = 0; j < solution->choices.items[i].bought.count; j++)
            VECTOR_PUSH(season->arena, &chosen, solution->choices.items[i].bought.items[j].product);
    for (size_t i = 0; i < solution->matches.count; i++)
        for (size_t j = 0; j < solution->matches.items[i].match->products.count; j++)
            if (solution->matches.items[i].rates && solution->matches.items[i].rates[j] > 0)
                VECTOR_PUSH(season->arena, &chosen, solution->matches.items[i].match->products.items[j]);
    for (size_t i = 0; i < solution->blends.count; i++)
        for (size_t j = 0; j < solution->blends.items[i].blend->products.count; j++)
            if (solution->blends.items[i].shares && solution->blends.items[i].shares[j] > 0)
                VECTOR_PUSH(season->arena, &chosen, solution->blends.items[i].blend->products.items[j]);
    return cautions_of(season->model, chosen.items, chosen.count, STAGES_OF_WORK);
}
