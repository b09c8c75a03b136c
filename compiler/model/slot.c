/* The values in a form's slots: one row of slot_types for each type. Its readers are in slot_word.c,
 * slot_number.c, slot_quantity.c, slot_price.c, slot_day.c and slot_scale.c. */
#include "compiler/model/slot.h"

#include <assert.h>

bool slot_token(struct matcher *matcher, const struct slot_type *type, uint32_t *at, enum token_kind kind)
{
    if (match_kind(matcher, *at) != kind)
        return match_expect(matcher, *at, type->description);
    *at = match_next(matcher, *at);
    return true;
}

/* ---- lists ---- */

/* Items between commas; a comma that begins another statement ends the list. */
static bool read_list(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                      struct value *value,
                      bool (*read)(struct matcher *, const struct slot_type *, uint32_t *, struct value *))
{
    VECTOR(struct value) list = {0};
    if (matcher->room && !matcher->room_taken) {
        list.items = matcher->room;
        list.capacity = LIST_ROOM;
        matcher->room_taken = true;
    }
    for (;;) {
        uint32_t first = *at;
        VECTOR_PUSH(arena_scratch(matcher->model->arena), &list, (struct value){0});
        struct value *item = &list.items[list.count - 1];
        if (!read(matcher, type, at, item))
            return false;
        item->place = match_place(matcher, first, *at);
        if (match_kind(matcher, *at) != TOKEN_COMMA)
            break;

        /* A comma may also end the statement where several stand on one line; then the next word is the first
         * of a statement and more follows it: in `scale a for P, b for K` another scale. */
        uint32_t next = match_next(matcher, *at), behind = match_next(matcher, next);
        enum token_kind after = match_kind(matcher, behind);
        bool head =
            match_kind(matcher, next) == TOKEN_WORD && form_find(matcher->block, slot_text(matcher, next));
        if (match_word(matcher, behind, "for") || (head && after != TOKEN_COMMA && after != TOKEN_END))
            break;
        *at = next;
    }
    value->items = list.items;
    value->count = list.count;
    return true;
}

/* ---- mixes ---- */

static const struct slot_type material = {.name = "name", .description = "a material"};

static bool read_mix_part(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                          struct value *value)
{
    return slot_read_percent(matcher, type, at, value) && slot_read_name(matcher, &material, at, value);
}

/* A single word is all of the mix. */
static bool read_mix(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    uint32_t first = *at;
    if (match_kind(matcher, *at) == TOKEN_WORD) { /* one material alone */
        value->items = ARENA_NEW(arena_scratch(matcher->model->arena), struct value);
        value->items->number = 1;
        value->count = 1;
        bool read = slot_read_name(matcher, &material, at, value->items);
        value->items->place = match_place(matcher, first, *at);
        return read;
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

/* ---- the types ---- */

static const struct slot_type slot_types[] = {
    {.name = "text", .description = "text between \" marks", .read = slot_read_text},
    {.name = "name", .description = "a name", .read = slot_read_name},
    {.name = "words", .description = "a name, which may be of several words", .read = slot_read_words},
    {.name = "names", .description = "names", .read = slot_read_name, .list = true},
    {.name = "number", .description = "a number", .read = slot_read_number},
    {.name = "price", .description = "a price such as 31.00", .read = slot_read_price},
    {.name = "count", .description = "a whole number", .read = slot_read_number, .whole = true},
    {.name = "percent", .description = "a percentage such as 30%", .read = slot_read_percent},
    {.name = "grade", .description = "a grade such as 14-20-10", .read = slot_read_grade},
    {.name = "date", .description = "a date such as 2027-04-17", .read = slot_read_date},
    {.name = "day", .description = "a day such as Apr 17 or 2027-04-17", .read = slot_read_day},
    {.name = "days", .description = "days such as Apr 17 or 2027-04-17", .read = slot_read_day, .list = true},
    {.name = "weekdays",
     .description = "days of the week such as Sat, Sun",
     .read = slot_read_weekday,
     .list = true},
    {.name = "clock", .description = "a time of day such as 18:00", .read = slot_read_clock},
    {.name = "nutrient", .description = "a nutrient such as N or P2O5", .read = slot_read_nutrient},
    {.name = "nutrients",
     .description = "nutrients such as N, P2O5",
     .read = slot_read_nutrient,
     .list = true},
    {.name = "mix", .description = "a material, or shares such as 60% compost, 40% sand", .read = read_mix},
    {.name = "shape", .description = "a shape such as rectangle 62 ft by 40 ft", .read = slot_read_shape},
    {.name = "length",
     .description = "a length such as 8 ft",
     .read = slot_read_quantity,
     .dimension = {.length = 1}},
    {.name = "distance",
     .description = "a length such as 12 ft, or 0 ft",
     .read = slot_read_quantity,
     .dimension = {.length = 1},
     .none = true},
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
    {.name = "mass-unit",
     .description = "a unit of mass such as g or oz",
     .read = slot_read_unit,
     .dimension = {.mass = 1}},
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
    {.name = "setting", .description = "a mark of the dial such as 12 or H", .read = slot_read_setting},
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
     .list = true,
     .items = "supplies"},
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
    {.name = "signed",
     .description = "a number such as 9 or -0.135",
     .read = slot_read_number,
     .negative = true},
    {.name = "numbers",
     .description = "numbers such as 7.0, 6.5, 6.0",
     .read = slot_read_number,
     .list = true},
    {.name = "terms",
     .description = "numbers with the rate they count, such as 9, -0.135, 0.0005 lb per 1000 sqft",
     .read = slot_read_terms,
     .dimension = {.mass = 1, .length = -2},
     .per = true,
     .negative = true},
    {.name = "level-terms",
     .description = "numbers with the level they count, such as -8.08, 0.832 ppm",
     .read = slot_read_terms,
     .share = true,
     .negative = true},
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
    {.name = "equivalent",
     .description = "a percentage such as 90%, at most 200%",
     .read = slot_read_percent,
     .doubled = true},
};
enum { SLOT_TYPE_COUNT = sizeof slot_types / sizeof *slot_types };

const struct slot_type *slot_type_at(size_t index)
{
    return index < SLOT_TYPE_COUNT ? &slot_types[index] : NULL;
}

const struct slot_type *slot_type_find(struct text type)
{
    for (size_t i = 0; i < SLOT_TYPE_COUNT; i++)
        if (*type.start == *slot_types[i].name && text_is(type, slot_types[i].name))
            return &slot_types[i];
    return NULL;
}

bool slot_read(struct matcher *matcher, const struct slot_type *type, struct text words, uint32_t *at,
               struct value *value)
{
    if (!type)
        return slot_read_choice(matcher, words, at, value);
    if (!type->list)
        return type->read(matcher, type, at, value);
    const struct slot_type *item = type->items ? slot_type_find(text_of(type->items)) : type;
    assert(item);
    return read_list(matcher, item, at, value, item->read);
}
