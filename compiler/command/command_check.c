#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"

#include <stdlib.h>
#include <unistd.h>

/* The plans that could be read, until their reports are printed together. */
struct plans {
    struct prill_compilation **items;
    size_t count;
};

static enum prill_status add_plan(const struct call *call, struct plans *plans, const char *path)
{
    struct prill_compilation *compilation;
    struct prill_options options = plan_options(call);
    enum prill_status status = plan_compile(path, &options, &compilation);
    if (status == PRILL_SYSTEM_FAILED || status == PRILL_BAD_CALL) {
        prill_free(compilation);
        return status;
    }
    plans->items[plans->count++] = compilation;
    if (call->values[OPTION_WARNINGS] && prill_count(compilation, PRILL_WARNING) > 0)
        status = status_worst(status, PRILL_PLAN_HAS_ERRORS);
    return status;
}

static enum prill_status print_reports(const struct call *call, const struct plans *plans)
{
    size_t length;
    const char *form = call->values[OPTION_AS] ? call->values[OPTION_AS] : "text";
    bool colour = output_coloured(STDOUT_FILENO, call->values[OPTION_COLOR]);
    if (plans->count == 0)
        return PRILL_FINE;
    const char *reports = prill_reports(plans->items, plans->count, form, colour, &length);
    if (reports)
        return output_print(reports, length);
    message_print("%s", prill_reason(plans->items[0]));
    return prill_status(plans->items[0]);
}

/* The reports of all plans are printed as one document, once each is read; those that could not be read have
 * said so.
 */
enum prill_status command_check(const struct call *call)
{
    if (!plans_fit(call))
        return PRILL_BAD_CALL;
    struct plans plans = {.items = calloc((size_t)call->operand_count, sizeof *plans.items)};
    if (!plans.items) {
        message_print("there is not enough memory");
        return PRILL_SYSTEM_FAILED;
    }
    enum prill_status status = PRILL_FINE;
    for (int i = 0; i < call->operand_count; i++)
        status = status_worst(status, add_plan(call, &plans, call->operands[i]));
    status = status_worst(status, print_reports(call, &plans));
    for (size_t i = 0; i < plans.count; i++)
        prill_free(plans.items[i]);
    free(plans.items);
    return status;
}
