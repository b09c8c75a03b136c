#include "compiler/output/change.h"

#include <assert.h>

enum {
    CHANGED_LINES = 8
}; /* shown of either side; a fix is a few words, and a long one is read in the editor */

/* Lines of one side of a change, and the bytes [from, to) of them that differ. */
struct side {
    struct text lines;
    size_t from, to;
};

struct change {
    uint32_t line; /* number of the first */
    struct side before, after;
};

/* Bytes of `lines` from `start` to the end of the line's text, its line end not counted. */
static size_t line_length(struct text lines, size_t start)
{
    size_t end = start;
    while (end < lines.length && lines.start[end] != '\n')
        end++;
    return end - start;
}

static void side_drop(struct side *side, size_t bytes)
{
    side->lines.start += bytes;
    side->lines.length -= bytes;
    side->from = side->from > bytes ? side->from - bytes : 0;
    side->to = side->to > bytes ? side->to - bytes : 0;
}

/* Leaves out the first line where both sides have it and either goes on. */
static bool change_drop_first(struct change *change)
{
    struct side *before = &change->before, *after = &change->after;
    size_t length = line_length(before->lines, 0);
    if (length != line_length(after->lines, 0) ||
        !text_equal((struct text){before->lines.start, length}, (struct text){after->lines.start, length}))
        return false;
    if (length == before->lines.length && length == after->lines.length)
        return false;
    side_drop(before, length < before->lines.length ? length + 1 : length);
    side_drop(after, length < after->lines.length ? length + 1 : length);
    change->line++;
    return true;
}

/* The last line of `lines` with the line end before it, if any. */
static struct text last_line(struct text lines)
{
    size_t start = lines.length;
    while (start > 0 && lines.start[start - 1] != '\n')
        start--;
    return (struct text){lines.start + start, lines.length - start};
}

/* Leaves out a last line that both sides have. */
static void change_drop_last(struct change *change)
{
    struct text *before = &change->before.lines, *after = &change->after.lines;
    struct text line = last_line(*before);
    if (!text_equal(line, last_line(*after)) ||
        (line.length == before->length && line.length == after->length))
        return;
    before->length -= line.length;
    after->length -= line.length;
}

static struct text text_between(const struct source *source, size_t from, size_t to)
{
    return (struct text){(const char *)source->bytes + from, to - from};
}

/* `count` edits of one source, in the order of their places, the next beginning on the line where one ends.
 */
static struct change change_of(struct arena *arena, const struct edit *edits, size_t count)
{
    struct place first = edits[0].place, last = edits[count - 1].place;
    const struct source *source = first.source;
    assert(source);
    struct change change = {.line = place_first_line(first)};
    size_t start = source->line_starts[change.line - 1];
    struct text end_line = source_line(source, place_last_line(last));
    size_t end = (size_t)(end_line.start - (const char *)source->bytes) + end_line.length;
    if (end < last.end)
        end = last.end;
    struct buffer after = {.arena = arena};
    size_t at = start;
    for (size_t i = 0; i < count; i++) {
        buffer_add(&after, text_between(source, at, edits[i].place.start));
        if (i == 0)
            change.after.from = after.length;
        buffer_add_string(&after, edits[i].replacement);
        at = edits[i].place.end;
    }
    change.after.to = after.length;
    buffer_add(&after, text_between(source, at, end));
    change.after.lines = (struct text){buffer_string(&after), after.length};
    change.before = (struct side){text_between(source, start, end), first.start - start, last.end - start};
    return change;
}

static void side_print(const struct excerpt *excerpt, uint32_t number, char border, enum tint tint,
                       struct side side)
{
    size_t at = 0;
    for (int shown = 0; at < side.lines.length; shown++) {
        if (shown == CHANGED_LINES) {
            buffer_format(excerpt->out, "  %*s %c ...\n", excerpt->digits, "", border);
            return;
        }
        size_t length = line_length(side.lines, at);
        struct text line = {side.lines.start + at, length};
        if (length && line.start[length - 1] == '\r')
            line.length--;
        excerpt_line(excerpt, number++, border, tint, line, side.from > at ? side.from - at : 0,
                     side.to > at ? side.to - at : 0);
        at += length + 1;
    }
}

static void change_print(const struct excerpt *excerpt, const struct edit *edits, size_t count)
{
    struct change change = change_of(excerpt->out->arena, edits, count);
    while (change_drop_first(&change))
        continue;
    change_drop_last(&change);
    side_print(excerpt, change.line, '-', TINT_OLD, change.before);
    side_print(excerpt, change.line, '+', TINT_NEW, change.after);
}

static bool edits_share_a_line(struct place a, struct place b)
{
    return a.source == b.source && a.end <= b.start && place_last_line(a) == place_first_line(b);
}

void changes_print(const struct excerpt *excerpt, const struct fix *fix)
{
    struct edit edits[2] = {fix->edits[0], fix->edits[1]};
    size_t count = fix->edit_count;
    if (count == 2 && edits[0].place.source == edits[1].place.source &&
        edits[1].place.start < edits[0].place.start) {
        edits[0] = fix->edits[1];
        edits[1] = fix->edits[0];
    }
    bool together = count == 2 && edits_share_a_line(edits[0].place, edits[1].place);
    for (size_t i = 0; i < count; i += together ? 2 : 1)
        change_print(excerpt, edits + i, together ? 2 : 1);
}
