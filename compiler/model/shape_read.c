/* Shapes as a plan writes them: `rectangle 62 ft by 40 ft, less circle 9 ft across`. */
#include "compiler/model/slot.h"

#include <string.h>

struct shape_form {
    const char *word;
    enum shape_kind kind;
    const char *pattern; /* after the word: <> a length, words as they are; ... further ones after commas */
};

/* The last two are the first ones without their word: an area, and two sides. */
static const struct shape_form shape_forms[] = {
    {"area", SHAPE_AREA, "[]"},
    {"rectangle", SHAPE_RECTANGLE, "<> by <>"},
    {"square", SHAPE_SQUARE, "<>"},
    {"circle", SHAPE_RADIUS, "radius <>"},
    {"circle", SHAPE_CIRCLE, "<> across"},
    {"triangle", SHAPE_SIDES, "sides <> , <> , <>"},
    {"triangle", SHAPE_TRIANGLE, "<> by <>"},
    {"trapezoid", SHAPE_TRAPEZOID, "<> and <> by <>"},
    {"ellipse", SHAPE_ELLIPSE, "<> by <>"},
    {"polygon", SHAPE_POLYGON, "(<> , <>) ..."},
    {"offsets", SHAPE_OFFSETS, "every <> : <> ..."},
    {NULL, SHAPE_AREA, "[]"},
    {NULL, SHAPE_RECTANGLE, "<> by <>"},
};
enum { SHAPE_FORM_COUNT = sizeof shape_forms / sizeof *shape_forms, SHAPE_SIZE_LIMIT = 4000 };

struct sizes {
    double *items;
    size_t count, capacity;
};

/* `by`, or the sign of "20 x 15 ft". */
static bool at_by(const struct matcher *matcher, uint32_t at)
{
    struct text text = slot_text(matcher, at);
    enum token_kind kind = match_kind(matcher, at);
    return match_word(matcher, at, "by") ||
           ((kind == TOKEN_WORD || kind == TOKEN_MARK) &&
            (text_is(text, "x") || text_is(text, "X") || text_is(text, "\u00d7") || text_is(text, "*")));
}

static bool mark(struct matcher *matcher, uint32_t *at, enum token_kind kind)
{
    if (match_kind(matcher, *at) != kind)
        return match_expect(matcher, *at, token_description(kind));
    *at = match_next(matcher, *at);
    return true;
}

/* A comma that goes on with more of the same, not with `less`, `plus` or another part of the statement. */
static bool more_follows(const struct matcher *matcher, uint32_t at, bool corners)
{
    if (match_kind(matcher, at) != TOKEN_COMMA)
        return false;
    uint32_t next = match_next(matcher, at);
    if (corners)
        return match_kind(matcher, next) == TOKEN_OPEN_GROUP;
    if (match_kind(matcher, next) != TOKEN_NUMBER)
        return false;
    /* "..., 12 ft from water" is no further width */
    for (uint32_t i = next; match_kind(matcher, i) != TOKEN_END && match_kind(matcher, i) != TOKEN_COMMA;
         i = match_next(matcher, i))
        if (match_word(matcher, i, "from"))
            return false;
    return true;
}

/* The measures of a shape by its pattern: what stands behind the word. */
static bool match_size_pattern(struct matcher *matcher, const char *pattern, uint32_t *at,
                               struct sizes *sizes)
{
    bool corners = strchr(pattern, '(') != NULL;
    struct slot_type type = *slot_type_find(*pattern == '[' ? TEXT("area") : TEXT("length"));
    type.zero = corners;
    const char *again = pattern;
    uint32_t alone = 0; /* the token of a side whose unit is still to come */
    while (*pattern) {
        bool fits = true;
        if (*pattern == ' ') {
            pattern++;
        } else if (*pattern == '<' || *pattern == '[') {
            struct value value = {0};
            uint32_t side = *at, next = match_next(matcher, side);
            again = corners ? again : pattern;
            /* "20 x 15 ft": the unit behind the second side is the first one's too. */
            if (strncmp(pattern, "<> by", 5) == 0 && match_kind(matcher, side) == TOKEN_NUMBER &&
                at_by(matcher, next) && match_kind(matcher, match_next(matcher, next)) == TOKEN_NUMBER)
                value.number = token_number(slot_text(matcher, side));
            if (value.number > 0 && value.number <= 1e15) {
                alone = side;
                *at = next;
            } else {
                fits = slot_read_quantity(matcher, &type, at, &value);
            }
            if (fits && alone && alone != side) {
                struct place place = slot_place(matcher, alone);
                sizes->items[sizes->count - 1] *= value.unit->factor;
                place.start = place.end;
                match_respell(matcher, place, text_format(matcher->model->arena, " %s", value.unit->name));
            }
            VECTOR_PUSH(matcher->model->arena, sizes, value.number);
            pattern += 2;
        } else if (strchr("(),:", *pattern)) {
            static const enum token_kind kinds[] = {TOKEN_OPEN_GROUP, TOKEN_CLOSE_GROUP, TOKEN_COMMA,
                                                    TOKEN_COLON};
            fits = mark(matcher, at, kinds[strchr("(),:", *pattern) - "(),:"]);
            pattern++;
        } else if (*pattern == '.') {
            if (!more_follows(matcher, *at, corners) || sizes->count >= SHAPE_SIZE_LIMIT)
                return true;
            *at = match_next(matcher, *at);
            pattern = again;
        } else {
            struct text word = {pattern, strcspn(pattern, " ")};
            bool there = match_kind(matcher, *at) == TOKEN_WORD && text_equal(slot_text(matcher, *at), word);
            if (!there && !(text_is(word, "by") && at_by(matcher, *at)))
                return match_expect_words(matcher, *at, pattern);
            if (!there) { /* "20x15": with a blank on either side */
                struct place place = slot_place(matcher, *at);
                place.start = slot_place(matcher, *at - 1).end;
                place.end = slot_place(matcher, *at + 1).start;
                match_respell(matcher, place, " by ");
            }
            *at = match_next(matcher, *at);
            pattern += word.length;
        }
        if (!fits)
            return false;
    }
    return true;
}

