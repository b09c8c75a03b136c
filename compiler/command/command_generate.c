/* Documents that show the program's own tables: what stands in them between marks is written from the tables.
 *
 * A line that holds "prill:begin NAME" opens a part, one that holds "prill:end" closes it. `make docs` writes
 * all of them anew, and a test demands that this changes nothing. */
#include "compiler/command/message.h"
#include "compiler/command/print.h"
#include "compiler/model/form.h"
#include "compiler/model/unit.h"

#include <ctype.h>
#include <errno.h>
#include <stdio.h>
#include <string.h>

/* ---- pieces ---- */

/* Options that say the same of every command: told once. */
static bool is_common(const struct option_row *row)
{
    return row->id == OPTION_USE || row->id == OPTION_STDIN_NAME || row->id == OPTION_COLOR ||
           row->id == OPTION_HELP;
}

static bool names_file(const char *argument)
{
    return strcmp(argument, "FILE") == 0 || strcmp(argument, "PATH") == 0;
}

static bool is_choice_of_words(const char *argument)
{
    return argument[0] >= 'a' && argument[0] <= 'z';
}

/* Appends `text` with `by` for each of its bytes that is `byte`. */
static void add_replaced(struct buffer *out, const char *text, char byte, const char *by)
{
    for (; *text; text++) {
        const char one[] = {*text, '\0'};
        buffer_add_string(out, *text == byte ? by : one);
    }
}

static void add_lower(struct buffer *out, const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++)
        buffer_format(out, "%c", tolower((unsigned char)text[i]));
}

/* All commands that `prill help` lists, with blanks between them. */
static void add_commands(struct buffer *out)
{
    for (const struct command *command = commands; command->name; command++)
        if (command->summary)
            buffer_format(out, "%s%s", command == commands ? "" : " ", command->name);
}

/* ---- the shells' completions ---- */

/* Sets `commands`, and by the command its `options`; by the option before the word its `choices`, or that it
 * takes a file or a word of its own (`takes`). */
static void add_bash(struct buffer *out)
{
    char space[ARGUMENT_LIMIT];
    buffer_add_string(out, "    commands='");
    add_commands(out);
    buffer_add_string(out, "'\n    case $command in\n");
    for (const struct command *command = commands; command->name; command++) {
        if (!command->summary)
            continue;
        buffer_format(out, "    %s) options='", command->name);
        for (const struct option_row *row = command->options; row->name; row++)
            buffer_format(out, "%s--%s", row == command->options ? "" : " ", row->name);
        buffer_add_string(out, "' ;;\n");
    }
    buffer_add_string(out, "    esac\n    case $command:$previous in\n");
    for (const struct command *command = commands; command->name; command++)
        for (const struct option_row *row = command->options; command->summary && row->name; row++) {
            const char *argument = option_argument(command, row, space);
            if (!argument)
                continue;
            buffer_format(out, "    %s:--%s", command->name, row->name);
            if (row->letter)
                buffer_format(out, " | %s:-%c", command->name, row->letter);
            buffer_add_string(out, ") ");
            if (is_choice_of_words(argument)) {
                buffer_add_string(out, "choices='");
                add_replaced(out, argument, '|', " ");
                buffer_add_string(out, "' ;;\n");
            } else {
                buffer_format(out, "takes=%s ;;\n", names_file(argument) ? "file" : "word");
            }
        }
    buffer_add_string(out, "    esac\n");
}

/* Within single quotes, and within the brackets of what _arguments reads. */
static void add_zsh_text(struct buffer *out, const char *text)
{
    for (; *text; text++)
        if (*text == '\'')
            buffer_add_string(out, "'\"'\"'");
        else
            buffer_format(out, *text == '[' || *text == ']' ? "\\%c" : "%c", *text);
}

