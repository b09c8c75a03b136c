#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"

#include <string.h>

/* One plan is compared with itself when it uses another file: what changes if I buy there? */
enum prill_status command_compare(const struct call *call)
{
    const char *first = call->operands[0], *last = call->operands[call->operand_count - 1];
    const char *output = call->values[OPTION_OUTPUT];
    const char *use = call->values[OPTION_USE], *form = plan_form(call), *fault = NULL, *text = NULL;
    struct prill_compilation *old = NULL, *new = NULL;
    size_t length;
    if (call->operand_count == 1 && !use)
        fault = "compare takes two plans, or one and --use FILE: prill compare OLD NEW";
    else if (call->operand_count == 1 && strcmp(first, "-") == 0)
        fault = "standard input can be read once only";
    if (fault)
        message_print("%s", fault);
    if (fault || !form || !plans_fit(call))
        return PRILL_BAD_CALL;
    struct prill_options options = plan_options(call);
    options.use = NULL;
    enum prill_status status = plan_compile(call, first, &options, &old);
    options.use = use;
    status = status_worst(status, plan_compile(call, last, &options, &new));
    if (status == PRILL_FINE && (text = prill_compare(old, new, form, &length)))
        status = plan_deliver(output && prill_reads_file(old, output) ? old : new, output, text, length);
    else if (status == PRILL_FINE) {
        message_print("%s", prill_reason(new));
        status = prill_status(new);
    }
    prill_free(old);
    prill_free(new);
    return status;
}
