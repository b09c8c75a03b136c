/* A column of a soil test as figures: mean and spread in the unit of the report, and where enough begins. */
#ifndef PRILL_RESULT_SOIL_FIGURE_H
#define PRILL_RESULT_SOIL_FIGURE_H

#include "compiler/season/season.h"

struct soil_figure {
    const struct soil_test *test;
    const struct table_column *column;
    const char *name, *unit;      /* "P", "ppm"; unit "" without */
    double mean, lowest, highest; /* in the unit of the report; NAN where no spot has a figure */
    size_t spots, below;          /* with a figure; of these below what the laboratory can see */
    size_t above;                 /* and above what it measures */
    bool lowest_below;            /* the lowest is a limit of detection */
    bool highest_above;           /* the highest is the most that the laboratory measures */
    double least;                 /* the mean with nothing in the spots below that limit */
    bool read;                    /* reading holds what a scale makes of it */
    bool superseded;              /* every zone has another test of it of the same day, which counts */
    struct soil_reading reading;
    /* What the scale looked at, and where it is enough: in the unit of the report where the scale counts as
     * it does, else in `judged_unit`. `enough` is NAN where no scale says. */
    double judged, enough;
    const char *judged_unit;
    bool doubtful; /* enough as counted, and too little if the spots below detection hold nothing */
};

struct soil_figure soil_figure_of(const struct season *season, const struct soil_test *test, size_t column);

/* The range of pH for the lawn's grass in its region, or anywhere; NULL where none is stated. */
const struct grass_range *lawn_range(const struct lawn *lawn, enum grass_range_kind kind);

/* Figures as bars, and what these mean. */
extern const char soil_bar_legend[];

/* What is there against what is enough, in one unit. */
const char *bar_of(struct arena *arena, double mean, double enough);

/* The same of two figures in one bar: o then, # now; * where they fall together. */
extern const char soil_change_legend[];
const char *bar_of_two(struct arena *arena, double was, double is, double enough);
/* The soil's pH, then and now, and the range in which the grass does well; `was` may be NAN, `range` NULL. */
const char *ph_bar_of(struct arena *arena, double was, double is, const struct grass_range *range);

#endif
