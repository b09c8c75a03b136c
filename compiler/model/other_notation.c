/* Ways of writing that other texts have taught and this language does not know: "May 1st", "40 x 20 ft". Each
 * is rewritten, and said only where the clause then fits. */
#include "compiler/model/form_match.h"

#include <string.h>

/* A place within the statement and what to write there. */
struct rewriting {
    struct place place;
    const char *written;
};

/* Whether the habit is met with its first token at `at`. */
typedef bool habit(const struct matcher *matcher, uint32_t at, struct rewriting *rewriting);

static struct text text_at(const struct matcher *matcher, uint32_t at)
{
    return token_text(&matcher->tree->tokens, at);
}

static bool adjacent(const struct matcher *matcher, uint32_t at)
{
    const struct token *tokens = matcher->tree->tokens.items;
    return tokens[at].end == tokens[at + 1].start;
}

static bool at_ordinal(const struct matcher *matcher, uint32_t at)
{
    static const char *const endings[] = {"st", "nd", "rd", "th"};
    if (match_kind(matcher, at) != TOKEN_NUMBER || at + 1 >= matcher->end || !adjacent(matcher, at))
        return false;
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++)
        if (match_word(matcher, at + 1, endings[i]))
            return true;
    return false;
}

/* "May 1st" */
static bool ordinal(const struct matcher *matcher, uint32_t at, struct rewriting *rewriting)
{
    if (!at_ordinal(matcher, at))
        return false;
    *rewriting = (struct rewriting){token_place(&matcher->tree->tokens, at + 1), ""};
    return true;
}

/* "May 1, 2027", "May 1st, 2027", "1 May 2027": the day of a month at `at`, and what follows it. */
static bool at_day(const struct matcher *matcher, uint32_t at, int *month, double *day, uint32_t *next)
{
    bool month_first = match_kind(matcher, at) == TOKEN_WORD;
    uint32_t word = month_first ? at : at + 1, number = month_first ? at + 1 : at;
    if (match_kind(matcher, word) != TOKEN_WORD || match_kind(matcher, number) != TOKEN_NUMBER)
        return false;
    *month = month_of_text(text_at(matcher, word));
    *day = token_number(text_at(matcher, number));
    *next = at + 2 + (month_first && at_ordinal(matcher, number));
    return *month && *day >= 1 && *day <= 31;
}

static bool year_last(const struct matcher *matcher, uint32_t at, struct rewriting *rewriting)
{
    int month;
    double day;
    uint32_t year;
    if (!at_day(matcher, at, &month, &day, &year))
        return false;
    year += match_kind(matcher, year) == TOKEN_COMMA;
    if (match_kind(matcher, year) != TOKEN_NUMBER || text_at(matcher, year).length != 4)
        return false;
    *rewriting = (struct rewriting){match_place(matcher, at, year + 1),
                                    text_format(matcher->model->arena, "%.*s-%02d-%02d", 4,
                                                text_at(matcher, year).start, month, (int)day)};
    return true;
}

/* "from May 1 to May 20" */
static bool from_to(const struct matcher *matcher, uint32_t at, struct rewriting *rewriting)
{
    uint32_t to = at + 1;
    while (match_kind(matcher, to) != TOKEN_END && match_kind(matcher, to) != TOKEN_COMMA &&
           !match_word(matcher, to, "to"))
        to++;
    if (!match_word(matcher, at, "from") || !match_word(matcher, to, "to") || to == at + 1)
        return false;
    struct text first = place_text(match_place(matcher, at + 1, to));
    *rewriting = (struct rewriting){
        match_place(matcher, at, to + 1),
        text_format(matcher->model->arena, "between %.*s and", (int)first.length, first.start)};
    return true;
}

/* "1 lb of N" */
static bool of_nutrient(const struct matcher *matcher, uint32_t at, struct rewriting *rewriting)
{
    if (!match_word(matcher, at, "of") || match_kind(matcher, at + 1) != TOKEN_WORD ||
        !nutrient_find(text_at(matcher, at + 1)))
        return false;
    *rewriting = (struct rewriting){match_place(matcher, at, at + 2),
                                    text_string(matcher->model->arena, text_at(matcher, at + 1))};
    return true;
}

/* Two lengths of which the last has a unit: "40 x 20 ft", "40 ft x 20 ft", "40 ft by 20 ft". */
struct two_lengths {
    uint32_t between;  /* token of "x" or "by" */
    struct text unit;  /* of the last */
    bool has_own_unit; /* the first */
};

static bool at_two_lengths(const struct matcher *matcher, uint32_t at, struct two_lengths *lengths)
{
    bool own = match_kind(matcher, at + 1) == TOKEN_WORD && match_kind(matcher, at + 2) == TOKEN_WORD;
    uint32_t between = at + 1 + own;
    if (match_kind(matcher, at) != TOKEN_NUMBER ||
        !(match_word(matcher, between, "x") || match_word(matcher, between, "by")) ||
        match_kind(matcher, between + 1) != TOKEN_NUMBER || match_kind(matcher, between + 2) != TOKEN_WORD)
        return false;
    *lengths = (struct two_lengths){between, text_at(matcher, between + 2), own};
    return true;
}

/* "40 x 20 ft": the unit behind the second number is the first one's too. */
static bool crossed(const struct matcher *matcher, uint32_t at, struct rewriting *rewriting)
{
    struct two_lengths lengths;
    if (!at_two_lengths(matcher, at, &lengths))
        return false;
    const char *by = lengths.has_own_unit ? "by"
                                          : text_format(matcher->model->arena, "%.*s by",
                                                        (int)lengths.unit.length, lengths.unit.start);
    *rewriting = (struct rewriting){token_place(&matcher->tree->tokens, lengths.between), by};
    return true;
}

