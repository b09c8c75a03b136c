#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"

#include <string.h>
#include <sys/stat.h>

/* With --check the names of plans that would change; standard input's layout on standard output; any other
 * plan in its place, where that is a file: a pipe cannot be rewritten. A plan with syntax errors has no
 * layout: its reports say what to fix first. */
enum prill_status command_format(const struct call *call)
{
    enum prill_status worst = PRILL_FINE;
    bool check = call->values[OPTION_CHECK];
    struct prill_options options = plan_options(call);
    options.parse_only = true;
    if (!plans_fit(call))
        return PRILL_BAD_CALL;
    for (int i = 0; i < call->operand_count; i++) {
        const char *path = call->operands[i];
        struct prill_compilation *compilation;
        struct stat file;
        size_t length, old_length;
        enum prill_status status = prill_compile(path, &options, &compilation);
        const char *text = prill_format(compilation, &length), *old = prill_text(compilation, &old_length);
        if (!text && status == PRILL_PLAN_HAS_ERRORS) {
            plan_reports(call, compilation);
            message_print("%s: left unchanged: fix its errors first", plan_name(path));
        } else if (!text) {
            message_print("%s: %s", plan_name(path), prill_reason(compilation));
            status = PRILL_SYSTEM_FAILED;
        } else if (!check && strcmp(path, "-") == 0) {
            status = output_print(text, length);
        } else if (length == old_length && memcmp(old, text, length) == 0) {
            status = PRILL_FINE;
        } else if (check) {
            status = status_worst(PRILL_PLAN_HAS_ERRORS, output_print(path, strlen(path)));
            status = status_worst(status, output_print("\n", 1));
        } else if (stat(path, &file) == 0 && S_ISREG(file.st_mode)) {
            status = output_write(path, text, length);
        } else {
            message_print("%s: not a file that can be rewritten; `prill format -` lays out standard input",
                          path);
            status = PRILL_BAD_CALL;
        }
        worst = status_worst(worst, status);
        prill_free(compilation);
    }
    return worst;
}
