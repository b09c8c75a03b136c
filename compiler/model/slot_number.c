/* Values in slots that are plain numbers, and marks of a dial. */
#include "compiler/model/slot.h"

#include <math.h>
#include <string.h>

/* A number, or a whole one; below zero where its type has such. */
bool slot_read_number(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                      struct value *value)
{
    uint32_t first = *at;
    const char *fault = NULL;
    if (!slot_token(matcher, type, at, TOKEN_NUMBER) || !slot_number(matcher, first, &value->number))
        return false;
    if (type->whole &&
        (value->number < 1 || value->number > 10000 || value->number != (double)(int)value->number))
        fault = "a whole number from 1 to 10000 is needed here";
    else if (!type->negative && value->number < 0)
        fault = "a number here cannot be below zero";
    return !fault || slot_complain(matcher, first, slot_place(matcher, first), RULE_VALUE, fault, NULL);
}

/* A dial's mark: `number` is NAN where it is not a number but a letter or quoted text. */
bool slot_read_setting(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value)
{
    if (match_kind(matcher, *at) == TOKEN_NUMBER) {
        value->text = slot_text(matcher, *at);
        return slot_read_number(matcher, type, at, value);
    }
    value->number = NAN;
    return slot_read_name(matcher, type, at, value);
}

/* Against calcium carbonate there may be more than 100%: burnt lime neutralizes 179% of it. */
bool slot_read_percent(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value)
{
    uint32_t first = *at;
    if (!slot_token(matcher, type, at, TOKEN_PERCENT))
        return false;
    value->number = token_number(slot_text(matcher, first)) / 100;
    if (value->number >= 0 && value->number <= (type->doubled ? 2 : 1))
        return true;
    return slot_complain(matcher, first, slot_place(matcher, first), RULE_VALUE,
                         type->doubled ? "a calcium carbonate equivalent is at most 200%"
                                       : "a percentage is between 0% and 100%",
                         NULL);
}

/* By the scanner these are three numbers between hyphens. Of two nobody knows which is left out. */
bool slot_read_grade(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    uint32_t first = *at;
    if (match_kind(matcher, first) == TOKEN_RANGE) {
        struct text two = slot_text(matcher, first);
        double low = 0, high = 0;
        token_range(two, &low, &high);
        struct arena *arena = matcher->model->arena;
        return slot_complain(
            matcher, first, slot_place(matcher, first), RULE_VALUE,
            text_format(arena, "`%.*s` has two numbers, a grade has three", (int)two.length, two.start),
            text_format(arena, "write all of N-P2O5-K2O, such as %s-%s-0: 0 for what the product has none of",
                        number_text(arena, low, 4), number_text(arena, high, 4)));
    }
    if (!slot_token(matcher, type, at, TOKEN_GRADE))
        return false;
    struct text text = slot_text(matcher, first);
    value->count = 3;
    value->items = ARENA_ARRAY(arena_scratch(matcher->model->arena), value->count, struct value);
    for (size_t i = 0; i < value->count; i++) {
        const char *dash = memchr(text.start, '-', text.length);
        size_t length = dash ? (size_t)(dash - text.start) : text.length;
        value->items[i].number = token_number((struct text){text.start, length}) / 100;
        if (dash)
            text = (struct text){dash + 1, text.length - length - 1};
    }
    return true;
}
