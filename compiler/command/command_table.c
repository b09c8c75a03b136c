#include "compiler/command/command.h"

#include <stdio.h>
#include <string.h>

#define OUTPUT_ROW                                                                                           \
    {                                                                                                        \
        "output", OPTION_OUTPUT, 'o', "FILE",                                                                \
            "write to FILE, completely or not at all (- for standard output)"                                \
    }
#define USE_ROW                                                                                              \
    {                                                                                                        \
        "use", OPTION_USE, 0, "FILE",                                                                        \
            "use FILE instead of the file the plan names (OLD=FILE if it names several)"                     \
    }
#define STDIN_NAME_ROW                                                                                       \
    {                                                                                                        \
        "stdin-name", OPTION_STDIN_NAME, 0, "PATH", "the path to report for a plan on standard input"        \
    }
#define COLOR_ROW                                                                                            \
    {                                                                                                        \
        "color", OPTION_COLOR, 0, "auto|always|never", "colour the reports (auto: on a terminal)"            \
    }
#define HELP_ROW                                                                                             \
    {                                                                                                        \
        "help", OPTION_HELP, 'h', NULL, "show this help"                                                     \
    }
#define END_ROW                                                                                              \
    {                                                                                                        \
        NULL, OPTION_COUNT, 0, NULL, NULL                                                                    \
    }
#define FORM_ROW                                                                                             \
    {                                                                                                        \
        "as", OPTION_AS, 0, FORMS_OF_RESULT, "the form; without it the ending of FILE decides, or text"      \
    }

static const struct option_row start_options[] = {
    {"grass", OPTION_GRASS, 0, "NAME", "the lawn's main grass, by its name in the library"},
    {"region", OPTION_REGION, 0, "NAME", "the region whose figures for the grass count"},
    {"units", OPTION_UNITS, 0, "us|metric", "the units of the plan (us if not given)"},
    OUTPUT_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row check_options[] = {
    {"as", OPTION_AS, 0, "text|json|sarif", "the form of the reports"},
    {"warnings", OPTION_WARNINGS, 0, "error", "end with status 1 on warnings too"},
    USE_ROW,
    STDIN_NAME_ROW,
    COLOR_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row calendar_options[] = {
    FORM_ROW,
    OUTPUT_ROW,
    {"as-of", OPTION_AS_OF, 0, "DATE", "show what is overdue on that date, due within a week, and next"},
    {"late", OPTION_LATE, 0, "NAME[:TIME] DATE",
     "show what moves if this is done on that date, or why it cannot be"},
    {"since", OPTION_SINCE, 0, "FILE",
     "cancel events that are in FILE, the JSON of an earlier edition, but no longer in the plan"},
    USE_ROW,
    STDIN_NAME_ROW,
    COLOR_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row day_options[] = {
    FORM_ROW,
    OUTPUT_ROW,
    {"as-of", OPTION_AS_OF, 0, "DATE", "only the next day of work from that date on, and what is overdue"},
    USE_ROW,
    STDIN_NAME_ROW,
    COLOR_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row compare_options[] = {
    FORM_ROW,
    OUTPUT_ROW,
    {"use", OPTION_USE, 0, "FILE",
     "use FILE in NEW (without NEW: in OLD) instead of the file it names (OLD=FILE if it names several)"},
    STDIN_NAME_ROW,
    COLOR_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row result_options[] = {
    FORM_ROW, OUTPUT_ROW, USE_ROW, STDIN_NAME_ROW, COLOR_ROW, HELP_ROW, END_ROW,
};

static const struct option_row explain_options[] = {FORM_ROW,  OUTPUT_ROW, USE_ROW, STDIN_NAME_ROW,
                                                    COLOR_ROW, HELP_ROW,   END_ROW};

static const struct option_row format_options[] = {
    {"check", OPTION_CHECK, 0, NULL,
     "write nothing; list the plans whose layout would change, and end with status 1 if there are any"},
    STDIN_NAME_ROW,
    COLOR_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row checks_options[] = {
    {"markdown", OPTION_MARKDOWN, 0, NULL, "print a document, docs/checks.md"},
    HELP_ROW,
    END_ROW,
};

static const struct option_row help_options[] = {HELP_ROW, END_ROW};

enum { ANY_NUMBER = 1 << 20 };

#define COMMAND(name, operands, least, most, summary, description, options)                                  \
    {#name, operands, least, most, summary, description, options, command_##name},
#define RESULT(name, operands, least, most, summary, description, options)                                   \
    {#name, operands, least, most, summary, description, options, command_result},
const struct command commands[] = {
#include "compiler/command/command.def"
    {NULL, NULL, 0, 0, NULL, NULL, NULL, NULL},
};

const struct command *command_find(const char *name)
{
    for (const struct command *command = commands; command->name; command++)
        if (strcmp(command->name, name) == 0)
            return command;
    return NULL;
}

const char *option_argument(const struct command *command, const struct option_row *row, char *space)
{
    if (!row->argument || strcmp(row->argument, FORMS_OF_RESULT) != 0)
        return row->argument;
    size_t length = 0;
    const char *form;
    space[0] = '\0';
    for (size_t i = 0; (form = prill_result_form(command->name, i)) && length < ARGUMENT_LIMIT; i++)
        length += (size_t)snprintf(space + length, ARGUMENT_LIMIT - length, "%s%s", i ? "|" : "", form);
    return space;
}
