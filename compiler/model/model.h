/* The plan with its names resolved and its units checked: what was written, without dates or amounts yet.
 *
 * Quantities are SI. Everything lives in the compilation's arena. Where a statement could not be read, its
 * symbol is marked `broken`: it was reported, and nothing further is concluded from it. */
#ifndef PRILL_MODEL_MODEL_H
#define PRILL_MODEL_MODEL_H

#include "compiler/model/equipment.h"
#include "compiler/model/limit.h"
#include "compiler/model/rate_choice.h"
#include "compiler/model/form.h"
#include "compiler/model/rule.h"
#include "compiler/model/scale.h"
#include "compiler/model/stock.h"
#include "compiler/model/weather.h"

#include <math.h>

struct source_entry { /* where a figure comes from */
    struct symbol symbol;
    const char *title, *by, *at;
    int year;       /* of the text; 0 unknown */
    day_number day; /* on which the text was read; DAY_NONE without */
    enum source_status {
        STATUS_UNSTATED,
        STATUS_CONFIRMED,
        STATUS_SECOND_HAND,
        STATUS_COMMON_PRACTICE,
        STATUS_FROM_MEMORY,
        STATUS_NOT_READ
    } status;
};

struct grass_range { /* kg/m2 a year of the element, or pH, or months 1 to 12, or a share of the N given */
    enum grass_range_kind { GRASS_YEARLY, GRASS_PH, GRASS_MONTHS, GRASS_USE } kind;
    const struct nutrient_form *nutrient; /* GRASS_YEARLY, GRASS_USE: elements per element of N */
    double low, high;
    const struct name *region; /* NULL: anywhere */
    const struct source_entry *source;
    struct place place;
};

struct grass {
    struct symbol symbol;
    bool warm_season;
    struct name_list also; /* other names that people have for it; a report proposes the entry's own */
    VECTOR(struct grass_range) ranges;
};

/* What somebody does with a product when a caution matters; in the order of the form's words. */
enum caution_stage { STAGE_STORING, STAGE_HANDLING, STAGE_APPLYING, STAGE_AFTERWARDS };

struct caution {
    struct symbol symbol;
    struct name_list kinds;
    double neutralizing_above; /* of products that are stronger lime than that; 0: not stated */
    unsigned stages;           /* bits 1 << caution_stage; 0: none stated, so all of them (caution_at) */
    const char *text;
    const char *brief; /* a few words, for where there is one line for all of them; NULL: not stated */
    const struct source_entry *source;
};

struct lawn;

struct zone {
    struct symbol symbol;
    struct lawn *lawn;
    uint32_t index; /* in model->zones */
    struct shape *shape;
    double area_m2;
    double water_m; /* distance from water; INFINITY when not stated */
    struct place water_place;
    bool named_in_treatment;
    VECTOR(const struct soil_test *) tests; /* of those in model->tests_by_age, in their order */
    const struct sprinkler *sprinkler;      /* NULL without */
};

struct lawn_amount { /* of a year */
    const struct nutrient_form *nutrient;
    double kg_per_m2; /* of the element */
    struct place place;
};

struct lawn {
    struct symbol symbol;
    const struct grass *grass; /* NULL when not stated */
    struct place grass_place;
    const struct name *soil, *region;
    struct place region_place;
    double bulk_density; /* kg/m3; NAN when not stated */
    struct place density_place;
    double goal_ph; /* NAN when not stated */
    struct place goal_place;
    VECTOR(struct lawn_amount) yearly; /* what the lawn is to be given */
    VECTOR(struct lawn_amount) uses;   /* what the grass takes up */
    VECTOR(struct zone *) zones;
};

enum analyte {
    ANALYTE_NUTRIENT,
    ANALYTE_PH,
    ANALYTE_BUFFER_PH,
    ANALYTE_ORGANIC_MATTER,
    ANALYTE_CEC,
    ANALYTE_ACIDITY,          /* mol/kg */
    ANALYTE_ACIDITY_OF_VOLUME /* mol/m3 */
};

struct test_scale { /* one scale that reads results of a test */
    const struct scale *scale;
    struct place place;                     /* of its name */
    VECTOR(const struct value *) nutrients; /* those it is asked for; none: all that no other is asked for */
};

struct recommendation { /* of the laboratory, for a year */
    const struct nutrient_form *nutrient;
    double low, high; /* kg/m2 of the element; 0: it recommends none */
    const struct source_entry *source;
    struct place place;
};

/* Whose amounts the plan goes by where scale and laboratory both give one. */
enum follow { FOLLOW_UNSTATED, FOLLOW_SCALE, FOLLOW_LABORATORY };

struct soil_test {
    struct symbol symbol; /* no name */
    day_number day;
    struct zone_list zones;
    const struct name *method;
    struct place method_place;
    double depth_m; /* NAN when not stated */
    struct place depth_place;
    VECTOR(struct test_scale) scales;         /* no nutrient of two, at most one for all others */
    VECTOR(struct recommendation) recommends; /* one of a nutrient; never of N or lime */
    enum follow follow;
    struct place follow_place;
    VECTOR(const struct conversion *) conversions;
    const struct lime_table *lime; /* NULL when not stated */
    struct place lime_place;
    const struct name *buffer; /* the method behind buffer pH and acidity; NULL when not stated */
    int cores;                 /* 0 when not stated */
    struct table results;      /* columns' kind: enum analyte */
    struct place results_place;
};

