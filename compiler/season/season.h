/* The season: every treatment with its days, rates, amounts and nutrients. All checks and outputs read this.
 *
 * It is computed from the model alone, by occurrence.c (how often), amounts.c (rates and amounts), dates.c
 * (days), calendar.c (what each zone received when) and soil_reading.c (readings of soil tests). Quantities
 * are SI.
 *
 * How often. A treatment occurs once, or as its `every` says (`until`: as often as the first days D + k*P
 * reach the day named, at least once). Without an `every` of its own it occurs as often as what it is on the
 * `same day after`.
 *
 * Which days. Applications lie within the season; so does a task that has no `when`, or to which no `when`
 * gives a first day, its own or that of what it comes after ("before sowing"). The k-th time (from 0) of an
 * `every` P from D lies on D + k*P or later, before D + (k+1)*P, and P after the time before; once a
 * time was done late, the later ones have as long after it as they had after what was planned.
 *
 * Others named. Where the treatment named occurs several times, `after` it means after its last time that is
 * not skipped, `before` it before its first; `same day after` pairs first with first, second with second,
 * where both occur equally often, and means the last time otherwise. Everything it says binds each time of
 * the treatment that says it. A `when` that names only what was skipped imposes nothing (season->moot).
 *
 * One application. Occurrences tied by `same day` share a node; no wait is dated between them (of two kinds
 * that must lie apart the checks report it), nor between occurrences that are fixed on one and the same day
 * by records or by their own statements.
 *
 * Waits with no order stated. Per zone, what must lie apart is ordered by the earliest day that the plan's
 * statements and closed days leave it (waits aside), on one day what cannot be later first, then by place in
 * the text. What is not done goes before something done only where every wait between the two leaves its
 * earliest day, as waits for what was done move it, room for that. A task that names no zone concerns every
 * zone. An `order` of kinds is stated: it counts before any order is chosen. With `at least ... from A
 * to B`, a B that was put before an A comes a day earlier at least; `within ... from A to B` binds a B to
 * the last A before it, in the order chosen, and what has no A before it stays before the next one.
 *
 * Weather. A product's `heat` and `cold`, limits on heat, cold, frozen ground and rain, and a `when` by the
 * weather close the days on which they are known or expected to be broken: by what was measured, else by the
 * forecast, else by the normals or the history (climate.h). Nothing is closed for what the plan has no
 * weather for, and nothing by a limit of practice on heat where an `allow heat` speaks of the treatment or
 * product.
 *
 * Records. What was done lies on its day, obeys nothing, and moves what follows it. It does not hold back
 * what was to come before it and is not recorded: that keeps its own days. A record takes the first time that
 * none has closed, in the order of days, or the time it names. One that is only a `part` does not close its
 * time: what it names, zone by zone and product by product, becomes an occurrence of its own, and the planned
 * one is what is left, not before the parts; when nothing is left, the last part is the planned one's record.
 * A record that finds no time to speak of becomes an occurrence beyond the plan: whatever was put down
 * counts. Where a treatment named has no time left to come, `after` it means after the last that was done of
 * it, parts and what lies beyond the plan included. */
#ifndef PRILL_SEASON_SEASON_H
#define PRILL_SEASON_SEASON_H

#include "compiler/model/always.h"
#include "compiler/model/figure.h"
#include "compiler/model/model.h"
#include "compiler/model/product.h"
#include "compiler/season/timetable.h"
#include "compiler/season/watch.h"

/* One product on one zone in one occurrence. */
struct amount {
    const struct dressing *dressing; /* NULL for a record's use of a product the plan did not foresee */
    const struct product *product;
    const struct zone *zone;
    bool volume;            /* rate and total are m3/m2 and m3; otherwise kg/m2 and kg */
    bool recorded;          /* what was really used, not what is planned */
    double rate;            /* of product */
    double total;           /* rate x area of the zone */
    double mass_rate;       /* kg/m2 of product; NAN where a volume has no stated density */
    const double *supplied; /* by nutrient, kg/m2 of the element; all 0 where mass_rate is NAN. Shared:
                               amounts of one product at one rate supply the same */
    struct leeway leeway;   /* season_leeways: of the figures printed: an application put down so keeps every
                               limit on amounts and its labels; of what is recorded nothing follows */
    struct place place;     /* of the dressing or the use */
};

/* Its rate by mass or by volume; NAN where that takes a density nobody stated. */
double amount_rate_as(const struct amount *amount, bool volume);

