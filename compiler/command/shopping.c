#include "compiler/command/plan.h"

enum prill_status command_shopping(const struct call *call)
{
    struct wanted wanted = {.form = plan_form(call), .output = call->values[OPTION_OUTPUT]};
    return wanted.form ? plan_result(call, call->operands[0], &wanted) : PRILL_BAD_CALL;
}