struct pack {
    double amount; /* kg or m3 */
    bool volume;
    double price; /* NAN without */
    struct place place;
};

struct product_label {
    double per_m2; /* of the rate as written: "per 1000 sqft" */
    bool volume;
    struct place rate_place;
    struct duration interval; /* of nothing without */
    struct place interval_place;
    int times_a_year; /* 0 without */
    struct place times_place;
    bool year_volume;
    struct place year_place;
    /* What a label may leave out, NAN until stated: see struct product. */
    double low, high;             /* kg/m2 or m3/m2 as `volume` says; low 0 where only the most is stated */
    double water_low, water_high; /* m3 water per m2 */
    double year_most;             /* kg/m2 or m3/m2 */
};

struct label_setting { /* what a label says for one kind of dial */
    const struct name *dial;
    struct dial_setting setting;
    double kg_per_m2; /* of the rate it is for */
    struct place place;
};

enum product_form { FORM_UNKNOWN, FORM_GRANULAR, FORM_LIQUID, FORM_SOLUBLE };

struct product {
    struct symbol symbol;
    uint32_t index; /* in model->products */
    enum product_form form;
    double content[NUTRIENT_COUNT]; /* kg of the element (or part of N) in 1 kg */
    struct place content_place[NUTRIENT_COUNT];
    struct place grade_place, slow_place, density_place, heat_place, cold_place, salt_place, acidity_place;
    double slow_share;                  /* of N, 0 to 1; 0 when not stated */
    VECTOR(const struct usual *) usual; /* the entries of its kinds, then of its form */
    VECTOR(struct pack) packs;
    struct name_list kinds;
    VECTOR(const struct caution *) cautions;
    VECTOR(struct label_setting) settings;
    int size_number;  /* SGN; 0 without */
    bool stocked;     /* a `have` or `bought` names it */
    bool load_volume; /* `load` is m3, otherwise kg */
    struct product_label label;
    /* From the label's last figures on to the end of the struct there are only doubles, NAN until stated: so
     * read_product fills them, and what is added here cannot be taken for a stated 0. */
    double grade[3];               /* N, P2O5, K2O as fractions */
    double slow_content;           /* slow N in 1 kg of product, where the label states it so */
    double density;                /* kg/m3 */
    double density_number;         /* as written, in whatever unit */
    double heat_below, cold_above; /* K */
    double water_in_m;
    double water_in_s; /* within */
    double dry_s;
    double salt_index;
    double neutralizing;
    double acidity;          /* kg of calcium carbonate that neutralize 1 kg of it; below 0: it limes */
    double load, load_price; /* what one delivery brings, and costs */
    double settles;          /* of its loose volume, 0 to below 1, lost when it is laid */
    double live;             /* of its mass is seed that germinates: purity times germination */
};

struct treatment;

struct dressing { /* a product within a treatment */
    const struct product *product;
    const struct nutrient_form *nutrient; /* of a supply */
    double rate;                          /* supply: kg/m2 of what `nutrient` names; else kg/m2 or m3/m2 */
    double per_m2;                        /* of the rate as written: "per 1000 sqft" */
    bool by_supply;
    bool volume;
    bool open;          /* the compiler chooses its rates, which may differ by time and zone; `rate` is NAN */
    struct place place; /* of the statement */
    struct place rate_place; /* of the quantity */
    double laid_m;           /* as a layer, settled; 0 mostly */
    double live_rate;        /* kg/m2 of live seed, from which `rate` follows; 0 mostly */
};

enum when_kind {
    WHEN_ON,
    WHEN_BETWEEN,
    WHEN_FROM,
    WHEN_BY,
    WHEN_SAME_DAY,
    WHEN_AT_LEAST_AFTER,
    WHEN_AT_LEAST_BEFORE,
    WHEN_WITHIN,
    WHEN_EXACTLY_AFTER,
    WHEN_EXACTLY_BEFORE,
    WHEN_EVERY,
    WHEN_WEATHER
};

struct when {
    enum when_kind kind;
    int times;                               /* of WHEN_EVERY; 0: as often as fits by `last` */
    const struct weather_condition *weather; /* of WHEN_WEATHER */
    const struct treatment *other;
    struct duration wait; /* of those that name another; of WHEN_EVERY its period */
    day_number first, last;
    struct place place;
};

struct mix_part {
    double share; /* of the layer's depth */
    const struct name *material;
    const struct product *product; /* of that name; NULL without, or where it could not be read */
};

struct layer { /* of what a treatment lays */
    double depth_m;
    VECTOR(struct mix_part) mix;
    struct place place;
};

struct tines { /* the holes that they leave */
    double across_m, deep_m;
    double m2_per_hole;
};