/* How far a day may slip: every day up to it that is open can be used, and breaks nothing. */
struct slip {
    enum slip_end {
        SLIP_NOT_ASKED,
        SLIP_UNKNOWN, /* the days were made with another plan than the amounts, or it would take too long */
        SLIP_WINDOW,  /* its own last day is over */
        SLIP_SEASON,  /* the season is over */
        SLIP_CLOSED,  /* many closed days follow */
        SLIP_BROKEN   /* the next open day breaks something */
    } end;
    /* All three are the planned day where the end is not known. */
    day_number latest;   /* what comes after it may move with it */
    day_number alone;    /* while nothing else moves; day <= alone <= latest */
    day_number farthest; /* as alone, over many closed days too; of what goes by the weather */
    day_number opens;    /* SLIP_CLOSED: the next open day; DAY_NEVER where none is left */
    struct place at;     /* the statement that ends it; no source where none is known */
    const char *check;   /* SLIP_BROKEN: the check that finds it */
};

extern const struct slip SLIP_UNASKED; /* all 0 */

/* What a treatment puts down in a season: all its dressings, or only those with a rate of the plan's; once
 * rates are chosen, those of which something is put down. Those with a rate of the plan's come first. */
struct dressing_list {
    const struct dressing **items; /* of the model */
    size_t count;
};

struct amount_list {
    struct amount *items;
    uint32_t count, capacity;
};

struct occurrence { /* first what is asked of all of them again and again */
    const struct treatment *treatment;
    enum occurrence_share {
        SHARE_WHOLE,
        SHARE_PART,  /* done, of a time that has more to it; `part` counts these from 1 */
        SHARE_REST,  /* the planned one: what parts left of it */
        SHARE_BEYOND /* done, and more than was planned */
    } share;
    bool dated; /* false when its days contradict each other, or its statements are broken */
    bool done, skipped;
    bool idle;          /* its rates were left to the compiler, which chose none: it is in no calendar */
    day_number day;     /* planned earliest, or recorded */
    day_number planned; /* where the plan alone would have put it, records left aside; equals `day`
                           mostly, and where the plan alone has no day for it */
    day_number latest_by_dates; /* by the dates alone, and the order chosen: amounts and closed days between
                                   aside; never past the season's end, unless `day` is. DAY_NEVER where it is
                                   not known: the days were made without some of its products */
    uint32_t day_rank;          /* order within its day, from 0 */
    uint32_t index;             /* in season->occurrences, in the order of treatments and times */
    int time, times;            /* 1 of 1; 2 of 3; beyond the plan, time is above times */
    int part;
    struct amount_list amounts;  /* by dressing (or use), then zone in the order the plan names them; a
                                    dressing whose product holds nothing of what it is to supply has none */
    const struct record *record; /* of done and skipped */
    struct zone_list zones;      /* the treatment's, or those of its share; none: work that names none */
    const struct dressing_list *dressings; /* its treatment's: season->dressings */
    const struct slip *slip;               /* SLIP_UNASKED until it is asked */
};

/* What supplies nothing, of every nutrient. */
extern const double SUPPLIES_NOTHING[NUTRIENT_COUNT];

/* All that reached a zone on one day: one application. */
struct application {
    day_number day;
    const double *supplied; /* by nutrient, kg/m2; of its only amount, or the sum of several */
    struct {
        struct amount **items;
        uint32_t count;
    } amounts;
    struct {
        const struct occurrence **items;
        uint32_t count;
    } occurrences;
};

struct ledger { /* of one zone, by day */
    const struct zone *zone;
    VECTOR(struct application) applications;
    size_t amount_count; /* of all of them; their lists lie one behind the other in the next two */
    struct amount **amounts;
    const struct occurrence **occurrences;
};

/* A statement behind a bound on a day; what timetable causes stand for. */
enum bound_kind {
    BOUND_SEASON,     /* within the season */
    BOUND_WHEN,       /* a `when` of the plan */
    BOUND_LABEL_WAIT, /* a product's interval */
    BOUND_LIMIT_WAIT, /* of a limit: days between, the most days from one to another, an order of kinds */
    BOUND_CLOSED,     /* closed days of a limit */
    BOUND_WEEKDAYS,
    BOUND_HEAT,     /* of a product or limit */
    BOUND_COLD,     /* of a product */
    BOUND_WEATHER,  /* a `when` by the weather, or a limit on cold, frozen ground, rain */
    BOUND_DORMANT,  /* months in which the grass does not grow */
    BOUND_SUPPOSED, /* a day that was only supposed */
    BOUND_PART      /* what is left comes not before the part that was done */
};

