#include "compiler/form/terminal_text.h"

#include <stdio.h>
#include <string.h>

/* Characters that are spelled out: C0, DEL and C1 drive a terminal (ECMA-48); the others are invisible, end a
 * line or reorder what surrounds them (Unicode Standard Annex 9; Unicode Technical Report 36, section 2.4).
 * U+200C and U+200D are left alone: several scripts cannot be written without them. */
static const struct hidden_range {
    uint32_t first, last;
} hidden_ranges[] = {
    {0x0000, 0x001F},   /* C0 */
    {0x007F, 0x009F},   /* DEL, C1 */
    {0x00AD, 0x00AD},   /* soft hyphen */
    {0x061C, 0x061C},   /* Arabic letter mark */
    {0x180E, 0x180E},   /* Mongolian vowel separator */
    {0x200B, 0x200B},   /* zero width space */
    {0x200E, 0x200F},   /* direction marks */
    {0x2028, 0x202E},   /* line and paragraph separators, embeddings and overrides */
    {0x2060, 0x206F},   /* joiners, isolates, deprecated format characters */
    {0xFEFF, 0xFEFF},   /* byte order mark */
    {0xFFF9, 0xFFFB},   /* interlinear annotation */
    {0xE0000, 0xE0FFF}, /* tags and variation selectors of plane 14 */
};

size_t plain_length(struct text text, size_t at)
{
    size_t end = at;
    while (end < text.length && text.start[end] >= ' ' && text.start[end] < 0x7F)
        end++;
    return end - at;
}

/* What is plain ASCII goes first: it is nearly all there is. */
struct shown_character character_shown(struct text text, size_t at, uint32_t cell)
{
    unsigned char byte = (unsigned char)text.start[at];
    if (byte >= 0x20 && byte < 0x7F)
        return (struct shown_character){.string = {(char)byte}, .cells = 1, .taken = 1};
    if (byte == '\t') {
        struct shown_character tab = {.cells = 8 - cell % 8, .taken = 1};
        memset(tab.string, ' ', tab.cells);
        return tab;
    }
    size_t length;
    uint32_t code_point = text_character(text, at, &length);
    struct shown_character shown = {.taken = length};
    bool broken = byte >= 0x80 && length == 1, hidden = broken;
    for (size_t i = 0; i < sizeof hidden_ranges / sizeof *hidden_ranges; i++)
        hidden = hidden || (code_point >= hidden_ranges[i].first && code_point <= hidden_ranges[i].last);
    if (hidden) {
        shown.cells = (uint32_t)snprintf(shown.string, sizeof shown.string, "\\%c{%x}", broken ? 'x' : 'u',
                                         broken ? byte : code_point);
        return shown;
    }
    shown.cells = (uint32_t)character_width(code_point);
    memcpy(shown.string, text.start + at, length);
    return shown;
}

void terminal_add(struct buffer *out, struct text text)
{
    for (size_t at = 0; at < text.length;) {
        size_t plain = plain_length(text, at);
        buffer_add(out, (struct text){text.start + at, plain});
        at += plain;
        if (at == text.length)
            break;
        struct shown_character shown = character_shown(text, at, 0);
        buffer_add_string(out, text.start[at] == '\t' ? "\\u{9}" : shown.string);
        at += shown.taken;
    }
}

/* By hand: printf takes half the time of a long document, in which most values are small numbers. */
void integer_add(struct buffer *out, long long value, size_t cells)
{
    char digits[24];
    size_t at = sizeof digits;
    unsigned long long rest = value < 0 ? 0 - (unsigned long long)value : (unsigned long long)value;
    do
        digits[--at] = (char)('0' + rest % 10);
    while (rest /= 10);
    if (value < 0)
        digits[--at] = '-';
    if (cells > sizeof digits - at)
        buffer_repeat(out, ' ', cells - (sizeof digits - at));
    buffer_add(out, (struct text){digits + at, sizeof digits - at});
}

/* Select Graphic Rendition (ECMA-48, 8.3.117), the eight colours that every terminal has. */
static const char *const tint_codes[] = {
    [TINT_NONE] = "",           [TINT_ERROR] = "\033[1;31m", [TINT_WARNING] = "\033[1;33m",
    [TINT_NOTE] = "\033[1;36m", [TINT_STRONG] = "\033[1m",   [TINT_DIM] = "\033[2m",
    [TINT_NEW] = "\033[32m",    [TINT_OLD] = "\033[31m",
};

void tint_begin(struct buffer *out, bool colour, enum tint tint)
{
    if (colour)
        buffer_add_string(out, tint_codes[tint]);
}

void tint_end(struct buffer *out, bool colour, enum tint tint)
{
    if (colour && tint != TINT_NONE)
        buffer_add_string(out, "\033[0m");
}
