/* Quantities in slots: numbers with their units. */
#include "compiler/model/read.h"
#include "compiler/model/slot.h"

#include <assert.h>
#include <math.h>
#include <string.h>

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

/* A number without its unit: what follows joins the parts of a statement, or nothing follows. "`2000 sqft` or
 * `2000 m2`" is proposed: the number with the unit of the description's example, and with that of the other
 * system. */
static bool complain_of_no_unit(struct matcher *matcher, uint32_t at, const char *description)
{
    static const char *const both[][2] = {{"sqft", "m2"}, {"ft", "m"},    {"in", "mm"},
                                          {"lb", "kg"},   {"gal", "L"},   {"lb per 1000 sqft", "g per m2"},
                                          {"F", "C"},     {"mph", "km/h"}};
    uint32_t at_number = at - 1;
    while (at_number > matcher->first && (match_kind(matcher, at_number) == TOKEN_NEWLINE ||
                                          match_kind(matcher, at_number) == TOKEN_COMMENT))
        at_number--;
    enum token_kind kind = match_kind(matcher, at_number);
    if (kind != TOKEN_NUMBER && kind != TOKEN_RANGE)
        return match_expect(matcher, at, "a unit");
    struct arena *arena = matcher->model->arena;
    struct text number = slot_text(matcher, at_number);
    const char *help = description ? text_format(arena, "expected %s", description) : NULL;
    const char *example = description ? strstr(description, "such as ") : NULL;
    const char *unit = example ? strchr(example + strlen("such as "), ' ') : NULL;
    if (unit)
        help = text_format(arena, "write, for example, `%.*s%s`", (int)number.length, number.start, unit);
    for (size_t i = 0; i < sizeof both / sizeof *both && unit; i++)
        if (strcmp(both[i][0], unit + 1) == 0)
            help = text_format(arena, "%s or `%.*s %s`", help, (int)number.length, number.start, both[i][1]);
    return slot_complain(matcher, at, slot_place(matcher, at_number), RULE_UNIT,
                         text_format(arena, "`%.*s` has no unit", (int)number.length, number.start), help);
}

/* The unit that the words from `at` on spell, and how many of them do. NULL without one. What one word spells
 * is kept by its first letter, its last and its length: a plan has few units, each many times. */
static const struct unit *find_unit(const struct matcher *matcher, uint32_t at, size_t *taken)
{
    struct text word = slot_text(matcher, at);
    struct building *building = matcher->model->building;
    size_t sum =
        (unsigned char)word.start[0] * 6u + (unsigned char)word.start[word.length - 1] * 16u + word.length;
    struct unit_memo *memo = building ? &building->units[sum % UNIT_MEMOS] : NULL;
    *taken = 1;
    if (memo && memo->unit && text_equal(memo->word, word))
        return memo->unit;
    struct text words[UNIT_WORDS_AHEAD] = {word};
    size_t count = 1;
    for (; count < UNIT_WORDS_AHEAD; count++) {
        at = match_next(matcher, at);
        if (match_kind(matcher, at) != TOKEN_WORD && match_kind(matcher, at) != TOKEN_SLASH)
            break;
        words[count] = slot_text(matcher, at);
    }
    struct unit_found found = unit_find(words, count);
    if (memo && found.taken == 1 && !found.goes_on)
        *memo = (struct unit_memo){word, found.unit};
    *taken = found.taken;
    return found.unit;
}

/* A unit in words, or the mark of feet or inches, for which `prill format` writes the word. `description`: of
 * the quantity, for a report; may be NULL. A word that joins the parts of a statement is not a misspelt unit:
 * the unit was left out. */
