#include "compiler/model/area.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define PI 3.14159265358979323846
#define AREA(kind, ...)                                                                                      \
    area_of(SHAPE_##kind, (const double[]){__VA_ARGS__}, COUNT(((const double[]){__VA_ARGS__})))
#define COUNT(array) (sizeof(array) / sizeof *(array))

static void assert_near(double found, double wanted)
{
    if (!(fabs(found - wanted) <= 1e-12 * fabs(wanted)))
        fail_msg("%.17g is not %.17g", found, wanted);
}

/* xorshift64* of S. Vigna */
static uint64_t random_next(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return *seed * 0x2545F4914F6CDD1Du;
}

static double random_unit(uint64_t *seed)
{
    return (double)(random_next(seed) >> 11) * 0x1p-53;
}

static double offsets(double spacing, const double *widths, size_t count)
{
    double sizes[514] = {spacing};
    memcpy(sizes + 1, widths, count * sizeof *widths);
    return area_of(SHAPE_OFFSETS, sizes, count + 1);
}

/* The zones of the language's example, in feet; worked out by hand. */
static void test_example(void **state)
{
    (void)state;
    double north = AREA(RECTANGLE, 62, 40) - AREA(CIRCLE, 9);
    assert_near(north, 2480 - 63.617251235193308);
    assert_near(AREA(TRIANGLE, 50, 34), 850);
    static const double widths[] = {8, 9.5, 11, 10, 7};
    assert_near(offsets(10, widths, COUNT(widths)), 380);
}

static void test_shapes(void **state)
{
    (void)state;
    assert_near(AREA(RADIUS, 4.5), AREA(CIRCLE, 9));
    assert_near(AREA(RADIUS, 1), PI);
    assert_near(AREA(ELLIPSE, 9, 9), AREA(CIRCLE, 9));
    assert_near(AREA(ELLIPSE, 10, 4), PI * 5 * 2);
    assert_near(AREA(TRAPEZOID, 8, 12, 5), 50);
    assert_near(AREA(TRAPEZOID, 8, 8, 5), AREA(RECTANGLE, 8, 5));
    assert_near(AREA(TRAPEZOID, 8, 0, 5), AREA(TRIANGLE, 8, 5));
}

static void test_triangle_sides(void **state)
{
    (void)state;
    assert_near(AREA(SIDES, 3, 4, 5), 6);
    assert_near(AREA(SIDES, 5, 3, 4), 6);
    assert_near(AREA(SIDES, 13, 15, 14), 84);
    assert_near(AREA(SIDES, 2, 2, 2), sqrt(3));
    assert_true(AREA(SIDES, 1, 2, 3) == 0);
    assert_true(isnan(AREA(SIDES, 1, 2, 3.001)));
    assert_true(isnan(AREA(SIDES, 10, 2, 3)));
    assert_true(isnan(AREA(SIDES, 2, 10, 3)));
    assert_true(isnan(AREA(SIDES, 2, 3, 10)));
    /* Needles, where the common form of the formula loses half of the digits; areas of just these doubles,
     * worked out in fractions and to 60 digits. */
    assert_near(AREA(SIDES, 100000, 99999.99979, 0.00029), 10.00000007702103832);
    assert_near(AREA(SIDES, 30.1, 30.1000001, 1.3e-6), 1.950702953737962013e-5);
    assert_near(AREA(SIDES, 60, 33.3, 26.7000001), 0.05164619966290700239);
}

/* Any order of the sides, any scale, and the same as half of base times height. */
static void test_triangle_sides_agree(void **state)
{
    (void)state;
    uint64_t seed = 5;
    for (int i = 0; i < 20000; i++) {
        double base = 1 + 50 * random_unit(&seed), height = 1 + 50 * random_unit(&seed);
        double foot = base * (2 * random_unit(&seed) - 0.5);
        double left = hypot(foot, height), right = hypot(base - foot, height);
        double area = AREA(SIDES, base, left, right);
        assert_true(fabs(area - AREA(TRIANGLE, base, height)) <= 1e-11 * area);
        assert_true(area == AREA(SIDES, right, base, left));
        assert_true(area == AREA(SIDES, left, right, base));
        assert_near(AREA(SIDES, base * 4, left * 4, right * 4), area * 16);
    }
}

static void test_offsets(void **state)
{
    (void)state;
    static const double even[] = {6, 6, 6, 6};
    assert_near(offsets(5, even, 4), AREA(RECTANGLE, 15, 6));
    static const double pointed[] = {0, 6, 0};
    assert_near(offsets(5, pointed, 3), AREA(TRIANGLE, 10, 6));
    assert_near(offsets(5, even, 2), AREA(RECTANGLE, 5, 6));
    assert_true(isnan(offsets(5, even, 1)));
    assert_true(isnan(offsets(5, even, 0)));
    /* Trapezoids laid side by side. */
    static const double widths[] = {3, 8.25, 7, 0, 2.5, 11};
    double sum = 0;
    for (size_t i = 1; i < COUNT(widths); i++)
        sum += AREA(TRAPEZOID, widths[i - 1], widths[i], 4);
    assert_near(offsets(4, widths, COUNT(widths)), sum);
}

/* Half circles measured ever more closely: the rule comes near to pi r^2 / 2. */
static void test_offsets_converge(void **state)
{
    (void)state;
    double error = 1;
    for (size_t parts = 8; parts <= 512; parts *= 4) {
        double widths[513];
        for (size_t i = 0; i <= parts; i++) {
            double x = 2 * (double)i / (double)parts - 1;
            widths[i] = sqrt(1 - x * x);
        }
        double now = fabs(offsets(2 / (double)parts, widths, parts + 1) - PI / 2);
        assert_true(now < error / 6); /* the error falls with parts^-1.5: by 8 */
        error = now;
    }
}

static void test_polygon(void **state)
{
    (void)state;
    static const double rectangle[] = {0, 0, 62, 0, 62, 40, 0, 40, 0, 0};
    assert_int_equal(area_polygon(rectangle, 4).status, POLYGON_SIMPLE);
    assert_near(area_polygon(rectangle, 4).area, 2480);
    assert_near(area_polygon(rectangle, 5).area, 2480); /* the first corner once more */
    assert_near(area_polygon(rectangle, 3).area, 1240);
    static const double l_shape[] = {0, 0, 10, 0, 10, 4, 4, 4, 4, 9, 0, 9};
    assert_near(area_polygon(l_shape, 6).area, 60);
    static const double straight_corner[] = {0, 0, 5, 0, 10, 0, 10, 4, 0, 4};
    assert_near(area_polygon(straight_corner, 5).area, 40);
}

static void test_polygon_wrong(void **state)
{
    (void)state;
    static const struct {
        double corners[12];
        size_t count;
        enum polygon_status status;
        size_t first, second;
    } rows[] = {
        {{0}, 0, POLYGON_FEW, 0, 0},
        {{1, 1}, 1, POLYGON_FEW, 0, 0},
        {{0, 0, 1, 1}, 2, POLYGON_FEW, 0, 0},
        {{0, 0, 1, 1, 0, 0}, 3, POLYGON_FEW, 0, 0},
        {{0, 0, 1, 0, 1, 0, 1, 1}, 4, POLYGON_REPEATS, 1, 2},
        {{0, 0, 4, 4, 4, 0, 0, 4}, 4, POLYGON_CROSSES, 0, 2},             /* a bow tie */
        {{0, 0, 2, 0, 4, 0}, 3, POLYGON_CROSSES, 0, 2},                   /* flat */
        {{0, 0, 4, 0, 4, 4, 4, 1, 0, 4}, 5, POLYGON_CROSSES, 1, 2},       /* folds back */
        {{0, 0, 4, 0, 4, 4, 2, 0, 0, 4}, 5, POLYGON_CROSSES, 0, 2},       /* a corner touches a side */
        {{0, 0, 2, 2, 4, 0, 4, 4, 2, 2, 0, 4}, 6, POLYGON_CROSSES, 0, 3}, /* two corners at one point */
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct polygon found = area_polygon(rows[i].corners, rows[i].count);
        assert_int_equal(found.status, rows[i].status);
        assert_int_equal(found.first, rows[i].first);
        assert_int_equal(found.second, rows[i].second);
        assert_true(isnan(found.area));
    }
}

/* Points around a centre, in order of their angle: never crossing, and the area is the sum of the slices. */
static size_t star_corners(uint64_t *seed, double *corners, size_t count, double x, double y, double *area)
{
    double previous_radius = 0, first_radius = 0;
    *area = 0;
    for (size_t i = 0; i < count; i++) {
        double angle = 2 * PI * (double)i / (double)count, radius = 1 + 9 * random_unit(seed);
        corners[2 * i] = x + radius * cos(angle);
        corners[2 * i + 1] = y + radius * sin(angle);
        *area += previous_radius * radius / 2 * sin(2 * PI / (double)count);
        previous_radius = radius;
        first_radius = i == 0 ? radius : first_radius;
    }
    *area += previous_radius * first_radius / 2 * sin(2 * PI / (double)count);
    return count;
}

static void test_polygon_stars(void **state)
{
    (void)state;
    uint64_t seed = 11;
    for (int i = 0; i < 300; i++) {
        double corners[80], backwards[80], area;
        size_t count = star_corners(&seed, corners, 3 + (size_t)(i % 38), 100 * i, -40, &area);
        for (size_t j = 0; j < count; j++)
            memcpy(backwards + 2 * j, corners + 2 * (count - 1 - j), 2 * sizeof *corners);
        struct polygon found = area_polygon(corners, count);
        assert_int_equal(found.status, POLYGON_SIMPLE);
        assert_true(fabs(found.area - area) <= 1e-11 * area * (1 + 100 * i / 10.0));
        assert_true(fabs(area_polygon(backwards, count).area - area) <= 1e-11 * area * (1 + 100 * i / 10.0));
    }
}

static void test_polygon_limit(void **state)
{
    (void)state;
    uint64_t seed = 13;
    double *corners = malloc(2 * (POLYGON_LIMIT + 1) * sizeof *corners), area;
    assert_non_null(corners);
    star_corners(&seed, corners, POLYGON_LIMIT + 1, 0, 0, &area);
    assert_int_equal(area_polygon(corners, POLYGON_LIMIT + 1).status, POLYGON_MANY);
    star_corners(&seed, corners, POLYGON_LIMIT, 0, 0, &area);
    assert_int_equal(area_polygon(corners, POLYGON_LIMIT).status, POLYGON_SIMPLE);
    assert_true(fabs(area_polygon(corners, POLYGON_LIMIT).area - area) <= 1e-10 * area);
    free(corners);
}

/* Crossing, touching and folding back once more, in whole numbers and by solving a + t r = c + u s. */
static int cross(const int *r, const int *s)
{
    return r[0] * s[1] - r[1] * s[0];
}

static bool within(int part, int whole)
{
    return whole > 0 ? part >= 0 && part <= whole : part <= 0 && part >= whole;
}

static bool whole_sides_meet(const int *a, const int *b, const int *c, const int *d)
{
    int r[] = {b[0] - a[0], b[1] - a[1]}, s[] = {d[0] - c[0], d[1] - c[1]}, q[] = {c[0] - a[0], c[1] - a[1]};
    if (cross(r, s) != 0)
        return within(cross(q, s), cross(r, s)) && within(cross(q, r), cross(r, s));
    if (cross(q, r) != 0)
        return false;
    int length = r[0] * r[0] + r[1] * r[1];
    int c_along = q[0] * r[0] + q[1] * r[1], d_along = c_along + s[0] * r[0] + s[1] * r[1];
    return !((c_along < 0 && d_along < 0) || (c_along > length && d_along > length));
}

static bool whole_polygon_simple(int corners[][2], size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const int *a = corners[i], *b = corners[(i + 1) % count], *c = corners[(i + 2) % count];
        int ab[] = {a[0] - b[0], a[1] - b[1]}, cb[] = {c[0] - b[0], c[1] - b[1]};
        if (cross(ab, cb) == 0 && ab[0] * cb[0] + ab[1] * cb[1] >= 0)
            return false;
        for (size_t j = i + 2; j < count; j++)
            if ((j + 1) % count != i && whole_sides_meet(a, b, corners[j], corners[(j + 1) % count]))
                return false;
    }
    return true;
}

