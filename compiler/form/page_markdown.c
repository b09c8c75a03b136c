#include "compiler/form/page_markdown.h"

#include "compiler/form/paragraph.h"

#include <string.h>

enum { NESTED_MOST = 8, NO_HEADING = -1, HEADING_MOST = 6 };

struct printing {
    struct buffer *out;
    int heading; /* depth of the heading that what follows lies under */
    bool titled; /* the document has its title, so headings are below it */
    /* Depths of the list items that are open: what is deeper than the last lies inside it. */
    int open[NESTED_MOST];
    int open_count;
    const struct page_columns *table; /* of the row before; NULL where none was */
    enum { AT_START, BEHIND_BLANK, BEHIND_BLOCK, BEHIND_ITEM } behind;
};

/* ---- words ---- */

/* A link as it is stays one: <https://...>. Nothing else needs to be one, and in it nothing may be escaped
 * (CommonMark, 6.5). A backslash before whatever could begin a construct: inside a line (CommonMark, 2.4 and
 * 6; tables; `~` and `$` of GitHub), and at its beginning a heading, a list item, a number with its point
 * (4.1 to 5.3). What is between two backquotes stays so, as code, in which nothing is read; but not in a
 * cell, where a bar would end it. */
static void words_add(struct buffer *out, const char *text, bool cell)
{
    struct buffer shown = {.arena = out->arena};
    field_add(&shown, text, 0);
    const char *string = buffer_string(&shown), *first = string + strspn(string, " ");
    const char *end = string + shown.length, *const schemes[] = {"https://", "http://"};
    size_t digits = strspn(first, "0123456789");
    while (end > first && end[-1] == ' ')
        end--;
    for (const char *at = first; at < end;) {
        const char *close = *at == '`' && !cell ? memchr(at + 1, '`', (size_t)(end - at - 1)) : NULL;
        /* How many bytes from `at` on are a link, without the marks of the sentence around it. */
        size_t link = 0, scheme = 0;
        for (size_t i = 0; i < sizeof schemes / sizeof *schemes && !scheme; i++)
            if ((at == string || at[-1] == ' ') && strncmp(at, schemes[i], strlen(schemes[i])) == 0)
                scheme = strlen(schemes[i]);
        if (scheme)
            link = strcspn(at, " <>\\\"`");
        while (link > scheme && strchr(".,;:!?)]", at[link - 1]))
            link--;
        if (link <= scheme || (at[link] && !strchr(" .,;:!?)]", at[link])))
            link = 0;
        /* One quote alone on either side, and no blank that a reader would strip (CommonMark, 6.1). */
        bool code = close && close > at + 1 && close[1] != '`' && at[1] != ' ' && close[-1] != ' ';
        size_t whole = code ? (size_t)(close - at) + 1 : link;
        if (whole) {
            buffer_add_string(out, link ? "<" : "");
            buffer_add(out, (struct text){at, whole});
            buffer_add_string(out, link ? ">" : "");
            at += whole;
            continue;
        }
        bool begins =
            (at == first && strchr("#+-=", *at)) ||
            (digits && at == first + digits && (*at == '.' || *at == ')') && (at[1] == ' ' || at + 1 == end));
        if (begins || strchr("\\`*_[]<>&|~$!", *at))
            buffer_add_string(out, "\\");
        buffer_add(out, (struct text){at, 1});
        at++;
    }
}

/* ---- blocks ---- */

/* An empty line before a block. Items of one list follow each other without. */
static void block_begin(struct printing *printing, bool item)
{
    bool listed = item && printing->behind == BEHIND_ITEM;
    if (!listed && (printing->behind == BEHIND_BLOCK || printing->behind == BEHIND_ITEM))
        buffer_add_string(printing->out, "\n");
    printing->behind = item ? BEHIND_ITEM : BEHIND_BLOCK;
    printing->table = NULL;
    if (!item)
        printing->open_count = 0;
}

static void print_item(struct printing *printing, int depth)
{
    while (printing->open_count && printing->open[printing->open_count - 1] >= depth)
        printing->open_count--;
    if (printing->open_count == NESTED_MOST)
        printing->open_count--;
    block_begin(printing, true);
    buffer_repeat(printing->out, ' ', 2 * (size_t)printing->open_count);
    buffer_add_string(printing->out, "- ");
    printing->open[printing->open_count++] = depth;
}

