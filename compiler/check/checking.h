/* Inside the room: the table's rows by name, what a check works with, and how it reports. */
#ifndef PRILL_CHECK_CHECKING_H
#define PRILL_CHECK_CHECKING_H

#include "compiler/check/check.h"
#include "compiler/model/tolerance.h"
#include "compiler/model/display.h"
#include "compiler/season/dose.h"

/* A number for each row of check.def, and the declaration of each function that a row names. */
enum check_id {
#define CHECK(id, severity, family, days, run, name, sentence, explanation, source) CHECK_##id,
#define FINDING(id, severity, family, name, sentence, explanation, source) CHECK_##id,
#include "compiler/check/check.def"
#undef CHECK
#undef FINDING
    CHECK_COUNT
};

struct checking;
struct gathering;
struct instance;

#define PLAN(run) void run(struct checking *checking);
#define DRESSINGS(run)                                                                                       \
    void run(struct checking *checking, const struct treatment *treatment, const struct dressing *dressing);
#define TESTS(run) void run(struct checking *checking, const struct soil_test *test);
#define LEDGERS(first, last, run, tell)                                                                      \
    void run(struct checking *checking, struct gathering *gathering, const struct instance *of);             \
    struct report *tell(struct checking *checking, const struct instance *instance);
#define CHECK(id, severity, family, days, run, name, sentence, explanation, source) run
#define FINDING(id, severity, family, name, sentence, explanation, source)
#include "compiler/check/check.def"
#undef CHECK
#undef FINDING
#undef PLAN
#undef DRESSINGS
#undef TESTS
#undef LEDGERS

/* A row has one of the functions, or two; none where the findings come out of another row's (a breach already
 * done, found beside the one still planned). */
struct check {
    struct rule rule;
    const char *family;                       /* rows of one family stand together */
    enum check_days { ANY_DAY, BY_DAY } days; /* whether another day can make it find an error */
    void (*plan)(struct checking *checking);
    void (*dressing)(struct checking *checking, const struct treatment *treatment,
                     const struct dressing *dressing);
    void (*test)(struct checking *checking, const struct soil_test *test);
    void (*ledger)(struct checking *checking, struct gathering *gathering, const struct instance *of);
    struct report *(*tell)(struct checking *checking,
                           const struct instance *instance); /* what `ledger` found */
    enum limit_kind first, last;                             /* of the limits that `ledger` is for */
};

extern const struct check CHECKS[CHECK_COUNT];

/* Calls the row's function for what it looks at, but for dressings: each soil test; each zone's ledger that
 * each limit of its kinds binds, and tells what was gathered; the plan. What they take of the scratch arena
 * is given back. */
void check_run(struct checking *checking, enum check_id id);

struct seen { /* a place with a finding: where it begins, and how it differs from others there */
    const struct source *source;
    uint32_t start, index; /* in the order of being added */
    uint64_t key, record;
    const struct allowance *allowed; /* zone_allowed */
};

struct seen_set {
    struct seen *slots; /* source NULL: free */
    size_t slot_count;  /* a power of two, or 0 */
    size_t count;
};

struct form_doses {
    const struct nutrient_form *form;
    struct doses doses;
};
struct doses_kept { /* of one zone */
    struct form_doses *items;
    size_t count, capacity;
};

struct checking {
    bool sound; /* the plan's text had no error: what is not mentioned is really not there */
    bool tried; /* of a day that is only tried: nobody reads what is no error */
    struct season *season;
    const struct model *model;
    struct arena *arena;
    struct seen_set *seen; /* by check_id: see finding_once */
    struct {
        const struct limit **items;
        size_t count, capacity;
    } limits[LIMIT_KINDS];     /* by kind, those that bind the plan: see limit_next */
    struct recovery *recovery; /* what recover.c told last */
    struct doses_kept *doses;  /* by zone index: see check_window; in the scratch arena */
};
/* Of a season, in its arena; reports go to season->model->reports. */
struct checking *checking_new(struct season *season, bool sound, bool tried);

/* The things a finding is about, for `allow ... for`: ABOUT(&zone->symbol, &product->symbol). The first NULL
 * ends. */
#define ABOUT(...) ((const struct symbol *const[]){__VA_ARGS__, NULL})

/* Reports, and silences what an `allow` statement of the plan accepts; `about` decides which do. As
 * report_add. */
#define finding_add(checking, id, about, place, ...)                                                         \
    limit_finding(checking, NULL, id, about, place, __VA_ARGS__)

/* True the first time it is asked for this check, place and key: a statement at fault in every zone, or at
 * every time, is told once; and once more for each `allowed` (zone_allowed). */
bool finding_once_by(struct checking *checking, enum check_id id, struct place place, uint64_t key,
                     const struct allowance *allowed);
#define finding_once(checking, id, place, key) finding_once_by(checking, id, place, key, NULL)

