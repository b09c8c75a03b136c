/* Inside the room: the table's rows by name, what a check works with, and how it reports. */
#ifndef PRILL_CHECK_CHECKING_H
#define PRILL_CHECK_CHECKING_H

#include "compiler/check/check.h"
#include "compiler/model/tolerance.h"
#include "compiler/model/display.h"
#include "compiler/season/dose.h"

enum check_id {
    CHECK_LIMIT_PER_APPLICATION,
    CHECK_LIMIT_PER_YEAR,
    CHECK_LIMIT_PER_PERIOD,
    CHECK_RECORD_OVER_LIMIT,
    CHECK_SLOW_SHARE_LOW,
    CHECK_RECORD_SLOW_SHARE_LOW,
    CHECK_WAIT_TOO_SHORT,
    CHECK_RECORD_WAIT_SHORT,
    CHECK_WAIT_TOO_LONG,
    CHECK_RECORD_WAIT_LONG,
    CHECK_KINDS_OUT_OF_ORDER,
    CHECK_RECORD_OUT_OF_ORDER,
    CHECK_LABEL_RATE_HIGH,
    CHECK_RECORD_OVER_LABEL,
    CHECK_LABEL_RATE_LOW,
    CHECK_LABEL_INTERVAL,
    CHECK_RECORD_LABEL_INTERVAL,
    CHECK_LABEL_COUNT,
    CHECK_LABEL_YEAR,
    CHECK_WATER_VOLUME,
    CHECK_OUTPUT_MISSING,
    CHECK_NO_DAY,
    CHECK_TOO_MANY_TIMES,
    CHECK_NO_WHEN,
    CHECK_WHEN_MOOT,
    CHECK_OUTSIDE_SEASON,
    CHECK_CLOSED_DAY,
    CHECK_RECORD_CLOSED_DAY,
    CHECK_CLOSED_WEEKDAY,
    CHECK_RECORD_CLOSED_WEEKDAY,
    CHECK_HEAT,
    CHECK_TOO_HOT,
    CHECK_COLD,
    CHECK_HEAT_NEAR,
    CHECK_NO_NORMALS,
    CHECK_WEATHER_DAY,
    CHECK_RECORD_WEATHER,
    CHECK_FEW_YEARS,
    CHECK_DEGREE_DAYS_OF_NORMALS,
    CHECK_FROST_OF_NORMALS,
    CHECK_SAME_DAY_ORDER,
    CHECK_WATER_AND_DRY,
    CHECK_NEAR_WATER,
    CHECK_RECORD_NEAR_WATER,
    CHECK_WATER_UNKNOWN,
    CHECK_NO_NEED,
    CHECK_RECORD_NO_NEED,
    CHECK_OVER_NEED,
    CHECK_MORE_THAN_NEEDED,
    CHECK_RECORD_OVER_NEED,
    CHECK_SOIL_TEST_OLD,
    CHECK_RECORD_TEST_OLD,
    CHECK_SOIL_TEST_AFTER_USE,
    CHECK_RECORD_BEFORE_TEST,
    CHECK_PRODUCT_CONTENT,
    CHECK_RECORD_PRODUCT_CONTENT,
    CHECK_UNTESTED_ZONE,
    CHECK_NEED_UNMET,
    CHECK_SOIL_TEST_SOON,
    CHECK_SOIL_SPOTS_FEW,
    CHECK_SOIL_SPOTS_DISAGREE,
    CHECK_SOIL_METHOD_MISMATCH,
    CHECK_SOIL_DEPTH_MISMATCH,
    CHECK_SOIL_DEPTH_MISSING,
    CHECK_SOIL_SCALE_MISSING,
    CHECK_SOIL_SCALE_NUTRIENT,
    CHECK_SOIL_SCALES_DISAGREE,
    CHECK_SOIL_SCALE_UNFIT,
    CHECK_SOIL_SCALE_REGION,
    CHECK_SOIL_OXIDE,
    CHECK_SOIL_RATING_DIFFERS,
    CHECK_SOIL_RECOMMENDATION_DIFFERS,
    CHECK_GRASS_UNKNOWN,
    CHECK_YEARLY_BELOW,
    CHECK_YEARLY_ABOVE,
    CHECK_GROWTH_DORMANT,
    CHECK_PH_OUTSIDE,
    CHECK_ACIDIFYING,
    CHECK_RATE_UNLIKELY,
    CHECK_DENSITY_UNLIKELY,
    CHECK_GRADE_UNLIKELY,
    CHECK_PACK_UNLIKELY,
    CHECK_PRICE_UNLIKELY,
    CHECK_GRADE_OVER_100,
    CHECK_SLOW_OVER_TOTAL,
    CHECK_GRADE_AND_CONTAINS,
    CHECK_FORM_MISSING,
    CHECK_SUPPLY_WITHOUT,
    CHECK_NO_DENSITY,
    CHECK_VOLUME_OF_GRANULAR,
    CHECK_MACHINE_MISMATCH,
    CHECK_MACHINE_MISSING,
    CHECK_LOADS_UNLIKELY,
    CHECK_OUNCES_OF_LIQUID,
    CHECK_LABEL_MISSING,
    CHECK_ZONE_LEFT_OUT,
    CHECK_NO_ZONE,
    CHECK_NOTHING_APPLIED,
    CHECK_UNUSED_ZONE,
    CHECK_UNUSED_LAWN,
    CHECK_UNUSED_PRODUCT,
    CHECK_UNUSED_MACHINE,
    CHECK_UNUSED_LIMITS,
    CHECK_UNUSED_ENTRY,
    CHECK_LAW_SOURCE,
    CHECK_NAME_CHARACTER,
    CHECK_NAMES_ALIKE,
    CHECK_NAMES_EASILY_CONFUSED,
    CHECK_REPLACES_LIBRARY,
    CHECK_TITLE_MISSING,
    CHECK_EDITION_MISSING,
    CHECK_RECORD_DEVIATES,
    CHECK_RECORD_UNFORESEEN,
    CHECK_RECORD_MANY,
    CHECK_RECORD_ORDER,
    CHECK_RECORD_PARTIAL,
    CHECK_RECORD_WITHOUT_AMOUNTS,
    CHECK_RECORD_OFF_WINDOW,
    CHECK_ALLOW_ERROR,
    CHECK_ALLOW_UNKNOWN,
    CHECK_ALLOW_UNUSED,
    CHECK_COUNT
};

