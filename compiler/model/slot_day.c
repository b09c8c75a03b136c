/* Days, weekdays and times of day in slots. */
#include "compiler/model/slot.h"

#include <math.h>

static int two_digits(const char *digits)
{
    return (digits[0] - '0') * 10 + (digits[1] - '0');
}

/* The scanner has seen to it that the digits stand where they must; the day may not exist. */
bool slot_read_date(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    uint32_t first = *at;
    if (!slot_token(matcher, type, at, TOKEN_DATE))
        return false;
    struct text text = slot_text(matcher, first);
    const char *digits = text.start, *help = NULL;
    struct civil_date date = {two_digits(digits) * 100 + two_digits(digits + 2), two_digits(digits + 5),
                              two_digits(digits + 8)};
    value->date = date;
    if (date_valid(date))
        return true;
    if (date.year < FIRST_YEAR || date.year > LAST_YEAR)
        help = "a year must be from 1900 to 2199";
    else if (date.month >= 1 && date.month <= 12)
        help = text_format(matcher->model->arena, "%s %d has %d days", month_name(date.month), date.year,
                           days_in_month(date.year, date.month));
    return slot_complain(
        matcher, first, slot_place(matcher, first), RULE_DATE,
        text_format(matcher->model->arena, "there is no day `%.*s`", (int)text.length, text.start), help);
}

enum { LEAP_YEAR = 2000 };

/* "Apr 17", "17 Apr" or a full date. */
bool slot_read_day(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    if (match_kind(matcher, *at) == TOKEN_DATE)
        return slot_read_date(matcher, type, at, value);
    uint32_t first = *at, second = match_next(matcher, *at);
    bool month_first = match_kind(matcher, first) == TOKEN_WORD;
    uint32_t month_at = month_first ? first : second, day_at = month_first ? second : first;
    int month = match_kind(matcher, month_at) == TOKEN_WORD ? month_of_text(slot_text(matcher, month_at)) : 0;
    if (!month)
        return match_expect(matcher, first, type->description);
    if (match_kind(matcher, day_at) != TOKEN_NUMBER)
        return match_expect(matcher, day_at, "the day of the month");
    /* without a year every February has 29 days */
    double day = token_number(slot_text(matcher, day_at));
    int last = days_in_month(LEAP_YEAR, month);
    struct place place = match_place(matcher, first, second + 1);
    *at = match_next(matcher, second);
    if (!(day >= 1 && day <= last) || day != floor(day)) {
        struct text text = place_text(place);
        return slot_complain(
            matcher, second, place, RULE_DATE,
            text_format(matcher->model->arena, "there is no day `%.*s`", (int)text.length, text.start),
            text_format(matcher->model->arena, "%s has %d days", month_name(month), last));
    }
    value->date = (struct civil_date){0, month, (int)day};
    return true;
}

bool slot_read_weekday(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value)
{
    int weekday = match_kind(matcher, *at) == TOKEN_WORD ? weekday_of_text(slot_text(matcher, *at)) : -1;
    if (weekday < 0)
        return match_expect(matcher, *at, type->description);
    value->number = weekday;
    *at = match_next(matcher, *at);
    return true;
}

bool slot_read_clock(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    uint32_t first = *at;
    if (!slot_token(matcher, type, at, TOKEN_CLOCK))
        return false;
    struct text text = slot_text(matcher, first);
    int minute = two_digits(text.start + text.length - 2);
    int hour = text.length == 5 ? two_digits(text.start) : text.start[0] - '0';
    value->number = hour * 60 + minute;
    if (hour < 24 && minute < 60)
        return true;
    return slot_complain(matcher, first, slot_place(matcher, first), RULE_VALUE,
                         "there is no such time of day", NULL);
}
