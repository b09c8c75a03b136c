/* Pieces of text that are not copied, text that is built, and names that compare by pointer. */
#ifndef PRILL_LEXER_TEXT_H
#define PRILL_LEXER_TEXT_H

#include "lexer/arena.h"

#include <stdarg.h>
#include <stdint.h>
#include <string.h>

/* UTF-8, not ended by a NUL; points into a source or the arena. */
struct text {
    const char *start;
    size_t length;
};

#define TEXT(literal) ((struct text){(literal), sizeof(literal) - 1})

static inline struct text text_of(const char *string)
{
    return (struct text){string, strlen(string)};
}
/* Most words have four to eight bytes, whose first four and last four are compared without a call. */
static inline bool bytes_equal(const char *a, const char *b, size_t length)
{
    if (length < 4)
        return !length || (a[0] == b[0] && a[length / 2] == b[length / 2] && a[length - 1] == b[length - 1]);
    size_t last = length - 4;
    return length > 8 ? !memcmp(a, b, length) : !memcmp(a, b, 4) && !memcmp(a + last, b + last, 4);
}
static inline bool text_equal(struct text a, struct text b)
{
    return a.length == b.length && bytes_equal(a.start, b.start, a.length);
}

bool text_is(struct text a, const char *string);
int text_compare(struct text a, struct text b); /* by bytes; <0, 0, >0 */

/* A copy in the arena, ended by a NUL. */
const char *text_string(struct arena *arena, struct text text);

/* printf into the arena. Numbers that are not whole go through number_text: printf follows the locale. */
const char *text_format(struct arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));
const char *text_vformat(struct arena *arena, const char *format, va_list arguments)
    __attribute__((format(printf, 2, 0)));

/* Text under construction. `string` is always ended by a NUL. */
struct buffer {
    struct arena *arena;
    char *string;
    size_t length, capacity;
};

/* Room for `more` bytes and the NUL. */
void buffer_reserve(struct buffer *buffer, size_t more);
/* Adds `more` bytes, zeros or what was there, for the caller to write: where they begin. */
static inline char *buffer_extend(struct buffer *buffer, size_t more)
{
    if (buffer->capacity - buffer->length <= more)
        buffer_reserve(buffer, more);
    char *start = buffer->string + buffer->length;
    start[more] = '\0';
    buffer->length += more;
    return start;
}
static inline void buffer_add(struct buffer *buffer, struct text text)
{
    char *start = buffer_extend(buffer, text.length);
    if (text.length)
        memcpy(start, text.start, text.length);
}
void buffer_add_string(struct buffer *buffer, const char *string);
void buffer_format(struct buffer *buffer, const char *format, ...) __attribute__((format(printf, 2, 3)));
void buffer_separate(struct buffer *buffer,
                     const char *separator); /* before each item of a list but the first */
void buffer_repeat(struct buffer *buffer, char character, size_t times);
const char *buffer_string(const struct buffer *buffer); /* "" when nothing was added */

/* "a, b and c": `last`, such as " and ", stands before the last; NULL: ", " as before the others. */
const char *list_text(struct arena *arena, const char *const *items, size_t count, const char *last);

/* Numbers, the same in every locale.
 * number_text: at most `decimals` (0 to NUMBER_DECIMALS) digits after the point, trailing zeros dropped.
 * number_fixed: exactly `decimals` digits. Infinite or not-a-number never reaches them (asserted).
 * Both round the exact value of the double, a half away from zero; there is no "-0". */
enum { NUMBER_DECIMALS = 12 };
const char *number_text(struct arena *arena, double value, int decimals);
const char *number_fixed(struct arena *arena, double value, int decimals);

/* number_text and a unit: "12.94 lb". */
const char *number_in(struct arena *arena, double value, int decimals, const char *unit);

/* number_text, or number_fixed unless `trim`, and up to NUMBER_AFTER texts behind it. */
enum { NUMBER_AFTER = 5 };
const char *number_before(struct arena *arena, double value, int decimals, bool trim,
                          const char *const *after, size_t count);

/* |value| * 10^power as a whole number, rounded from the exact value, a half away from zero or to the even
 * one. False where that takes more than two products of machine words: what is 2^53 or more, or too large or
 * small by far. */
enum { NUMBER_POWER = 27 }; /* at most; 5^27 is below 2^63 */
bool number_scaled(double value, int power, bool half_to_even, uint64_t *whole);

/* Shown to a person: up to four significant digits, at least the whole part ("12.94", "0.5357", "3646"),
 * trailing zeros dropped; at most 12 decimals, so what is below 5e-13 reads "0". */
const char *number_short(struct arena *arena, double value);
int number_short_decimals(double value); /* how many that takes, trailing zeros counted */

/* Rounded towards zero or away from it at `decimals` digits (what a person weighs must not pass a limit).
 * A value within a 1e-12 share of itself of such a decimal counts as that decimal. */
double number_floor(double value, int decimals);
double number_ceiling(double value, int decimals);
double number_nearest(double value, int decimals); /* a half away from zero */

/* How many single-character edits (a swap of neighbours counts one) turn `a` into `b`, ASCII case ignored.
 * Longer than TEXT_DISTANCE_LIMIT bytes, unequal texts are as far apart as the longer one has bytes. */
enum { TEXT_DISTANCE_LIMIT = 64 };
size_t text_distance(struct text a, struct text b);

/* Interned names: equal text gives the same pointer. */
struct name {
    struct text text;
    uint32_t id; /* 0, 1, 2, ... in order of first appearance */
};

struct names {
    struct arena *arena;
    VECTOR(const struct name *) all; /* by id */
    struct name_slot {
        uint32_t hash, number; /* of the name's id one more; 0: free */
    } * slots;
    size_t slot_count; /* a power of two */
};

/* As a string, for a report or a page; "" for NULL. */
const char *name_string(const struct name *name);

void names_init(struct names *names, struct arena *arena);
const struct name *name_intern(struct names *names, struct text text);

#endif
