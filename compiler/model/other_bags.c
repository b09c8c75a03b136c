/* Bags where a rate is wanted: what a bag holds is in the plan, or an example says how it is worked out. */
#include "compiler/model/other_days.h"
#include "compiler/model/unit.h"

/* A bag as they are often sold (common practice, no source), and an area to divide its weight by. */
enum { BAG_LB = 40, BAG_KG = 20, EXAMPLE_SQFT = 8000, EXAMPLE_M2 = 500 };

struct bag {
    double mass; /* kg */
    const char *written;
    bool metric;
    bool stated;
};

/* The mass behind `pack` in the block that token `at` is in; where that states none, and for no token, a
 * usual bag. Tokens are looked at and not the model, since what a product states is read later. */
static struct bag bag_of(const struct matcher *matcher, uint32_t at)
{
    const struct tokens *tokens = &matcher->tree->tokens;
    struct arena *arena = matcher->model->arena;
    struct bag pack = {BAG_LB * unit_named("lb")->factor, text_format(arena, "%d lb", BAG_LB), false, false};
    if (matcher->model->metric)
        pack = (struct bag){BAG_KG, text_format(arena, "%d kg", BAG_KG), true, false};
    bool block = at > 0;
    while (at > 0 && tokens->items[at - 1].kind != TOKEN_OPEN_BLOCK)
        at--;
    for (; block && at + 2 < tokens->count && tokens->items[at].kind != TOKEN_CLOSE_BLOCK; at++) {
        struct text unit = token_text(tokens, at + 2);
        bool known = text_is(token_text(tokens, at), "pack") && tokens->items[at + 1].kind == TOKEN_NUMBER &&
                     tokens->items[at + 2].kind == TOKEN_WORD;
        const struct unit *found = known ? unit_find(&unit, 1).unit : NULL;
        double mass = found && found->measure == MEASURE_MASS
                          ? token_number(token_text(tokens, at + 1)) * found->factor
                          : 0;
        if (!found || !(mass > 0))
            continue;
        struct place place = token_place(tokens, at + 1);
        place.end = token_place(tokens, at + 2).end;
        pack = (struct bag){mass, text_string(arena, place_text(place)), found->system == UNIT_METRIC, true};
    }
    return pack;
}

/* A mass on an area (kg, m2) as people of that system state it, not rounded past what a bag allows. */
static const char *rate_text(struct arena *arena, double mass, double area, bool metric)
{
    enum { DIGITS = 3 };
    double per = metric ? 1 : 1000 * unit_named("sq ft")->factor;
    double amount = mass / unit_named(metric ? "g" : "lb")->factor / (area / per);
    return text_format(arena, metric ? "%s g per m2" : "%s lb per 1000 sqft",
                       number_text(arena, number_floor(amount, DIGITS), DIGITS));
}

/* "rate 2 bags of feed", "2 bags per 1000 sqft of feed" */
bool bags(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    static const char *const words[] = {"bag", "bags", "sack", "sacks", "pack", "packs", "jug", "jugs"};
    struct arena *arena = matcher->model->arena;
    const struct tokens *tokens = &matcher->tree->tokens;
    bool found = false;
    (void)way;
    for (size_t i = 0; i < sizeof words / sizeof *words && match_kind(matcher, at) == TOKEN_NUMBER; i++)
        found = found || match_word(matcher, at + 1, words[i]);
    if (!found)
        return false;
    uint32_t product = at + 2;
    while (match_kind(matcher, product) != TOKEN_END && !match_word(matcher, product, "of"))
        product++;
    uint32_t block = 0; /* of the product, the last one of that name */
    for (uint32_t i = 0; i + 3 < tokens->count && match_word(matcher, product, "of"); i++)
        if (text_is(token_text(tokens, i), "product") && tokens->items[i + 2].kind == TOKEN_OPEN_BLOCK &&
            text_equal(token_text(tokens, i + 1), text_at(matcher, product + 1)))
            block = i + 3;
    struct bag pack = bag_of(matcher, block);
    bool known = pack.stated, per = match_word(matcher, at + 2, "per");
    double count = token_number(text_at(matcher, at)),
           area = pack.metric ? EXAMPLE_M2 : EXAMPLE_SQFT * unit_named("sq ft")->factor;
    struct place place = match_place(matcher, at, at + 2);
    const char *said = text_string(arena, place_text(place));
    if (per) {
        const char *unit = pack.metric ? "kg" : "lb";
        rewriting->written = number_in(arena, count * pack.mass / unit_named(unit)->factor, 6, unit);
        rewriting->help = known ? NULL : text_format(arena, "write the weight: for bags of %s", pack.written);
    } else {
        rewriting->written = rate_text(arena, count * pack.mass, area, pack.metric);
        rewriting->help = text_format(
            arena, "divide the weight by the area: %s of %s on %s are", said, pack.written,
            text_format(arena, pack.metric ? "%d m2" : "%d sqft", pack.metric ? EXAMPLE_M2 : EXAMPLE_SQFT));
    }
    rewriting->place = place;
    rewriting->lacks = !per ? "is not an amount for an area" : known ? NULL : "is not a weight";
    return true;
}

/* "covers 5000 sqft": what a bag holds, on that area, is a rate. */
bool covers(const struct matcher *matcher, uint32_t at, int way, struct rewriting *rewriting)
{
    struct arena *arena = matcher->model->arena;
    (void)way;
    if (!match_word(matcher, at, "covers") && !match_word(matcher, at, "coverage"))
        return false;
    uint32_t number = at + 1;
    while (match_kind(matcher, number) == TOKEN_WORD)
        number++;
    size_t count = 0;
    struct text words[3];
    while (count < 3 && match_kind(matcher, number + 1 + (uint32_t)count) == TOKEN_WORD) {
        words[count] = text_at(matcher, number + 1 + (uint32_t)count);
        count++;
    }
    struct unit_found found = unit_find(words, count);
    const struct unit *unit = found.unit;
    if (match_kind(matcher, number) != TOKEN_NUMBER || !unit || unit->measure != MEASURE_AREA)
        return false;
    struct bag pack = bag_of(matcher, at);
    bool known = pack.stated;
    double area = token_number(text_at(matcher, number)) * unit->factor;
    if (!(area > 0))
        return false;
    const char *label = text_format(arena, "label up to %s", rate_text(arena, pack.mass, area, pack.metric));
    *rewriting = (struct rewriting){match_place(matcher, at, number + 1 + (uint32_t)found.taken), label,
                                    known ? NULL : "needs the weight of the bag",
                                    known ? NULL : text_format(arena, "for a bag of %s write", pack.written)};
    return true;
}
