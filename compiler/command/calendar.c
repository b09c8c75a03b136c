#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"

#include <stddef.h>
#include <string.h>

/* ---- a day that is only supposed ---- */

static enum prill_status late_print(struct prill_compilation *compilation, struct prill_compilation *late,
                                    const char *output)
{
    size_t length;
    const char *text = prill_late(compilation, late, &length);
    enum prill_status status = prill_status(late);
    if (!text && status != PRILL_PLAN_HAS_ERRORS)
        message_print("--late: %s", prill_reason(late));
    return text ? status_worst(status, plan_deliver(compilation, output, text, length)) : status;
}

static enum prill_status late(const struct call *call)
{
    struct prill_compilation *compilation, *late = NULL;
    enum prill_status status = plan_compile(call, call->operands[0], &compilation);
    if (status == PRILL_PLAN_HAS_ERRORS)
        plan_reports(call, compilation);
    if (status == PRILL_FINE) {
        prill_compile_late(compilation, call->values[OPTION_LATE], call->second, &late);
        status = late_print(compilation, late, call->values[OPTION_OUTPUT]);
    }
    prill_free(late);
    prill_free(compilation);
    return status;
}

/* ---- the calendar ---- */

/* Options that speak of one form only. */
static bool options_fit(const struct call *call, const char *form)
{
    const char *text_only = call->values[OPTION_LATE] ? "--late" : NULL;
    bool listed = strcmp(form, "text") == 0 || strcmp(form, "json") == 0;
    bool kept = strcmp(form, "ics") == 0 || strcmp(form, "json") == 0;
    if (text_only && strcmp(form, "text") != 0)
        message_print("%s prints text only", text_only);
    else if (text_only && (call->values[OPTION_AS_OF] || call->values[OPTION_SINCE]))
        message_print("--late goes neither with --as-of nor with --since");
    else if (call->values[OPTION_AS_OF] && !listed)
        message_print("--as-of goes with text and json, not with %s", form);
    else if (call->values[OPTION_SINCE] && !kept)
        message_print("--since goes with ics and json, not with %s", form);
    else
        return true;
    return false;
}

enum prill_status command_calendar(const struct call *call)
{
    struct wanted wanted = {.form = plan_form(call),
                            .output = call->values[OPTION_OUTPUT],
                            .reports = true,
                            .day = call->values[OPTION_AS_OF],
                            .since = call->values[OPTION_SINCE]};
    if (!wanted.form || !options_fit(call, wanted.form))
        return PRILL_BAD_CALL;
    return call->values[OPTION_LATE] ? late(call) : plan_result(call, call->operands[0], &wanted);
}
