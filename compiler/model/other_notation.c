/* Ways of writing that other texts have taught and this language does not know: "May 1st", "4/15". Each is
 * rewritten, and said only where the clause then fits. */
#include "compiler/model/form_match.h"
#include "compiler/model/saying.h"
#include "compiler/model/symbol.h"

#include <string.h>

/* A place within the statement and what to write there. */
struct rewriting {
    struct place place;
    const char *written;
};

/* Whether the habit is met with its first token at `at`; `way`: which of its readings is asked for. */
typedef bool habit(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting);

static struct text text_at(const struct matcher *matcher, uint32_t at)
{
    return token_text(&matcher->tree->tokens, at);
}

static const char *string_at(const struct matcher *matcher, uint32_t at)
{
    return text_string(matcher->model->arena, text_at(matcher, at));
}

static bool touch(const struct matcher *matcher, uint32_t at)
{
    const struct token *tokens = matcher->tree->tokens.items;
    return at + 1 < matcher->end && tokens[at].end == tokens[at + 1].start;
}

static int month_at(const struct matcher *matcher, uint32_t at)
{
    return match_kind(matcher, at) == TOKEN_WORD ? month_of_text(text_at(matcher, at)) : 0;
}

/* The year that a day without one falls in, as it is written before the month; "" where the season has none
 * or two. */
static const char *season_year(const struct matcher *matcher)
{
    const struct model *model = matcher->model;
    int first = model->has_season ? date_of_day(model->season_first).year : 0;
    bool one = first && first == date_of_day(model->season_last).year;
    return one ? text_format(model->arena, "%d-", first) : "";
}

/* ---- days ---- */

/* The ending of "1st" */
static bool at_ordinal(const struct matcher *matcher, uint32_t at)
{
    static const char *const endings[] = {"st", "nd", "rd", "th"};
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++)
        if (match_kind(matcher, at) == TOKEN_NUMBER && touch(matcher, at) &&
            match_word(matcher, at + 1, endings[i]))
            return true;
    return false;
}

/* "May 1st" */
static bool ordinal(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    (void)way;
    *rewriting = (struct rewriting){match_place(matcher, at, at + 1), ""};
    return at > matcher->first && at_ordinal(matcher, at - 1);
}

/* A day of a month in words, in either order, and a year behind it: "May 1, 2027", "1st May 2027". `way` 1:
 * without a year, where a date is wanted. */
static bool day_in_words(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
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
                                    text_format(matcher->model->arena, "%s%02d-%02d", year, month, (int)day)};
    return true;
}

/* "4/15": the month may come first (ways 0 and 2) or the day (1 and 3); with the season's year where a date
 * is wanted (2 and 3). */
static bool slash_day(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
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
                                            : text_format(arena, "%s%02d-%02d", year, (int)month, (int)day)};
    return true;
}

/* "Apr 10-30": two days of one month, where a window is wanted; behind `between` (way 1) the two are enough.
 */
static bool days_of_month(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    int month = month_at(matcher, at);
    double first = 0, last = 0;
    if (month && match_kind(matcher, at + 1) == TOKEN_RANGE)
        token_range(text_at(matcher, at + 1), &first, &last);
    if (!(first >= 1 && first < last && last <= 31))
        return false;
    const char *name = text_format(matcher->model->arena, "%.3s", month_name(month));
    *rewriting = (struct rewriting){match_place(matcher, at, at + 2),
                                    text_format(matcher->model->arena, "%s%s %d and %s %d",
                                                way ? "" : "between ", name, (int)first, name, (int)last)};
    return true;
}

enum { COMMON_YEAR = 2001 };

static const char *window_of(const struct matcher *matcher, int month, int first, int last)
{
    const char *name = text_format(matcher->model->arena, "%.3s", month_name(month));
    return text_format(matcher->model->arena, "between %s %d and %s %d", name, first, name, last);
}

/* "in April", "April": all of it. */
static bool whole_month(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    uint32_t word = at + (way == 0);
    int month = month_at(matcher, word);
    if ((way == 0 && !match_word(matcher, at, "in")) || !month ||
        match_kind(matcher, word + 1) == TOKEN_NUMBER)
        return false;
    *rewriting = (struct rewriting){match_place(matcher, at, word + 1),
                                    window_of(matcher, month, 1, days_in_month(COMMON_YEAR, month))};
    return true;
}

