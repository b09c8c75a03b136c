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

static enum prill_status compare(const struct call *call, struct prill_compilation *old,
                                 struct prill_compilation *new)
{
    size_t length;
    const char *form = call->values[OPTION_AS] ? call->values[OPTION_AS] : "text";
    const char *text = prill_compare(old, new, form, &length);
    if (text)
        return output_print(text, length);
    message_print("%s", prill_reason(new));
    return prill_status(new);
}

/* One plan is compared with itself when it uses another file: what changes if I buy there? */
static bool two_are_told(const struct call *call)
{
    if (call->operand_count == 2)
        return plans_fit(call);
    if (!call->values[OPTION_USE])
        message_print("compare takes two plans, or one and --use FILE: prill compare OLD NEW");
    else if (strcmp(call->operands[0], "-") == 0)
        message_print("standard input can be read once only");
    else
        return true;
    return false;
}

enum prill_status command_compare(const struct call *call)
{
    struct prill_compilation *old = NULL, *new = NULL;
    if (!two_are_told(call))
        return PRILL_BAD_CALL;
    enum prill_status status = compile_for(call, call->operands[0], NULL, &old);
    status = status_worst(
        status, compile_for(call, call->operands[call->operand_count - 1], call->values[OPTION_USE], &new));
    if (status == PRILL_FINE)
        status = compare(call, old, new);
    prill_free(old);
    prill_free(new);
    return status;
}
