/* What is written in several ways is written in one: plans put together at random from pairs of a statement
 * as people write it and as its form has it. The one text becomes the other, whatever stands beside it; the
 * other stays. */
#include "tests/unit/model_text.h"

#include "compiler/model/include.h"
#include "compiler/model/respell.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

struct pair {
    const char *written, *formed;
};

static const struct pair lawn[] = {
    {"zone a%d 2000 sqft", "zone a%d area 2000 sqft"},
    {"zone a%d 120 m2, 4 m from water", "zone a%d area 120 m2, 4 m from water"},
    {"zone a%d (900 sqft)", "zone a%d (area 900 sqft)"},
    {"zone a%d 20 ft by 15 ft", "zone a%d rectangle 20 ft by 15 ft"},
    {"zone a%d 20 x 15 ft", "zone a%d rectangle 20 ft by 15 ft"},
    {"zone a%d 6.5x4 m, less circle 2 m across", "zone a%d rectangle 6.5 m by 4 m, less circle 2 m across"},
    {"zone a%d rectangle 48' 6\" by 20'", "zone a%d rectangle 48 ft 6 in by 20 ft"},
    {"zone a%d 62'6\" \u00d7 40'", "zone a%d rectangle 62 ft 6 in by 40 ft"},
    {"zone a%d ellipse 20'x15'", "zone a%d ellipse 20 ft by 15 ft"},
    {"zone a%d circle 9\u2019 6\u201d across", "zone a%d circle 9 ft 6 in across"},
    {"zone a%d area 640 sqft", "zone a%d area 640 sqft"},
};
static const struct pair ground[] = {
    {"grass bermuda", "grass bermudagrass"},
    {"grass St Augustine", "grass st-augustinegrass"},
    {"grass tall fescue", "grass tall-fescue"},
    {"grass fescue", "grass fescue"}, /* tall or fine */
    {"grass rye, soil silty clay loam", "grass perennial-ryegrass, soil silty-clay-loam"},
    {"soil loam", "soil loam"},
};
static const struct pair product[] = {
    {"label 2-6 lb per 1000 sqft", "label 2 to 6 lb per 1000 sqft"},
    {"label 1/2 \u2013 1 1/2 oz per 1000 sqft in 1-2 gal of water",
     "label 1/2 to 1 1/2 oz per 1000 sqft in 1 to 2 gal of water"},
    {"pack 40 lb at $31.00, 50 lb at 44", "pack 40 lb at 31.00, 50 lb at 44"},
    {"pack 20 kg at 31.00 dollars", "pack 20 kg at 31.00"},
    {"water-in 1/4\"", "water-in 1/4 in"},
    {"label 5 lb 8 oz per acre, at least 6 weeks apart", "label 5 lb 8 oz per acre, at least 6 weeks apart"},
};
static const struct pair apply[] = {
    {"when Apr 15", "when on Apr 15"},
    {"when 15 April, 2027-05-01", "when on 15 April, on 2027-05-01"},
    {"when from Apr 10 to Apr 30", "when between Apr 10 and Apr 30"},
    {"rate 1 lb N per 1000 sqft of feed", "supply 1 lb N per 1000 sqft from feed"},
    {"rate 25 kg/ha N from feed", "supply 25 kg N/ha from feed"},
    {"rate 4 lb per 1000 sqft of feed, 1 lb N per 1000 sqft of urea",
     "rate 4 lb per 1000 sqft of feed, supply 1 lb N per 1000 sqft from urea"},
    {"supply 4 lb per 1000 sqft of feed", "rate 4 lb per 1000 sqft of feed"},
    {"supply 0.7 lb per 1000 sqft soluble N from feed", "supply 0.7 lb soluble N per 1000 sqft from feed"},
    {"note \"2-6 lb at $5, 20 x 15 ft\"", "note \"2-6 lb at $5, 20 x 15 ft\""},
};

static uint64_t seed = 88172645463325252u;

/* The pattern with a number in place of its %d. */
static void add_numbered(struct buffer *text, const char *pattern, int number)
{
    const char *mark = strstr(pattern, "%d");
    buffer_add(text, (struct text){pattern, mark ? (size_t)(mark - pattern) : strlen(pattern)});
    if (mark)
        buffer_format(text, "%d%s", number, mark + 2);
}

static void add_statements(struct buffer *written, struct buffer *formed, const struct pair *pairs,
                           size_t count)
{
    for (uint32_t i = drawn(&seed, 4); i > 0; i--) {
        static const char *const ends[] = {"\n", " # 2-6 lb\n", "\n\n", "\n# 20 x 15 ft\n"};
        const struct pair *pair = &pairs[drawn(&seed, (uint32_t)count)];
        const char *end = ends[drawn(&seed, 4)];
        int number = (int)drawn(&seed, 1000);
        add_numbered(written, pair->written, number);
        add_numbered(formed, pair->formed, number);
        buffer_add_string(written, end);
        buffer_add_string(formed, end);
    }
}

