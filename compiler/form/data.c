#include "compiler/form/data.h"

#include "compiler/form/terminal_text.h"
#include "compiler/model/display.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- objects and lists ---- */

/* What stands between values: in lines all of it, as far as they are indented; in a row a comma and a blank;
 * in a document on one line the comma alone. */
static const char lines[] = ",\n                                                                  ",
                  row[] = ", ";

/* What is open in it was filled, and so is it: its bracket closes it. */
static void close(struct data *data)
{
    if (data->open)
        close(data->open);
    size_t before = data->lines && data->count ? data->between - 3 : 0; /* no comma, one level less */
    char *at = buffer_extend(data->out, before + 1);
    memcpy(at, lines + 1, before);
    at[before] = data->list ? ']' : '}';
    data->out = NULL;
}

/* What a value has before it and the room for its `length` bytes, in one piece: where these begin. The first
 * value of lines begins one too, and has no comma. */
static char *put(struct data *parent, const char *key, size_t length)
{
    assert(parent->out && parent->list == !key);
    if (parent->open)
        close(parent->open);
    parent->open = NULL;
    size_t skipped = parent->count++ ? 0 : parent->lines ? 1 : parent->between;
    size_t before = parent->between - skipped, letters = text_of(key ? key : "").length;
    size_t colon = key ? 2 + (parent->between > 1) : 0;
    char *at = buffer_extend(parent->out, before + (key ? 1 + letters : 0) + colon + length);
    memcpy(at, (parent->lines ? lines : row) + skipped, before);
    at += before;
    if (key) {
        /* In a document on one line a blank too many lies where the value comes. */
        *at++ = '"';
        memcpy(at, key, letters);
        at[letters] = '"';
        at[letters + 1] = ':';
        at[letters + 2] = ' ';
        at += letters + colon;
    }
    return at;
}

/* A parent has one child open at a time: it is filled in the place of the one before it. */
static struct data *put_open(struct data *parent, const char *key, char bracket, bool in_lines)
{
    *put(parent, key, 1) = bracket;
    struct data *data = parent->child ? parent->child : ARENA_NEW(parent->arena, struct data);
    uint32_t in_row = parent->between > 1 ? sizeof row - 1 : 1;
    *data = (struct data){.arena = parent->arena,
                          .out = parent->out,
                          .child = data->child,
                          .between = in_lines ? parent->between + 2 : in_row,
                          .list = bracket == '[',
                          .lines = in_lines};
    assert(data->between < sizeof lines);
    return parent->open = parent->child = data;
}

struct data *data_begin(struct buffer *out, bool indented)
{
    struct data *root = ARENA_NEW(out->arena, struct data);
    *root = (struct data){.arena = out->arena, .out = out, .between = indented ? 4 : 1, .lines = indented};
    buffer_add(out, TEXT("{"));
    return root;
}

struct data *data_part_begin(struct arena *arena, struct buffer *out, uint32_t depth)
{
    struct data *list = ARENA_NEW(arena, struct data);
    *list = (struct data){.arena = arena, .out = out, .between = 4 + 2 * depth, .list = true, .lines = true};
    list->count = out->length > 0;
    return list;
}

/* A root is an object. The brackets of a part are those of the document that takes it. */
void data_end(struct data *data)
{
    struct buffer *out = data->out;
    if (!data->list) {
        close(data);
        buffer_add(out, TEXT("\n"));
    } else if (data->open) {
        close(data->open);
    }
    data->out = NULL;
}

struct data *data_object(struct data *parent, const char *key)
{
    return put_open(parent, key, '{', parent->lines);
}

struct data *data_row(struct data *parent, const char *key)
{
    return put_open(parent, key, '{', false);
}

struct data *data_list_row(struct data *parent, const char *key)
{
    return put_open(parent, key, '[', false);
}

struct data *data_list(struct data *parent, const char *key)
{
    return put_open(parent, key, '[', parent->lines);
}

void data_printed(struct data *parent, const char *key, struct text values)
{
    struct data *list = data_list(parent, key);
    list->count = values.length > 0;
    buffer_add(list->out, values);
}

/* ---- values ---- */

