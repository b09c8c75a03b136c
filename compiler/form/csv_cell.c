#include "compiler/form/csv_cell.h"

#include "compiler/form/plain_text.h"

#include <assert.h>
#include <string.h>

/* Also in the full width of East Asian keyboards, which spreadsheets there take alike. */
static const char *const formula_signs[] = {"=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20"};

/* Quoted only where a reader would part the cell: whole columns stay readable as text. */
void csv_text(struct buffer *out, const char *text)
{
    const char *cell = plain_text(out->arena, text ? text : "", false);
    /* The first character other than a blank decides whether a spreadsheet computes; an apostrophe before it
     * makes a text of it (CWE-1236). */
    const char *first = cell + strspn(cell, " ");
    bool formula = false;
    for (size_t i = 0; i < sizeof formula_signs / sizeof *formula_signs; i++)
        formula = formula || strncmp(first, formula_signs[i], strlen(formula_signs[i])) == 0;
    if (formula)
        cell = text_format(out->arena, "'%s", cell);
    bool quoted = cell[strcspn(cell, ",\"")] != '\0' || *cell == ' ';
    buffer_add_string(out, quoted ? "\"" : "");
    for (; *cell; cell++)
        buffer_add(out, *cell == '"' ? TEXT("\"\"") : (struct text){cell, 1});
    buffer_add_string(out, quoted ? "\"," : ",");
}

void csv_plain(struct buffer *out, const char *cell)
{
    buffer_add_string(out, cell);
    buffer_add_string(out, ",");
}

void csv_blank(struct buffer *out, size_t count)
{
    buffer_repeat(out, ',', count);
}

/* Every cell brought its comma; the last one's gives way. */
void csv_end(struct buffer *out)
{
    assert(out->length > 0 && out->string[out->length - 1] == ',');
    out->length--;
    buffer_add_string(out, "\r\n");
}
