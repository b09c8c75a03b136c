#include "compiler/command/message.h"
#include "compiler/command/plan.h"

#include <stddef.h>
#include <string.h>

static const struct {
    const char *ending, *form;
} endings[] = {
    {".txt", "text"},
    {".ics", "ics"},
    {".csv", "csv"},
    {".json", "json"},
};

/* NULL after a message. */
static const char *form_of_file(const char *path)
{
    const char *slash = strrchr(path, '/');
    const char *point = strrchr(slash ? slash : path, '.');
    for (size_t i = 0; point && i < sizeof endings / sizeof *endings; i++)
        if (strcmp(point, endings[i].ending) == 0)
            return endings[i].form;
    message_print("%s: its ending is none of .txt, .ics, .csv and .json; say the form with --as", path);
    return NULL;
}

enum prill_status command_calendar(const struct call *call)
{
    const char *output = call->values[OPTION_OUTPUT];
    struct wanted wanted = {.form = call->values[OPTION_AS], .output = output, .reports = true};
    if (!wanted.form)
        wanted.form = output && strcmp(output, "-") != 0 ? form_of_file(output) : "text";
    return wanted.form ? plan_result(call, call->operands[0], &wanted) : PRILL_BAD_CALL;
}
