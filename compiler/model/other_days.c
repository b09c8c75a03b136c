/* Days and windows as other texts write them. */
#include "compiler/model/other_days.h"

#include <string.h>

/* The year that a day without one falls in, as it is written before the month; "" where the season has none
 * or two. */
static const char *season_year(const struct matcher *matcher)
{
    const struct model *model = matcher->model;
    int first = model->has_season ? date_of_day(model->season_first).year : 0;
    bool one = first && first == date_of_day(model->season_last).year;
    return one ? text_format(model->arena, "%d-", first) : "";
}

enum { COMMON_YEAR = 2001 };

/* The 29th where the first such month to end in the season is a February that has one: in any other a window
 * cannot end there, or ends in a later year. */
static int last_of_month(const struct matcher *matcher, int month)
{
    const struct model *model = matcher->model;
    if (!model->has_season)
        return days_in_month(COMMON_YEAR, month);
    struct civil_date begins = date_of_day(model->season_first);
    int year = begins.month > month ? begins.year + 1 : begins.year;
    day_number last = day_of_date((struct civil_date){year, month, days_in_month(year, month)});
    return days_in_month(last <= model->season_last ? year : COMMON_YEAR, month);
}

bool nearly_at(const struct matcher *matcher, uint32_t at)
{
    static const char *const words[] = {"about", "approx", "approximately", "around", "circa", "roughly"};
    bool nearly = false;
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        nearly = nearly || match_word(matcher, at, words[i]);
    return nearly;
}

/* A window of every year, without its first word where `between` is "". */
static const char *window_of(const struct matcher *matcher, const char *between, int first_month, int first,
                             int last_month, int last)
{
    struct arena *arena = matcher->model->arena;
    return text_format(arena, "%s%s and %s", between,
                       text_format(arena, "%.3s %d", month_name(first_month), first),
                       text_format(arena, "%.3s %d", month_name(last_month), last));
}

/* ---- days ---- */

/* Whether the number at `at` has the ending of "1st". */
static bool at_ordinal(const struct matcher *matcher, uint32_t at)
{
    static const char *const endings[] = {"st", "nd", "rd", "th"};
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++)
        if (match_kind(matcher, at) == TOKEN_NUMBER && touch(matcher, at) &&
            match_word(matcher, at + 1, endings[i]))
            return true;
    return false;
}

/* "May 1st", "the 1st of May" */
bool ordinal(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    uint32_t number = at + match_word(matcher, at, "the"), end = number + 2;
    (void)way;
    if (!at_ordinal(matcher, number))
        return false;
    end += match_word(matcher, end, "of");
    *rewriting = (struct rewriting){match_place(matcher, at, end), string_at(matcher, number), NULL, NULL};
    return true;
}

/* A day of a month in words, in either order, and a year behind it: "May 1, 2027", "1st May 2027". `way` 1:
 * without a year, where a date is wanted. */
bool day_in_words(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    bool month_first = month_at(matcher, at) != 0;
    uint32_t number = month_first ? at + 1 : at;
    bool ordinal_day = at_ordinal(matcher, number);
    uint32_t word = month_first ? at : number + 1 + ordinal_day;
    uint32_t next = month_first ? number + 1 + ordinal_day : word + 1;
    int month = month_at(matcher, word);
    double day = match_kind(matcher, number) == TOKEN_NUMBER ? token_number(text_at(matcher, number)) : 0;
    const char *year = season_year(matcher);
    if (!way) {
        next += match_kind(matcher, next) == TOKEN_COMMA;
        if (match_kind(matcher, next) != TOKEN_NUMBER || text_at(matcher, next).length != 4)
            return false;
        year = text_format(matcher->model->arena, "%s-", string_at(matcher, next++));
    }
    if (!month || !(day >= 1 && day <= 31) || !*year)
        return false;
    *rewriting = (struct rewriting){match_place(matcher, at, next),
                                    text_format(matcher->model->arena, "%s%02d-%02d", year, month, (int)day),
                                    NULL, NULL};
    return true;
}

/* "4/15": the month may come first (ways 0 and 2) or the day (1 and 3); with the season's year where a date
 * is wanted (2 and 3). */
bool slash_day(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    struct arena *arena = matcher->model->arena;
    const char *written = match_kind(matcher, at) == TOKEN_NUMBER ? string_at(matcher, at) : "";
    const char *slash = strchr(written, '/'), *year = way < 2 ? "" : season_year(matcher);
    if (!slash || strchr(written, ' ') || (way >= 2 && !*year))
        return false;
    double one = token_number((struct text){written, (size_t)(slash - written)}),
           two = token_number(text_of(slash + 1));
    double month = way % 2 ? two : one, day = way % 2 ? one : two;
    if (!(month >= 1 && month <= 12 && day >= 1 && day <= 31))
        return false;
    *rewriting = (struct rewriting){token_place(&matcher->tree->tokens, at),
                                    way < 2 ? text_format(arena, "%.3s %d", month_name((int)month), (int)day)
                                            : text_format(arena, "%s%02d-%02d", year, (int)month, (int)day),
                                    NULL, NULL};
    return true;
}

