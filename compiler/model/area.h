/* Areas from what a person can measure on a lawn: pure geometry, lengths in m, results in m2.
 * The formulas are school geometry; a source stands where the form of computing is a particular one. Lengths
 * are finite and not negative; for others the results mean nothing. */
#ifndef PRILL_MODEL_AREA_H
#define PRILL_MODEL_AREA_H

#include "compiler/model/shape.h"

/* By the sizes of the kind (shape.h): a b, pi d^2 / 4, pi r^2, pi a b / 4, b h / 2, (a + b) h / 2. Of three
 * sides by Heron's formula: NaN when they cannot meet, the longest being longer than the others together. Of
 * widths measured every `spacing` along a line: spacing (w1/2 + w2 + ... + wn/2), NaN for fewer than two. NaN
 * for polygons and groups. */
double area_of(enum shape_kind kind, const double *size, size_t count);

enum polygon_status {
    POLYGON_SIMPLE,
    POLYGON_FEW,     /* fewer than three corners */
    POLYGON_MANY,    /* more than POLYGON_LIMIT */
    POLYGON_REPEATS, /* two corners in a row at one point: `first` and `second` */
    POLYGON_CROSSES, /* sides `first` and `second` cross, touch or fold back on each other */
};

/* Crossing sides are found by comparing each with each. */
enum { POLYGON_LIMIT = 1000 };

struct polygon {
    enum polygon_status status;
    double area;          /* NaN unless simple */
    size_t first, second; /* from 0; side i runs from corner i to the next, the last one back to corner 0 */
};

/* `corners` holds x and y of each corner in turn, `corner_count` corners, in either sense of walking around.
 * A last corner that repeats the first closes the figure and is left out. Shoelace formula, from the first
 * corner, so that a figure far from the origin loses nothing. */
struct polygon area_polygon(const double *corners, size_t corner_count);

#endif