struct checking;

/* `run` is NULL where the findings come out of another row's run (a breach already done, found beside the one
 * still planned). */
struct check {
    struct rule rule;
    const char *family; /* rows of one family stand together */
    void (*run)(struct checking *checking);
};

extern const struct check CHECKS[CHECK_COUNT];

struct told { /* a place with a finding, and what tells it from others there */
    struct place place;
    uint64_t key;
    size_t index; /* in the order of being added */
};

struct told_set {
    struct told *slots; /* place.source NULL: free */
    size_t slot_count;  /* a power of two, or 0 */
    size_t count;
};

struct checking {
    bool sound; /* the plan's text had no error: what is not mentioned is really not there */
    struct season *season;
    struct model *model;
    struct arena *arena;
    struct told_set told[CHECK_COUNT]; /* see finding_once */
    struct recovery *recovery;         /* what recover.c told last */
};

/* The things a finding is about, for `allow ... for`: ABOUT(&zone->symbol, &product->symbol). The first NULL
 * ends. */
#define ABOUT(...) ((const struct symbol *const[]){__VA_ARGS__, NULL})

/* Reports, and silences what an `allow` statement of the plan accepts. As report_add. */
struct report *finding_add(struct checking *checking, enum check_id id, const struct symbol *const *about,
                           struct place place, const char *format, ...) __attribute__((format(printf, 5, 6)));

/* Whether an `allow` statement accepts findings of the check about these things. */
bool finding_allowed(const struct checking *checking, enum check_id id, const struct symbol *const *about);

/* True the first time it is asked for this check, place and key: a statement at fault in every zone, or at
 * every time, is told once. */
bool finding_once(struct checking *checking, enum check_id id, struct place place, uint64_t key);

/* The index of the place and key, which are added where they are new. `place` has a source. */
size_t told_add(struct arena *arena, struct told_set *set, struct place place, uint64_t key);

/* ---- instances.c: one mistake, one report ---- */

/* A zone, and a day or span of days, on which the plan or a record breaks a limit or label. */
struct instance {
    struct place place;          /* of the statement at fault */
    const struct record *record; /* where it was done; NULL while it is planned */
    const struct limit *limit;   /* NULL for a label's */
    uint64_t bound;              /* tells limits, or labels, apart */
    double excess;               /* of the instances of one mistake the greatest is told */
    const struct ledger *ledger;
    day_number day;   /* named beside the zone; DAY_NONE where the report speaks of no day */
    const void *what; /* for `tell` */
};