/* Sets `commands` for _describe and, by the command, `arguments` for _arguments. */
static void add_zsh(struct buffer *out)
{
    char space[ARGUMENT_LIMIT];
    buffer_add_string(out, "commands=(\n");
    for (const struct command *command = commands; command->name; command++)
        if (command->summary) {
            buffer_format(out, "    '%s:", command->name);
            add_zsh_text(out, command->summary);
            buffer_add_string(out, "'\n");
        }
    buffer_add_string(out, ")\narguments=()\ncase $words[2] in\n");
    for (const struct command *command = commands; command->name; command++) {
        if (!command->summary)
            continue;
        buffer_format(out, "%s)\n    arguments=(\n", command->name);
        for (const struct option_row *row = command->options; row->name; row++) {
            const char *argument = option_argument(command, row, space);
            const char *sign = argument ? strchr(argument, ' ') ? "" : "=" : "";
            buffer_add_string(out, "        ");
            if (row->letter) {
                buffer_format(out, "'(-%c --%s)'", row->letter, row->name);
                buffer_format(out, "{-%c%s,", row->letter, argument ? "+" : "");
                buffer_format(out, "--%s%s}'[", row->name, sign);
            } else {
                buffer_format(out, "'--%s%s[", row->name, sign);
            }
            add_zsh_text(out, row->meaning);
            buffer_add_string(out, "]");
            /* ":file:_files", ":form:(text json)", ":name: :date:" */
            bool choice = argument && is_choice_of_words(argument);
            if (choice) {
                buffer_add_string(out, ":word:(");
                add_replaced(out, argument, '|', " ");
                buffer_add_string(out, ")");
            }
            for (const char *word = argument; word && *word && !choice; word += strspn(word, " ")) {
                size_t length = strcspn(word, " ");
                buffer_add_string(out, ":");
                add_lower(out, word, strcspn(word, " ["));
                buffer_add_string(out, names_file(argument) ? ":_files" : ":");
                word += length;
            }
            buffer_add_string(out, "'\n");
        }
        buffer_add_string(out, "    )\n    ;;\n");
    }
    buffer_add_string(out, "esac\n");
}

static void add_fish_text(struct buffer *out, const char *text)
{
    buffer_add_string(out, " -d '");
    add_replaced(out, text, '\'', "\\'");
    buffer_add_string(out, "'\n");
}

/* A `complete` line for each command, and for each option of each. */
static void add_fish(struct buffer *out)
{
    char space[ARGUMENT_LIMIT];
    buffer_add_string(out, "set -l commands ");
    add_commands(out);
    buffer_add_string(out, "\n");
    for (const struct command *command = commands; command->name; command++)
        if (command->summary) {
            buffer_format(out, "complete -c prill -n __fish_use_subcommand -a %s", command->name);
            add_fish_text(out, command->summary);
        }
    for (const struct command *command = commands; command->name; command++)
        for (const struct option_row *row = command->options; command->summary && row->name; row++) {
            const char *argument = option_argument(command, row, space);
            if (row->id == OPTION_HELP)
                continue; /* of every command: stated by hand */
            buffer_format(out, "complete -c prill -n '__fish_seen_subcommand_from %s'", command->name);
            if (row->letter)
                buffer_format(out, " -s %c", row->letter);
            buffer_format(out, " -l %s", row->name);
            if (argument && is_choice_of_words(argument)) {
                buffer_add_string(out, " -x -a '");
                add_replaced(out, argument, '|', " ");
                buffer_add_string(out, "'");
            } else if (argument) {
                buffer_add_string(out, names_file(argument) ? " -r -F" : " -x");
            }
            add_fish_text(out, row->meaning);
        }
}

/* ---- the manual page ---- */

/* " Fl -as Cm text | ics", " Fl o Ar file , Fl -output Ar file" */
static void add_man_option(struct buffer *out, const struct command *command, const struct option_row *row)
{
    char space[ARGUMENT_LIMIT];
    const char *argument = option_argument(command, row, space);
    struct buffer value = {.arena = out->arena};
    if (argument && is_choice_of_words(argument)) {
        buffer_add_string(&value, " Cm ");
        add_replaced(&value, argument, '|', " | Cm ");
    } else if (argument) {
        buffer_add_string(&value, " Ar ");
        add_lower(&value, argument, strlen(argument));
    }
    if (row->letter)
        buffer_format(out, " Fl %c%s ,", row->letter, buffer_string(&value));
    buffer_format(out, " Fl -%s%s\n", row->name, buffer_string(&value));
}

/* A line for each command, with the options that are its own. */
static void add_man_synopsis(struct buffer *out)
{
    for (const struct command *command = commands; command->name; command++) {
        if (!command->summary)
            continue;
        buffer_format(out, ".Nm\n.Cm %s\n", command->name);
        for (const struct option_row *row = command->options; row->name; row++)
            if (!is_common(row)) {
                struct option_row one = *row;
                one.letter = 0;
                buffer_add_string(out, ".Op");
                add_man_option(out, command, &one);
            }
        for (const char *word = command->operands; *word;) {
            size_t length = strcspn(word, " ");
            /* "Ar plan ...", "Op Ar new": a word of a command's operands. */
            bool optional = word[0] == '[', many = length > 3 && memcmp(word + length - 3, "...", 3) == 0;
            buffer_add_string(out, optional ? ".Op Ar " : ".Ar ");
            add_lower(out, word + optional, length - 2 * (size_t)optional - 3 * (size_t)many);
            buffer_add_string(out, many ? " ...\n" : "\n");
            word += length + strspn(word + length, " ");
        }
    }
}