/* "mid-April", "early May": where the thirds of a month begin is for its author to say. */
static bool part_of_month(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
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
        int most = days_in_month(COMMON_YEAR, month);
        *rewriting = (struct rewriting){
            match_place(matcher, at, name.length ? at + 1 : next + 1),
            window_of(matcher, month, parts[i].first, parts[i].last < most ? parts[i].last : most)};
        return true;
    }
    return false;
}

/* "week of Apr 12": seven days from it, or those of the week it is in. */
static bool week_of(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    uint32_t word = at + 2;
    int month = month_at(matcher, word);
    (void)way;
    if (!match_word(matcher, at, "week") || !match_word(matcher, at + 1, "of") || !month ||
        match_kind(matcher, word + 1) != TOKEN_NUMBER)
        return false;
    double day = token_number(text_at(matcher, word + 1));
    if (!(day >= 1 && day + 6 <= days_in_month(COMMON_YEAR, month)))
        return false;
    *rewriting = (struct rewriting){match_place(matcher, at, word + 2),
                                    window_of(matcher, month, (int)day, (int)day + 6)};
    return true;
}

/* "between May 1 and May 20" where a rule says `from` and `to`. */
static bool between_and(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    uint32_t and = at + 1;
    (void)way;
    while (match_kind(matcher, and) != TOKEN_END && match_kind(matcher, and) != TOKEN_COMMA &&
           !match_word(matcher, and, "and"))
        and++;
    if (!match_word(matcher, at, "between") || !match_word(matcher, and, "and") || and == at + 1)
        return false;
    const char *first = text_string(matcher->model->arena, place_text(match_place(matcher, at + 1, and)));
    *rewriting = (struct rewriting){match_place(matcher, at, and+1),
                                    text_format(matcher->model->arena, "from %s to", first)};
    return true;
}

/* ---- amounts ---- */

/* "1 lb of N" */
static bool of_nutrient(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    (void)way;
    if (!match_word(matcher, at, "of") || match_kind(matcher, at + 1) != TOKEN_WORD ||
        !nutrient_find(text_at(matcher, at + 1)))
        return false;
    *rewriting = (struct rewriting){match_place(matcher, at, at + 2), string_at(matcher, at + 1)};
    return true;
}

/* "4 lb of feed per 1000 sqft": the area belongs to the amount. */
static bool product_first(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    struct arena *arena = matcher->model->arena;
    (void)way;
    if (!match_word(matcher, at, "of") ||
        !(match_word(matcher, at + 2, "per") || match_kind(matcher, at + 2) == TOKEN_SLASH))
        return false;
    uint32_t end = at + 2;
    while (match_kind(matcher, end) != TOKEN_END && match_kind(matcher, end) != TOKEN_COMMA)
        end++;
    const char *rate = text_string(arena, place_text(match_place(matcher, at + 2, end))),
               *product = text_string(arena, place_text(match_place(matcher, at, at + 2)));
    *rewriting =
        (struct rewriting){match_place(matcher, at, end), text_format(arena, "%s %s", rate, product)};
    return true;
}

/* "contains 5% Fe" */
static bool percent_first(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    (void)way;
    if (match_kind(matcher, at) != TOKEN_PERCENT || match_kind(matcher, at + 1) != TOKEN_WORD ||
        !nutrient_find(text_at(matcher, at + 1)))
        return false;
    *rewriting = (struct rewriting){
        match_place(matcher, at, at + 2),
        text_format(matcher->model->arena, "%s %s", string_at(matcher, at + 1), string_at(matcher, at))};
    return true;
}

/* "2k sqft" */
static bool thousands(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    (void)way;
    if (match_kind(matcher, at) != TOKEN_NUMBER || !touch(matcher, at) ||
        !(match_word(matcher, at + 1, "k") || match_word(matcher, at + 1, "K")))
        return false;
    *rewriting =
        (struct rewriting){match_place(matcher, at, at + 2),
                           number_text(matcher->model->arena, 1000 * token_number(text_at(matcher, at)), 9)};
    return true;
}