struct gathering {
    struct told_set bounds, told;
    struct {
        struct instance_group {
            size_t worst;
            struct {
                struct instance *items;
                size_t count, capacity;
            } instances; /* zone by zone */
        } * items;
        size_t count, capacity;
    } groups;
};

/* The instances of one mistake come zone by zone: their statement, their limit and their record are the same.
 */
void gather(struct checking *checking, struct gathering *gathering, struct instance instance);
/* Calls `tell` once for each mistake, with its worst instance, and notes the others in the report. */
void gathering_tell(struct checking *checking, const struct gathering *gathering,
                    struct report *(*tell)(struct checking *, const struct instance *));

/* ---- rate_left.c: rates that pass everything ---- */

struct rate_left {
    double share; /* of its rate, at which it passes each limit on amounts, and its label, that the rest of
                     the plan passes without it; wherever and whenever it is still to come. INFINITY: nothing
                     bounds it */
    bool blocked; /* the rest passes some of them by itself: no rate of the dressing would do for those */
};
struct rate_left rate_left(struct checking *checking, const struct treatment *treatment,
                           const struct dressing *dressing);
/* Whether the label asks for more than `share` of the amount's rate. */
bool rate_below_label(const struct amount *amount, double share);

/* ---- amount_share.c: what checks share ---- */

enum { LISTED = 8 }; /* zones, dates, products or notes that one report lists; the rest is counted */

/* A part of what reached a zone on one day. `value` is kg/m2 of what a nutrient's form names. */
struct part {
    const struct amount *amount;
    const struct occurrence *occurrence;
    double value;
    bool done; /* it has happened, as recorded or as planned */
};

/* The greatest part of `form` among what can still be changed, or among what was done when nothing can.
 * `amount` is NULL when there is none of it. */
struct part application_lead(const struct application *application, const struct nutrient_form *form);
/* The same of the products that the limit counts. */
struct part limit_lead(const struct application *application, const struct limit *limit);
/* "spring-feed and green-up": the treatments that put down any of `form`; NULL: any product at all. */
const char *application_names(struct checking *checking, const struct application *application,
                              const struct nutrient_form *form);
/* "would put", or "put" where it has happened; and "is", "was". */
const char *verb_put(bool happened);
const char *verb_be(bool happened);

/* The limits of one kind that bind the plan, in the order of the text: `*at` begins at 0; NULL after the
 * last. */
const struct limit *limit_next(const struct checking *checking, enum limit_kind kind, size_t *at);
/* As finding_add, of what a limit says (NULL: as if by finding_add): a warning where its basis is advice, and
 * silenced where an `allow` of its set's name lifts it for one of these things. */
struct report *limit_finding(struct checking *checking, const struct limit *limit, enum check_id id,
                             const struct symbol *const *about, struct place place, const char *format, ...)
    __attribute__((format(printf, 6, 7)));
/* Labels a limit's own line, and notes the source of the set it belongs to. */
void limit_label(struct checking *checking, struct report *report, const struct limit *limit);

/* Notes when each limit and the label allow any of the product on the zone again, counted from what was done;
 * recover.c. `after`: the day of the record. */
void note_recovery(struct checking *checking, struct report *report, const struct record *record,
                   const struct zone *zone, const struct product *product, day_number after);

/* Whether a limit on closed days or weekdays, or on months without growth, bars the product from the zone.
 * The weather is not looked at; days.c. */
bool limit_bars_product(const struct limit *limit, const struct product *product, const struct zone *zone,
                        day_number day);

/* What cannot be told from a need of this much, kg/m2 of what the trade's form names; `limited`: under a
 * limit that requires a need. docs/method.md, "More than the need". */
double check_need_slack(double need, bool limited);
/* "0.9 lb N per 1000 sqft" */
const char *check_supply_text(struct checking *checking, double value, const struct nutrient_form *form);
struct display_pair supply_pair(struct checking *checking, double value, double bound,
                                const struct nutrient_form *form);
/* "6.428 lb of starter per 1000 sqft", rounded down; `rate` is measured as the amount's. */
const char *product_rate_floor(struct checking *checking, const struct amount *amount, double rate);
/* "Title, by, 2014"; NULL for none. */
const char *check_source_text(struct checking *checking, const struct source_entry *source);
void source_note(struct checking *checking, struct report *report, const struct source_entry *source);

