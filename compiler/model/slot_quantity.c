/* Quantities in slots: numbers with their units. */
#include "compiler/model/read.h"
#include "compiler/model/slot.h"

#include <math.h>

struct text slot_text(const struct matcher *matcher, uint32_t at)
{
    return token_text(&matcher->tree->tokens, at);
}

struct place slot_place(const struct matcher *matcher, uint32_t at)
{
    return token_place(&matcher->tree->tokens, at);
}

bool slot_complain(struct matcher *matcher, uint32_t at, struct place place, enum model_rule rule,
                   const char *sentence, const char *help)
{
    return match_complain(matcher, at, place, &model_rules[rule], sentence, help);
}

bool slot_suggest(struct matcher *matcher, uint32_t at, enum model_rule rule, const char *sentence,
                  struct text near, bool certain)
{
    const char *help = NULL;
    if (near.length)
        help = text_format(matcher->model->arena, "did you mean `%.*s`?", (int)near.length, near.start);
    slot_complain(matcher, at, slot_place(matcher, at), rule, sentence, help);
    if (matcher->failure.sentence == sentence && certain)
        matcher->failure.meant = near;
    return false;
}

bool slot_number(struct matcher *matcher, uint32_t at, double *number)
{
    *number = token_number(slot_text(matcher, at));
    if (*number <= 1e15 && *number >= -1e15)
        return true;
    return slot_complain(matcher, at, slot_place(matcher, at), RULE_VALUE, "this number is out of range",
                         NULL);
}

enum { UNIT_WORDS_AHEAD = 4 };