static bool read_one_unit(struct matcher *matcher, const char *description, uint32_t *at,
                          const struct unit **unit)
{
    static const char *const joining[] = {"per",    "of",  "from",   "by",    "to", "at",
                                          "within", "and", "across", "apart", "on"};
    size_t taken;
    bool mark = match_kind(matcher, *at) == TOKEN_MARK;
    if (!mark && match_kind(matcher, *at) != TOKEN_WORD)
        return complain_of_no_unit(matcher, *at, description);
    *unit = find_unit(matcher, *at, &taken);
    bool left_out = mark; /* "20 x 30 + 10 x 12" */
    if (!*unit) {
        struct arena *arena = matcher->model->arena;
        struct text word = slot_text(matcher, *at);
        bool certain;
        for (size_t i = 0; i < sizeof joining / sizeof *joining; i++)
            left_out = left_out || text_is(word, joining[i]);
        if (left_out)
            return complain_of_no_unit(matcher, *at, description);
        struct text near = unit_nearest(word, &certain);
        const char *sentence = text_format(arena, "`%.*s` is not a unit", (int)word.length, word.start);
        return near.length || !description
                   ? slot_suggest(matcher, *at, RULE_UNIT, sentence, near, certain)
                   : slot_complain(matcher, *at, slot_place(matcher, *at), RULE_UNIT, sentence,
                                   text_format(arena, "expected %s", description));
    }
    if (mark) { /* what touches it, as in 6'3", would join the word */
        struct place place = slot_place(matcher, *at);
        bool touched = !strchr(" \t\n", place.source->bytes[place.end]);
        match_respell(matcher, place,
                      text_format(matcher->model->arena, " %s%s", (*unit)->name, touched ? " " : ""));
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
    const struct unit *unit = NULL;
    if (match_kind(matcher, here) == TOKEN_NUMBER) {
        if (!slot_number(matcher, here, &number))
            return false;
        if (number <= 0)
            return slot_complain(matcher, here, slot_place(matcher, here), RULE_VALUE,
                                 "a rate cannot be per zero", NULL);
        here = match_next(matcher, here);
    }
    if (!read_one_unit(matcher, NULL, &here, &unit))
        return false;
    assert(unit);
    *factor /= number * unit->factor;
    *dimension = dimension_combined(*dimension, measure_rows[unit->measure].dimension, -1);
    *at = here;
    return true;
}

bool unit_read(struct matcher *matcher, uint32_t *at, const struct dimension *wanted, double *factor,
               double *zero, struct dimension *dimension, const struct unit **first)
{
    if (!read_one_unit(matcher, NULL, at, first))
        return false;
    *factor = (*first)->factor;
    *zero = (*first)->zero;
    *dimension = measure_rows[(*first)->measure].dimension;
    while (at_per(matcher, *at) && !(wanted && dimension_equal(*dimension, *wanted)) &&
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
           (type->share && dimension_equal(quantity->dimension, measure_rows[MEASURE_NUMBER].dimension)) ||
           (!dimension_equal(type->other, measure_rows[MEASURE_NUMBER].dimension) &&
            dimension_equal(quantity->dimension, type->other));
}

/* Reads on over "per" until the quantity is the one the slot takes: "lb per acre" is a level, "lb per acre
 * per year" a rate. A nutrient follows its unit, or the area: "25 kg/ha N". */
static bool read_whole_unit(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                            struct value *value, struct quantity *quantity)
{
    if (!read_one_unit(matcher, type->description, at, &value->unit))
        return false;
    /* "48 ft 6 in", "5 lb 8 oz": a smaller unit of the same kind goes on with the one before. */
    uint32_t rest_at = match_next(matcher, *at);
    bool unit_follows =
        match_kind(matcher, rest_at) == TOKEN_WORD || match_kind(matcher, rest_at) == TOKEN_MARK;
    if (value->high == value->number && match_kind(matcher, *at) == TOKEN_NUMBER && unit_follows) {
        size_t taken;
        const struct unit *first = value->unit, *rest = find_unit(matcher, rest_at, &taken);
        double number = token_number(slot_text(matcher, *at));
        if (rest && rest->measure == first->measure && rest->factor < first->factor && rest->zero == 0 &&
            number >= 0 && number * rest->factor < first->factor) {
            *at = rest_at;
            read_one_unit(matcher, NULL, at, &rest);
            value->number += number * rest->factor / first->factor;
            value->high = value->number;
        }
    }
    *quantity = (struct quantity){value->unit->factor, value->unit->zero,
                                  measure_rows[value->unit->measure].dimension, false};
    uint32_t behind_unit = *at;
    bool later = type->nutrient && at_per(matcher, *at);
    if (type->nutrient && !later && !slot_read_nutrient(matcher, type, at, value))
        return false;
    while (at_per(matcher, *at) && !wanted_reached(type, quantity)) {
        if (!read_per(matcher, at, &quantity->factor, &quantity->dimension))
            return false;
        quantity->per = true;
        quantity->zero = 0;
    }
    if (!later)
        return true;
    uint32_t nutrient_at = *at;
    struct text word =
        match_kind(matcher, *at) == TOKEN_WORD ? slot_text(matcher, *at) : (struct text){"", 0};
    if (!nutrient_find(word) && !text_is(word, "soluble") && !text_is(word, "slow"))
        return match_expect(matcher, behind_unit, "a nutrient such as N or P2O5");
    if (!slot_read_nutrient(matcher, type, at, value))
        return false;
    struct place unit = slot_place(matcher, behind_unit - 1), area = slot_place(matcher, nutrient_at - 1);
    unit.start = unit.end;
    area = (struct place){area.source, area.end, match_place(matcher, nutrient_at, *at).end};
    match_respell(matcher, unit, text_format(matcher->model->arena, " %s", value->nutrient->name));
    match_respell(matcher, area, "");
    return true;
}

static const char *dimension_phrase(struct arena *arena, const struct slot_type *type)
{
    const char *example = measure_rows[dimension_measure(type->dimension)].example;
    if (type->nutrient)
        return "a mass of a nutrient per area is needed here, such as 0.75 lb N per 1000 sqft";
    if (type->per && !dimension_equal(type->other, measure_rows[MEASURE_NUMBER].dimension))
        return "a mass or volume per area is needed here, such as 4 lb per 1000 sqft";
    return text_format(arena, "%s is needed here%s%s", measure_rows[dimension_measure(type->dimension)].name,
                       example ? ", such as " : "", example ? example : "");
}

/* One number, or two with `to` or a dash between them, for which `prill format` writes `to`. */
bool slot_read_range(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    struct arena *arena = matcher->model->arena;
    if (match_kind(matcher, *at) == TOKEN_RANGE && type->range) {
        struct text text = slot_text(matcher, *at);
        token_range(text, &value->number, &value->high);
        size_t low = strcspn(text.start, "-\xe2"), high = low;
        while (high < text.length && (text.start[high] < '0' || text.start[high] > '9'))
            high++;
        while (low > 0 && text.start[low - 1] == ' ')
            low--;
        match_respell(matcher, slot_place(matcher, *at),
                      text_format(arena, "%.*s to %.*s", (int)low, text.start, (int)(text.length - high),
                                  text.start + high));
        *at = match_next(matcher, *at);
        return true;
    }
    if (match_kind(matcher, *at) == TOKEN_RANGE) {
        struct text text = slot_text(matcher, *at);
        double low = 0, high = 0;
        token_range(text, &low, &high);
        return slot_complain(matcher, *at, slot_place(matcher, *at), RULE_VALUE,
                             text_format(arena, "`%.*s` is a range, and one number is needed here",
                                         (int)text.length, text.start),
                             text_format(arena, "write `%s` or `%s`", number_text(arena, low, 9),
                                         number_text(arena, high, 9)));
    }
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
    return true;
}

/* The number or range becomes SI once its unit is known. Only a thermometer may show less than zero. */
bool slot_read_quantity(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                        struct value *value)
{
    struct arena *arena = matcher->model->arena;
    struct quantity quantity;
    uint32_t first = *at;
    if (!slot_read_range(matcher, type, at, value))
        return false;
    if (!read_whole_unit(matcher, type, at, value, &quantity))
        return false;
    bool fits = wanted_reached(type, &quantity);
    const char *symbol = !fits && type->per && !type->nutrient ? nutrient_symbol(matcher, *at) : NULL;
    if (symbol) /* "label 1 lb N per 1000 sqft" */
        return slot_complain(
            matcher, *at, match_place(matcher, first, *at + 1), RULE_DIMENSION,
            text_format(arena, "this is an amount of %s, and the product's own rate goes here", symbol),
            text_format(arena, "a label's rate is of product: with 20%% %s, 1 lb of %s is 5 lb of product",
                        symbol, symbol));
    bool thermometer = quantity.dimension.temperature && !quantity.per;
    const char *fault = NULL;
    if (!fits)
        fault = text_format(arena, "is %s", measure_rows[dimension_measure(quantity.dimension)].name);
    else if (thermometer && value->number + quantity.zero < 0)
        fault = "is below absolute zero";
    else if (!thermometer && !type->zero && value->number <= 0 && !(type->none && value->number == 0) &&
             !(type->range && value->number == 0 && value->high > 0))
        fault = "is not above zero";
    else if (value->high < value->number)
        fault = "goes from high to low";
    if (fault) {
        struct place place = match_place(matcher, first, *at);
        struct text text = place_text(place);
        return slot_complain(matcher, *at, place, fits ? RULE_VALUE : RULE_DIMENSION,
                             text_format(arena, "`%.*s` %s", (int)text.length, text.start, fault),
                             fits ? NULL : dimension_phrase(arena, type));
    }
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
                                     measure_rows[dimension_measure(dimension)].name),
                         dimension_phrase(matcher->model->arena, type));
}

