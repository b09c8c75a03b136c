/* Tables inside blocks: a row of column names with units, then rows of numbers. */
#include "compiler/model/column_unit.h"
#include "compiler/model/rating.h"
#include "compiler/model/slot.h"

#include <math.h>
#include <string.h>

struct columns {
    struct table_column *items;
    size_t count, capacity;
};

static struct report *complain(struct model *model, struct place place, const char *sentence,
                               const char *help)
{
    struct report *report = report_add(model->reports, &model_rules[RULE_TABLE], place, "%s", sentence);
    report->help = help;
    return report;
}

static void complain_of_name(struct model *model, struct place place, const char *name)
{
    struct report *report =
        complain(model, place, text_format(model->arena, "this column is called `%s` here", name), NULL);
    report_fix(model->reports, report, false, place, name, text_format(model->arena, "write `%s`", name));
}

static const struct column_form *column_form_of(const struct column_form *forms, struct text word)
{
    for (; forms->name; forms++)
        if (text_is(word, forms->name))
            return forms;
    return NULL;
}

static const char *known_columns(struct arena *arena, const struct column_form *forms, bool nutrients)
{
    struct buffer list = {.arena = arena};
    for (; forms->name; forms++)
        buffer_format(&list, "%s%s", list.length ? ", " : "", forms->name);
    if (nutrients)
        buffer_add_string(&list, ", and nutrients such as P or K2O");
    return buffer_string(&list);
}

/* What laboratories' sheets call columns, in one word or two. */
static const struct {
    const char *first, *second, *column;
} column_names[] = {
    {"buffer", "pH", "buffer-pH"},  {"BpH", NULL, "buffer-pH"}, {"organic", "matter", "organic-matter"},
    {"OM", NULL, "organic-matter"}, {"soil", "pH", "pH"},       {"water", "pH", "pH"},
};

/* A name and, where it has one, its unit; on failure *at stays where it is. */
static bool read_column(struct matcher *matcher, uint32_t *at, const struct column_form *forms,
                        int nutrient_kind, struct table_column *column)
{
    struct model *model = matcher->model;
    struct text word = slot_text(matcher, *at);
    const struct column_form *form = column_form_of(forms, word);
    const struct nutrient_form *nutrient = nutrient_kind >= 0 && !form ? nutrient_find(word) : NULL;
    column->place = slot_place(matcher, *at);
    column->factor = 1;
    column->unit_text = "";
    if (form) {
        *at = match_next(matcher, *at);
        column->form = form;
        column->kind = form->kind;
        return !form->needs_unit || column_unit_read(matcher, at, form, forms, column);
    }
    if (nutrient) {
        *at = match_next(matcher, *at);
        column->kind = nutrient_kind;
        column->nutrient = nutrient;
        return column_unit_read(matcher, at, NULL, forms, column);
    }
    for (size_t i = 0; i < sizeof column_names / sizeof *column_names; i++) {
        const char *second = column_names[i].second;
        uint32_t next = match_next(matcher, *at);
        if (text_distance(word, text_of(column_names[i].first)) > 0 ||
            !column_form_of(forms, text_of(column_names[i].column)) ||
            (second && (match_kind(matcher, next) != TOKEN_WORD ||
                        text_distance(slot_text(matcher, next), text_of(second)) > 0)))
            continue;
        next = second ? match_next(matcher, next) : next;
        bool percent = match_kind(matcher, next) == TOKEN_MARK; /* "OM %" */
        column->place = match_place(matcher, *at, percent ? next + 1 : next);
        complain_of_name(model, column->place, column_names[i].column);
        return false;
    }
    complain(
        model, column->place,
        text_format(model->arena, "this table has no column `%.*s`", (int)word.length, word.start),
        text_format(model->arena, "columns are: %s", known_columns(model->arena, forms, nutrient_kind >= 0)));
    return false;
}

