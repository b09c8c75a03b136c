/* Values in slots that are words: text, names, choices, nutrients. */
#include "compiler/model/slot.h"

#include <string.h>

bool slot_read_text(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
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

bool slot_read_name(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    enum token_kind kind = match_kind(matcher, *at);
    if (kind != TOKEN_WORD && kind != TOKEN_STRING)
        return match_expect(matcher, *at, type->description);
    struct text text = kind == TOKEN_WORD ? slot_text(matcher, *at) : slot_name(matcher, *at);
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
bool slot_read_words(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value)
{
    struct model *model = matcher->model;
    bool word = match_kind(matcher, *at) == TOKEN_WORD && !form_find(matcher->block, slot_text(matcher, *at));
    struct text head = form_head(matcher->form);
    if (!slot_read_name(matcher, type, at, value))
        return false;
    for (int i = 1; i < WORDS_JOINED && word && match_kind(matcher, *at) == TOKEN_WORD &&
                    !form_find(matcher->block, slot_text(matcher, *at));
         i++) {
        struct text next = slot_text(matcher, *at);
        if (text_is(next, "and") || text_is(next, "or") || text_is(next, "with"))
            return slot_complain(matcher, *at, slot_place(matcher, *at), RULE_FORM,
                                 text_format(model->arena, "a %s has only one `%s`",
                                             block_kind_name(matcher->block),
                                             text_string(model->arena, form_head(matcher->form))),
                                 "write the main one, or make a lawn of each");
        struct place gap = {slot_place(matcher, *at).source, slot_place(matcher, *at - 1).end,
                            slot_place(matcher, *at).start};
        value->text = text_of(text_format(model->arena, "%.*s-%.*s", (int)value->text.length,
                                          value->text.start, (int)next.length, next.start));
        value->name = name_intern(model->names, value->text);
        match_respell(matcher, gap, "-");
        *at = match_next(matcher, *at);
    }
    /* "grass bermuda grass" */
    uint32_t behind = match_next(matcher, *at);
    if (word && match_kind(matcher, *at) == TOKEN_WORD && text_equal(slot_text(matcher, *at), head) &&
        (match_kind(matcher, behind) == TOKEN_END || match_kind(matcher, behind) == TOKEN_COMMA)) {
        struct place again = slot_place(matcher, *at);
        again.start = slot_place(matcher, *at - 1).end;
        match_respell(matcher, again, "");
        *at = behind;
    }
    return true;
}

/* <name:a|b|c>: the type is the list of words. */
bool slot_read_choice(struct matcher *matcher, struct text words, uint32_t *at, struct value *value)
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
struct nutrient_name {
    const char *name, *symbol, *other;
};
static const struct nutrient_name nutrient_names[] = {
    {"nitrogen", "N", NULL},   {"phosphate", "P2O5", NULL}, {"phosphorus", "P2O5", "P"},
    {"potash", "K2O", NULL},   {"potassium", "K2O", "K"},   {"calcium", "Ca", NULL},
    {"magnesium", "Mg", NULL}, {"sulfur", "S", NULL},       {"sulphur", "S", NULL},
    {"iron", "Fe", NULL},      {"manganese", "Mn", NULL},   {"zinc", "Zn", NULL},
    {"copper", "Cu", NULL},    {"boron", "B", NULL},        {"molybdenum", "Mo", NULL},
};

/* In any case of letters. */
static const struct nutrient_name *nutrient_named(struct text word)
{
    for (size_t i = 0; i < sizeof nutrient_names / sizeof *nutrient_names; i++)
        if (strlen(nutrient_names[i].name) == word.length &&
            text_distance(word, text_of(nutrient_names[i].name)) == 0)
            return &nutrient_names[i];
    return NULL;
}

const char *nutrient_symbol(const struct matcher *matcher, uint32_t at)
{
    if (match_kind(matcher, at) != TOKEN_WORD)
        return NULL;
    struct text word = slot_text(matcher, at);
    if (nutrient_find(word))
        return text_string(matcher->model->arena, word);
    const struct nutrient_name *named = nutrient_named(word);
    return named && !named->other ? named->symbol : NULL;
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
        struct arena *arena = matcher->model->arena;
        /* "nitrogen": its symbol is proposed, or both it can mean. */
        const struct nutrient_name *named = soluble || slow ? NULL : nutrient_named(word);
        if (named) {
            const char *sentence =
                text_format(arena, "`%.*s` is written by its symbol", (int)word.length, word.start);
            if (!named->other)
                return slot_suggest(matcher, *at, RULE_NUTRIENT, sentence, text_of(named->symbol), true);
            return slot_complain(
                matcher, *at, slot_place(matcher, *at), RULE_NUTRIENT, sentence,
                text_format(arena, "write `%s` for the oxide that labels state, `%s` for the element",
                            named->symbol, named->other));
        }
        bool symbol = !soluble && !slow && word.length <= SYMBOL_LENGTH;
        bool certain = false;
        const struct nutrient_form *near = symbol ? nutrient_nearest(word, &certain) : NULL;
        if (!near)
            return match_expect(matcher, here,
                                type->nutrient ? "a nutrient such as N or P2O5" : type->description);
        bool zero = certain && memchr(word.start, '0', word.length) && strchr(near->name, 'O');
        const char *words =
            zero ? text_format(arena, "has the digit 0 where `%s` has the letter O", near->name)
                 : "is not a nutrient";
        return slot_suggest(matcher, *at, RULE_NUTRIENT,
                            text_format(arena, "`%.*s` %s", (int)word.length, word.start, words),
                            text_of(near->name), certain);
    }
    value->nutrient = form;
    *at = match_next(matcher, here);
    return true;
}
