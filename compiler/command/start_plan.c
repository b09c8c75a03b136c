/* A first plan to fill in. Its text is start_plan.text: each line holds, before a bar, when it is written. */
#include "compiler/command/start_plan.h"
#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* What the caller states. What is not given is asked in the plan. */
static const struct {
    const char *mark;
    enum option_id option;
} choices[] = {{"units", OPTION_UNITS}, {"grass", OPTION_GRASS}, {"region", OPTION_REGION}};

enum { CHOICES = sizeof choices / sizeof *choices };

static bool is_mark(const char *text, size_t length, const char *mark)
{
    return strlen(mark) == length && memcmp(text, mark, length) == 0;
}

/* Conditions: none; a choice that is given; "no" and one that is not; "us" or "metric", whichever the units
 * are. */
static bool line_applies(const struct call *call, const char *condition, size_t length)
{
    while (length && condition[length - 1] == ' ')
        length--;
    const char *units = call->values[OPTION_UNITS] ? call->values[OPTION_UNITS] : "us";
    bool negated = length > 3 && memcmp(condition, "no ", 3) == 0;
    if (negated)
        condition += 3, length -= 3;
    for (size_t i = 0; i < CHOICES; i++)
        if (is_mark(condition, length, choices[i].mark))
            return negated != (call->values[choices[i].option] != NULL);
    return length == 0 || is_mark(condition, length, units);
}

/* The lines that apply, with what is given in place of "@grass@". NULL when memory runs out; otherwise to be
 * freed. */
static char *plan_text(const struct call *call, size_t *length)
{
    char *text = NULL;
    FILE *plan = open_memstream(&text, length);
    if (!plan)
        return NULL;
    for (const char *line = start_plan_text, *end; *line; line = end + 1) {
        size_t condition = strcspn(line, "|");
        end = line + strcspn(line, "\n");
        if (!line_applies(call, line, condition))
            continue;
        for (const char *at = line + condition + 1; at < end;) {
            const char *mark = memchr(at, '@', (size_t)(end - at));
            const char *close = mark ? memchr(mark + 1, '@', (size_t)(end - mark - 1)) : NULL;
            fwrite(at, 1, (size_t)((close ? mark : end) - at), plan);
            if (!close)
                break;
            const char *value = call->operands[0]; /* the year */
            for (size_t i = 0; i < CHOICES; i++)
                if (is_mark(mark + 1, (size_t)(close - mark - 1), choices[i].mark))
                    value = call->values[choices[i].option];
            fputs(value, plan);
            at = close + 1;
        }
        putc('\n', plan);
    }
    bool failed = ferror(plan) != 0;
    if (fclose(plan) == 0 && !failed)
        return text;
    free(text);
    return NULL;
}

/* Writes over nothing: a plan that exists may be a season's work. The plan is compiled before anybody sees
 * it, and laid out: a grass or region that the library does not have is reported as in any plan, and nothing
 * is written. */
enum prill_status command_start(const struct call *call)
{
    const char *output = call->values[OPTION_OUTPUT], *year = call->operands[0];
    bool printed = !output || strcmp(output, "-") == 0;
    struct stat found;
    /* Four digits, so that every day of the plan is one that the language has. */
    if (strspn(year, "0123456789") != 4 || year[4] != '\0' || year[0] == '0') {
        message_print("`%s` is not a year; for example: prill start 2027", year);
        return PRILL_BAD_CALL;
    }
    if (!printed && lstat(output, &found) == 0) {
        message_print("%s exists; prill start does not write over it", output);
        return PRILL_BAD_CALL;
    }
    struct prill_options options = {.size = sizeof options, .sealed = true};
    char *text = plan_text(call, &options.text_length);
    options.text = text;
    if (!text) {
        message_print("there is not enough memory");
        return PRILL_SYSTEM_FAILED;
    }
    struct prill_compilation *compilation;
    size_t length;
    enum prill_status status = prill_compile(output ? output : "my-season.prill", &options, &compilation);
    const char *plan = status == PRILL_FINE ? prill_format(compilation, &length) : NULL;
    if (plan) {
        status = printed ? output_print(plan, length) : output_write(output, plan, length);
    } else if (status == PRILL_PLAN_HAS_ERRORS) {
        plan_reports(call, compilation);
        status = PRILL_BAD_CALL;
    } else {
        message_print("%s", prill_reason(compilation));
        status = PRILL_SYSTEM_FAILED;
    }
    prill_free(compilation);
    free(text);
    return status;
}