struct bound {
    enum bound_kind kind;
    struct place place;
    const struct when *when;       /* BOUND_WHEN, BOUND_WEATHER */
    const struct limit *limit;     /* of a limit; BOUND_HEAT and BOUND_WEATHER too */
    const struct product *product; /* BOUND_LABEL_WAIT, BOUND_COLD, BOUND_HEAT of a product */
    const struct watch *watch;     /* BOUND_HEAT, BOUND_COLD, BOUND_WEATHER; NULL where nothing is asked */
    const struct day_set *open;    /* with `watch`: the days it leaves open */
};

/* Behind an edge that keeps two applications apart: in whose name (season->occurrences), and in which zone
 * (model->zones; one of them). */
struct wait {
    uint32_t first, second, zone;
};

/* A contradiction of the timetable, and the orders chosen that took part in it (at most ORDERS_NAMED). A
 * step's cause is that of a bound. */
struct conflict {
    const struct timetable_contradiction *contradiction;
    VECTOR(const struct wait *) orders; /* put in this order by earliest day, then by text */
};
enum { ORDERS_NAMED = 16 };

/* A plan has room for this many dates, and for this many amounts (each product on each zone at each time): or
 * for one of each for every so many bytes of its text, where that is more. So the memory and the work that a
 * small text can ask for are bounded. */
enum { OCCURRENCE_LIMIT = 50000, AMOUNT_LIMIT = 100000, ROOM_BYTES = 8 };

struct season {
    const struct model *model; /* nothing is written to it any more: what the solver sets aside is left out of
                                  `dressings` */
    struct arena *arena;
    struct dressing_list *dressings; /* by treatment index */
    /* The planned ones by treatment in the order of the text, then time; after them those that records add,
     * by treatment too: its parts by time and day, then what is beyond the plan. */
    VECTOR(struct occurrence) occurrences;
    const struct when **moot; /* by occurrence index: its first `when` that names only what was skipped; NULL:
                                 none does */
    uint32_t *first_of;       /* by treatment index: its first planned occurrence; one more than treatments */
    uint32_t *added_of;       /* the same of those added */
    VECTOR(const struct record *)
    unplaced;                          /* skipped, and there is no time of which that could be said */
    const struct occurrence *supposed; /* what model->supposed speaks of; NULL without, and where there is no
                                          such time to come */
    size_t date_room, amount_room;     /* how many there may be */
    const struct treatment *crowded; /* the first for whose dates or amounts there is no room: it was taken as
                                        occurring once, or as putting down nothing; NULL mostly */
    bool crowded_by_amounts;
    struct occurrence **calendar; /* the dated ones by day, then day_rank */
    size_t calendar_count;
    struct ledger *ledgers;         /* one a zone, model->zones order */
    struct supplied_at *supplied;   /* by product: what the last of its amounts supplies (amounts.c) */
    struct soil_history *histories; /* by zone index * NUTRIENT_COUNT + nutrient; NULL: no soil was tested */
    bool *fed;          /* by zone index, where soil was tested: the plan says how much N it gets */
    bool dated;         /* every sound occurrence that is not skipped has a day */
    bool leeways_known; /* season_leeways was called */

    /* The timetable behind the days. Node i is the group of occurrences members[member_start[i]] up to
     * members[member_start[i + 1]]; it has one application's or task's day, or that of several on the same
     * day. */
    struct timetable_node *nodes;
    uint32_t node_count;
    uint32_t *member_start, *members;    /* occurrence indices, ascending */
    VECTOR(struct timetable_edge) edges; /* cause: see season_bound */
    size_t first_wait;                   /* edges from this one on are waits between applications */
    struct wait *waits;                  /* edge first_wait + i: waits[i] */
    VECTOR(struct bound) bounds;
    uint32_t first_bound;              /* the cause of the first of them; see season_bound */
    uint32_t *when_cause;              /* by treatment index: the cause of its first `when`; NULL undated */
    const struct climate *climate;     /* NULL without a weather, or without a season */
    uint32_t *node_of;                 /* by occurrence index; TIMETABLE_NONE: broken or skipped */
    struct timetable question;         /* for timetable_ease and timetable_holds */
    struct timetable_result timetable; /* the answer; holds the contradictions */
    struct dating_rules *rules;        /* for season_days_from */
    struct order_search *order_search; /* of season_order_stated, which marks its way in it */
    struct conflict *conflicts;        /* one for each of the timetable's contradictions */

