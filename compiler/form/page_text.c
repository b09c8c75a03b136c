#include "compiler/form/page_text.h"

#include "compiler/form/paragraph.h"

#include <string.h>

enum { DEPTH_CELLS = 2, COLUMN_GAP = 2 };

/* Cells of a column: of a text, or of a number before its point and from there on. */
struct widths {
    uint32_t text, whole, part;
};

/* "12.94 lb" as 2 cells before the point and 3 from there on. */
static struct widths widths_of(struct arena *arena, const char *cell, bool by_point)
{
    struct widths widths = {.text = field_cells(arena, cell)};
    if (by_point) {
        widths.whole = (uint32_t)strcspn(cell, ". ");
        widths.part = (uint32_t)strcspn(cell, " ") - widths.whole;
    }
    return widths;
}

/* Of all rows of the table that begins with part `first`: other parts may lie between them. */
static struct widths *widths_measured(struct arena *arena, const struct page *page, size_t first)
{
    const struct page_columns *columns = page->parts.items[first].columns;
    size_t left = columns->rows;
    struct widths *widest = ARENA_ARRAY(arena, columns->count, struct widths);
    memset(widest, 0, columns->count * sizeof *widest);
    for (size_t i = first; i < page->parts.count && left > 0; i++) {
        const struct part *row = &page->parts.items[i];
        left -= row->columns == columns;
        for (size_t j = 0; row->columns == columns && j < columns->count; j++) {
            const char *cell = row->cells[j] ? row->cells[j] : "";
            struct widths widths = widths_of(arena, cell, columns->items[j].by_point);
            widest[j].text = widths.text > widest[j].text ? widths.text : widest[j].text;
            widest[j].whole = widths.whole > widest[j].whole ? widths.whole : widest[j].whole;
            widest[j].part = widths.part > widest[j].part ? widths.part : widest[j].part;
        }
    }
    return widest;
}

/* The last cell that has anything is broken at blanks like any line, further lines below its start; nothing
 * trails it. */
static void print_row(struct buffer *out, const struct part *row, const struct widths *widest)
{
    struct buffer lead = {.arena = out->arena};
    size_t last = 0;
    for (size_t i = 0; i < row->columns->count; i++)
        if (row->cells[i] && *row->cells[i])
            last = i;
    buffer_repeat(&lead, ' ', DEPTH_CELLS * (size_t)row->depth);
    for (size_t i = 0; i <= last; i++) {
        const struct page_column *column = &row->columns->items[i];
        const char *cell = row->cells[i] ? row->cells[i] : "";
        struct widths widths = widths_of(out->arena, cell, column->by_point);
        if (column->by_point && *cell) {
            size_t number = widths.whole + widths.part;
            buffer_repeat(&lead, ' ', widest[i].whole - widths.whole);
            buffer_add(&lead, (struct text){cell, number});
            buffer_repeat(&lead, ' ', widest[i].part - widths.part);
            cell += number;
            buffer_repeat(&lead, ' ', *cell == ' ');
        }
        if (i == last)
            paragraph_add(out, buffer_string(&lead), cell);
        else
            field_add(&lead, cell,
                      widest[i].text < column->least ? column->least : widest[i].text + COLUMN_GAP);
    }
}

static void print_lead(struct buffer *out, int depth, const char *mark, const char *text)
{
    struct buffer lead = {.arena = out->arena};
    buffer_repeat(&lead, ' ', DEPTH_CELLS * (size_t)depth);
    field_add(&lead, mark, 0);
    buffer_repeat(&lead, ' ', *mark != '\0');
    paragraph_add(out, buffer_string(&lead), text);
}

/* Headings and closing lines look like any line here: nothing but their place marks them. */
void page_text_print(struct buffer *out, const struct page *page)
{
    const struct page_columns *columns = NULL;
    const struct widths *widest = NULL;
    for (size_t i = 0; i < page->parts.count; i++) {
        const struct part *part = &page->parts.items[i];
        switch (part->kind) {
        case PART_HEADING:
        case PART_LINE:
        case PART_CLOSING:
            print_lead(out, part->depth, "", part->text);
            break;
        case PART_ITEM:
            print_lead(out, part->depth, "-", part->text);
            break;
        case PART_CHECK:
            print_lead(out, part->depth, "[ ]", part->text);
            break;
        case PART_ENTRY:
            print_lead(out, part->depth, part->name, part->text);
            break;
        case PART_ROW:
            /* Kept from one row to the next: a table is measured once. */
            if (columns != part->columns)
                widest = widths_measured(out->arena, page, i);
            columns = part->columns;
            print_row(out, part, widest);
            break;
        case PART_BAR:
            buffer_repeat(out, ' ', DEPTH_CELLS * (size_t)part->depth);
            buffer_format(out, "%s\n", part->text);
            break;
        case PART_VERBATIM: /* never broken: it may be copied into a plan; nothing trails an empty line */
            for (const char *line = part->text, *end; line; line = *end ? end + 1 : NULL) {
                end = line + strcspn(line, "\n");
                if (end > line)
                    buffer_repeat(out, ' ', DEPTH_CELLS * (size_t)part->depth);
                field_add(out, text_string(out->arena, (struct text){line, (size_t)(end - line)}), 0);
                buffer_add_string(out, "\n");
            }
            break;
        case PART_CHART:
            break;
        case PART_GAP:
            buffer_add_string(out, "\n");
            break;
        }
    }
}
