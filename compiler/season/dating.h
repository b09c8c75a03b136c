/* Inside the room: the steps of season_build, and one run of dating.
 *
 * dates.c makes two runs where there are records, the plan alone and then with them; a run goes through
 * relation.c (nodes and what ties them), window.c, closed_days.c, weather_closed.c and dormancy.c (the days
 * each may have), placement.c (days), kinds_in_order.c (kinds in an order), wait_rules.c (what must lie
 * apart) and placement.c again. */
#ifndef PRILL_SEASON_DATING_H
#define PRILL_SEASON_DATING_H

#include "compiler/season/precedence.h"
#include "compiler/season/season.h"

/* ---- the steps ---- */

void occurrences_make(struct season *season); /* and by records_place those that records add */
void records_place(struct season *season, const struct treatment *treatment);
void amounts_plan(struct season *season);
void amounts_record(struct season *season); /* what was really used; nothing for what was skipped */
void season_date(struct season *season);    /* takes amounts_record between its runs */
void readings_make(struct season *season);
void conflicts_make(struct season *season);

/* ---- what they share ---- */

/* Not broken, and somewhere to go. */
bool treatment_sound(const struct treatment *treatment);
const struct when *treatment_every(const struct treatment *treatment); /* NULL when it occurs once */
/* `times` periods after `from`. */
day_number every_day(const struct when *every, day_number from, int64_t times);
/* Whether the record says of the zone that all went as planned there; that so much of the product (NULL: of
 * anything) was used on it. */
bool record_takes(const struct record *record, const struct zone *zone);
bool record_uses(const struct record *record, const struct product *product, const struct zone *zone);
/* Whether the plan says how much N the zone gets: season->fed has the answer. */
bool zone_fed(const struct season *season, const struct zone *zone);
/* Whether the amount is an application of the nutrient, be it known how much or not. */
bool amount_brings(const struct amount *amount, enum nutrient nutrient);

struct order_search {       /* of season_order_stated; made when it is first asked */
    uint32_t *start, *next; /* by node: where its edges lead, as a range of `next`, if they keep one behind */
    uint32_t *seen;         /* by node: the number of the search that came there last */
    uint32_t *stack;
    uint32_t number;
};

/* ---- a run of dating ---- */

struct watched { /* a condition on the weather, and what it leaves open */
    const struct weather_condition *condition;
    const struct watch *watch;
    const struct day_set *open;
};

struct taken { /* whose hot days the plan takes nevertheless, by `allow heat` */
    bool all;
    bool *treatments, *products; /* by index */
};

struct dating_rules { /* the same in every run */
    struct season *season;
    day_number first, last; /* the horizon */
    uint32_t season_cause;
    uint32_t limit_cause;            /* of model->limits' first; the others follow */
    uint32_t product_cause;          /* of model->products' first */
    uint32_t heat_cause, cold_cause; /* the same of their `heat` and `cold` */
    uint32_t part_cause;             /* of the first occurrence that records add, */
    uint32_t planned;                /* whose number in the whole season this is */
    uint32_t supposed_cause;
    bool recorded;  /* there are records to obey */
    bool supposing; /* in this run */
    uint8_t *cause_rank;
    const struct day_set *all;   /* of the horizon */
    const struct day_set **open; /* by limit: the days it leaves open; NULL until wanted */
    VECTOR(struct watched) watched;
    struct taken heat;
};

/* The late one comes at least so long after the early one; `bounded`: and at most; `within`: that alone, and
 * not before it. Of occurrences. */
struct relation {
    uint32_t early, late;
    uint32_t cause;
    struct duration wait;
    bool bounded, within;
    bool from_late; /* months count back from the late one's day, of which a statement speaks with `before` */
    bool same_day;  /* stated as such */
};

struct placed_window {
    uint32_t node;
    struct timetable_window window;
};

struct dating {
    struct dating_rules *rules;
    struct season *season;
    struct arena *arena;
    struct arena *scratch;         /* for what the run needs while it lasts */
    bool records;                  /* obey them; otherwise the plan alone */
    const struct day_trial *trial; /* NULL: the season as it is */
    VECTOR(struct relation) relations;
    uint32_t *node_of;
    uint32_t node_count;
    uint32_t *member_start, *members;
    VECTOR(struct placed_window) windows;    /* until nodes_furnish */
    const struct timetable_closure *closure; /* the newest */
    struct timetable_node *nodes;
    VECTOR(struct timetable_edge) edges;
    size_t first_wait;
    VECTOR(struct wait) waits;
    day_number *earliest, *latest;    /* by node, by the edges so far; DAY_NEVER where it has none */
    VECTOR(struct precedence) orders; /* by limits, of occurrences that may share a day */
    struct timetable question;
    struct timetable_result answer;
};

struct taken taken_make(const struct model *model);

/* A condition's watch and the days it leaves open, both NULL without a weather. Conditions that say the same
 * share them. */
void bound_watch(struct dating_rules *rules, struct bound *bound, const struct weather_condition *condition);

/* Where the occurrence goes in this run; none: work that names no zone. */
struct ground {
    const struct zone *const *zones;
    size_t count;
};
struct ground occurrence_ground(const struct dating *dating, const struct occurrence *occurrence);

/* Whether it lies fixed on a recorded day. */
bool occurrence_fixed(const struct dating *dating, const struct occurrence *occurrence);

void relations_make(struct dating *dating);
void nodes_make(struct dating *dating); /* and the edges of relations */
void window_add(struct dating *dating, uint32_t node, day_number first, day_number last, uint32_t cause);
/* Before those that the node has: the last one is added first. */
void closure_add(struct dating *dating, uint32_t node, const struct day_set *days, uint32_t cause);
void windows_make(struct dating *dating);
void supposed_make(struct dating *dating); /* the day of model->supposed */
void seasons_make(struct dating *dating);  /* the season, where nothing gives a first day */
void dormancy_make(struct dating *dating);
void weather_make(struct dating *dating);
void closed_days_make(struct dating *dating);
void nodes_furnish(struct dating *dating); /* windows to their nodes */
bool limits_order(struct dating *dating);  /* edges by what `order` limits say; false: there are none */
void waits_make(struct dating *dating);

/* The calendar of the days that the run gave. */
void calendar_make(struct season *season, const struct dating *dating);

/* The days by all edges so far; where the whole has no solution, those of the parts that have one. Once there
 * are edges more it goes on from the days that it made before. */
void placement_make(struct dating *dating);

#endif
