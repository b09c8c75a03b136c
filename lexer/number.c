/* Numbers in decimal digits, from the exact value of the double: no locale, no double rounding. */
#include "lexer/text.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum {
    MANTISSA_BITS = 53,
    LIMB_DIGITS = 9, /* decimal digits taken from a whole at a time */
    /* The greatest double has 1024 bits before the point, 10^12 adds 40, and one is kept for rounding. */
    LIMB_COUNT = (1024 + 40 + 1 + 31) / 32,
    DIGIT_COUNT = LIMB_COUNT * 10 + LIMB_DIGITS, /* a limb is less than ten digits */
};

/* A whole number, least limb first; the greatest limb in use is not zero. */
struct whole {
    int count;
    uint32_t limbs[LIMB_COUNT];
};

/* Makes it `whole * factor + addend`. */
static void whole_multiply(struct whole *whole, uint32_t factor, uint32_t addend)
{
    uint64_t carry = addend;
    for (int i = 0; i < whole->count; i++) {
        carry += (uint64_t)whole->limbs[i] * factor;
        whole->limbs[i] = (uint32_t)carry;
        carry >>= 32;
    }
    if (carry) {
        assert(whole->count < LIMB_COUNT);
        whole->limbs[whole->count++] = (uint32_t)carry;
    }
}

/* Returns the rest. */
static uint32_t whole_divide(struct whole *whole, uint32_t divisor)
{
    uint64_t rest = 0;
    for (int i = whole->count - 1; i >= 0; i--) {
        rest = rest << 32 | whole->limbs[i];
        whole->limbs[i] = (uint32_t)(rest / divisor);
        rest %= divisor;
    }
    while (whole->count > 0 && whole->limbs[whole->count - 1] == 0)
        whole->count--;
    return (uint32_t)rest;
}

__extension__ typedef unsigned __int128 wide;

/* By exponent, up to half of NUMBER_POWER. */
static const uint64_t fives[] = {1,      5,       25,      125,      625,       3125,       15625,     78125,
                                 390625, 1953125, 9765625, 48828125, 244140625, 1220703125, 6103515625};

bool number_scaled(double value, int power, bool half_to_even, uint64_t *whole)
{
    assert(isfinite(value) && power >= 0 && power <= NUMBER_POWER);
    /* As binary64 is laid out, but for the least doubles of all, which are too small here. */
    uint64_t bits, top = UINT64_C(1) << (MANTISSA_BITS - 1);
    memcpy(&bits, &value, sizeof bits);
    int exponent = (int)(bits >> (MANTISSA_BITS - 1) & 0x7FF);
    uint64_t mantissa = exponent ? (bits & (top - 1)) | top : 0;
    /* 10 is 5 * 2: the fives are multiplied in, the twos are part of the shift. */
    uint64_t five = fives[power / 2] * fives[power - power / 2];
    wide product = (wide)mantissa * five;
    int right = value == 0 ? 0 : 1023 + MANTISSA_BITS - 1 - exponent - power;
    if (right > 127 || right < 0)
        return false;
    wide rest = product & (((wide)1 << right) - 1), half = right ? (wide)1 << (right - 1) : 1;
    product >>= right;
    product += rest > half || (rest == half && (!half_to_even || (product & 1)));
    *whole = (uint64_t)product;
    return product < UINT64_MAX / 16;
}