/* Each sentence on a line of its own, and no line longer than 80 bytes, as mandoc wants it. */
static void add_man_text(struct buffer *out, const char *text)
{
    size_t line = 0;
    for (const char *word = text, *before = NULL; *word; before = word, word += strcspn(word, " ")) {
        word += *word == ' ';
        size_t length = strcspn(word, " ");
        bool sentence = before && (word[-2] == '.' || word[-2] == '?');
        bool wraps = before && (sentence || line + 1 + length > 78);
        buffer_add_string(out, wraps ? "\n" : before ? " " : "");
        line = wraps ? length : line + (before != NULL) + length;
        bool dash = length == 1 && *word == '-';
        buffer_add(out, dash ? TEXT("\\-") : (struct text){word, length});
    }
    buffer_add_string(out, "\n");
}

static void add_man_options(struct buffer *out, const struct command *command, bool common)
{
    bool begun = false;
    for (const struct option_row *row = command->options; row->name; row++) {
        if (is_common(row) != common)
            continue;
        buffer_add_string(out, begun ? "" : ".Bl -tag -width Ds\n");
        begun = true;
        buffer_add_string(out, ".It");
        add_man_option(out, command, row);
        add_man_text(out, row->meaning);
    }
    buffer_add_string(out, begun ? ".El\n" : "");
}

static void add_man_commands(struct buffer *out)
{
    buffer_add_string(out, ".Bl -tag -width Ds\n");
    for (const struct command *command = commands; command->name; command++)
        if (command->summary) {
            buffer_format(out, ".It Cm %s\n", command->name);
            add_man_text(out, command->description);
            add_man_options(out, command, false);
        }
    buffer_add_string(out, ".El\n");
}

/* As `check` has them, which has all. */
static void add_man_common(struct buffer *out)
{
    add_man_options(out, command_find("check"), true);
}

/* ---- the language ---- */

static const struct measure_shown {
    enum measure measure;
    const char *heading, *si;
    double times; /* of the SI unit the shown one has */
} measures_shown[] = {
    {MEASURE_MASS, "Mass", "kg", 1},
    {MEASURE_LENGTH, "Length", "m", 1},
    {MEASURE_AREA, "Area", "m2", 1},
    {MEASURE_VOLUME, "Volume", "L", 1000},
    {MEASURE_TIME, "Time", "s", 1},
    {MEASURE_MONTHS, "Calendar time", "month(s)", 1},
    {MEASURE_TEMPERATURE, "Temperature", "K", 1},
    {MEASURE_NUMBER, "Share", "", 1},
    {MEASURE_CHARGE, "Charge", "mmol of charge", 1000},
    {MEASURE_SPEED, "Speed", "m/s", 1},
    {MEASURE_VOLUME_PER_TIME, "Flow", "L/s", 1000},
};

/* A table for each measure that units have, with each spelling. Thirteen digits show every factor as it is
 * defined. */
static void add_units(struct buffer *out)
{
    for (size_t i = 0; i < sizeof measures_shown / sizeof *measures_shown; i++) {
        const struct measure_shown *shown = &measures_shown[i];
        buffer_format(out, "%s| %s | is | symbols | words |\n|---|---|---|---|\n", i ? "\n" : "",
                      shown->heading);
        for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit)) {
            if (unit->measure != shown->measure)
                continue;
            double times = unit->factor * shown->times;
            const char *factor =
                times < 1e-3 ? number_text(out->arena, times, 12) : text_format(out->arena, "%.13g", times);
            buffer_format(out, "| %s | ", unit->name);
            if (unit->measure == MEASURE_NUMBER)
                buffer_format(out, "%s by mass", factor);
            else if (unit->zero > 0)
                buffer_format(out, "(%s + %.13g) × %s K", unit->name, unit->zero, factor);
            else
                buffer_format(out, "%s %s", factor, shown->si);
            buffer_add_string(out, " |");
            for (int j = 0; j < UNIT_SYMBOLS && unit->symbols[j]; j++)
                buffer_format(out, " `%s`", unit->symbols[j]);
            buffer_add_string(out, " |");
            for (int j = 0; j < UNIT_WORDS && unit->words[j]; j++)
                buffer_format(out, " `%s`", unit->words[j]);
            buffer_add_string(out, " |\n");
        }
    }
}

