/* A result described for a person: parts in the order of reading, with no word of how they look. A form that
 * prints pages (page_text.h) knows no result, and no result knows the form.
 *
 * `depth` is how far a part lies inside the one before it: 0 for the page's own. What lies deeper than a line
 * before it is about that line. Texts may hold what a plan wrote; a form makes them safe. They live as long
 * as the page's arena. */
#ifndef PRILL_FORM_PAGE_H
#define PRILL_FORM_PAGE_H

#include "compiler/form/chart.h"

enum part_kind {
    PART_HEADING,  /* what the page, or what comes below it, is about */
    PART_LINE,     /* a sentence, or a few */
    PART_ITEM,     /* of a list */
    PART_ENTRY,    /* `name`, and what is said of it */
    PART_ROW,      /* `cells`, one for each of `columns` */
    PART_BAR,      /* a figure drawn in characters, which reads without colour; its words are beside it */
    PART_CHECK,    /* to be ticked off when it is done */
    PART_VERBATIM, /* a plan's own text, its lines kept as they are written */
    PART_CHART,    /* a picture; what is beside it says the same in words and numbers */
    PART_GAP,      /* between what does not belong together */
    PART_CLOSING   /* a line that every output for a person ends with */
};

/* Rows with the same columns are a table, whatever lies between them: a row may be followed by lines about
 * it. */
struct page_column {
    uint32_t least; /* cells it takes at least, a blank behind it counted */
    bool by_point;  /* of the last column: numbers with what they are of ("12.94 lb"), point below point */
    bool bar;       /* figures drawn in characters */
};

struct page_columns {
    size_t count, rows; /* that have these columns */
    bool headed;        /* the first row names the columns */
    struct page_column *items;
};

struct part {
    enum part_kind kind;
    int depth;
    bool sheet;              /* of a heading: on paper it begins a sheet of its own */
    const char *name, *text; /* NULL where the kind has none */
    const struct page_columns *columns;
    const char *const *cells; /* columns->count; NULL where one is empty */
    const struct chart *chart;
};

struct page {
    struct arena *arena;
    const char *title; /* of a document, where the page does not begin with a heading; NULL otherwise */
    VECTOR(struct part) parts;
};

/* Each appends a part; the first one of whatever kind, and returns it, until the next is appended. */
struct part *page_add(struct page *page, enum part_kind kind, int depth, const char *text);
void page_heading(struct page *page, int depth, const char *text);
void page_line(struct page *page, int depth, const char *text);
void page_say(struct page *page, int depth, const char *format, ...) __attribute__((format(printf, 3, 4)));
void page_item(struct page *page, int depth, const char *text);
void page_entry(struct page *page, int depth, const char *name, const char *text);
void page_verbatim(struct page *page, int depth,
                   struct text text); /* the last newline ends a line, CR LF is one */
void page_gap(struct page *page);     /* nothing at the start and behind another gap */

/* A heading's text without the colon that in plain text leads over to what is below it, for forms in which
 * its size does. */
const char *heading_title(struct arena *arena, const struct part *part);

/* The plan's title as the page's heading. */
void page_plan(struct page *page, const struct model *model);

/* `count` columns as wide as their cells. */
struct page_columns *page_columns(struct page *page, size_t count);

/* `cells` as many as the columns; the array is copied. The names of the columns come before any other row. */
void page_column_names(struct page *page, int depth, struct page_columns *columns, const char *const *cells);
void page_row(struct page *page, int depth, struct page_columns *columns, const char *const *cells);

/* Whether two pages say the same, column by column; and all that one says behind the other. */
bool page_equal(const struct page *a, const struct page *b);
void page_append(struct page *page, const struct page *more);

#endif
