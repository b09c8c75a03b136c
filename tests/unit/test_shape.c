/* Zones as a plan writes them, against areas worked out by hand. */
#include "tests/unit/model_text.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define SQFT 0.09290304
#define PI 3.14159265358979323846

static const char *plan_of(struct arena *arena, const char *shape)
{
    return text_format(arena, "lawn l {\n zone a %s\n}\n", shape);
}

static void test_areas(void **state)
{
    static const struct {
        const char *shape;
        double area; /* m2 */
    } samples[] = {
        {"area 640 sqft", 640 * SQFT},
        {"rectangle 62 ft by 40 ft", 62 * 40 * SQFT},
        {"square 30 ft", 900 * SQFT},
        {"circle 9 ft across", PI * 4.5 * 4.5 * SQFT},
        {"circle radius 9 ft", PI * 81 * SQFT},
        {"triangle 50 ft by 34 ft", 850 * SQFT},
        {"triangle sides 3 m, 4 m, 5 m", 6},
        {"trapezoid 3 m and 5 m by 2 m", 8},
        {"ellipse 10 m by 6 m", PI * 15},
        {"polygon (0 m, 0 m), (4 m, 0 m), (4 m, 3 m)", 6},
        {"polygon (0 m, 0 m), (4 m, 0 m), (4 m, 3 m), (0 m, 3 m), (0 m, 0 m)", 12},
        {"polygon (-2 m, -1 m), (2 m, -1 m), (0 m, 2 m)", 6},
        {"offsets every 10 ft: 8 ft, 9.5 ft, 11 ft, 10 ft, 7 ft", 380 * SQFT},
        {"offsets every 2 m: 1 m, 3 m", 4},
        {"square 3 m, less square 1 m", 8},
        {"square 3 m, plus square 1 m", 10},
        {"square 3 m less square 1 m plus square 2 m", 12},
        {"square 3 m, less (square 2 m, less square 1 m)", 6},
        {"(square 3 m, plus square 1 m)", 10},
        {"square 3 m, less circle 1 m across, less circle radius 1/2 m", 9 - PI / 2},
        {"rectangle 62 ft by 40 ft, less circle 9 ft across", (2480 - PI * 20.25) * SQFT},
        {"rectangle 10 ft by 3 m", 30 * 0.3048},
        {"polygon (0 m,\n 0 m),\n (4 m, 0 m), (4 m,\n 3 m)", 6},
        {"square 3 m,\n less square 1 m", 8},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct model_text read;
        struct arena arena;
        arena_init(&arena, NULL);
        model_text_read(&read, plan_of(&arena, samples[i].shape));
        if (read.reports.errors)
            fail_msg("%s: %s", samples[i].shape, model_text_error(&read)->sentence);
        assert_figure(model_text_zone(&read, "a")->area_m2, samples[i].area);
        assert_true(isinf(model_text_zone(&read, "a")->water_m));
        model_text_free(&read);
        arena_free(&arena);
    }
}

/* What follows a shape after a comma is told from more of the shape. */
static void test_what_follows(void **state)
{
    static const char *const shapes[] = {
        "area 640 sqft, 12 ft from water",
        "offsets every 1 ft: 1 ft, 639 ft, 640.5 ft, 12 ft from water",
        "polygon (0 ft, 0 ft), (64 ft, 0 ft), (64 ft, 10 ft), (0 ft, 10 ft), 12 ft from water",
        "square 20 ft, plus square 4 ft, 12 ft from water",
    };
    for (size_t i = 0; i < sizeof shapes / sizeof *shapes; i++) {
        struct model_text read;
        struct arena arena;
        arena_init(&arena, NULL);
        model_text_read(&read, plan_of(&arena, shapes[i]));
        assert_string_equal(model_text_errors(&read), "");
        assert_figure(model_text_zone(&read, "a")->water_m, 12 * 0.3048);
        model_text_free(&read);
        arena_free(&arena);
    }
    struct model_text read;
    model_text_read(&read, "lawn l { zone a offsets every 2 m: 1 m, 3 m, zone b square 2 m, 5 m from water, "
                           "zone c square 1 m }\n");
    assert_string_equal(model_text_errors(&read), "");
    assert_figure(model_text_zone(&read, "a")->area_m2, 4);
    assert_figure(model_text_zone(&read, "b")->area_m2, 4);
    assert_figure(model_text_zone(&read, "c")->area_m2, 1);
    assert_figure(model_text_zone(&read, "b")->water_m, 5);
    model_text_free(&read);
}

