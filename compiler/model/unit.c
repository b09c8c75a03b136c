#include "compiler/model/unit.h"

#include <assert.h>
#include <string.h>

const struct unit *unit_next(const struct unit *unit)
{
    const struct unit *next = unit ? unit + 1 : UNIT_TABLE;
    return next->name ? next : NULL;
}

static char folded(char character, bool fold)
{
    return fold && character >= 'A' && character <= 'Z' ? (char)(character + ('a' - 'A')) : character;
}

/* The bytes of `word` if `spelling` begins with it; 0 otherwise. */
static size_t word_matched(const char *spelling, struct text word, bool fold)
{
    for (size_t i = 0; i < word.length; i++)
        if (spelling[i] == '\0' || spelling[i] != folded(word.start[i], fold))
            return 0;
    return word.length;
}

/* How many of `words` make up the whole of the spelling; 0 when none do. A new word stands where it has a
 * blank, and on either side of a slash; *goes_on where it does so behind the first. */
static size_t words_spelling(const char *spelling, const struct text *words, size_t count, bool fold,
                             bool *goes_on)
{
    const char *at = spelling;
    for (size_t i = 0; i < count; i++) {
        if (i && *at == ' ')
            at++;
        else if (i && *at != '/' && at[-1] != '/')
            return 0;
        size_t matched = word_matched(at, words[i], fold);
        at += matched;
        if (matched && *at == '\0')
            return i + 1;
        if (!matched)
            return 0;
        *goes_on |= i == 0 && (*at == ' ' || *at == '/');
    }
    return 0;
}

/* The longest spelling that fits, so that "fl oz" is not read as an "fl". */
struct unit_found unit_find(const struct text *words, size_t count)
{
    struct unit_found found = {0};
    if (count == 0 || words->length == 0)
        return found;
    const char firsts[] = {*words->start, folded(*words->start, true)};
    for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit))
        for (int fold = 0; fold < 2; fold++)
            for (const char *const *at = fold ? unit->words : unit->symbols; *at; at++) {
                if (**at != firsts[fold])
                    continue;
                size_t taken = words_spelling(*at, words, count, fold, &found.goes_on);
                if (taken > found.taken) {
                    found.taken = taken;
                    found.unit = unit;
                }
            }
    return found;
}

/* Every spelling of every unit is compared: it is asked of a misspelt word alone. */
struct text unit_nearest(struct text word, bool *certain)
{
    enum { SHORTEST_WORD = 3, BYTES_PER_EDIT = 3 };
    struct text nearest = {"", 0};
    const struct unit *found = NULL;
    size_t least = word.length / BYTES_PER_EDIT + 1;
    bool alone = false; /* no other unit is as near */
    for (const struct unit *unit = unit_next(NULL); unit && word.length >= SHORTEST_WORD;
         unit = unit_next(unit))
        for (int kind = 0; kind < 2; kind++)
            for (const char *const *at = kind ? unit->words : unit->symbols; *at; at++) {
                size_t distance = text_distance(text_of(*at), word);
                if (distance < least) {
                    nearest = text_of(*at);
                    found = unit;
                    least = distance;
                    alone = true;
                } else if (distance == least && unit != found) {
                    alone = false;
                }
            }
    *certain = found && alone;
    return nearest;
}

const struct unit *unit_named(const char *name)
{
    const struct unit *unit = unit_next(NULL);
    while (unit && (*unit->name != *name || strcmp(unit->name, name) != 0))
        unit = unit_next(unit);
    assert(unit);
    return unit;
}

double unit_to_si(const struct unit *unit, double value)
{
    return (value + unit->zero) * unit->factor;
}

double unit_from_si(const struct unit *unit, double si)
{
    return si / unit->factor - unit->zero;
}

double unit_difference_to_si(const struct unit *unit, double difference)
{
    return difference * unit->factor;
}

double unit_difference_from_si(const struct unit *unit, double si)
{
    return si / unit->factor;
}