static void add_both(struct buffer *written, struct buffer *formed, const char *text)
{
    buffer_add_string(written, text);
    buffer_add_string(formed, text);
}

/* The text of the one file that a plan may use, whatever it is called. */
static const char *used_file(void *reader, const char *path, size_t *length)
{
    (void)path;
    *length = strlen(reader);
    return reader;
}

/* `used` is what each file of a `use` holds; NULL: none can be read. */
static const char *respelled_with(struct arena *arena, const char *used, const char *bytes)
{
    struct sources *sources = sources_new(arena, used ? used_file : NULL, (void *)used);
    struct source *source = sources_add_text(sources, "plan.prill", text_of(bytes), true);
    struct tree *tree = ARENA_NEW(arena, struct tree);
    struct reports reports;
    reports_init(&reports, arena);
    parse_source(source, arena, &reports, tree);
    if (!tree->sound)
        fail_msg("not sound:\n%s", bytes);
    return plan_respelled(arena, sources, tree);
}

static const char *respelled(struct arena *arena, const char *bytes)
{
    return respelled_with(arena, NULL, bytes);
}

#define PAIRS(pairs) pairs, sizeof(pairs) / sizeof *(pairs)

static void test_random_plans(void **state)
{
    int changed = 0;
    (void)state;
    for (int i = 0; i < 400; i++) {
        struct arena arena;
        arena_init(&arena, NULL);
        struct buffer written = {.arena = &arena}, formed = {.arena = &arena};
        add_both(&written, &formed, "currency \"US dollars\"\nlawn home {\n");
        add_statements(&written, &formed, PAIRS(ground));
        add_statements(&written, &formed, PAIRS(lawn));
        add_both(&written, &formed, "}\nproduct feed {\n");
        add_statements(&written, &formed, PAIRS(product));
        add_both(&written, &formed, "}\napply spring {\n");
        add_statements(&written, &formed, PAIRS(apply));
        add_both(&written, &formed, "}\n");
        const char *text = buffer_string(&written), *wanted = buffer_string(&formed);
        const char *once = respelled(&arena, text);
        if (strcmp(once ? once : text, wanted) != 0)
            fail_msg("%s\nis written:\n%s\nwanted:\n%s", text, once ? once : "(as it is)", wanted);
        assert_null(respelled(&arena, wanted));
        changed += once != NULL;
        arena_free(&arena);
    }
    assert_true(changed > 250);
}

/* What depends on more than the text is left alone. */
static void test_left_alone(void **state)
{
    static const char *const texts[] = {
        "product feed { pack 40 lb at $31 }\n",                             /* of what money? */
        "currency \"pounds\"\nproduct feed { pack 40 lb at $31 }\n",        /* of another */
        "use \"ours.prill\"\nlawn a { grass bermuda, zone b area 9 m2 }\n", /* which cannot be read */
        "grass bermuda { season warm }\nlawn a { grass bermuda }\n",
        "lawn a { zone b 2000 }\n",
        "lawn a { zone b area 9 m2, plus 3 m by 4 m }\n",
        "lawn a { zone oval 3 m by 4 m }\n", /* a rectangle? */
        "lawn a { zone Round-bed 3 x 4 m }\n",
        "results { spot P ppm\n 2-6 20 x }\n",
    };
    (void)state;
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        struct arena arena;
        arena_init(&arena, NULL);
        assert_null(respelled(&arena, texts[i]));
        arena_free(&arena);
    }
}

/* A used file may declare the grass that a short name is of; files may use each other. */
static void test_grasses_of_used_files(void **state)
{
    static const char plan[] = "use \"ours.prill\"\nlawn a { grass bermuda }\n";
    static const char formed[] = "use \"ours.prill\"\nlawn a { grass bermudagrass }\n";
    static const struct {
        const char *used, *formed; /* NULL: left as it is */
    } trials[] = {
        {"product feed { }\n", formed},    {"grass our-mixture { }\nuse \"ours.prill\"\n", formed},
        {"grass bermuda { }\n", NULL},     {"grass \"Bermuda\" { }\n", NULL},
        {"grass our-bermuda { }\n", NULL}, {"use \"plan.prill\"\ngrass our-bermudagrass { }\n", NULL},
    };
    (void)state;
    for (size_t i = 0; i < sizeof trials / sizeof *trials; i++) {
        struct arena arena;
        arena_init(&arena, NULL);
        const char *text = respelled_with(&arena, trials[i].used, plan);
        if (trials[i].formed)
            assert_string_equal(text, trials[i].formed);
        else
            assert_null(text);
        arena_free(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_plans),
        cmocka_unit_test(test_left_alone),
        cmocka_unit_test(test_grasses_of_used_files),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
