#include "compiler/command/message.h"
#include "compiler/command/print.h"
#include "compiler/form/paragraph.h"

enum { COMMAND_CELLS = 24, OPTION_CELLS = 33 };

/* "  name      what it does", with further lines under the first. */
static void add_entry(struct buffer *out, const char *name, size_t cells, const char *meaning)
{
    struct buffer lead = {.arena = out->arena};
    buffer_add_string(&lead, "  ");
    buffer_add_string(&lead, name);
    if (lead.length + 2 > cells)
        buffer_format(out, "%s\n", buffer_string(&lead));
    if (lead.length + 2 > cells)
        lead.length = 0;
    buffer_repeat(&lead, ' ', cells - lead.length);
    paragraph_add(out, buffer_string(&lead), meaning);
}

/* Commands without a summary are for tools, and listed nowhere. */
static void fill_all(struct buffer *out, const void *subject)
{
    (void)subject;
    buffer_add_string(out, "prill checks and dates the season plan of a lawn.\n\n"
                           "usage: prill COMMAND [OPTION...] [PLAN...]\n\n");
    for (const struct command *command = commands; command->name; command++)
        if (command->summary)
            add_entry(out, text_format(out->arena, "%s %s", command->name, command->operands), COMMAND_CELLS,
                      command->summary);
    buffer_add_string(out, "\n");
    add_entry(out, "-h, --help", COMMAND_CELLS, "show this help");
    add_entry(out, "--version", COMMAND_CELLS, "print the version");
    buffer_add_string(out, "\n");
    paragraph_add(
        out, "",
        "PLAN is a file, or - for standard input. Exit status: 0 fine, 1 the plan has errors, 2 the "
        "call is wrong, 3 the system failed. `prill help COMMAND` says more.");
}

/* From the row of the command alone, so that help cannot differ from what the command takes. */
static void fill_command(struct buffer *out, const void *subject)
{
    const struct command *command = subject;
    buffer_format(out, "usage: prill %s [OPTION...]%s%s\n\n", command->name, *command->operands ? " " : "",
                  command->operands);
    paragraph_add(out, "", command->description);
    buffer_add_string(out, "\n");
    for (const struct option_row *row = command->options; row->name; row++) {
        char space[ARGUMENT_LIMIT];
        const char *argument = option_argument(command, row, space);
        const char *letter = row->letter ? text_format(out->arena, "-%c, ", row->letter) : "    ";
        const char *words = text_format(out->arena, "%s--%s%s%s", letter, row->name, argument ? " " : "",
                                        argument ? argument : "");
        add_entry(out, words, OPTION_CELLS, row->meaning);
    }
}

enum prill_status help_print(const struct command *command)
{
    return command ? print_filled(fill_command, command) : print_filled(fill_all, NULL);
}

enum prill_status command_help(const struct call *call)
{
    const struct command *command = call->operand_count ? command_find(call->operands[0]) : NULL;
    if (call->operand_count == 0 || command)
        return help_print(command);
    message_print("there is no command %s; `prill help` lists them", call->operands[0]);
    return PRILL_BAD_CALL;
}