/* Two sides without a word are a rectangle, but not where the zone's own name speaks of another shape, whose
 * area is smaller by a fifth or more. */
static bool has_one_shape(struct matcher *matcher, uint32_t first, uint32_t at)
{
    static const struct {
        const char *word, *shape;
    } words[] = {{"oval", "an ellipse"},     {"ellipse", "an ellipse"},    {"elliptical", "an ellipse"},
                 {"round", "an ellipse"},    {"roundabout", "an ellipse"}, {"circle", "an ellipse"},
                 {"circular", "an ellipse"}, {"triangle", "a triangle"},   {"triangular", "a triangle"}};
    struct arena *arena = matcher->model->arena;
    struct place place = match_place(matcher, first, at);
    struct text name = slot_name(matcher, first - 1), sides = place_text(place);
    for (size_t start = 0, length = 0; start < name.length; start += length + 1) {
        struct text word = {name.start + start, name.length - start};
        const char *hyphen = memchr(word.start, '-', word.length);
        word.length = length = hyphen ? (size_t)(hyphen - word.start) : word.length;
        for (size_t i = 0; i < sizeof words / sizeof *words; i++)
            if (text_distance(word, text_of(words[i].word)) == 0)
                return slot_complain(
                    matcher, at, place, RULE_FORM,
                    text_format(arena, "`%.*s` with two sides could be a rectangle or %s", (int)name.length,
                                name.start, words[i].shape),
                    text_format(arena, "write `rectangle %.*s` or `%s %.*s`", (int)sides.length, sides.start,
                                strchr(words[i].shape, ' ') + 1, (int)sides.length, sides.start));
    }
    return true;
}

/* A shape by its word; two sides or an area without one are a rectangle or the area. A part to add or take
 * away keeps its word, since a triangle has two sides as well. */
static bool read_part(struct matcher *matcher, const struct slot_type *type, uint32_t *at, bool begins,
                      struct shape_part *part)
{
    uint32_t first = *at;
    if (match_kind(matcher, *at) == TOKEN_OPEN_GROUP) {
        *at = match_next(matcher, *at);
        part->kind = SHAPE_GROUP;
        struct value group = {0};
        if (!slot_read_shape(matcher, type, at, &group) || !mark(matcher, at, TOKEN_CLOSE_GROUP))
            return false;
        part->group = group.shape;
        part->place = match_place(matcher, first, *at);
        return true;
    }
    bool bare = begins && match_kind(matcher, first) == TOKEN_NUMBER, known = bare;
    for (size_t i = 0; i < SHAPE_FORM_COUNT; i++) {
        const char *word = shape_forms[i].word;
        if (word ? !match_word(matcher, first, word) : !bare)
            continue;
        struct sizes sizes = {0};
        uint32_t spellings = matcher->spellings.count;
        known = true;
        *at = word ? match_next(matcher, first) : first;
        if (!match_size_pattern(matcher, shape_forms[i].pattern, at, &sizes)) {
            matcher->spellings.count = spellings;
            continue;
        }
        if (!word && shape_forms[i].kind == SHAPE_RECTANGLE && first > matcher->first &&
            !has_one_shape(matcher, first, *at))
            return false;
        *part = (struct shape_part){.less = part->less,
                                    .kind = shape_forms[i].kind,
                                    .sizes = sizes.items,
                                    .size_count = sizes.count,
                                    .place = match_place(matcher, first, *at)};
        struct place start = {part->place.source, part->place.start, part->place.start};
        if (!word)
            match_respell(matcher, start, part->kind == SHAPE_AREA ? "area " : "rectangle ");
        return true;
    }
    for (size_t i = 0; i < SHAPE_FORM_COUNT && !known; i++)
        if (shape_forms[i].word)
            match_expect_words(matcher, first, shape_forms[i].word);
    return false;
}

/* The parser bounds how deep groups nest, so this may call itself. */
bool slot_read_shape(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    struct shape *shape = ARENA_NEW(matcher->model->arena, struct shape);
    VECTOR(struct shape_part) parts = {0};
    uint32_t first = *at;
    struct shape_part part = {0};
    for (;;) {
        if (!read_part(matcher, type, at, !parts.count, &part))
            return false;
        VECTOR_PUSH(matcher->model->arena, &parts, part);
        uint32_t next = match_kind(matcher, *at) == TOKEN_COMMA ? match_next(matcher, *at) : *at;
        bool less = match_word(matcher, next, "less"), plus = match_word(matcher, next, "plus");
        if (!less && !plus) {
            match_expect_words(matcher, next, "less");
            match_expect_words(matcher, next, "plus");
            break;
        }
        part = (struct shape_part){.less = less};
        *at = match_next(matcher, next);
    }
    shape->parts = parts.items;
    shape->part_count = parts.count;
    shape->place = match_place(matcher, first, *at);
    value->shape = shape;
    return true;
}