/* The index of what is equal to it, or its own, where it is new and added. It has a source. */
size_t seen_add(struct arena *arena, struct seen_set *set, struct seen seen);

/* ---- instances.c: one mistake, one report ---- */

/* A zone, and a day or span of days, on which the plan or a record breaks a limit or label. */
struct instance {
    enum check_id id;            /* it is told as */
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
    struct seen_set mistakes;
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

/* The `allow` for this zone alone, of the check or of the limit's set (NULL: none): what is told once for all
 * zones is told apart by it, since it accepts nothing on others. NULL without one. */
const struct allowance *zone_allowed(const struct checking *checking, enum check_id id,
                                     const struct limit *limit, const struct zone *zone);
/* The instances of one mistake come zone by zone: their statement, their limit and their record are the same.
 */
void gather(struct checking *checking, struct gathering *gathering, struct instance instance);
/* The same; but what an `allow` accepts is told at once, by itself, since it does not speak for the others.
 */
void gather_unless_allowed(struct checking *checking, struct gathering *gathering, struct instance instance,
                           enum check_id id, const struct symbol *const *about,
                           struct report *(*tell)(struct checking *, const struct instance *));
/* Calls `tell` once for each mistake, with its worst instance, and notes the others in the report. */
void gathering_tell(struct checking *checking, const struct gathering *gathering,
                    struct report *(*tell)(struct checking *, const struct instance *));

/* ---- rate_left.c: rates that pass everything ---- */

struct rate_left {
    double share; /* of its rate, at which it passes each limit on amounts, and its label, that the rest of
                     the plan passes without it; wherever and whenever it is still to come. INFINITY: nothing
                     bounds it */
    double least; /* share of its rate below which some application would have too little slow-release N, that
                     has enough as planned; 0 where none would */
    bool blocked; /* the rest passes some of them by itself, whatever the rate of the dressing */
};
struct rate_left rate_left(struct checking *checking, const struct treatment *treatment,
                           const struct dressing *dressing);
/* Whether the label requires more than `share` of the amount's rate. */
bool rate_below_label(const struct amount *amount, double share);
/* Why `share` of the amount's rate must not be proposed, as a help; NULL where it may be. */
const char *rate_refused(struct checking *checking, const struct amount *amount, double share,
                         const struct rate_left *left);

/* ---- application_parts.c: who put down what, the limits that bind, and words for them ---- */

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
/* The same of the products that the limit counts; `limit` NULL: of all. */
struct part part_lead(const struct application *application, const struct nutrient_form *form,
                      const struct limit *limit,
                      bool (*counts)(const struct limit *, const struct product *));
/* "spring-feed and green-up": the treatments that put down any of `form`; NULL: any product at all. */
const char *application_names(struct checking *checking, const struct application *application,
                              const struct nutrient_form *form);
/* "is", or "was" where it has happened. */
const char *verb_be(bool happened);

/* The limits of one kind that bind the plan, in the order of the text: `*at` begins at 0; NULL after the
 * last. */
const struct limit *limit_next(const struct checking *checking, enum limit_kind kind, size_t *at);
/* Whether the limit binds the ledger's zone. Counts the work of going through its applications, which comes
 * next. */
bool ledger_bound(const struct checking *checking, const struct limit *limit, const struct ledger *ledger);
/* As finding_add, of what a limit says (NULL: none): a warning where its basis is advice, and silenced where
 * an `allow` of its set's name lifts it for one of these things. */
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
/* "source: Title, by, 2014"; nothing for none. */
void source_note(struct checking *checking, struct report *report, const struct source_entry *source);

/* Where an occurrence is spoken of: the day of its record, or the treatment's name. */
struct place occurrence_place(const struct occurrence *occurrence);
/* Whether something declared in the plan's own file, not in the library or a file that plans share. */
bool symbol_is_plans(const struct checking *checking, const struct symbol *symbol);

/* ---- the runs, by family ---- */

/* Points at the other statements that take part. */
void label_parts(struct checking *checking, struct report *report, const struct application *application,
                 const struct nutrient_form *form);

/* "N and P2O5", or "fertilizer": what the limit speaks of; "" where it speaks of every application. */
const char *limit_nutrients_text(struct checking *checking, const struct limit *limit);
/* The part of an application that brings most of the first nutrient the limit speaks of and it brings. */
struct part limit_first_part(const struct limit *limit, const struct application *application);
/* Whether the most of one application speaks of this one: of its day, the day's heat, and its slow share
 * (days.c). */
bool check_most_holds(const struct checking *checking, const struct limit *limit,
                      const struct application *application);

/* The rate of the dressing as written, per another area, where that lies within what is usual and within the
 * label: "4 lb per 1000 sqft"; NULL where none does, or nothing is usual. */
const char *rate_meant(struct checking *checking, const struct dressing *dressing);

#endif
