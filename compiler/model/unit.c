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
        if (spelling[i] == '\0' || folded(spelling[i], fold) != folded(word.start[i], fold))
            return 0;
    return word.length;
}

/* How many of `words` make up the whole of one of the spellings, at most; 0 when of none. A new word stands
 * where the spelling has a blank, and on either side of a slash. */
static size_t longest_spelling(const char *const *spellings, const struct text *words, size_t count,
                               bool fold)
{
    size_t longest = 0;
    char first = folded(*words->start, fold);
    for (; *spellings; spellings++) {
        const char *at = *spellings;
        if (folded(*at, fold) != first)
            continue;
        for (size_t i = 0; i < count; i++) {
            if (at > *spellings && *at == ' ')
                at++;
            else if (at > *spellings && *at != '/' && at[-1] != '/')
                break;
            size_t matched = word_matched(at, words[i], fold);
            at += matched;
            if (matched && *at == '\0')
                longest = i + 1 > longest ? i + 1 : longest;
            if (!matched || *at == '\0')
                break;
        }
    }
    return longest;
}

/* The longest spelling that fits, so that "fl oz" is not read as an "fl". */
const struct unit *unit_find(const struct text *words, size_t count, size_t *taken)
{
    const struct unit *found = NULL;
    *taken = 0;
    if (count == 0 || words->length == 0)
        return NULL;
    for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit)) {
        size_t as_symbol = longest_spelling(unit->symbols, words, count, false);
        size_t as_word = longest_spelling(unit->words, words, count, true);
        size_t longest = as_symbol > as_word ? as_symbol : as_word;
        if (longest > *taken) {
            *taken = longest;
            found = unit;
        }
    }
    return found;
}

bool unit_goes_on(struct text word)
{
    for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit))
        for (int fold = 0; fold < 2; fold++)
            for (const char *const *spelling = fold ? unit->words : unit->symbols; *spelling; spelling++) {
                size_t matched = word_matched(*spelling, word, fold);
                if (matched && ((*spelling)[matched] == ' ' || (*spelling)[matched] == '/'))
                    return true;
            }
    return false;
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
