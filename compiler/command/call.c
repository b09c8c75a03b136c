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

/* The value of an option that takes one: what was written behind it, or else the next word; and of one that
 * takes two, the word after. A value is taken once, and where the option takes certain words it is one of
 * them. */
static bool take_value(struct reader *reader, const struct option_row *row, const char *attached)
{
    struct call *call = reader->call;
    char space[ARGUMENT_LIMIT], list[2 * ARGUMENT_LIMIT] = "";
    const char *argument = option_argument(call->command, row, space);
    bool fits = !argument || (argument[0] >= 'A' && argument[0] <= 'Z');
    if (!argument && attached) {
        message_print("--%s takes no argument", row->name);
        return false;
    }
    if (argument && !attached && reader->at == reader->count) {
        message_print("--%s needs an argument: %s", row->name, argument);
        return false;
    }
    const char *value = !argument ? "" : attached ? attached : reader->words[reader->at++];

    /* One of "text|json|sarif"; what is not is answered with "text, json or sarif". */
    size_t length = 0;
    for (const char *choice = argument; !fits && *choice && length < sizeof list;) {
        size_t word = strcspn(choice, "|");
        const char *between = length == 0 ? "" : choice[word] ? ", " : " or ";
        fits = strlen(value) == word && memcmp(choice, value, word) == 0;
        length += (size_t)snprintf(list + length, sizeof list - length, "%s%.*s", between, (int)word, choice);
        choice += word + (choice[word] != '\0');
    }
    if (!fits) {
        message_print("--%s takes %s, not \"%s\"", row->name, list, value);
        return false;
    }
    if (argument && call->values[row->id]) {
        message_print("--%s may be given once", row->name);
        return false;
    }
    call->values[row->id] = value;
    if (!argument || !strchr(argument, ' '))
        return true;
    if (reader->at == reader->count) {
        message_print("--%s needs two arguments: %s", row->name, argument);
        return false;
    }
    call->second = reader->words[reader->at++];
    return true;
}

/* "name", "name=value". Of an unknown one the nearest that the command has is said, or where to find them. */
static bool read_name(struct reader *reader, const char *word)
{
    const struct command *command = reader->call->command;
    size_t length = strcspn(word, "=");
    const struct option_row *row = option_of(command, word, length, 0);
    if (row)
        return take_value(reader, row, word[length] ? word + length + 1 : NULL);
    const char *names[NAMES] = {NULL};
    char name[64];
    int count = 0;
    for (row = command->options; row->name && count < NAMES - 1; row++)
        names[count++] = row->name;
    snprintf(name, sizeof name, "%.*s", (int)length, word);
    const char *nearest = name_nearest(names, name);
    if (nearest)
        message_print("%s has no option --%s; did you mean --%s?", command->name, name, nearest);
    else
        message_print("%s has no option --%s; `prill help %s` lists them", command->name, name,
                      command->name);
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
        if (only_operands || word[0] != '-' || !word[1])
            call->operands[call->operand_count++] = word;
        else if (strcmp(word, "--") == 0)
            only_operands = true;
        else if (word[1] == '-' && !read_name(&reader, word + 2))
            return false;
        /* "-o FILE", "-oFILE", "-ho FILE": the rest of a word is of the first letter that takes a value. */
        bool letters = !only_operands && word[0] == '-' && word[1] != '-';
        for (const char *letter = word + 1; letters && *letter; letter++) {
            const struct option_row *row = option_of(command, NULL, 0, *letter);
            if (!row) {
                message_print("%s has no option -%c; `prill help %s` lists them", command->name, *letter,
                              command->name);
                return false;
            }
            if (!take_value(&reader, row, row->argument && letter[1] ? letter + 1 : NULL))
                return false;
            letters = !row->argument;
        }
    }
    /* A call for help needs no operands. */
    bool few = call->operand_count < command->least;
    if (call->values[OPTION_HELP] || (!few && call->operand_count <= command->most))
        return true;
    char usage[2 * ARGUMENT_LIMIT];
    snprintf(usage, sizeof usage, "prill %s%s%s", command->name, *command->operands ? " " : "",
             command->operands);
    if (few)
        message_print("%s needs more: %s", command->name, usage);
    else
        message_print("%s takes no \"%s\": %s", command->name, call->operands[command->most], usage);
    return false;
}