/* "16:4:8", "14 20 10", "16-4-8%", "N16-P4-K8" */
static bool grade_in_parts(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    struct buffer grade = {.arena = matcher->model->arena};
    uint32_t end = at;
    (void)way;
    if (match_kind(matcher, at) == TOKEN_GRADE) {
        *rewriting = (struct rewriting){match_place(matcher, at, at + 2), string_at(matcher, at)};
        return match_kind(matcher, at + 1) == TOKEN_MARK && text_is(text_at(matcher, at + 1), "%");
    }
    if (match_kind(matcher, at) == TOKEN_WORD) {
        const char *written = string_at(matcher, at);
        for (; *written; written++)
            if ((*written >= '0' && *written <= '9') || (*written == '-' && grade.length))
                buffer_format(&grade, "%c", *written);
            else if (!strchr("NnPpKk", *written))
                return false;
        *rewriting = (struct rewriting){match_place(matcher, at, at + 1), buffer_string(&grade)};
        return grade.length > 0;
    }
    int numbers = 0;
    for (bool number = true; numbers < 3; end++) {
        enum token_kind kind = match_kind(matcher, end);
        const char *written = string_at(matcher, end < matcher->end ? end : at);
        bool clock = kind == TOKEN_CLOCK && numbers < 2;
        number = kind == TOKEN_NUMBER && *written != '-' && !strchr(written, '/');
        if (number || clock) {
            buffer_add_string(&grade, numbers ? "-" : "");
            for (; *written; written++)
                buffer_format(&grade, "%c", *written == ':' ? '-' : *written);
            numbers += 1 + clock;
        } else if (kind != TOKEN_COLON || !numbers) {
            return false;
        }
    }
    *rewriting = (struct rewriting){match_place(matcher, at, end), buffer_string(&grade)};
    return true;
}

/* ---- names ---- */

/* "spring feed", where `spring-feed` is declared or (way 1) this declares it. */
static bool name_in_words(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    struct arena *arena = matcher->model->arena;
    if (match_kind(matcher, at) != TOKEN_WORD || match_kind(matcher, at + 1) != TOKEN_WORD)
        return false;
    const char *joined = text_format(arena, "%s-%s", string_at(matcher, at), string_at(matcher, at + 1));
    const struct form *form = form_find(matcher->block, text_at(matcher, matcher->first));
    *rewriting = (struct rewriting){match_place(matcher, at, at + 2), joined};
    return way ? at == matcher->first + 1 && form && form_declares(form)
               : symbol_is_known(matcher->model, text_of(joined));
}

/* "method Mehlich 3" */
static bool name_and_number(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    (void)way;
    if (at == matcher->first || !match_word(matcher, at - 1, "method") ||
        match_kind(matcher, at) != TOKEN_WORD || match_kind(matcher, at + 1) != TOKEN_NUMBER)
        return false;
    char *name = (char *)text_format(matcher->model->arena, "%s-%s", string_at(matcher, at),
                                     string_at(matcher, at + 1));
    for (char *letter = name; *letter; letter++)
        *letter = *letter >= 'A' && *letter <= 'Z' ? (char)(*letter - 'A' + 'a') : *letter;
    *rewriting = (struct rewriting){match_place(matcher, at, at + 2), name};
    return true;
}

/* `plan Smith lawn`: all that follows the first word is a text. */
static bool text_without_quotes(const struct matcher *matcher, uint32_t at, int way,
                                struct rewriting *rewriting)
{
    const struct failure *failure = &matcher->failure;
    bool text = failure->expected_count == 1 && text_is(failure->expected->words, "text between \" marks");
    uint32_t end = at;
    (void)way;
    while (match_kind(matcher, end) == TOKEN_WORD || match_kind(matcher, end) == TOKEN_NUMBER)
        end++;
    if (!text || at != matcher->first + 1 || end == at || match_kind(matcher, end) != TOKEN_END)
        return false;
    struct place place = match_place(matcher, at, end);
    *rewriting =
        (struct rewriting){place, text_format(matcher->model->arena, "\"%s\"",
                                              text_string(matcher->model->arena, place_text(place)))};
    return true;
}

