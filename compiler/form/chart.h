/* A chart as what it shows, in its own figures: no colour, no pixel. A form draws it (svg.h), or leaves it
 * out: the page has a table of the same numbers beside it.
 *
 * Days are day numbers, lengths are m; heights and values are in the unit that `unit` names. */
#ifndef PRILL_FORM_CHART_H
#define PRILL_FORM_CHART_H

#include "compiler/model/model.h"

/* Names keep their size whatever a chart shows: whoever lays something out beside one counts in these. */
enum { CHART_ACROSS = 384, CHART_LETTER = 7, CHART_LINE = 18 }; /* its width in units of the drawing */

enum chart_kind {
    CHART_DAYS, /* `lines` over the days from first to last, from 0 upwards */
    CHART_ROWS, /* `rows`, each with what lies on which of these days */
    CHART_BARS, /* `rows`, each with bars on a scale of its own */
    CHART_PLAN  /* `outlines`, seen from above and to one scale */
};

/* What a line, a bar or a mark stands for: told apart by its form and, only besides, by its colour. */
enum chart_role {
    ROLE_DONE,    /* applied, or as it is now */
    ROLE_PLANNED, /* still to come */
    ROLE_LEAST,   /* of the zone that gets least */
    ROLE_BEFORE,  /* as it was before */
    ROLE_NEED,    /* needed, or good */
    ROLE_LIMIT,   /* allowed */
    ROLES
};

struct chart_point {
    double x, y;
};

/* A need has its lower edge from first to last and its upper edge back; all others go from point to point. */
struct chart_line {
    enum chart_role role;
    const char *label; /* NULL: as the line before it */
    VECTOR(struct chart_point) points;
};

struct chart_span {
    enum chart_role role;
    double from, to; /* equal: a mark */
};

struct chart_row {
    const char *label;
    double low, high; /* of bars: the ends of the scale */
    VECTOR(struct chart_span) spans;
};

struct chart_outline {
    const char *label; /* NULL: a part of the one before it */
    bool less;         /* taken away from it */
    bool round;        /* an ellipse: two points, its middle and its half axes */
    VECTOR(struct chart_point) points;
};

struct chart {
    enum chart_kind kind;
    const char *title, *description; /* what a person who does not see it is told */
    const char *unit;
    day_number first, last;
    double width, height; /* m; of CHART_PLAN */
    VECTOR(struct chart_line) lines;
    VECTOR(struct chart_row) rows;
    VECTOR(struct chart_outline) outlines;
    const char *roles[ROLES]; /* what each means here, for the legend; NULL of one that is not there */
};

#endif
