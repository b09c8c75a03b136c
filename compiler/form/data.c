#include "compiler/form/data.h"

#include "compiler/form/terminal_text.h"
#include "compiler/model/display.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- objects and lists ---- */

/* Newline, blanks, and a comma before them: what a value has before it, but for its key. */
static const char line[] = ",\n                                                                ";

static size_t line_length(const struct data *data, uint32_t depth)
{
    assert(2 * depth < sizeof line - sizeof ",\n");
    return data->indented ? 1 + 2 * (size_t)depth : 0;
}

/* What is open in it was filled, and so is it: its bracket closes it. */
static void close(struct data *data)
{
    if (data->open)
        close(data->open);
    if (data->count)
        buffer_add(data->out, (struct text){line + 1, line_length(data, data->depth)});
    buffer_add_string(data->out, data->list ? "]" : "}");
    data->out = NULL;
}

/* What a value has before it, in one piece. */
static struct buffer *put(struct data *parent, const char *key)
{
    assert(parent->out && parent->list == !key);
    if (parent->open)
        close(parent->open);
    parent->open = NULL;
    size_t comma = parent->count++ > 0, before = comma + line_length(parent, parent->depth + 1);
    size_t length = key ? strlen(key) : 0, colon = parent->indented ? sizeof ": " : sizeof ":";
    char *at = buffer_extend(parent->out, before + (key ? 1 + length + colon : 0));
    memcpy(at, line + 1 - comma, before);
    if (key) {
        at[before] = '"';
        memcpy(at + before + 1, key, length);
        memcpy(at + before + 1 + length, "\": ", colon);
    }
    return parent->out;
}

static struct data *put_open(struct data *parent, const char *key, bool list)
{
    struct buffer *out = put(parent, key);
    struct data *data = ARENA_NEW(parent->arena, struct data);
    *data = (struct data){.arena = parent->arena,
                          .out = out,
                          .depth = parent->depth + 1,
                          .list = list,
                          .indented = parent->indented};
    buffer_add_string(out, list ? "[" : "{");
    return parent->open = data;
}

struct data *data_begin(struct buffer *out, bool indented)
{
    struct data *root = ARENA_NEW(out->arena, struct data);
    *root = (struct data){.arena = out->arena, .out = out, .indented = indented};
    buffer_add_string(out, "{");
    return root;
}

struct data *data_part_begin(struct arena *arena, struct buffer *out, uint32_t depth)
{
    struct data *list = ARENA_NEW(arena, struct data);
    *list = (struct data){.arena = arena, .out = out, .depth = depth, .list = true, .indented = true};
    list->count = out->length > 0;
    return list;
}

/* The brackets of a part are those of the document that takes it. */
void data_end(struct data *data)
{
    struct buffer *out = data->out;
    if (data->depth == 0) {
        close(data);
        buffer_add_string(out, "\n");
    } else if (data->open) {
        close(data->open);
    }
    data->out = NULL;
}

struct data *data_object(struct data *parent, const char *key)
{
    return put_open(parent, key, false);
}

struct data *data_list(struct data *parent, const char *key)
{
    return put_open(parent, key, true);
}

void data_printed(struct data *parent, const char *key, struct text values)
{
    struct data *list = data_list(parent, key);
    list->count = values.length > 0;
    buffer_add(list->out, values);
}

/* ---- values ---- */

/* Escaped down to ASCII (RFC 8259, 7), DEL too, which drives some terminals. */
void data_text(struct data *parent, const char *key, struct text text)
{
    static const char escaped[] = "\"\\\b\f\n\r\t", letters[] = "\"\\bfnrt";
    struct buffer *out = put(parent, key);
    size_t length;
    buffer_add_string(out, "\"");
    for (size_t at = 0; at < text.length; at += length) {
        /* What stays as it is, most of any text, in one piece. */
        for (length = 0; at + length < text.length; length++) {
            char byte = text.start[at + length];
            if (byte < ' ' || byte > '~' || byte == '"' || byte == '\\')
                break;
        }
        if (length) {
            buffer_add(out, (struct text){text.start + at, length});
            continue;
        }
        uint32_t code_point = text_character(text, at, &length);
        if (length == 1 && (unsigned char)text.start[at] >= 0x80) /* no UTF-8 */
            code_point = 0xFFFD;
        const char *short_form = code_point ? strchr(escaped, code_point < 0x80 ? (int)code_point : 1) : NULL;
        if (short_form)
            buffer_format(out, "\\%c", letters[short_form - escaped]);
        else if (code_point < 0x10000)
            buffer_format(out, "\\u%04X", (unsigned)code_point);
        else /* above the basic plane: two surrogates (RFC 8259, 7) */
            buffer_format(out, "\\u%04X\\u%04X", (unsigned)(0xD800 + ((code_point - 0x10000) >> 10)),
                          (unsigned)(0xDC00 + (code_point & 0x3FF)));
    }
    buffer_add_string(out, "\"");
}

