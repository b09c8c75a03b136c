/* How a laboratory's results are read: scales, conversions between extraction methods, lime tables.
 *
 * Quantities are SI; a result is a share of the soil by mass, or an index without a unit. */
#ifndef PRILL_MODEL_SCALE_H
#define PRILL_MODEL_SCALE_H

#include "compiler/model/nutrient.h"
#include "compiler/model/symbol.h"

struct grass;
struct source_entry;

struct level {                            /* of a scale */
    const struct nutrient_form *nutrient; /* as the scale states it */
    bool minimum;                         /* a minimum level rather than a class */
    bool index;                           /* low and high are an index without unit, not shares of the soil */
    bool above, below;                    /* a class without its lower end, without its upper end */
    const struct name *name;              /* of the class; NULL for a minimum */
    double low, high;           /* mass fraction of the soil of what `nutrient` names; high may be INFINITY */
    double need_low, need_high; /* kg/m2 of the element a year for a result in this class; NAN not stated */
    const char *text;           /* as written, "25 to 45 lb per acre" */
    const struct source_entry *source;
    struct place place;
};

/* What a result is counted in where a formula takes it: an index, or a share of the soil. */
struct level_unit {
    bool index;
    double share;     /* of the soil that 1 is, such as 1e-6 for ppm; of the element */
    const char *text; /* as written */
};

enum { POLYNOMIAL_LIMIT = 4 };

struct polynomial { /* term[0] + term[1] * x + term[2] * x^2 ... */
    double term[POLYNOMIAL_LIMIT];
    size_t count;
    double factor;    /* what 1 of a term as written is here */
    const char *text; /* as written */
};

struct scale_equation {                   /* the need of a year from the result */
    const struct nutrient_form *nutrient; /* what the amount is of */
    struct polynomial need;               /* kg/m2 of what `nutrient` names */
    struct level_unit operand;
    const struct source_entry *source;
    struct place place;
};

struct scale_activity { /* an index of a result and the pH: base + slope * result + acidity * pH */
    const struct nutrient_form *nutrient;
    double base, slope, acidity;
    struct level_unit operand;
    double enough; /* from this index on there is no need */
    const struct source_entry *source;
    struct place place;
};

struct scale_use { /* what grass takes up, as a share of the N given; elements per element */
    const struct nutrient_form *nutrient;
    double share;
    const struct source_entry *source;
    struct place place;
};

struct scale {
    struct symbol symbol;
    const struct name *method, *region, *enough;
    struct place region_place;
    struct grass_list grasses; /* none: any */
    struct name_list soils;    /* textures; none: any */
    double depth_m;            /* NAN when not stated */
    double bulk_density;       /* kg/m3 to reckon with where the lawn states none; NAN when not stated */
    const struct source_entry *density_source;
    struct place density_place;
    double spread; /* greatest deviation of a spot from the mean, as a share; NAN when not stated */
    int spots;     /* fewest; 0 when not stated */
    enum scale_sum { SUM_NONE, SUM_SHORTFALL, SUM_USE_AND_SHORTFALL } sum; /* what minimum levels amount to */
    const struct source_entry *sum_source;
    struct place sum_place;
    VECTOR(struct level) levels;
    VECTOR(struct scale_equation) equations;
    VECTOR(struct scale_activity) activities;
    VECTOR(struct scale_use) uses;
};

struct conversion_step { /* one nutrient from the one method to the other */
    const struct nutrient_form *nutrient;
    struct polynomial result; /* in `unit`, of the operand in `operand` */
    struct level_unit unit, operand;
    const struct source_entry *source;
    struct place place;
};

struct conversion { /* of results by one extraction method to those by another */
    struct symbol symbol;
    const struct name *from, *to; /* NULL when not stated */
    VECTOR(struct conversion_step) steps;
};

/* What a lime table goes by. */
enum lime_measure { LIME_BY_ACIDITY, LIME_BY_ACIDITY_OF_VOLUME, LIME_BY_BUFFER_PH };

struct lime_row {
    enum lime_measure measure;
    double value;          /* mol/kg, mol/m3 or buffer pH */
    const double *amounts; /* kg/m2 of the lime the table counts in, one for each of the table's goals */
    size_t amount_count;
    const char *text; /* of the value as written */
    struct place place;
};

struct lime_table {
    struct symbol symbol;
    const struct name *buffer, *region;
    const struct source_entry *source;
    VECTOR(double) goals; /* pH */
    struct place goals_place;
    VECTOR(struct lime_row) rows; /* of one measure */
    /* A formula instead of rows: acidity * whole_way * (goal - pH) / (way_end - pH). */
    double whole_way; /* kg/m2 of lime for 1 mol/kg (or mol/m3) of acidity; NAN without a formula */
    double way_end;   /* pH */
    enum lime_measure way_measure;
    struct place way_place;
    double buffer_start, buffer_step; /* acidity = (buffer_start - buffer pH) * buffer_step; NAN without */
    double neutralizing;       /* calcium carbonate in 1 kg of the lime it counts in; 1 when not stated */
    double most_at_once;       /* kg/m2 of that lime; NAN when not stated */
    struct duration interval;  /* between two limings; of nothing when not stated */
    const char *interval_text; /* as written, "4 months" */
    const struct source_entry *cap_source;
    struct place cap_place;
};

#endif
