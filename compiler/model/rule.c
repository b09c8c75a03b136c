#include "compiler/model/rule.h"

const struct rule model_rules[] = {
    [RULE_STATEMENT] =
        {"statement", SEVERITY_ERROR, "a statement that does not exist, or not in this block",
         "Every statement begins with a word that says what it is, and each kind of block has its own. "
         "Nothing unknown is skipped, since a misspelt limit would not bind.",
         NULL},
    [RULE_FORM] =
        {"form", SEVERITY_ERROR, "a statement written in the wrong form",
         "The report shows what could have stood at this place. docs/language.md has every form with an "
         "example.",
         NULL},
    [RULE_BLOCK] =
        {"block", SEVERITY_ERROR, "a block missing, or one where none belongs",
         "Some statements carry a block between { and }, such as `lawn` and `apply`; others end with their "
         "line.",
         NULL},
    [RULE_UNIT] = {"unit", SEVERITY_ERROR, "an unknown or missing unit",
                   "Every quantity is written with its unit; a bare number could be pounds or kilograms.",
                   NULL},
    [RULE_DIMENSION] =
        {"dimension", SEVERITY_ERROR, "the wrong kind of quantity",
         "A rate is a mass or volume per area, a length is not an area. Units of both systems may be mixed, "
         "kinds of quantity may not.",
         NULL},
    [RULE_VALUE] = {"value", SEVERITY_ERROR, "a number that cannot be right",
                    "Amounts, rates, lengths and times are above zero, percentages at most 100.", NULL},
    [RULE_DATE] = {"date", SEVERITY_ERROR, "a day that does not exist",
                   "Dates are days of the Gregorian calendar from 1900 to 2199.", NULL},
    [RULE_NUTRIENT] =
        {"nutrient", SEVERITY_ERROR, "a nutrient the language does not know",
         "Nutrients are written by their symbols: N, P2O5 or P, K2O or K, Ca, Mg, S, Fe, Mn, Zn, Cu, B.",
         NULL},
    [RULE_UNKNOWN] =
        {"unknown-name", SEVERITY_ERROR, "a name nothing has been given",
         "A statement refers to something the plan, the files it uses and the library do not declare.", NULL},
    [RULE_AMBIGUOUS] =
        {"name-of-two", SEVERITY_ERROR, "a name that a lawn and one of several zones share",
         "Where zones are listed, a lawn's name means all its zones and a zone's name means that zone. Which "
         "of the two was meant cannot be guessed: one of them needs another name.",
         NULL},
    [RULE_DUPLICATE] =
        {"duplicate-name", SEVERITY_ERROR, "two things of one kind with the same name",
         "Each lawn, zone, product, machine and treatment has a name of its own. An entry of the "
         "library may be declared again: the plan's own then counts.",
         NULL},
    [RULE_REPEATED] = {"repeated", SEVERITY_ERROR, "a statement used twice that may be used once",
                       "Which of the two was meant cannot be guessed.", NULL},
    [RULE_MISSING] = {"missing", SEVERITY_ERROR, "a required statement that is missing",
                      "The report names what is needed and gives an example.", NULL},
    [RULE_SHAPE] =
        {"shape", SEVERITY_ERROR, "a shape that has no area",
         "A triangle's sides must close, a polygon's edges must not cross, and what is taken away must leave "
         "something.",
         NULL},
    [RULE_TABLE] =
        {"table", SEVERITY_ERROR, "rows and columns that do not fit together",
         "The first row names the columns, each with its unit; every further row has one value for each.",
         NULL},
    [RULE_EMPTY] = {"empty-plan", SEVERITY_ERROR, "a plan without a single statement",
                    "An empty file would give an empty calendar, which looks like nothing to do.", NULL},
    [RULE_MISPLACED] =
        {"misplaced", SEVERITY_ERROR, "a statement of the plan in one of the files it uses",
         "What describes the season belongs in the plan itself: its name, edition, season and units. "
         "Files it uses hold things to refer to.",
         NULL},
    [RULE_CSV] =
        {"csv", SEVERITY_ERROR, "a CSV file without the expected columns",
         "The first row names the columns; every further row has as many cells. Cells are separated by "
         "commas, a cell with a comma in it is quoted, and a quote in it is written twice "
         "(RFC 4180).",
         NULL},
    [RULE_TOO_LARGE] =
        {"too-large", SEVERITY_ERROR, "a plan that takes too much memory or work",
         "What a plan says of many zones, limits, products and days multiplies. It may take 128 MiB "
         "and 150 million steps, and 256 bytes and 300 steps more for each byte of its files. Steps are "
         "counted, "
         "never timed: a plan ends the same way everywhere. The report points at what there is most of.",
         NULL},
    [RULE_WEATHER] = {"weather-row", SEVERITY_ERROR, "a day in a weather file that cannot be right",
                      "Each day appears once, its high is not below its low, and its values are ones that "
                      "were seen on earth. A cell without a value is empty, or holds what `missing` names.",
                      NULL},
};
const size_t model_rule_count = MODEL_RULE_COUNT;
