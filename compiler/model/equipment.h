/* Spreaders, sprayers and sprinklers as the plan states them; their arithmetic is in machine.h. SI. */
#ifndef PRILL_MODEL_EQUIPMENT_H
#define PRILL_MODEL_EQUIPMENT_H

#include "compiler/model/usual_range.h"

struct product;

/* A mark of a spreader's dial. */
struct dial_setting {
    double number;    /* NAN where it is not a number */
    const char *text; /* as written */
};

struct spreader_test { /* of one product at one setting */
    const struct product *product;
    struct dial_setting setting;
    double kg_per_m2; /* of one pass */
    double kg, run_m; /* of a test over a length, which the width makes an area of; run_m NAN otherwise */
    int passes;
    struct place place;
};

/* How a sprayer's output was stated. */
enum output_basis {
    OUTPUT_RATE,    /* per area */
    OUTPUT_FLOW,    /* per time */
    OUTPUT_ON_AREA, /* what went out over an area, or in the time for it */
    OUTPUT_ON_RUN   /* the same over a length */
};

struct sprayer_output {
    enum output_basis basis;
    double amount, per; /* m3/m2 and 1; m3 and s; m3 and m2; m3 and m */
    bool each;          /* of one nozzle */
    double m3_per_m2;   /* what it comes to */
    struct place place;
};

struct machine {
    struct symbol symbol;
    bool sprayer;
    double width_m; /* NAN when not stated, as all below; of a sprayer also nozzles times spacing */
    struct place width_place;
    double hopper_kg;
    struct {
        const double
            *caught; /* by pan, from left to right, in the unit of the statement; NULL when not stated */
        size_t count;
        double spacing_m, left_m, right_m; /* where the deposit falls to half of the middle's */
        struct place place;
    } pans;
    int passes;                         /* at least 1 */
    const struct name *dial;            /* whose settings labels give; its own name where not stated */
    VECTOR(struct spreader_test) tests; /* in the order of the text */
    int nozzles;                        /* 0 when not stated */
    double spacing_m;
    struct place nozzles_place;
    double tank_m3;
    double speed; /* m/s */
    VECTOR(struct sprayer_output) outputs;
    double output;             /* m3/m2; the mean where it was found several times */
    double least[MEASURES];    /* kg/m2, m3/m2: the lowest rates of one pass; see machine_least_rate */
    double step[MEASURES];     /* and in which steps; NAN where the entry says so */
    const struct usual *usual; /* the entry `spreader` or `sprayer`; NULL without */
};

struct sprinkler {
    struct symbol symbol;
    struct zone_list zones;
    double m_per_s; /* mean of the cans; NAN when not stated */
    size_t cans;    /* 0 when not stated, and where they are */
    struct place cans_place;
    /* What the driest quarter of at least four cans got, as a share of the mean; NAN with fewer. */
    double driest;
};

#endif