void data_string(struct data *parent, const char *key, const char *string)
{
    if (string)
        data_text(parent, key, text_of(string));
    else
        data_null(parent, key);
}

void data_name(struct data *parent, const char *key, const struct name *name)
{
    if (name)
        data_text(parent, key, name->text);
    else
        data_null(parent, key);
}

void data_integer(struct data *parent, const char *key, long long value)
{
    integer_add(put(parent, key), value, 0);
}

/* Twelve significant digits: what rounding on the way leaves certain on every machine, and far more than
 * anyone weighs. Always with a point or an exponent, so that a reader with whole numbers keeps it apart. */
void data_number(struct data *parent, const char *key, double value)
{
    if (!isfinite(value)) {
        data_null(parent, key);
        return;
    }
    struct buffer *out = put(parent, key);
    char digits[32];
    int length = snprintf(digits, sizeof digits, "%.12g", value);
    bool whole = true, plain = digits[strspn(digits, "-0123456789.")] == '\0';
    if (plain) {
        whole = !strchr(digits, '.');
        buffer_add(out, (struct text){digits, (size_t)length});
    }
    for (int i = 0; i < length && !plain; i++) {
        whole = whole && strchr("-0123456789", digits[i]);
        /* A locale's point may be another, and an exponent's sign and zeros say nothing. */
        if (!strchr("-0123456789e+", digits[i]))
            buffer_add_string(out, ".");
        else if (digits[i] != '+' && !(digits[i] == '0' && i > 1 && strchr("+-", digits[i - 1])))
            buffer_repeat(out, digits[i], 1);
    }
    if (whole)
        buffer_add_string(out, ".0");
}

void data_boolean(struct data *parent, const char *key, bool value)
{
    buffer_add_string(put(parent, key), value ? "true" : "false");
}

void data_null(struct data *parent, const char *key)
{
    buffer_add_string(put(parent, key), "null");
}

/* ---- what documents share ---- */

/* One shape in every document, so that a reader of one can read the others. */
struct data *data_plan(struct data *parent, const char *key, const struct model *model)
{
    struct data *plan = data_object(parent, key);
    data_string(plan, "title", model->title);
    data_integer(plan, "edition", model->edition);
    if (model->edition > 0)
        data_day(plan, "edition_date", model->edition_day);
    else
        data_null(plan, "edition_date");
    if (model->has_season) {
        data_day(plan, "season_first", model->season_first);
        data_day(plan, "season_last", model->season_last);
    }
    data_string(plan, "units", model->metric ? "metric" : "us");
    return plan;
}

void data_day(struct data *parent, const char *key, day_number day)
{
    data_string(parent, key, day_text(parent->arena, day));
}

struct data *data_place(struct data *parent, const char *key, struct place place)
{
    if (!place.source) {
        data_null(parent, key);
        return NULL;
    }
    struct position position = source_position(place.source, place.start);
    struct data *object = data_object(parent, key);
    data_string(object, "path", place.source->path);
    data_integer(object, "line", position.line);
    data_integer(object, "column", position.column);
    return object;
}

void data_quantity(struct data *parent, const char *key, double si, const char *unit, const char *text)
{
    if (!isfinite(si)) {
        data_null(parent, key);
        return;
    }
    struct data *object = data_object(parent, key);
    data_number(object, "si", si);
    data_string(object, "unit", unit);
    data_string(object, "text", text);
}

void data_amount(struct data *parent, const char *key, double si, bool volume, const char *text)
{
    data_quantity(parent, key, si, volume ? "m3" : "kg", text);
}

void data_rate(struct data *parent, const char *key, double si, bool volume, const char *text)
{
    data_quantity(parent, key, si, volume ? "m3/m2" : "kg/m2", text);
}

void data_measure(struct data *parent, const char *key, const struct model *model, enum quantity quantity,
                  double si)
{
    static const char *const units[] = {
        [QUANTITY_MASS] = "kg", [QUANTITY_MASS_RATE] = "kg/m2", [QUANTITY_AREA] = "m2"};
    assert(quantity <= QUANTITY_AREA && units[quantity]);
    data_quantity(parent, key, si, units[quantity],
                  isnan(si) ? NULL : display_of(parent->arena, model, quantity, si, NULL));
}
