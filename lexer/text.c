#include "lexer/text.h"

#include <stdio.h>
#include <string.h>

bool text_is(struct text a, const char *string)
{
    return text_equal(a, text_of(string));
}

int text_compare(struct text a, struct text b)
{
    size_t common = a.length < b.length ? a.length : b.length;
    int order = common ? memcmp(a.start, b.start, common) : 0;
    return order ? order : (a.length > b.length) - (a.length < b.length);
}

const char *text_string(struct arena *arena, struct text text)
{
    char *copy = arena_array(arena, text.length + 1, 1);
    if (text.length)
        memcpy(copy, text.start, text.length);
    return copy;
}

/* Most formats have nothing but `%s`: these are put together here, since printf takes some five times as
 * long. One too long for printf's int is treated as memory that ran out. */
static size_t format_into(struct arena *arena, char *string, size_t room, const char *format,
                          va_list arguments)
{
    va_list copy;
    size_t length = 0, more;
    const char *at = format;
    va_copy(copy, arguments);
    for (; *at && (*at != '%' || at[1] == 's'); length += more) {
        bool given = *at == '%';
        const char *piece = given ? va_arg(copy, const char *) : at, *end = given ? NULL : strchr(at, '%');
        more = end ? (size_t)(end - at) : strlen(piece);
        if (length + more < room)
            memcpy(string + length, piece, more);
        at += given ? 2 : more;
    }
    va_end(copy);
    if (!*at) {
        if (length < room)
            string[length] = '\0';
        return length;
    }
    va_copy(copy, arguments);
    int printed = vsnprintf(string, room, format, copy);
    va_end(copy);
    if (printed < 0)
        arena_alloc(arena, SIZE_MAX);
    return (size_t)printed;
}

const char *text_format(struct arena *arena, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *string = text_vformat(arena, format, arguments);
    va_end(arguments);
    return string;
}

const char *text_vformat(struct arena *arena, const char *format, va_list arguments)
{
    char brief[256]; /* most texts are formatted once, and copied */
    size_t length = format_into(arena, brief, sizeof brief, format, arguments);
    char *string = arena_uncleared(arena, length + 1);
    if (length < sizeof brief)
        memcpy(string, brief, length + 1);
    else
        format_into(arena, string, length + 1, format, arguments);
    return string;
}

enum { BUFFER_LEAST = 64 };

/* Where it was the arena's last piece, a long text stays where it is. */
void buffer_reserve(struct buffer *buffer, size_t more)
{
    if (more >= PTRDIFF_MAX - buffer->length)
        arena_exhausted(buffer->arena);
    if (!buffer->capacity) {
        buffer->capacity = (more / BUFFER_LEAST + 1) * BUFFER_LEAST;
        buffer->string = arena_array(buffer->arena, buffer->capacity, 1);
    }
    while (buffer->capacity - buffer->length <= more)
        buffer->string = arena_grow(buffer->arena, buffer->string, buffer->length, &buffer->capacity, 1);
}

void buffer_add_string(struct buffer *buffer, const char *string)
{
    buffer_add(buffer, text_of(string));
}

void buffer_format(struct buffer *buffer, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    if (!buffer->capacity)
        buffer_reserve(buffer, 0);
    size_t room = buffer->capacity - buffer->length;
    size_t length = format_into(buffer->arena, buffer->string + buffer->length, room, format, arguments);
    if (length >= room) { /* mostly there is room */
        buffer_reserve(buffer, length);
        format_into(buffer->arena, buffer->string + buffer->length, length + 1, format, arguments);
    }
    buffer->length += length;
    va_end(arguments);
}

void buffer_separate(struct buffer *buffer, const char *separator)
{
    if (buffer->length)
        buffer_add_string(buffer, separator);
}

void buffer_repeat(struct buffer *buffer, char character, size_t times)
{
    memset(buffer_extend(buffer, times), character, times);
}

const char *buffer_string(const struct buffer *buffer)
{
    return buffer->string ? buffer->string : "";
}

