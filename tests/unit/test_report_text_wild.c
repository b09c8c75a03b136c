/* Whatever bytes a plan holds, a report of it does a terminal no harm. */
#include "tests/unit/printed_reports.h"

#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { WILD_LENGTH = 200 };

/* Bytes of all kinds, with the dangerous ones often enough. */
static const char *wild_text(uint32_t *random, bool zeros)
{
    static const char *const pieces[] = {
        "\033[2J",          "\n",     "\r\n", "\t",           "\u202E", "\xC2\x9B",
        "\xF0\x9F\x8C\xB1", "\u0301", "\x7F", "\xE8\x8A\x9D", "\u2028", "\xF3\xA0\x81\x81"};
    struct buffer text = {.arena = &made_arena};
    uint32_t length = made_number(random, WILD_LENGTH);
    for (uint32_t i = 0; i < length; i++) {
        if (made_number(random, 2))
            buffer_add_string(&text, pieces[made_number(random, sizeof pieces / sizeof *pieces)]);
        else if (made_number(random, 2))
            buffer_repeat(&text, (char)(' ' + made_number(random, 95)), 1);
        else
            buffer_repeat(&text, (char)(!zeros + made_number(random, 256 - !zeros)), 1);
    }
    return buffer_string(&text);
}

static struct place wild_place(uint32_t *random, const struct source *source)
{
    uint32_t start = made_number(random, source->length + 1);
    return made_range(source, start, start + made_number(random, source->length - start + 1));
}

static struct source *wild_source(uint32_t *random)
{
    struct buffer text = {.arena = &made_arena};
    for (int i = 0; i < 3; i++) {
        buffer_add_string(&text, wild_text(random, false));
        buffer_repeat(&text, '\0', made_number(random, 2));
    }
    return made_source_bytes(wild_text(random, false), buffer_string(&text), text.length);
}

static struct report *wild_report(uint32_t *random)
{
    struct source *sources[2] = {wild_source(random), wild_source(random)};
    sources[1]->used_at = wild_place(random, sources[0]);
    sources[1]->library = made_number(random, 2);
    const struct source *source = sources[made_number(random, 2)];
    struct report *report =
        report_add(&made_reports, &made_error, wild_place(random, source), "%s", wild_text(random, false));
    report->place_label = wild_text(random, false);
    for (uint32_t i = made_number(random, 4); i > 0; i--)
        report_label(&made_reports, report, wild_place(random, sources[made_number(random, 2)]), "%s",
                     wild_text(random, false));
    report_note(&made_reports, report, "%s", wild_text(random, false));
    report_help(&made_reports, report, "%s", wild_text(random, false));
    for (uint32_t i = made_number(random, 3); i > 0; i--)
        report_fix(&made_reports, report, made_number(random, 2), wild_place(random, sources[0]),
                   wild_text(random, false), wild_text(random, false));
    return report;
}

/* Nothing leaves that drives a terminal, hides or reorders text, or is not UTF-8; and only the first line of
 * a report may begin with text that is not ours. */
static void assert_harmless(const char *output)
{
    struct text text = text_of(output);
    size_t length;
    for (size_t at = 0; at < text.length; at += length) {
        uint32_t character = text_character(text, at, &length);
        unsigned char byte = (unsigned char)text.start[at];
        assert_false(length == 1 && byte >= 0x80);
        assert_false(character < 0x20 && character != '\n');
        assert_false(character >= 0x7F && character < 0xA0);
        assert_false(character >= 0x2028 && character <= 0x202E);
        assert_false(character >= 0x2066 && character <= 0x2069);
        assert_false(character >= 0xE0000);
        if (character == '\n' && at + 1 < text.length)
            assert_true(text.start[at + 1] == ' ' && text.start[at + 2] == ' ');
    }
}

static void test_wild(void **state)
{
    uint32_t random = 20270220;
    for (int round = 0; round < 2000; round++) {
        assert_harmless(printed(wild_report(&random)));
        made_teardown(state);
        made_setup(state);
    }
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, made_setup, made_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_wild),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
