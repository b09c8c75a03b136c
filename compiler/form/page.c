#include "compiler/form/page.h"

#include <assert.h>
#include <string.h>

struct part *page_add(struct page *page, enum part_kind kind, int depth, const char *text)
{
    struct part part = {.kind = kind, .depth = depth, .text = text};
    VECTOR_PUSH(page->arena, &page->parts, part);
    return &page->parts.items[page->parts.count - 1];
}

void page_heading(struct page *page, int depth, const char *text)
{
    page_add(page, PART_HEADING, depth, text);
}

const char *heading_title(struct arena *arena, const struct part *part)
{
    size_t length = strlen(part->text);
    length -= length > 0 && part->text[length - 1] == ':';
    return text_string(arena, (struct text){part->text, length});
}

void page_line(struct page *page, int depth, const char *text)
{
    page_add(page, PART_LINE, depth, text);
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
    page_add(page, PART_ITEM, depth, text);
}

void page_entry(struct page *page, int depth, const char *name, const char *text)
{
    page_add(page, PART_ENTRY, depth, text)->name = name;
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
    page_add(page, PART_VERBATIM, depth, buffer_string(&lines));
}

void page_gap(struct page *page)
{
    if (page->parts.count && page->parts.items[page->parts.count - 1].kind != PART_GAP)
        page_add(page, PART_GAP, 0, NULL);
}

void page_plan(struct page *page, const struct model *model)
{
    page_heading(page, 0, model->title ? model->title : "A plan without a name");
}

struct page_columns *page_columns(struct page *page, size_t count)
{
    struct page_columns *columns = ARENA_NEW(page->arena, struct page_columns);
    columns->count = count;
    columns->items = ARENA_ARRAY(page->arena, count, struct page_column);
    return columns;
}

void page_row(struct page *page, int depth, struct page_columns *columns, const char *const *cells)
{
    const char **copy = ARENA_ARRAY(page->arena, columns->count, const char *);
    for (size_t i = 0; i < columns->count; i++)
        copy[i] = cells[i];
    columns->rows++;
    struct part *row = page_add(page, PART_ROW, depth, NULL);
    row->columns = columns;
    row->cells = copy;
}

void page_column_names(struct page *page, int depth, struct page_columns *columns, const char *const *cells)
{
    assert(columns->rows == 0);
    columns->headed = true;
    page_row(page, depth, columns, cells);
}

/* By what is said: two tables of equal cells are equal, although each has columns of its own. */
bool page_equal(const struct page *a, const struct page *b)
{
    bool equal = a->parts.count == b->parts.count;
    for (size_t i = 0; equal && i < a->parts.count; i++) {
        const struct part *one = &a->parts.items[i], *other = &b->parts.items[i];
        size_t cells = one->columns ? one->columns->count : 0;
        equal = one->kind == other->kind && one->depth == other->depth &&
                cells == (other->columns ? other->columns->count : 0);
        /* The name and the text of a part, then its cells. */
        for (size_t j = 0; equal && j < 2 + cells; j++) {
            const char *said = j == 0 ? one->name : j == 1 ? one->text : one->cells[j - 2];
            const char *also = j == 0 ? other->name : j == 1 ? other->text : other->cells[j - 2];
            equal = said && also ? strcmp(said, also) == 0 : said == also;
        }
    }
    return equal;
}

void page_append(struct page *page, const struct page *more)
{
    for (size_t i = 0; i < more->parts.count; i++)
        VECTOR_PUSH(page->arena, &page->parts, more->parts.items[i]);
}
