#include "compiler/form/json.h"

#include "lexer/source.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static _Noreturn void memory_refused(struct json_writer *writer)
{
    arena_alloc(writer->arena, SIZE_MAX);
    abort(); /* not reached: no system has so much */
}

/* Attaches `value`, which jansson takes over, even where it fails. */
static json_t *put(struct json_writer *writer, json_t *parent, const char *key, json_t *value)
{
    int failed = key ? json_object_set_new_nocheck(parent, key, value) : json_array_append_new(parent, value);
    if (failed)
        memory_refused(writer);
    return value;
}

json_t *json_put_object(struct json_writer *writer, json_t *parent, const char *key)
{
    return put(writer, parent, key, json_object());
}

json_t *json_put_array(struct json_writer *writer, json_t *parent, const char *key)
{
    return put(writer, parent, key, json_array());
}

void json_put_integer(struct json_writer *writer, json_t *parent, const char *key, json_int_t value)
{
    put(writer, parent, key, json_integer(value));
}

void json_put_number(struct json_writer *writer, json_t *parent, const char *key, double value)
{
    assert(isfinite(value));
    put(writer, parent, key, json_real(value));
}

void json_put_figure(struct json_writer *writer, json_t *parent, const char *key, double value)
{
    if (isfinite(value))
        json_put_number(writer, parent, key, value);
    else
        json_put_null(writer, parent, key);
}

void json_put_boolean(struct json_writer *writer, json_t *parent, const char *key, bool value)
{
    put(writer, parent, key, json_boolean(value));
}

void json_put_null(struct json_writer *writer, json_t *parent, const char *key)
{
    put(writer, parent, key, json_null());
}

/* `text` with what is not UTF-8 replaced; the text itself where nothing is. */
static struct text text_valid(struct arena *arena, struct text text)
{
    struct buffer valid = {.arena = arena};
    size_t kept = 0, length; /* bytes before `kept` are in `valid` already */
    for (size_t at = 0; at < text.length; at += length) {
        text_character(text, at, &length);
        if (length > 1 || (unsigned char)text.start[at] < 0x80)
            continue;
        buffer_add(&valid, (struct text){text.start + kept, at - kept});
        buffer_add_string(&valid, "\xEF\xBF\xBD");
        kept = at + 1;
    }
    if (kept == 0)
        return text;
    buffer_add(&valid, (struct text){text.start + kept, text.length - kept});
    return (struct text){valid.string, valid.length};
}

void json_put_text(struct json_writer *writer, json_t *parent, const char *key, struct text text)
{
    struct text valid = text_valid(writer->arena, text);
    put(writer, parent, key, json_stringn_nocheck(valid.start, valid.length));
}

void json_put_name(struct json_writer *writer, json_t *parent, const char *key, const struct name *name)
{
    if (name)
        json_put_text(writer, parent, key, name->text);
    else
        json_put_null(writer, parent, key);
}

void json_put_string(struct json_writer *writer, json_t *parent, const char *key, const char *string)
{
    if (string)
        json_put_text(writer, parent, key, text_of(string));
    else
        json_put_null(writer, parent, key);
}

/* DEL is ASCII and jansson leaves it as it is; it stands nowhere but in strings. */
static void deletes_escape(struct buffer *out, size_t start)
{
    if (!memchr(out->string + start, 0x7F, out->length - start))
        return;
    struct text document =
        text_of(text_string(out->arena, (struct text){out->string + start, out->length - start}));
    out->length = start;
    for (size_t i = 0; i < document.length; i++)
        buffer_add(out, document.start[i] == 0x7F ? TEXT("\\u007F") : (struct text){document.start + i, 1});
}

/* Digits of a number: what rounding on the way leaves certain on every machine, and far more than anyone
 * weighs. */
enum { REAL_DIGITS = 12 };

static void document_print(struct json_writer *writer, struct buffer *out, bool indent)
{
    size_t flags =
        JSON_ENSURE_ASCII | JSON_REAL_PRECISION(REAL_DIGITS) | (indent ? JSON_INDENT(2) : JSON_COMPACT);
    size_t length = json_dumpb(writer->root, NULL, 0, flags);
    if (length == 0)
        memory_refused(writer);
    size_t start = out->length;
    buffer_repeat(out, '\n', length + 1);
    if (json_dumpb(writer->root, out->string + start, length, flags) != length)
        memory_refused(writer);
    deletes_escape(out, start);
}

/* False when memory was refused on the way. Apart from json_print because of what setjmp does to locals. */
static bool document_made(struct json_writer *writer, struct buffer *out, bool indent, json_filler *fill,
                          const void *subject)
{
    jmp_buf refused;
    if (setjmp(refused))
        return false;
    writer->arena->exhausted = &refused;
    fill(writer, writer->root, subject);
    document_print(writer, out, indent);
    return true;
}

void json_print(struct buffer *out, bool indent, json_filler *fill, const void *subject)
{
    struct json_writer writer = {.arena = out->arena, .root = json_object()};
    if (!writer.root)
        memory_refused(&writer);
    jmp_buf *exhausted = out->arena->exhausted;
    bool made = document_made(&writer, out, indent, fill, subject);
    out->arena->exhausted = exhausted;
    json_decref(writer.root);
    if (!made)
        memory_refused(&writer);
}