    day_number as_of;          /* the day that outputs look from; DAY_NEVER: none was named */
    struct solution *solution; /* what was chosen for rates left open (solve/solution.h); NULL: nothing was */
};

/* Never fails; what cannot be dated is left undated. Without a season (or one that ends before it begins)
 * nothing is dated. Effort: n log n in occurrences times zones, times the limits that bind them. */
/* Not `open`: as if nothing were put down where rates are left to be chosen. */
struct season *season_build(const struct model *model, bool open);

/* "fall-feed", "fall-feed 2 of 2", "fall-feed 2 of 2, the rest", "spring-feed, part 1", "spring-feed, beyond
 * the plan". */
const char *occurrence_title(struct arena *arena, const struct occurrence *occurrence);

/* By occurrence: its earliest day where nothing that is still to come comes before `day`; DAY_NEVER where
 * that leaves it none, and for what was skipped. What was done keeps its day. As costly as dating the
 * season. */
day_number *season_days_from(struct season *season, day_number day);

/* The season with one occurrence on another day, and the amounts as they are. */
struct day_trial {
    const uint32_t *members; /* occurrence indices, ascending: what takes part, all of its treatments and all
                                that can feel it */
    uint32_t member_count;
    uint32_t member; /* which of them is on the other day: something still to come */
    day_number day;
    bool hold;    /* nothing comes earlier than it does now */
    bool reasons; /* where there is no day, say why (season->conflicts), which costs much more */
};
/* In the season's arena, and of the members alone: occurrence i is members[i]. Of what is by treatment only
 * theirs is told. `dated` is false where the statements leave no such day. */
struct season *season_day_trial(const struct season *season, const struct day_trial *trial);

/* Whether it is of the class, by its treatment's kinds or by a product that it puts down or, as a task,
 * lays. */
bool occurrence_in_class(const struct occurrence *occurrence, const struct treatment_class *class);

/* The wait behind an edge step of a contradiction; NULL where the step is not a wait between applications. */
const struct wait *season_wait(const struct season *season, const struct timetable_step *step);
/* Whether the plan itself puts node `second` after node `first`, by one statement or a chain of them. */
bool season_order_stated(const struct season *season, uint32_t first, uint32_t second);

/* Whether a rate that is worked out of it is counted by volume. */
bool product_by_volume(const struct product *product);
/* Rate of the dressing's product, kg/m2 or m3/m2 as *volume tells; NAN where the product holds nothing of
 * what is to be supplied. */
double dressing_rate(const struct dressing *dressing, bool *volume);
/* What the plan has of a product for a zone at that time, kg or m3 as `volume` says: 0 where it has none or
 * the record is beyond the plan, NAN where a rate is left open or takes a density that nobody stated. */
double product_planned(const struct occurrence *occurrence, const struct product *product,
                       const struct zone *zone, bool volume);

/* ---- rates left to the compiler (dressing.open), once they are chosen ---- */

/* Fills in mass and supply from the product, the rate and the total. */
void amount_finish(struct season *season, struct amount *amount);
/* Makes the ledgers anew from the amounts chosen so far. */
void ledgers_make(struct season *season);
/* Makes calendar and ledgers anew from the amounts; what was left open and got none becomes idle, and a
 * product of its list that was not chosen is no part of the application. */
void season_settle(struct season *season);

/* Fills in the leeways of all amounts, once: whoever prints their figures calls this first. */
void season_leeways(struct season *season);

/* kg/m2 of what `form` names (P2O5, not P) in something supplied. */
double supplied_as(const double supplied[NUTRIENT_COUNT], const struct nutrient_form *form);

/* The limits that bind a zone: set->bound, its places and the limit's grasses (if any) name the
 * zone's, and nothing tighter of the plan spares it one that is always. What an `allow` lifts binds:
 * the checks tell it. */
bool limit_binds(const struct limit *limit, const struct zone *zone);
/* Whether the most of one application counts on this day: always, but where the limit is one of some days or
 * of hot ones. */
bool limit_in_force(const struct season *season, const struct limit *limit, day_number day);
/* Whether the most of one application counts this product: all, but where it is of a kind, of sprays or of
 * what is spread. */
bool limit_counts(const struct limit *limit, const struct product *product);
/* kg/m2 of what the limit's nutrient names, of the products it counts; 0 where enough of the N is slow. */
double limit_dose(const struct limit *limit, const struct application *application);
/* Whether the day lies within closed_first and closed_last, every year where they have none. */
bool limit_window_holds(const struct limit *limit, day_number day);
/* The days, both included, of the limit's window that holds `day`; where none does, of that of its year. */
struct day_span {
    day_number first, last;
};
struct day_span limit_window_on(const struct limit *limit, day_number day);
/* Whether an application with this supply is one the limit's nutrients speak of (any one above 0; none:
 * all). */
