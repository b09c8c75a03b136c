#include "compiler/model/area.h"

#include <math.h>

/* Polygons are measured by their corners, groups by their parts. Three sides by Heron's formula, in the order
 * of operations of W. Kahan, "Miscalculating Area and Angles of a Needle-like Triangle" (from memory), which
 * stays accurate for thin ones; widths by the trapezoid rule. */
double area_of(enum shape_kind kind, const double *size, size_t count)
{
    static const double PI = 3.14159265358979323846;
    switch (kind) {
    case SHAPE_AREA:
        return size[0];
    case SHAPE_RECTANGLE:
        return size[0] * size[1];
    case SHAPE_SQUARE:
        return size[0] * size[0];
    case SHAPE_CIRCLE:
        return PI * size[0] * size[0] / 4;
    case SHAPE_RADIUS:
        return PI * size[0] * size[0];
    case SHAPE_TRIANGLE:
        return size[0] * size[1] / 2;
    case SHAPE_SIDES: {
        double longest = fmax(size[0], fmax(size[1], size[2]));
        double shortest = fmin(size[0], fmin(size[1], size[2]));
        double middle = fmax(fmin(size[0], size[1]), fmin(fmax(size[0], size[1]), size[2]));
        double excess = shortest - (longest - middle);
        if (!(excess >= 0))
            return NAN;
        return sqrt((longest + (middle + shortest)) * excess * (shortest + (longest - middle)) *
                    (longest + (middle - shortest))) /
               4;
    }
    case SHAPE_TRAPEZOID:
        return (size[0] + size[1]) * size[2] / 2;
    case SHAPE_ELLIPSE:
        return PI * size[0] * size[1] / 4;
    case SHAPE_OFFSETS: {
        if (count < 3)
            return NAN;
        double widths = (size[1] + size[count - 1]) / 2;
        for (size_t i = 2; i < count - 1; i++)
            widths += size[i];
        return size[0] * widths;
    }
    case SHAPE_POLYGON:
    case SHAPE_GROUP:
        break;
    }
    return NAN;
}

struct point {
    double x, y;
};

static struct point corner(const double *corners, size_t count, size_t index)
{
    size_t at = index % count * 2;
    return (struct point){corners[at], corners[at + 1]};
}

/* The side of the line from a to b on which c lies: 1 left, -1 right, 0 on it. Measured corners are whole
 * inches or centimetres, so that "on it" is meant to the last digits that the conversion to metres can
 * disturb. */
static int side_of(struct point a, struct point b, struct point c)
{
    double left = (b.x - a.x) * (c.y - a.y);
    double right = (b.y - a.y) * (c.x - a.x);
    double tolerance = 1e-12 * (fabs(left) + fabs(right));
    return left - right > tolerance ? 1 : left - right < -tolerance ? -1 : 0;
}

/* Whether c, on the line through a and b, lies between them. */
static bool between(struct point a, struct point b, struct point c)
{
    return fmin(a.x, b.x) <= c.x && c.x <= fmax(a.x, b.x) && fmin(a.y, b.y) <= c.y && c.y <= fmax(a.y, b.y);
}

/* The last corner may repeat the first. Every pair of sides is looked at: a zone has few corners. */
struct polygon area_polygon(const double *corners, size_t corner_count)
{
    size_t count = corner_count;
    if (count > 1 && corners[0] == corners[2 * count - 2] && corners[1] == corners[2 * count - 1])
        count--;
    if (count < 3)
        return (struct polygon){.status = POLYGON_FEW, .area = NAN};
    if (count > POLYGON_LIMIT)
        return (struct polygon){.status = POLYGON_MANY, .area = NAN};
    for (size_t i = 0; i + 1 < count; i++)
        if (corners[2 * i] == corners[2 * i + 2] && corners[2 * i + 1] == corners[2 * i + 3])
            return (struct polygon){.status = POLYGON_REPEATS, .area = NAN, .first = i, .second = i + 1};
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++) {
            struct point a = corner(corners, count, i), b = corner(corners, count, i + 1);
            struct point c = corner(corners, count, j), d = corner(corners, count, j + 1);
            bool follows = j == i + 1, clash;
            if (follows || (i == 0 && j == count - 1)) {
                /* Neighbours share a corner, and clash only where one goes back over the other. */
                struct point from = follows ? a : c, shared = follows ? b : a, to = follows ? d : b;
                clash = side_of(from, shared, to) == 0 &&
                        (from.x - shared.x) * (to.x - shared.x) + (from.y - shared.y) * (to.y - shared.y) > 0;
            } else {
                /* Whether the sides a-b and c-d have a point in common: F. P. Preparata and M. I. Shamos,
                 * "Computational Geometry", 1985 (from memory). */
                int c_side = side_of(a, b, c), d_side = side_of(a, b, d);
                int a_side = side_of(c, d, a), b_side = side_of(c, d, b);
                clash = (c_side * d_side < 0 && a_side * b_side < 0) || (c_side == 0 && between(a, b, c)) ||
                        (d_side == 0 && between(a, b, d)) || (a_side == 0 && between(c, d, a)) ||
                        (b_side == 0 && between(c, d, b));
            }
            if (clash)
                return (struct polygon){.status = POLYGON_CROSSES, .area = NAN, .first = i, .second = j};
        }
    /* The shoelace formula, from the first corner: far from the origin the products would lose digits. */
    struct point origin = corner(corners, count, 0);
    double twice = 0;
    for (size_t i = 1; i + 1 < count; i++) {
        struct point a = corner(corners, count, i), b = corner(corners, count, i + 1);
        twice += (a.x - origin.x) * (b.y - origin.y) - (b.x - origin.x) * (a.y - origin.y);
    }
    return (struct polygon){.status = POLYGON_SIMPLE, .area = fabs(twice) / 2};
}
