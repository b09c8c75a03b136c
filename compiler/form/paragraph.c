#include "compiler/form/paragraph.h"

#include "compiler/form/terminal_text.h"

static uint32_t cells_of(struct text shown)
{
    uint32_t cells = 0;
    size_t length;
    for (size_t at = 0; at < shown.length; at += length)
        cells += (uint32_t)character_width(text_character(shown, at, &length));
    return cells;
}

static struct text shown_text(struct arena *arena, const char *text)
{
    struct buffer shown = {.arena = arena};
    terminal_add(&shown, text_of(text));
    return (struct text){buffer_string(&shown), shown.length};
}

/* Broken at blanks alone: a bar or a path that is longer than a line is left whole. */
void paragraph_add(struct buffer *out, const char *lead, const char *text)
{
    struct text shown = shown_text(out->arena, text);
    uint32_t indent = cells_of(text_of(lead)), column = indent;
    buffer_add_string(out, lead);
    for (size_t at = 0, start;;) {
        while (at < shown.length && shown.start[at] == ' ')
            at++;
        for (start = at; at < shown.length && shown.start[at] != ' ';)
            at++;
        if (at == start)
            break;
        struct text word = {shown.start + start, at - start};
        uint32_t cells = cells_of(word);
        bool first = column == indent;
        if (!first && column + 1 + cells > PARAGRAPH_CELLS) {
            buffer_add_string(out, "\n");
            buffer_repeat(out, ' ', indent);
            column = indent;
        } else if (!first) {
            buffer_add_string(out, " ");
            column++;
        }
        buffer_add(out, word);
        column += cells;
    }
    buffer_add_string(out, "\n");
}

uint32_t field_add(struct buffer *out, const char *text, uint32_t cells)
{
    struct text shown = shown_text(out->arena, text);
    uint32_t taken = cells_of(shown);
    buffer_add(out, shown);
    if (taken < cells)
        buffer_repeat(out, ' ', cells - taken);
    return taken;
}
