/* How much searching a problem is worth. */
#include "compiler/solve/problem.h"

enum { WORK_LEAST = 40000000, WORK_BY_CHOICE = 40000 };

uint64_t problem_work(const struct problem *problem)
{
    uint64_t choices = 0;
    for (size_t i = 0; i < problem->plots.count; i++)
        choices += problem->plots.items[i].choices.count;
    return WORK_LEAST + choices * WORK_BY_CHOICE;
}

void problem_allow(const struct problem *problem, uint64_t work)
{
    if (problem->budget)
        problem->budget->searches.last = problem->budget->searches.most =
            problem->budget->searches.spent + work;
}

bool problem_tired(const struct problem *problem)
{
    return problem->budget && problem->budget->searches.spent >= problem->budget->searches.most;
}

void work_share(const struct problem *problem, uint64_t work, size_t parts)
{
    problem_allow(problem, work / parts);
    if (problem->budget)
        problem->budget->searches.last = problem->budget->searches.spent + work;
    if (problem->budget)
        problem->budget->before = problem->budget->searches.spent;
}

uint64_t work_rest(const struct problem *problem, uint64_t work)
{
    uint64_t took = problem->budget ? problem->budget->searches.spent - problem->budget->before : 0;
    return took < work ? work - took : 0;
}
