#include "compiler/form/page_html.h"

#include "compiler/form/html_text.h"
#include "compiler/form/svg.h"

#include <string.h>

/* Embedded from document.html and document.css. In the document each {slot} stands once. */
extern const char document_html[], document_css[];

enum {
    LEVELS = 6,         /* of headings; the first is the document's title */
    DEEPEST_CLASS = 5,  /* how far parts are set in */
    CONTENTS_LEAST = 4, /* sections from which on a list of them helps */
    NARROW_COLUMNS = 5  /* that a phone shows at their usual size */
};

struct writing {
    struct buffer *out;
    const struct page *page;
    int open[LEVELS]; /* depths of the headings that the part at hand is below */
    size_t level;     /* how many of these there are */
    size_t charts;    /* so far */
    size_t sections;  /* headings of the second level so far: the ids of the list of contents */
};

static const struct part *part_at(const struct writing *writing, size_t index)
{
    return index < writing->page->parts.count ? &writing->page->parts.items[index] : NULL;
}

/* `<ul class="checks in2">` */
static void begin(struct writing *writing, const char *element, const char *class, int depth)
{
    buffer_format(writing->out, "<%s class=\"%s%sin%d\">", element, class, *class ? " " : "",
                  depth < DEEPEST_CLASS ? depth : DEEPEST_CLASS);
}

/* ---- headings ---- */

/* A heading that lies deeper than the one before it is one level below, whatever the depths are: no level is
 * left out, which readers of a page by ear go by. Returns the level, 2 to LEVELS. */
static size_t level_of(struct writing *writing, int depth)
{
    while (writing->level > 0 && writing->open[writing->level - 1] >= depth)
        writing->level--;
    if (writing->level < LEVELS - 1)
        writing->open[writing->level++] = depth;
    return writing->level + 1;
}

/* ---- tables ---- */

static size_t add_part(struct writing *writing, size_t index);

/* What lies between rows goes into a row of its own over all columns: a table holds nothing but rows. */
static size_t add_table(struct writing *writing, size_t first)
{
    struct buffer *out = writing->out;
    const struct part *top = part_at(writing, first), *next;
    const struct page_columns *columns = top->columns;
    /* Behind the last part of the table: its rows, and between or behind them what lies deeper than they do,
     * which is about the row before it. */
    size_t end = first + 1;
    for (size_t i = end; (next = part_at(writing, i)); i++) {
        bool about = next->kind != PART_HEADING && next->kind != PART_ROW && next->kind != PART_CLOSING &&
                     next->kind != PART_GAP && next->depth > top->depth;
        if (next->columns == columns || about)
            end = i + 1;
        else if (next->kind != PART_GAP)
            break;
    }
    size_t *widest = ARENA_ARRAY(out->arena, columns->count, size_t);
    /* Cells before the point of the widest number of a column, so that figures are point below point. */
    for (size_t i = first; i < end; i++) {
        const struct part *row = part_at(writing, i);
        for (size_t j = 0; j < columns->count && row->columns == columns; j++) {
            const char *cell = columns->items[j].by_point ? row->cells[j] : NULL;
            size_t whole = cell ? strcspn(cell, ". ") : 0;
            widest[j] = whole > widest[j] ? whole : widest[j];
        }
    }
    begin(writing, "table", columns->count > NARROW_COLUMNS ? "many" : "", top->depth);
    buffer_add_string(out, columns->headed ? "\n<thead>\n" : "\n<tbody>\n");
    for (size_t i = first; i < end;) {
        const struct part *part = part_at(writing, i);
        bool head = columns->headed && i == first;
        if (part->columns == columns) {
            buffer_add_string(out, "<tr>");
            for (size_t j = 0; j < columns->count; j++) {
                /* The first cell of a row names it, the first row of a table with a head names the columns.
                 */
                const char *cell = part->cells[j], *scope = head ? " scope=\"col\"" : " scope=\"row\"";
                bool names = (head || j == 0) && cell && *cell;
                const char *class = columns->items[j].by_point      ? " class=\"figure\""
                                    : columns->items[j].bar && cell ? " class=\"bar\" aria-hidden=\"true\""
                                                                    : "";
                buffer_format(out, "<%s%s%s>", names ? "th" : "td", names ? scope : "", class);
                for (size_t whole = cell ? strcspn(cell, ". ") : widest[j]; whole < widest[j]; whole++)
                    buffer_add_string(out, "\xE2\x80\x87"); /* U+2007, as wide as a digit */
                html_sentence(out, cell ? cell : "");
                buffer_add_string(out, names ? "</th>" : "</td>");
            }
            buffer_add_string(out, head ? "</tr>\n</thead>\n<tbody>\n" : "</tr>\n");
            i++;
        } else if (part->kind == PART_GAP) {
            i++;
        } else {
            buffer_format(out, "<tr class=\"about\"><td colspan=\"%zu\">\n", columns->count);
            while (i < end && part_at(writing, i)->columns != columns)
                i = add_part(writing, i);
            buffer_add_string(out, "</td></tr>\n");
        }
    }
    buffer_add_string(out, "</tbody>\n</table>\n");
    return end;
}

/* ---- all other parts ---- */

/* An element of parts of one kind and depth that follow each other: list items, names with what is said of
 * them, lines to be copied as a whole. A bar below an entry belongs to it. */
