#include "compiler/model/unit.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

enum { MOST_WORDS = 4 };

/* Splits at blanks; no test writes more than MOST_WORDS. */
static size_t split(const char *line, struct text *words)
{
    size_t count = 0;
    while (*line) {
        size_t length = strcspn(line, " ");
        words[count++] = (struct text){line, length};
        line += length + (line[length] == ' ');
    }
    return count;
}

/* The name of the unit that `line` begins with, "" for none, and how many of its words spell it. */
static const char *name_found(const char *line, size_t *taken)
{
    struct text words[MOST_WORDS];
    struct unit_found found = unit_find(words, split(line, words));
    *taken = found.taken;
    return found.unit ? found.unit->name : "";
}

static void test_find(void **state)
{
    (void)state;
    static const struct {
        const char *line, *name;
        size_t taken;
    } rows[] = {
        {"lb", "lb", 1},
        {"lb N per", "lb", 1},
        {"LBS", "lb", 1},
        {"sqft", "sq ft", 1},
        {"sq ft at", "sq ft", 2},
        {"Sq Ft", "sq ft", 2},
        {"square feet", "sq ft", 2},
        {"ft²", "sq ft", 1},
        {"ft", "ft", 1},
        {"ft by 40", "ft", 1},
        {"fl oz per", "fl oz", 2},
        {"oz", "oz", 1},
        {"short ton", "ton", 2},
        {"metric tons", "t", 2},
        {"ton", "ton", 1},
        {"t", "t", 1},
        {"F", "F", 1},
        {"deg F", "F", 2},
        {"°C", "C", 1},
        {"km/h", "km/h", 1},
        {"km / h", "km/h", 3},
        {"km", "km", 1},
        {"km / lb", "km", 1},
        {"mg / kg", "ppm", 3},
        {"mg per kg", "mg", 1},
        {"days apart", "day", 1},
        {"Weeks", "week", 1},
        {"ml", "mL", 1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        size_t taken;
        assert_string_equal(name_found(rows[i].line, &taken), rows[i].name);
        assert_int_equal(taken, rows[i].taken);
    }
}

/* Where case tells one unit from another, or nothing is spelled whole. */
static void test_find_none(void **state)
{
    (void)state;
    static const char *const lines[] = {
        "",  "M", "Mg", "MG", "ML",  "MM",     "G",      "T",   "f",   "c",   "H",    "S",   "K",
        "N", "P", "sq", "fl", "deg", "sq fts", "square", "lbx", "a b", "k m", "kmhx", "/ h", "x",
    };
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        size_t taken = 9;
        assert_string_equal(name_found(lines[i], &taken), "");
        assert_int_equal(taken, 0);
    }
    struct text empty[2] = {{"", 0}, {"lb", 2}};
    assert_null(unit_find(empty, 2).unit);
    assert_null(unit_find(NULL, 0).unit);
}

static void test_goes_on(void **state)
{
    (void)state;
    static const char *const beginnings[] = {"fl",     "FL",  "sq",     "cu",    "mg",   "km",
                                             "metric", "deg", "square", "miles", "short"};
    static const char *const wholes[] = {"lb", "ft", "sqft", "ppm", "in", "acre",
                                         "F",  "kg", "MG",   "x",   "lbs"};
    for (size_t i = 0; i < sizeof beginnings / sizeof *beginnings; i++)
        assert_true(unit_find((struct text[]){text_of(beginnings[i])}, 1).goes_on);
    for (size_t i = 0; i < sizeof wholes / sizeof *wholes; i++)
        assert_false(unit_find((struct text[]){text_of(wholes[i])}, 1).goes_on);
}

static const char *const *spellings_of(const struct unit *unit, int list)
{
    return list == 0 ? unit->symbols : unit->words;
}

static char upper(char character)
{
    return character >= 'a' && character <= 'z' ? (char)(character - ('a' - 'A')) : character;
}

/* Every spelling finds its own unit, whole, before whatever follows; a word in capitals too. */
static void test_every_spelling(void **state)
{
    (void)state;
    for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit)) {
        for (int list = 0; list < 2; list++) {
            for (const char *const *spelling = spellings_of(unit, list); *spelling; spelling++) {
                char line[64], shouted[64];
                size_t taken, length = strlen(*spelling);
                assert_true(length < 40);
                memcpy(line, *spelling, length);
                memcpy(line + length, " per", 5);
                for (size_t i = 0; i <= length + 4; i++)
                    shouted[i] = upper(line[i]);
                assert_string_equal(name_found(line, &taken), unit->name);
                assert_int_equal(taken, 1 + (strchr(*spelling, ' ') != NULL));
                if (list == 1)
                    assert_string_equal(name_found(shouted, &taken), unit->name);
            }
        }
    }
}

