#include "lexer/source.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
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

static struct source source_of(struct arena *arena, const char *bytes)
{
    struct source source;
    source_init(&source, arena, "green.prill", (const unsigned char *)bytes, (uint32_t)strlen(bytes));
    return source;
}

static void assert_position(const struct source *source, uint32_t offset, struct position wanted)
{
    struct position found = source_position(source, offset);
    assert_int_equal(found.line, wanted.line);
    assert_int_equal(found.byte_column, wanted.byte_column);
    assert_int_equal(found.column, wanted.column);
    assert_int_equal(found.utf16_column, wanted.utf16_column);
}

static void test_lines(void **state)
{
    static const struct {
        const char *bytes;
        uint32_t count;
        const char *lines[4];
    } rows[] = {
        {"", 1, {""}},
        {"a", 1, {"a"}},
        {"a\n", 2, {"a", ""}},
        {"a\r\nbc\n\nd", 4, {"a", "bc", "", "d"}},
        {"\r\n\n", 3, {"", "", ""}},
        {"a\rb\nc\r", 2, {"a\rb", "c\r"}}, /* a lone return ends no line */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct source source = source_of(*state, rows[i].bytes);
        assert_int_equal(source_line_number(&source, source.length), rows[i].count);
        for (uint32_t line = 1; line <= rows[i].count; line++)
            assert_true(text_is(source_line(&source, line), rows[i].lines[line - 1]));
    }
}

static void test_positions(void **state)
{
    struct source source = source_of(*state, "plan\n\tzone\r\n\n");
    assert_position(&source, 0, (struct position){1, 1, 1, 1});
    assert_position(&source, 4, (struct position){1, 5, 5, 5});
    assert_position(&source, 5, (struct position){2, 1, 1, 1});
    assert_position(&source, 6, (struct position){2, 2, 9, 2});
    assert_position(&source, 10, (struct position){2, 6, 13, 6}); /* at the return */
    assert_position(&source, 11, (struct position){2, 7, 13, 7}); /* at its line feed */
    assert_position(&source, 12, (struct position){3, 1, 1, 1});
    assert_position(&source, 13, (struct position){4, 1, 1, 1});
}

/* e and a combining acute, a wide character, one beyond the first plane, a byte that is not UTF-8. */
static void test_columns(void **state)
{
    struct source source = source_of(*state, "e\xCC\x81\xE8\x8D\x89\xF0\x9F\x8C\xB1\xFFx");
    assert_position(&source, 0, (struct position){1, 1, 1, 1});
    assert_position(&source, 1, (struct position){1, 2, 2, 2});
    assert_position(&source, 3, (struct position){1, 4, 2, 3});
    assert_position(&source, 6, (struct position){1, 7, 4, 4});
    assert_position(&source, 8, (struct position){1, 9, 4, 4}); /* inside the character: as at its start */
    assert_position(&source, 10, (struct position){1, 11, 6, 6});
    assert_position(&source, 11, (struct position){1, 12, 7, 7});
    assert_position(&source, 12, (struct position){1, 13, 8, 8});
}

static void test_tab_stops(void **state)
{
    struct source source = source_of(*state, "1234567\t8\t\t.");
    assert_int_equal(source_position(&source, 8).column, 9);
    assert_int_equal(source_position(&source, 10).column, 17);
    assert_int_equal(source_position(&source, 11).column, 25);
}

/* Line and byte column lead back to the offset, for every offset of a text of many short lines. */
static void test_positions_lead_back(void **state)
{
    char bytes[4001];
    for (size_t i = 0; i < sizeof bytes - 1; i++)
        bytes[i] = (i * i) % 7 == 2 ? '\n' : 'x';
    bytes[sizeof bytes - 1] = '\0';
    struct source source = source_of(*state, bytes);
    for (uint32_t offset = 0; offset <= source.length; offset++) {
        struct position position = source_position(&source, offset);
        struct text line = source_line(&source, position.line);
        assert_ptr_equal(line.start + position.byte_column - 1, bytes + offset);
        assert_true(position.byte_column - 1 <= line.length);
    }
}

static void test_place_text(void **state)
{
    struct source source = source_of(*state, "rate 4 lb");
    assert_true(text_is(place_text((struct place){&source, 5, 9}), "4 lb"));
    assert_true(text_is(place_text((struct place){&source, 9, 9}), ""));
    assert_true(text_is(place_text((struct place){0}), ""));
}