/* "Apr 10-30": two days of one month, where a window is needed; behind `between` (way 1) they are enough. */
bool days_of_month(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    int month = month_at(matcher, at);
    double first = 0, last = 0;
    if (month && match_kind(matcher, at + 1) == TOKEN_RANGE)
        token_range(text_at(matcher, at + 1), &first, &last);
    if (!(first >= 1 && first < last && last <= 31))
        return false;
    *rewriting = (struct rewriting){
        match_place(matcher, at, at + 2),
        window_of(matcher, way ? "" : "between ", month, (int)first, month, (int)last), NULL, NULL};
    return true;
}

/* "in April", "April": all of it. */
bool whole_month(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    uint32_t word = at + (way == 0);
    int month = month_at(matcher, word);
    if ((way == 0 && !match_word(matcher, at, "in")) || !month ||
        match_kind(matcher, word + 1) == TOKEN_NUMBER)
        return false;
    *rewriting =
        (struct rewriting){match_place(matcher, at, word + 1),
                           window_of(matcher, "between ", month, 1, month, last_of_month(matcher, month)),
                           way ? "is not a day" : NULL, NULL};
    return true;
}

/* "mid-April", "early May": where the thirds of a month begin is for its author to say. */
bool part_of_month(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    static const struct {
        const char *word;
        int first, last;
    } parts[] = {{"early", 1, 10}, {"mid", 11, 20}, {"middle", 11, 20}, {"late", 21, 31}, {"end", 21, 31}};
    struct text word = text_at(matcher, at), name = {0};
    (void)way;
    for (size_t i = 0; i < sizeof parts / sizeof *parts && match_kind(matcher, at) == TOKEN_WORD; i++) {
        size_t length = strlen(parts[i].word);
        uint32_t next = at + 1 + (match_word(matcher, at + 1, "of"));
        if (word.length < length ||
            text_distance((struct text){word.start, length}, text_of(parts[i].word)) > 0)
            continue;
        if (word.length > length + 1 && word.start[length] == '-')
            name = (struct text){word.start + length + 1, word.length - length - 1};
        int month = name.length ? month_of_text(name) : word.length == length ? month_at(matcher, next) : 0;
        if (!month)
            continue;
        int most = last_of_month(matcher, month);
        *rewriting = (struct rewriting){match_place(matcher, at, name.length ? at + 1 : next + 1),
                                        window_of(matcher, "between ", month, parts[i].first, month,
                                                  parts[i].last < most ? parts[i].last : most),
                                        "does not say which days", NULL};
        return true;
    }
    return false;
}

/* "the first week of May": the first seven days, and so on. */
bool week_of_month(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    static const char *const counts[] = {"first", "second", "third", "fourth"};
    uint32_t count = at + match_word(matcher, at, "in");
    count += match_word(matcher, count, "the");
    bool number = at_ordinal(matcher, count);
    double week = number ? token_number(text_at(matcher, count)) : 0;
    (void)way;
    for (int i = 0; i < 4; i++)
        week = match_word(matcher, count, counts[i]) ? i + 1 : week;
    uint32_t word = count + 1 + number, month_word = word + 1 + match_word(matcher, word + 1, "of");
    int month = month_at(matcher, month_word);
    int most = month ? last_of_month(matcher, month) : 0;
    bool last = match_word(matcher, count, "last");
    if (!month || !match_word(matcher, word, "week") || !(last || (week >= 1 && week <= 4)))
        return false;
    int first = last ? most - 6 : 7 * (int)week - 6;
    *rewriting = (struct rewriting){match_place(matcher, at, month_word + 1),
                                    window_of(matcher, "between ", month, first, month, first + 6),
                                    "does not say which days", NULL};
    return true;
}

/* The first of these says which week, and not on which day it begins; the others do. */
static const char *const weeks[][3] = {
    {"week", "of"},  {"wk", "of"}, {"week", "commencing"}, {"week", "beginning"}, {"week", "starting"},
    {"w", "/", "c"}, {"wc"}};

/* "week of Apr 12": seven days from it, or those of the week it is in; "w/c Apr 12" begins there. `way` 1:
 * "about Apr 12", which is as many days before and behind it. */