/* Whether all of it is ' ' to '~' but for quotes and backslashes: eight bytes at a time, of which what is not
 * sets the top bit of a term. The last eight may have been among those before them. */
static bool text_plain(struct text text)
{
    const uint64_t ones = UINT64_C(0x0101010101010101), tops = ones << 7;
    uint64_t marks = 0;
    for (size_t at = 0; at < text.length; at += sizeof marks) {
        uint64_t bytes = ones * ' ';
        if (text.length < sizeof bytes)
            memcpy(&bytes, text.start, text.length);
        else
            memcpy(&bytes, text.start + (at < text.length - sizeof bytes ? at : text.length - sizeof bytes),
                   sizeof bytes);
        uint64_t quotes = bytes ^ ones * '"', slashes = bytes ^ ones * '\\';
        marks |= bytes | (bytes + ones) | (bytes - ones * ' ') | (quotes - ones) | (slashes - ones);
    }
    return !(marks & tops);
}

/* Down to ASCII (RFC 8259, 7), DEL too, which drives some terminals. */
static void escaped_add(struct buffer *out, struct text text)
{
    static const char escaped[] = "\"\\\b\f\n\r\t", letters[] = "\"\\bfnrt";
    buffer_add(out, TEXT("\""));
    for (size_t at = 0, length; at < text.length; at += length) {
        uint32_t code_point = text_character(text, at, &length);
        if (length == 1 && (unsigned char)text.start[at] >= 0x80) /* no UTF-8 */
            code_point = 0xFFFD;
        const char *short_form = code_point ? strchr(escaped, code_point < 0x80 ? (int)code_point : 1) : NULL;
        if (short_form)
            buffer_format(out, "\\%c", letters[short_form - escaped]);
        else if (code_point >= ' ' && code_point <= '~')
            buffer_repeat(out, (char)code_point, 1);
        else if (code_point < 0x10000)
            buffer_format(out, "\\u%04X", (unsigned)code_point);
        else /* above the basic plane: two surrogates (RFC 8259, 7) */
            buffer_format(out, "\\u%04X\\u%04X", (unsigned)(0xD800 + ((code_point - 0x10000) >> 10)),
                          (unsigned)(0xDC00 + (code_point & 0x3FF)));
    }
    buffer_add(out, TEXT("\""));
}

static void text_add(struct buffer *out, struct text text)
{
    if (!text_plain(text)) {
        escaped_add(out, text);
        return;
    }
    char *start = buffer_extend(out, text.length + 2);
    *start = '"';
    memcpy(start + 1, text.start, text.length);
    start[1 + text.length] = '"';
}

void data_text(struct data *parent, const char *key, struct text text)
{
    put(parent, key, 0);
    text_add(parent->out, text);
}

static void string_add(struct buffer *out, const char *string)
{
    if (string)
        text_add(out, text_of(string));
    else
        buffer_add(out, TEXT("null"));
}

void data_string(struct data *parent, const char *key, const char *string)
{
    put(parent, key, 0);
    string_add(parent->out, string);
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
    put(parent, key, 0);
    integer_add(parent->out, value, 0);
}

/* Twelve significant digits: what rounding on the way leaves certain on every machine, and far more than
 * anyone weighs. Always with a point or an exponent, so that a reader with whole numbers keeps it apart. The
 * bytes are those of printf's %.12g (tests), but for an exponent's plus and zeros, which say nothing. */
enum { SIGNIFICANT = 12, SMALLEST = -4 /* exponent that zeros are written for */ };

