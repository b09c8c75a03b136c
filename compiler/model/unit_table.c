/* Every unit a plan may be written in.
 *
 * Sources of the factors: NIST Special Publication 811 (2008), appendix B, and NIST Handbook 44, appendix C
 * (both from memory; tests/reference/units.check compares every row with GNU units): the pound is 0.45359237
 * kg, the inch 0.0254 m, the US gallon 231 cubic inches, exactly, and the other US units are whole multiples
 * or parts of these. The acre is 43560 square feet of the international foot. A ton is the short ton of 2000
 * lb; a pint, quart, gallon, cup, spoon or fluid ounce is the US liquid one. */
#include "compiler/model/unit.h"

#include <stddef.h>

#define POUND 0.45359237
#define INCH 0.0254
#define FOOT 0.3048
#define YARD 0.9144
#define MILE 1609.344
#define SQUARE_FOOT 0.09290304
#define GALLON 0.003785411784
#define HOUR 3600.0
#define DAY 86400.0

/* clang-format off */
const struct unit UNIT_TABLE[] = {
    /* name, measure, system, factor, zero, symbols, words, name in GNU units */
    {"lb", MEASURE_MASS, UNIT_US, POUND, 0,
     {NULL}, {"lb", "lbs", "pound", "pounds"}, "lb"},
    {"oz", MEASURE_MASS, UNIT_US, POUND / 16, 0,
     {NULL}, {"oz", "ounce", "ounces"}, "oz"},
    {"ton", MEASURE_MASS, UNIT_US, POUND * 2000, 0,
     {NULL}, {"ton", "tons", "short ton", "short tons"}, "shortton"},
    {"kg", MEASURE_MASS, UNIT_METRIC, 1, 0,
     {"kg", "Kg", "KG"}, {"kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"}, "kg"},
    {"g", MEASURE_MASS, UNIT_METRIC, 1e-3, 0,
     {"g"}, {"gram", "grams", "gramme", "grammes", "gm", "gms"}, "g"},
    {"mg", MEASURE_MASS, UNIT_METRIC, 1e-6, 0,
     {"mg"}, {"milligram", "milligrams", "milligramme", "milligrammes"}, "mg"},
    {"t", MEASURE_MASS, UNIT_METRIC, 1000, 0,
     {"t"}, {"tonne", "tonnes", "metric ton", "metric tons"}, "tonne"},

    {"in", MEASURE_LENGTH, UNIT_US, INCH, 0,
     {"\"", "''", "\u201d", "\u2033"}, {"in", "inch", "inches"}, "inch"},
    {"ft", MEASURE_LENGTH, UNIT_US, FOOT, 0,
     {"'", "\u2019", "\u2032"}, {"ft", "foot", "feet"}, "ft"},
    {"yd", MEASURE_LENGTH, UNIT_US, YARD, 0,
     {NULL}, {"yd", "yds", "yard", "yards"}, "yd"},
    {"mi", MEASURE_LENGTH, UNIT_US, MILE, 0,
     {"mi"}, {"mile", "miles"}, "mile"},
    {"m", MEASURE_LENGTH, UNIT_METRIC, 1, 0,
     {"m"}, {"meter", "meters", "metre", "metres"}, "m"},
    {"cm", MEASURE_LENGTH, UNIT_METRIC, 0.01, 0,
     {"cm"}, {"centimeter", "centimeters", "centimetre", "centimetres"}, "cm"},
    {"mm", MEASURE_LENGTH, UNIT_METRIC, 1e-3, 0,
     {"mm"}, {"millimeter", "millimeters", "millimetre", "millimetres"}, "mm"},
    {"km", MEASURE_LENGTH, UNIT_METRIC, 1000, 0,
     {"km", "Km", "KM"}, {"kilometer", "kilometers", "kilometre", "kilometres"}, "km"},

    {"sq ft", MEASURE_AREA, UNIT_US, SQUARE_FOOT, 0,
     {"ft2", "ft²"}, {"sqft", "sf", "sq ft", "sq feet", "sq foot", "square ft", "square feet", "square foot"},
      "ft^2"},
    {"sq in", MEASURE_AREA, UNIT_US, SQUARE_FOOT / 144, 0,
     {"in2", "in²"}, {"sqin", "sq in", "sq inch", "sq inches", "square inch", "square inches"}, "in^2"},
    {"sq yd", MEASURE_AREA, UNIT_US, SQUARE_FOOT * 9, 0,
     {"yd2", "yd²"}, {"sqyd", "sq yd", "sq yds", "sq yard", "sq yards", "square yard", "square yards"}, "yd^2"},
    {"acre", MEASURE_AREA, UNIT_US, SQUARE_FOOT * 43560, 0,
     {NULL}, {"acre", "acres", "ac"}, "acre"},
    {"sq m", MEASURE_AREA, UNIT_METRIC, 1, 0,
     {"m2", "m²"}, {"sqm", "sq m", "sq meter", "sq meters", "sq metre", "sq metres", "square meter",
      "square meters", "square metre", "square metres"}, "m^2"},
    {"are", MEASURE_AREA, UNIT_METRIC, 100, 0,
     {NULL}, {"are", "ares"}, "are"},
    {"ha", MEASURE_AREA, UNIT_METRIC, 1e4, 0,
     {"ha"}, {"hectare", "hectares"}, "hectare"},

    {"gal", MEASURE_VOLUME, UNIT_US, GALLON, 0,
     {NULL}, {"gal", "gals", "gallon", "gallons"}, "gallon"},
    {"qt", MEASURE_VOLUME, UNIT_US, GALLON / 4, 0,
     {NULL}, {"qt", "qts", "quart", "quarts"}, "quart"},
    {"pt", MEASURE_VOLUME, UNIT_US, GALLON / 8, 0,
     {NULL}, {"pt", "pts", "pint", "pints"}, "pint"},
    {"cup", MEASURE_VOLUME, UNIT_US, GALLON / 16, 0,
     {NULL}, {"cup", "cups"}, "cup"},
    {"fl oz", MEASURE_VOLUME, UNIT_US, GALLON / 128, 0,
     {NULL}, {"fl oz", "floz", "fluid oz", "fluid ounce", "fluid ounces"}, "floz"},
    {"tbsp", MEASURE_VOLUME, UNIT_US, GALLON / 256, 0,
     {NULL}, {"tbsp", "tbsps", "tablespoon", "tablespoons"}, "tablespoon"},
    {"tsp", MEASURE_VOLUME, UNIT_US, GALLON / 768, 0,
     {NULL}, {"tsp", "tsps", "teaspoon", "teaspoons"}, "teaspoon"},
    {"cu ft", MEASURE_VOLUME, UNIT_US, FOOT * SQUARE_FOOT, 0,
     {"ft3", "ft³"}, {"cuft", "cu ft", "cu feet", "cu foot", "cubic ft", "cubic feet", "cubic foot"}, "ft^3"},
    {"cu yd", MEASURE_VOLUME, UNIT_US, YARD * SQUARE_FOOT * 9, 0,
     {"yd3", "yd³"}, {"cuyd", "cu yd", "cu yds", "cu yard", "cu yards", "cubic yard", "cubic yards"}, "yd^3"},
    {"L", MEASURE_VOLUME, UNIT_METRIC, 1e-3, 0,
     {"L", "l"}, {"liter", "liters", "litre", "litres"}, "liter"},
    {"mL", MEASURE_VOLUME, UNIT_METRIC, 1e-6, 0,
     {"mL", "ml"}, {"milliliter", "milliliters", "millilitre", "millilitres"}, "ml"},
    {"cu m", MEASURE_VOLUME, UNIT_METRIC, 1, 0,
     {"m3", "m³"}, {"cu m", "cu meter", "cu meters", "cu metre", "cu metres", "cubic meter", "cubic meters",
      "cubic metre", "cubic metres"}, "m^3"},

    {"second", MEASURE_TIME, UNIT_BOTH, 1, 0,
     {"s"}, {"sec", "secs", "second", "seconds"}, "second"},
    {"min", MEASURE_TIME, UNIT_BOTH, 60, 0,
     {NULL}, {"min", "mins", "minute", "minutes"}, "minute"},
    {"h", MEASURE_TIME, UNIT_BOTH, HOUR, 0,
     {"h"}, {"hr", "hrs", "hour", "hours"}, "hour"},
    {"day", MEASURE_TIME, UNIT_BOTH, DAY, 0,
     {"d"}, {"day", "days"}, "day"},
    {"week", MEASURE_TIME, UNIT_BOTH, DAY * 7, 0,
     {NULL}, {"week", "weeks", "wk", "wks"}, "week"},
    {"month", MEASURE_MONTHS, UNIT_BOTH, 1, 0,
     {NULL}, {"month", "months"}, "month"},
    {"year", MEASURE_MONTHS, UNIT_BOTH, 12, 0,
     {NULL}, {"year", "years", "yr", "yrs"}, "year"},

    {"F", MEASURE_TEMPERATURE, UNIT_US, 5.0 / 9, 459.67,
     {"F", "°F", "deg F", "degree F", "degrees F"}, {"fahrenheit", "degrees fahrenheit"}, "tempF"},
    {"C", MEASURE_TEMPERATURE, UNIT_METRIC, 1, 273.15,
     {"C", "°C", "deg C", "degree C", "degrees C"}, {"celsius", "degrees celsius"}, "tempC"},

    {"ppm", MEASURE_NUMBER, UNIT_BOTH, 1e-6, 0,
     {"mg/kg"}, {"ppm"}, "ppm"},
    {"meq", MEASURE_CHARGE, UNIT_BOTH, 1e-3, 0,
     {"mEq"}, {"meq", "milliequivalent", "milliequivalents"}, "mmol"},
    {"cmol", MEASURE_CHARGE, UNIT_METRIC, 0.01, 0,
     {"cmol", "cmolc"}, {"centimole", "centimoles"}, "cmol"},

    {"mph", MEASURE_SPEED, UNIT_US, MILE / HOUR, 0,
     {NULL}, {"mph", "miles/hour"}, "mph"},
    {"km/h", MEASURE_SPEED, UNIT_METRIC, 1000 / HOUR, 0,
     {"km/h", "kmh", "kph"}, {NULL}, "km/hour"},

    {"gpm", MEASURE_VOLUME_PER_TIME, UNIT_US, GALLON / 60, 0,
     {NULL}, {"gpm"}, "gallon/minute"},

    {.name = NULL},
};