/* A pattern as the document writes it: "label RATES [in VOLUMES of water]". */
static void add_pattern(struct buffer *out, const char *pattern)
{
    while (*pattern) {
        size_t plain = strcspn(pattern, "<");
        for (size_t i = 0; i < plain; i++)
            buffer_format(out, pattern[i] == '|' ? "\\|" : "%c", pattern[i]);
        pattern += plain;
        if (!*pattern)
            return;
        const char *type = strchr(pattern, ':') + 1, *end = strchr(type, '>');
        if (memchr(type, '|', (size_t)(end - type)))
            for (; type < end; type++)
                buffer_format(out, *type == '|' ? "\\|" : "%c", *type);
        else
            for (; type < end; type++)
                buffer_format(out, "%c", toupper((unsigned char)*type));
        pattern = end + 1;
    }
}

/* By the block they stand in. */
static void add_forms(struct buffer *out)
{
    for (int kind = BLOCK_PLAN; kind < BLOCK_KIND_COUNT; kind++) {
        const struct form *form = form_first((enum block_kind)kind);
        if (!form)
            continue;
        buffer_format(out, "%s| %s | what it says |\n|---|---|\n", kind == BLOCK_PLAN ? "" : "\n",
                      kind == BLOCK_PLAN
                          ? "in a plan"
                          : text_format(out->arena, "in `%s`", block_kind_name((enum block_kind)kind)));
        for (; form; form = form_next(form)) {
            buffer_add_string(out, "| `");
            add_pattern(out, form->pattern);
            buffer_add_string(out, "` | ");
            add_replaced(out, form->meaning, '|', "\\|");
            if (form->stands_for) {
                buffer_add_string(out, " `");
                add_pattern(out, form->stands_for);
                buffer_add_string(out, "`");
            }
            buffer_add_string(out, form->once ? " (once) |\n" : " |\n");
        }
    }
}

/* ---- between the marks ---- */

static const struct part {
    const char *name;
    void (*add)(struct buffer *out);
} parts[] = {
    {"bash", add_bash},
    {"zsh", add_zsh},
    {"fish", add_fish},
    {"synopsis", add_man_synopsis},
    {"commands", add_man_commands},
    {"options", add_man_common},
    {"units", add_units},
    {"forms", add_forms},
};

struct generation {
    const char *path;
    bool *done;
};

/* Copies the file but what is between marks; a mark that names no part, or has no end, is refused. */
static void files_write(struct buffer *out, const void *subject)
{
    const struct generation *generation = subject;
    struct buffer text = {.arena = out->arena};
    bool inside = false;
    char piece[4096];
    FILE *file = fopen(generation->path, "rb");
    for (size_t length; file && (length = fread(piece, 1, sizeof piece, file)) > 0;)
        buffer_add(&text, (struct text){piece, length});
    *generation->done = file && fclose(file) == 0;
    if (!*generation->done)
        message_print("%s: %s", generation->path, strerror(errno));
    for (const char *line = buffer_string(&text); *line; line += strcspn(line, "\n") + 1) {
        const char *whole = text_string(out->arena, (struct text){line, strcspn(line, "\n")});
        const char *mark = strstr(whole, "prill:begin ");
        inside = inside && !strstr(whole, "prill:end");
        if (!inside)
            buffer_format(out, "%s\n", whole);
        if (!mark)
            continue;
        const char *name = text_string(out->arena, (struct text){mark + 12, strcspn(mark + 12, " ")});
        const struct part *part = parts;
        while (part < parts + sizeof parts / sizeof *parts && strcmp(part->name, name) != 0)
            part++;
        if (part == parts + sizeof parts / sizeof *parts) {
            message_print("%s: there is no part called %s", generation->path, name);
            *generation->done = false;
            return;
        }
        part->add(out);
        inside = true;
    }
    if (inside) {
        message_print("%s: the last part has no prill:end", generation->path);
        *generation->done = false;
    }
}

enum prill_status command_generate(const struct call *call)
{
    bool done = false;
    struct generation generation = {call->operands[0], &done};
    enum prill_status status = print_filled(files_write, &generation);
    return done || status != PRILL_FINE ? status : PRILL_BAD_CALL;
}
