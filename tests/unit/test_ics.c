/* The lines of an iCalendar file, read back by libical, another's reader of RFC 5545. Sources: RFC 5545, 3.1
 * (lines of at most 75 octets), 3.3.6 (durations), 3.3.11 (texts). */
#include "compiler/form/ics.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <libical/ical.h>

enum { TEXT_BYTES = 2048, ROUNDS = 3000 };

static uint32_t drawn = 41;
static unsigned draw(unsigned below)
{
    drawn = (uint32_t)((uint64_t)drawn * 16807 % 2147483647);
    return drawn % below;
}

/* Of characters of one to four bytes, of what has to be escaped, and of what a line may be cut behind; or of
 * letters only, where there is no such place. */
static void text_draw(char text[TEXT_BYTES], unsigned most)
{
    static const char *const pieces[] = {
        "a", "words", "\xc3\xa4", "\xe2\x82\xac", "\xf0\x9f\x8c\xb1", " ", ",", ";", ":", "\\", "\"", "\n"};
    unsigned kinds = draw(2) ? 5 : sizeof pieces / sizeof *pieces;
    strcpy(text, "x"); /* libical drops blanks around a text, and reports an empty one */
    for (unsigned count = draw(most); count > 0; count--)
        strcat(text, pieces[draw(kinds)]);
    strcat(text, "x");
}

/* Each within its bytes, and none begun within a character. */
static void assert_lines(const char *text)
{
    while (*text) {
        const char *end = strstr(text, "\r\n");
        assert_non_null(end);
        assert_in_range(end - text, 1, 75);
        assert_null(memchr(text, '\n', (size_t)(end - text)));
        assert_true(((unsigned char)text[*text == ' '] & 0xc0) != 0x80);
        text = end + 2;
    }
}

static void test_read_back(void **state)
{
    static const int alarms[] = {0, -1, 60, -3600, 86400, -7 * 86400, 25 * 3600 + 61, -(86400 * 2 + 3599)};
    static char summary[TEXT_BYTES], description[TEXT_BYTES], name[TEXT_BYTES];
    for (int round = 0; round < ROUNDS; round++) {
        struct arena arena;
        arena_init(&arena, NULL);
        struct buffer out = {.arena = &arena};
        text_draw(summary, 100);
        text_draw(description, 300);
        text_draw(name, 90);
        if (draw(8) == 0)
            *description = *name = '\0';
        struct ics_event event = {.uid = "0123-4567",
                                  .summary = summary,
                                  .description = description,
                                  .categories = "application,feed",
                                  .day = (day_number)draw(40000),
                                  .sequence = (int)draw(100),
                                  .stamp = (int64_t)draw(2000000000) * 3,
                                  .alarm = true,
                                  .alarm_seconds = alarms[draw(sizeof alarms / sizeof *alarms)]};
        ics_begin(&out, name, description);
        ics_add(&out, &event);
        ics_end(&out, false);
        assert_lines(out.string);
        icalcomponent *root = icalparser_parse_string(out.string);
        assert_non_null(root);
        assert_int_equal(icalcomponent_count_errors(root), 0);
        icalcomponent *read = icalcomponent_get_first_component(root, ICAL_VEVENT_COMPONENT);
        icalcomponent *alarm = icalcomponent_get_first_component(read, ICAL_VALARM_COMPONENT);
        icalproperty *trigger = icalcomponent_get_first_property(alarm, ICAL_TRIGGER_PROPERTY);
        icalproperty *named = icalcomponent_get_first_property(root, ICAL_NAME_PROPERTY);
        struct civil_date date = date_of_day(event.day), after = date_of_day(event.day + 1);
        struct icaltimetype start = icalcomponent_get_dtstart(read), end = icalcomponent_get_dtend(read);
        assert_string_equal(icalcomponent_get_summary(read), summary);
        if (*description)
            assert_string_equal(icalcomponent_get_description(read), description);
        if (*name)
            assert_string_equal(icalproperty_get_name(named), name);
        assert_string_equal(icalcomponent_get_uid(read), event.uid);
        assert_int_equal(icaltime_as_timet(icalcomponent_get_dtstamp(read)), event.stamp);
        assert_true(start.is_date && start.year == date.year && start.month == date.month);
        assert_int_equal(start.day, date.day);
        assert_true(end.is_date && end.year == after.year && end.day == after.day);
        assert_int_equal(icalcomponent_get_sequence(read), event.sequence);
        assert_int_equal(icaldurationtype_as_int(icalproperty_get_trigger(trigger).duration),
                         event.alarm_seconds);
        icalcomponent_free(root);
        arena_free(&arena);
    }
}

static const char *lines_of(struct arena *arena, const char *name)
{
    struct buffer out = {.arena = arena};
    ics_begin(&out, name, "");
    return strstr(out.string, "NAME:");
}

/* Where words can stay whole they do; a comma is bare where readers look for the older name. */
static void test_cut_behind_words(void **state)
{
    struct arena arena;
    arena_init(&arena, NULL);
    static const char words[] =
        "the green behind the house and all that is sown beside it, in the spring; done";
    assert_string_equal(lines_of(&arena, words),
                        "NAME:the green behind the house and all that is sown beside it\\, in the \r\n"
                        " spring\\; done\r\n"
                        "X-WR-CALNAME:the green behind the house and all that is sown beside it, \r\n"
                        " in the spring; done\r\n");
    arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_read_back),
        cmocka_unit_test(test_cut_behind_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