/* Words that join the parts of statements: where one stands in a unit's place, the unit was left out. */
static bool joins(struct text word)
{
    static const char *const words[] = {"per",    "of",  "from",   "by",    "to", "at",
                                        "within", "and", "across", "apart", "on"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (text_is(word, words[i]))
            return true;
    return false;
}

/* A word that joins the parts of a statement is not a misspelt unit: the unit was left out. */
static void complain_of_unit(struct matcher *matcher, uint32_t at)
{
    struct arena *arena = matcher->model->arena;
    struct text word = slot_text(matcher, at), near;
    int length = (int)word.length;
    bool certain;
    if (joins(word)) {
        slot_complain(matcher, at, slot_place(matcher, at), RULE_UNIT,
                      text_format(arena, "a unit is missing before `%.*s`", length, word.start), NULL);
        return;
    }
    near = unit_nearest(word, &certain);
    slot_suggest(matcher, at, RULE_UNIT, text_format(arena, "`%.*s` is not a unit", length, word.start), near,
                 certain);
}

/* Where a unit of this first word is kept; NULL when nothing is being built. */
static struct unit_memo *memo_of(const struct matcher *matcher, struct text word)
{
    struct building *building = matcher->model->building;
    size_t sum =
        (unsigned char)word.start[0] * 31u + (unsigned char)word.start[word.length - 1] + word.length;
    return building ? &building->units[sum % UNIT_MEMOS] : NULL;
}

/* The unit that the words from `at` on spell, and how many of them do. NULL without one. */
static const struct unit *find_unit(const struct matcher *matcher, uint32_t at, size_t *taken)
{
    struct text words[UNIT_WORDS_AHEAD] = {slot_text(matcher, at)};
    struct unit_memo *memo = memo_of(matcher, words[0]);
    *taken = 1;
    if (memo && memo->unit && text_equal(memo->word, words[0]))
        return memo->unit;
    size_t count = 1;
    for (; count < UNIT_WORDS_AHEAD; count++) {
        at = match_next(matcher, at);
        if (match_kind(matcher, at) != TOKEN_WORD && match_kind(matcher, at) != TOKEN_SLASH)
            break;
        words[count] = slot_text(matcher, at);
    }
    const struct unit *unit = unit_find(words, count, taken);
    if (memo && unit && *taken == 1 && !unit_goes_on(words[0]))
        *memo = (struct unit_memo){words[0], unit};
    return unit;
}

static bool read_one_unit(struct matcher *matcher, uint32_t *at, const struct unit **unit)
{
    size_t taken;
    if (match_kind(matcher, *at) != TOKEN_WORD) {
        match_expect(matcher, *at, "a unit");
        return false;
    }
    *unit = find_unit(matcher, *at, &taken);
    if (!*unit) {
        complain_of_unit(matcher, *at);
        return false;
    }
    for (; taken > 0; taken--)
        *at = match_next(matcher, *at);
    return true;
}

static bool at_per(const struct matcher *matcher, uint32_t at)
{
    return match_kind(matcher, at) == TOKEN_SLASH || match_word(matcher, at, "per");
}

/* "per 1000 sqft": divides factor and dimension. False where what follows is no unit ("per application");
 * then *at stays and nothing is divided. */
static bool read_per(struct matcher *matcher, uint32_t *at, double *factor, struct dimension *dimension)
{
    uint32_t here = match_next(matcher, *at);
    double number = 1;
    const struct unit *unit;
    if (match_kind(matcher, here) == TOKEN_NUMBER) {
        if (!slot_number(matcher, here, &number))
            return false;
        if (number <= 0)
            return slot_complain(matcher, here, slot_place(matcher, here), RULE_VALUE,
                                 "a rate cannot be per zero", NULL);
        here = match_next(matcher, here);
    }
    if (!read_one_unit(matcher, &here, &unit))
        return false;
    *factor /= number * unit->factor;
    *dimension = dimension_quotient(*dimension, unit_dimension(unit));
    *at = here;
    return true;
}

bool unit_read(struct matcher *matcher, uint32_t *at, const struct dimension *wanted, double *factor,
               double *zero, struct dimension *dimension, const struct unit **first)
{
    if (!read_one_unit(matcher, at, first))
        return false;
    *factor = (*first)->factor;
    *zero = (*first)->zero;
    *dimension = unit_dimension(*first);
    while (!(wanted && dimension_equal(*dimension, *wanted)) && at_per(matcher, *at) &&
           read_per(matcher, at, factor, dimension))
        *zero = 0;
    return true;
}

struct quantity {
    double factor, zero;
    struct dimension dimension;
    bool per;
};

static bool wanted_reached(const struct slot_type *type, const struct quantity *quantity)
{
    if (type->per && !quantity->per)
        return false;
    return dimension_equal(quantity->dimension, type->dimension) ||
           (type->share && dimension_equal(quantity->dimension, measure_dimension(MEASURE_NUMBER))) ||
           (!dimension_equal(type->other, measure_dimension(MEASURE_NUMBER)) &&
            dimension_equal(quantity->dimension, type->other));
}

/* Reads on over "per" until the quantity is the one the slot takes: "lb per acre" is a level, "lb per acre
 * per year" a rate. */
static bool read_whole_unit(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                            struct value *value, struct quantity *quantity)
{
    if (!read_one_unit(matcher, at, &value->unit))
        return false;
    *quantity = (struct quantity){value->unit->factor, value->unit->zero, unit_dimension(value->unit), false};
    if (type->nutrient && !slot_read_nutrient(matcher, type, at, value))
        return false;
    while (!wanted_reached(type, quantity) && at_per(matcher, *at)) {
        if (!read_per(matcher, at, &quantity->factor, &quantity->dimension))
            return false;
        quantity->per = true;
        quantity->zero = 0;
    }
    return true;
}

static const char *dimension_phrase(struct arena *arena, const struct slot_type *type)
{
    const char *example = measure_example(dimension_measure(type->dimension));
    if (type->nutrient)
        return "a mass of a nutrient per area is needed here, such as 0.75 lb N per 1000 sqft";
    if (type->per && !dimension_equal(type->other, measure_dimension(MEASURE_NUMBER)))
        return "a mass or volume per area is needed here, such as 4 lb per 1000 sqft";
    return text_format(arena, "%s is needed here%s%s", measure_name(dimension_measure(type->dimension)),
                       example ? ", such as " : "", example ? example : "");
}

/* The number or range is turned into SI once its unit is known. Only a thermometer may show less than zero.
 */
bool slot_read_quantity(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                        struct value *value)
{
    struct arena *arena = matcher->model->arena;
    struct quantity quantity;
    uint32_t first = *at;
    if (match_kind(matcher, *at) != TOKEN_NUMBER)
        return match_expect(matcher, *at, type->description);
    if (!slot_number(matcher, *at, &value->number))
        return false;
    value->high = value->number;
    *at = match_next(matcher, *at);
    if (type->range && match_word(matcher, *at, "to")) {
        *at = match_next(matcher, *at);
        if (match_kind(matcher, *at) != TOKEN_NUMBER)
            return match_expect(matcher, *at, "the upper number");
        if (!slot_number(matcher, *at, &value->high))
            return false;
        *at = match_next(matcher, *at);
    }
    if (!read_whole_unit(matcher, type, at, value, &quantity))
        return false;
    struct place place = match_place(matcher, first, *at);
    struct text text = place_text(place);
    if (!wanted_reached(type, &quantity))
        return slot_complain(matcher, *at, place, RULE_DIMENSION,
                             text_format(arena, "`%.*s` is %s", (int)text.length, text.start,
                                         measure_name(dimension_measure(quantity.dimension))),
                             dimension_phrase(arena, type));
    bool thermometer = quantity.dimension.temperature && !quantity.per;
    if (thermometer && value->number + quantity.zero < 0)
        return slot_complain(
            matcher, *at, place, RULE_VALUE,
            text_format(arena, "`%.*s` is below absolute zero", (int)text.length, text.start), NULL);
    if (!thermometer && !type->zero && value->number <= 0 && !(type->none && value->number == 0) &&
        !(type->range && value->number == 0 && value->high > 0))
        return slot_complain(matcher, *at, place, RULE_VALUE,
                             text_format(arena, "`%.*s` is not above zero", (int)text.length, text.start),
                             NULL);
    if (value->high < value->number)
        return slot_complain(matcher, *at, place, RULE_VALUE,
                             text_format(arena, "`%.*s` goes from high to low", (int)text.length, text.start),
                             NULL);
    value->volume = !dimension_equal(quantity.dimension, type->dimension);
    value->per = value->unit->factor / quantity.factor;
    value->number = (value->number + quantity.zero) * quantity.factor;
    value->high = (value->high + quantity.zero) * quantity.factor;
    return true;
}

/* A unit alone: `number` is what 1 of it is in SI, `high` the zero of a thermometer. */
bool slot_read_unit(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    struct dimension dimension;
    uint32_t first = *at;
    if (!unit_read(matcher, at, &type->dimension, &value->number, &value->high, &dimension, &value->unit))
        return false;
    if (dimension_equal(dimension, type->dimension))
        return true;
    struct place place = match_place(matcher, first, *at);
    struct text text = place_text(place);
    return slot_complain(matcher, *at, place, RULE_DIMENSION,
                         text_format(matcher->model->arena, "`%.*s` is %s", (int)text.length, text.start,
                                     measure_name(dimension_measure(dimension))),
                         dimension_phrase(matcher->model->arena, type));
}

/* Days and longer, in seconds, or calendar months. */
bool slot_read_time(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    uint32_t first = *at;
    if (!slot_read_quantity(matcher, type, at, value))
        return false;
    value->calendar = value->volume;
    value->volume = false;
    struct place place = match_place(matcher, first, *at);
    if (value->calendar && value->number != floor(value->number))
        return slot_complain(matcher, *at, place, RULE_VALUE, "months must be whole", NULL);
    double days = value->calendar ? value->number * 31 : value->number / 86400;
    if (days > 36525)
        return slot_complain(matcher, *at, place, RULE_VALUE, "this is more than a hundred years", NULL);
    return true;
}
