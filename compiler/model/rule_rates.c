/* Reports on rates that the compiler chooses (compiler/solve); here since every list of rules has them. */
#include "compiler/model/rule.h"

const struct rule rates_rules[] = {
    [RULE_RATES_IMPOSSIBLE] =
        {"rates-impossible", SEVERITY_ERROR, "statements no set of rates can satisfy together",
         "The least that a correction or match requires cannot be reached within the limits and labels. The "
         "report names a set of statements that is as small as can be: with all of them there are no rates, "
         "and without any one of them there are. Change one of the plan's own; the report says how far, "
         "where a "
         "figure can be moved. Laws and labels are fixed: another product, another application, or less.",
         NULL},
    [RULE_RATES_UNDECIDED] = {"rates-undecided", SEVERITY_ERROR, "rates neither found nor shown impossible",
                              "Figures that differ by less than a billionth leave it "
                              "open whether anything keeps all statements. Move one of them apart.",
                              NULL},
    [RULE_RATES_SHORT] =
        {"rates-short", SEVERITY_WARNING, "a need that products, limits and labels leave unmet",
         "The rates supply as much as limits and labels allow. The report says which statements "
         "hold it back; of those of "
         "practice, what each would have to be. `prill rates` shows this for each zone. "
         "Missing P, K and lime are left "
         "for next year; other nutrients are not met this season.",
         NULL},
    [RULE_RATES_NEED] = {"rates-need", SEVERITY_ERROR, "a need prill must meet but cannot work out",
                         "A correction meets what the soil test calls for. Where that cannot be worked out, "
                         "state the need as the "
                         "laboratory recommends it: `need SUPPLY`.",
                         NULL},
    [RULE_RATES_LEFT_OUT] =
        {"rates-left-out", SEVERITY_WARNING, "a nutrient a correction leaves out because no amount is known",
         "A correction without `need` meets what the soil test finds low. Where neither scale nor laboratory "
         "gives "
         "an amount it leaves the nutrient out. Apply a product that holds it once, at its label's own rate, "
         "then test "
         "again; or state the amount.",
         NULL},
    [RULE_RATES_RECORD] =
        {"rates-record", SEVERITY_ERROR, "a record without amounts for rates prill chose",
         "What is chosen depends on what was done, so a record cannot rely on it. Say what was used.", NULL},
    [RULE_RATES_NOTHING] = {"rates-nothing", SEVERITY_NOTE, "a correction with nothing to correct",
                            "Nothing is needed, or the rest of the plan meets it.", NULL},
    [RULE_RATES_USELESS] =
        {"rates-useless", SEVERITY_WARNING, "a listed product none of the applications can use",
         "A liquid needs a sprayer and granules a spreader, a sprayer has to put out the water that the "
         "label requires, and a label by volume cannot be kept without the product's density.",
         NULL},
    [RULE_RATES_UNPRICED] =
        {"rates-unpriced", SEVERITY_NOTE, "a product without a price to compare",
         "Cost cannot be compared without all prices; of otherwise equal choices the one of least mass is "
         "taken. State what a pack costs: `pack 40 lb at 31.00`.",
         NULL},
    [RULE_RATES_UNPROVEN] =
        {"rates-unproven", SEVERITY_NOTE, "a good choice of rates, not proven best",
         "Least rates and counts of labels make a choice of many cases. The search is ended after a fixed "
         "amount of work; what was found keeps every limit, but a better choice may exist. Fewer products or "
         "applications make it smaller.",
         NULL},
    [RULE_MATCH_SHORT] =
        {"match-short", SEVERITY_WARNING, "products that cannot supply what the grade would",
         "The report says what falls short, and which product of the plan would close the gap.", NULL},
    [RULE_BLEND_SHORT] = {"blend-short", SEVERITY_WARNING, "materials that cannot make the grade",
                          "The nearest that can be mixed is given.", NULL},
    [RULE_BLEND_APART] = {"blend-apart", SEVERITY_WARNING, "materials that must not be mixed",
                          "Some materials draw water from the air together, set hard, or lose nitrogen. "
                          "Spread them on their own.",
                          NULL},
};
const size_t rates_rule_count = RATES_RULE_COUNT;
