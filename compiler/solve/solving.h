/* Inside the room: the steps of solve_season, and what is said of them. */
#ifndef PRILL_SOLVE_SOLVING_H
#define PRILL_SOLVE_SOLVING_H

#include "compiler/model/rule.h"
#include "compiler/solve/question.h"

/* ---- amounts ---- */

void amounts_clear(struct season *season); /* of rates left open: what is not chosen yet */

/* ---- one correction, one match, one blend ---- */

/* False after a report: a record that goes by what was planned cannot go by what is still to be chosen.
 * `product` is one that may be; NULL where none is known. */
bool records_say_used(struct season *season, const struct treatment *treatment,
                      const struct product *product);

/* False after a report. */
bool correct_solve(struct season *season, struct solution *solution, const struct correct *correct);
void needs_settle(const struct season *season, struct solution *solution);
bool match_apply(struct season *season, struct solution *solution, const struct match *match,
                 struct occurrence *occurrence);
void match_answer(struct season *season, struct solution *solution, const struct match *match);
void blend_answer(struct season *season, struct solution *solution, const struct blend *blend);

/* Solves the question and files the answer: rates, shortfalls with what presses, or contradictions. */
struct rates_answer *choice_make(struct season *season, struct solution *solution, struct question *question);

/* What easing each statement that presses on a zone would buy, what buys most first; for so much work. */
void easings_find(const struct question *question, uint32_t plot, uint64_t work, struct zone_choice *choice);
/* The statements that no rates keep together, of each plot on which there are no rates. */
void contradictions_find(const struct question *question, struct rates_answer *made);

/* A cause's figure moved by so much of the programme's unit, in the statement's own; NAN where it has none
 * that may be moved. */
double cause_moved(const struct cause *cause, double distance);

/* ---- words ---- */

void say_contradictions(struct season *season, const struct rates_answer *choice);
void say_shortfalls(struct season *season, const struct rates_answer *choice);
void say_choice(struct season *season,
                const struct rates_answer *choice); /* what else there is to say of it */
void say_match(struct season *season, const struct match_answer *made);
void say_blend(struct season *season, const struct blend_answer *made);

/* A report of rates_rules, accepted where an `allow` of the plan speaks of it. `about`: what it is about,
 * ended by NULL. */
struct report *say(struct season *season, enum rates_rule rule, const struct symbol *const *about,
                   struct place place, const char *format, ...) __attribute__((format(printf, 5, 6)));

const char *say_supply(struct season *season, double element, const struct nutrient_form *form);
/* The correction, or the application that has the match. */
const struct symbol *choice_symbol(const struct rates_answer *choice);

#endif
