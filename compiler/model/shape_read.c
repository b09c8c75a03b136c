/* Shapes as a plan writes them: `rectangle 62 ft by 40 ft, less circle 9 ft across`. */
#include "compiler/model/slot.h"

#include <string.h>

struct shape_form {
    const char *word;
    enum shape_kind kind;
    const char *pattern; /* after the word: <> a length, words as they are; ... further ones after commas */
};

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
};
enum { SHAPE_FORM_COUNT = sizeof shape_forms / sizeof *shape_forms, SHAPE_SIZE_LIMIT = 4000 };

struct sizes {
    double *items;
    size_t count, capacity;
};

static bool read_size(struct matcher *matcher, uint32_t *at, struct sizes *sizes, bool area, bool corner)
{
    static const struct slot_type length = {
        .name = "length", .description = "a length such as 8 ft", .dimension = {.length = 1}};
    static const struct slot_type whole = {
        .name = "area", .description = "an area such as 640 sqft", .dimension = {.length = 2}};
    static const struct slot_type place = {
        .name = "corner", .description = "a length such as 8 ft", .dimension = {.length = 1}, .zero = true};
    struct value value = {0};
    if (!slot_read_quantity(matcher, area ? &whole : corner ? &place : &length, at, &value))
        return false;
    VECTOR_PUSH(matcher->model->arena, sizes, value.number);
    return true;
}

static bool mark(struct matcher *matcher, uint32_t *at, enum token_kind kind)
{
    if (match_kind(matcher, *at) != kind)
        return match_expect(matcher, *at, token_description(kind));
    *at = match_next(matcher, *at);
    return true;
}

/* A comma that goes on with more of the same, and not with `less`, `plus` or another part of the statement.
 */
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

static bool match_size_pattern(struct matcher *matcher, const char *pattern, uint32_t *at,
                               struct sizes *sizes)
{
    bool corners = strchr(pattern, '(') != NULL;
    const char *again = pattern;
    while (*pattern) {
        bool fits = true;
        if (*pattern == ' ') {
            pattern++;
        } else if (*pattern == '<' || *pattern == '[') {
            again = corners ? again : pattern;
            fits = read_size(matcher, at, sizes, *pattern == '[', corners);
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
            size_t length = strcspn(pattern, " ");
            struct text word = {pattern, length};
            if (match_kind(matcher, *at) != TOKEN_WORD || !text_equal(slot_text(matcher, *at), word))
                return match_expect_words(matcher, *at, pattern);
            *at = match_next(matcher, *at);
            pattern += length;
        }
        if (!fits)
            return false;
    }
    return true;
}

static bool expect_shape(struct matcher *matcher, uint32_t at)
{
    for (size_t i = 0; i < SHAPE_FORM_COUNT; i++)
        match_expect_words(matcher, at, shape_forms[i].word);
    return false;
}

static bool read_part(struct matcher *matcher, uint32_t *at, struct shape_part *part)
{
    uint32_t first = *at;
    if (match_kind(matcher, *at) == TOKEN_OPEN_GROUP) {
        *at = match_next(matcher, *at);
        part->kind = SHAPE_GROUP;
        part->group = shape_read(matcher, at);
        if (!part->group || !mark(matcher, at, TOKEN_CLOSE_GROUP))
            return false;
        part->place = match_place(matcher, first, *at);
        return true;
    }
    bool known = false;
    for (size_t i = 0; i < SHAPE_FORM_COUNT; i++) {
        if (!match_word(matcher, first, shape_forms[i].word))
            continue;
        struct sizes sizes = {0};
        known = true;
        *at = match_next(matcher, first);
        if (!match_size_pattern(matcher, shape_forms[i].pattern, at, &sizes))
            continue;
        *part = (struct shape_part){.less = part->less,
                                    .kind = shape_forms[i].kind,
                                    .sizes = sizes.items,
                                    .size_count = sizes.count,
                                    .place = match_place(matcher, first, *at)};
        return true;
    }
    return known ? false : expect_shape(matcher, first);
}

/* The parser bounds how deep groups nest, so this may call itself. */
struct shape *shape_read(struct matcher *matcher, uint32_t *at)
{
    struct shape *shape = ARENA_NEW(matcher->model->arena, struct shape);
    VECTOR(struct shape_part) parts = {0};
    uint32_t first = *at;
    struct shape_part part = {0};
    for (;;) {
        if (!read_part(matcher, at, &part))
            return NULL;
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
    return shape;
}