/* A column that cannot be read is passed over, so that each mistake of the row is reported. */
static bool read_header(struct matcher *matcher, uint32_t at, const char *first,
                        const struct column_form *forms, int nutrient_kind, struct columns *columns)
{
    struct model *model = matcher->model;
    struct text word = slot_text(matcher, at);
    bool sound = match_word(matcher, at, first);
    bool renamed = !sound && match_kind(matcher, at) == TOKEN_WORD && !column_form_of(forms, word) &&
                   !(nutrient_kind >= 0 && nutrient_find(word)) && match_kind(matcher, at + 1) == TOKEN_WORD;
    if (renamed) { /* `zone pH P ppm`: any other word there names the rows too */
        complain_of_name(model, slot_place(matcher, at), first);
    } else if (!sound) {
        struct report *report = complain(
            model, slot_place(matcher, at),
            text_format(model->arena, "the first row must name the columns, beginning with `%s`", first),
            text_format(model->arena, "columns are: %s, %s", first,
                        known_columns(model->arena, forms, nutrient_kind >= 0)));
        if (nutrient_kind >= 0)
            report_note(model->reports, report,
                        "for example `%s pH P ppm`, and in a row below it `gate 6.4 11`", first);
        return false;
    }
    at = match_next(matcher, at);
    while (match_kind(matcher, at) != TOKEN_END) {
        struct table_column column = {0};
        uint32_t start = at;
        if (!read_column(matcher, &at, forms, nutrient_kind, &column)) {
            sound = false;
            at = match_next(matcher, start);
            while (match_kind(matcher, at) != TOKEN_END && slot_place(matcher, at).start < column.place.end)
                at = match_next(matcher, at);
            /* What seems to be its unit goes with it: one word, or more after `per` or `/`. */
            for (bool unit = false; match_kind(matcher, at) != TOKEN_END; at = match_next(matcher, at)) {
                bool name = match_kind(matcher, at) == TOKEN_WORD && !match_word(matcher, at, "per");
                if (column_form_of(forms, slot_text(matcher, at)) ||
                    (nutrient_kind >= 0 && nutrient_find(slot_text(matcher, at))) || (name && unit))
                    break;
                unit = name;
            }
            continue;
        }
        const struct table_column *same = NULL;
        for (size_t i = 0; i < columns->count && !same; i++) {
            /* P and P2O5 are one column. */
            const struct table_column *other = &columns->items[i];
            const struct nutrient_form *one = other->nutrient, *two = column.nutrient;
            if (other->kind == column.kind && (!one || !two || one->nutrient == two->nutrient))
                same = other;
        }
        if (same) {
            struct report *report = report_add(model->reports, &model_rules[RULE_TABLE], column.place,
                                               "this column is here twice");
            report_label(model->reports, report, same->place, "first stated here");
            sound = false;
        }
        VECTOR_PUSH(model->arena, columns, column);
    }
    if (sound && !columns->count)
        complain(model, match_place(matcher, at - 1, at), "this table has no column of values", NULL);
    return sound && columns->count;
}

static const double CELL_MOST = 1e15; /* 1/0 is more than any */

/* Temperatures (the only columns with an offset) may be below zero. */
bool table_value_possible(struct model *model, const struct table_column *column,
                          const struct table_cell *cell, double written)
{
    const struct column_form *form = column->form;
    const char *wrong = NULL;
    if (written < 0 && column->offset == 0)
        wrong = "this value is below zero";
    else if (form && form->exact && (cell->below || cell->above || written <= 0))
        wrong = text_format(model->arena, "%s is always above zero", form->name);
    else if (form && form->most > 0 && written > form->most)
        wrong =
            text_format(model->arena, "%s is at most %s", form->name, number_short(model->arena, form->most));
    if (wrong)
        complain(model, cell->place, wrong, NULL);
    return !wrong;
}

/* ---- the laboratory's rating beside a figure ---- */

/* A word behind the number of a nutrient is the laboratory's rating of it: `11 L`. */
static bool at_rating(const struct matcher *matcher, uint32_t at, const struct table_column *column)
{
    return column->nutrient && match_kind(matcher, at) == TOKEN_WORD && !match_word(matcher, at, "none") &&
           !match_word(matcher, at, "below") && !match_word(matcher, at, "above");
}

