/* Which cautions of the library and the plan belong to a product, what they are for, and how they are said.
 */
#ifndef PRILL_RESULT_CAUTION_H
#define PRILL_RESULT_CAUTION_H

#include "compiler/form/data.h"
#include "compiler/result/footnote.h"

struct caution_list {
    const struct caution **items;
    size_t count, capacity;
};

/* All but storing: what belongs to the work itself. */
enum { STAGES_OF_WORK = 1 << STAGE_HANDLING | 1 << STAGE_APPLYING | 1 << STAGE_AFTERWARDS };

/* Whether it is for any of the stages (bits 1 << caution_stage), or for everything. */
bool caution_for(const struct caution *caution, unsigned stages);

/* By its form, its nutrients, its kinds, its strength as lime, or because it names the caution. */
bool caution_of_product(const struct caution *caution, const struct product *product);

/* By what kind of work it is. */
bool caution_of_treatment(const struct caution *caution, const struct treatment *treatment);

/* Those of any of the products that are for any of the stages, each once, in the model's order. */
struct caution_list cautions_of(const struct model *model, const struct product *const *products,
                                size_t count, unsigned stages);

/* "Read the label first. [1]"; "Wait for rain. (common practice, no source)" */
const char *caution_sentence(struct arena *arena, const struct caution *caution, struct footnotes *notes);

/* "keep off until dry": its few words, or all of them where no few are stated. */
const char *caution_brief(const struct caution *caution);

/* "read the label first; gloves and eye cover; keep off until dry": the few words of each. NULL for none. */
const char *cautions_line(struct arena *arena, const struct caution_list *list);

/* As the array `key` of `root`: names, texts, what they are for, sources with their addresses. */
void data_cautions(struct data *root, const char *key, const struct caution_list *list);

#endif
