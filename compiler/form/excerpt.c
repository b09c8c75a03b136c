#include "compiler/form/excerpt.h"

#include <string.h>

enum {
    EXCERPT_BEFORE = 30, /* cells kept to the left of the mark in a line that is cut */
    MARKS_ON_A_CELL = 8, /* combining marks shown on one character; more are noise or an attack */
    NEAR = 1024 /* bytes read on either side of a mark; a line of megabytes is not read for every report */
};

static const char cut_sign[] = "...";

/* Cells [from, to) of a line as it is shown. */
struct cell_range {
    uint32_t from, to;
};

uint32_t place_first_line(struct place place)
{
    return source_line_number(place.source, place.start);
}

uint32_t place_last_line(struct place place)
{
    return source_line_number(place.source, place.end > place.start ? place.end - 1 : place.start);
}

/* The cells that bytes [from, to) take; none, at the line's end, where it has no such bytes. A place that
 * begins at a combining mark begins at the character which carries it. */
static struct cell_range line_measure(struct text line, size_t from, size_t to, uint32_t *width)
{
    struct cell_range range = {UINT32_MAX, 0};
    uint32_t cell = 0, carrier = 0;
    for (size_t at = 0; at < line.length;) {
        uint32_t plain = (uint32_t)plain_length(line, at);
        if (plain) {
            if (range.from == UINT32_MAX && at + plain > from)
                range.from = cell + (uint32_t)(from > at ? from - at : 0);
            if (at < to)
                range.to = cell + (to - at < plain ? (uint32_t)(to - at) : plain);
            at += plain;
            cell += plain;
            carrier = cell - 1;
            continue;
        }
        struct shown_character shown = character_shown(line, at, cell);
        carrier = shown.cells ? cell : carrier;
        cell += shown.cells;
        if (range.from == UINT32_MAX && at + shown.taken > from)
            range.from = carrier;
        if (at < to)
            range.to = cell;
        at += shown.taken;
    }
    if (range.from == UINT32_MAX)
        range.from = cell;
    *width = cell;
    return range;
}

/* `number` 0 leaves the number out; `border` stands between it and the text. */
static void gutter_print(const struct excerpt *excerpt, uint32_t number, char border)
{
    struct buffer *out = excerpt->out;
    tint_begin(out, excerpt->colour, TINT_DIM);
    if (number)
        integer_add(out, number, 2 + (size_t)excerpt->digits);
    else
        buffer_repeat(out, ' ', 2 + (size_t)excerpt->digits);
    buffer_add(out, (struct text){(char[]){' ', border}, 2});
    tint_end(out, excerpt->colour, TINT_DIM);
}

/* A line to be quoted, or the part of it near what is marked, and the cells of it that are shown. */
struct quote {
    struct text text;
    size_t start; /* byte of the line where `text` begins */
    bool cut_before, cut_after;
    struct cell_range marked, window;
};

/* Of a very long line the part around byte `from`, with no character cut. */
static struct quote quote_of(struct text line, size_t from, size_t to)
{
    size_t end = line.length, at = from < line.length ? from : line.length;
    struct quote quote = {.start = 0};
    if (line.length / 2 > NEAR) {
        quote.start = at > NEAR ? at - NEAR : 0;
        end = line.length - at > NEAR ? at + NEAR : end;
    }
    for (int i = 0; i < 3 && quote.start > 0 && (line.start[quote.start] & 0xC0) == 0x80; i++)
        quote.start++;
    for (int i = 0; i < 3 && end < line.length && (line.start[end] & 0xC0) == 0x80; i++)
        end--;
    quote.text = (struct text){line.start + quote.start, end - quote.start};
    uint32_t width;
    quote.marked =
        line_measure(quote.text, from - quote.start, to > quote.start ? to - quote.start : 0, &width);
    uint32_t left = quote.marked.from > EXCERPT_BEFORE ? quote.marked.from - EXCERPT_BEFORE : 0;
    uint32_t spare = width > EXCERPT_CELLS ? width - EXCERPT_CELLS : 0;
    quote.window.from = left < spare ? left : spare;
    quote.window.to = spare ? quote.window.from + EXCERPT_CELLS : width;
    quote.cut_before = quote.start > 0 || quote.window.from > 0;
    quote.cut_after = end < line.length || quote.window.to < width;
    return quote;
}

/* Bytes of a line that belong to `place`. Indentation of a later line is not what the place is about. */
static void place_bytes(struct place place, struct text line, size_t *from, size_t *to)
{
    size_t start = (size_t)((const unsigned char *)line.start - place.source->bytes);
    *to = place.end > start ? place.end - start : 0;
    *from = place.start >= start ? place.start - start : strspn(line.start, " \t");
}

