/* The lines of a plan while they are laid out: cells in columns, and a comment behind them. */
#ifndef PRILL_PARSER_FORMAT_LINE_H
#define PRILL_PARSER_FORMAT_LINE_H

#include "lexer/token.h"

#define NO_TOKEN UINT32_MAX

/* Tokens [first, end), printed with the blanks that belong between them. Widths are in terminal cells. */
struct cell {
    uint32_t first, end;
    uint32_t width;
    uint32_t gap; /* blanks behind it; found by lines_print */
};

enum line_kind {
    LINE_BLANK,
    LINE_COMMENT,    /* nothing but a comment */
    LINE_PLAIN,      /* at most one cell */
    LINE_PROPERTY,   /* a word, and what it says */
    LINE_NAMED,      /* a word, a name, and what is said of it */
    LINE_WITH_BLOCK, /* a word, the rest of the head, and the whole block on the same line */
    LINE_ROW         /* of a table */
};

enum line_indent {
    INDENT_BLOCK,   /* as deep as the block */
    INDENT_WRAPPED, /* deeper, since it goes on with the statement of the line before */
    INDENT_VALUE,   /* under the value of the statement's first line */
    INDENT_COMMENT  /* a comment that goes on under the one behind the line before */
};

struct line {
    enum line_kind kind;
    enum line_indent indent;
    uint32_t depth;   /* of blocks */
    uint32_t block;   /* its first token: lines of one block share columns */
    uint32_t comment; /* behind the cells; NO_TOKEN without */
    uint32_t first_cell, cell_count;
    uint32_t margin;         /* blanks before the first cell; found by lines_print, as what follows */
    uint32_t comment_column; /* from 0 */
};

struct lines {
    struct arena *arena;
    const struct tokens *tokens;
    struct line *items;
    size_t count, capacity;
    VECTOR(struct cell) cells;
};

/* What goes between two neighbouring tokens of a line: "", " ", or a tab where a blank would join them. */
const char *blank_between(const struct tokens *tokens, uint32_t left, uint32_t right);

/* Adds a line at the end. The pointer is good until the next call. */
struct line *line_add(struct lines *lines, enum line_kind kind, uint32_t depth, uint32_t block);

/* Adds a cell to the last line. */
void line_add_cell(struct lines *lines, uint32_t first, uint32_t end);

/* Terminal cells of tokens [first, end) on one line. */
uint32_t tokens_width(const struct tokens *tokens, uint32_t first, uint32_t end);

/* Finds the columns (format_column.c). */
void lines_align(struct lines *lines);

void lines_print(const struct lines *lines, struct buffer *out);

#endif
