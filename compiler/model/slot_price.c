/* Prices in slots, with or without a sign of the plan's currency. */
#include "compiler/model/slot.h"

#include <string.h>

const char *stated_currency(struct arena *arena, const struct tree *tree)
{
    for (const struct statement *statement = tree->plan->first; statement;
         statement = statement_next(statement)) {
        uint32_t next = statement->first + 1;
        if (next < statement->end && text_is(token_text(&tree->tokens, statement->first), "currency") &&
            tree->tokens.items[next].kind == TOKEN_STRING)
            return text_string(arena, token_string(arena, token_text(&tree->tokens, next)));
    }
    return NULL;
}

/* What a sign before a price may stand for; a currency that the plan states has one of the words in it. */
static const struct {
    const char *sign;
    const char *words[6];
} currencies[] = {
    {"$", {"dollar", "USD", "AUD", "CAD", "NZD", "$"}},
    {"\u00a3", {"pound", "sterling", "GBP", "\u00a3"}},
    {"\u20ac", {"euro", "EUR", "\u20ac"}},
    {"\u00a5", {"yen", "yuan", "JPY", "CNY", "\u00a5"}},
};

/* Capitals or not. */
static bool holds(const char *text, struct text word)
{
    for (; strlen(text) >= word.length; text++)
        if (text_distance((struct text){text, word.length}, word) == 0)
            return true;
    return false;
}

static bool is_money(struct text sign, const char *currency)
{
    for (size_t i = 0; i < sizeof currencies / sizeof *currencies; i++)
        for (int word = 0; word < 6 && text_is(sign, currencies[i].sign) && currencies[i].words[word]; word++)
            if (holds(currency, text_of(currencies[i].words[word])))
                return true;
    return sign.length > 1 && holds(currency, sign);
}

/* "31.00", "$31.00", "AUD 31.00", "31.00 AUD": the money is the plan's own or it is not said which. */
bool slot_read_price(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    struct model *model = matcher->model;
    uint32_t first = *at, number = *at;
    bool before = match_kind(matcher, first) == TOKEN_MARK ||
                  (match_kind(matcher, first) == TOKEN_WORD && model->currency &&
                   is_money(slot_text(matcher, first), model->currency));
    if (before)
        number = match_next(matcher, first);
    if (match_kind(matcher, number) != TOKEN_NUMBER)
        return match_expect(matcher, number, type->description);
    if (!slot_number(matcher, number, &value->number))
        return false;
    *at = match_next(matcher, number);
    bool behind = !before && (match_kind(matcher, *at) == TOKEN_MARK ||
                              (match_kind(matcher, *at) == TOKEN_WORD && model->currency &&
                               is_money(slot_text(matcher, *at), model->currency)));
    struct text sign = slot_text(matcher, before ? first : *at), written = slot_text(matcher, number);
    if (behind)
        *at = match_next(matcher, *at);
    struct place place = match_place(matcher, first, *at);
    struct text all = place_text(place);
    if (value->number < 0)
        return slot_complain(matcher, *at, place, RULE_VALUE, "a price cannot be below zero", NULL);
    if (!before && !behind)
        return true;
    if (model->currency && is_money(sign, model->currency)) {
        match_respell(matcher, place, text_string(model->arena, written));
        return true;
    }
    const char *sentence =
        model->currency ? text_format(model->arena, "`%.*s` is not in the plan's currency, which is %s",
                                      (int)all.length, all.start, model->currency)
                        : text_format(model->arena, "`%.*s` is in a currency that the plan does not state",
                                      (int)all.length, all.start);
    const char *help =
        model->currency
            ? text_format(model->arena, "write `%.*s` if the price is in %s", (int)written.length,
                          written.start, model->currency)
            : text_format(model->arena,
                          "write `%.*s`, or add a line for all prices, such as: currency \"%.*s\"",
                          (int)written.length, written.start, (int)sign.length, sign.start);
    slot_complain(matcher, *at, place, RULE_VALUE, sentence, help);
    if (!model->currency && matcher->failure.sentence == sentence)
        matcher->failure.meant = written;
    return false;
}