/* As a sentence quotes a statement. */
static void test_place_words(void **state)
{
    static const struct {
        const char *text, *words;
    } cases[] = {
        {"heat      below 85 F", "heat below 85 F"},
        {"  to\tnorth,   # the large one\r\n\t south  ", "to north, south"},
        {"note \"two  blanks # kept\"  # gone", "note \"two  blanks # kept\""},
        {"note \"a \\\"  b\"   x", "note \"a \\\"  b\" x"},
        {"note \"open  ", "note \"open  "},
        {"note \"open\n  when  on", "note \"open when on"},
        {"note \"\\", "note \"\\"},
        {"", ""},
        {" \t\n# nothing", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct source source = source_of(*state, cases[i].text);
        assert_string_equal(place_words(*state, (struct place){&source, 0, source.length}), cases[i].words);
    }
    assert_string_equal(place_words(*state, (struct place){0}), "");
}

static void test_width(void **state)
{
    (void)state;
    static const struct {
        uint32_t character;
        int cells;
    } rows[] = {
        {0, 0},      {'\t', 0},    {' ', 1},     {'~', 1},     {0x7F, 0},    {0x9F, 0},     {0xA0, 1},
        {0xAD, 1},   {0xE9, 1},    {0x301, 0},   {0x200D, 0},  {0xFE0F, 0},  {0xFEFF, 0},   {0x1100, 2},
        {0x1161, 0}, {0x2014, 1},  {0x3042, 2},  {0x4E00, 2},  {0x9FFF, 2},  {0xAC00, 2},   {0xFF21, 2},
        {0xFF61, 1}, {0x1F331, 2}, {0x1F1E6, 1}, {0x2FFFD, 2}, {0x2FFFE, 1}, {0x10FFFF, 1}, {0xFFFD, 1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_int_equal(character_width(rows[i].character), rows[i].cells);
}

/* UTF-8 by the definition, for characters that have such a form. */
static size_t encode(uint32_t character, char *bytes)
{
    static const uint32_t greatest[] = {0x7F, 0x7FF, 0xFFFF};
    size_t more = 0;
    while (more < 3 && character > greatest[more])
        more++;
    for (size_t i = more; i > 0; i--, character >>= 6)
        bytes[i] = (char)(0x80 | (character & 0x3F));
    static const uint32_t first[] = {0, 0xC0, 0xE0, 0xF0};
    bytes[0] = (char)(first[more] | character);
    return more + 1;
}

static void test_every_character(void **state)
{
    (void)state;
    for (uint32_t character = 0; character <= 0x10FFFF; character++) {
        char bytes[4];
        size_t count = encode(character, bytes), length;
        bool surrogate = character >= 0xD800 && character <= 0xDFFF;
        uint32_t found = text_character((struct text){bytes, count}, 0, &length);
        assert_int_equal(found, surrogate ? 0xFFFD : character);
        assert_int_equal(length, surrogate ? 1 : count);
        if (count > 1) { /* cut short */
            assert_int_equal(text_character((struct text){bytes, count - 1}, 0, &length), 0xFFFD);
            assert_int_equal(length, 1);
        }
    }
}

static void test_invalid_characters(void **state)
{
    (void)state;
    static const char *const invalid[] = {
        "\x80",
        "\xBF",
        "\xC0\x80",
        "\xC1\xBF",
        "\xC3",
        "\xC3(",
        "\xE0\x80\x80",
        "\xE0\x9F\xBF",
        "\xE2\x28\xA1",
        "\xED\xA0\x80",
        "\xF0\x80\x80\x80",
        "\xF0\x8F\xBF\xBF",
        "\xF4\x90\x80\x80",
        "\xF5\x80\x80\x80",
        "\xF9\x80\x80\x80",
        "\xFE",
        "\xFF",
    };
    for (size_t i = 0; i < sizeof invalid / sizeof *invalid; i++) {
        size_t length = 0;
        assert_int_equal(text_character(text_of(invalid[i]), 0, &length), 0xFFFD);
        assert_int_equal(length, 1);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_lines, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_positions, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_columns, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_tab_stops, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_positions_lead_back, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_place_text, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_place_words, arena_setup, arena_teardown),
        cmocka_unit_test(test_width),
        cmocka_unit_test(test_every_character),
        cmocka_unit_test(test_invalid_characters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
