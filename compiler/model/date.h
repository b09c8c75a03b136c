/* Days of the proleptic Gregorian calendar, and how a plan writes them. */
#ifndef PRILL_MODEL_DATE_H
#define PRILL_MODEL_DATE_H

#include "lexer/text.h"

/* Days since 1970-01-01. Plans live in 1900-01-01 to 2199-12-31; arithmetic is exact far beyond,
 * and stops at the ends of the type. */
typedef int32_t day_number;
#define DAY_NONE INT32_MIN /* no day at all */
#define DAY_NEVER INT32_MAX

enum weekday { MONDAY, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY, SATURDAY, SUNDAY };

struct civil_date {
    int year;  /* 1900 to 2199 in a plan */
    int month; /* 1 to 12 */
    int day;   /* 1 to 31 */
};

enum { FIRST_YEAR = 1900, LAST_YEAR = 2199 };

bool date_valid(struct civil_date date);    /* a day that exists, within FIRST_YEAR..LAST_YEAR */
int days_in_month(int64_t year, int month); /* month 1 to 12 */
day_number day_of_date(struct civil_date date);
struct civil_date date_of_day(day_number day);
enum weekday weekday_of_day(day_number day);
int day_of_year(day_number day); /* 1 to 366 */

/* The same day `months` later (or earlier); where that month is shorter, its last day. Never earlier for a
 * later day. */
day_number day_add_months(day_number day, int months);
/* What that comes from: the last day whose day so many months on is `day` or earlier. The first one whose is
 * `day` or later follows the last one that reaches the day before. */
day_number day_last_reaching(day_number day, int months);

/* A length of time as a plan states it. Calendar months have no fixed number of days, so they are kept as
 * such: one of the two is 0. */
struct duration {
    int32_t days, months; /* 0 or more */
};

day_number day_after(day_number day, struct duration duration);
bool duration_any(struct duration duration); /* longer than nothing */
/* Bounds of its days, in whatever months and years it falls. */
int32_t duration_least_days(struct duration duration);
int32_t duration_most_days(struct duration duration);

/* "2027-04-17": a day that exists, within FIRST_YEAR..LAST_YEAR. False otherwise. */
bool date_of_text(struct text text, struct civil_date *date);

/* 1 to 12 for "Jan", "january", ... in any case of letters; 0 otherwise. The name or
 * its beginning, at least three letters ("Sept"). */
int month_of_text(struct text text);
/* MONDAY.. for "Mon", "monday", "Tues", "Mondays", ...; -1 otherwise. */
int weekday_of_text(struct text text);

const char *month_name(int month);          /* "January" */
const char *weekday_name(enum weekday day); /* "Monday" */

const char *day_text(struct arena *arena, day_number day); /* "2027-04-17" */

#endif
