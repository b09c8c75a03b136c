/* Inside explain_page: an explanation under way, and its parts, a file each. */
#ifndef PRILL_RESULT_EXPLANATION_H
#define PRILL_RESULT_EXPLANATION_H

#include "compiler/model/display.h"
#include "compiler/result/caution.h"
#include "compiler/result/footnote.h"
#include "compiler/season/season.h"
#include "compiler/solve/solution.h"

struct explanation {
    struct page *page;
    struct arena *arena; /* the page's */
    const struct season *season;
    const struct model *model;
    struct footnotes notes;
};

/* Onto the page. */
void explain_heading(struct explanation *explanation, int depth, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void explain_line(struct explanation *explanation, int depth, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* "line 58" of the plan's own file, "library/scales.prill:25" of others. */
const char *explain_place(struct explanation *explanation, struct place place);

/* The statement's own words on one line: "`when between Apr 10 and Apr 30`, line 58". */
const char *explain_statement(struct explanation *explanation, struct place place);

/* "Take care:" and each in full, with its source; nothing for none. */
void explain_cautions(struct explanation *explanation, const struct caution_list *cautions);

void explain_lawn(struct explanation *explanation, const struct lawn *lawn);
void explain_zone(struct explanation *explanation, const struct zone *zone);
void explain_product(struct explanation *explanation, const struct product *product);
void explain_machine(struct explanation *explanation, const struct machine *machine);
void explain_sprinkler(struct explanation *explanation, const struct sprinkler *sprinkler);
void explain_nutrient(struct explanation *explanation, const struct nutrient_form *form);
void explain_treatment(struct explanation *explanation, const struct treatment *treatment);

/* Grasses, scales, limits and whatever else of knowledge the plan states or uses, by name. */
void explain_entries(struct explanation *explanation, struct text name);

/* What the compiler chose, by the name of the correction or the blend. */
void explain_correction(struct explanation *explanation, const struct rates_answer *choice);
void explain_blend(struct explanation *explanation, const struct blend_answer *made);

/* Parts of explain_treatment, for one occurrence. */
void explain_day(struct explanation *explanation, const struct occurrence *occurrence);
void explain_amounts(struct explanation *explanation, const struct occurrence *occurrence);
/* Each condition on the day's weather, and the risk; nothing where none is asked. */
void explain_day_weather(struct explanation *explanation, const struct occurrence *occurrence, int depth);
void explain_limits(struct explanation *explanation, const struct occurrence *occurrence);
/* Of what was done. */
void explain_next_allowed(struct explanation *explanation, const struct occurrence *occurrence);

#endif
