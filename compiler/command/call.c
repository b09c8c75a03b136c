#include "compiler/command/command.h"
#include "compiler/command/message.h"

#include <stdio.h>
#include <string.h>

enum { NAMES = 16 };

struct reader {
    struct call *call;
    const char **words;
    int count, at;
};

static const struct option_row *option_of(const struct command *command, const char *name, size_t length,
                                          char letter)
{
    for (const struct option_row *row = command->options; row->name; row++)
        if (name ? strlen(row->name) == length && memcmp(row->name, name, length) == 0
                 : row->letter == letter)
            return row;
    return NULL;
}

/* The nearest option that the command has, or where to find them. */
static void complain_of_option(const struct command *command, const char *word, size_t length)
{
    const char *names[NAMES] = {NULL};
    char name[64];
    int count = 0;
    for (const struct option_row *row = command->options; row->name && count < NAMES - 1; row++)
        names[count++] = row->name;
    snprintf(name, sizeof name, "%.*s", (int)length, word);
    const char *nearest = name_nearest(names, name);
    if (nearest)
        message_print("%s has no option --%s; did you mean --%s?", command->name, name, nearest);
    else
        message_print("%s has no option --%s; `prill help %s` lists them", command->name, name,
                      command->name);
}

/* Whether `value` is one of the words in "text|json|sarif". */
static bool is_choice(const char *choices, const char *value)
{
    size_t length = strlen(value);
    for (const char *at = choices;; at++) {
        size_t word = strcspn(at, "|");
        if (word == length && memcmp(at, value, length) == 0)
            return true;
        at += word;
        if (!*at)
            return false;
    }
}

/* A value is taken once, and where the option takes certain words it is one of them. */
static bool set_value(struct call *call, const struct option_row *row, const char *value)
{
    char space[ARGUMENT_LIMIT], list[2 * ARGUMENT_LIMIT];
    const char *argument = option_argument(call->command, row, space);
    bool any = argument && argument[0] >= 'A' && argument[0] <= 'Z';
    if (argument && !any && !is_choice(argument, value)) {
        /* "text, json or sarif" */
        size_t length = 0;
        list[0] = '\0';
        for (const char *choice = argument; *choice && length < sizeof list;) {
            size_t word = strcspn(choice, "|");
            const char *between = length == 0 ? "" : choice[word] ? ", " : " or ";
            length +=
                (size_t)snprintf(list + length, sizeof list - length, "%s%.*s", between, (int)word, choice);
            choice += word + (choice[word] != '\0');
        }
        message_print("--%s takes %s, not \"%s\"", row->name, list, value);
        return false;
    }
    if (row->argument && call->values[row->id]) {
        message_print("--%s may be given once", row->name);
        return false;
    }
    call->values[row->id] = value;
    return true;
}

/* The value of an option that takes one: what was written behind it, or else the next word; and of one that
 * takes two, the word after. */
static bool take_value(struct reader *reader, const struct option_row *row, const char *attached)
{
    if (!row->argument && attached) {
        message_print("--%s takes no argument", row->name);
        return false;
    }
    if (row->argument && !attached) {
        if (reader->at == reader->count) {
            char space[ARGUMENT_LIMIT];
            message_print("--%s needs an argument: %s", row->name,
                          option_argument(reader->call->command, row, space));
            return false;
        }
        attached = reader->words[reader->at++];
    }
    if (!set_value(reader->call, row, attached ? attached : ""))
        return false;
    if (!row->argument || !strchr(row->argument, ' '))
        return true;
    if (reader->at == reader->count) {
        message_print("--%s needs two arguments: %s", row->name, row->argument);
        return false;
    }
    reader->call->second = reader->words[reader->at++];
    return true;
}

/* "-o FILE", "-oFILE", "-ho FILE": the rest of a word belongs to the first letter that takes a value. */
static bool read_letters(struct reader *reader, const char *letters)
{
    const struct command *command = reader->call->command;
    for (; *letters; letters++) {
        const struct option_row *row = option_of(command, NULL, 0, *letters);
        if (!row) {
            message_print("%s has no option -%c; `prill help %s` lists them", command->name, *letters,
                          command->name);
            return false;
        }
        if (row->argument)
            return take_value(reader, row, letters[1] ? letters + 1 : NULL);
        if (!set_value(reader->call, row, ""))
            return false;
    }
    return true;
}

/* A call for help needs no operands. */
static bool operands_fit(const struct call *call)
{
    const struct command *command = call->command;
    const char *between = *command->operands ? " " : "";
    if (call->values[OPTION_HELP] ||
        (call->operand_count >= command->least && call->operand_count <= command->most))
        return true;
    if (call->operand_count < command->least)
        message_print("%s needs more: prill %s%s%s", command->name, command->name, between,
                      command->operands);
    else
        message_print("%s takes no \"%s\": prill %s%s%s", command->name, call->operands[command->most],
                      command->name, between, command->operands);
    return false;
}

/* Words as POSIX has them, options also behind operands; after -- there are only operands. */
bool call_read(struct call *call, const struct command *command, const char **words, int count)
{
    *call = (struct call){.command = command, .operands = words};
    struct reader reader = {call, words, count, 0};
    bool only_operands = false;
    while (reader.at < count) {
        const char *word = words[reader.at++];
        bool fits = true;
        if (only_operands || word[0] != '-' || !word[1])
            call->operands[call->operand_count++] = word;
        else if (strcmp(word, "--") == 0)
            only_operands = true;
        else if (word[1] == '-') {
            size_t length = strcspn(word + 2, "=");
            const struct option_row *row = option_of(command, word + 2, length, 0);
            const char *value = word[2 + length] ? word + 2 + length + 1 : NULL;
            fits = row && take_value(&reader, row, value);
            if (!row)
                complain_of_option(command, word + 2, length);
        } else
            fits = read_letters(&reader, word + 1);
        if (!fits)
            return false;
    }
    return operands_fit(call);
}
