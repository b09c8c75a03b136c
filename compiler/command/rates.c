#include "compiler/command/plan.h"

enum prill_status command_rates(const struct call *call)
{
    const char *form = call->values[OPTION_AS];
    struct wanted wanted = {.form = form ? form : "text"};
    return plan_result(call, call->operands[0], &wanted);
}
