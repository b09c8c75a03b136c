#include "compiler/command/plan.h"

#include "compiler/check/check.h"
#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/compilation.h"

#include <errno.h>
#include <stdlib.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

const char *plan_name(const char *path)
{
    return strcmp(path, "-") == 0 ? "standard input" : path;
}

/* A file that --use names is looked for where the plan's own are, in its folder. Typed from elsewhere its
 * path often leads there, as the plan's does: returns the part behind that folder, to be freed; NULL for
 * another path. */
static char *use_within(const char *path, const char *use)
{
    const char *slash = strrchr(path, '/'), *equals = strchr(use, '=');
    const char *file = equals ? equals + 1 : use;
    size_t folder = slash ? (size_t)(slash - path) + 1 : 0, before = (size_t)(file - use);
    if (!folder || strncmp(file, path, folder) != 0)
        return NULL;
    size_t rest = strlen(file + folder) + 1;
    char *within = malloc(before + rest);
    if (!within)
        return NULL;
    memcpy(within, use, before);
    memcpy(within + before, file + folder, rest);
    return within;
}

struct prill_options plan_options(const struct call *call)
{
    return (struct prill_options){.size = sizeof(struct prill_options),
                                  .stdin_name = call->values[OPTION_STDIN_NAME],
                                  .use = call->values[OPTION_USE]};
}

enum prill_status plan_try(const char *path, const struct prill_options *options,
                           struct prill_compilation **compilation)
{
    struct prill_options own = *options;
    char *within = own.use ? use_within(path, own.use) : NULL;
    own.use = within ? within : own.use;
    /* A pipe can be read once only, and where memory is used again a plan may be read twice. */
    struct stat file;
    if (strcmp(path, "-") == 0 || stat(path, &file) != 0 || !S_ISREG(file.st_mode)) {
        prill_free(*compilation);
        *compilation = NULL;
    }
    enum prill_status status = compilation_again(path, &own, compilation);
    free(within);
    return status;
}

/* What the library refuses is said in the words of the command line. */
void plan_complain(const char *path, const struct prill_options *options,
                   const struct prill_compilation *compilation)
{
    const struct {
        const char *option, *word;
    } parts[] = {{"day", "--as-of"},
                 {"late", "--late"},
                 {"stamp", "SOURCE_DATE_EPOCH"},
                 {"earlier", options->earlier}};
    const char *option = prill_option(compilation), *at_fault = plan_name(path);
    for (size_t i = 0; option && i < sizeof parts / sizeof *parts; i++)
        if (strcmp(option, parts[i].option) == 0)
            at_fault = parts[i].word;
    message_print("%s: %s", at_fault, prill_reason(compilation));
}

enum prill_status plan_compile(const char *path, const struct prill_options *options,
                               struct prill_compilation **compilation)
{
    *compilation = NULL;
    enum prill_status status = plan_try(path, options, compilation);
    if (status == PRILL_SYSTEM_FAILED || status == PRILL_BAD_CALL)
        plan_complain(path, options, *compilation);
    return status;
}

void plan_reports(const struct call *call, struct prill_compilation *compilation)
{
    size_t length;
    bool colour = output_coloured(STDERR_FILENO, call->values[OPTION_COLOR]);
    const char *reports = prill_reports(&compilation, 1, "text", colour, &length);
    if (reports)
        fwrite(reports, 1, length, stderr);
}

/* ---- the form of a result ---- */

static const struct {
    const char *ending, *form;
} endings[] = {
    {".txt", "text"}, {".html", "html"}, {".md", "markdown"},
    {".ics", "ics"},  {".csv", "csv"},   {".json", "json"},
};
enum { ENDINGS = sizeof endings / sizeof *endings };

/* Whether the result that the command is named after has the form. */
static bool has_form(const struct command *command, const char *form)
{
    const char *known;
    for (size_t i = 0; (known = prill_result_form(command->name, i)); i++)
        if (strcmp(known, form) == 0)
            return true;
    return false;
}

