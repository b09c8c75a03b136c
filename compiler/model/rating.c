#include "compiler/model/rating.h"

/* Letters and words as the sheets of several states print them (Georgia, Clemson, Rutgers, North Carolina,
 * Delaware); which of them a sheet uses, it says itself. */
static const struct {
    const char *word;
    enum rating rating;
} ratings[] = {
    {"VL", RATING_LOW},           {"very-low", RATING_LOW},   {"L", RATING_LOW},
    {"low", RATING_LOW},          {"deficient", RATING_LOW},  {"M", RATING_MEDIUM},
    {"medium", RATING_MEDIUM},    {"S", RATING_ENOUGH},       {"sufficient", RATING_ENOUGH},
    {"O", RATING_ENOUGH},         {"optimum", RATING_ENOUGH}, {"adequate", RATING_ENOUGH},
    {"H", RATING_ENOUGH},         {"high", RATING_ENOUGH},    {"VH", RATING_ENOUGH},
    {"very-high", RATING_ENOUGH}, {"E", RATING_ENOUGH},       {"excessive", RATING_ENOUGH},
};
enum { RATING_WORDS = sizeof ratings / sizeof *ratings };

const char *rating_read(struct arena *arena, struct text word, enum rating *rating)
{
    for (size_t i = 0; i < RATING_WORDS; i++)
        if (text_distance(word, text_of(ratings[i].word)) == 0) {
            *rating = ratings[i].rating;
            return NULL;
        }
    *rating = RATING_NONE;
    struct buffer list = {.arena = arena};
    for (size_t i = 0; i < RATING_WORDS; i++)
        buffer_format(&list, "%s%s", i ? ", " : "ratings are: ", ratings[i].word);
    return buffer_string(&list);
}