/* printf is not asked: it follows the locale, and rounds a half to even. */
const char *number_before(struct arena *arena, double value, int decimals, bool trim,
                          const char *const *after, size_t count)
{
    assert(isfinite(value) && decimals >= 0 && decimals <= NUMBER_DECIMALS);
    /* |value| * 10^decimals as a whole number, a half rounded away from zero: its digits, the last first. */
    char digits[DIGIT_COUNT];
    char *end = digits + DIGIT_COUNT, *start = end, *point = end - decimals;
    uint64_t brief;
    if (number_scaled(value, decimals, false, &brief)) {
        for (; brief; brief /= 10)
            *--start = (char)('0' + brief % 10);
    } else {
        int exponent;
        uint64_t mantissa = (uint64_t)(frexp(fabs(value), &exponent) * 0x1p53);
        exponent -= MANTISSA_BITS;
        struct whole whole = {.count = mantissa ? 2 : 0,
                              .limbs = {(uint32_t)mantissa, (uint32_t)(mantissa >> 32)}};
        for (int i = 0; i < decimals; i++)
            whole_multiply(&whole, 10, 0);
        /* Limbs are multiplied and divided by powers of two up to 2^30 at a time; a half is rounded up. */
        for (int step; exponent > 0; exponent -= step) {
            step = exponent < 30 ? exponent : 30;
            whole_multiply(&whole, UINT32_C(1) << step, 0);
        }
        for (int step; exponent < -1; exponent += step) {
            step = -exponent - 1 < 30 ? -exponent - 1 : 30;
            whole_divide(&whole, UINT32_C(1) << step);
        }
        if (exponent == -1 && whole_divide(&whole, 2) == 1)
            whole_multiply(&whole, 1, 1);
        while (whole.count > 0) {
            uint32_t group = whole_divide(&whole, 1000000000);
            for (int i = 0; i < LIMB_DIGITS; i++, group /= 10)
                *--start = (char)('0' + group % 10);
        }
        while (start < end && *start == '0')
            start++;
    }
    bool negative = value < 0 && start < end;
    while (start >= point) /* one digit before the point at least */
        *--start = '0';
    while (trim && end > point && end[-1] == '0')
        end--;
    size_t before = (size_t)(point - start), behind = (size_t)(end - point);
    size_t lengths[NUMBER_AFTER], all = 0;
    assert(count <= NUMBER_AFTER);
    for (size_t i = 0; i < count; i++)
        all += lengths[i] = strlen(after[i]);
    char *text = arena_uncleared(arena, negative + before + (behind > 0) + behind + all + 1), *at = text;
    if (negative)
        *at++ = '-';
    memcpy(at, start, before);
    at += before;
    if (behind) {
        *at++ = '.';
        memcpy(at, point, behind);
        at += behind;
    }
    for (size_t i = 0; i < count; at += lengths[i++])
        memcpy(at, after[i], lengths[i]);
    *at = '\0';
    return text;
}

const char *number_text(struct arena *arena, double value, int decimals)
{
    return number_before(arena, value, decimals, true, NULL, 0);
}

const char *number_fixed(struct arena *arena, double value, int decimals)
{
    return number_before(arena, value, decimals, false, NULL, 0);
}

const char *number_in(struct arena *arena, double value, int decimals, const char *unit)
{
    return number_before(arena, value, decimals, true, (const char *const[]){" ", unit}, 2);
}

int number_short_decimals(double value)
{
    int decimals = 0;
    double scaled = fabs(value);
    while (scaled < 1000 && decimals < NUMBER_DECIMALS) {
        scaled *= 10;
        decimals++;
    }
    return decimals;
}

const char *number_short(struct arena *arena, double value)
{
    return number_text(arena, value, number_short_decimals(value));
}

/* A dozen roundings on the way to a value move it by some 1e-15 of itself: 12.94 arrives
 * as 12.939999999999998, and a person still weighs 12.94. What lies nearer than this share to a decimal is
 * that decimal. */
static const double NUMBER_TOLERANCE = 1e-12;

static double number_rounded(double value, int decimals, double (*round_to)(double))
{
    assert(decimals >= 0 && decimals <= NUMBER_DECIMALS);
    double power = 1;
    for (int i = 0; i < decimals; i++)
        power *= 10;
    double scaled = fabs(value) * power;
    double nearest = round(scaled);
    double whole = fabs(scaled - nearest) <= NUMBER_TOLERANCE * scaled ? nearest : round_to(scaled);
    return isfinite(scaled) ? copysign(whole / power, value) : value;
}

double number_floor(double value, int decimals)
{
    return number_rounded(value, decimals, floor);
}

double number_ceiling(double value, int decimals)
{
    return number_rounded(value, decimals, ceil);
}

double number_nearest(double value, int decimals)
{
    return number_rounded(value, decimals, round);
}