/* `none`, a number, or one with `<` or `>` before it: below or above what the laboratory measures. */
static bool read_cell(struct matcher *matcher, uint32_t *at, const struct table_column *column,
                      struct table_cell *cell)
{
    uint32_t first = *at;
    double number = NAN;
    if (match_kind(matcher, *at) == TOKEN_LESS || match_word(matcher, *at, "below")) {
        cell->below = true;
        *at = match_next(matcher, *at);
    } else if (match_kind(matcher, *at) == TOKEN_MORE || match_word(matcher, *at, "above")) {
        cell->above = true;
        *at = match_next(matcher, *at);
    }
    if (match_kind(matcher, *at) == TOKEN_NUMBER) {
        number = token_number(slot_text(matcher, *at));
        if (!(fabs(number) <= CELL_MOST)) {
            complain(matcher->model, slot_place(matcher, *at), "this number is out of range", NULL);
            return false;
        }
    } else if (cell->below || cell->above || !match_word(matcher, *at, "none")) {
        struct text text = slot_text(matcher, *at);
        report_add(matcher->model->reports, &model_rules[RULE_TABLE], slot_place(matcher, *at),
                   "`%.*s` is not a number", (int)text.length, text.start)
            ->help = "a cell is a number, `<` or `>` and a number, or `none`";
        return false;
    }
    *at = match_next(matcher, *at);
    cell->place = match_place(matcher, first, *at);
    if (!isnan(number) && at_rating(matcher, *at, column)) {
        struct model *model = matcher->model;
        struct text word = slot_text(matcher, *at);
        const char *known = rating_read(model->arena, word, &cell->rating);
        cell->rating_text = text_string(model->arena, word); /* as written, so that an output can quote it */
        if (known) {
            complain(model, slot_place(matcher, *at),
                     text_format(model->arena, "`%s` is not a rating", cell->rating_text), known);
            return false;
        }
        *at = match_next(matcher, *at);
    }
    cell->number = number * column->factor + column->offset;
    return table_value_possible(matcher->model, column, cell, number);
}

/* ---- rows of other tables ---- */

/* The token that separates cells as a spreadsheet does; the statement's end where none does. */
static uint32_t separator_in(const struct tree *tree, const struct statement *statement)
{
    uint32_t at = statement->first;
    while (at < statement->end && tree->tokens.items[at].kind != TOKEN_COMMA &&
           !(tree->tokens.items[at].kind == TOKEN_MARK && text_is(token_text(&tree->tokens, at), ";")))
        at++;
    return at;
}

/* Rows pasted from a spreadsheet are one mistake, and one change makes rows of all of them as this language
 * has them: cells apart by blanks, `none` for an empty one, a name of several words in quotes. */
static bool complain_of_separators(struct model *model, const struct tree *tree, const struct block *block)
{
    const struct statement *first = block->first, *last = NULL;
    while (first && (first->broken || first->block || separator_in(tree, first) == first->end))
        first = statement_next(first);
    if (!first)
        return false;
    struct place place = token_place(&tree->tokens, separator_in(tree, first)), rows;
    char separator = *place_text(place).start;
    for (const struct statement *at = first; at && !at->broken && !at->block; at = statement_next(at))
        last = separator_in(tree, at) < at->end ? at : last;
    struct report *report =
        complain(model, place,
                 text_format(model->arena, "values in a row are separated by spaces, not by %s",
                             separator == ',' ? "commas" : "semicolons"),
                 NULL);
    rows = statement_place(tree, first);
    rows.end = statement_place(tree, last).end;
    struct text text = place_text(rows);
    if (memchr(text.start, '#', text.length))
        return true;
    struct buffer written = {.arena = model->arena};
    for (size_t at = 0; at <= text.length;) {
        size_t start = at, end = at;
        while (start < text.length && (text.start[start] == ' ' || text.start[start] == '\t'))
            start++;
        while (end < text.length && text.start[end] != '\n')
            end++;
        buffer_add(&written, (struct text){text.start + at, start - at});
        for (size_t from = start, to; start < end && from <= end; from = to + 1) {
            for (to = from; to < end && text.start[to] != separator;)
                to++;
            struct text cell = {text.start + from, to - from};
            while (cell.length && strchr(" \t\r", cell.start[cell.length - 1]))
                cell.length--;
            for (; cell.length && strchr(" \t", *cell.start); cell.length--)
                cell.start++;
            bool first_cell = from == start;
            bool quoted = first_cell && memchr(cell.start, ' ', cell.length) && *cell.start != '"';
            buffer_add_string(&written, first_cell ? "" : " ");
            buffer_add_string(&written, quoted ? "\"" : cell.length ? "" : "none");
            for (size_t i = 0; i < cell.length; i++) /* beside semicolons a comma is a decimal one */
                buffer_format(&written, "%c", separator == ';' && cell.start[i] == ',' ? '.' : cell.start[i]);
            buffer_add_string(&written, quoted ? "\"" : "");
        }
        buffer_add_string(&written, end < text.length ? "\n" : "");
        at = end + 1;
    }
    report_fix(model->reports, report, false, rows, buffer_string(&written),
               "separate the values with spaces");
    return true;
}

