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

/* Edits are shown in the order of their places; two that share a line are one change. */
void changes_print(const struct excerpt *excerpt, const struct fix *fix)
{
    struct edit edits[2] = {fix->edits[0], fix->edits[1]};
    size_t count = fix->edit_count;
    if (count == 2 && edits[0].place.source == edits[1].place.source &&
        edits[1].place.start < edits[0].place.start) {
        edits[0] = fix->edits[1];
        edits[1] = fix->edits[0];
    }
    bool together = count == 2 && edits[0].place.source == edits[1].place.source &&
                    edits[0].place.end <= edits[1].place.start &&
                    place_last_line(edits[0].place) == place_first_line(edits[1].place);
    for (size_t i = 0, behind; i < count; i = behind) {
        behind = together ? count : i + 1;
        struct place first = edits[i].place, last = edits[behind - 1].place;
        assert(first.source);
        /* The lines, whole, that the edits touch: also the one that a line end which goes joins to them. */
        const struct source *source = first.source;
        const char *bytes = (const char *)source->bytes;
        struct text end_line =
            source_line(source, place_first_line((struct place){source, last.end, last.end}));
        size_t at = source_line_start(source, place_first_line(first));
        size_t end = (size_t)(end_line.start - bytes) + end_line.length;
        end = end < last.end ? last.end : end;
        struct change change = {.line = place_first_line(first), .before = {bytes + at, end - at}};
        if (change.before.length > CHANGED_BYTES)
            continue;
        /* The same lines after the edits. */
        struct buffer edited = {.arena = excerpt->out->arena};
        for (size_t j = i; j < behind; j++) {
            buffer_add(&edited, (struct text){bytes + at, edits[j].place.start - at});
            buffer_add_string(&edited, edits[j].replacement);
            at = edits[j].place.end;
        }
        buffer_add(&edited, (struct text){bytes + at, end - at});
        change.after = (struct text){buffer_string(&edited), edited.length};
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
}
