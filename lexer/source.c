#include "lexer/source.h"

#include "lexer/width_table.h"

#include <assert.h>
#include <string.h>

enum { TAB_STOP = 8, REPLACEMENT = 0xFFFD };

/* Bytes whose line ends are counted together: a byte can hold their number. */
enum { STRETCH = 128 };

void source_init(struct source *source, struct arena *arena, const char *path, const unsigned char *bytes,
                 uint32_t length)
{
    assert(length <= SOURCE_LIMIT && bytes[length] == '\0');
    *source = (struct source){.path = path, .bytes = bytes, .length = length};
    uint32_t *line_ends = ARENA_ARRAY(arena, length / STRETCH + 1, uint32_t);
    for (uint32_t i = 0; i < length / STRETCH; i++) {
        const unsigned char *stretch = bytes + (size_t)i * STRETCH;
        uint8_t count = 0;
        for (int at = 0; at < STRETCH; at++)
            count = (uint8_t)(count + (stretch[at] == '\n'));
        line_ends[i + 1] = line_ends[i] + count;
    }
    source->line_ends = line_ends;
}

uint32_t source_line_number(const struct source *source, uint32_t offset)
{
    uint32_t line = source->line_ends[offset / STRETCH] + 1;
    const unsigned char *at = source->bytes + (offset - offset % STRETCH), *end = source->bytes + offset;
    for (; (at = memchr(at, '\n', (size_t)(end - at))) != NULL; at++)
        line++;
    return line;
}

/* Counts from the last stretch that begins before the line end in front of it. */
uint32_t source_line_start(const struct source *source, uint32_t line)
{
    uint32_t low = 0, high = source->length / STRETCH + 1;
    while (high - low > 1) {
        uint32_t middle = low + (high - low) / 2;
        if (source->line_ends[middle] + 1 < line)
            low = middle;
        else
            high = middle;
    }
    const unsigned char *at = source->bytes + (size_t)low * STRETCH, *end = source->bytes + source->length;
    for (uint32_t before = source->line_ends[low] + 1; before < line; before++) {
        at = memchr(at, '\n', (size_t)(end - at));
        assert(at);
        at++;
    }
    return line > 1 ? (uint32_t)(at - source->bytes) : 0;
}

/* Columns count the cells of a terminal, for excerpts; UTF-16 units, for editors. */
struct position source_position(const struct source *source, uint32_t offset)
{
    assert(offset <= source->length);
    uint32_t line = source_line_number(source, offset), start = offset;
    while (start > 0 && source->bytes[start - 1] != '\n')
        start--;
    struct text rest = {(const char *)source->bytes + start, source->length - start};
    uint32_t cells = 0, utf16_units = 0;
    size_t at = 0, length;
    while (at < offset - start) {
        uint32_t character = text_character(rest, at, &length);
        if (at + length > offset - start)
            break; /* the offset lies inside this character */
        cells += character == '\t' ? TAB_STOP - cells % TAB_STOP : (uint32_t)character_width(character);
        utf16_units += character > 0xFFFF ? 2 : 1;
        at += length;
    }
    return (struct position){line, offset - start + 1, cells + 1, utf16_units + 1};
}

struct text source_line(const struct source *source, uint32_t line)
{
    uint32_t start = source_line_start(source, line);
    struct text rest = {(const char *)source->bytes + start, source->length - start};
    const char *line_end = memchr(rest.start, '\n', rest.length);
    if (line_end) {
        rest.length = (size_t)(line_end - rest.start);
        rest.length -= rest.length > 0 && line_end[-1] == '\r';
    }
    return rest;
}

struct text place_text(struct place place)
{
    if (!place.source)
        return (struct text){"", 0};
    assert(place.start <= place.end && place.end <= place.source->length);
    return (struct text){(const char *)place.source->bytes + place.start, place.end - place.start};
}

/* On one line: comments and line ends are blanks, blanks inside quotes are kept. */
const char *place_words(struct arena *arena, struct place place)
{
    struct text rest = place_text(place);
    struct buffer words = {.arena = arena};
    bool apart = false;
    while (rest.length > 0) {
        bool comment = *rest.start == '#', string = *rest.start == '"';
        bool blank = *rest.start == ' ' || (*rest.start >= '\t' && *rest.start <= '\r') || comment;

        /* A comment, a string or any other character. A string ends with its line at the latest. */
        size_t length = 1;
        while (comment && length < rest.length && rest.start[length] != '\n')
            length++;
        while (string && length < rest.length && rest.start[length] != '"' && rest.start[length] != '\n')
            length += rest.start[length] == '\\' ? 2 : 1;
        length += string && length < rest.length && rest.start[length] == '"';
        if (length > rest.length) /* a backslash was the last of it */
            length = rest.length;

        if (!blank && apart && words.length)
            buffer_add_string(&words, " ");
        if (!blank)
            buffer_add(&words, (struct text){rest.start, length});
        apart = blank;
        rest = (struct text){rest.start + length, rest.length - length};
    }
    return buffer_string(&words);
}

static bool in_ranges(const struct character_range *ranges, size_t count, uint32_t code_point)
{
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (code_point > ranges[middle].last)
            low = middle + 1;
        else
            high = middle;
    }
    return low < count && ranges[low].first <= code_point;
}

#define IN_RANGES(ranges, code_point) in_ranges((ranges), sizeof(ranges) / sizeof *(ranges), (code_point))

int character_width(uint32_t code_point)
{
    if (code_point >= ' ' && code_point <= '~')
        return 1;
    if (IN_RANGES(ZERO_WIDTH, code_point))
        return 0;
    return IN_RANGES(DOUBLE_WIDTH, code_point) ? 2 : 1;
}

/* The least code point that needs so many bytes: a longer form of a smaller one is not valid. */
static const uint32_t LEAST_OF_LENGTH[] = {0, 0, 0x80, 0x800, 0x10000};

/* The well-formed sequences of Unicode 15.0, table 3-7. */
uint32_t text_character(struct text text, size_t at, size_t *length)
{
    assert(at < text.length);
    const unsigned char *bytes = (const unsigned char *)text.start + at;
    *length = 1;
    if (bytes[0] < 0x80)
        return bytes[0];
    if (bytes[0] < 0xC2 || bytes[0] > 0xF4) /* no character begins so */
        return REPLACEMENT;
    size_t count = bytes[0] < 0xE0 ? 2 : bytes[0] < 0xF0 ? 3 : 4;
    if (count > text.length - at)
        return REPLACEMENT;
    uint32_t character = bytes[0] & (0x7Fu >> count);
    for (size_t i = 1; i < count; i++) {
        if ((bytes[i] & 0xC0) != 0x80)
            return REPLACEMENT;
        character = character << 6 | (bytes[i] & 0x3F);
    }
    bool surrogate = character >= 0xD800 && character <= 0xDFFF;
    if (character < LEAST_OF_LENGTH[count] || surrogate || character > 0x10FFFF)
        return REPLACEMENT;
    *length = count;
    return character;
}
