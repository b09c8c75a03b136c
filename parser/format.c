/* Turns a tree into lines and has them printed.
 *
 * Walks blocks and statements by the tree, and what stands between them by the tokens: comments and empty
 * lines belong to no statement. */
#include "parser/format.h"

#include "parser/format_line.h"

#include <assert.h>

struct format {
    const struct tree *tree;
    const struct tokens *tokens;
    const struct format_language *language;
    struct lines lines;
    uint32_t trailing_column; /* in the old text, of the comment behind the last line; 0 without */
};

/* A block while its statements are laid out. */
struct frame {
    const struct block *block;
    uint32_t depth; /* of blocks; 0 for the whole plan */
    int kind;
    enum block_layout layout;
};

static enum token_kind kind_of(const struct format *format, uint32_t token)
{
    return (enum token_kind)format->tokens->items[token].kind;
}

/* Behind the newest line. */
static void add_trailing_comment(struct format *format, uint32_t token)
{
    assert(format->lines.count > 0);
    format->lines.items[format->lines.count - 1].comment = token;
    format->trailing_column =
        source_position(format->tree->source, format->tokens->items[token].start).column;
}

/* On a line of its own; under a comment behind the line before it goes on with that one. */
static void add_comment_line(struct format *format, uint32_t token, uint32_t depth, uint32_t block,
                             enum line_indent indent)
{
    struct position old = source_position(format->tree->source, format->tokens->items[token].start);
    bool goes_on = format->trailing_column && format->trailing_column == old.column;
    struct line *line = line_add(&format->lines, LINE_COMMENT, depth, block);
    line->comment = token;
    line->indent = goes_on ? INDENT_COMMENT : indent;
    if (!goes_on)
        format->trailing_column = 0;
}

static struct line *add_line(struct format *format, const struct frame *frame, enum line_kind kind)
{
    format->trailing_column = 0;
    return line_add(&format->lines, kind, frame->depth, frame->block->open);
}

/* ---- cells of a statement's first line ---- */

/* The end of the cell that begins at `first`: the next token with a blank before it, outside of groups. */
static uint32_t cell_end(const struct format *format, uint32_t first, uint32_t end)
{
    int groups = 0;
    for (uint32_t token = first; token < end; token++) {
        if (token > first && groups <= 0 && *blank_between(format->tokens, token - 1, token) == ' ')
            return token;
        groups +=
            (kind_of(format, token) == TOKEN_OPEN_GROUP) - (kind_of(format, token) == TOKEN_CLOSE_GROUP);
    }
    return end;
}

/* The first row names the columns, some in several words. */
static void add_head_row(struct format *format, const struct frame *frame, uint32_t first, uint32_t end)
{
    struct text *words = ARENA_ARRAY(format->lines.arena, end - first, struct text);
    for (uint32_t i = first; i < end; i++)
        words[i - first] = token_text(format->tokens, i);
    add_line(format, frame, LINE_ROW);
    for (uint32_t token = first; token < end;) {
        size_t taken = format->language->column_words(words + (token - first), end - token);
        uint32_t last = token + (uint32_t)(taken < 1 ? 1 : taken > end - token ? end - token : taken) - 1;
        uint32_t next = cell_end(format, last, end);
        line_add_cell(&format->lines, token, next);
        token = next;
    }
}

/* A word behind a number belongs to the same value, as the rating in `11 L` does; some begin the next one. */
static void add_row(struct format *format, const struct frame *frame, uint32_t first, uint32_t end)
{
    static const char *const begins[] = {"none", "below", "above"};
    add_line(format, frame, LINE_ROW);
    for (uint32_t token = first; token < end;) {
        uint32_t next = cell_end(format, token, end);
        bool goes_on = token != first && next < end && kind_of(format, next - 1) == TOKEN_NUMBER &&
                       kind_of(format, next) == TOKEN_WORD;
        for (size_t i = 0; i < sizeof begins / sizeof *begins && goes_on; i++)
            goes_on = !text_is(token_text(format->tokens, next), begins[i]);
        if (goes_on)
            next = cell_end(format, next, end);
        line_add_cell(&format->lines, token, next);
        token = next;
    }
}

/* ---- statements ---- */

/* Tokens and statements are walked side by side: comments and blank lines belong to no statement. */
static void add_block(struct format *format, const struct block *block, uint32_t depth, int kind);

/* The first line break among tokens [first, end), or `end`. */
static uint32_t line_end(const struct format *format, uint32_t first, uint32_t end)
{
    while (first < end && kind_of(format, first) != TOKEN_NEWLINE && kind_of(format, first) != TOKEN_COMMENT)
        first++;
    return first;
}

/* Further lines of a statement, up to `end`. */
static void add_wrapped(struct format *format, const struct frame *frame, uint32_t token, uint32_t end,
                        enum line_indent indent)
{
    bool at_line_start = false;
    while (token < end) {
        enum token_kind kind = kind_of(format, token);
        uint32_t next = token + 1;
        if (kind == TOKEN_COMMENT && at_line_start) {
            add_comment_line(format, token, frame->depth, frame->block->open, indent);
        } else if (kind == TOKEN_COMMENT) {
            add_trailing_comment(format, token);
        } else if (kind != TOKEN_NEWLINE) {
            next = line_end(format, token, end);
            add_line(format, frame, LINE_PLAIN)->indent = indent;
            line_add_cell(&format->lines, token, next);
        }
        at_line_start = kind == TOKEN_NEWLINE;
        token = next;
    }
}