static bool same_in_any_case(const char *a, const char *b)
{
    while (*a && upper(*a) == upper(*b)) {
        a++;
        b++;
    }
    return *a == *b;
}

/* No spelling of one unit reads as another's, in any case of letters: "longest match" then needs no
 * tie-break. */
static void test_no_spelling_twice(void **state)
{
    (void)state;
    for (const struct unit *a = unit_next(NULL); a; a = unit_next(a))
        for (const struct unit *b = unit_next(a); b; b = unit_next(b))
            for (int lists = 0; lists < 4; lists++)
                for (const char *const *x = spellings_of(a, lists / 2); *x; x++)
                    for (const char *const *y = spellings_of(b, lists % 2); *y; y++)
                        assert_false(same_in_any_case(*x, *y));
}

/* What results print can be read again, and gives the same unit. */
static void test_names_are_read(void **state)
{
    (void)state;
    size_t taken, count = 0;
    for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit), count++) {
        assert_string_equal(name_found(unit->name, &taken), unit->name);
        assert_ptr_equal(unit_named(unit->name), unit);
        assert_true(unit->factor > 0 && unit->zero >= 0 && unit->measure < MEASURE_OTHER && unit->gnu_name);
        assert_null(unit->symbols[UNIT_SYMBOLS - 1]);
        assert_null(unit->words[UNIT_WORDS - 1]);
    }
    assert_true(count > 40);
}

/* Tables of the trade, by hand: each pair is the same quantity. */
static void test_known_equalities(void **state)
{
    (void)state;
    static const struct {
        double a;
        const char *a_unit;
        double b;
        const char *b_unit;
    } rows[] = {
        {1, "lb", 16, "oz"},        {1, "ton", 2000, "lb"},   {1, "t", 1000, "kg"},
        {1, "kg", 1000, "g"},       {1, "g", 1000, "mg"},     {1, "lb", 453.59237, "g"},
        {1, "ft", 12, "in"},        {1, "yd", 3, "ft"},       {1, "mi", 5280, "ft"},
        {1, "in", 25.4, "mm"},      {1, "m", 100, "cm"},      {1, "km", 1000, "m"},
        {1, "sq ft", 144, "sq in"}, {1, "sq yd", 9, "sq ft"}, {1, "acre", 4840, "sq yd"},
        {1, "ha", 100, "are"},      {1, "are", 100, "sq m"},  {1, "gal", 4, "qt"},
        {1, "qt", 2, "pt"},         {1, "pt", 2, "cup"},      {1, "cup", 8, "fl oz"},
        {1, "fl oz", 2, "tbsp"},    {1, "tbsp", 3, "tsp"},    {1, "gal", 231.0 / 1728, "cu ft"},
        {1, "cu yd", 27, "cu ft"},  {1, "cu m", 1000, "L"},   {1, "L", 1000, "mL"},
        {1, "week", 7, "day"},      {1, "day", 24, "h"},      {1, "h", 60, "min"},
        {1, "min", 60, "second"},   {1, "year", 12, "month"}, {1, "cmol", 10, "meq"},
        {212, "F", 100, "C"},       {-40, "F", -40, "C"},     {1, "mph", 1.609344, "km/h"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct unit *a = unit_named(rows[i].a_unit), *b = unit_named(rows[i].b_unit);
        double a_si = unit_to_si(a, rows[i].a), b_si = unit_to_si(b, rows[i].b);
        assert_true(dimension_equal(measure_rows[a->measure].dimension, measure_rows[b->measure].dimension));
        assert_true(fabs(a_si - b_si) <= 4e-16 * fabs(a_si));
    }
}

static void test_there_and_back(void **state)
{
    (void)state;
    for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit)) {
        for (int i = -200; i <= 200; i++) {
            double value = i * 1.37;
            assert_true(fabs(unit_from_si(unit, unit_to_si(unit, value)) - value) < 1e-12);
            assert_true(fabs(unit_difference_from_si(unit, unit_difference_to_si(unit, value)) - value) <
                        1e-12);
            double step = unit_to_si(unit, value + 9) - unit_to_si(unit, value);
            assert_true(fabs(step - unit_difference_to_si(unit, 9)) <= 1e-11 * (fabs(step) + 1));
        }
    }
    assert_true(fabs(unit_difference_to_si(unit_named("F"), 9) - 5) < 1e-15);
}

