/* The values in a form's slots: one row of slot_types for each type. */
#include "compiler/model/slot.h"

#include <math.h>
#include <string.h>

bool slot_token(struct matcher *matcher, const struct slot_type *type, uint32_t *at, enum token_kind kind)
{
    if (match_kind(matcher, *at) != kind)
        return match_expect(matcher, *at, type->description);
    *at = match_next(matcher, *at);
    return true;
}

/* ---- words and text ---- */

static bool read_text(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                      struct value *value)
{
    uint32_t first = *at;
    if (!slot_token(matcher, type, at, TOKEN_STRING))
        return false;
    value->text = token_string(matcher->model->arena, slot_text(matcher, first));
    return true;
}

struct text slot_name(const struct matcher *matcher, uint32_t at)
{
    struct text text = slot_text(matcher, at);
    return match_kind(matcher, at) == TOKEN_STRING ? token_string(matcher->model->arena, text) : text;
}

static bool read_name(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                      struct value *value)
{
    enum token_kind kind = match_kind(matcher, *at);
    if (kind != TOKEN_WORD && kind != TOKEN_STRING)
        return match_expect(matcher, *at, type->description);
    struct text text = slot_name(matcher, *at);
    if (!text.length)
        return slot_complain(matcher, *at, slot_place(matcher, *at), RULE_VALUE, "a name cannot be empty",
                             NULL);
    value->text = text;
    value->name = name_intern(matcher->model->names, text);
    *at = match_next(matcher, *at);
    return true;
}

enum { WORDS_JOINED = 3 };

/* "clay loam": one name, for which `prill format` writes a hyphen. A word that begins a statement is none of
 * it. */
static bool read_words(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value)
{
    struct model *model = matcher->model;
    bool word =
        match_kind(matcher, *at) == TOKEN_WORD && !block_has_head(matcher->block, slot_text(matcher, *at));
    if (!read_name(matcher, type, at, value))
        return false;
    for (int i = 1; i < WORDS_JOINED && word && match_kind(matcher, *at) == TOKEN_WORD &&
                    !block_has_head(matcher->block, slot_text(matcher, *at));
         i++) {
        struct text next = slot_text(matcher, *at);
        struct place gap = {slot_place(matcher, *at).source, slot_place(matcher, *at - 1).end,
                            slot_place(matcher, *at).start};
        value->text = text_of(text_format(model->arena, "%.*s-%.*s", (int)value->text.length,
                                          value->text.start, (int)next.length, next.start));
        value->name = name_intern(model->names, value->text);
        match_respell(matcher, gap, "-");
        *at = match_next(matcher, *at);
    }
    return true;
}

/* A comma may also end the statement where several stand on one line; then the next word is the first of a
 * statement and more follows it. */
static bool list_goes_on(const struct matcher *matcher, uint32_t at)
{
    if (match_kind(matcher, at) != TOKEN_COMMA)
        return false;
    uint32_t next = match_next(matcher, at), behind = match_next(matcher, next);
    if (match_word(matcher, behind,
                   "for")) /* `scale a for P, b for K`: another scale comes behind the comma */
        return false;
    if (match_kind(matcher, next) != TOKEN_WORD || !block_has_head(matcher->block, slot_text(matcher, next)))
        return true;
    enum token_kind after = match_kind(matcher, behind);
    return after == TOKEN_COMMA || after == TOKEN_END;
}

typedef bool read_item(struct matcher *, const struct slot_type *, uint32_t *, struct value *);

/* Items between commas; a comma that begins another statement ends the list. */
static bool read_list(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                      struct value *value, read_item *read)
{
    VECTOR(struct value) list = {0};
    for (;;) {
        struct value item = {0};
        uint32_t first = *at;
        if (!read(matcher, type, at, &item))
            return false;
        item.place = match_place(matcher, first, *at);
        VECTOR_PUSH(arena_scratch(matcher->model->arena), &list, item);
        if (!list_goes_on(matcher, *at))
            break;
        *at = match_next(matcher, *at);
    }
    value->items = list.items;
    value->count = list.count;
    return true;
}

static bool read_names(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value)
{
    return read_list(matcher, type, at, value, read_name);
}

static bool read_weekdays(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                          struct value *value)
{
    return read_list(matcher, type, at, value, slot_read_weekday);
}

