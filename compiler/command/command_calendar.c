#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"

#include <stddef.h>
#include <string.h>

/* The plan as it is, and once more as if the treatment fell on that day: from the same bytes, since standard
 * input can be read once only. */
static enum prill_status late(const struct call *call)
{
    struct prill_compilation *compilation, *late = NULL;
    struct prill_options options = plan_options(call);
    const char *path = call->operands[0], *text = NULL;
    size_t length;
    enum prill_status status = plan_compile(call, path, &options, &compilation);
    if (status == PRILL_FINE) {
        options.text = prill_text(compilation, &options.text_length);
        options.late = call->values[OPTION_LATE];
        options.late_day = call->second;
        if (strcmp(path, "-") == 0)
            path = options.stdin_name ? options.stdin_name : "<stdin>";
        status = plan_compile(call, path, &options, &late);
        text = prill_late(compilation, late, &length);
    }
    if (text)
        status = status_worst(status, plan_deliver(compilation, call->values[OPTION_OUTPUT], text, length));
    prill_free(late);
    prill_free(compilation);
    return status;
}

/* Options that speak of one form only are refused with another. */
enum prill_status command_calendar(const struct call *call)
{
    struct wanted wanted = {.form = plan_form(call), .output = call->values[OPTION_OUTPUT], .reports = true};
    struct prill_options options = plan_options(call);
    options.day = call->values[OPTION_AS_OF];
    options.earlier = call->values[OPTION_SINCE];
    if (!wanted.form)
        return PRILL_BAD_CALL;
    bool listed = strcmp(wanted.form, "ics") != 0 && strcmp(wanted.form, "csv") != 0;
    bool kept = strcmp(wanted.form, "ics") == 0 || strcmp(wanted.form, "json") == 0;
    if (call->values[OPTION_LATE] && strcmp(wanted.form, "text") != 0)
        message_print("--late prints text only");
    else if (call->values[OPTION_LATE] && (options.day || options.earlier))
        message_print("--late goes neither with --as-of nor with --since");
    else if (options.day && !listed)
        message_print("--as-of goes with text, html, markdown and json, not with %s", wanted.form);
    else if (options.earlier && !kept)
        message_print("--since goes with ics and json, not with %s", wanted.form);
    else
        return call->values[OPTION_LATE] ? late(call) : plan_result(call, &options, &wanted);
    return PRILL_BAD_CALL;
}