/* "2 times every 6 weeks from Apr 12" */
static bool times_first(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    struct arena *arena = matcher->model->arena;
    uint32_t end = at + 2;
    (void)way;
    while (match_kind(matcher, end) != TOKEN_END && match_kind(matcher, end) != TOKEN_COMMA)
        end++;
    if (match_kind(matcher, at) != TOKEN_NUMBER || !match_word(matcher, at + 1, "times") || end == at + 2)
        return false;
    *rewriting = (struct rewriting){
        match_place(matcher, at, end),
        text_format(arena, "%s, %s times", text_string(arena, place_text(match_place(matcher, at + 2, end))),
                    string_at(matcher, at))};
    return true;
}

/* ---- the habits ---- */

/* Rows of one group are readings of the same text: where several fit, all are told. */
static const struct {
    habit *is_met;
    int way;
    int group;
    bool guess; /* something is added that nobody stated: a question, and no fix */
} habits[] = {
    {day_in_words, 0, 0, false},     {ordinal, 0, 1, false},        {day_in_words, 1, 15, false},
    {slash_day, 0, 2, false},        {slash_day, 1, 2, false},      {slash_day, 2, 14, false},
    {slash_day, 3, 14, false},       {days_of_month, 0, 3, false},  {days_of_month, 1, 3, false},
    {part_of_month, 0, 4, true},     {week_of, 0, 5, true},         {whole_month, 0, 6, false},
    {whole_month, 1, 6, true},       {between_and, 0, 7, false},    {product_first, 0, 8, false},
    {of_nutrient, 0, 9, false},      {percent_first, 0, 10, false}, {grade_in_parts, 0, 11, false},
    {name_in_words, 0, 12, false},   {name_in_words, 1, 13, false}, {thousands, 0, 16, false},
    {name_and_number, 0, 17, false}, {times_first, 0, 18, false},   {text_without_quotes, 0, 19, false},
};
enum { HABIT_COUNT = sizeof habits / sizeof *habits };

/* A habit or a saying wherever it is met from token `first` on, as one rewriting; false where it is not. */
struct search {
    const struct matcher *matcher;
    uint32_t first;
    size_t habit;                /* HABIT_COUNT: none, but */
    const struct saying *saying; /* this, */
    int reading;                 /* in this reading */
};

/* The end of the saying at `at`, token by token of what it is written as; 0 where it is not met. */
static uint32_t saying_end(const struct matcher *matcher, const struct saying *saying, uint32_t at)
{
    const char *word = saying->written;
    while (*word) {
        struct text wanted = {word, strcspn(word, " ")};
        if (match_kind(matcher, at) == TOKEN_END || match_kind(matcher, at) == TOKEN_STRING ||
            !text_equal(text_at(matcher, at), wanted))
            return 0;
        word += wanted.length + (word[wanted.length] == ' ');
        at++;
    }
    return at;
}

/* Either a habit of writing, found by its own function, or a saying with the words that it stands for. */
static bool is_met(const struct search *search, uint32_t at, struct rewriting *rewriting)
{
    const struct matcher *matcher = search->matcher;
    if (!search->saying)
        return habits[search->habit].is_met(matcher, at, habits[search->habit].way, rewriting);
    uint32_t end = saying_end(matcher, search->saying, at), rest = end;
    if (!end)
        return false;
    const char *instead = search->saying->readings[search->reading].instead,
               *behind = search->saying->readings[search->reading].behind;
    while (*behind && match_kind(matcher, rest) != TOKEN_END && match_kind(matcher, rest) != TOKEN_COMMA)
        rest++;
    struct place place = match_place(matcher, at, end), tail = {place.source, place.end, place.end};
    if (rest > end)
        tail.end = match_place(matcher, end, rest).end;
    const char *between = text_string(matcher->model->arena, place_text(tail));
    const char *bytes = (const char *)place.source->bytes;
    bool apart = place.start > 0 && !strchr(" \t\n({", bytes[place.start - 1]);
    place.end = tail.end;
    if (*instead == ',' && at > search->first)
        while (place.start > 0 && bytes[place.start - 1] == ' ')
            place.start--;
    if (!*instead && !apart && match_kind(matcher, rest) != TOKEN_END && bytes[place.end] == ' ')
        place.end++;
    *rewriting = (struct rewriting){place, text_format(matcher->model->arena, "%s%s%s%s",
                                                       apart && *instead && *instead != ',' ? " " : "",
                                                       instead, between, behind)};
    return true;
}

