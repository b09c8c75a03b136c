#include "compiler/model/date.h"

#include <assert.h>
#include <string.h>

/* Days and dates by H. Hinnant, "chrono-Compatible Low-Level Date Algorithms" (public domain): the year
 * begins in March, so that the leap day is its last, and 400 years are one era of DAYS_IN_ERA days. */
enum { YEARS_IN_ERA = 400, DAYS_IN_ERA = 146097, DAYS_BEFORE_1970 = 719468 /* from 0000-03-01 */ };

int days_in_month(int64_t year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    assert(month >= 1 && month <= 12);
    return days[month - 1] + (month == 2 && year % 4 == 0 && (year % 100 != 0 || year % 400 == 0));
}

bool date_valid(struct civil_date date)
{
    return date.year >= FIRST_YEAR && date.year <= LAST_YEAR && date.month >= 1 && date.month <= 12 &&
           date.day >= 1 && date.day <= days_in_month(date.year, date.month);
}

static int64_t divide_down(int64_t a, int64_t b)
{
    return a / b - (a % b < 0);
}

day_number day_of_date(struct civil_date date)
{
    assert(date.month >= 1 && date.month <= 12);
    int64_t year = (int64_t)date.year - (date.month <= 2);
    int64_t era = divide_down(year, YEARS_IN_ERA);
    int64_t year_of_era = year - era * YEARS_IN_ERA;
    int64_t day_from_march =
        (153 * (date.month > 2 ? date.month - 3 : date.month + 9) + 2) / 5 + date.day - 1;
    int64_t day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_from_march;
    int64_t days = era * DAYS_IN_ERA + day_of_era - DAYS_BEFORE_1970;
    return (day_number)(days < INT32_MIN ? INT32_MIN : days > INT32_MAX ? INT32_MAX : days);
}

/* Years from March, so that the leap day is the last of them. */
struct civil_date date_of_day(day_number day)
{
    int64_t shifted = (int64_t)day + DAYS_BEFORE_1970;
    int64_t era = divide_down(shifted, DAYS_IN_ERA);
    int64_t day_of_era = shifted - era * DAYS_IN_ERA;
    int64_t year_of_era =
        (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / (DAYS_IN_ERA - 1)) / 365;
    int64_t day_from_march = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    int from_march = (int)((5 * day_from_march + 2) / 153);
    int month = from_march < 10 ? from_march + 3 : from_march - 9;
    return (struct civil_date){
        .year = (int)(year_of_era + era * YEARS_IN_ERA) + (month <= 2),
        .month = month,
        .day = (int)(day_from_march - (153 * from_march + 2) / 5) + 1,
    };
}

enum weekday weekday_of_day(day_number day)
{
    int64_t from_monday = (int64_t)day + THURSDAY; /* 1970-01-01 was a Thursday */
    return (enum weekday)(from_monday - 7 * divide_down(from_monday, 7));
}

int day_of_year(day_number day)
{
    return day - day_of_date((struct civil_date){date_of_day(day).year, 1, 1}) + 1;
}

day_number day_add_months(day_number day, int months)
{
    if (months == 0)
        return day;
    struct civil_date date = date_of_day(day);
    int64_t total = (int64_t)date.year * 12 + date.month - 1 + months;
    int64_t year = divide_down(total, 12);
    int month = (int)(total - year * 12) + 1;
    int last = days_in_month(year, month);
    return day_of_date((struct civil_date){(int)year, month, date.day < last ? date.day : last});
}

day_number day_last_reaching(day_number day, int months)
{
    day_number back = day_add_months(day, -months);
    struct civil_date date = date_of_day(back);
    bool last = date_of_day(day + 1).day == 1; /* of a month: every later one counts as that day, too */
    return last ? back + days_in_month(date.year, date.month) - date.day : back;
}

day_number day_after(day_number day, struct duration duration)
{
    return day_add_months(day, duration.months) + duration.days;
}

bool duration_any(struct duration duration)
{
    return duration.days > 0 || duration.months > 0;
}

/* So many months on end: the fewest days they have in a common year, the most in a leap year. */
static const int16_t LEAST_DAYS[] = {0, 28, 59, 89, 120, 150, 181, 212, 242, 273, 303, 334};
static const int16_t MOST_DAYS[] = {0, 31, 62, 92, 123, 153, 184, 215, 245, 276, 306, 337};

int32_t duration_least_days(struct duration duration)
{
    return duration.days + duration.months / 12 * 365 + LEAST_DAYS[duration.months % 12];
}

int32_t duration_most_days(struct duration duration)
{
    return duration.days + duration.months / 12 * 366 + MOST_DAYS[duration.months % 12];
}

static const char *const MONTH_NAMES[] = {"January",   "February", "March",    "April",
                                          "May",       "June",     "July",     "August",
                                          "September", "October",  "November", "December"};
static const char *const WEEKDAY_NAMES[] = {"Monday", "Tuesday",  "Wednesday", "Thursday",
                                            "Friday", "Saturday", "Sunday"};

enum { SHORTEST_NAME = 3 };

static char lower(char character)
{
    return character >= 'A' && character <= 'Z' ? (char)(character + ('a' - 'A')) : character;
}

/* Whether `text` is the beginning of `name`, at least three letters of it, in any case of letters. */
static bool begins_name(struct text text, const char *name)
{
    if (text.length < SHORTEST_NAME || text.length > strlen(name))
        return false;
    size_t i = 0;
    while (i < text.length && lower(text.start[i]) == lower(name[i]))
        i++;
    return i == text.length;
}

int month_of_text(struct text text)
{
    for (int month = 1; month <= 12; month++)
        if (begins_name(text, MONTH_NAMES[month - 1]))
            return month;
    return 0;
}

int weekday_of_text(struct text text)
{
    for (int day = MONDAY; day <= SUNDAY; day++) {
        size_t length = strlen(WEEKDAY_NAMES[day]);
        struct text singular = text;
        if (text.length == length + 1 && lower(text.start[length]) == 's')
            singular.length = length;
        if (begins_name(singular, WEEKDAY_NAMES[day]))
            return day;
    }
    return -1;
}

const char *month_name(int month)
{
    assert(month >= 1 && month <= 12);
    return MONTH_NAMES[month - 1];
}

const char *weekday_name(enum weekday day)
{
    return WEEKDAY_NAMES[day];
}

const char *day_text(struct arena *arena, day_number day)
{
    struct civil_date date = date_of_day(day);
    int rest = date.year * 10000 + date.month * 100 + date.day;
    char *text = arena_array(arena, sizeof "YYYY-MM-DD", 1);
    assert(date.year >= 0 && date.year < 10000);
    for (size_t i = sizeof "YYYY-MM-DD" - 1; i-- > 0;) {
        bool dash = i == 4 || i == 7;
        text[i] = dash ? '-' : (char)('0' + rest % 10);
        rest = dash ? rest : rest / 10;
    }
    return text;
}

/* Byte by byte: what a locale takes for a digit, a sign or a blank is none here. */
bool date_of_text(struct text text, struct civil_date *date)
{
    static const char form[] = "YYYY-MM-DD";
    int *part = &date->year;
    *date = (struct civil_date){0};
    if (text.length != sizeof form - 1)
        return false;
    for (size_t i = 0; i < text.length; i++) {
        char byte = text.start[i];
        if (form[i] == '-' ? byte != '-' : byte < '0' || byte > '9')
            return false;
        if (form[i] == '-')
            part = i == 4 ? &date->month : &date->day;
        else
            *part = *part * 10 + (byte - '0');
    }
    return date_valid(*date);
}