bool limit_concerns(const struct limit *limit, const double supplied[NUTRIENT_COUNT]);
/* Whether the limit speaks of this product: always, but where it is of one kind of product only. */
bool limit_concerns_product(const struct limit *limit, const struct product *product);

/* Whether the product is of no kind that the limit excepts. */
bool limit_binds_product(const struct limit *limit, const struct product *product);
/* The same, and it holds more of the limit's nutrient than its share of content. */
bool limit_concerns_content(const struct limit *limit, const struct product *product);

/* Whether the zone is new turf to the limit on that day: it excepts so long a time after seed or sod there.
 */
bool limit_spares_new(const struct season *season, const struct limit *limit, const struct zone *zone,
                      day_number day);

/* Whether the lawn's grass is known not to grow on the day. */
bool lawn_dormant(const struct lawn *lawn, day_number day);

/* The weather of a day as far as it is known or expected; READING_NONE without any. */
struct reading season_reading(const struct season *season, enum weather_quantity quantity, day_number day);

/* The statement behind a cause; that of a treatment may be put together as it is asked for. */
const struct bound *season_bound(const struct season *season, uint32_t cause);

/* The conditions on the weather that a day of the occurrence is bound by: the first from *at on, which begins
 * at 0; NULL after the last. What was done is bound by none. */
const struct bound *season_weather_bound(const struct season *season, const struct occurrence *occurrence,
                                         uint32_t *at);

/* What each zone's soil test says of a nutrient: a need where the result is below what the scale calls
 * enough, how much ever the grass uses beside (need.h tells amounts). */
enum need { NEED_UNKNOWN, NEED_NONE, NEED_LOW };
struct soil_reading {
    const struct soil_test *test;
    const struct test_scale *scale; /* of the test, that is asked for this nutrient; NULL: none is */
    const struct level *level; /* the minimum, or the class the result fell in; NULL when no scale reads it */
    const struct scale_equation *equation; /* that gives the need in place of a level; NULL mostly */
    const struct scale_activity *activity; /* the index that is judged in place of a level; NULL mostly */
    const struct conversion *conversion;   /* what counts it by the scale's method, and the step of it; */
    const struct conversion_step *step;    /* NULL mostly */
    const struct nutrient_form *nutrient;  /* as the results name it */
    bool index;                            /* mean, lowest and highest are an index, not shares of the soil */
    double mean, lowest, highest;          /* mass fraction of soil, of what `nutrient` names; or an index */
    double judged; /* what the scale looked at: the mean as the element by the scale's method, or an index */
    bool judged_index; /* it is an index (that of an activity apart) */
    double ph;         /* mean of the same test; NAN without */
    size_t spots;
    size_t below_detection;
    size_t above_range; /* `> 200`: counted at that limit */
    bool open_above;    /* low as counted, and perhaps enough, since spots hold more than was counted */
    enum need need;     /* by the scale alone */
    const struct recommendation *recommended; /* by the laboratory; NULL without */
    bool laboratory;   /* its recommendation counts, since the plan follows it or no scale says */
    enum rating rated; /* by the laboratory, where all that it rated of the spots agree; else RATING_NONE */
    const char *rated_text; /* as written, "L" */
    bool by_rating;         /* no scale and no recommendation says: its rating counts */
    enum need counts;       /* what the plan goes by: the scale's verdict, or else the laboratory's */
    enum need shown; /* to a limit that requires a need: `counts`, but none where the laboratory recommends
                        none or, recommending nothing, rates it enough */
    bool disagree;   /* spots differ from the mean by more than the scale allows */
};
struct soil_history { /* what the tests of a zone say of one nutrient */
    VECTOR(const struct soil_reading *)
    readings; /* by day of sampling; of one day the last in the text last */
};

const struct soil_history *soil_history_of(const struct season *season, const struct zone *zone,
                                           enum nutrient nutrient);
/* How many of them are of that day or earlier. */
size_t soil_history_until(const struct soil_history *history, day_number day);

/* A result is true of the soil from its day of sampling on: of the tests sampled by that day the newest that
 * holds the nutrient (of INT32_MAX the newest of all); false when there is none. */
bool soil_reading_on(const struct season *season, const struct zone *zone, enum nutrient nutrient,
                     day_number day, struct soil_reading *reading);

#endif