const char *list_text(struct arena *arena, const char *const *items, size_t count, const char *last)
{
    struct buffer buffer = {.arena = arena};
    for (size_t i = 0; i < count; i++) {
        if (i > 0)
            buffer_add_string(&buffer, last && i + 1 == count ? last : ", ");
        buffer_add_string(&buffer, items[i]);
    }
    return buffer_string(&buffer);
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Damerau's distance in the restricted form (no edit inside a swapped pair), a row at a time:
 * R. A. Wagner and M. J. Fischer, "The String-to-String Correction Problem", J. ACM 21, 1974; from memory. */
size_t text_distance(struct text a, struct text b)
{
    if (a.length > TEXT_DISTANCE_LIMIT || b.length > TEXT_DISTANCE_LIMIT)
        return text_equal(a, b) ? 0 : a.length > b.length ? a.length : b.length;

    /* The UTF-8 bytes of each character packed into one number, capitals lowered. */
    uint32_t characters[2][TEXT_DISTANCE_LIMIT], *a_characters = characters[0], *b_characters = characters[1];
    size_t counts[2] = {0, 0};
    for (int i = 0; i < 2; i++) {
        struct text text = i == 0 ? a : b;
        for (size_t at = 0; at < text.length; counts[i]++) {
            uint32_t packed = (unsigned char)text.start[at++];
            if (packed >= 'A' && packed <= 'Z')
                packed += 'a' - 'A';
            while (at < text.length && ((unsigned char)text.start[at] & 0xC0) == 0x80)
                packed = packed << 8 | (unsigned char)text.start[at++];
            characters[i][counts[i]] = packed;
        }
    }

    size_t a_count = counts[0], b_count = counts[1];
    size_t rows[3][TEXT_DISTANCE_LIMIT + 1];
    size_t *before = rows[0], *above = rows[1], *row = rows[2];
    for (size_t j = 0; j <= b_count; j++)
        above[j] = j;
    for (size_t i = 1; i <= a_count; i++) {
        row[0] = i;
        for (size_t j = 1; j <= b_count; j++) {
            row[j] = least(above[j - 1] + (a_characters[i - 1] != b_characters[j - 1]),
                           least(above[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && a_characters[i - 1] == b_characters[j - 2] &&
                a_characters[i - 2] == b_characters[j - 1])
                row[j] = least(row[j], before[j - 2] + 1);
        }
        size_t *oldest = before;
        before = above;
        above = row;
        row = oldest;
    }
    return above[b_count];
}

enum { NAMES_LEAST = 1024 }; /* slots; a power of two */

void names_init(struct names *names, struct arena *arena)
{
    *names = (struct names){.arena = arena, .slot_count = NAMES_LEAST};
    names->slots = ARENA_ARRAY(arena, NAMES_LEAST, struct name_slot);
}

/* The slot that holds `text`, or the free one where it belongs. A name is looked at only where its hash is
 * the same: in a large plan it lies far from what was last used. */
static inline struct name_slot *name_slot(const struct names *names, struct text text, uint32_t hash)
{
    size_t mask = names->slot_count - 1;
    size_t at = hash & mask;
    for (const struct name_slot *slot = &names->slots[at]; slot->number; slot = &names->slots[at]) {
        if (slot->hash == hash && text_equal(names->all.items[slot->number - 1]->text, text))
            break;
        at = (at + 1) & mask;
    }
    return &names->slots[at];
}

/* The table doubles when three quarters of it are full, so that a free slot is always near. */
static const struct name *name_add(struct names *names, struct text text, uint32_t hash)
{
    if (names->all.count >= names->slot_count / 4 * 3) {
        const struct name_slot *old = names->slots;
        size_t old_count = names->slot_count, mask = old_count * 2 - 1;
        names->slots = ARENA_ARRAY(names->arena, old_count * 2, struct name_slot);
        names->slot_count = old_count * 2;
        for (size_t i = 0; i < old_count; i++) {
            size_t at = old[i].hash & mask;
            while (old[i].number && names->slots[at].number)
                at = (at + 1) & mask;
            if (old[i].number)
                names->slots[at] = old[i];
        }
    }
    struct name *name = arena_uncleared(names->arena, sizeof *name + text.length + 1);
    char *copy = (char *)(name + 1); /* it lies behind */
    memcpy(copy, text.length ? text.start : "", text.length);
    copy[text.length] = '\0';
    *name = (struct name){{copy, text.length}, names->all.count};
    VECTOR_PUSH(names->arena, &names->all, name);
    *name_slot(names, text, hash) = (struct name_slot){hash, names->all.count};
    return name;
}

/* Eight bytes at a time are multiplied into 64 bits and the halves are mixed (by the factors of MurmurHash3's
 * finisher, public domain), so that names which differ in a counter at their end spread over all slots. */
const struct name *name_intern(struct names *names, struct text text)
{
    uint64_t mixed = 0x9E3779B97F4A7C15u ^ text.length;
    for (size_t at = 0, part; at < text.length; at += part) {
        uint64_t bytes = 0;
        part = text.length - at < sizeof bytes ? text.length - at : sizeof bytes;
        memcpy(&bytes, text.start + at, part);
        mixed = (mixed ^ bytes) * 0xFF51AFD7ED558CCDu;
        mixed ^= mixed >> 32;
    }
    mixed *= 0xC4CEB9FE1A85EC53u;
    uint32_t hash = (uint32_t)(mixed >> 32), number = name_slot(names, text, hash)->number;
    return number ? names->all.items[number - 1] : name_add(names, text, hash);
}

const char *name_string(const struct name *name)
{
    return name ? name->text.start : ""; /* name_intern's copy ends in a NUL */
}
