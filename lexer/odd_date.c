#include "lexer/odd_date.h"

#include "lexer/token.h"

#include <stdbool.h>
#include <string.h>

/* Read as each of the three orders has it. That a month has so many days is not asked here. A year of two
 * digits is one of this century. */
struct odd_date odd_date_read(struct arena *arena, struct text written)
{
    enum { YEAR_FIRST, MONTH_FIRST, DAY_FIRST, ORDERS };
    static const struct {
        int year, month, day;
    } orders[ORDERS] = {{0, 1, 2}, {2, 0, 1}, {2, 1, 0}};
    struct text parts[3] = {0};
    size_t at = 0;
    for (int i = 0; i < 3; i++) {
        while (at < written.length && (written.start[at] < '0' || written.start[at] > '9'))
            at++;
        parts[i].start = written.start + at;
        while (at < written.length && written.start[at] >= '0' && written.start[at] <= '9')
            at++;
        parts[i].length = (size_t)(written.start + at - parts[i].start);
    }
    const char *dates[ORDERS] = {NULL}; /* NULL where these are no year, month and day */
    for (int i = parts[0].length == 4 ? YEAR_FIRST : MONTH_FIRST; i < ORDERS; i++) {
        struct text year = parts[orders[i].year];
        struct text month = parts[orders[i].month], day = parts[orders[i].day];
        if ((year.length != 4 && year.length != 2) || month.length > 2 || day.length > 2)
            continue;
        int month_number = (int)token_number(month), day_number = (int)token_number(day);
        if (month_number >= 1 && month_number <= 12 && day_number >= 1 && day_number <= 31)
            dates[i] = text_format(arena, "%s%s-%02d-%02d", year.length == 2 ? "20" : "",
                                   text_string(arena, year), month_number, day_number);
    }
    const char *month_first = dates[MONTH_FIRST], *day_first = dates[DAY_FIRST];
    struct odd_date date = {dates[YEAR_FIRST] ? dates[YEAR_FIRST]
                            : month_first     ? month_first
                                              : day_first,
                            NULL};
    if (month_first && day_first && strcmp(month_first, day_first) != 0)
        date.other = day_first;
    return date;
}

const char *odd_day_read(struct arena *arena, struct text written)
{
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                         "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    size_t point = 0;
    while (point < written.length && written.start[point] != '.')
        point++;
    if (point == 0 || point > 2 || point + 1 >= written.length || written.length > point + 3)
        return NULL;
    int day = (int)token_number((struct text){written.start, point}),
        month = (int)token_number((struct text){written.start + point + 1, written.length - point - 1});
    bool possible = day >= 1 && day <= 31 && month >= 1 && month <= 12;
    return possible ? text_format(arena, "%d %s", day, months[month - 1]) : NULL;
}

/* The number of at most two digits at *at, which moves behind it; 0 where there is none. */
static int short_number(struct text text, size_t *at)
{
    size_t start = *at;
    int number = 0;
    for (; *at < text.length && text.start[*at] >= '0' && text.start[*at] <= '9'; ++*at)
        if (*at < start + 2)
            number = 10 * number + (text.start[*at] - '0');
    return *at - start <= 2 ? number : 0;
}

enum date_order odd_dates_order(struct text text)
{
    bool day_first = false, month_first = false;
    for (size_t at = 0; at < text.length; at++) {
        int one = short_number(text, &at);
        char mark = one && at < text.length ? text.start[at] : ' ';
        if (mark != '/' && mark != '.')
            continue;
        size_t second = at + 1;
        int two = short_number(text, &second);
        bool year = two && second + 1 < text.length && text.start[second] == mark &&
                    text.start[second + 1] >= '0' && text.start[second + 1] <= '9';
        day_first = day_first || (year && one > 12 && one <= 31 && two <= 12);
        month_first = month_first || (year && two > 12 && two <= 31 && one <= 12);
    }
    if (day_first == month_first)
        return DATE_ORDER_UNKNOWN;
    return day_first ? DATE_ORDER_DAY_FIRST : DATE_ORDER_MONTH_FIRST;
}
