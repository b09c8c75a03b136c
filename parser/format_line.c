#include "parser/format_line.h"

#include <string.h>

static enum token_kind kind_of(const struct tokens *tokens, uint32_t token)
{
    return (enum token_kind)tokens->items[token].kind;
}

/* A tab stands for the blank that keeps two numbers from being read as one. */
const char *blank_between(const struct tokens *tokens, uint32_t left, uint32_t right)
{
    enum token_kind left_kind = kind_of(tokens, left), right_kind = kind_of(tokens, right);
    if (right_kind == TOKEN_COMMA || right_kind == TOKEN_COLON || right_kind == TOKEN_CLOSE_GROUP ||
        left_kind == TOKEN_OPEN_GROUP ||
        ((left_kind == TOKEN_LESS || left_kind == TOKEN_MORE) && right_kind == TOKEN_NUMBER))
        return "";
    bool touches = tokens->items[left].end == tokens->items[right].start;
    if (right_kind == TOKEN_MARK && touches && (left_kind == TOKEN_NUMBER || left_kind == TOKEN_RANGE))
        return ""; /* the mark of feet or inches is one only there */
    if (left_kind == TOKEN_SLASH && right_kind == TOKEN_SLASH)
        return " ";
    if (left_kind == TOKEN_SLASH || right_kind == TOKEN_SLASH) {
        /* Units are written `lb/acre`; `4 / 5` without its blanks would be a fraction. */
        uint32_t slash = left_kind == TOKEN_SLASH ? left : right;
        enum token_kind next = kind_of(tokens, slash + 1);
        bool digits = next == TOKEN_NUMBER || next == TOKEN_PERCENT || next == TOKEN_DATE ||
                      next == TOKEN_GRADE || next == TOKEN_CLOCK || next == TOKEN_RANGE;
        bool between_numbers = slash > 0 && kind_of(tokens, slash - 1) == TOKEN_NUMBER && digits;
        return between_numbers ? " " : "";
    }
    if (left_kind != TOKEN_NUMBER || (right_kind != TOKEN_NUMBER && right_kind != TOKEN_RANGE))
        return " ";
    /* `1` and `1/2` parted by a tab are two numbers; parted by a blank they are one and a half. */
    struct text whole = token_text(tokens, left), part = token_text(tokens, right);
    bool digits = true;
    for (size_t i = whole.start[0] == '-'; i < whole.length; i++)
        digits = digits && whole.start[i] >= '0' && whole.start[i] <= '9';
    return digits && memchr(part.start, '/', part.length) ? "\t" : " ";
}

struct line *line_add(struct lines *lines, enum line_kind kind, uint32_t depth, uint32_t block)
{
    struct line line = {
        .kind = kind,
        .depth = depth,
        .block = block,
        .comment = NO_TOKEN,
        .first_cell = (uint32_t)lines->cells.count,
    };
    VECTOR_PUSH(lines->arena, lines, line);
    return &lines->items[lines->count - 1];
}

void line_add_cell(struct lines *lines, uint32_t first, uint32_t end)
{
    struct cell cell = {first, end, tokens_width(lines->tokens, first, end), 0};
    VECTOR_PUSH(lines->arena, &lines->cells, cell);
    lines->items[lines->count - 1].cell_count++;
}

uint32_t tokens_width(const struct tokens *tokens, uint32_t first, uint32_t end)
{
    uint32_t width = 0;
    for (uint32_t i = first; i < end; i++) {
        struct text text = token_text(tokens, i);
        size_t length;
        for (size_t at = 0; at < text.length; at += length)
            width += (uint32_t)character_width(text_character(text, at, &length));
        if (i + 1 < end)
            width += *blank_between(tokens, i, i + 1) != '\0';
    }
    return width;
}

/* The gap behind a cell was worked out with its neighbours; the last has none: no line ends in blanks. */
void lines_print(const struct lines *lines, struct buffer *out)
{
    for (size_t at = 0; at < lines->count; at++) {
        const struct line *line = &lines->items[at];
        uint32_t column = line->margin;
        if (line->cell_count)
            buffer_repeat(out, ' ', line->margin);
        else
            column = 0;
        for (uint32_t i = 0; i < line->cell_count; i++) {
            const struct cell *cell = &lines->cells.items[line->first_cell + i];
            bool last = i + 1 == line->cell_count;
            for (uint32_t j = cell->first; j < cell->end; j++) {
                buffer_add(out, token_text(lines->tokens, j));
                if (j + 1 < cell->end)
                    buffer_add_string(out, blank_between(lines->tokens, j, j + 1));
            }
            buffer_repeat(out, ' ', last ? 0 : cell->gap);
            column += cell->width + (last ? 0 : cell->gap);
        }
        if (line->comment != NO_TOKEN) {
            buffer_repeat(out, ' ', line->comment_column - column);
            buffer_add(out, token_text(lines->tokens, line->comment));
        }
        buffer_add_string(out, "\n");
    }
}
