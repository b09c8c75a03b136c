/* The rates that the compiler chose: what goes where and when, what each zone gets and is short of, which
 * statements hold it back; and the answers to the plan's questions, what would match a product and what makes
 * a blend. */
#ifndef PRILL_RESULT_RATES_H
#define PRILL_RESULT_RATES_H

#include "compiler/result/caution.h"
#include "compiler/solve/solution.h"

/* What the compiler chose; empty where the plan left nothing open. */
const struct solution *rates_solution(const struct season *season);

/* Whether the choice set this amount: one of a product on its list, in an application left open to it. */
bool rates_chose(const struct rates_answer *choice, const struct amount *amount);

/* What to take care of with the products chosen, storing apart. */
struct caution_list rates_cautions(const struct season *season);

/* Money counted from amounts that are not whole packs, in hundredths: nobody pays less. */
double rates_money(double value);

/* "24-0-11" */
const char *grade_text(struct arena *arena, const double grade[3]);

/* Parts of the page: one correction, one blend. */
void rates_choice_describe(struct page *page, const struct season *season, const struct rates_answer *choice);
void rates_blend_describe(struct page *page, const struct model *model, struct footnotes *notes,
                          const struct blend_answer *made);

#endif
