/* Ways of writing that other texts have taught and this language does not know: "May 1st", "4/15". Each is
 * rewritten, and said only where the clause then fits. */
#include "compiler/model/other_days.h"
#include "compiler/model/read.h"
#include "compiler/model/saying.h"
#include "compiler/model/symbol.h"

#include <string.h>

/* ---- amounts ---- */

/* "1 lb of N"; `way` 1: "contains 5% Fe", "contains 5% iron", whose percentage comes behind it. */
static bool nutrient_behind(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    bool before = way ? match_kind(matcher, at) == TOKEN_PERCENT : match_word(matcher, at, "of");
    const char *symbol = before ? nutrient_symbol(matcher, at + 1) : NULL;
    if (!symbol)
        return false;
    const char *written =
        way ? text_format(matcher->model->arena, "%s %s", symbol, string_at(matcher, at)) : symbol;
    *rewriting = (struct rewriting){match_place(matcher, at, at + 2), written, NULL, NULL};
    return true;
}

/* "product feed at 4 lb per 1000 sqft": the rate comes first here, and the product behind it. */
static bool product_then_rate(const struct matcher *matcher, uint32_t at, int way,
                              struct rewriting *rewriting)
{
    static const char *const verbs[] = {"feed",   "put",   "down", "use",     "apply",
                                        "spread", "spray", "with", "product", "rate"}; /* in their order */
    struct arena *arena = matcher->model->arena;
    uint32_t product = at, rate, end;
    (void)way;
    for (size_t i = 0; i < sizeof verbs / sizeof *verbs; i++)
        product += match_word(matcher, product, verbs[i]);
    if (matcher->block != BLOCK_APPLY || match_kind(matcher, product) != TOKEN_WORD ||
        (at > matcher->first && match_kind(matcher, at - 1) != TOKEN_COMMA))
        return false;
    rate = product + 1 + (match_kind(matcher, product + 1) == TOKEN_COMMA);
    while (match_word(matcher, rate, "at") || match_word(matcher, rate, "rate") ||
           match_word(matcher, rate, "of"))
        rate++;
    for (end = rate; match_kind(matcher, end) != TOKEN_END && match_kind(matcher, end) != TOKEN_COMMA;)
        end++;
    if (match_kind(matcher, rate) != TOKEN_NUMBER)
        return false;
    const char *amount = text_string(arena, place_text(match_place(matcher, rate, end)));
    *rewriting = (struct rewriting){match_place(matcher, at, end),
                                    text_format(arena, "rate %s of %s", amount, string_at(matcher, product)),
                                    NULL, NULL};
    return true;
}

/* "2k sqft"; `way` 1: "2k", "12.5M", of square feet; 2: of square metres, where a plan has those. */
static bool thousands(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    bool thousand = match_word(matcher, at + 1, "k") || match_word(matcher, at + 1, "K") ||
                    (way && match_word(matcher, at + 1, "M"));
    if (match_kind(matcher, at) != TOKEN_NUMBER || !touch(matcher, at) || !thousand ||
        (way == 2 && !matcher->model->metric))
        return false;
    static const char *const units[] = {"", " sqft", " m2"};
    const char *number = number_text(matcher->model->arena, 1000 * token_number(text_at(matcher, at)), 9);
    *rewriting =
        (struct rewriting){match_place(matcher, at, at + 2),
                           text_format(matcher->model->arena, "%s%s", number, units[way]), NULL, NULL};
    return true;
}

