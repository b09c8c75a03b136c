/* The rules of the model's readers, by name in C; their texts are in rule.c. */
#ifndef PRILL_MODEL_RULE_H
#define PRILL_MODEL_RULE_H

#include "lexer/report.h"

enum model_rule {
    RULE_STATEMENT,
    RULE_FORM,
    RULE_BLOCK,
    RULE_UNIT,
    RULE_DIMENSION,
    RULE_VALUE,
    RULE_DATE,
    RULE_NUTRIENT,
    RULE_UNKNOWN,
    RULE_AMBIGUOUS,
    RULE_DUPLICATE,
    RULE_REPEATED,
    RULE_MISSING,
    RULE_SHAPE,
    RULE_TABLE,
    RULE_EMPTY,
    RULE_MISPLACED,
    RULE_CSV,
    RULE_WEATHER,
    RULE_TOO_LARGE,
    MODEL_RULE_COUNT
};

/* Of rates left to the compiler; their texts are in rule_rates.c. */
enum rates_rule {
    RULE_RATES_IMPOSSIBLE,
    RULE_RATES_UNDECIDED,
    RULE_RATES_SHORT,
    RULE_RATES_NEED,
    RULE_RATES_LEFT_OUT,
    RULE_RATES_RECORD,
    RULE_RATES_NOTHING,
    RULE_RATES_USELESS,
    RULE_RATES_UNPRICED,
    RULE_RATES_UNPROVEN,
    RULE_MATCH_SHORT,
    RULE_BLEND_SHORT,
    RULE_BLEND_APART,
    RATES_RULE_COUNT
};

extern const struct rule rates_rules[];
extern const size_t rates_rule_count;

extern const struct rule model_rules[];
extern const size_t model_rule_count;

#endif
