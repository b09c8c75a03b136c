/* Where columns stand: in neighbouring statements, in tables, and of comments. */
#include "parser/format.h"
#include "parser/format_line.h"

enum {
    PLAIN_GAP = 1, /* blanks behind the widest first word of the plan's own statements, and of a lone one */
    PROPERTY_GAP = 2, /* behind the widest first word in a block */
    COLUMN_GAP = 3,   /* between the columns of a table, and behind the widest name */
    COMMENT_GAP = 2,
    WIDEST = 60,       /* wider cells stand outside of the columns, so that one of them moves no other */
    WIDEST_LINE = 100, /* and so do the comments behind longer lines */
    COMMENT_COLUMN =
        44 /* comments behind lines stand no further left, so that most of a plan's are in one column */
};

/* Lines [first, end). */
struct range {
    size_t first, end;
};

static struct cell *cell_of(struct lines *lines, size_t line, uint32_t cell)
{
    return &lines->cells.items[lines->items[line].first_cell + cell];
}

static uint32_t greater(uint32_t a, uint32_t b)
{
    return a > b ? a : b;
}

/* The width of a column with one more cell in it. */
static uint32_t widened(uint32_t column, const struct cell *cell)
{
    return cell->width <= WIDEST ? greater(column, cell->width) : column;
}

static void fill(struct cell *cell, uint32_t column, uint32_t gap)
{
    cell->gap = gap + (column > cell->width ? column - cell->width : 0);
}

static bool has_columns(const struct line *line)
{
    return line->kind == LINE_PROPERTY || line->kind == LINE_NAMED || line->kind == LINE_WITH_BLOCK;
}

/* A wrapped line or a comment neither shares in the columns nor parts them. */
static bool is_between(const struct line *line)
{
    return line->kind == LINE_COMMENT || line->indent == INDENT_VALUE || line->indent == INDENT_COMMENT;
}

static bool has_neighbours(const struct lines *lines, struct range range)
{
    size_t count = 0;
    for (size_t i = range.first; i < range.end; i++)
        count += has_columns(&lines->items[i]);
    return count > 1;
}

/* The first words of all of the neighbours, then names by runs. */
static void align_neighbours(struct lines *lines, struct range range)
{
    /* A statement with no neighbour is not moved out to a column. */
    bool alone = lines->items[range.first].depth == 0 || !has_neighbours(lines, range);
    uint32_t value_gap = alone ? PLAIN_GAP : PROPERTY_GAP;
    uint32_t widest_word = 0;
    for (size_t i = range.first; i < range.end; i++)
        if (has_columns(&lines->items[i]))
            widest_word = widened(widest_word, cell_of(lines, i, 0));
    for (size_t i = range.first; i < range.end; i++) {
        struct line *line = &lines->items[i];
        if (has_columns(line))
            fill(cell_of(lines, i, 0), widest_word, value_gap);
        else if (line->indent == INDENT_VALUE)
            line->margin = line->depth * FORMAT_INDENT + widest_word + value_gap;
    }

    for (size_t i = range.first; i < range.end;) {
        if (lines->items[i].kind == LINE_NAMED || lines->items[i].kind == LINE_WITH_BLOCK) {
            /* From `first`, a line of three cells, the run of lines that share its second column. */
            enum line_kind kind = lines->items[i].kind;
            struct text word = token_text(lines->tokens, cell_of(lines, i, 0)->first);
            struct range run = {i, i};
            for (; run.end < range.end; run.end++) {
                bool same = lines->items[run.end].kind == kind &&
                            (kind == LINE_WITH_BLOCK ||
                             text_equal(word, token_text(lines->tokens, cell_of(lines, run.end, 0)->first)));
                if (!is_between(&lines->items[run.end]) && !same)
                    break;
            }
            uint32_t gap = kind == LINE_NAMED && has_neighbours(lines, run) ? COLUMN_GAP : PLAIN_GAP;
            uint32_t widest = 0;
            for (size_t j = run.first; j < run.end; j++)
                if (!is_between(&lines->items[j]))
                    widest = widened(widest, cell_of(lines, j, 1));
            for (size_t j = run.first; j < run.end; j++)
                if (!is_between(&lines->items[j]))
                    fill(cell_of(lines, j, 1), widest, gap);
            i = run.end;
        } else {
            i++;
        }
    }
}

static uint32_t line_width(struct lines *lines, size_t index)
{
    const struct line *line = &lines->items[index];
    uint32_t width = line->cell_count ? line->margin : 0;
    for (uint32_t i = 0; i < line->cell_count; i++)
        width +=
            cell_of(lines, index, i)->width + (i + 1 < line->cell_count ? cell_of(lines, index, i)->gap : 0);
    return width;
}

/* Comments last: their column depends on how wide their lines have become. */
void lines_align(struct lines *lines)
{
    for (size_t i = 0; i < lines->count; i++) {
        struct line *line = &lines->items[i];
        bool wrapped = line->indent == INDENT_WRAPPED || line->indent == INDENT_VALUE;
        line->margin = line->depth * FORMAT_INDENT + (wrapped ? FORMAT_WRAPPED_INDENT : 0);
    }
    for (size_t i = 0; i < lines->count;) {
        if (has_columns(&lines->items[i])) {
            /* The neighbouring statements that share the column of their values. */
            struct range range = {i, i};
            while (range.end < lines->count && lines->items[range.end].block == lines->items[i].block &&
                   (has_columns(&lines->items[range.end]) || is_between(&lines->items[range.end])))
                range.end++;
            align_neighbours(lines, range);
            i = range.end;
        } else if (lines->items[i].kind == LINE_ROW) {
            /* All rows of a table, whatever comments or empty lines lie between. */
            uint32_t block = lines->items[i].block, columns = 0;
            size_t end = i;
            for (; end < lines->count && lines->items[end].block == block; end++)
                columns = greater(columns, lines->items[end].cell_count);
            uint32_t *widths = ARENA_ARRAY(lines->arena, columns, uint32_t);
            for (size_t row = i; row < end; row++)
                for (uint32_t j = 0; lines->items[row].kind == LINE_ROW && j < lines->items[row].cell_count;
                     j++)
                    widths[j] = widened(widths[j], cell_of(lines, row, j));
            for (; i < end; i++)
                for (uint32_t j = 0; lines->items[i].kind == LINE_ROW && j < lines->items[i].cell_count; j++)
                    fill(cell_of(lines, i, j), widths[j], COLUMN_GAP);
        } else {
            i++;
        }
    }

    /* The comments behind lines that follow on each other share a column, and so do comments that go on under
     * them. Lines after comments that go on have a column of their own again: whether a comment is one of
     * these depends on where it stood, and must not move what comes after it. */
    for (size_t i = 0; i < lines->count;) {
        uint32_t column = COMMENT_COLUMN;
        size_t end = i;
        for (; end < lines->count && lines->items[end].comment != NO_TOKEN &&
               lines->items[end].kind != LINE_COMMENT;
             end++)
            if (line_width(lines, end) <= WIDEST_LINE)
                column = greater(column, line_width(lines, end) + COMMENT_GAP);
        if (end == i) {
            lines->items[i].comment_column = lines->items[i].margin;
            i++;
            continue;
        }
        for (; i < end; i++)
            lines->items[i].comment_column = greater(column, line_width(lines, i) + COMMENT_GAP);
        for (; i < lines->count && lines->items[i].indent == INDENT_COMMENT; i++)
            lines->items[i].comment_column = lines->items[i - 1].comment_column;
    }
}
