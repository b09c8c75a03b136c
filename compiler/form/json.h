/* JSON documents (RFC 8259) through jansson, with one way out when memory is refused: the arena's. */
#ifndef PRILL_FORM_JSON_H
#define PRILL_FORM_JSON_H

#include "lexer/text.h"

#include <jansson.h>

/* A document being filled. Every value is attached to its parent as it is made, so nothing is lost on the way
 * out. */
struct json_writer {
    struct arena *arena;
    json_t *root;
};

/* Puts the members of a document into `root`, an object. `subject` is what json_print was given. */
typedef void json_filler(struct json_writer *writer, json_t *root, const void *subject);

/* Appends one document and a newline: on one line, or indented by two where `indent` is set.
 * Members keep the order of being put; all but ASCII is escaped, so that the text is safe on a terminal. */
void json_print(struct buffer *out, bool indent, json_filler *fill, const void *subject);

/* Each puts a value under `key` of an object, or at the end of an array, where `key` is NULL.
 * Strings: bytes that are not UTF-8 become U+FFFD; a `string` of NULL becomes null. */
json_t *json_put_object(struct json_writer *writer, json_t *parent, const char *key);
json_t *json_put_array(struct json_writer *writer, json_t *parent, const char *key);
void json_put_text(struct json_writer *writer, json_t *parent, const char *key, struct text text);
/* Null where there is none. */
void json_put_name(struct json_writer *writer, json_t *parent, const char *key, const struct name *name);
void json_put_string(struct json_writer *writer, json_t *parent, const char *key, const char *string);
void json_put_integer(struct json_writer *writer, json_t *parent, const char *key, json_int_t value);
/* Twelve significant digits; `value` is finite (asserted). */
void json_put_number(struct json_writer *writer, json_t *parent, const char *key, double value);
/* Null where the value is not finite, so not known. */
void json_put_figure(struct json_writer *writer, json_t *parent, const char *key, double value);
void json_put_boolean(struct json_writer *writer, json_t *parent, const char *key, bool value);
void json_put_null(struct json_writer *writer, json_t *parent, const char *key);

#endif
