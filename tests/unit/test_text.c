#include "lexer/text.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static int arena_setup(void **state)
{
    static struct arena arena;
    arena_init(&arena, NULL);
    *state = &arena;
    return 0;
}

static int arena_teardown(void **state)
{
    arena_free(*state);
    return 0;
}

/* The same numbers every run: xorshift64* of S. Vigna. */
static uint64_t random_next(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return *seed * 0x2545F4914F6CDD1Du;
}

static void test_compare(void **state)
{
    (void)state;
    assert_true(text_equal(TEXT("lawn"), text_of("lawn")));
    assert_false(text_equal(TEXT("lawn"), TEXT("lawns")));
    assert_true(text_equal((struct text){NULL, 0}, TEXT("")));
    assert_true(text_is(TEXT("a\0b"), "a") == false);
    assert_true(text_compare(TEXT("ab"), TEXT("abc")) < 0);
    assert_true(text_compare(TEXT("b"), TEXT("abc")) > 0);
    assert_true(text_compare(TEXT("\xC3\xA9"), TEXT("z")) > 0);
    assert_int_equal(text_compare((struct text){NULL, 0}, TEXT("")), 0);
}

static void test_string(void **state)
{
    const char *source = "tall-fescue";
    const char *copy = text_string(*state, (struct text){source, 4});
    assert_string_equal(copy, "tall");
    assert_ptr_not_equal(copy, source);
    assert_string_equal(text_string(*state, (struct text){NULL, 0}), "");
    assert_string_equal(text_format(*state, "%d %s", 3, "spots"), "3 spots");
    assert_string_equal(text_format(*state, "%s", ""), "");
}

static void test_buffer(void **state)
{
    struct buffer buffer = {.arena = *state};
    assert_string_equal(buffer_string(&buffer), "");
    char wanted[5000] = "";
    for (int i = 0; i < 700; i++) {
        buffer_add_string(&buffer, "ab");
        buffer_add(&buffer, (struct text){NULL, 0});
        buffer_format(&buffer, "%d", i);
        snprintf(wanted + strlen(wanted), 16, "ab%d", i);
    }
    assert_string_equal(buffer_string(&buffer), wanted);
    assert_int_equal(buffer.length, strlen(wanted));

    struct buffer ruler = {.arena = *state};
    buffer_repeat(&ruler, '-', 0);
    assert_string_equal(buffer_string(&ruler), "");
    buffer_repeat(&ruler, '-', 1000);
    assert_int_equal(strlen(buffer_string(&ruler)), 1000);
    assert_int_equal(strspn(buffer_string(&ruler), "-"), 1000);
}

static void test_exhaustion(void **state)
{
    (void)state;
    jmp_buf exhausted;
    struct arena arena;
    arena_init(&arena, &exhausted);
    if (setjmp(exhausted) == 0) {
        struct buffer buffer = {.arena = &arena};
        buffer_repeat(&buffer, 'x', SIZE_MAX - 2);
        fail_msg("all memory was given");
    }
    arena_free(&arena);
}