/* What --as says, or else what the output's name ends with, as far as the command has that form. */
const char *plan_form(const struct call *call)
{
    const char *path = call->values[OPTION_OUTPUT];
    if (call->values[OPTION_AS])
        return call->values[OPTION_AS];
    if (!path || strcmp(path, "-") == 0)
        return "text";
    const char *slash = strrchr(path, '/');
    const char *point = strrchr(slash ? slash : path, '.');
    for (size_t i = 0; point && i < ENDINGS; i++)
        if (strcmp(point, endings[i].ending) == 0 && has_form(call->command, endings[i].form))
            return endings[i].form;
    /* ".txt, .csv and .json": those of the forms that the command has. */
    char list[64] = "";
    size_t length = 0, left = 0;
    for (size_t i = 0; i < ENDINGS; i++)
        left += has_form(call->command, endings[i].form);
    for (size_t i = 0; i < ENDINGS; i++) {
        if (!has_form(call->command, endings[i].form))
            continue;
        const char *before = length == 0 ? "" : left == 1 ? " and " : ", ";
        length += (size_t)snprintf(list + length, sizeof list - length, "%s%s", before, endings[i].ending);
        left--;
    }
    message_print("%s: its ending is not one of %s; state the form with --as", path, list);
    return NULL;
}

bool plans_fit(const struct call *call)
{
    int from_stdin = 0;
    for (int i = 0; i < call->operand_count; i++)
        from_stdin += strcmp(call->operands[i], "-") == 0;
    if (from_stdin > 1)
        message_print("standard input can be read once only");
    return from_stdin <= 1;
}

/* A calendar file is stamped with the moment of the plan's edition, or of SOURCE_DATE_EPOCH where a build
 * wants all its files stamped alike (https://reproducible-builds.org/specs/source-date-epoch/); never with
 * now. */
static bool take_stamp(struct prill_options *options)
{
    const char *epoch = getenv("SOURCE_DATE_EPOCH");
    if (!epoch || !*epoch)
        return true;
    char *end;
    errno = 0;
    options->stamped = true;
    options->stamp = strtoll(epoch, &end, 10);
    if (*epoch >= '0' && *epoch <= '9' && !*end && errno == 0)
        return true;
    message_print("SOURCE_DATE_EPOCH: %s is not a moment from 1970 to 2199, in seconds since 1970", epoch);
    return false;
}

enum prill_status plan_deliver(const struct prill_compilation *compilation, const char *output,
                               const char *text, size_t length)
{
    if (!output || strcmp(output, "-") == 0)
        return output_print(text, length);
    if (prill_reads_file(compilation, output)) {
        message_print("%s: not written: it is part of the plan", output);
        return PRILL_BAD_CALL;
    }
    return output_write(output, text, length);
}

/* A name that the plan does not have may be that of a check, or of something the library knows: those are
 * explained on the terminal only. */
static enum prill_status result_of(const struct call *call, struct prill_compilation *compilation,
                                   const struct wanted *wanted)
{
    size_t length;
    const char *name = wanted->subject;
    const char *text = prill_result(compilation, call->command->name, wanted->form, name, &length);
    if (text)
        return plan_deliver(compilation, wanted->output, text, length);
    enum prill_status status = prill_status(compilation), shown;
    bool plain = strcmp(wanted->form, "text") == 0 && !wanted->output;
    if (status == PRILL_BAD_CALL && name && plain && rule_find(text_of(name)))
        return rule_print(name);
    if (status == PRILL_BAD_CALL && name && plain && library_print(name, &shown))
        return shown;
    if (status != PRILL_PLAN_HAS_ERRORS)
        message_print("%s", prill_reason(compilation));
    return status;
}

/* Reports come before the result, so that an error is seen also where a file takes the output. */
enum prill_status plan_result(const struct call *call, const struct prill_options *options,
                              const struct wanted *wanted)
{
    struct prill_options own = *options;
    struct prill_compilation *compilation;
    const char *path = call->operands[0];
    if (!take_stamp(&own))
        return PRILL_BAD_CALL;
    enum prill_status status = plan_compile(path, &own, &compilation);
    bool remark = status == PRILL_FINE && *prill_reason(compilation);
    if (status == PRILL_PLAN_HAS_ERRORS || (wanted->reports && status == PRILL_FINE))
        plan_reports(call, compilation);
    if (remark)
        message_print("%s: %s", own.earlier, prill_reason(compilation));
    if (status == PRILL_FINE)
        status = result_of(call, compilation, wanted);
    prill_free(compilation);
    return status;
}

enum prill_status command_result(const struct call *call)
{
    struct wanted wanted = {.form = plan_form(call), .output = call->values[OPTION_OUTPUT]};
    struct prill_options options = plan_options(call);
    return wanted.form ? plan_result(call, &options, &wanted) : PRILL_BAD_CALL;
}