static void test_nearest(void **state)
{
    (void)state;
    static const struct {
        const char *word, *spelling;
        bool certain;
    } rows[] = {
        {"galon", "gallon", true}, {"gallonns", "gallons", true},
        {"sqtf", "sqft", true},    {"ounze", "ounce", true},
        {"Pound", "pound", true},  {"weeks", "weeks", true},
        {"acer", "acre", true},    {"hectar", "hectare", true},
        {"lbss", "lbs", true},     {"litters", "liters", true},
        {"xx", "", false},         {"m", "", false},
        {"starter", "", false},    {"northing", "", false},
        {"", "", false},           {"tonns", "tons", false}, /* or tonne */
        {"ft4", "ft", false},                                /* or ft2, or ft3 */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bool certain = !rows[i].certain;
        assert_true(text_is(unit_nearest(text_of(rows[i].word), &certain), rows[i].spelling));
        assert_int_equal(certain, rows[i].certain);
    }
}

static void test_dimensions(void **state)
{
    (void)state;
    struct dimension rate =
        dimension_combined(measure_rows[MEASURE_MASS].dimension, measure_rows[MEASURE_AREA].dimension, -1);
    assert_int_equal(dimension_measure(rate), MEASURE_MASS_PER_AREA);
    struct dimension depth =
        dimension_combined(measure_rows[MEASURE_VOLUME].dimension, measure_rows[MEASURE_AREA].dimension, -1);
    assert_true(dimension_equal(depth, measure_rows[MEASURE_VOLUME_PER_AREA].dimension));
    assert_int_equal(dimension_measure(depth), MEASURE_LENGTH);
    assert_true(dimension_equal(dimension_combined(rate, measure_rows[MEASURE_AREA].dimension, 1),
                                measure_rows[MEASURE_MASS].dimension));
    struct dimension odd = dimension_combined(rate, rate, 1);
    assert_int_equal(dimension_measure(odd), MEASURE_OTHER);
    assert_string_equal(measure_rows[MEASURE_MASS_PER_AREA].name, "a mass per area");
    assert_string_equal(measure_rows[MEASURE_OTHER].name, "a quantity of its own kind");
    assert_int_equal(dimension_measure(measure_rows[MEASURE_NUMBER].dimension), MEASURE_NUMBER);
}

/* The dimension of an example such as "3.2 lb per 1000 sqft per year", read word by word. */
static struct dimension dimension_of_example(const char *example)
{
    struct dimension dimension = {0};
    bool divided = false;
    while (*example) {
        size_t length = strcspn(example, " ");
        struct text words[2] = {{example, length}, {"", 0}};
        const char *second = example + length + (example[length] == ' ');
        words[1] = (struct text){second, strcspn(second, " ")};
        struct unit_found found = unit_find(words, 2);
        const struct unit *unit = found.unit;
        if (unit)
            dimension = divided ? dimension_combined(dimension, measure_rows[unit->measure].dimension, -1)
                                : dimension_combined(dimension, measure_rows[unit->measure].dimension, 1);
        divided = divided || text_is(words[0], "per");
        example = found.taken == 2 ? words[1].start + words[1].length : second;
        example += *example == ' ';
    }
    return dimension;
}

static void test_examples_have_their_dimension(void **state)
{
    (void)state;
    for (enum measure measure = MEASURE_NUMBER; measure < MEASURE_OTHER; measure++) {
        struct dimension dimension = dimension_of_example(measure_rows[measure].example);
        assert_true(dimension_equal(dimension, measure_rows[measure].dimension));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_find),
        cmocka_unit_test(test_find_none),
        cmocka_unit_test(test_goes_on),
        cmocka_unit_test(test_every_spelling),
        cmocka_unit_test(test_no_spelling_twice),
        cmocka_unit_test(test_names_are_read),
        cmocka_unit_test(test_known_equalities),
        cmocka_unit_test(test_there_and_back),
        cmocka_unit_test(test_nearest),
        cmocka_unit_test(test_dimensions),
        cmocka_unit_test(test_examples_have_their_dimension),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
