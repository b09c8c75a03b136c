/* Dates as they are written elsewhere: "05/01/2027", "2027-5-1". */
#ifndef PRILL_LEXER_ODD_DATE_H
#define PRILL_LEXER_ODD_DATE_H

#include "lexer/arena.h"
#include "lexer/text.h"

/* What such a date means, as 2027-05-01. Where both the first and the second number can be the month and give
 * different days, `meant` has the first as the month, `other` the second. */
struct odd_date {
    const char *meant; /* NULL: no date is to be seen in it */
    const char *other; /* NULL: nothing else can be meant */
};

/* `written` is three runs of digits with something between them. */
struct odd_date odd_date_read(struct arena *arena, struct text written);

/* What the dates of a text that can be read in one way only have first; unknown where there are none, or
 * both. */
enum date_order { DATE_ORDER_UNKNOWN, DATE_ORDER_DAY_FIRST, DATE_ORDER_MONTH_FIRST };
enum date_order odd_dates_order(struct text text);

/* "12 Apr" for "12.4", the day before the month as those have it who write points; NULL for what is none. */
const char *odd_day_read(struct arena *arena, struct text written);

#endif
