/* One file of a plan in memory, and places in it. */
#ifndef PRILL_LEXER_SOURCE_H
#define PRILL_LEXER_SOURCE_H

#include "lexer/text.h"

/* Larger files are refused: a token keeps its offset in 27 bits, and no season needs more. */
enum { SOURCE_LIMIT = 120 * 1024 * 1024 };

struct source;

/* A stretch of bytes [start, end) of one source. `source` is NULL for a report about no text. */
struct place {
    const struct source *source;
    uint32_t start, end;
};

struct source {
    const char *path;           /* as the user would write it; "<stdin>" or "library/NAME" otherwise */
    const unsigned char *bytes; /* followed by one NUL that is not part of the text */
    uint32_t length;
    uint32_t from;             /* where reading it begins: 0, but in the library, of which entries are read */
    uint32_t index;            /* 0 for the first file of the compilation */
    bool library;              /* built into the program: shown, never edited */
    struct place used_at;      /* the `use` or `follow` that brought it in; source NULL for the first file */
    const uint32_t *line_ends; /* how many there are before each stretch of it; made by source_init */
};

/* `bytes` must stay valid and hold a NUL at [length]. */
void source_init(struct source *source, struct arena *arena, const char *path, const unsigned char *bytes,
                 uint32_t length);

struct position {
    uint32_t line;         /* from 1 */
    uint32_t byte_column;  /* from 1, in bytes */
    uint32_t column;       /* from 1, in terminal cells: tab stops every 8, wide characters 2, marks 0 */
    uint32_t utf16_column; /* from 1, in UTF-16 units */
};

/* `offset` may be the text's length. Inside a character it counts as the character's start, but in
 * byte_column. */
struct position source_position(const struct source *source, uint32_t offset);

/* The line alone, from 1: source_position counts the columns too. */
uint32_t source_line_number(const struct source *source, uint32_t offset);

/* The offset where a line begins, which counts from 1; the text has as many. */
uint32_t source_line_start(const struct source *source, uint32_t line);

/* The line's text without its line end ("\n" or "\r\n"); `line` counts from 1. */
struct text source_line(const struct source *source, uint32_t line);

/* "" for a place without a source. */
struct text place_text(struct place place);

/* The same as a sentence quotes it: on one line, with one blank for each run of blanks, line ends and
 * comments. What stands in quotation marks is left as it is. */
const char *place_words(struct arena *arena, struct place place);

/* Terminal cells a character takes: 0, 1 or 2 (Unicode 15.0). Independent of the locale. */
int character_width(uint32_t code_point);

/* Decodes one UTF-8 character of `text`; an invalid byte gives 0xFFFD and length 1. Never reads past the end.
 * `at` is less than the text's length. */
uint32_t text_character(struct text text, size_t at, size_t *length);

#endif