/* All places of one reading in a single rewriting, with what lies between them as it is. */
static bool rewrite(const struct search *search, struct rewriting *rewriting)
{
    struct rewriting next;
    bool met = false;
    for (uint32_t here = search->first; here < search->matcher->end; here++) {
        if (!is_met(search, here, &next) || (met && next.place.start < rewriting->place.end))
            continue;
        if (met) {
            struct place gap = {next.place.source, rewriting->place.end, next.place.start};
            const char *between = text_string(search->matcher->model->arena, place_text(gap));
            next.written = text_format(search->matcher->model->arena, "%s%s%s", rewriting->written, between,
                                       next.written);
            next.place.start = rewriting->place.start;
        }
        *rewriting = next;
        met = true;
    }
    return met;
}

/* Adds what the clause says by the rewriting, where it fits and ends behind the token where the clause
 * failed. */
static size_t add_reading(const struct search *search, struct text continued, uint32_t failed, bool guess,
                          struct meaning meant[MEANT_LIMIT], size_t count)
{
    const struct matcher *matcher = search->matcher;
    struct rewriting rewriting = {0};
    if (count == MEANT_LIMIT || !rewrite(search, &rewriting) ||
        rewriting.place.end < token_place(&matcher->tree->tokens, failed).start)
        return count;
    const char *clause = clause_with(matcher, search->first, continued, rewriting.place, rewriting.written);
    for (size_t i = 0; i < count && clause; i++)
        clause = strcmp(meant[i].clause, clause) == 0 ? NULL : clause;
    if (clause)
        meant[count++] = (struct meaning){rewriting.place, rewriting.written, clause, guess};
    return count;
}

/* `failed`: the token where the clause failed. */
static size_t readings_from(const struct matcher *matcher, uint32_t first, struct text continued,
                            uint32_t failed, struct meaning meant[MEANT_LIMIT])
{
    size_t count = 0;
    for (size_t i = 0; i < HABIT_COUNT; i++) {
        struct search search = {matcher, first, i, NULL, 0};
        count = add_reading(&search, continued, failed, habits[i].guess, meant, count);
        if (count && (i + 1 == HABIT_COUNT || habits[i + 1].group != habits[i].group))
            return count;
    }
    for (size_t i = 0; i < saying_count; i++) {
        if (sayings[i].block != BLOCK_NONE && sayings[i].block != matcher->block)
            continue;
        for (int reading = 0; reading < SAYING_READINGS && sayings[i].readings[reading].instead; reading++) {
            struct search search = {matcher, first, HABIT_COUNT, &sayings[i], reading};
            count = add_reading(&search, continued, failed, sayings[i].guess, meant, count);
        }
        if (count)
            return count;
    }
    return 0;
}

/* A comma may have broken in two what belongs together, so the statement's beginning is tried as well. */
size_t clause_by_habit(const struct matcher *matcher, uint32_t at, struct text continued,
                       struct meaning meant[MEANT_LIMIT])
{
    size_t count = readings_from(matcher, at, continued, at, meant);
    if (!count && at > matcher->first)
        count = readings_from(matcher, matcher->first, (struct text){0}, at, meant);
    return count;
}

/* "4 lb per 1000 sqft of feed": the only first word with which it is a statement here. */
bool clause_by_head(const struct matcher *matcher, uint32_t at, struct meaning *meant)
{
    struct place place = token_place(&matcher->tree->tokens, at);
    struct text before = {0};
    struct matcher plain = *matcher;
    plain.plain = true;
    place.end = place.start;
    size_t count = 0;
    for (const struct form *form = form_first(matcher->block); form; form = form_next(form)) {
        struct text head = form_head(form);
        if (text_equal(head, before))
            continue;
        before = head;
        const char *written = text_format(matcher->model->arena, "%.*s ", (int)head.length, head.start);
        const char *clause = clause_with(&plain, at, (struct text){0}, place, written);
        if (clause && ++count == 1)
            *meant = (struct meaning){place, written, clause, false};
    }
    return count == 1;
}
