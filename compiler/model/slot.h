/* The types of slots, between slot.c (the table), slot_word.c, slot_number.c, slot_day.c, slot_quantity.c,
 * slot_price.c and slot_scale.c. */
#ifndef PRILL_MODEL_SLOT_H
#define PRILL_MODEL_SLOT_H

#include "compiler/model/form_match.h"

struct slot_type {
    const char *name;
    const char *description; /* for "expected ..." and the documentation */
    bool (*read)(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value);
    bool list; /* several of them between commas: value->items */
    struct dimension dimension,
        other;         /* what a quantity must be; `other` too where it is not a plain number */
    bool range, per;   /* "2 to 6 ..." may be written; something must stand after "per" */
    bool nutrient;     /* a nutrient stands with the unit: "0.75 lb N per 1000 sqft" */
    bool share;        /* a plain share such as ppm is allowed too */
    bool zero;         /* any value is, not only those above zero: a corner's place */
    bool doubled;      /* a percentage may be up to 200% */
    bool none;         /* 0 is allowed beside those above it: no acidity */
    bool whole;        /* a plain number is one from 1 to 10000 without a fraction */
    bool negative;     /* a plain number may be below zero */
    const char *items; /* of a list, the type of its items where that is another */
};

/* For documentation: NULL after the last. */
const struct slot_type *slot_type_at(size_t index);

static inline struct text slot_text(const struct matcher *matcher, uint32_t at)
{
    return token_text(&matcher->tree->tokens, at);
}

static inline struct place slot_place(const struct matcher *matcher, uint32_t at)
{
    return token_place(&matcher->tree->tokens, at);
}

struct text slot_name(const struct matcher *matcher, uint32_t at); /* of a word, or of quoted text */
bool slot_complain(struct matcher *matcher, uint32_t at, struct place place, enum model_rule rule,
                   const char *sentence, const char *help);
/* The same with "did you mean ...?", and the fix where that is certain; without where `near` is empty. */
bool slot_suggest(struct matcher *matcher, uint32_t at, enum model_rule rule, const char *sentence,
                  struct text near, bool certain);
/* The number of a number token: false after a complaint where it has no finite value of use. */
bool slot_number(struct matcher *matcher, uint32_t at, double *number);

/* Moves over one token of this kind; where another stands the type's description was expected. */
bool slot_token(struct matcher *matcher, const struct slot_type *type, uint32_t *at, enum token_kind kind);

/* Words (slot_word.c); `words`: those of a choice, "a|b|c". */
bool slot_read_text(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value);
bool slot_read_name(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value);
bool slot_read_words(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                     struct value *value);
bool slot_read_choice(struct matcher *matcher, struct text words, uint32_t *at, struct value *value);

/* Plain numbers (slot_number.c). A setting is a mark of a dial: value->number is NAN where it is a letter or
 * quoted text. A percentage is a fraction in value->number. */
bool slot_read_number(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                      struct value *value);
bool slot_read_setting(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value);
bool slot_read_percent(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value);
bool slot_read_grade(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                     struct value *value);

/* A shape (shape_read.c), measured when its zone is built. */
bool slot_read_shape(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                     struct value *value);

/* What the text of a plan states as its currency, wherever it does; NULL where it states none. */
const char *stated_currency(struct arena *arena, const struct tree *tree);
/* A price: its number, before or behind it the sign or name of the plan's money. */
bool slot_read_price(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                     struct value *value);

bool slot_read_date(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value);
bool slot_read_day(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value);
bool slot_read_weekday(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                       struct value *value);
bool slot_read_clock(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                     struct value *value);

bool slot_read_nutrient(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                        struct value *value);
/* One number or, where the type takes one, a range; as written, without a unit. */
bool slot_read_range(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                     struct value *value);
bool slot_read_quantity(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                        struct value *value);
bool slot_read_label_water(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                           struct value *value);
bool slot_read_time(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value);
/* A unit alone: value->number is its factor, value->high its zero (SI = (written + zero) * factor). */
bool slot_read_unit(struct matcher *matcher, const struct slot_type *type, uint32_t *at, struct value *value);

/* Of scales (slot_scale.c): a level of the soil or an index; what levels are counted in (value->number is the
 * share of the soil that 1 is); several numbers and their unit (value->items as written, value->number what
 * 1 of them is). */
bool slot_read_level(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                     struct value *value);
bool slot_read_level_unit(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                          struct value *value);
/* value->number: what 1 of it is; value->volume: by the volume of the soil and not by its mass. */
bool slot_read_charge_unit(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                           struct value *value);
bool slot_read_terms(struct matcher *matcher, const struct slot_type *type, uint32_t *at,
                     struct value *value);

/* kg/m2 of a furrow slice to a share of the soil. */
double level_of_area(double kg_per_m2);

#endif
