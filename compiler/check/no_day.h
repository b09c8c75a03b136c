/* Contradictions between days, told in the plan's words: the steps of the argument, and the way out. */
#ifndef PRILL_CHECK_NO_DAY_H
#define PRILL_CHECK_NO_DAY_H

#include "compiler/check/checking.h"

const struct occurrence *node_member(const struct season *season, uint32_t node, uint32_t at);
uint32_t node_members(const struct season *season, uint32_t node); /* those that share its day: 1 or more */
/* "spring-feed", "fall-feed (time 2 of 3)" */
const char *conflict_occurrence_text(struct checking *checking, const struct occurrence *occurrence);
/* "spring-feed", or "spring-feed and green-up" of what shares a day. */
const char *node_text(struct checking *checking, uint32_t node);
/* The one whose own statement the bound of a step is: "green-up", where node_text says all that share the
 * day. */
const char *step_owner_text(struct checking *checking, const struct timetable_step *step);

/* NULL: the horizon's or a record's. */
const struct bound *step_bound(const struct season *season, const struct timetable_step *step);
struct place step_place(const struct season *season, const struct timetable_step *step);
/* A step over days of which the weather says nothing any more. */
bool step_ends_in_unknown_weather(const struct season *season, const struct timetable_step *step);

/* Only so many steps are told, and the last. */
enum { STEPS_LISTED = 16 };
bool step_listed(const struct timetable_contradiction *contradiction, uint32_t at);
void tell_steps(struct checking *checking, struct report *report,
                const struct timetable_contradiction *contradiction);

struct way {
    const char *text; /* the nearest change that is enough; NULL where none is known */
    bool rest_holds;  /* with fewer times, all that has no other reason can be dated */
};
/* `others`: how many contradictions beside this one have its reason. */
struct way way_out(struct checking *checking, uint32_t index, uint32_t others);
/* The one that a contradiction leaves no day, or the first of those that share it. */
const struct occurrence *last_occurrence(const struct season *season, uint32_t index);
/* Whether both have the same statements against the same treatment: two times of one, mostly. */
bool same_reason(const struct season *season, uint32_t one, uint32_t other);

#endif