/* <name:a|b|c>: the type is the list of words. */
static bool read_choice(struct matcher *matcher, struct text words, uint32_t *at, struct value *value)
{
    const char *word = words.start, *end = words.start + words.length;
    for (int index = 0; word < end; index++) {
        const char *bar = memchr(word, '|', (size_t)(end - word));
        struct text choice = {word, (size_t)((bar ? bar : end) - word)};
        if (match_kind(matcher, *at) == TOKEN_WORD && text_equal(slot_text(matcher, *at), choice)) {
            value->number = index;
            value->text = choice;
            *at = match_next(matcher, *at);
            return true;
        }
        match_expect_words(matcher, *at, word);
        word += choice.length + 1;
    }
    return false;
}

/* ---- nutrients ---- */

enum { SYMBOL_LENGTH = 6 }; /* of a nutrient, misspelt by a letter or two */

/* What labels and sheets call them. Of phosphorus and potassium some mean the element, some the oxide. */
static const struct {
    const char *name, *symbol, *other;
} nutrient_names[] = {
    {"nitrogen", "N", NULL},   {"phosphate", "P2O5", NULL}, {"phosphorus", "P2O5", "P"},
    {"potash", "K2O", NULL},   {"potassium", "K2O", "K"},   {"calcium", "Ca", NULL},
    {"magnesium", "Mg", NULL}, {"sulfur", "S", NULL},       {"sulphur", "S", NULL},
    {"iron", "Fe", NULL},      {"manganese", "Mn", NULL},   {"zinc", "Zn", NULL},
    {"copper", "Cu", NULL},    {"boron", "B", NULL},        {"molybdenum", "Mo", NULL},
};

/* "nitrogen": its symbol is proposed, or both it can mean. False where the word names none. */
static bool complain_of_nutrient_name(struct matcher *matcher, uint32_t at, struct text word)
{
    struct arena *arena = matcher->model->arena;
    for (size_t i = 0; i < sizeof nutrient_names / sizeof *nutrient_names; i++) {
        const char *symbol = nutrient_names[i].symbol, *other = nutrient_names[i].other;
        if (text_distance(word, text_of(nutrient_names[i].name)) > 0)
            continue;
        const char *sentence =
            text_format(arena, "`%.*s` is written by its symbol", (int)word.length, word.start);
        if (!other)
            slot_suggest(matcher, at, RULE_NUTRIENT, sentence, text_of(symbol), true);
        else
            slot_complain(matcher, at, slot_place(matcher, at), RULE_NUTRIENT, sentence,
                          text_format(arena,
                                      "write `%s` for the oxide that labels state, `%s` for the element",
                                      symbol, other));
        return true;
    }
    return false;
}

/* "N", "soluble N": where neither fits, a symbol that is nearly one is suggested. */
bool slot_read_nutrient(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                        struct value *value)
{
    if (match_kind(matcher, *at) != TOKEN_WORD)
        return match_expect(matcher, *at,
                            type->nutrient ? "a nutrient such as N or P2O5" : type->description);
    struct text word = slot_text(matcher, *at);
    bool soluble = text_is(word, "soluble"), slow = text_is(word, "slow");
    uint32_t here = soluble || slow ? match_next(matcher, *at) : *at;
    const struct nutrient_form *form = NULL;
    if (match_kind(matcher, here) == TOKEN_WORD)
        form = nutrient_find(slot_text(matcher, here));
    if (form && (soluble || slow))
        form = nutrient_part(form, slow);
    if (!form) {
        if (!soluble && !slow && complain_of_nutrient_name(matcher, *at, word))
            return false;
        bool symbol = !soluble && !slow && word.length <= SYMBOL_LENGTH;
        bool certain = false;
        const struct nutrient_form *near = symbol ? nutrient_nearest(word, &certain) : NULL;
        if (!near)
            return match_expect(matcher, here,
                                type->nutrient ? "a nutrient such as N or P2O5" : type->description);
        return slot_suggest(
            matcher, *at, RULE_NUTRIENT,
            text_format(matcher->model->arena, "`%.*s` is not a nutrient", (int)word.length, word.start),
            text_of(near->name), certain);
    }
    value->nutrient = form;
    *at = match_next(matcher, here);
    return true;
}

static bool read_nutrients(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                           struct value *value)
{
    return read_list(matcher, type, at, value, slot_read_nutrient);
}

/* ---- plain numbers ---- */

static bool read_number(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                        struct value *value)
{
    uint32_t first = *at;
    if (!slot_token(matcher, type, at, TOKEN_NUMBER) || !slot_number(matcher, first, &value->number))
        return false;
    if (value->number < 0)
        return slot_complain(matcher, first, slot_place(matcher, first), RULE_VALUE,
                             "a number here cannot be below zero", NULL);
    return true;
}