/* The characters in the window; one that is cut by its edge leaves blanks. An empty line gets no
 * blank after its border, so that no output line ends in one. */
static void line_print(const struct excerpt *excerpt, uint32_t number, char border, enum tint tint,
                       const struct quote *quote)
{
    struct buffer *out = excerpt->out;
    const struct text line = quote->text;
    const struct cell_range window = quote->window;
    gutter_print(excerpt, number, border);
    if (line.length) {
        buffer_add_string(out, " ");
        tint_begin(out, excerpt->colour, tint);
        buffer_add_string(out, quote->cut_before ? cut_sign : "");
    }
    uint32_t cell = 0, stacked = 0;
    for (size_t at = 0; at < line.length && cell <= window.to;) {
        uint32_t plain = (uint32_t)plain_length(line, at), end = cell + plain;
        uint32_t from = cell > window.from ? cell : window.from;
        if (plain) {
            uint32_t to = end < window.to ? end : window.to;
            buffer_add(out, (struct text){line.start + at + (from - cell), to > from ? to - from : 0});
            stacked = 0;
            cell = end;
            at += plain;
            continue;
        }
        struct shown_character shown = character_shown(line, at, cell);
        end = cell + shown.cells;
        stacked = shown.cells ? 0 : stacked + 1;
        bool carried =
            stacked == 0 || (stacked <= MARKS_ON_A_CELL && (cell > window.from || window.from == 0));
        uint32_t to = end < window.to ? end : window.to;
        if (cell >= window.from && end <= window.to && carried)
            buffer_add_string(out, shown.string);
        else if (stacked == 0)
            buffer_repeat(out, ' ', to > from ? to - from : 0);
        cell = end;
        at += shown.taken;
    }
    if (line.length) {
        buffer_add_string(out, quote->cut_after ? cut_sign : "");
        tint_end(out, excerpt->colour, tint);
    }
    buffer_add_string(out, "\n");
}

void excerpt_line(const struct excerpt *excerpt, uint32_t number, char border, enum tint tint,
                  struct text line, size_t at)
{
    struct quote quote = quote_of(line, at, at);
    line_print(excerpt, number, border, tint, &quote);
}

/* Signs under the marked cells of the quoted line, at least one, and the label after them. */
static void row_print(const struct excerpt *excerpt, const struct mark *mark, struct quote quote,
                      const char *label)
{
    struct buffer *out = excerpt->out;
    struct cell_range marked = quote.marked, window = quote.window;
    uint32_t to = marked.to < window.to ? marked.to : window.to;
    gutter_print(excerpt, 0, '|');
    buffer_repeat(out, ' ', 1 + (quote.cut_before ? sizeof cut_sign - 1 : 0) + marked.from - window.from);
    tint_begin(out, excerpt->colour, mark->tint);
    buffer_repeat(out, mark->sign, to > marked.from ? to - marked.from : 1);
    if (label) {
        buffer_add_string(out, " ");
        terminal_add(out, text_of(label));
    }
    tint_end(out, excerpt->colour, mark->tint);
    buffer_add_string(out, "\n");
}

/* Of a place over several lines the first and the last say enough; the lines between are not what is
 * wrong. */
size_t excerpt_print(const struct excerpt *excerpt, const struct mark *marks, size_t count)
{
    struct place place = marks[0].place;
    uint32_t first = place_first_line(place), last = place_last_line(place);
    struct text line;
    struct quote quote;
    size_t shown = 1, from, to;
    for (uint32_t number = first;; number = last) {
        line = source_line(place.source, number);
        place_bytes(place, line, &from, &to);
        quote = quote_of(line, from, to);
        line_print(excerpt, number, '|', TINT_NONE, &quote);
        row_print(excerpt, &marks[0], quote, number == last ? marks[0].label : NULL);
        if (number == last)
            break;
        if (last > first + 1)
            buffer_format(excerpt->out, "  %*s\n", excerpt->digits, cut_sign);
    }
    /* A row for each further mark that lies on the quoted line alone and within its window. */
    for (; first == last && shown < count; shown++) {
        const struct mark *mark = &marks[shown];
        if (mark->place.source != place.source || place_first_line(mark->place) != first ||
            place_last_line(mark->place) != first)
            break;
        place_bytes(mark->place, line, &from, &to);
        if (from < quote.start)
            break;
        uint32_t width;
        quote.marked = line_measure(quote.text, from - quote.start, to - quote.start, &width);
        if (quote.marked.from < quote.window.from || (quote.marked.to > quote.window.to && quote.cut_after))
            break;
        row_print(excerpt, mark, quote, mark->label);
    }
    return shown;
}
