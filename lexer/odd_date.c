#include "lexer/odd_date.h"

#include "lexer/token.h"

#include <string.h>

static void parts_read(struct text written, struct text parts[3])
{
    size_t at = 0;
    for (int i = 0; i < 3; i++) {
        size_t start = at;
        while (at < written.length && written.start[at] >= '0' && written.start[at] <= '9')
            at++;
        parts[i] = (struct text){written.start + start, at - start};
        at++;
    }
}

/* NULL where these are no year, month and day. That a month has so many days is not asked here. */
static const char *date_of(struct arena *arena, struct text year, struct text month, struct text day)
{
    if (year.length != 4 || month.length > 2 || day.length > 2)
        return NULL;
    int month_number = (int)token_number(month), day_number = (int)token_number(day);
    if (month_number < 1 || month_number > 12 || day_number < 1 || day_number > 31)
        return NULL;
    return text_format(arena, "%.*s-%02d-%02d", (int)year.length, year.start, month_number, day_number);
}

struct odd_date odd_date_read(struct arena *arena, struct text written)
{
    struct text parts[3];
    parts_read(written, parts);
    const char *year_first = date_of(arena, parts[0], parts[1], parts[2]),
               *month_first = date_of(arena, parts[2], parts[0], parts[1]),
               *day_first = date_of(arena, parts[2], parts[1], parts[0]);
    struct odd_date date = {year_first ? year_first : month_first ? month_first : day_first, NULL};
    if (month_first && day_first && strcmp(month_first, day_first) != 0)
        date.other = day_first;
    return date;
}
