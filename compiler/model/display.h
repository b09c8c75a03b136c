/* Quantities as a person reads them: in the plan's units (model->metric, model->ground), four significant
 * digits, no locale.
 *
 * Values are SI: kg, m3, kg/m2, m3/m2, m2, m, K, kg/m3; they must be finite. Texts live in the arena. What is
 * written here can be written in a plan: "0.75 lb N per 1000 sqft". */
#ifndef PRILL_MODEL_DISPLAY_H
#define PRILL_MODEL_DISPLAY_H

#include "compiler/model/figure.h"
#include "compiler/model/model.h"

enum quantity {
    QUANTITY_MASS,        /* lb; kg, or g below 1 kg */
    QUANTITY_VOLUME,      /* gal, or fl oz below 1 gal; L, or mL below 1 L */
    QUANTITY_MASS_RATE,   /* lb per 1000 sqft; g per m2. PER_FIELD: lb per acre; kg per ha */
    QUANTITY_VOLUME_RATE, /* fl oz per 1000 sqft; mL per m2. PER_FIELD: fl oz per acre; L per ha */
    QUANTITY_WATER_RATE,  /* gal per 1000 sqft; L per 100 m2. PER_FIELD: gal per acre; L per ha */
    QUANTITY_AREA,        /* sqft; m2. PER_FIELD: acres; ha */
    QUANTITY_LENGTH,      /* ft; m */
    QUANTITY_DEPTH,       /* in; mm */
    QUANTITY_TEMPERATURE, /* F; C */
    QUANTITY_DENSITY      /* lb per gal; kg per L */
};

/* "12.94 lb". With `what` (may be NULL): "0.75 lb N per 1000 sqft", "12.94 lb of starter" by "of starter". */
const char *display_of(struct arena *arena, const struct model *model, enum quantity quantity, double si,
                       const char *what);

/* The same, rounded by number_floor (a limit is not passed by it) or number_ceiling (a least amount is
 * reached). */
const char *display_rounded(struct arena *arena, const struct model *model, enum quantity quantity, double si,
                            double (*round_to)(double, int), const char *what);

/* The same, rounded within the leeway (figure.h). */
const char *display_within(struct arena *arena, const struct model *model, enum quantity quantity, double si,
                           struct leeway leeway, const char *what);

/* The number alone, under display_unit(...). */
const char *display_number_within(struct arena *arena, const struct model *model, enum quantity quantity,
                                  double si, struct leeway leeway);

/* A product's rate to spread or spray at, rounded within its leeway (figure.h) so that the passes add up:
 * each takes a figure of the usual precision, and the whole is so many times that. */
struct shown_rate {
    double rate; /* kg/m2 or m3/m2 */
    bool volume;
    struct leeway leeway;
    int passes; /* at least 1 */
};
/* What so many of the passes put down: "5.356 lb per 1000 sqft" of all of them, of one "2.678 lb of starter
 * per 1000 sqft". `what` as above. */
const char *display_passes(struct arena *arena, const struct model *model, const struct shown_rate *rate,
                           int passes, const char *what);
/* The number of the whole alone, under display_unit(...). */
const char *display_whole_number(struct arena *arena, const struct model *model,
                                 const struct shown_rate *rate);
/* "2 to 4 lb per 1000 sqft", as a label allows: neither end, put down, leaves the range. */
const char *display_label_range(struct arena *arena, const struct model *model, enum quantity quantity,
                                double low, double high);

/* A value and the bound it is held against, in one unit: the bound with all the digits it was stated with (as
 * it is, up to six significant digits), the value with as many as it takes to read on its own side of it, so
 * that 0.90004 never reads as the 0.9 it passes, and 4.5 never as 5 beside 1960. */
struct display_pair {
    const char *value, *bound;
};
struct display_pair display_pair(struct arena *arena, const struct model *model, enum quantity quantity,
                                 double value, double bound, const char *what);
/* The same for shares: "12.5%" and "20%". */
struct display_pair display_share_pair(struct arena *arena, double value, double bound);

/* The number alone and the unit's text that goes with it, for tables: display_number(...) under
 * display_unit(...). The unit is the one that `si` is shown in. */
const char *display_number(struct arena *arena, const struct model *model, enum quantity quantity, double si);
const char *display_unit(struct arena *arena, const struct model *model, enum quantity quantity, double si);
/* That number, exactly, and the two parts of a rate's unit, "lb" and " per 1000 sqft", for lists that say
 * what it is per once. */
struct display_parts {
    double value;
    const char *unit, *per;
};
struct display_parts display_parts(const struct model *model, enum quantity quantity, double si);

/* The usual ones by name. */
const char *display_rate(struct arena *arena, const struct model *model, double kg_per_m2);
const char *display_product_rate(struct arena *arena, const struct model *model, double rate, bool volume);
const char *display_amount(struct arena *arena, const struct model *model, double amount, bool volume);
const char *display_area(struct arena *arena, const struct model *model, double m2);
const char *display_length(struct arena *arena, const struct model *model, double m);
/* A distance to keep, in as many figures as a person measures, never less than it is: "3.05 m" for 10 ft. */
const char *display_distance(struct arena *arena, const struct model *model, double m);
const char *display_depth(struct arena *arena, const struct model *model, double m);
const char *display_date(struct arena *arena, day_number day); /* "Sat 2027-04-17" */
const char *display_dates(struct arena *arena, day_number a,
                          day_number b);                 /* "Sat 2027-04-10 to Fri 2027-04-30" */
const char *display_days(struct arena *arena, int days); /* "1 day", "28 days" */
const char *display_duration(struct arena *arena, struct duration duration); /* "28 days", "6 months" */
const char *display_share(struct arena *arena, double share);                /* "30%" */
const char *display_hours(struct arena *arena, double seconds);              /* "30 min", "4 h", "2 days" */

#endif