static void number_add(struct buffer *out, double value)
{
    char zeros[SIGNIFICANT - SMALLEST + 1], *digits = zeros - SMALLEST;
    int binary, count = SIGNIFICANT;
    uint64_t whole = 0;
    memset(zeros, '0', sizeof zeros);
    frexp(value, &binary);
    /* The power of ten that leaves twelve digits, or one too many. The share is log10(2), and what it makes
     * of every exponent of a double is right. */
    int power = SIGNIFICANT - 1 - ((binary - 1) * 78913 >> 18);
    bool scaled = power > 0 && power <= NUMBER_POWER && number_scaled(value, power, true, &whole);
    if (scaled && whole >= UINT64_C(1000000000000))
        scaled = number_scaled(value, --power, true, &whole);
    int exponent = value == 0 ? 0 : SIGNIFICANT - 1 - power;
    /* Halves of it are numbers that a machine divides faster. */
    uint32_t halves[] = {(uint32_t)(whole / 1000000), (uint32_t)(whole % 1000000)};
    for (int i = SIGNIFICANT / 2; i-- > 0 && scaled; halves[0] /= 10, halves[1] /= 10) {
        digits[i] = (char)('0' + halves[0] % 10);
        digits[SIGNIFICANT / 2 + i] = (char)('0' + halves[1] % 10);
    }
    if (!scaled) {
        char printed[64], *from = printed;
        snprintf(printed, sizeof printed, "%.*e", SIGNIFICANT - 1, fabs(value));
        for (int i = 0; i < SIGNIFICANT; from++)
            if (*from >= '0' && *from <= '9') /* a locale's point may be any */
                digits[i++] = *from;
        exponent = (int)strtol(from + 1, NULL, 10);
    }
    while (count > 1 && digits[count - 1] == '0')
        count--;
    /* "0.0012" begins with zeros, "12.0" ends with one. */
    bool plain = exponent >= SMALLEST && exponent < SIGNIFICANT;
    int point = plain && exponent >= 0 ? exponent + 1 : 1;
    if (plain && exponent < 0) {
        digits += exponent;
        count -= exponent;
    }
    int behind = count > point ? count - point : plain;
    bool negative = signbit(value);
    char *at = buffer_extend(out, (size_t)point + (size_t)behind + negative + (behind > 0));
    if (negative)
        *at++ = '-';
    memcpy(at, digits, (size_t)point);
    if (behind) {
        at[point] = '.';
        memcpy(at + point + 1, digits + point, (size_t)behind);
    }
    if (!plain) {
        buffer_add_string(out, "e");
        integer_add(out, exponent, 0);
    }
}

void data_number(struct data *parent, const char *key, double value)
{
    if (!isfinite(value)) {
        data_null(parent, key);
        return;
    }
    put(parent, key, 0);
    number_add(parent->out, value);
}

void data_boolean(struct data *parent, const char *key, bool value)
{
    size_t length = value ? sizeof "true" - 1 : sizeof "false" - 1;
    memcpy(put(parent, key, length), value ? "true" : "false", length);
}

void data_null(struct data *parent, const char *key)
{
    memcpy(put(parent, key, sizeof "null" - 1), "null", sizeof "null" - 1);
}

/* ---- what documents share ---- */

/* One shape in every document, so that a reader of one can read the others. */
struct data *data_plan(struct data *parent, const char *key, const struct model *model)
{
    struct data *plan = data_object(parent, key);
    data_string(plan, "title", model->title);
    data_integer(plan, "edition", model->edition);
    data_string(plan, "edition_date",
                model->edition > 0 ? day_text(parent->arena, model->edition_day) : NULL);
    if (model->has_season) {
        data_day(plan, "season_first", model->season_first);
        data_day(plan, "season_last", model->season_last);
    }
    data_string(plan, "units", model->metric ? "metric" : "us");
    return plan;
}

void data_day(struct data *parent, const char *key, day_number day)
{
    bool none = day == DAY_NONE || day == DAY_NEVER;
    data_string(parent, key, none ? NULL : day_text(parent->arena, day));
}

struct data *data_place(struct data *parent, const char *key, struct place place)
{
    if (!place.source) {
        data_null(parent, key);
        return NULL;
    }
    struct position position = source_position(place.source, place.start);
    struct data *object = data_row(parent, key);
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
    /* Nothing in a document is as frequent: the row is written as it will stand. */
    assert(parent->between > 1);
    memcpy(put(parent, key, sizeof "{\"si\": " - 1), "{\"si\": ", sizeof "{\"si\": " - 1);
    number_add(parent->out, si);
    buffer_add(parent->out, TEXT(", \"unit\": "));
    string_add(parent->out, unit);
    buffer_add(parent->out, TEXT(", \"text\": "));
    string_add(parent->out, text);
    buffer_add(parent->out, TEXT("}"));
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
