#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"

#include <string.h>

/* The reports of a plan that has errors; its warnings are for those who check it. */
static enum prill_status compile_for(const struct call *call, const char *path, const char *use,
                                     struct prill_compilation **compilation)
{
    struct prill_options options = plan_options(call);
    options.use = use;
    enum prill_status status = plan_compile(path, &options, compilation);
    if (status == PRILL_PLAN_HAS_ERRORS)
        plan_reports(call, *compilation);
    return status;
}

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
    enum prill_status status = compile_for(call, first, NULL, &old);
    status = status_worst(status, compile_for(call, last, use, &new));
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
