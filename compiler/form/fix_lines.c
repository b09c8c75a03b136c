#include "compiler/form/fix_lines.h"

#include <assert.h>

/* A fix is a few words; what is longer, or in lines of no human length, is read in the editor. */
enum {
    CHANGED_LINES = 8,   /* shown of either side */
    CHANGED_BYTES = 8192 /* of the lines as they are; of more nothing is shown */
};

/* Whole lines before and after edits. */
struct change {
    uint32_t line; /* number of the first */
    struct text before, after;
};

/* The first of the lines, without its end; `lines` goes on behind it. */
static struct text line_taken(struct text *lines)
{
    struct text line = {lines->start, 0};
    while (line.length < lines->length && line.start[line.length] != '\n')
        line.length++;
    size_t taken = line.length + (line.length < lines->length);
    *lines = (struct text){lines->start + taken, lines->length - taken};
    return line;
}

/* The text behind the last line end. */
static struct text last_line(struct text lines)
{
    size_t start = lines.length;
    while (start > 0 && lines.start[start - 1] != '\n')
        start--;
    return (struct text){lines.start + start, lines.length - start};
}

static struct text text_between(const struct source *source, size_t from, size_t to)
{
    return (struct text){(const char *)source->bytes + from, to - from};
}

/* Of a long line the part around the first difference is shown, so both sides are cut at the same place. */
static void side_print(const struct excerpt *excerpt, const struct change *change, char border,
                       enum tint tint, struct text lines)
{
    /* How far both sides are the same: what is shown of a long line lies around that byte. */
    size_t same = 0;
    while (same < change->before.length && same < change->after.length &&
           change->before.start[same] == change->after.start[same])
        same++;
    for (uint32_t shown = 0; lines.length > 0; shown++) {
        if (shown == CHANGED_LINES) {
            buffer_format(excerpt->out, "  %*s %c ...\n", excerpt->digits, "", border);
            return;
        }
        struct text line = line_taken(&lines);
        if (line.length && line.start[line.length - 1] == '\r')
            line.length--;
        excerpt_line(excerpt, change->line + shown, border, tint, line, shown ? 0 : same);
    }
}

/* `count` edits of one source, in the order of their places, the next beginning on the line where one
 * ends. */
static void change_print(const struct excerpt *excerpt, const struct edit *edits, size_t count)
{
    struct place first = edits[0].place, last = edits[count - 1].place;
    assert(first.source);
    /* The lines, whole, that edits from `first` to `last` touch: also the one that a line end which goes
     * joins to them. */
    const struct source *source = first.source;
    struct place behind = {source, last.end, last.end};
    struct text end_line = source_line(source, place_first_line(behind));
    size_t end = (size_t)(end_line.start - (const char *)source->bytes) + end_line.length;
    struct change change = {.line = place_first_line(first),
                            .before = text_between(source, source->line_starts[place_first_line(first) - 1],
                                                   end < last.end ? last.end : end)};
    if (change.before.length > CHANGED_BYTES)
        return;
    /* The same lines after the edits. */
    struct buffer edited = {.arena = excerpt->out->arena};
    size_t at = (size_t)(change.before.start - (const char *)source->bytes),
           lines_end = at + change.before.length;
    for (size_t i = 0; i < count; i++) {
        buffer_add(&edited, text_between(source, at, edits[i].place.start));
        buffer_add_string(&edited, edits[i].replacement);
        at = edits[i].place.end;
    }
    buffer_add(&edited, text_between(source, at, lines_end));
    change.after = (struct text){edited.string, edited.length};
    /* The lines at the beginning and the line at the end that stay as they are are left out. */
    struct text before = change.before, after = change.after;
    while (before.length + after.length > 0 && text_equal(line_taken(&before), line_taken(&after))) {
        change.before = before;
        change.after = after;
        change.line++;
    }
    struct text tail = last_line(change.before);
    if (text_equal(tail, last_line(change.after))) {
        change.before.length -= tail.length;
        change.after.length -= tail.length;
    }
    side_print(excerpt, &change, '-', TINT_OLD, change.before);
    side_print(excerpt, &change, '+', TINT_NEW, change.after);
}

/* Edits are shown in the order of their places. */
void changes_print(const struct excerpt *excerpt, const struct fix *fix)
{
    struct edit edits[2] = {fix->edits[0], fix->edits[1]};
    size_t count = fix->edit_count;
    if (count == 2 && edits[0].place.source == edits[1].place.source &&
        edits[1].place.start < edits[0].place.start) {
        edits[0] = fix->edits[1];
        edits[1] = fix->edits[0];
    }
    /* Two edits that share a line are one change. */
    bool together = count == 2 && edits[0].place.source == edits[1].place.source &&
                    edits[0].place.end <= edits[1].place.start &&
                    place_last_line(edits[0].place) == place_first_line(edits[1].place);
    for (size_t i = 0; i < count; i += together ? 2 : 1)
        change_print(excerpt, edits + i, together ? 2 : 1);
}
