/* The commands and their options: one table (command.def), from which come reading the command line, `prill
 * help`, the manual page and the shells' completions. */
#ifndef PRILL_COMMAND_COMMAND_H
#define PRILL_COMMAND_COMMAND_H

#include "compiler/prill.h"

/* The program's exit statuses are those of prill.h. */

enum option_id {
    OPTION_AS,
    OPTION_OUTPUT,
    OPTION_AS_OF,
    OPTION_LATE,
    OPTION_SINCE,
    OPTION_WARNINGS,
    OPTION_CHECK,
    OPTION_MARKDOWN,
    OPTION_USE,
    OPTION_GRASS,
    OPTION_REGION,
    OPTION_UNITS,
    OPTION_STDIN_NAME,
    OPTION_COLOR,
    OPTION_HELP,
    OPTION_COUNT
};

struct option_row {
    const char *name; /* NULL ends a list */
    enum option_id id;
    char letter; /* 0 without */
    const char
        *argument; /* NULL: takes none; "FILE": any; "NAME DATE": two; "text|json": one of these words */
    const char *meaning;
};

/* In place of an argument: the forms of the result that the command is named after, "text|csv|json". */
#define FORMS_OF_RESULT "(forms)"
enum { ARGUMENT_LIMIT = 64 };

struct call;

struct command {
    const char *name; /* NULL ends the table */
    const char *operands;
    int least, most;     /* operands */
    const char *summary; /* NULL: not listed; for tools, and free to change */
    const char *description;
    const struct option_row *options;
    enum prill_status (*run)(const struct call *call);
};

extern const struct command commands[];

const struct command *command_find(const char *name);

/* What the option takes, as above; `space` has ARGUMENT_LIMIT bytes and must live as long as the answer. */
const char *option_argument(const struct command *command, const struct option_row *row, char *space);

/* A command line that fits its command. */
struct call {
    const struct command *command;
    const char *values[OPTION_COUNT]; /* NULL: not given; "" where the option takes no argument */
    const char *second;               /* of the option that takes two */
    const char **operands;
    int operand_count;
};

/* Reads the words behind the command's name. What does not fit is said on standard error; then false. `words`
 * is used for the operands. */
bool call_read(struct call *call, const struct command *command, const char **words, int count);

/* `prill help` on standard output, of one command or, for NULL, of all. */
enum prill_status help_print(const struct command *command);

/* The result named like the command. */
enum prill_status command_result(const struct call *call);

#define COMMAND(name, operands, least, most, summary, description, options)                                  \
    enum prill_status command_##name(const struct call *call);
#define RESULT(name, operands, least, most, summary, description, options)
#include "compiler/command/command.def"
#undef COMMAND
#undef RESULT

#endif
