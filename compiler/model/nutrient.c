#include "compiler/model/nutrient.h"

#include <assert.h>
#include <math.h>

/* Standard atomic weights to the digits given: IUPAC/CIAAW, "Abridged standard atomic weights" (2021). */
#define O_WEIGHT 15.999
#define MG_WEIGHT 24.305
#define P_WEIGHT 30.974
#define S_WEIGHT 32.06
#define K_WEIGHT 39.098
#define CA_WEIGHT 40.078
#define NA_WEIGHT 22.990

static const struct nutrient_form forms[] = {
    {"N", NUTRIENT_N, 1},
    {"P", NUTRIENT_P, 1},
    {"P2O5", NUTRIENT_P, 2 * P_WEIGHT / (2 * P_WEIGHT + 5 * O_WEIGHT)},
    {"K", NUTRIENT_K, 1},
    {"K2O", NUTRIENT_K, 2 * K_WEIGHT / (2 * K_WEIGHT + O_WEIGHT)},
    {"Ca", NUTRIENT_CA, 1},
    {"CaO", NUTRIENT_CA, CA_WEIGHT / (CA_WEIGHT + O_WEIGHT)},
    {"Mg", NUTRIENT_MG, 1},
    {"MgO", NUTRIENT_MG, MG_WEIGHT / (MG_WEIGHT + O_WEIGHT)},
    {"S", NUTRIENT_S, 1},
    {"SO3", NUTRIENT_S, S_WEIGHT / (S_WEIGHT + 3 * O_WEIGHT)},
    {"Fe", NUTRIENT_FE, 1},
    {"Mn", NUTRIENT_MN, 1},
    {"Zn", NUTRIENT_ZN, 1},
    {"Cu", NUTRIENT_CU, 1},
    {"B", NUTRIENT_B, 1},
    {"Mo", NUTRIENT_MO, 1},
    {"Cl", NUTRIENT_CL, 1},
    {"Na", NUTRIENT_NA, 1},
    {"lime", NUTRIENT_LIME, 1},
    {"liming-material", NUTRIENT_LIMING_MATERIAL, 1},
};
enum { FORM_COUNT = sizeof forms / sizeof *forms };

static const struct nutrient_form soluble_n = {"soluble N", NUTRIENT_SOLUBLE_N, 1};
static const struct nutrient_form slow_n = {"slow N", NUTRIENT_SLOW_N, 1};

const struct nutrient_form *nutrient_find(struct text name)
{
    for (size_t i = 0; i < FORM_COUNT && name.length; i++)
        if (*name.start == *forms[i].name && text_is(name, forms[i].name))
            return &forms[i];
    return NULL;
}

/* A zero for an O is certain; one letter off is a guess. */
const struct nutrient_form *nutrient_nearest(struct text name, bool *certain)
{
    *certain = true;
    for (size_t i = 0; i < FORM_COUNT; i++) {
        /* "K20", "P205": a zero for the letter. */
        struct text form = text_of(forms[i].name);
        bool alike = name.length == form.length;
        for (size_t j = 0; alike && j < name.length; j++)
            alike = text_distance((struct text){&name.start[j], 1}, (struct text){&form.start[j], 1}) == 0 ||
                    (name.start[j] == '0' && form.start[j] == 'O');
        if (alike)
            return &forms[i];
    }
    *certain = false;
    for (size_t i = 0; i < FORM_COUNT && name.length > 2; i++)
        if (text_distance(name, text_of(forms[i].name)) == 1)
            return &forms[i];
    return NULL;
}

bool nutrient_carries_over(enum nutrient nutrient)
{
    return nutrient == NUTRIENT_P || nutrient == NUTRIENT_K || nutrient == NUTRIENT_LIME;
}

bool nutrient_is_lime(enum nutrient nutrient)
{
    return nutrient == NUTRIENT_LIME || nutrient == NUTRIENT_LIMING_MATERIAL;
}

const struct nutrient_form *nutrient_part(const struct nutrient_form *whole, bool slow)
{
    if (whole->nutrient != NUTRIENT_N)
        return NULL;
    return slow ? &slow_n : &soluble_n;
}

/* Phosphate and potash are traded as oxides, everything else as the element. */
const struct nutrient_form *nutrient_trade_form(enum nutrient nutrient)
{
    if (nutrient == NUTRIENT_P)
        return nutrient_find(TEXT("P2O5"));
    if (nutrient == NUTRIENT_K)
        return nutrient_find(TEXT("K2O"));
    if (nutrient == NUTRIENT_SOLUBLE_N)
        return &soluble_n;
    if (nutrient == NUTRIENT_SLOW_N)
        return &slow_n;
    for (size_t i = 0; i < FORM_COUNT; i++)
        if (forms[i].nutrient == nutrient)
            return &forms[i];
    assert(false && "every nutrient has a form");
    return forms;
}

const char *nutrient_element(enum nutrient nutrient)
{
    return nutrient == NUTRIENT_P ? "P" : nutrient == NUTRIENT_K ? "K" : nutrient_trade_form(nutrient)->name;
}

double nutrient_equivalent(enum nutrient nutrient)
{
    static const double grams[NUTRIENT_COUNT] = {
        [NUTRIENT_K] = K_WEIGHT,
        [NUTRIENT_CA] = CA_WEIGHT / 2,
        [NUTRIENT_MG] = MG_WEIGHT / 2,
        [NUTRIENT_NA] = NA_WEIGHT,
    };
    return grams[nutrient] > 0 ? grams[nutrient] / 1000 : (double)NAN;
}

const struct nutrient_form *nutrient_form_at(size_t index)
{
    return index < FORM_COUNT ? &forms[index] : NULL;
}
