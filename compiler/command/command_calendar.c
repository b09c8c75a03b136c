#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"

#include <stddef.h>
#include <string.h>

/* ---- a day that is only supposed ---- */

/* The plan as it is, and once more as if the treatment fell on that day: from the same bytes, since standard
 * input can be read once only. */
static enum prill_status late(const struct call *call)
{
    struct prill_compilation *compilation, *late = NULL;
    struct prill_options options = plan_options(call);
    const char *path = call->operands[0], *text = NULL;
    size_t length;
    enum prill_status status = plan_compile(path, &options, &compilation);
    if (status == PRILL_PLAN_HAS_ERRORS)
        plan_reports(call, compilation);
    if (status == PRILL_FINE) {
        options.text = prill_text(compilation, &options.text_length);
        options.late = call->values[OPTION_LATE];
        options.late_day = call->second;
        if (strcmp(path, "-") == 0)
            path = options.stdin_name ? options.stdin_name : "<stdin>";
        status = plan_compile(path, &options, &late);
        text = prill_late(compilation, late, &length);
    }
    if (text)
        status = status_worst(status, plan_deliver(compilation, call->values[OPTION_OUTPUT], text, length));
    prill_free(late);
    prill_free(compilation);
    return status;
}

/* ---- the calendar ---- */

/* Options that speak of one form only. */
static bool options_fit(const struct call *call, const char *form)
{
    const char *text_only = call->values[OPTION_LATE] ? "--late" : NULL;
    bool listed = strcmp(form, "ics") != 0 && strcmp(form, "csv") != 0;
    bool kept = strcmp(form, "ics") == 0 || strcmp(form, "json") == 0;
    if (text_only && strcmp(form, "text") != 0)
        message_print("%s prints text only", text_only);
    else if (text_only && (call->values[OPTION_AS_OF] || call->values[OPTION_SINCE]))
        message_print("--late goes neither with --as-of nor with --since");
    else if (call->values[OPTION_AS_OF] && !listed)
        message_print("--as-of goes with text, html, markdown and json, not with %s", form);
    else if (call->values[OPTION_SINCE] && !kept)
        message_print("--since goes with ics and json, not with %s", form);
    else
        return true;
    return false;
}

enum prill_status command_calendar(const struct call *call)
{
    struct wanted wanted = {.form = plan_form(call), .output = call->values[OPTION_OUTPUT], .reports = true};
    struct prill_options options = plan_options(call);
    options.day = call->values[OPTION_AS_OF];
    options.earlier = call->values[OPTION_SINCE];
    if (!wanted.form || !options_fit(call, wanted.form))
        return PRILL_BAD_CALL;
    return call->values[OPTION_LATE] ? late(call) : plan_result(call, &options, &wanted);
}