struct treatment {
    struct symbol symbol;
    uint32_t index; /* in model->treatments; the order of the text */
    bool task;
    bool open; /* some of its rates are the compiler's to choose */
    VECTOR(struct when) whens;
    struct zone_list zones;
    VECTOR(struct dressing) dressings;
    struct place zones_place;
    const struct machine *machine;
    struct place machine_place;
    struct name_list kinds;
    const struct tines *tines;       /* NULL mostly */
    const struct layer *layer;       /* NULL mostly */
    VECTOR(struct record *) records; /* by day */
};

struct use {
    double amount; /* kg or m3 */
    bool volume;
    const struct product *product;
    const struct zone *zone;
    struct place place;
};

struct record {
    struct symbol symbol; /* name: of the treatment */
    struct treatment *treatment;
    bool skipped;
    day_number day;
    struct place day_place;
    int time; /* from 1; 0: the next in order */
    struct place time_place;
    const char *why;
    const char *admitted; /* why a limit was passed, where the record owns up to it; NULL without */
    VECTOR(struct use) uses;
    bool part; /* what it names neither in `uses` nor in `part_zones` stays planned */
    struct place part_place;
    struct zone_list part_zones; /* done as planned */
};

struct allowance {               /* an `allow` statement */
    struct symbol symbol;        /* name: of the rule */
    const struct name *subject;  /* NULL: whatever it is about */
    const struct symbol *within; /* the treatment whose block it stands in; NULL at the plan's level */
    const char *why;
    struct allowance *next; /* that names the same rule, in the order of the text */
};

struct allowances { /* of one rule; NULL: none */
    struct allowance *first, *last;
};

struct written_name { /* a name as a statement of the plan, or of a file it uses, first writes it */
    const struct name *name;
    struct place place;
};

struct model {
    struct arena *arena;
    struct names *names;
    struct reports *reports;
    struct symbols *symbols;   /* by name; symbol.h */
    struct sources *sources;   /* files; include.h */
    struct building *building; /* how far reading has come (read.h) */
    struct patterns *patterns; /* of forms met while reading (form_match.c); NULL: none */
    const struct source *plan; /* its own file */
    size_t bytes;              /* of all files read, the library's too */

    const char *title;
    int edition; /* 0 when not stated */
    day_number edition_day;
    struct place season_place;
    bool has_season;
    day_number season_first, season_last;
    bool metric;
    enum ground_units ground;
    const char *currency; /* NULL without */
    double weighs_to;     /* kg: the step of the plan's own scale; 0 where the entry `scale` says so */
    double measures_to;   /* m3: of its own cup, likewise */
    const struct unit *weighs_in, *measures_in; /* as those steps are written; NULL without one */
    const struct usual *tools[TOOLS];           /* NULL in a plan without products, and without an entry */
    bool has_reminder;
    int reminder_days;    /* before the day */
    int reminder_minutes; /* since midnight */

    VECTOR(struct source_entry *) source_entries;
    VECTOR(struct grass *) grasses;
    VECTOR(struct scale *) scales;
    VECTOR(struct conversion *) conversions;
    VECTOR(struct lime_table *) lime_tables;
    VECTOR(struct caution *) cautions;
    VECTOR(struct usual *) usuals;
    VECTOR(struct lawn *) lawns;
    VECTOR(struct zone *) zones;
    VECTOR(struct soil_test *) soil_tests;
    VECTOR(const struct soil_test *) tests_by_age; /* sound ones, oldest first, of one day as in the text */
    VECTOR(struct product *) products;
    VECTOR(struct machine *) machines;
    VECTOR(struct sprinkler *) sprinklers;
    struct weather weather;
    VECTOR(struct limit_set *) limit_sets;
    VECTOR(struct limit *) limits; /* of every set; see set->bound */
    VECTOR(struct treatment *) treatments;
    VECTOR(struct record *) records;
    VECTOR(struct stock *) stocks;
    VECTOR(struct correct *) corrects;
    VECTOR(struct match *) matches;
    VECTOR(struct blend *) blends;
    VECTOR(struct mixing *) mixings;
    VECTOR(struct salt_index) salt_indices;
    VECTOR(struct acidity) acidities;
    VECTOR(struct sample_wait) sample_waits;
    VECTOR(struct active) actives; /* in the order of reading */
    VECTOR(struct allowance *) allowances;
    VECTOR(struct allowances) allowed;         /* by the id of the rule's name (allow.h) */
    VECTOR(struct written_name) written_names; /* each once, in the order of reading */

    const struct supposition *supposed; /* suppose.h; NULL mostly */
};

/* The share of a need or a rate that does not matter: nobody spreads more exactly. 0 without an entry. */
double model_within(const struct model *model);

/* Reads the plan at `source` (already in memory), the files it uses and the library. Reports what is wrong;
 * the model holds what could be read. `sources` opens further files (include.h). */
struct model *model_build(struct arena *arena, struct names *names, struct reports *reports,
                          struct sources *sources, struct source *plan);

/* Reads of the library what only results show: cautions, and where they are asked for the scales that soil
 * tests could name. What the plan names of them is read already. */
void model_read_for_results(struct model *model, bool scales);

#endif
