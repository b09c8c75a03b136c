#include "compiler/form/json.h"

#include <stdio.h>
#include <string.h>

/* Escaped down to ASCII (RFC 8259, 7), DEL too, which drives some terminals. */
static void print_string(struct buffer *out, struct text text)
{
    static const char escaped[] = "\"\\\b\f\n\r\t", letters[] = "\"\\bfnrt";
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

/* Twelve significant digits: what rounding on the way leaves certain on every machine, and far more than
 * anyone weighs. Always with a point or an exponent, so that a reader with whole numbers keeps it apart. */
static void print_number(struct buffer *out, double value)
{
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

/* By hand: printf takes half the time of a long document, in which most values are small numbers. */
static void print_integer(struct buffer *out, long long value)
{
    char digits[24];
    size_t at = sizeof digits;
    unsigned long long rest = value < 0 ? 0 - (unsigned long long)value : (unsigned long long)value;
    do
        digits[--at] = (char)('0' + rest % 10);
    while (rest /= 10);
    if (value < 0)
        digits[--at] = '-';
    buffer_add(out, (struct text){digits + at, sizeof digits - at});
}

/* Objects and lists differ in their brackets alone; their members know their keys. */
static void print_value(struct buffer *out, bool indent, size_t depth, const struct data *value)
{
    switch (value->kind) {
    case DATA_OBJECT:
    case DATA_LIST:
        buffer_add_string(out, value->kind == DATA_OBJECT ? "{" : "[");
        for (const struct data *member = value->first; member; member = member->next) {
            if (indent) {
                buffer_add_string(out, "\n");
                buffer_repeat(out, ' ', 2 * (depth + 1));
            }
            if (member->key) {
                print_string(out, text_of(member->key));
                buffer_add_string(out, indent ? ": " : ":");
            }
            print_value(out, indent, depth + 1, member);
            buffer_add_string(out, member->next ? "," : indent ? "\n" : "");
        }
        buffer_repeat(out, ' ', indent && value->first ? 2 * depth : 0);
        buffer_add_string(out, value->kind == DATA_OBJECT ? "}" : "]");
        break;
    case DATA_TEXT:
        print_string(out, value->text);
        break;
    case DATA_INTEGER:
        print_integer(out, value->integer);
        break;
    case DATA_NUMBER:
        print_number(out, value->number);
        break;
    case DATA_BOOLEAN:
        buffer_add_string(out, value->integer ? "true" : "false");
        break;
    case DATA_NULL:
        buffer_add_string(out, "null");
        break;
    case DATA_PRINTED:
        buffer_add(out, value->text);
        break;
    }
}

void json_print(struct buffer *out, bool indent, const struct data *root)
{
    print_value(out, indent, 0, root);
    buffer_add_string(out, "\n");
}

void json_part_print(struct buffer *out, bool indent, size_t depth, const struct data *value)
{
    if (out->length) {
        buffer_add_string(out, indent ? ",\n" : ",");
        buffer_repeat(out, ' ', indent ? 2 * depth : 0);
    }
    print_value(out, indent, depth, value);
}