/* A label's water is for the area of its rate. Where it is stated for an area of its own, "in 40 to 80 mL per
 * m2 of water" or "... of water per m2", the water for the rate's is worked out to 4 digits. */
bool slot_read_label_water(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                           struct value *value)
{
    struct arena *arena = matcher->model->arena;
    uint32_t first = *at, rate = first;
    if (!slot_read_quantity(matcher, type, at, value))
        return false;
    bool behind = match_word(matcher, *at, "of") && match_word(matcher, *at + 1, "water");
    uint32_t per = behind ? *at + 2 : *at, end = per;
    struct dimension an_area = {.length = -2}, of_water = {0}, of_rate = {0};
    double water_factor = 1, rate_factor = 1;
    if (!at_per(matcher, per) || !read_per(matcher, &end, &water_factor, &of_water) ||
        !dimension_equal(of_water, an_area))
        return true;
    while (rate > matcher->first && !at_per(matcher, rate))
        rate--;
    uint32_t rate_end = rate;
    if (!at_per(matcher, rate) || !read_per(matcher, &rate_end, &rate_factor, &of_rate) ||
        !dimension_equal(of_rate, an_area))
        return true;
    double times = water_factor / rate_factor / value->unit->factor;
    const char *low = number_text(arena, value->number * times, 4),
               *high = number_text(arena, value->high * times, 4);
    bool range = value->high > value->number;
    const char *volumes =
        text_format(arena, "%s%s%s %s", low, range ? " to " : "", range ? high : "", value->unit->name);
    struct text area = place_text(match_place(matcher, match_next(matcher, rate), rate_end));
    const char *sentence = text_format(arena, "a label's water is for the area of its rate, here %.*s",
                                       (int)area.length, area.start);
    slot_complain(matcher, per, match_place(matcher, first, end), RULE_FORM, sentence,
                  text_format(arena, "for that area: `in %s of water`", volumes));
    if (matcher->failure.sentence == sentence)
        matcher->failure.meant = text_of(text_format(arena, "%s%s", volumes, behind ? " of water" : ""));
    return false;
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
