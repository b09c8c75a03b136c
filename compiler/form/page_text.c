#include "compiler/form/page_text.h"

#include "compiler/form/paragraph.h"

#include <assert.h>
#include <string.h>

enum { DEPTH_CELLS = 2, COLUMN_GAP = 2 };

/* Cells of a column: of a text, or of a number before its point and from there on. */
struct widths {
    uint32_t text, whole, part;
};

/* "12.94 lb" as 2 cells before the point and 3 from there on. */
static struct widths widths_of(struct arena *arena, const char *cell, bool by_point)
{
    struct buffer field = {.arena = arena};
    struct widths widths = {.text = field_add(&field, cell, 0)};
    if (by_point) {
        widths.whole = (uint32_t)strcspn(cell, ". ");
        widths.part = (uint32_t)strcspn(cell, " ") - widths.whole;
    }
    return widths;
}

/* The last cell that has anything is broken at blanks like any line, further lines below its start; nothing
 * trails it. */
static void print_row(struct buffer *out, const struct part *row, const struct widths *widest)
{
    struct buffer lead = {.arena = out->arena};
    size_t last = 0;
    assert(widest);
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
    struct widths *widest = NULL;
    for (size_t i = 0; i < page->parts.count; i++) {
        const struct part *part = &page->parts.items[i];
        /* A table is measured once, where it begins, over all its rows: other parts may lie between them. */
        size_t left = part->columns && part->columns != columns ? part->columns->rows : 0;
        if (left) {
            columns = part->columns;
            widest = ARENA_ARRAY(out->arena, columns->count, struct widths);
        }
        for (size_t j = i; j < page->parts.count && left > 0; j++) {
            const struct part *row = &page->parts.items[j];
            left -= row->columns == columns;
            for (size_t k = 0; row->columns == columns && k < columns->count; k++) {
                const char *cell = row->cells[k] ? row->cells[k] : "";
                struct widths widths = widths_of(out->arena, cell, columns->items[k].by_point);
                widest[k].text = widths.text > widest[k].text ? widths.text : widest[k].text;
                widest[k].whole = widths.whole > widest[k].whole ? widths.whole : widest[k].whole;
                widest[k].part = widths.part > widest[k].part ? widths.part : widest[k].part;
            }
        }
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