/* Where an occurrence is spoken of: the day of its record, or the treatment's name. */
struct place occurrence_place(const struct occurrence *occurrence);
/* Whether something declared in the plan's own file, not in the library or a file that plans share. */
bool symbol_is_plans(const struct checking *checking, const struct symbol *symbol);

/* ---- the runs, by family ---- */

/* Calls `check` for every zone's ledger that each limit of the kind binds; then what was gathered is told. */
void check_ledgers(struct checking *checking, enum limit_kind kind,
                   void (*check)(struct checking *, struct gathering *, const struct instance *),
                   struct report *(*tell)(struct checking *, const struct instance *));

/* Points at the other statements that take part. */
void label_parts(struct checking *checking, struct report *report, const struct application *application,
                 const struct nutrient_form *form);

void check_per_application(struct checking *checking);
void check_per_year(struct checking *checking);
void check_per_period(struct checking *checking);
void check_slow_share(struct checking *checking);
void check_waits(struct checking *checking);
void check_follows(struct checking *checking);
void check_orders(struct checking *checking);

void check_label_rates(struct checking *checking);
void check_label_intervals(struct checking *checking);
void check_label_counts(struct checking *checking);
void check_label_years(struct checking *checking);
void check_water_volumes(struct checking *checking);

void check_contradictions(struct checking *checking);
void check_crowded(struct checking *checking);
void check_whens(struct checking *checking);
void check_outside_season(struct checking *checking);
void check_closed_days(struct checking *checking);
void check_weekdays(struct checking *checking);
void check_heat(struct checking *checking);
void check_weather(struct checking *checking);
void check_cold(struct checking *checking);
void check_same_day(struct checking *checking);

void check_near_water(struct checking *checking);
void check_water_known(struct checking *checking);
void check_needs(struct checking *checking);
void check_surplus(struct checking *checking);
void check_contents(struct checking *checking);
void check_untested(struct checking *checking);
void check_soil_test_soon(struct checking *checking);
void check_spots_few(struct checking *checking);
void check_spots_disagree(struct checking *checking);
void check_soil_scales(struct checking *checking);
void check_soil_scales_agree(struct checking *checking);
void check_soil_oxides(struct checking *checking);
void check_soil_ratings(struct checking *checking);
void check_recommendations(struct checking *checking);
void check_scales_fit(struct checking *checking);

/* "N and P2O5", or "fertilizer": what the limit speaks of; "" where it speaks of every application. */
const char *limit_nutrients_text(struct checking *checking, const struct limit *limit);
/* The part of an application that brings most of the first nutrient the limit speaks of and it brings. */
struct part limit_first_part(const struct limit *limit, const struct application *application);
/* Whether the most of one application speaks of this one: of its day, the day's heat, and its slow share
 * (days.c). */
bool check_most_holds(const struct checking *checking, const struct limit *limit,
                      const struct application *application);

void check_grass_known(struct checking *checking);
void check_yearly(struct checking *checking);
void check_growth(struct checking *checking);
void check_ph(struct checking *checking);
void check_acidifying(struct checking *checking);

void check_usual_rates(struct checking *checking);
void check_usual_products(struct checking *checking);
/* The rate of the dressing as written, per another area, where that lies within what is usual and within the
 * label: "4 lb per 1000 sqft"; NULL where none does, or nothing is usual. */
const char *rate_meant(struct checking *checking, const struct dressing *dressing);
void check_loads(struct checking *checking);
void check_grades(struct checking *checking);
void check_forms(struct checking *checking);
void check_supplies(struct checking *checking);
void check_densities(struct checking *checking);
void check_machines(struct checking *checking);
void check_nothing_applied(struct checking *checking);

void check_unused_ground(struct checking *checking);
void check_unused_symbols(struct checking *checking);
void check_law_sources(struct checking *checking);
void check_names_alike(struct checking *checking);
void check_replaced(struct checking *checking);
void check_needs_met(struct checking *checking);
void check_label_rates_stated(struct checking *checking);
void check_zones_left_out(struct checking *checking);
void check_title(struct checking *checking);
void check_edition(struct checking *checking);

void check_record_amounts(struct checking *checking);
void check_record_counts(struct checking *checking);
void check_record_order(struct checking *checking);
void check_record_windows(struct checking *checking);

#endif