/* "pH: 6.4", a name and its value in each row, as a laboratory's sheet lists them: one mistake, and one
 * change makes two rows of it. False where the rows are not so. */
static bool complain_of_listed_values(struct model *model, const struct tree *tree, const struct block *block,
                                      const char *first, const struct column_form *forms)
{
    struct text head = block->first ? token_text(&tree->tokens, block->first->first) : (struct text){"", 0};
    if (!column_form_of(forms, head) && !nutrient_find(head))
        return false;
    struct buffer names = {.arena = model->arena}, values = {.arena = model->arena};
    struct place rows = {0};
    buffer_add_string(&names, first);
    buffer_add_string(&values, "sample");
    for (const struct statement *row = block->first; row; row = statement_next(row)) {
        struct matcher matcher = {.model = model, .tree = tree, .first = row->first, .end = row->end};
        uint32_t number = row->first;
        while (match_kind(&matcher, number) == TOKEN_WORD)
            number++;
        uint32_t name_end = number;
        number += match_kind(&matcher, number) == TOKEN_COLON;
        if (name_end == row->first || match_kind(&matcher, number) != TOKEN_NUMBER || row->broken ||
            row->block)
            return false;
        struct place name = match_place(&matcher, row->first, name_end),
                     unit = match_place(&matcher, number, row->end);
        unit.start = token_place(&tree->tokens, number).end;
        buffer_format(&names, " %s", text_string(model->arena, place_text(name)));
        buffer_add(&names, place_text(unit));
        buffer_format(&values, " %s", text_string(model->arena, slot_text(&matcher, number)));
        rows = row == block->first ? statement_place(tree, row) : rows;
        rows.end = statement_place(tree, row).end;
    }
    if (!rows.source)
        return false;
    struct place place = statement_place(tree, block->first);
    struct report *report =
        complain(model, place, "the names of the columns are one row, and their values the row below", NULL);
    uint32_t indent = rows.start;
    while (indent > 0 && rows.source->bytes[indent - 1] != '\n')
        indent--;
    const char *written =
        text_format(model->arena, "%s\n%.*s%s", buffer_string(&names), (int)(rows.start - indent),
                    rows.source->bytes + indent, buffer_string(&values));
    report_fix(model->reports, report, false, rows, written, "put them in two rows");
    return true;
}

/* The values after the row's name are counted first: a row too short would blame the wrong cell. */
static bool read_row(struct matcher *matcher, uint32_t at, const struct columns *columns,
                     struct table_row *row)
{
    struct model *model = matcher->model;
    row->place = match_place(matcher, at, matcher->end);
    row->name = name_intern(model->names, slot_name(matcher, at));
    size_t cells = 0;
    uint32_t second = match_next(matcher, at);

