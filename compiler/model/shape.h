/* A zone's shape as a plan writes it, and its area: parts added and taken away. */
#ifndef PRILL_MODEL_SHAPE_H
#define PRILL_MODEL_SHAPE_H

#include "lexer/report.h"

struct model;

enum shape_kind {
    SHAPE_AREA,      /* size: the area itself, m2 */
    SHAPE_RECTANGLE, /* size: both sides */
    SHAPE_SQUARE,    /* size: one side */
    SHAPE_CIRCLE,    /* size: across */
    SHAPE_RADIUS,    /* size: radius of a circle */
    SHAPE_TRIANGLE,  /* size: base and height */
    SHAPE_SIDES,     /* size: the three sides of a triangle */
    SHAPE_TRAPEZOID, /* size: the two parallel sides, then the distance between them */
    SHAPE_ELLIPSE,   /* size: both axes, whole */
    SHAPE_POLYGON,   /* size: x, y of each corner */
    SHAPE_OFFSETS,   /* size: the spacing, then each width measured */
    SHAPE_GROUP      /* parts between ( and ) */
};

struct shape;

struct shape_part {
    bool less; /* taken away instead of added */
    enum shape_kind kind;
    double *sizes; /* m, or m2 for SHAPE_AREA */
    size_t size_count;
    struct shape *group;
    struct place place;
    double area; /* m2, above 0 once shape_measure has passed */
};

struct shape {
    struct shape_part *parts;
    size_t part_count;
    struct place place;
    double area; /* m2 */
};

/* Computes the area of every part and of the whole. What cannot be (a triangle that does not close, edges
 * that cross, nothing left) is reported at its part, in the plan's units, and the result is false. */
bool shape_measure(struct shape *shape, struct model *model);

#endif
