/* Limits as a law, a label or the plan states them; which amounts and days they hold back is the season's and
 * the checks' to find. SI. */
#ifndef PRILL_MODEL_LIMIT_H
#define PRILL_MODEL_LIMIT_H

#include "compiler/model/symbol.h"
#include "compiler/model/weather.h"

struct source_entry;

enum limit_kind {
    LIMIT_PER_APPLICATION,
    LIMIT_PER_YEAR,
    LIMIT_PER_PERIOD,
    LIMIT_PER_WINDOW, /* within days of every year */
    LIMIT_SLOW_SHARE,
    LIMIT_WAIT,
    LIMIT_WAIT_BETWEEN, /* in either order, or only from the first to the second */
    LIMIT_FOLLOW,       /* the second at most so long after the first */
    LIMIT_ORDER,
    LIMIT_CLOSED,      /* month and day windows, every year */
    LIMIT_CLOSED_DAYS, /* single days */
    LIMIT_NEED,
    LIMIT_CONTENT, /* products that hold more of a nutrient than a share */
    LIMIT_HEAT,
    LIMIT_WEATHER, /* cold, frozen ground, rain */
    LIMIT_DORMANT, /* outside the months of growth */
    LIMIT_WATER,
    LIMIT_WEEKDAYS
};
enum { LIMIT_KINDS = LIMIT_WEEKDAYS + 1 };

struct limit_set {
    struct symbol symbol; /* name NULL for the plan's own block */
    bool bound;           /* the plan's own, followed, or one that is always */
    bool always;          /* binds plans that do not follow it; an `allow` of its name lifts it */
    bool of_lime_table;   /* what the table that a soil test names lets on at once; in no list of sets */
    struct place followed_at;
    /* What passes advice is a warning: no day is closed by it, no wait or rate chosen by it. */
    enum limit_basis { BASIS_UNSTATED, BASIS_LAW, BASIS_LABEL, BASIS_PRACTICE, BASIS_ADVICE } basis;
    const struct source_entry *source;
    const char *incomplete;  /* what it lacks of the rule; NULL where nothing is known to lack */
    struct zone_list places; /* none: all */
    bool *placed;            /* by zone index, whether `places` has it; NULL: all are bound */
};

/* What a wait or class refers to: a nutrient, or a kind of product or task. */
struct treatment_class {
    const struct nutrient_form *nutrient; /* NULL for a kind */
    const struct name *kind;
};

struct sample_wait { /* how long after it a soil test means something; of one class the last counts */
    struct treatment_class after;
    struct duration wait;
    const char *wait_text; /* as written: "8 weeks" */
    const struct source_entry *source;
    struct place place;
};

struct active { /* a kind that is an active ingredient: labels' years with it count together */
    const struct name *kind;
    struct place place;
};

struct limit {
    enum limit_kind kind;
    enum limit_means {
        MEANS_ANY,
        MEANS_SPRAY,
        MEANS_SPREADER
    } means; /* of the most per application: what goes on so */
    struct limit_set *set;
    struct place place;
    const struct nutrient_form *nutrient; /* the most, waits of one nutrient */
    VECTOR(const struct nutrient_form *)
    nutrients;                       /* of those on days, need, water; none: every application */
    const struct name *product_kind; /* heat, most per application: only products of this kind; NULL mostly */
    double above, unless_below,
        unless_slow; /* of the most per application: in force on days known to be hotter
                        (K), not known to stay cooler (K), with less slow N; NAN mostly */
    const struct weather_condition *weather; /* heat, weather: what keeps the limit */
    union {                                  /* the figure of the limit, in the dimension of its kind */
        double most;        /* per application, year, period, window: kg/m2 of what `nutrient` names */
        double least_share; /* slow share: of N, 0 to 1 */
        double distance_m;  /* water */
        double hottest_k;   /* heat */
    };
    double content; /* need, content: products that hold more than this share of `nutrient`; 0 of need: all */
    double free_n;  /* slow share: so much N in one application is free of it, kg/m2 */
    struct name_list excepted; /* content: kinds of product it does not bind */
    struct grass_list grasses; /* binds lawns of these only; none: all */
    bool *spared;              /* by zone index: something tighter of the plan binds there; NULL: nowhere */
    struct treatment_class first, second;
    VECTOR(struct treatment_class) classes; /* LIMIT_ORDER: as they are to come; need: what makes turf new */
    VECTOR(day_number) closed_days;
    struct duration time; /* of a period or wait; how old a test may be */
    struct duration
        new_for; /* need: so long after one of `classes` a zone is new turf, which it does not bind */
    enum grass_but {
        BUT_NONE,
        BUT_WARM,
        BUT_COOL
    } but;                                       /* not on grass of this season; binds where it is unknown */
    struct civil_date closed_first, closed_last; /* year 0: every year */
    unsigned weekdays;                           /* bit enum weekday: allowed */
    bool each;                                   /* slow share: of each product, not of the application */
    bool fertilizer; /* `nutrients` are all that fertilizer has, and it speaks of "fertilizer" */
    bool in_window;  /* of the most per application: in force from closed_first
                        to closed_last of every year only; always of LIMIT_PER_WINDOW */
    bool directed;   /* LIMIT_WAIT_BETWEEN: only where the second comes after the first */
    bool idle;       /* a wait between two classes, of one of which the plan has nothing */
};

/* Whether a law or a label is behind it: nothing lifts it, and no report says what it would have to be.
 * A block that states no basis is the plan's own practice. */
bool limit_set_is_fixed(const struct limit_set *set);
bool limit_is_fixed(const struct limit *limit);

#endif
