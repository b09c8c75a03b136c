#include "compiler/model/csv.h"

#include "lexer/token.h"

#include <string.h>

/* Below zero at the end of the file. */
static int byte_at(const struct csv *csv, uint32_t at)
{
    return at < csv->source->length ? csv->source->bytes[at] : -1;
}

static bool is_blank(int byte)
{
    return byte == ' ' || byte == '\t';
}

/* How many bytes end the line here: 0 where it goes on. */
static uint32_t line_end(const struct csv *csv, uint32_t at)
{
    if (byte_at(csv, at) == '\r' && byte_at(csv, at + 1) == '\n')
        return 2;
    return byte_at(csv, at) == '\n';
}

static struct text trimmed(struct text text)
{
    while (text.length && is_blank(text.start[text.length - 1]))
        text.length--;
    while (text.length && is_blank(*text.start)) {
        text.start++;
        text.length--;
    }
    return text;
}

static bool complain(struct csv *csv, const char *problem, struct place place)
{
    csv->problem = problem;
    csv->problem_place = place;
    return false;
}

/* At its opening quote. */
static bool read_quoted(struct csv *csv, struct csv_cell *cell)
{
    uint32_t start = csv->at++;
    for (;; csv->at++) {
        if (byte_at(csv, csv->at) < 0 || csv->at - start > CSV_CELL_LIMIT) {
            csv->at = csv->source->length;
            return complain(csv, "this quote is not closed", (struct place){csv->source, start, start + 1});
        }
        if (byte_at(csv, csv->at) != '"')
            continue;
        if (byte_at(csv, csv->at + 1) != '"')
            break;
        csv->at++;
    }
    struct text text = {(const char *)csv->source->bytes + start + 1, csv->at - start - 1};
    if (memchr(text.start, '"', text.length)) { /* every "" becomes one quote */
        char *copy = arena_alloc(csv->arena, text.length);
        size_t length = 0;
        for (size_t i = 0; i < text.length; i++) {
            copy[length++] = text.start[i];
            i += text.start[i] == '"';
        }
        text = (struct text){copy, length};
    }
    csv->at++;
    *cell = (struct csv_cell){trimmed(text), (struct place){csv->source, start, csv->at}};
    while (is_blank(byte_at(csv, csv->at)))
        csv->at++;
    if (byte_at(csv, csv->at) < 0 || byte_at(csv, csv->at) == ',' || line_end(csv, csv->at))
        return true;
    return complain(csv, "a cell in quotes goes on after its closing quote",
                    (struct place){csv->source, csv->at, csv->at + 1});
}

/* As many as the row has; how many it should have is the caller's to know. */
static bool read_cells(struct csv *csv)
{
    for (;;) {
        struct csv_cell cell;
        while (is_blank(byte_at(csv, csv->at)))
            csv->at++;
        if (byte_at(csv, csv->at) == '"') {
            if (!read_quoted(csv, &cell))
                return false;
        } else {
            uint32_t start = csv->at;
            for (; byte_at(csv, csv->at) >= 0 && byte_at(csv, csv->at) != ',' && !line_end(csv, csv->at);
                 csv->at++)
                if (byte_at(csv, csv->at) == '"')
                    return complain(csv, "a quote is inside a cell that does not begin with one",
                                    (struct place){csv->source, csv->at, csv->at + 1});
            if (csv->at - start > CSV_CELL_LIMIT)
                return complain(csv, "this cell is too long", (struct place){csv->source, start, start + 1});
            cell.text = trimmed((struct text){(const char *)csv->source->bytes + start, csv->at - start});
            cell.place = (struct place){csv->source, start, start + (uint32_t)cell.text.length};
        }
        if (csv->cells.count == CSV_COLUMN_LIMIT)
            return complain(csv, text_format(csv->arena, "this row has more than %d cells", CSV_COLUMN_LIMIT),
                            cell.place);
        VECTOR_PUSH(csv->arena, &csv->cells, cell);
        if (byte_at(csv, csv->at) != ',')
            return true;
        csv->at++;
    }
}

/* After a mistake the next row is read as if nothing were wrong. */
enum csv_status csv_next(struct csv *csv, struct csv_row *row)
{
    static const unsigned char mark[] = {0xEF, 0xBB, 0xBF};
    csv->cells.count = 0;
    if (csv->at == 0 && csv->source->length >= sizeof mark &&
        memcmp(csv->source->bytes, mark, sizeof mark) == 0)
        csv->at = sizeof mark;
    uint32_t start = csv->at;
    for (uint32_t end = 1; end; csv->at += end) { /* empty lines, and those of blanks */
        start = csv->at;
        while (is_blank(byte_at(csv, csv->at)))
            csv->at++;
        end = line_end(csv, csv->at);
    }
    if (byte_at(csv, csv->at) < 0)
        return CSV_END;
    csv->at = start;
    bool sound = read_cells(csv);
    uint32_t end = csv->at;
    while (byte_at(csv, csv->at) >= 0 && !line_end(csv, csv->at)) /* what is left of a row with a mistake */
        csv->at++;
    csv->at += line_end(csv, csv->at);
    *row = (struct csv_row){csv->cells.items, csv->cells.count, (struct place){csv->source, start, end}};
    return sound ? CSV_ROW : CSV_BAD;
}

/* Fifteen digits at most, which a double holds exactly, with the point that every file of the kind has. */
bool csv_number(struct text text, double *number)
{
    double sign = 1;
    if (text.length && (*text.start == '-' || *text.start == '+')) {
        sign = *text.start == '-' ? -1 : 1;
        text.start++;
        text.length--;
    }
    size_t digits = 0, points = 0;
    for (size_t i = 0; i < text.length; i++) {
        digits += text.start[i] >= '0' && text.start[i] <= '9';
        points += text.start[i] == '.';
    }
    if (digits == 0 || digits > 15 || points > 1 || digits + points != text.length)
        return false;
    *number = sign * token_number(text);
    return true;
}
