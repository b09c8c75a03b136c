/* Rates that the plan leaves to the compiler: corrections, matches, blends.
 *
 * An application whose rates are chosen is dated first as if it took every product on its list; where that
 * leaves no days, as if it took none. Then matches are settled, and corrections, in the order of the text,
 * each counting what the plan and those before it put down. What is chosen goes into the season like what a
 * person wrote. */
#ifndef PRILL_SOLVE_SOLVE_H
#define PRILL_SOLVE_SOLVE_H

#include "compiler/season/season.h"

/* Called as the `number`th of `count` questions is begun: a correction, a match or a time of one, a blend. */
typedef void question_begun(void *watcher, size_t number, size_t count);

/* The season of a model with all rates chosen; its `solution` (solution.h) tells what was chosen and why.
 * Reports what cannot be kept or met. A plan that leaves nothing open costs nothing more than season_build.
 * `begun` may be NULL. */
struct season *solve_season(const struct model *model, question_begun *begun, void *watcher);

#endif
