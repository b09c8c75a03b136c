#include "compiler/command/command.h"

#include <stdio.h>
#include <string.h>

#define COLOR_ROW                                                                                            \
    {                                                                                                        \
        "color", OPTION_COLOR, 0, "auto|always|never", "colour reports; auto: on a terminal"                 \
    }
#define OUTPUT_ROW                                                                                           \
    {                                                                                                        \
        "output", OPTION_OUTPUT, 'o', "FILE", "write FILE, whole or not at all; - is standard output"        \
    }
#define USE_ROW                                                                                              \
    {                                                                                                        \
        "use", OPTION_USE, 0, "FILE", "as if the plan used FILE; of several that it uses: OLD=FILE"          \
    }
#define STDIN_NAME_ROW                                                                                       \
    {                                                                                                        \
        "stdin-name", OPTION_STDIN_NAME, 0, "PATH", "the path that standard input stands for"                \
    }
#define HELP_ROW                                                                                             \
    {                                                                                                        \
        "help", OPTION_HELP, 'h', NULL, "tell about this command"                                            \
    }
#define END_ROW                                                                                              \
    {                                                                                                        \
        NULL, OPTION_COUNT, 0, NULL, NULL                                                                    \
    }

static const struct option_row start_options[] = {
    {"grass", OPTION_GRASS, 0, "NAME", "the grass there is most of, by its name in the library"},
    {"region", OPTION_REGION, 0, "NAME", "the region whose figures for the grass count"},
    {"units", OPTION_UNITS, 0, "us|metric", "the units of the plan; us without it"},
    OUTPUT_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row check_options[] = {
    {"as", OPTION_AS, 0, "text|json|sarif", "the form of the reports"},
    {"warnings", OPTION_WARNINGS, 0, "error", "end with status 1 on a warning too"},
    USE_ROW,
    STDIN_NAME_ROW,
    COLOR_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row calendar_options[] = {
    {"as", OPTION_AS, 0, FORMS_OF_RESULT, "the form; without it the ending of FILE decides, or text"},
    OUTPUT_ROW,
    {"as-of", OPTION_AS_OF, 0, "DATE", "tell what is overdue on that day, due within a week, and next"},
    {"late", OPTION_LATE, 0, "NAME[:TIME] DATE",
     "tell what moves if this falls on that day, or why it cannot"},
    {"since", OPTION_SINCE, 0, "FILE",
     "take off calendars what is gone since FILE, the JSON of an edition before"},
    USE_ROW,
    STDIN_NAME_ROW,
    COLOR_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row compare_options[] = {
    {"as", OPTION_AS, 0, "text|json", "the form"},
    {"use", OPTION_USE, 0, "FILE",
     "as if NEW used FILE, or OLD where there is no NEW; of several that it uses: OLD=FILE"},
    STDIN_NAME_ROW,
    COLOR_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row result_options[] = {
    {"as", OPTION_AS, 0, FORMS_OF_RESULT, "the form; without it the ending of FILE decides, or text"},
    OUTPUT_ROW,
    USE_ROW,
    STDIN_NAME_ROW,
    COLOR_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row plan_options[] = {USE_ROW, STDIN_NAME_ROW, COLOR_ROW, HELP_ROW, END_ROW};

static const struct option_row format_options[] = {
    {"check", OPTION_CHECK, 0, NULL,
     "write nothing; name the plans that would change, and end with status 1 if any would"},
    STDIN_NAME_ROW,
    COLOR_ROW,
    HELP_ROW,
    END_ROW,
};

static const struct option_row checks_options[] = {
    {"markdown", OPTION_MARKDOWN, 0, NULL, "as a document, docs/checks.md"},
    HELP_ROW,
    END_ROW,
};

static const struct option_row help_options[] = {HELP_ROW, END_ROW};

enum { ANY_NUMBER = 1 << 20 };

const struct command commands[] = {
    {"start", "YEAR", 1, 1, "write a first plan to fill in",
     "Writes a short plan for a season in YEAR that compiles as it is. What the options do not state is a "
     "question in a comment, and so are the figures that only a tape measure, a laboratory's sheet and a "
     "label "
     "know. A file that exists is not written over.",
     start_options, command_start},
    {"check", "PLAN...", 1, ANY_NUMBER, "tell what is wrong in a plan",
     "Checks each plan and reports what it finds on standard output: errors, warnings and notes, each at its "
     "place.",
     check_options, command_check},
    {"calendar", "PLAN", 1, 1, "print what is to be done on which day",
     "Dates the season and prints it: text for a person, ics for calendar programs, csv for spreadsheets, "
     "json for "
     "other programs. After an error there is no calendar. Reports go to standard error.",
     calendar_options, command_calendar},
    {"compare", "OLD [NEW]", 1, 2, "print what changes from one plan to another",
     "Prints what changes on the lawn from the plan OLD to the plan NEW: days, amounts, products, what is "
     "added and what is dropped. Work is the same where lawn, treatment and time are. One plan with --use "
     "FILE "
     "tells what changes if FILE stands in for the file it uses: other shops, say.",
     compare_options, command_compare},
    {"needs", "PLAN", 1, 1, "print what the soil tests say the lawn needs",
     "Prints what a year asks of each zone, and each result: how the scale reads it, the amount and how it "
     "was found, what the pH asks, and what the report lacked.",
     result_options, command_result},
    {"shopping", "PLAN", 1, 1, "print what is still to buy for the season",
     "Prints for each product what the plan still needs, in which packs to buy it at the least cost, what is "
     "left "
     "over, how far a pack goes, and by which day it is needed first.",
     result_options, command_result},
    {"budget", "PLAN", 1, 1, "print the nutrients by month against needs and limits",
     "Prints for each zone which nutrients it gets in which month, done and planned told apart, and how that "
     "stands against the soil test, the yearly range of the grass and each limit of a year.",
     result_options, command_result},
    {"rates", "PLAN", 1, 1, "print the rates the compiler chose, and why",
     "Prints the rates of corrections and matches, what each zone gets and what is missing, which statements "
     "hold it back and what those of practice would have to be; and the answers to what the plan asks to "
     "match "
     "or blend.",
     result_options, command_result},
    {"weather", "PLAN", 1, 1, "print the weather each day counts on, and its risk",
     "Tells of each planned day what is asked of its weather, what that is known or expected to be, in how "
     "many "
     "years of the history it was not so, and which day has the least risk.",
     result_options, command_result},
    {"explain", "[PLAN] NAME", 1, 2, "tell how a result came about, or what a rule means",
     "With a plan, tells how the dates, rates and amounts of the named thing were found, down to the lines "
     "of the plan. "
     "Without one, tells what a rule of `prill checks` watches over and why.",
     plan_options, command_explain},
    {"library", "[NAME]", 0, 1, "show what prill knows of grasses, soil tests, limits and materials",
     "Lists the grasses, scales, lime tables, sets of limits, regions, cautions and materials that prill "
     "knows. With a name, shows that entry: its text, its figures, and the sources they come from.",
     help_options, command_library},
    {"format", "PLAN...", 1, ANY_NUMBER, "lay out a plan's text",
     "Rewrites each plan in the canonical layout, in place; comments and every word stay as they are. A plan "
     "with "
     "syntax errors is left alone. - prints standard input's layout on standard output.",
     format_options, command_format},
    {"checks", "", 0, 0, "list every rule a plan is held to",
     "Lists the rules by name, with what they watch over. `prill explain RULE` tells more.", checks_options,
     command_checks},
    {"generate", "FILE", 1, 1, NULL,
     "Prints FILE with the parts between its marks written from the program's tables.", help_options,
     command_generate},
    {"dictionary", "", 0, 0, NULL, "Prints the words of the language as a dictionary for fuzzing.",
     help_options, command_dictionary},
    {"help", "[COMMAND]", 0, 1, "tell about prill or one of its commands", "Prints what you are reading.",
     help_options, command_help},
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
