/* Prints every day a plan can hold, for dates.check: number, date, weekday (Monday 0), day of the year, and
 * the same day so many months on. The arguments are the numbers of months. */
#include "compiler/model/date.h"

#include <stdio.h>
#include <stdlib.h>

static void print_date(struct civil_date date)
{
    printf(" %d-%d-%d", date.year, date.month, date.day);
}

int main(int count, char **arguments)
{
    day_number last = day_of_date((struct civil_date){LAST_YEAR, 12, 31});
    for (day_number day = day_of_date((struct civil_date){FIRST_YEAR, 1, 1}); day <= last; day++) {
        printf("%d", (int)day);
        print_date(date_of_day(day));
        printf(" %d %d", (int)weekday_of_day(day), day_of_year(day));
        for (int i = 1; i < count; i++)
            print_date(date_of_day(day_add_months(day, (int)strtol(arguments[i], NULL, 10))));
        putchar('\n');
    }
    return ferror(stdout) != 0;
}
