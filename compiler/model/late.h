/* Shared libraries that are opened when something in them is first wanted. Most plans need none of them, and
 * loading ICU with what it depends on takes longer than the rest of a run.
 *
 *     #define GLPK(each) each(glp_simplex) each(glp_exact)
 *     struct glpk { GLPK(LATE_MEMBER) } glpk;
 *     LATE_OPEN(arena, "libglpk.so.40", GLPK, glpk);
 *     glpk.glp_simplex(problem, NULL);
 */
#ifndef PRILL_MODEL_LATE_H
#define PRILL_MODEL_LATE_H

#include "lexer/arena.h"

/* A function of the library, of the type that its own header declares. */
#define LATE_MEMBER(function) __typeof__(function) *function;

/* Fills a struct that consists of such members. */
#define LATE_OPEN(arena, library, list, functions)                                                           \
    late_open((arena), (library), (const char *const[]){list(LATE_NAME)}, &(functions), sizeof(functions))
#define LATE_NAME(function) LATE_QUOTED(function),
#define LATE_QUOTED(function) #function

/* Finds the functions in the library of that file name. It stays loaded until the process ends. Where it or
 * one of them is missing the arena ends as where memory does, and says which. */
void late_open(struct arena *arena, const char *library, const char *const names[], void *functions,
               size_t size);

#endif