    /* A dash or "n/a" that stands for a value is reported; of "6.4 - 44", which is one token, its dash. */
    bool number = false; /* the token before is one, of a value */
    for (uint32_t here = second; match_kind(matcher, here) != TOKEN_END; here = match_next(matcher, here)) {
        bool split = match_kind(matcher, here + 1) == TOKEN_SLASH; /* "n/a" */
        bool range = match_kind(matcher, here) == TOKEN_RANGE;
        if (split || range || match_kind(matcher, here) == TOKEN_MARK) {
            struct place place = match_place(matcher, here, split ? here + 3 : here + 1);
            struct text text = place_text(place);
            const char *blank = memchr(text.start, ' ', text.length);
            if (range && blank) {
                const char *dash = blank + strspn(blank, " ");
                place.start += (uint32_t)(dash - text.start);
                place.end = place.start + (uint32_t)strcspn(dash, " ");
            }
            struct report *report =
                complain(model, place,
                         text_format(model->arena, "`%s` is not a value",
                                     text_string(model->arena, place_text(place))),
                         range && !blank ? "write one number, or `none` for a missing reading"
                                         : "write `none` for a missing reading");
            if (!range || blank)
                report_fix(model->reports, report, false, place, "none", "write `none`");
            return false;
        }
        bool mark = match_kind(matcher, here) == TOKEN_LESS || match_kind(matcher, here) == TOKEN_MORE ||
                    match_word(matcher, here, "below") || match_word(matcher, here, "above");
        cells += !mark &&
                 !(number && cells <= columns->count && at_rating(matcher, here, &columns->items[cells - 1]));
        number = match_kind(matcher, here) == TOKEN_NUMBER;
    }

    if (cells == columns->count + 1 && match_kind(matcher, at) == TOKEN_WORD &&
        match_kind(matcher, second) == TOKEN_WORD && !match_word(matcher, second, "none")) {
        struct place name = match_place(matcher, at, second + 1);
        struct text words = place_text(name);
        const char *quoted = text_format(model->arena, "\"%.*s\"", (int)words.length, words.start);
        struct report *report = report_add(model->reports, &model_rules[RULE_TABLE], name,
                                           "a name of several words goes between quotes");
        report_fix(model->reports, report, false, name, quoted,
                   text_format(model->arena, "write `%s`", quoted));
        return false;
    }
    if (cells != columns->count) {
        complain(model, row->place,
                 text_format(model->arena, "this row has %zu %s for %zu %s", cells,
                             cells == 1 ? "value" : "values", columns->count,
                             columns->count == 1 ? "column" : "columns"),
                 "write `none` where the value is missing");
        return false;
    }
    row->cells = ARENA_ARRAY(model->arena, columns->count, struct table_cell);
    at = match_next(matcher, at);
    for (size_t i = 0; i < columns->count; i++)
        if (!read_cell(matcher, &at, &columns->items[i], &row->cells[i]))
            return false;
    return true;
}

/* Without the names of its columns no row can be read; otherwise every row is, for its mistakes. */
bool table_read(struct model *model, const struct tree *tree, const struct block *block, const char *first,
                const struct column_form *forms, int nutrient_kind, struct table *table)
{
    struct columns columns = {0};
    VECTOR(struct table_row) rows = {0};
    bool sound = true, header = false;
    if (complain_of_separators(model, tree, block) ||
        complain_of_listed_values(model, tree, block, first, forms))
        return false;
    for (const struct statement *statement = block->first; statement; statement = statement_next(statement)) {
        struct matcher matcher = {.model = model, .tree = tree, .end = statement->end};
        uint32_t at = match_skip(&matcher, statement->first);
        if (statement->broken || statement->block) {
            if (!statement->broken)
                complain(model, token_place(&tree->tokens, statement->block->open),
                         "a row of a table cannot have a block", NULL);
            if (!header)
                return false; /* without the names of its columns no row can be read */
            sound = false;
            continue;
        }
        if (!header) {
            header = true;
            if (!read_header(&matcher, at, first, forms, nutrient_kind, &columns))
                return false;
            continue;
        }
        struct table_row row = {0};
        bool fine = read_row(&matcher, at, &columns, &row);
        sound = sound && fine;
        if (fine)
            VECTOR_PUSH(model->arena, &rows, row);
    }
    if (sound && !rows.count)
        complain(model, token_place(&tree->tokens, block->open), "this table has no rows",
                 "the first row names the columns; the values follow in the rows below");
    *table = (struct table){columns.items, columns.count, rows.items, rows.count};
    return sound && rows.count;
}