/* The same without a shape: two sides and nothing more are mostly a rectangle's, but an ellipse or a triangle
 * has two as well. */
static bool bare_rectangle(const struct matcher *matcher, uint32_t at, struct rewriting *rewriting)
{
    struct two_lengths lengths;
    if (!at_two_lengths(matcher, at, &lengths))
        return false;
    struct text number = text_at(matcher, at),
                unit = lengths.has_own_unit ? text_at(matcher, at + 1) : lengths.unit;
    *rewriting =
        (struct rewriting){match_place(matcher, at, lengths.between + 1),
                           text_format(matcher->model->arena, "rectangle %.*s %.*s by", (int)number.length,
                                       number.start, (int)unit.length, unit.start)};
    return true;
}

/* "per thousand sqft" */
static bool thousand(const struct matcher *matcher, uint32_t at, struct rewriting *rewriting)
{
    if (!match_word(matcher, at, "per") || !match_word(matcher, at + 1, "thousand"))
        return false;
    *rewriting = (struct rewriting){token_place(&matcher->tree->tokens, at + 1), "1000"};
    return true;
}

/* "4 lb of feed per 1000 sqft": the area belongs to the amount. */
static bool product_first(const struct matcher *matcher, uint32_t at, struct rewriting *rewriting)
{
    if (!match_word(matcher, at, "of") || !match_word(matcher, at + 2, "per"))
        return false;
    uint32_t end = at + 2;
    while (match_kind(matcher, end) != TOKEN_END && match_kind(matcher, end) != TOKEN_COMMA)
        end++;
    struct text rate = place_text(match_place(matcher, at + 2, end)),
                product = place_text(match_place(matcher, at, at + 2));
    *rewriting = (struct rewriting){match_place(matcher, at, end),
                                    text_format(matcher->model->arena, "%.*s %.*s", (int)rate.length,
                                                rate.start, (int)product.length, product.start)};
    return true;
}

/* A rate is of a product, a supply of a nutrient. */
static bool supply_as_rate(const struct matcher *matcher, uint32_t at, struct rewriting *rewriting)
{
    bool rate = match_word(matcher, at, "rate");
    if (!rate && !match_word(matcher, at, "supply"))
        return false;
    *rewriting = (struct rewriting){token_place(&matcher->tree->tokens, at), rate ? "supply" : "rate"};
    return true;
}

static habit *const habits[] = {year_last,     ordinal,        crossed, bare_rectangle, thousand,
                                product_first, supply_as_rate, from_to, of_nutrient};

/* The habit wherever it is met from token `first` on, as one rewriting; false where it is not. */
static bool rewrite(const struct matcher *matcher, habit *is_met, uint32_t first, struct rewriting *rewriting)
{
    struct arena *arena = matcher->model->arena;
    struct rewriting next;
    bool met = false;
    for (uint32_t here = first; here < matcher->end; here++) {
        if (!is_met(matcher, here, &next) || (met && next.place.start < rewriting->place.end))
            continue;
        if (met) {
            struct text between =
                place_text((struct place){next.place.source, rewriting->place.end, next.place.start});
            next.written = text_format(arena, "%s%.*s%s", rewriting->written, (int)between.length,
                                       between.start, next.written);
            next.place.start = rewriting->place.start;
        }
        *rewriting = next;
        met = true;
    }
    return met;
}

/* `failed`: the token where the clause failed. One from `first` on that ends before it mends nothing. */
static bool habit_from(const struct matcher *matcher, uint32_t first, struct text continued, uint32_t failed,
                       struct meaning *meant)
{
    struct rewriting rewriting = {0};
    for (size_t i = 0; i < sizeof habits / sizeof *habits; i++) {
        if (!rewrite(matcher, habits[i], first, &rewriting) ||
            rewriting.place.end < token_place(&matcher->tree->tokens, failed).start)
            continue;
        const char *clause = clause_with(matcher, first, continued, rewriting.place, rewriting.written);
        *meant = (struct meaning){rewriting.place, rewriting.written, clause, habits[i] == bare_rectangle};
        if (clause)
            return true;
    }
    return false;
}

/* A comma may have broken in two what belongs together, so the statement's beginning is tried as well. */
bool clause_by_habit(const struct matcher *matcher, uint32_t at, struct text continued, struct meaning *meant)
{
    return habit_from(matcher, at, continued, at, meant) ||
           (at > matcher->first && habit_from(matcher, matcher->first, (struct text){0}, at, meant));
}

/* "4 lb per 1000 sqft of feed": the only first word with which it is a statement here. */
bool clause_by_head(const struct matcher *matcher, uint32_t at, struct meaning *meant)
{
    struct place place = token_place(&matcher->tree->tokens, at);
    struct text before = {0};
    place.end = place.start;
    size_t count = 0;
    for (const struct form *form = form_first(matcher->block); form; form = form_next(form)) {
        struct text head = form_head(form);
        if (text_equal(head, before))
            continue;
        before = head;
        const char *written = text_format(matcher->model->arena, "%.*s ", (int)head.length, head.start);
        const char *clause = clause_with(matcher, at, (struct text){0}, place, written);
        if (clause && ++count == 1)
            *meant = (struct meaning){place, written, clause, false};
    }
    return count == 1;
}
