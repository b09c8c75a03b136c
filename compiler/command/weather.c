#include "compiler/command/plan.h"

enum prill_status command_weather(const struct call *call)
{
    struct wanted wanted = {.form = "text"};
    return plan_result(call, call->operands[0], &wanted);
}
