/* Text from a plan made safe for a terminal: what would move its cursor, hide or reorder text is spelled out.
 */
#ifndef PRILL_FORM_TERMINAL_TEXT_H
#define PRILL_FORM_TERMINAL_TEXT_H

#include "lexer/source.h"

/* One character of a text, as it is shown. */
struct shown_character {
    char string[16]; /* UTF-8, ended by a NUL */
    uint32_t cells;  /* terminal cells that `string` takes; 0 for a combining mark */
    size_t taken;    /* bytes of the text that it stands for; at least 1 */
};

/* The character at byte `at` (below the text's length) of a line whose first character stands in cell 0.
 * `cell` is where this one will stand: a tab runs to the next of the stops every 8 cells.
 * Control and invisible characters become \u{1b}, bytes that are not UTF-8 become \x{ff}. */
struct shown_character character_shown(struct text text, size_t at, uint32_t cell);

/* How many bytes from `at` on are plain ASCII: each a cell, shown as it is. */
size_t plain_length(struct text text, size_t at);

/* Appends `text` so that it stays on one line: tabs and line ends are spelled out like all control
 * characters. */
void terminal_add(struct buffer *out, struct text text);

/* Appends the number, with blanks before it up to so many cells. */
void integer_add(struct buffer *out, long long value, size_t cells);

/* What an output marks with colour. Colour adds to signs and words and never stands alone. */
enum tint { TINT_NONE, TINT_ERROR, TINT_WARNING, TINT_NOTE, TINT_STRONG, TINT_DIM, TINT_NEW, TINT_OLD };

/* Starts and ends a tint; both add nothing where `colour` is false or the tint is TINT_NONE. */
void tint_begin(struct buffer *out, bool colour, enum tint tint);
void tint_end(struct buffer *out, bool colour, enum tint tint);

#endif
