/* What the plan leaves to the compiler: needs to meet, a grade to match, a blend to mix. */
#ifndef PRILL_MODEL_RATE_CHOICE_H
#define PRILL_MODEL_RATE_CHOICE_H

#include "compiler/model/nutrient.h"
#include "compiler/model/symbol.h"

struct machine;
struct product;
struct source_entry;
struct treatment;
struct zone;

struct correct_need {
    const struct nutrient_form *nutrient;
    double kg_per_m2; /* of the element, over the season; NAN: as the soil test asks */
    struct place place;
};

struct correct_bound { /* what the rates chosen must bring, or may bring at most */
    bool least;
    const struct nutrient_form *nutrient;
    double kg_per_m2;                  /* of the element */
    const struct treatment *treatment; /* at each time of it; NULL: over the season */
    struct place place;
};

struct correct { /* needs met by rates that the compiler chooses */
    struct symbol symbol;
    struct zone_list zones; /* none: all that its applications treat */
    VECTOR(struct correct_need) needs;
    VECTOR(struct correct_bound) bounds;
    struct product_list products;
    VECTOR(struct treatment *) treatments; /* of the plan */
    struct treatment *added;               /* made for it; NULL without */
    const struct machine *machine;         /* of what is added; NULL without */
    bool whole_packs;
    struct place products_place, treatments_place, added_place, packs_place;
};

struct match { /* what so much of a grade would supply, from other products */
    double grade[3];
    const struct nutrient_form *nutrient; /* that the amount is stated in; not to be passed */
    double supply;                        /* kg/m2 of what `nutrient` names */
    double rate;                          /* kg/m2 of the grade that it takes */
    struct product_list products;
    const struct treatment *treatment; /* whose rates these are; NULL: a question of the plan */
    struct place place, grade_place, rate_place;
};

struct blend { /* straight materials mixed to a grade */
    struct symbol symbol;
    double grade[3]; /* NAN without */
    struct product_list products;
    const struct name *filler; /* NULL without */
    double mass;               /* kg; NAN without */
    struct place grade_place, products_place;
};

struct salt_index { /* of a kind of material, against sodium nitrate = 100, equal masses */
    const struct name *material, *series; /* figures of two series do not compare */
    double index;
    const struct source_entry *source;
    struct place place;
};

struct acidity { /* of a kind of material */
    const struct name *material;
    double amount; /* kg of calcium carbonate that neutralize 1 kg of it; below 0: it limes */
    const struct source_entry *source;
    struct place place;
};

struct mixing { /* what is known of mixing two kinds of material */
    const struct name *first, *second;
    enum mixing_verdict { MIXING_FREELY, MIXING_AT_ONCE, MIXING_NEVER } verdict;
    const struct source_entry *source;
    struct place place;
    bool library;
};

#endif