/* The terms, and the block as far as it belongs on the same line, up to `end`. */
static void add_terms(struct format *format, const struct frame *frame, const struct statement *statement,
                      uint32_t end)
{
    uint32_t first = statement->first, first_end = line_end(format, first, end);
    bool wrapped = first_end < end, opens = statement->block && end == statement->block->open + 1;
    bool has_block = end > statement->end;
    if (opens || frame->layout == LAYOUT_PLAIN || (frame->layout == LAYOUT_TABLE && (wrapped || has_block))) {
        add_line(format, frame, LINE_PLAIN);
        line_add_cell(&format->lines, first, first_end);
        add_wrapped(format, frame, first_end, end, INDENT_WRAPPED);
    } else if (frame->layout == LAYOUT_TABLE) {
        (statement == frame->block->first ? add_head_row : add_row)(format, frame, first, end);
    } else {
        /* Tokens [first, first_end) stand on one line; from `open` on they are the block, if there is one. */
        const struct format_language *language = format->language;
        uint32_t open = wrapped || !has_block ? first_end : statement->end;
        uint32_t head = first, word = cell_end(format, first, open); /* several words may be read as one */
        while (word < open &&
               language->head_goes_on(token_text(format->tokens, head), token_text(format->tokens, word))) {
            head = word;
            word = cell_end(format, word, open);
        }
        uint32_t name = word < open ? cell_end(format, word, open) : open, middle = word;
        enum line_kind kind = word == first_end ? LINE_PLAIN : LINE_PROPERTY;
        if (word < open && open < first_end) {
            kind = LINE_WITH_BLOCK;
            middle = open;
        } else if (name < open && language->declares_name(frame->kind, token_text(format->tokens, first))) {
            kind = LINE_NAMED;
            middle = name;
        }
        const uint32_t cells[] = {first, word, middle,
                                  first_end}; /* where each begins; empty ones are none */
        add_line(format, frame, kind);
        for (size_t i = 0; i + 1 < sizeof cells / sizeof *cells; i++)
            if (cells[i] < cells[i + 1])
                line_add_cell(&format->lines, cells[i], cells[i + 1]);
        add_wrapped(format, frame, first_end, end, INDENT_VALUE);
    }
}

/* Returns the token behind the statement. A block stays on its statement's line when it was written so and
 * the line is not too long. */
static uint32_t add_statement(struct format *format, const struct frame *frame,
                              const struct statement *statement)
{
    const struct block *block = statement->block;
    if (!block) {
        add_terms(format, frame, statement, statement->end);
        return statement->end;
    }
    uint32_t end = block->close + 1, start = statement->end; /* of the line that the head ends on */
    while (start > statement->first && kind_of(format, start - 1) != TOKEN_NEWLINE &&
           kind_of(format, start - 1) != TOKEN_COMMENT)
        start--;
    if (line_end(format, block->open, end) == end &&
        frame->depth * FORMAT_INDENT + tokens_width(format->tokens, start, end) <= FORMAT_WIDTH) {
        add_terms(format, frame, statement, end);
        return end;
    }
    add_terms(format, frame, statement, block->open + 1);
    add_block(format, block, frame->depth + 1,
              format->language->block_kind(frame->kind, token_text(format->tokens, statement->first),
                                           token_text(format->tokens, statement->first + 1)));
    add_line(format, frame, LINE_PLAIN);
    line_add_cell(&format->lines, block->close, end);
    return end;
}

/* ---- blocks ---- */

/* Items in the order of the text, blank lines between them kept but at the block's ends. */
static void add_block(struct format *format, const struct block *block, uint32_t depth, int kind)
{
    struct frame frame = {block, depth, kind, format->language->block_layouts[kind]};
    const struct statement *statement = block->first;
    uint32_t token = depth ? block->open + 1 : block->open;
    bool line_begun = depth > 0, empty = true;
    int line_breaks = 0;
    while (token < block->close) {
        enum token_kind token_kind = kind_of(format, token);
        if (token_kind == TOKEN_NEWLINE) {
            line_breaks++;
            line_begun = false;
            token++;
        } else if (token_kind == TOKEN_COMMENT && line_begun) {
            add_trailing_comment(format, token);
            token++;
        } else {
            if (!empty && line_breaks > 1) {
                line_add(&format->lines, LINE_BLANK, 0, block->open);
                format->trailing_column = 0;
            }
            if (token_kind == TOKEN_COMMENT) {
                add_comment_line(format, token, depth, block->open, INDENT_BLOCK);
                token++;
            } else {
                assert(statement && statement->first == token);
                token = add_statement(format, &frame, statement);
                statement = statement_next(statement);
            }
            line_begun = token_kind != TOKEN_COMMENT;
            line_breaks = 0;
            empty = false;
        }
    }
}

/* ---- the whole ---- */

/* False where the text printed would not read as the tree does: then nothing is to be written. */
bool format_tree(const struct tree *tree, const struct format_language *language, struct buffer *out)
{
    assert(tree->sound);
    struct format format = {
        .tree = tree,
        .tokens = &tree->tokens,
        .language = language,
        .lines = {.arena = out->arena, .tokens = &tree->tokens},
    };
    size_t start = out->length;
    add_block(&format, tree->plan, 0, language->plan);
    lines_align(&format.lines);
    lines_print(&format.lines, out);
    /* Cuts the new text into tokens and compares. */
    struct text text = (struct text){buffer_string(out) + start, out->length - start};
    struct source source;
    struct reports reports;
    struct tokens tokens;
    if (text.length > SOURCE_LIMIT)
        return false;
    reports_init(&reports, out->arena);
    source_init(&source, out->arena, tree->source->path, (const unsigned char *)text.start,
                (uint32_t)text.length);
    lex_source(&source, out->arena, &reports, &tokens);
    return format_keeps_tokens(&tree->tokens, &tokens);
}