static bool read_numbers(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                         struct value *value)
{
    return read_list(matcher, type, at, value, read_number);
}

static bool read_count(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value)
{
    uint32_t first = *at;
    if (!slot_token(matcher, type, at, TOKEN_NUMBER) || !slot_number(matcher, first, &value->number))
        return false;
    if (value->number < 1 || value->number > 10000 || value->number != (double)(int)value->number)
        return slot_complain(matcher, first, slot_place(matcher, first), RULE_VALUE,
                             "a whole number from 1 to 10000 is needed here", NULL);
    return true;
}

/* A dial's mark: `number` is NAN where it is not a number but a letter or quoted text. */
static bool read_setting(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                         struct value *value)
{
    if (match_kind(matcher, *at) == TOKEN_NUMBER) {
        value->text = slot_text(matcher, *at);
        return read_number(matcher, type, at, value);
    }
    value->number = NAN;
    return read_name(matcher, type, at, value);
}

static bool read_share(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value, double most, const char *sentence)
{
    uint32_t first = *at;
    if (!slot_token(matcher, type, at, TOKEN_PERCENT))
        return false;
    value->number = token_number(slot_text(matcher, first)) / 100;
    if (value->number < 0 || value->number > most)
        return slot_complain(matcher, first, slot_place(matcher, first), RULE_VALUE, sentence, NULL);
    return true;
}

static bool read_percent(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                         struct value *value)
{
    return read_share(matcher, type, at, value, 1, "a percentage is between 0% and 100%");
}

/* Against calcium carbonate: burnt lime neutralizes 179% of it. */
static bool read_equivalent(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                            struct value *value)
{
    return read_share(matcher, type, at, value, 2, "a calcium carbonate equivalent is at most 200%");
}

/* The scanner has seen to it that these are three numbers between hyphens. Of two it cannot be told which is
 * left out.
 */
static bool read_grade(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value)
{
    uint32_t first = *at;
    if (match_kind(matcher, first) == TOKEN_RANGE) {
        struct text two = slot_text(matcher, first);
        return slot_complain(matcher, first, slot_place(matcher, first), RULE_VALUE,
                             text_format(matcher->model->arena, "`%.*s` has two numbers, a grade has three",
                                         (int)two.length, two.start),
                             "write all of N-P2O5-K2O, such as 20-0-10: 0 for what the product has none of");
    }
    if (!slot_token(matcher, type, at, TOKEN_GRADE))
        return false;
    struct text text = slot_text(matcher, first);
    for (int i = 0; i < 3; i++) {
        const char *dash = memchr(text.start, '-', text.length);
        size_t length = dash ? (size_t)(dash - text.start) : text.length;
        value->grade[i] = token_number((struct text){text.start, length}) / 100;
        if (dash)
            text = (struct text){dash + 1, text.length - length - 1};
    }
    return true;
}

static bool read_days(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                      struct value *value)
{
    return read_list(matcher, type, at, value, slot_read_day);
}

static bool read_supplies(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                          struct value *value)
{
    static const struct slot_type supplies = {.name = "supplies",
                                              .description =
                                                  "a nutrient's rate such as 2 to 4 lb N per 1000 sqft",
                                              .dimension = {.mass = 1, .length = -2},
                                              .per = true,
                                              .nutrient = true,
                                              .range = true};
    (void)type;
    return read_list(matcher, &supplies, at, value, slot_read_quantity);
}

/* ---- mixes and shapes ---- */

static bool read_mix_part(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                          struct value *value)
{
    static const struct slot_type material = {.name = "name", .description = "a material"};
    return read_percent(matcher, type, at, value) && read_name(matcher, &material, at, value);
}

/* A single word is all of the mix. */
static bool read_mix(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    uint32_t first = *at;
    if (match_kind(matcher, *at) == TOKEN_WORD) { /* one material alone */
        value->items = ARENA_NEW(arena_scratch(matcher->model->arena), struct value);
        value->items->number = 1;
        value->count = 1;
        static const struct slot_type material = {.name = "name", .description = "a material"};
        return read_name(matcher, &material, at, value->items);
    }
    if (!read_list(matcher, type, at, value, read_mix_part))
        return false;
    double sum = 0;
    for (size_t i = 0; i < value->count; i++)
        sum += value->items[i].number;
    if (sum > 1 + 1e-9 || sum < 1 - 1e-9)
        return slot_complain(matcher, *at, match_place(matcher, first, *at), RULE_VALUE,
                             text_format(matcher->model->arena, "the parts of the mix add up to %s%%",
                                         number_text(matcher->model->arena, sum * 100, 4)),
                             "they must add up to 100%");
    return true;
}