static void test_number_text(void **state)
{
    static const struct {
        double value;
        int decimals;
        const char *text, *fixed;
    } rows[] = {
        {0, 0, "0", "0"},
        {0, 3, "0", "0.000"},
        {-0.0, 2, "0", "0.00"},
        {-0.004, 2, "0", "0.00"},
        {-0.005, 2, "-0.01", "-0.01"}, /* the double lies beyond the half */
        {12.94, 2, "12.94", "12.94"},
        {12.9, 2, "12.9", "12.90"},
        {100, 0, "100", "100"},
        {100, 2, "100", "100.00"},
        {0.5, 0, "1", "1"},
        {1.5, 0, "2", "2"},
        {2.5, 0, "3", "3"},
        {-2.5, 0, "-3", "-3"},
        {0.125, 2, "0.13", "0.13"},
        {1.005, 2, "1", "1.00"}, /* the double is 1.00499999999999989... */
        {9.9996, 3, "10", "10.000"},
        {1e-300, 12, "0", "0.000000000000"},
        {5e-324, 12, "0", "0.000000000000"},
        {0.1, 12, "0.1", "0.100000000000"},
        {4294967296.0, 0, "4294967296", "4294967296"},
        {1e22, 1, "10000000000000000000000", "10000000000000000000000.0"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_string_equal(number_text(*state, rows[i].value, rows[i].decimals), rows[i].text);
        assert_string_equal(number_fixed(*state, rows[i].value, rows[i].decimals), rows[i].fixed);
    }
}

/* Bits drawn at random: every size, the subnormal numbers too. */
static double random_double(uint64_t *seed)
{
    double value;
    do {
        uint64_t bits = random_next(seed);
        memcpy(&value, &bits, sizeof value);
    } while (!isfinite(value));
    return value;
}

/* Whether what follows `decimals` digits is exactly one half: a double has at most 1074 digits after the
 * point. */
static bool is_half(double value, int decimals)
{
    char exact[1500];
    snprintf(exact, sizeof exact, "%.1074f", value);
    const char *rest = strchr(exact, '.') + 1 + decimals;
    return *rest == '5' && strspn(rest + 1, "0") == strlen(rest + 1);
}

/* The C library rounds the exact value too, but a half to the even digit. Its locale is "C": nothing set
 * another. */
static void test_number_fixed_agrees_with_printf(void **state)
{
    uint64_t seed = 20270417;
    for (int i = 0; i < 20000; i++) {
        double value = i % 2 ? random_double(&seed) : ldexp((double)(random_next(&seed) >> 11), -(i % 64));
        int decimals = i % 13;
        char wanted[400];
        snprintf(wanted, sizeof wanted, "%.*f", decimals, value);
        bool zero = strspn(wanted, "-0.") == strlen(wanted);
        if (!is_half(value, decimals))
            assert_string_equal(number_fixed(*state, value, decimals), wanted + (zero && value < 0));
    }
    char greatest[400];
    snprintf(greatest, sizeof greatest, "%.12f", -1.7976931348623157e308);
    assert_string_equal(number_fixed(*state, -1.7976931348623157e308, 12), greatest);
}

static void test_number_short(void **state)
{
    static const struct {
        double value;
        const char *text;
    } rows[] = {
        {12.94, "12.94"},
        {0.5357, "0.5357"},
        {3646.4, "3646"},
        {0.00123, "0.00123"},
        {10.94, "10.94"},
        {2.04, "2.04"},
        {0, "0"},
        {5.357, "5.357"},
        {1234567, "1234567"},
        {-12.944, "-12.94"},
        {-0.0001, "-0.0001"},
        {999.96, "1000"},
        {99.996, "100"},
        {0.75 / 0.14, "5.357"},
        {0.1, "0.1"},
        {1000, "1000"},
        {0.099999, "0.1"},
        {1e-13, "0"},
        {3.0, "3"},
        {3646.5, "3647"},
        {1e15, "1000000000000000"},
        {-1234567.8, "-1234568"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_string_equal(number_short(*state, rows[i].value), rows[i].text);
}

/* Never off by more than half of the fourth digit, never more than four digits unless the whole part has
 * them. */
static void test_number_short_keeps_four_digits(void **state)
{
    uint64_t seed = 7;
    for (int i = 0; i < 20000; i++) {
        double value = ldexp((double)(random_next(&seed) >> 11), -(20 + i % 60));
        const char *text = number_short(*state, value);
        double unit = fmax(pow(10, floor(log10(fabs(value))) - 3), 1e-12);
        assert_true(fabs(strtod(text, NULL) - value) <= fmin(unit, 1) * 0.5 * (1 + 1e-9));
        const char *first = text + strspn(text, "0.");
        size_t digits = strlen(first) - (strchr(first, '.') != NULL);
        assert_true(digits <= 4 || strchr(text, '.') == NULL);
    }
}

static void test_number_floor(void **state)
{
    (void)state;
    assert_true(number_floor(12.94, 2) == 12.94);
    assert_true(number_ceiling(12.94, 2) == 12.94);
    assert_true(number_floor(12.949, 2) == 12.94);
    assert_true(number_ceiling(12.941, 2) == 12.95);
    assert_true(number_floor(-12.949, 2) == -12.94);
    assert_true(number_ceiling(-12.941, 2) == -12.95);
    assert_true(number_floor(0.1 + 0.2, 1) == 0.3);
    assert_true(number_ceiling(0.1 + 0.2, 1) == 0.3);
    assert_true(number_floor(0.3 - 1e-16, 1) == 0.3);
    assert_true(number_floor(5, 0) == 5 && number_ceiling(5, 0) == 5);
    assert_true(number_floor(0, 2) == 0 && number_ceiling(0, 2) == 0);
    assert_true(number_ceiling(1e-9, 2) == 0.01);
    assert_true(number_floor(1e300, 12) == 1e300);
    assert_true(number_floor(1e308, 12) == 1e308);
}

/* Every decimal stays as it is; what lies between two goes to the one below or above. */
static void test_number_floor_of_decimals(void **state)
{
    (void)state;
    for (int hundredths = -30000; hundredths <= 30000; hundredths++) {
        double value = hundredths / 100.0;
        assert_true(number_floor(value, 2) == value);
        assert_true(number_ceiling(value, 2) == value);
        double between = (hundredths + 0.25) / 100.0;
        double above = (hundredths + 1) / 100.0;
        assert_true(number_floor(between, 2) == (hundredths < 0 ? above : value));
        assert_true(number_ceiling(between, 2) == (hundredths < 0 ? value : above));
    }
}

static void test_distance(void **state)
{
    (void)state;
    static const struct {
        const char *a, *b;
        size_t distance;
    } rows[] = {
        {"", "", 0},
        {"", "rate", 4},
        {"rate", "rate", 0},
        {"Rate", "rATE", 0},
        {"rate", "raet", 1}, /* a swap of neighbours */
        {"rate", "arte", 1},
        {"rate", "rat", 1},
        {"rate", "grate", 1},
        {"rate", "rare", 1},
        {"kitten", "sitting", 3},
        {"caf\xC3\xA9", "cafe", 1}, /* two bytes, one character */
        {"ca", "abc", 3},           /* no edit inside a swapped pair */
        {"\x80", "a", 1},           /* not UTF-8: still a character */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_int_equal(text_distance(text_of(rows[i].a), text_of(rows[i].b)), rows[i].distance);
        assert_int_equal(text_distance(text_of(rows[i].b), text_of(rows[i].a)), rows[i].distance);
    }
}

static void test_distance_of_long_texts(void **state)
{
    (void)state;
    char a[100], b[100];
    memset(a, 'x', sizeof a);
    memset(b, 'x', sizeof b);
    b[50] = 'y';
    assert_int_equal(text_distance((struct text){a, 64}, (struct text){b, 64}), 1);
    assert_int_equal(text_distance((struct text){a, 65}, (struct text){b, 65}), 65);
    assert_int_equal(text_distance((struct text){a, 65}, (struct text){a, 65}), 0);
    assert_int_equal(text_distance((struct text){a, 10}, (struct text){b, 100}), 100);
}

static struct text random_word(uint64_t *seed, char *bytes)
{
    size_t length = random_next(seed) % 9;
    for (size_t i = 0; i < length; i++)
        bytes[i] = (char)('a' + random_next(seed) % 3);
    return (struct text){bytes, length};
}

/* Not less than the difference in length, not more than the longer text; zero for equal texts alone. */
static void test_distance_bounds(void **state)
{
    (void)state;
    uint64_t seed = 3;
    char bytes[2][9];
    for (int i = 0; i < 20000; i++) {
        struct text a = random_word(&seed, bytes[0]), b = random_word(&seed, bytes[1]);
        size_t longer = a.length > b.length ? a.length : b.length;
        size_t shorter = a.length + b.length - longer;
        size_t distance = text_distance(a, b);
        assert_true(distance >= longer - shorter && distance <= longer);
        assert_int_equal(distance == 0, text_equal(a, b));
        assert_int_equal(distance, text_distance(b, a));
    }
}

static void test_names(void **state)
{
    struct names names;
    names_init(&names, *state);
    char word[] = "starter";
    const struct name *starter = name_intern(&names, text_of(word));
    const struct name *iron = name_intern(&names, TEXT("iron"));
    const struct name *empty = name_intern(&names, (struct text){NULL, 0});
    word[0] = 'S'; /* the name keeps a copy */
    assert_ptr_equal(name_intern(&names, TEXT("starter")), starter);
    assert_ptr_not_equal(name_intern(&names, TEXT("Starter")), starter);
    assert_ptr_equal(name_intern(&names, TEXT("")), empty);
    assert_string_equal(starter->text.start, "starter");
    assert_int_equal(starter->id, 0);
    assert_int_equal(iron->id, 1);
    assert_int_equal(empty->id, 2);
    assert_int_equal(names.all.count, 4);
}

/* The slots that lie between a name's own slot and where it stands, over all names. */
static uint64_t names_detour(const struct names *names)
{
    uint64_t detour = 0;
    for (size_t slot = 0; slot < names->slot_count; slot++)
        if (names->slots[slot].number)
            detour += (slot - names->slots[slot].hash) & (names->slot_count - 1);
    return detour;
}

static const char *const COUNTED_NAMES[] = {"%d", "zone-%d", "%d-a-rather-long-name-of-a-product", "%08x"};

static void test_many_names(void **state)
{
    enum { COUNT = 1000000 };
    struct names names;
    names_init(&names, *state);
    for (int i = 0; i < COUNT; i++) {
        char word[64];
        int length = snprintf(word, sizeof word, COUNTED_NAMES[i % 4], i);
        assert_int_equal(name_intern(&names, (struct text){word, (size_t)length})->id, i);
    }
    assert_int_equal(names.all.count, COUNT);
    /* At half full, a uniform hash needs half a step on average (Knuth, volume 3, section 6.4; from memory).
     */
    assert_true(names_detour(&names) < COUNT);
    assert_int_equal(name_intern(&names, TEXT("zone-500001"))->id, 500001);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_compare),
        cmocka_unit_test_setup_teardown(test_string, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_buffer, arena_setup, arena_teardown),
        cmocka_unit_test(test_exhaustion),
        cmocka_unit_test_setup_teardown(test_number_text, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_number_fixed_agrees_with_printf, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_number_short, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_number_short_keeps_four_digits, arena_setup, arena_teardown),
        cmocka_unit_test(test_number_floor),
        cmocka_unit_test(test_number_floor_of_decimals),
        cmocka_unit_test(test_distance),
        cmocka_unit_test(test_distance_of_long_texts),
        cmocka_unit_test(test_distance_bounds),
        cmocka_unit_test_setup_teardown(test_names, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_many_names, arena_setup, arena_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
