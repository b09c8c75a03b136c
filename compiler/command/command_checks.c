#include "compiler/check/check.h"
#include "compiler/command/print.h"

static void checks_write(struct buffer *out, const void *subject)
{
    const struct call *call = subject;
    if (call->values[OPTION_MARKDOWN])
        checks_markdown(out);
    else
        checks_list(out);
}

enum prill_status command_checks(const struct call *call)
{
    return print_filled(checks_write, call);
}