/* Where the first row names the columns it is a table, and one more row each until something else lies
 * between. Where it does not, a table would have a head without words: then each row is an item, about which
 * more may follow.
 */
static void print_row(struct printing *printing, const struct part *part)
{
    const struct page_columns *columns = part->columns;
    struct buffer *out = printing->out;
    if (!columns->headed) {
        bool any = false;
        print_item(printing, part->depth);
        for (size_t i = 0; i < columns->count; i++)
            if (part->cells[i] && *part->cells[i]) {
                buffer_add_string(out, any ? " " : "");
                if (columns->items[i].bar)
                    buffer_format(out, "`%s`", part->cells[i]);
                else
                    words_add(out, part->cells[i], false);
                any = true;
            }
        return;
    }
    bool begins = printing->table != columns;
    if (begins)
        block_begin(printing, false);
    buffer_add_string(out, "|");
    for (size_t i = 0; i < columns->count; i++) {
        buffer_add_string(out, " ");
        words_add(out, part->cells[i] ? part->cells[i] : "", true);
        buffer_add_string(out, " |");
    }
    if (begins) {
        buffer_add_string(out, "\n|");
        for (size_t i = 0; i < columns->count; i++)
            buffer_add_string(out, " --- |");
    }
    printing->table = columns;
}

/* What lies just under a heading is a paragraph; what lies deeper is about what is before it, so an item. */
void page_markdown_print(struct buffer *out, const struct page *page)
{
    struct printing printing = {.out = out, .heading = NO_HEADING};
    printing.titled = page->parts.count && page->parts.items[0].kind != PART_HEADING;
    for (size_t i = 0; i < page->parts.count; i++) {
        const struct part *part = &page->parts.items[i];
        size_t fence = 3;
        switch (part->kind) {
        case PART_HEADING: {
            size_t level = 1 + (size_t)part->depth + printing.titled;
            block_begin(&printing, false);
            buffer_repeat(out, '#', level > HEADING_MOST ? HEADING_MOST : level);
            buffer_add_string(out, " ");
            words_add(out, heading_title(out->arena, part), false);
            printing.titled = true;
            printing.heading = part->depth;
            break;
        }
        case PART_LINE:
        case PART_CLOSING:
            if (part->depth > printing.heading + 1)
                print_item(&printing, part->depth);
            else
                block_begin(&printing, false);
            words_add(out, part->text, false);
            break;
        case PART_ITEM:
        case PART_CHECK: /* a task, where the reader knows them */
            print_item(&printing, part->depth);
            buffer_add_string(out, part->kind == PART_CHECK ? "[ ] " : "");
            words_add(out, part->text, false);
            break;
        case PART_ENTRY:
            print_item(&printing, part->depth);
            buffer_add_string(out, "**");
            words_add(out, part->name, false);
            buffer_add_string(out, "** ");
            words_add(out, part->text, false);
            break;
        case PART_ROW:
            print_row(&printing, part);
            break;
        case PART_BAR:
            print_item(&printing, part->depth);
            buffer_format(out, "`%s`", part->text);
            break;
        case PART_VERBATIM:
            /* Between fences longer than any run of backquotes inside. */
            for (const char *at = part->text; *at; at++)
                fence = strspn(at, "`") >= fence ? strspn(at, "`") + 1 : fence;
            block_begin(&printing, false);
            buffer_repeat(out, '`', fence);
            buffer_add_string(out, "\n");
            for (const char *line = part->text, *end; line; line = *end ? end + 1 : NULL) {
                end = line + strcspn(line, "\n");
                field_add(out, text_string(out->arena, (struct text){line, (size_t)(end - line)}), 0);
                buffer_add_string(out, "\n");
            }
            buffer_repeat(out, '`', fence);
            break;
        case PART_CHART:
            continue;
        case PART_GAP:
            printing.open_count = 0;
            if (printing.behind == AT_START || printing.behind == BEHIND_BLANK)
                continue;
            printing.behind = BEHIND_BLANK;
            break;
        }
        buffer_add_string(out, "\n");
    }
}