/* Small grids make touching and folding common; the conversion from feet disturbs the last digits as it does
 * in a plan. */
static void test_polygon_grid(void **state)
{
    (void)state;
    uint64_t seed = 17;
    size_t simple = 0, total = 200000;
    for (size_t i = 0; i < total; i++) {
        int whole[7][2];
        double metres[14];
        size_t count = 3 + i % 5;
        for (size_t j = 0; j < 2 * count; j++) {
            whole[j / 2][j % 2] = (int)(random_next(&seed) >> 33) % 6;
            metres[j] = whole[j / 2][j % 2] * 0.3048;
        }
        if (memcmp(whole[0], whole[count - 1], sizeof *whole) == 0)
            continue; /* closed by hand: tested above */
        bool found = area_polygon(metres, count).status == POLYGON_SIMPLE;
        assert_int_equal(found, whole_polygon_simple(whole, count));
        simple += found;
    }
    assert_true(simple > total / 10 && simple < total - total / 10); /* both answers were asked for often */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_example),        cmocka_unit_test(test_shapes),
        cmocka_unit_test(test_triangle_sides), cmocka_unit_test(test_triangle_sides_agree),
        cmocka_unit_test(test_offsets),        cmocka_unit_test(test_offsets_converge),
        cmocka_unit_test(test_polygon),        cmocka_unit_test(test_polygon_wrong),
        cmocka_unit_test(test_polygon_stars),  cmocka_unit_test(test_polygon_limit),
        cmocka_unit_test(test_polygon_grid),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
