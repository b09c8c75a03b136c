#include "compiler/form/report_text.h"

#include "compiler/form/fix_lines.h"

enum { LINE_DIGITS = 3 }; /* least width of a line number, so that excerpts of most plans line up */

static const enum tint severity_tints[] = {
    [SEVERITY_NOTE] = TINT_NOTE,
    [SEVERITY_WARNING] = TINT_WARNING,
    [SEVERITY_ERROR] = TINT_ERROR,
};

const char *fix_word(const struct fix *fix)
{
    return fix->safe ? "fix" : "fix, yours to judge";
}

static void place_add(struct buffer *out, struct place place)
{
    struct position position = source_position(place.source, place.start);
    /* A path that begins with one of these would make the line a command to some build servers. */
    if (place.source->path[0] == ':' || place.source->path[0] == '#')
        buffer_add_string(out, "./");
    terminal_add(out, text_of(place.source->path));
    buffer_add_string(out, ":");
    integer_add(out, position.line, 0);
    buffer_add_string(out, ":");
    integer_add(out, position.column, 0);
}

static void tinted_add(struct buffer *out, bool colour, enum tint tint, const char *string)
{
    tint_begin(out, colour, tint);
    terminal_add(out, text_of(string));
    tint_end(out, colour, tint);
}

static int place_digits(struct place place, int least)
{
    int digits = 1;
    for (uint32_t rest = place.source ? place_last_line(place) : 0; rest >= 10; rest /= 10)
        digits++;
    return digits > least ? digits : least;
}

/* The origin of a file is printed where the file changes, under its first excerpt. */
static void excerpts_print(const struct excerpt *excerpt, const struct report *report)
{
    struct mark *marks = ARENA_ARRAY(excerpt->out->arena, report->labels.count + 1, struct mark);
    /* The report's own place first, then its labels in the order they were added. */
    size_t count = 0;
    if (report->place.source)
        marks[count++] =
            (struct mark){report->place, '^', severity_tints[report->severity], report->place_label};
    for (size_t i = 0; i < report->labels.count; i++)
        if (report->labels.items[i].place.source)
            marks[count++] =
                (struct mark){report->labels.items[i].place, '~', TINT_NOTE, report->labels.items[i].text};
    const struct source *shown = NULL; /* whose origin was printed last */
    for (size_t i = 0; i < count;) {
        const struct source *source = marks[i].place.source;
        if (i > 0 || !report->place.source) {
            buffer_add_string(excerpt->out, "  at ");
            place_add(excerpt->out, marks[i].place);
            buffer_add_string(excerpt->out, "\n");
        }
        i += excerpt_print(excerpt, marks + i, count - i);
        /* How the text came into the plan, from the inside out. */
        if (source != shown && source->library)
            buffer_add_string(excerpt->out, "  in the library built into prill\n");
        for (const struct source *user = source; source != shown && user->used_at.source;
             user = user->used_at.source) {
            buffer_add_string(excerpt->out, "  used from ");
            place_add(excerpt->out, user->used_at);
            buffer_add_string(excerpt->out, "\n");
        }
        shown = source;
    }
}

static void remark_print(struct buffer *out, bool colour, const char *word, const char *sentence)
{
    buffer_add_string(out, "  ");
    tinted_add(out, colour, TINT_STRONG, word);
    buffer_add_string(out, ": ");
    terminal_add(out, text_of(sentence));
    buffer_add_string(out, "\n");
}

/* What is wrong, where, why, and only then what to do about it. */
void report_text_print(struct buffer *out, const struct report *report, bool colour)
{
    /* One width for all the line numbers of a report. */
    int digits = place_digits(report->place, LINE_DIGITS);
    for (size_t i = 0; i < report->labels.count; i++)
        digits = place_digits(report->labels.items[i].place, digits);
    for (size_t i = 0; report->fix && i < report->fix->edit_count; i++)
        digits = place_digits(report->fix->edits[i].place, digits);
    struct excerpt excerpt = {.out = out, .colour = colour, .digits = digits};
    /* path:line:column: severity: sentence [name], as compilers have it. */
    if (report->place.source)
        place_add(out, report->place);
    else
        buffer_add_string(out, "prill");
    buffer_add_string(out, ": ");
    tinted_add(out, colour, severity_tints[report->severity], severity_name(report->severity));
    buffer_add_string(out, ": ");
    tinted_add(out, colour, TINT_STRONG, report->sentence);
    buffer_add_string(out, " [");
    terminal_add(out, text_of(report->rule->name));
    buffer_add_string(out, "]\n");
    excerpts_print(&excerpt, report);
    for (size_t i = 0; i < report->notes.count; i++)
        remark_print(out, colour, "note", report->notes.items[i]);
    if (report->help)
        remark_print(out, colour, "help", report->help);
    if (report->fix) {
        remark_print(out, colour, fix_word(report->fix), report->fix->sentence);
        changes_print(&excerpt, report->fix);
    }
    if (report->allowed_because) {
        buffer_add_string(out, "  allowed");
        if (report->allowed_at.source) {
            buffer_add_string(out, " at ");
            place_add(out, report->allowed_at);
        }
        buffer_add_string(out, ": ");
        terminal_add(out, text_of(report->allowed_because));
        buffer_add_string(out, "\n");
    }
}

/* "2 errors, 1 warning; 1 report allowed" and a newline; nothing when there are none. */
void reports_text_end(struct buffer *out, const struct reports *counts)
{
    const size_t of_severity[] = {counts->errors, counts->warnings, counts->notes};
    static const char *const words[] = {"error", "warning", "note"};
    const char *separator = "";
    if (counts->flooded)
        buffer_add_string(out, "not every report is shown; the counts include all\n");
    for (size_t i = 0; i < 3; i++)
        if (of_severity[i]) {
            buffer_format(out, "%s%zu %s%s", separator, of_severity[i], words[i],
                          of_severity[i] == 1 ? "" : "s");
            separator = ", ";
        }
    if (*separator)
        separator = "; ";
    if (counts->allowed)
        buffer_format(out, "%s%zu report%s allowed", separator, counts->allowed,
                      counts->allowed == 1 ? "" : "s");
    if (*separator || counts->allowed)
        buffer_add_string(out, "\n");
}

void reports_text_list(struct buffer *out, const struct reports *reports, bool colour)
{
    for (size_t i = 0; i < reports->all.count; i++) {
        if (reports->all.items[i]->allowed_because)
            continue;
        report_text_print(out, reports->all.items[i], colour);
        buffer_add_string(out, "\n");
    }
}
