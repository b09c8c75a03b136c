/* What number and string tokens stand for. */
#include "lexer/token.h"

#include <string.h>

static bool is_digit(char character)
{
    return character >= '0' && character <= '9';
}

/* Digits with at most one point. DIGIT_LIMIT digits fit a double's 53 bits and 10^15 is exact, so the one
 * division rounds once: the result is the nearest double. Leading zeros beyond the limit lose nothing. */
static double read_decimal(const char **at, const char *end)
{
    const char *next = *at;
    double mantissa = 0, scale = 1;
    for (; next < end && is_digit(*next); next++)
        mantissa = mantissa * 10 + (*next - '0');
    if (next < end && *next == '.')
        for (next++; next < end && is_digit(*next); next++) {
            mantissa = mantissa * 10 + (*next - '0');
            scale *= 10;
        }
    *at = next;
    return mantissa / scale;
}

/* "-7", "1/2", "2 1/2": the scanner has seen to the form. */
double token_number(struct text text)
{
    const char *at = text.start, *end = text.start + text.length;
    double sign = 1;
    if (at < end && *at == '-') {
        sign = -1;
        at++;
    }
    double value = read_decimal(&at, end);
    double whole = 0;
    if (at < end && *at == ' ') {
        while (at < end && *at == ' ')
            at++;
        if (at < end && is_digit(*at)) {
            whole = value;
            value = read_decimal(&at, end);
        }
    }
    if (at < end && *at == '/') {
        at++;
        value /= read_decimal(
            &at, end); /* a zero divisor gives infinity: the reader of the statement refuses it */
    }
    return sign * (whole + value);
}

/* The dash is the first byte behind the first number that is no part of one. */
void token_range(struct text text, double *low, double *high)
{
    size_t dash = 0, after;
    while (dash < text.length && (is_digit(text.start[dash]) || strchr("./ ", text.start[dash])))
        dash++;
    after = dash;
    while (after < text.length && !is_digit(text.start[after]))
        after++;
    while (dash > 0 && text.start[dash - 1] == ' ')
        dash--;
    *low = token_number((struct text){text.start, dash});
    *high = token_number((struct text){text.start + after, text.length - after});
}

struct text token_string(struct arena *arena, struct text text)
{
    struct text inner = {text.start + 1, text.length - 2};
    if (!memchr(inner.start, '\\', inner.length))
        return inner;
    char *copy = arena_alloc(arena, inner.length);
    size_t length = 0;
    for (size_t i = 0; i < inner.length; i++) {
        if (inner.start[i] == '\\')
            i++;
        copy[length++] = inner.start[i];
    }
    return (struct text){copy, length};
}