static void test_refused(void **state)
{
    static const struct {
        const char *shape, *error;
    } samples[] = {
        {"", "2:8 form"}, /* where the statement ends */
        {"squr 3 m", "2:9 form"},
        {"circle 9 ft", "2:9 form"},
        {"circle", "2:15 form"},
        {"square 3 m by 3 m", "2:20 form"},
        {"rectangle 3 m by 2 kg", "2:26 dimension"},
        {"rectangle 3 by 2", "2:24 unit"},
        {"rectangle 3 m by 2", "2:26 unit"},
        {"rectangle 0 by 2 m", "2:19 unit"},
        {"3 m", "2:9 dimension"},
        {"3 m, less 2 m2", "2:9 dimension"},
        {"9 m2, less 2 m by 1 m", "2:20 form"}, /* a triangle has two sides as well */
        {"area 3 m", "2:14 dimension"},
        {"area 0 sqft", "2:14 value"},
        {"square 0 m", "2:16 value"},
        {"square -3 m", "2:16 value"},
        {"triangle sides 3 m, 4 m, 8 m", "2:9 shape"},
        {"triangle sides 3 m, 4 m", "2:32 form"},
        {"polygon (0 m, 0 m), (4 m, 0 m)", "2:9 shape"},
        {"polygon (0 m, 0 m), (4 m, 3 m), (4 m, 0 m), (0 m, 3 m)", "2:9 shape"},
        {"polygon (0 m, 0 m), (0 m, 0 m), (4 m, 0 m)", "2:9 shape"},
        {"polygon (0 m 0 m)", "2:22 form"},
        {"polygon 0 m, 0 m", "2:17 form"},
        {"offsets every 2 m: 3 m", "2:9 shape"},
        {"offsets every 2 m 3 m", "2:27 form"},
        {"square 3 m, less square 3 m", "2:9 shape"},
        {"square 3 m, less square 4 m", "2:9 shape"},
        {"square 3 m, less", "2:25 form"},
        {"square 3 m, minus square 1 m", "2:21 form"},
        {"(square 3 m", "2:9 unclosed"},
        {"square 1000 km", "2:9 shape"},
        {"square 3 m, less (square 2 m, less square 2 m)", "2:27 shape"},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct arena arena;
        arena_init(&arena, NULL);
        const char *plan = plan_of(&arena, samples[i].shape);
        assert_errors(plan, samples[i].error);
        arena_free(&arena);
    }
}

static void test_labels_in_the_plans_units(void **state)
{
    struct model_text read;
    model_text_read(&read, "lawn l { zone a rectangle 10 ft by 20 ft, less square 90 ft }\nunits us\n");
    const struct report *report = model_text_error(&read);
    assert_int_equal(report->labels.count, 2);
    assert_string_equal(report->labels.items[0].text, "plus 200 sqft");
    assert_string_equal(report->labels.items[1].text, "less 8100 sqft");
    model_text_free(&read);
    model_text_read(&read, "units metric\nlawn l { zone a rectangle 10 m by 20 m, less square 90 m }\n");
    report = model_text_error(&read);
    assert_string_equal(report->labels.items[0].text, "plus 200 m2");
    assert_string_equal(report->labels.items[1].text, "less 8100 m2");
    model_text_free(&read);
}

static void test_many_parts(void **state)
{
    struct model_text read;
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer text = {.arena = &arena};
    buffer_add_string(&text, "lawn l { zone a square 3 m");
    for (int i = 0; i < 20000; i++)
        buffer_add_string(&text, ", plus square 3 m");
    buffer_add_string(&text, " }\n");
    model_text_read(&read, buffer_string(&text));
    assert_string_equal(model_text_errors(&read), "");
    assert_figure(model_text_zone(&read, "a")->area_m2, 9 * 20001.0);
    model_text_free(&read);
    /* a report with a label for each part would be no help */
    text = (struct buffer){.arena = &arena};
    buffer_add_string(&text, "lawn l { zone a square 3 m");
    for (int i = 0; i < 20000; i++)
        buffer_add_string(&text, ", less square 3 m");
    buffer_add_string(&text, " }\n");
    model_text_read(&read, buffer_string(&text));
    assert_int_equal(model_text_error(&read)->labels.count, 8);
    model_text_free(&read);
    arena_free(&arena);
}

static void test_deep_groups(void **state)
{
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer text = {.arena = &arena};
    buffer_add_string(&text, "lawn l { zone a ");
    for (int i = 0; i < DEPTH_LIMIT; i++)
        buffer_add_string(&text, "(");
    buffer_add_string(&text, "square 3 m");
    for (int i = 0; i < DEPTH_LIMIT; i++)
        buffer_add_string(&text, ")");
    buffer_add_string(&text, " }\n");
    assert_errors(buffer_string(&text), "");
    arena_free(&arena);
}

/* Sizes beyond what a shape may have, and corners beyond what a polygon may. */
static void test_limits(void **state)
{
    struct arena arena;
    arena_init(&arena, NULL);
    for (int count = 999; count <= 1001; count += 2) {
        struct buffer text = {.arena = &arena};
        buffer_add_string(&text, "lawn l { zone a polygon (0 m, 0 m)");
        for (int i = 1; i < count; i++) /* a fan that closes along the axis */
            buffer_format(&text, ", (%d m, %d m)", i, i == count - 1 ? 0 : 1 + i % 2);
        buffer_add_string(&text, " }\n");
        assert_errors(buffer_string(&text), count > 1000 ? "1:17 shape" : "");
    }
    arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_areas),      cmocka_unit_test(test_what_follows),
        cmocka_unit_test(test_refused),    cmocka_unit_test(test_labels_in_the_plans_units),
        cmocka_unit_test(test_many_parts), cmocka_unit_test(test_deep_groups),
        cmocka_unit_test(test_limits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
