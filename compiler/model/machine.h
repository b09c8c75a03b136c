/* The arithmetic of spreaders and sprayers: what tests say, how the dial is set, how often is filled.
 *
 * Pure functions; SI throughout. Formulas and bands, with their sources:
 * - A catch test gives mass / (area x passes). Spreader and rate agree within 5 % of the rate; half of it
 * goes out in each of two directions (UMass Extension, Rotary Spreader Calibration Procedures,
 *   https://ag.umass.edu/turf/fact-sheets/rotary-spreader-calibration-procedures).
 * - A flow over a width at a speed gives flow / (speed x width). In US units GPA = 5940 GPM / (MPH x W), W in
 *   inches (https://sportsfieldmanagementonline.com/2010/03/23/sprayer-calibration-in-a-pinch/4424/); in
 * metric ones L/ha = 600 L/min / (km/h x m), by arithmetic.
 * - Nozzles may differ 10 % from their mean (Florida Pest Control Examinations, page 213,
 *   https://online.flipbuilder.com/qawr/oiuo/files/basic-html/page213.html); so may what several tests found.
 * - Between two tested settings the rate is taken as straight; that is not published, so nothing is taken
 * from outside them. */
#ifndef PRILL_MODEL_MACHINE_H
#define PRILL_MODEL_MACHINE_H

#include "compiler/model/model.h"

/* How far what is spread may be from the rate, and what several tests found from their mean; shares. */
#define ACCEPT_BAND 0.05
#define TESTS_AGREE 0.10

/* How wide a pass counts, by a row of pans so far apart across the way, the middle of the row on its line: to
 * the left and to the right as far as half of what the middle pan got (the mean of the middle two) falls,
 * straight between two pans; NAN where the row ends before that. (Effective width: Landschoot, Penn State, in
 *   http://www.lawnandlandscape.com/article/ll-031016-fert-calibration/; Ohio State University Extension,
 *   Bulletin 817-00, http://ohioline.osu.edu/b817/b817_13.html; the straight line is not published.) */
struct swath {
    double left_m, right_m;
};
struct swath swath_of(const double *caught, size_t count, double spacing_m);

/* Whether two settings of one dial can both be right: the higher number has the higher rate. True where one
 * is not a number, and of the same number. */
bool dial_rises(const struct dial_setting *a, double a_rate, const struct dial_setting *b, double b_rate);

/* The lowest rate that all its passes come to, kg/m2 or m3/m2; NAN where none is stated. */
double machine_least_rate(const struct machine *machine, int measure);

/* The steps in which a rate is set: kg/m2 or m3/m2, the coarsest first. */
enum { RATE_STEPS = 4 };
struct rate_steps {
    size_t count;
    double items[RATE_STEPS];
};
/* Of the product counted by mass or volume: the machine's own; otherwise, and without a machine (NULL), those
 * of the entry `spreader` or `sprayer` in the plan's units. */
struct rate_steps rate_steps_of(const struct model *model, const struct machine *machine,
                                const struct product *product, bool volume);

enum dial_found {
    DIAL_UNKNOWN, /* neither test nor label says anything of the product on this spreader */
    DIAL_OTHER,   /* the label gives settings, of other dials only */
    DIAL_BELOW,   /* the rate is below all of them */
    DIAL_ABOVE,
    DIAL_BETWEEN, /* between two marks that are not numbers */
    DIAL_FOUND
};

/* How the dial is to be set for a rate of one pass. */
struct dial_answer {
    enum dial_found found;
    bool of_label;             /* by the label's settings; otherwise by tests */
    const char *text;          /* DIAL_FOUND: what to set: "12", "H", "12.4" */
    double low, high;          /* the lowest and the highest rate with a known setting; NAN without */
    const char *after, *until; /* DIAL_FOUND between two marks: those; NULL otherwise */
    struct place place;        /* of the nearest test or line of the label; no source without */
};

/* Tests of this product on this spreader, or else what the label gives for its dial. Several tests at one
 * setting count by their mean. A setting found between two is rounded down to a tenth. A rate over the
 * highest by no more than ACCEPT_BAND takes that: it puts down a little less. Below the lowest nothing is
 * taken: it would put down more. */
struct dial_answer dial_for(struct arena *arena, const struct machine *spreader,
                            const struct product *product, double kg_per_m2);

/* Fills of a hopper or tank: `full` of `full_each`, then `rest` (0 to 2) of `rest_each`; they add up to the
 * amount. A last fill of less than half the holding is evened out with the one before it, since so little
 * runs unevenly through a hopper and is hard to measure out for a tank (common practice, no source). */
struct loads {
    size_t full, rest;
    double full_each, rest_each; /* kg or m3; full_each 0 without any */
};

/* `holds` NAN: one fill takes it all. */
struct loads loads_of(double amount, double holds);

#endif