static bool read_shape_slot(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                            struct value *value)
{
    (void)type;
    value->shape = shape_read(matcher, at);
    return value->shape != NULL;
}

/* ---- the types ---- */

static const struct slot_type slot_types[] = {
    {.name = "text", .description = "text between \" marks", .read = read_text},
    {.name = "name", .description = "a name", .read = read_name},
    {.name = "words", .description = "a name, which may be of several words", .read = read_words},
    {.name = "names", .description = "names", .read = read_names},
    {.name = "number", .description = "a number", .read = read_number},
    {.name = "price", .description = "a price such as 31.00", .read = slot_read_price},
    {.name = "count", .description = "a whole number", .read = read_count},
    {.name = "percent", .description = "a percentage such as 30%", .read = read_percent},
    {.name = "grade", .description = "a grade such as 14-20-10", .read = read_grade},
    {.name = "date", .description = "a date such as 2027-04-17", .read = slot_read_date},
    {.name = "day", .description = "a day such as Apr 17 or 2027-04-17", .read = slot_read_day},
    {.name = "days", .description = "days such as Apr 17 or 2027-04-17", .read = read_days},
    {.name = "weekdays", .description = "days of the week such as Sat, Sun", .read = read_weekdays},
    {.name = "clock", .description = "a time of day such as 18:00", .read = slot_read_clock},
    {.name = "nutrient", .description = "a nutrient such as N or P2O5", .read = slot_read_nutrient},
    {.name = "nutrients", .description = "nutrients such as N, P2O5", .read = read_nutrients},
    {.name = "mix", .description = "a material, or shares such as 60% compost, 40% sand", .read = read_mix},
    {.name = "shape", .description = "a shape such as rectangle 62 ft by 40 ft", .read = read_shape_slot},
    {.name = "length",
     .description = "a length such as 8 ft",
     .read = slot_read_quantity,
     .dimension = {.length = 1}},
    {.name = "area",
     .description = "an area such as 640 sqft",
     .read = slot_read_quantity,
     .dimension = {.length = 2}},
    {.name = "volume",
     .description = "a volume such as 4 gal",
     .read = slot_read_quantity,
     .dimension = {.length = 3}},
    {.name = "volumes",
     .description = "volumes such as 1 to 2 gal",
     .read = slot_read_label_water,
     .dimension = {.length = 3},
     .range = true},
    {.name = "mass",
     .description = "a mass such as 40 lb",
     .read = slot_read_quantity,
     .dimension = {.mass = 1}},
    {.name = "amount",
     .description = "a mass or volume such as 40 lb",
     .read = slot_read_quantity,
     .dimension = {.mass = 1},
     .other = {.length = 3}},
    {.name = "amounts",
     .description = "masses or volumes such as 1 to 2500 lb",
     .read = slot_read_quantity,
     .dimension = {.mass = 1},
     .other = {.length = 3},
     .range = true},
    {.name = "temperature",
     .description = "a temperature such as 85 F",
     .read = slot_read_quantity,
     .dimension = {.temperature = 1}},
    {.name = "temperature-unit",
     .description = "F or C",
     .read = slot_read_unit,
     .dimension = {.temperature = 1}},
    {.name = "length-unit",
     .description = "a unit of length such as in or mm",
     .read = slot_read_unit,
     .dimension = {.length = 1}},
    {.name = "time",
     .description = "a time such as 42 days",
     .read = slot_read_time,
     .dimension = {.time = 1},
     .other = {.month = 1}},
    {.name = "seconds",
     .description = "a time such as 30 seconds",
     .read = slot_read_quantity,
     .dimension = {.time = 1}},
    {.name = "speed",
     .description = "a speed such as 3 mph",
     .read = slot_read_quantity,
     .dimension = {.length = 1, .time = -1}},
    {.name = "flow",
     .description = "a volume per time such as 0.2 gal per min",
     .read = slot_read_quantity,
     .dimension = {.length = 3, .time = -1}},
    {.name = "setting", .description = "a mark of the dial such as 12 or H", .read = read_setting},
    {.name = "density",
     .description = "a mass per volume such as 10.6 lb per gal",
     .read = slot_read_quantity,
     .dimension = {.mass = 1, .length = -3},
     .per = true},
    {.name = "densities",
     .description = "masses per volume such as 0.8 to 2 kg per L",
     .read = slot_read_quantity,
     .dimension = {.mass = 1, .length = -3},
     .per = true,
     .range = true},
    {.name = "output",
     .description = "a volume per area such as 1 gal per 1000 sqft",
     .read = slot_read_quantity,
     .dimension = {.length = 1},
     .per = true},
    {.name = "rate",
     .description = "a rate such as 4 lb per 1000 sqft",
     .read = slot_read_quantity,
     .dimension = {.mass = 1, .length = -2},
     .other = {.length = 1},
     .per = true},
    {.name = "rates",
     .description = "a rate such as 2 to 6 lb per 1000 sqft",
     .read = slot_read_quantity,
     .dimension = {.mass = 1, .length = -2},
     .other = {.length = 1},
     .per = true,
     .range = true},
    {.name = "supply",
     .description = "a nutrient's rate such as 0.75 lb N per 1000 sqft",
     .read = slot_read_quantity,
     .dimension = {.mass = 1, .length = -2},
     .per = true,
     .nutrient = true},
    {.name = "supplies",
     .description = "a nutrient's rate such as 2 to 4 lb N per 1000 sqft",
     .read = slot_read_quantity,
     .dimension = {.mass = 1, .length = -2},
     .per = true,
     .nutrient = true,
     .range = true},
    {.name = "supply-list",
     .description = "nutrients' rates such as 1 lb P2O5 per 1000 sqft, 2 lb K2O per 1000 sqft",
     .read = read_supplies},
    {.name = "level", .description = "a level such as 21 ppm", .read = slot_read_level},
    {.name = "levels", .description = "levels such as 25 to 45 ppm", .read = slot_read_level, .range = true},
    {.name = "level-unit",
     .description = "ppm, lb per acre or index",
     .read = slot_read_level_unit,
     .share = true},
    {.name = "charge-unit",
     .description = "meq per 100 g or meq per 100 mL",
     .read = slot_read_charge_unit,
     .dimension = {.mass = -1, .charge = 1},
     .other = {.length = -3, .charge = 1}},
    {.name = "signed", .description = "a number such as 9 or -0.135", .read = slot_read_signed},
    {.name = "numbers", .description = "numbers such as 7.0, 6.5, 6.0", .read = read_numbers},
    {.name = "terms",
     .description = "numbers with the rate they count, such as 9, -0.135, 0.0005 lb per 1000 sqft",
     .read = slot_read_terms,
     .dimension = {.mass = 1, .length = -2},
     .per = true},
    {.name = "level-terms",
     .description = "numbers with the level they count, such as -8.08, 0.832 ppm",
     .read = slot_read_terms,
     .share = true},
    {.name = "mass-rate",
     .description = "a mass per area such as 50 lb per 1000 sqft",
     .read = slot_read_quantity,
     .dimension = {.mass = 1, .length = -2},
     .per = true},
    {.name = "content",
     .description = "a mass by mass such as 1680 lb per ton",
     .read = slot_read_quantity,
     .per = true,
     .none = true},
    {.name = "acidity",
     .description = "an acidity such as 2.6 meq per 100 g",
     .read = slot_read_quantity,
     .dimension = {.mass = -1, .charge = 1},
     .other = {.length = -3, .charge = 1},
     .per = true},
    {.name = "equivalent", .description = "a percentage such as 90%, at most 200%", .read = read_equivalent},
};
enum { SLOT_TYPE_COUNT = sizeof slot_types / sizeof *slot_types };

const char *slot_type_name(size_t index)
{
    return index < SLOT_TYPE_COUNT ? slot_types[index].name : NULL;
}

const char *slot_type_description(size_t index)
{
    return index < SLOT_TYPE_COUNT ? slot_types[index].description : NULL;
}

const struct slot_type *slot_type_find(struct text type)
{
    for (size_t i = 0; i < SLOT_TYPE_COUNT; i++)
        if (text_is(type, slot_types[i].name))
            return &slot_types[i];
    return NULL;
}

bool slot_read(struct matcher *matcher, const struct slot_type *type, struct text words, uint32_t *at,
               struct value *value)
{
    return type ? type->read(matcher, type, at, value) : read_choice(matcher, words, at, value);
}
