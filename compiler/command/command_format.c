#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

/* With --check the names of plans that would change; standard input's layout on standard output; any other
 * plan in its place, where that is a file: a pipe cannot be rewritten. */
static enum prill_status deliver(const struct call *call, const char *path,
                                 const struct prill_compilation *compilation, const char *text, size_t length)
{
    size_t old_length;
    struct stat status;
    const char *old = prill_text(compilation, &old_length);
    bool same = length == old_length && memcmp(old, text, length) == 0;
    if (call->values[OPTION_CHECK] && !same) {
        enum prill_status named = output_print(path, strlen(path));
        return status_worst(status_worst(named, output_print("\n", 1)), PRILL_PLAN_HAS_ERRORS);
    }
    if (strcmp(path, "-") == 0 && !call->values[OPTION_CHECK])
        return output_print(text, length);
    if (same)
        return PRILL_FINE;
    if (stat(path, &status) == 0 && S_ISREG(status.st_mode))
        return output_write(path, text, length);
    message_print("%s: not a file that can be rewritten; `prill format -` lays out standard input", path);
    return PRILL_BAD_CALL;
}

/* A plan with syntax errors has no layout: its reports say what to fix first. */
static enum prill_status format_plan(const struct call *call, const char *path)
{
    struct prill_compilation *compilation;
    size_t length;
    struct prill_options options = plan_options(call);
    options.parse_only = true;
    enum prill_status status = prill_compile(path, &options, &compilation);
    const char *text = prill_format(compilation, &length);
    if (text) {
        status = deliver(call, path, compilation, text, length);
    } else if (status == PRILL_PLAN_HAS_ERRORS) {
        plan_reports(call, compilation);
        message_print("%s: left unchanged: fix its errors first", plan_name(path));
    } else {
        message_print("%s: %s", plan_name(path), prill_reason(compilation));
        status = PRILL_SYSTEM_FAILED;
    }
    prill_free(compilation);
    return status;
}

enum prill_status command_format(const struct call *call)
{
    enum prill_status status = PRILL_FINE;
    if (!plans_fit(call))
        return PRILL_BAD_CALL;
    for (int i = 0; i < call->operand_count; i++)
        status = status_worst(status, format_plan(call, call->operands[i]));
    return status;
}
