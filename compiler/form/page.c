#include "compiler/form/page.h"

#include <assert.h>
#include <string.h>

static void add(struct page *page, struct part part)
{
    VECTOR_PUSH(page->arena, &page->parts, part);
}

void page_add(struct page *page, enum part_kind kind, int depth, const char *text)
{
    add(page, (struct part){.kind = kind, .depth = depth, .text = text});
}

void page_heading(struct page *page, int depth, const char *text)
{
    add(page, (struct part){.kind = PART_HEADING, .depth = depth, .text = text});
}

void page_sheet(struct page *page, int depth, const char *text)
{
    add(page, (struct part){.kind = PART_HEADING, .depth = depth, .sheet = true, .text = text});
}

const char *heading_title(struct arena *arena, const struct part *part)
{
    size_t length = strlen(part->text);
    length -= length > 0 && part->text[length - 1] == ':';
    return text_string(arena, (struct text){part->text, length});
}

void page_line(struct page *page, int depth, const char *text)
{
    add(page, (struct part){.kind = PART_LINE, .depth = depth, .text = text});
}

void page_say(struct page *page, int depth, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    page_line(page, depth, text_vformat(page->arena, format, arguments));
    va_end(arguments);
}

void page_item(struct page *page, int depth, const char *text)
{
    add(page, (struct part){.kind = PART_ITEM, .depth = depth, .text = text});
}

void page_entry(struct page *page, int depth, const char *name, const char *text)
{
    add(page, (struct part){.kind = PART_ENTRY, .depth = depth, .name = name, .text = text});
}

void page_verbatim(struct page *page, int depth, struct text text)
{
    struct buffer lines = {.arena = page->arena};
    for (size_t i = 0; i < text.length; i++) {
        bool ends = text.start[i] == '\r' ? i + 1 < text.length && text.start[i + 1] == '\n'
                                          : text.start[i] == '\n' && i + 1 == text.length;
        if (!ends)
            buffer_add(&lines, (struct text){text.start + i, 1});
    }
    add(page, (struct part){.kind = PART_VERBATIM, .depth = depth, .text = buffer_string(&lines)});
}

void page_chart(struct page *page, const struct chart *chart)
{
    add(page, (struct part){.kind = PART_CHART, .chart = chart});
}

struct chart *chart_new(struct arena *arena, enum chart_kind kind)
{
    struct chart *chart = ARENA_ARRAY(arena, 1, struct chart);
    *chart = (struct chart){.kind = kind};
    return chart;
}

void page_gap(struct page *page)
{
    if (page->parts.count && page->parts.items[page->parts.count - 1].kind != PART_GAP)
        add(page, (struct part){.kind = PART_GAP});
}

void page_plan(struct page *page, const struct model *model)
{
    page_heading(page, 0, model->title ? model->title : "A plan without a name");
}

struct page_columns *page_columns(struct page *page, size_t count)
{
    struct page_columns *columns = ARENA_ARRAY(page->arena, 1, struct page_columns);
    *columns = (struct page_columns){.count = count};
    columns->items = ARENA_ARRAY(page->arena, count, struct page_column);
    for (size_t i = 0; i < count; i++)
        columns->items[i] = (struct page_column){0};
    return columns;
}

void page_row(struct page *page, int depth, struct page_columns *columns, const char *const *cells)
{
    const char **copy = ARENA_ARRAY(page->arena, columns->count, const char *);
    for (size_t i = 0; i < columns->count; i++)
        copy[i] = cells[i];
    columns->rows++;
    add(page, (struct part){.kind = PART_ROW, .depth = depth, .columns = columns, .cells = copy});
}

void page_column_names(struct page *page, int depth, struct page_columns *columns, const char *const *cells)
{
    assert(columns->rows == 0);
    columns->headed = true;
    page_row(page, depth, columns, cells);
}

static bool same_string(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

/* By what is said: two tables of equal cells are equal, although each has columns of its own. */
bool page_equal(const struct page *a, const struct page *b)
{
    bool equal = a->parts.count == b->parts.count;
    for (size_t i = 0; equal && i < a->parts.count; i++) {
        const struct part *one = &a->parts.items[i], *other = &b->parts.items[i];
        equal = one->kind == other->kind && one->depth == other->depth &&
                same_string(one->name, other->name) && same_string(one->text, other->text) &&
                (one->columns != NULL) == (other->columns != NULL) &&
                (!one->columns || one->columns->count == other->columns->count);
        for (size_t j = 0; equal && one->columns && j < one->columns->count; j++)
            equal = same_string(one->cells[j], other->cells[j]);
    }
    return equal;
}

void page_append(struct page *page, const struct page *more)
{
    for (size_t i = 0; i < more->parts.count; i++)
        add(page, more->parts.items[i]);
}

void page_append_section(struct page *page, const char *heading, const struct page *more)
{
    page_gap(page);
    page_heading(page, 0, heading);
    for (size_t i = 0; i < more->parts.count; i++) {
        struct part part = more->parts.items[i];
        part.depth++;
        if (i > 0 || part.kind != PART_HEADING) /* the first names what this page names already */
            add(page, part);
    }
}
