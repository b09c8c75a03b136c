/* What is said of a clause whose author is understood: what was written, and what goes there instead. */
#include "compiler/model/form_match.h"

#include <string.h>

/* A change without the words that the old text and the new both begin or end with. */
struct difference {
    struct place place;
    struct text new;
};

/* The first word or the last one. */
static struct text outer_word(struct text text, bool last)
{
    size_t length = 0;
    while (length < text.length && text.start[last ? text.length - 1 - length : length] != ' ')
        length++;
    return (struct text){last ? text.start + text.length - length : text.start, length};
}

static void drop_blanks(struct place *place, struct text *new)
{
    const unsigned char *bytes = place->source->bytes;
    while (place->start < place->end && strchr(" \t\n", bytes[place->start]))
        place->start++;
    while (place->end > place->start && strchr(" \t\n", bytes[place->end - 1]))
        place->end--;
    while (new->length &&*new->start == ' ')
        *new = (struct text){new->start + 1, new->length - 1};
    while (new->length &&new->start[new->length - 1] == ' ')
        new->length--;
}

/* What is left when the words that both begin with and those that both end with are gone. */
static struct difference difference_of(const struct meaning *meant)
{
    struct difference left = {meant->place, text_of(meant->written)};
    drop_blanks(&left.place, &left.new);
    for (struct text old = place_text(left.place); old.length && left.new.length;
         old = place_text(left.place)) {
        struct text first = outer_word(old, false), last = outer_word(old, true);
        if (text_equal(first, outer_word(left.new, false))) {
            left.place.start += (uint32_t)first.length;
            left.new = (struct text){left.new.start + first.length, left.new.length - first.length};
        } else if (text_equal(last, outer_word(left.new, true))) {
            left.place.end -= (uint32_t)last.length;
            left.new.length -= last.length;
        } else {
            break;
        }
        drop_blanks(&left.place, &left.new);
    }
    return left;
}

void meaning_suggest(struct model *model, struct report *report, const struct meaning *meant, size_t count)
{
    const char *clauses[MEANT_LIMIT];
    for (size_t i = 0; i < count; i++)
        clauses[i] = text_format(model->arena, "`%s`", meant[i].clause);
    if (meant->help)
        report_help(model->reports, report, "%s `%s`", meant->help, meant->clause);
    else
        report_help(model->reports, report, "did you mean %s?",
                    list_text(model->arena, clauses, count, " or "));
    if (count == 1 && !meant->lacks)
        report_fix(model->reports, report, false, meant->place, meant->written,
                   text_format(model->arena, "write `%s`", meant->clause));
}

/* "`of` is missing before `feed`", at `feed`; where nothing follows, at the end. */
static const char *missing_words(const struct matcher *matcher, const struct meaning *meant, size_t count,
                                 struct place *place)
{
    struct arena *arena = matcher->model->arena;
    const struct tokens *tokens = &matcher->tree->tokens;
    const char *words[MEANT_LIMIT];
    *place = difference_of(meant).place;
    for (size_t i = 0; i < count; i++) {
        struct text new = difference_of(&meant[i]).new;
        words[i] = text_is(new, ",") ? "a comma" : text_format(arena, "`%.*s`", (int)new.length, new.start);
    }
    const char *missing = list_text(arena, words, count, " or ");
    uint32_t next = matcher->first;
    while (next < matcher->end && token_place(tokens, next).start < place->start)
        next++;
    next = match_skip(matcher, next);
    if (match_kind(matcher, next) == TOKEN_END || match_kind(matcher, next) == TOKEN_COMMA) {
        *place = match_place(matcher, next - 1, next);
        place->start = place->end;
        return text_format(arena, "%s is missing at the end", missing);
    }
    *place = token_place(tokens, next);
    return text_format(arena, "%s is missing before `%s`", missing, text_string(arena, place_text(*place)));
}

/* What each meaning writes over the place that all of them change together, in backquotes. */
static const char *choices(const struct matcher *matcher, const struct meaning *meant, size_t count,
                           struct place *whole)
{
    struct arena *arena = matcher->model->arena;
    const char *list[MEANT_LIMIT];
    *whole = meant->place;
    for (size_t i = 1; i < count; i++) {
        struct place place = meant[i].place;
        whole->start = place.start < whole->start ? place.start : whole->start;
        whole->end = place.end > whole->end ? place.end : whole->end;
    }
    for (size_t i = 0; i < count; i++) {
        struct place before = {whole->source, whole->start, meant[i].place.start},
                     behind = {whole->source, meant[i].place.end, whole->end};
        struct buffer new = {.arena = arena};
        buffer_add(&new, place_text(before));
        buffer_add_string(&new, meant[i].written);
        buffer_add(&new, place_text(behind));
        struct text text = text_of(buffer_string(&new));
        struct place all = *whole;
        drop_blanks(&all, &text);
        list[i] = text_format(arena, "`%.*s`", (int)text.length, text.start);
    }
    struct text nothing = {"", 0};
    drop_blanks(whole, &nothing);
    return list_text(arena, list, count, " or ");
}

/* The cause is what would change. A value's own complaint says more than that a word is missing. */
struct report *meaning_report(const struct matcher *matcher, const struct meaning *meant, size_t count)
{
    struct model *model = matcher->model;
    const struct failure *failure = &matcher->failure;
    struct difference left = difference_of(meant);
    struct place place;
    bool adds = left.place.start == left.place.end, removes = !left.new.length;
    for (size_t i = 1; i < count; i++)
        adds = adds && difference_of(&meant[i]).place.start == left.place.start &&
               difference_of(&meant[i]).place.end == left.place.start;
    const char *instead = choices(matcher, meant, count, &place), *sentence;
    const char *written = place_words(model->arena, place);
    if (adds && failure->rule && !meant->lacks) {
        place = failure->place;
        sentence = failure->sentence;
    } else if (meant->lacks) {
        sentence = text_format(model->arena, "`%s` %s", written, meant->lacks);
    } else if (adds) {
        sentence = missing_words(matcher, meant, count, &place);
    } else if (removes) {
        place = left.place;
        sentence = text_format(model->arena, "`%s` does not belong here", place_words(model->arena, place));
    } else if (strcmp(instead, "`,`") == 0) {
        sentence = text_format(model->arena, "a comma goes here, not `%s`", written);
    } else {
        sentence = text_format(model->arena, count > 1 ? "`%s` could be %s" : "`%s` is written %s here",
                               written, instead);
    }
    struct report *report = report_add(
        model->reports, failure->rule ? failure->rule : &model_rules[RULE_FORM], place, "%s", sentence);
    meaning_suggest(model, report, meant, count);
    return report;
}
