/* A timetable solved from nothing, with its contradictions where it has no solution. */
#ifndef PRILL_TESTS_SOLVED_TIMETABLE_H
#define PRILL_TESTS_SOLVED_TIMETABLE_H

#include "compiler/season/timetable.h"

void timetable_solve(struct arena *arena, const struct timetable *timetable, struct timetable_result *result);

#endif