bool week_of(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    bool begins = false; /* on the day that is named */
    uint32_t word = at;  /* behind those words */
    for (size_t i = 0; i < sizeof weeks / sizeof *weeks && !way && word == at; i++) {
        uint32_t count = 0;
        while (count < 3 && weeks[i][count] && match_kind(matcher, at + count) != TOKEN_END &&
               text_is(text_at(matcher, at + count), weeks[i][count]))
            count++;
        begins = !weeks[i][1] || strcmp(weeks[i][1], "of") != 0;
        if (count == 3 || !weeks[i][count])
            word = at + count;
    }
    word += way && nearly_at(matcher, at);
    bool month_first = month_at(matcher, word) != 0;
    uint32_t number = month_first ? word + 1 : word;
    uint32_t next = number + 1 + at_ordinal(matcher, number);
    int month = month_at(matcher, month_first ? word : next);
    if (word == at || !month || match_kind(matcher, number) != TOKEN_NUMBER)
        return false;
    double number_of_day = token_number(text_at(matcher, number));
    if (!(number_of_day >= 1 && number_of_day <= days_in_month(COMMON_YEAR, month)))
        return false;
    day_number day = day_of_date((struct civil_date){COMMON_YEAR, month, (int)number_of_day});
    struct civil_date first = date_of_day(way ? day - 3 : day), last = date_of_day(way ? day + 3 : day + 6);
    *rewriting =
        (struct rewriting){match_place(matcher, at, month_first ? next : next + 1),
                           window_of(matcher, "between ", first.month, first.day, last.month, last.day),
                           way      ? "does not say which days"
                           : begins ? NULL
                                    : "does not say on which day the week begins",
                           NULL};
    return true;
}

/* "April-May", "April to May": from the first day of one to the last of the other. */
bool month_to_month(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    (void)way;
    if (match_kind(matcher, at) != TOKEN_WORD)
        return false;
    struct text word = text_at(matcher, at);
    size_t hyphen = 0;
    while (hyphen < word.length && word.start[hyphen] != '-')
        hyphen++;
    int first = month_of_text((struct text){word.start, hyphen}), last = 0;
    uint32_t end = at + 1;
    if (hyphen + 1 < word.length) {
        last = month_of_text((struct text){word.start + hyphen + 1, word.length - hyphen - 1});
    } else if (match_word(matcher, end, "to") || match_word(matcher, end, "and") ||
               match_word(matcher, end, "through") || match_kind(matcher, end) == TOKEN_MARK) {
        last = month_at(matcher, end + 1);
        end += 2;
    }
    if (!first || !last || match_kind(matcher, end) == TOKEN_NUMBER)
        return false;
    bool between = at > matcher->first &&
                   (match_word(matcher, at - 1, "between") || match_word(matcher, at - 1, "from"));
    *rewriting = (struct rewriting){
        match_place(matcher, at, end),
        window_of(matcher, between ? "" : "between ", first, 1, last, last_of_month(matcher, last)), NULL,
        NULL};
    return true;
}

/* "2027" where two dates are wanted: from its first day to its last. */
bool whole_year(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    (void)way;
    double year = match_kind(matcher, at) == TOKEN_NUMBER && text_at(matcher, at).length == 4
                      ? token_number(text_at(matcher, at))
                      : 0;
    if (!(year >= FIRST_YEAR && year <= LAST_YEAR))
        return false;
    *rewriting = (struct rewriting){
        match_place(matcher, at, at + 1),
        text_format(matcher->model->arena, "%d-01-01 to %d-12-31", (int)year, (int)year), NULL, NULL};
    return true;
}

/* "not on Sunday", "never on Sat": the other days are stated, since those alone can be. */
bool other_weekdays(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    static const char *const shut[] = {"not", "never", "no", "except", "nothing"};
    bool open[7] = {true, true, true, true, true, true, true}, found = false;
    (void)way;
    for (size_t i = 0; i < sizeof shut / sizeof *shut && !found; i++)
        found = match_word(matcher, at, shut[i]);
    if (!found)
        return false;
    uint32_t end = at + 1;
    while (match_word(matcher, end, "on") || match_word(matcher, end, "a") ||
           match_word(matcher, end, "work"))
        end++;
    found = false;
    for (;; end++) {
        struct text word =
            match_kind(matcher, end) == TOKEN_WORD ? text_at(matcher, end) : (struct text){"", 0};
        size_t plural = word.length > 4 && word.start[word.length - 1] == 's';
        int weekday = weekday_of_text((struct text){word.start, word.length - plural});
        if (weekday >= 0)
            open[weekday] = false;
        else if (!found || !(text_is(word, "or") || text_is(word, "and")))
            break;
        found = true;
    }
    struct buffer days = {.arena = matcher->model->arena};
    for (int i = 0; i < 7; i++)
        if (open[i])
            buffer_format(&days, "%s%.3s", days.length ? ", " : "only on ", weekday_name((enum weekday)i));
    *rewriting = (struct rewriting){match_place(matcher, at, end), buffer_string(&days), NULL, NULL};
    return found && days.length;
}