static size_t add_group(struct writing *writing, size_t index)
{
    static const struct {
        const char *element, *class, *begin, *before, *after, *end;
    } groups[] = {
        [PART_ITEM] = {"ul", "", "\n", "<li>", "</li>\n", "</ul>\n"},
        [PART_CHECK] = {"ul", "checks", "\n", "<li><label><input type=\"checkbox\"> <span>",
                        "</span></label></li>\n", "</ul>\n"},
        [PART_ENTRY] = {"dl", "", "\n", "<div><dt>", "</dd></div>\n", "</dl>\n"},
        [PART_VERBATIM] = {"pre", "copy", "<code>", "", "", "</code></pre>\n"},
    };
    struct buffer *out = writing->out;
    const struct part *first = part_at(writing, index), *part;
    enum part_kind kind = first->kind;
    const char *between = "";
    begin(writing, groups[kind].element, groups[kind].class, first->depth);
    buffer_add_string(out, groups[kind].begin);
    while ((part = part_at(writing, index)) && part->kind == kind && part->depth == first->depth) {
        index++;
        buffer_add_string(out, groups[kind].before);
        if (kind == PART_ENTRY) {
            html_sentence(out, part->name);
            buffer_add_string(out, "</dt>\n<dd>");
        }
        if (kind != PART_VERBATIM)
            html_sentence(out, part->text);
        for (const char *line = part->text; kind == PART_VERBATIM && line; between = "\n") {
            size_t length = strcspn(line, "\n");
            buffer_add_string(out, between);
            html_escape(out, (struct text){line, length});
            line = line[length] ? line + length + 1 : NULL;
        }
        while (kind == PART_ENTRY && (part = part_at(writing, index)) && part->kind == PART_BAR)
            index = add_part(writing, index);
        buffer_add_string(out, groups[kind].after);
    }
    buffer_add_string(out, groups[kind].end);
    return index;
}

/* The part at `index`, with those behind it that make one element with it; returns the next. The title and
 * the closing lines have their own places. */
static size_t add_part(struct writing *writing, size_t index)
{
    const struct part *part = part_at(writing, index);
    switch (part->kind) {
    case PART_HEADING: {
        size_t level = level_of(writing, part->depth);
        buffer_format(writing->out, "<h%zu%s", level, part->sheet ? " class=\"sheet\"" : "");
        if (level == 2)
            buffer_format(writing->out, " id=\"s%zu\"", ++writing->sections);
        buffer_add_string(writing->out, ">");
        html_sentence(writing->out, heading_title(writing->out->arena, part));
        buffer_format(writing->out, "</h%zu>\n", level);
        break;
    }
    case PART_LINE:
        begin(writing, "p", "", part->depth);
        html_sentence(writing->out, part->text);
        buffer_add_string(writing->out, "</p>\n");
        break;
    case PART_ITEM:
    case PART_CHECK:
    case PART_ENTRY:
    case PART_VERBATIM:
        return add_group(writing, index);
    case PART_ROW:
        return add_table(writing, index);
    case PART_BAR: /* its words are beside it: by ear its characters say nothing */
        buffer_add_string(writing->out, "<pre class=\"bar\" aria-hidden=\"true\">");
        html_escape(writing->out, text_of(part->text));
        buffer_add_string(writing->out, "</pre>\n");
        break;
    case PART_CHART:
        svg_add(writing->out, part->chart, ++writing->charts);
        break;
    case PART_CLOSING:
    case PART_GAP:
        break;
    }
    return index + 1;
}

/* ---- the document ---- */

/* The title is the heading that the page begins with, or the page's own. The parts are printed first, since
 * the skeleton's slots are filled in one go. */
void page_html_print(struct buffer *out, const struct page *page)
{
    const struct part *title = NULL;
    struct buffer name = {.arena = out->arena}, body = {.arena = out->arena}, closing = {.arena = out->arena};
    struct writing writing = {.out = &body, .page = page};
    if (page->parts.count && page->parts.items[0].kind == PART_HEADING)
        title = &page->parts.items[0];
    html_escape(&name, text_of(title         ? heading_title(out->arena, title)
                               : page->title ? page->title
                                             : "A season plan"));
    for (size_t i = 0; i < page->parts.count;)
        i = &page->parts.items[i] == title ? i + 1 : add_part(&writing, i);
    for (size_t i = 0; i < page->parts.count; i++)
        if (page->parts.items[i].kind == PART_CLOSING) {
            buffer_add_string(&closing, "<p>");
            html_sentence(&closing, page->parts.items[i].text);
            buffer_add_string(&closing, "</p>\n");
        }
    /* The list of sections, in a document that has enough of them. */
    struct buffer list = {.arena = out->arena};
    struct writing listing = {.out = &list, .page = page};
    for (size_t i = 0; i < page->parts.count; i++) {
        const struct part *part = &page->parts.items[i];
        if (part->kind != PART_HEADING || part == title || level_of(&listing, part->depth) != 2)
            continue;
        buffer_format(&list, "<li><a href=\"#s%zu\">", ++listing.sections);
        html_escape(&list, text_of(heading_title(out->arena, part)));
        buffer_add_string(&list, "</a></li>\n");
    }
    const char *contents =
        listing.sections < CONTENTS_LEAST
            ? ""
            : text_format(out->arena, "<nav aria-label=\"Contents\">\n<ul>\n%s</ul>\n</nav>\n", list.string);
    const struct {
        const char *mark, *text;
    } slots[] = {{"{title}", name.string},
                 {"{style}", document_css},
                 {"{contents}", contents},
                 {"{body}", buffer_string(&body)},
                 {"{closing}", buffer_string(&closing)}};
    for (const char *rest = document_html; *rest;) {
        size_t plain = strcspn(rest, "{"), slot = 0;
        buffer_add(out, (struct text){rest, plain});
        rest += plain;
        while (*rest && strncmp(rest, slots[slot].mark, strlen(slots[slot].mark)) != 0)
            slot++;
        if (*rest) {
            buffer_add_string(out, slots[slot].text);
            rest += strlen(slots[slot].mark);
        }
    }
}