/* "16:4:8", "14 20 10", "16-4-8%", "N16-P4-K8" */
static bool grade_in_parts(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    struct buffer grade = {.arena = matcher->model->arena};
    uint32_t end = at;
    (void)way;
    if (match_kind(matcher, at) == TOKEN_GRADE) {
        *rewriting = (struct rewriting){match_place(matcher, at, at + 2), string_at(matcher, at), NULL, NULL};
        return match_kind(matcher, at + 1) == TOKEN_MARK && text_is(text_at(matcher, at + 1), "%");
    }
    if (match_kind(matcher, at) == TOKEN_WORD) {
        /* Letters in another order than the grade's would put the numbers in the wrong places. */
        static const char letters[] = "NnPpKk";
        const char *written = string_at(matcher, at), *last = NULL;
        for (; *written; written++) {
            const char *letter = strchr(letters, *written);
            if ((*written >= '0' && *written <= '9') || (*written == '-' && grade.length))
                buffer_format(&grade, "%c", *written);
            else if (!letter || (last && letter <= last))
                return false;
            else
                last = letter;
        }
        *rewriting = (struct rewriting){match_place(matcher, at, at + 1), buffer_string(&grade), NULL, NULL};
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
    *rewriting = (struct rewriting){match_place(matcher, at, end), buffer_string(&grade), NULL, NULL};
    return true;
}

/* ---- names ---- */

/* "spring feed", where `spring-feed` is declared or (way 1) this declares it. */
static bool name_in_words(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    struct arena *arena = matcher->model->arena;
    if (match_kind(matcher, at) != TOKEN_WORD || match_kind(matcher, at + 1) != TOKEN_WORD ||
        nearly_at(matcher, at + 1))
        return false;
    struct text second = text_at(matcher, at + 1);
    for (size_t i = 0; i < matcher->failure.expected_count;
         i++) /* `zone north are 5 sqft`: a word misspelt */
        if (matcher->failure.expected[i].quoted &&
            text_distance(second, matcher->failure.expected[i].words) <= second.length / 3)
            return false;
    const char *joined = text_format(arena, "%s-%s", string_at(matcher, at), string_at(matcher, at + 1));
    const struct form *form = form_find(matcher->block, text_at(matcher, matcher->first));
    *rewriting = (struct rewriting){match_place(matcher, at, at + 2), joined, NULL, NULL};
    /* A form that came further has read the second word, which is not part of the name. */
    if (way)
        return at == matcher->first + 1 && form && form_declares(form) && matcher->failure.token <= at + 1;
    const struct name *name = name_intern(matcher->model->names, text_of(joined));
    bool known = false;
    for (int kind = 0; kind < SYMBOL_KIND_COUNT; kind++)
        known = known || symbol_look(matcher->model, (enum symbol_kind)kind, name);
    return known;
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
    *rewriting = (struct rewriting){match_place(matcher, at, at + 2), name, NULL, NULL};
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
    *rewriting = (struct rewriting){
        place,
        text_format(matcher->model->arena, "\"%s\"", text_string(matcher->model->arena, place_text(place))),
        NULL, NULL};
    return true;
}

/* ---- the notations ---- */

/* Rows of one group are readings of the same text: where several fit, all are shown. */
static const struct {
    notation *is_met;
    int way;
    int group;
} notations[] = {
    {day_in_words, 0, 0},
    {ordinal, 0, 1},
    {day_in_words, 1, 15},
    {slash_day, 0, 2},
    {slash_day, 1, 2},
    {slash_day, 2, 14},
    {slash_day, 3, 14},
    {days_of_month, 0, 3},
    {days_of_month, 1, 3},
    {part_of_month, 0, 4},
    {week_of, 0, 5},
    {week_of_month, 0, 26},
    {week_of, 1, 22},
    {whole_month, 0, 6},
    {whole_month, 1, 6},
    {month_to_month, 0, 25},
    {whole_year, 0, 7},
    {other_weekdays, 0, 8},
    {nutrient_behind, 0, 9},
    {nutrient_behind, 1, 10},
    {grade_in_parts, 0, 11},
    {name_in_words, 0, 12},
    {name_in_words, 1, 13},
    {thousands, 0, 16},
    {thousands, 1, 24},
    {thousands, 2, 24},
    {name_and_number, 0, 17},
    {bags, 0, 20},
    {covers, 0, 21},
    {text_without_quotes, 0, 19},
    {product_then_rate, 0, 23},
};
enum { NOTATION_COUNT = sizeof notations / sizeof *notations };

/* A notation or a saying wherever it is met from token `first` on, as one rewriting; false without one. */
struct search {
    const struct matcher *matcher;
    uint32_t first;
    size_t notation;             /* NOTATION_COUNT: none, but */
    const struct saying *saying; /* this, */
    bool other;                  /* in its other reading */
    bool two;                    /* with one more slip behind it */
};

/* What the marks of a saying stood for. */
struct blanks {
    struct place number, word, rest;
};

/* The end of the saying at `first`, token by token of what it is written as; 0 where it is not met. */
static uint32_t saying_end(const struct matcher *matcher, const struct saying *saying, uint32_t first,
                           struct blanks *blanks)
{
    uint32_t at = first;
    for (const char *word = saying->written; *word && *word != '|';) {
        struct text wanted = {word, strcspn(word, " ")};
        word += wanted.length + (word[wanted.length] == ' ');
        enum token_kind kind = match_kind(matcher, at);
        struct place place = token_place(&matcher->tree->tokens, at);
        bool met = kind != TOKEN_END && (kind != TOKEN_COMMA || *wanted.start == ',');
        if (met && text_is(wanted, "^")) {
            met = at == matcher->first;
        } else if (met && text_is(wanted, "...")) {
            struct text next = {word, *word == '|' ? 0 : strcspn(word, " ")};
            uint32_t end = at + 1;
            while (match_kind(matcher, end) != TOKEN_END && match_kind(matcher, end) != TOKEN_COMMA &&
                   !(next.length && text_equal(text_at(matcher, end), next)))
                end++;
            blanks->rest = match_place(matcher, at, end);
            at = end;
        } else if (met) {
            if (text_is(wanted, "#") && (kind == TOKEN_NUMBER || kind == TOKEN_PERCENT))
                blanks->number = place;
            else if (text_is(wanted, "_") && (kind == TOKEN_WORD || kind == TOKEN_STRING))
                blanks->word = place;
            else if (text_is(wanted, "?"))
                met = nearly_at(matcher, at);
            else
                met = kind != TOKEN_STRING && text_equal(text_at(matcher, at), wanted);
            at++;
        }
        if (met)
            continue;
        word = strchr(word, '|'); /* another way of writing it, if there is one */
        if (!word)
            return 0;
        word += sizeof "| " - 1;
        at = first;
    }
    return at;
}

/* Either a notation, found by its own function, or a saying with the words that it stands for.
 * What lacks something covers the place where the clause failed: where it goes on, its author said more. */
static bool is_met(const struct search *search, uint32_t at, struct rewriting *rewriting)
{
    const struct matcher *matcher = search->matcher;
    const struct model *model = matcher->model;
    const struct saying *saying = search->saying;
    struct blanks blanks = {0};
    *rewriting = (struct rewriting){0};
    if (!saying)
        return notations[search->notation].is_met(matcher, at, notations[search->notation].way, rewriting);
    uint32_t end = saying_end(matcher, saying, at, &blanks);
    if (!end || (saying->lacks && end < matcher->failure.token && end < matcher->end))
        return false;
    /* The words with what its marks stood for; none where the season's end is wanted and not known, nor of
     * words that only a metric plan has. */
    struct buffer filled = {.arena = model->arena};
    for (const char *words = search->other ? saying->other : saying->instead; *words; words++) {
        if ((*words == '$' && !model->has_season) || (*words == '!' && !model->metric))
            return false;
        if (*words == '#')
            buffer_add(&filled, place_text(blanks.number));
        else if (*words == '_')
            buffer_add(&filled, place_text(blanks.word));
        else if (*words == '.')
            buffer_add(&filled, place_text(blanks.rest));
        else if (*words == '$')
            buffer_add_string(&filled, day_text(model->arena, model->season_last));
        else if (*words != '!')
            buffer_format(&filled, "%c", *words);
        words += *words == '.' ? 2 : 0; /* three of them; no word has one */
    }
    const char *instead = buffer_string(&filled);
    struct place place = match_place(matcher, at, end);
    const char *bytes = (const char *)place.source->bytes;
    bool apart = place.start > 0 && !strchr(" \t\n({", bytes[place.start - 1]);
    if (*instead == ',' && at > search->first)
        while (place.start > 0 && bytes[place.start - 1] == ' ')
            place.start--;
    if (!*instead && !apart && match_kind(matcher, end) != TOKEN_END && bytes[place.end] == ' ')
        place.end++;
    bool blank = apart && *instead && *instead != ',';
    *rewriting = (struct rewriting){place, text_format(model->arena, "%s%s", blank ? " " : "", instead),
                                    saying->lacks, NULL};
    return true;
}

/* Adds what the clause says by the rewriting, where it fits and ends behind where the clause failed. */
static size_t add_reading(const struct search *search, struct text continued, uint32_t failed,
                          struct meaning meant[MEANT_LIMIT], size_t count)
{
    const struct matcher *matcher = search->matcher;
    struct arena *arena = matcher->model->arena;
    struct rewriting rewriting = {0}, next;
    bool met = false;
    /* All places of one reading in a single rewriting, with what lies between them as it is. */
    for (uint32_t here = search->first; here < matcher->end && count < MEANT_LIMIT; here++) {
        if (!is_met(search, here, &next) || (met && next.place.start < rewriting.place.end))
            continue;
        if (met) {
            struct place gap = {next.place.source, rewriting.place.end, next.place.start};
            const char *between = text_string(arena, place_text(gap));
            next.written = text_format(arena, "%s%s%s", rewriting.written, between, next.written);
            next.place.start = rewriting.place.start;
        }
        rewriting = next;
        met = true;
    }
    if (!met || rewriting.place.end < token_place(&matcher->tree->tokens, failed).start)
        return count;
    struct meaning meaning = {.place = rewriting.place,
                              .written = rewriting.written,
                              .lacks = rewriting.lacks,
                              .help = rewriting.help};
    struct place whole = match_place(matcher, search->first, matcher->end);
    struct text old_text = place_text(whole);
    bool line =
        !memchr(old_text.start, '\n', old_text.length) && !memchr(old_text.start, '#', old_text.length);
    if (!search->two || (line && !rewriting.lacks))
        meaning.clause =
            clause_with(matcher, whole, continued, rewriting.place, rewriting.written, search->two);
    if (search->two && !rewriting.lacks) { /* from the first word on that changes */
        meaning.place = whole;
        meaning.written = meaning.clause;
        const char *old = place_text(meaning.place).start, *new = meaning.clause ? meaning.clause : "";
        for (size_t word = strcspn(new, " ");
             new[word] && word == strcspn(old, " \t") && !memcmp(old, new, word); word = strcspn(new, " ")) {
            size_t behind = word + strspn(old + word, " \t");
            meaning.place.start += (uint32_t)behind;
            old += behind;
            meaning.written = new += word + 1;
        }
    }
    for (size_t i = 0; i < count && meaning.clause; i++)
        meaning.clause = strcmp(meant[i].clause, meaning.clause) == 0 ? NULL : meaning.clause;
    if (meaning.clause)
        meant[count++] = meaning;
    return count;
}

/* `failed`: the token where the clause failed. Of thousands of words nothing is looked up. */
static size_t readings_from(const struct matcher *matcher, uint32_t first, struct text continued,
                            uint32_t failed, bool two, struct meaning meant[MEANT_LIMIT])
{
    size_t count = 0;
    if (place_text(match_place(matcher, first, matcher->end)).length > CLAUSE_LIMIT)
        return 0;
    for (size_t i = 0; i < NOTATION_COUNT; i++) {
        struct search search = {matcher, first, i, NULL, false, two};
        count = add_reading(&search, continued, failed, meant, count);
        if (count && (i + 1 == NOTATION_COUNT || notations[i + 1].group != notations[i].group))
            return count;
    }
    for (size_t i = 0; i < saying_count; i++) {
        enum block_kind block = sayings[i].block;
        bool here = block == BLOCK_NONE || block == matcher->block ||
                    (block == BLOCK_APPLY && matcher->block == BLOCK_TASK);
        for (int other = 0; here && other <= (sayings[i].other != NULL); other++) {
            struct search search = {matcher, first, NOTATION_COUNT, &sayings[i], other, two};
            count = add_reading(&search, continued, failed, meant, count);
        }
        if (count)
            return count;
    }
    return 0;
}

/* A comma may have broken in two what belongs together, so the statement's beginning is tried as well. Two
 * slips are looked for where no one alone explains the clause. */
size_t clause_by_notation(const struct matcher *matcher, uint32_t at, struct text continued,
                          struct meaning meant[MEANT_LIMIT])
{
    size_t count = 0;
    if (matcher->model->building->complaints > MEANT_REPORTS)
        return 0;
    for (int two = 0; two <= !matcher->chained && !count; two++) {
        count = readings_from(matcher, at, continued, at, two, meant);
        if (!count && at > matcher->first)
            count = readings_from(matcher, matcher->first, (struct text){0}, at, two, meant);
    }
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
        const char *clause = clause_with(&plain, match_place(matcher, at, matcher->end), (struct text){0},
                                         place, written, false);
        if (clause && ++count == 1)
            *meant = (struct meaning){.place = place, .written = written, .clause = clause};
    }
    return count == 1;
}
