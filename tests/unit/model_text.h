/* A plan's text read into a model, for tests of the language. All plans here are invented. */
#ifndef PRILL_TESTS_MODEL_TEXT_H
#define PRILL_TESTS_MODEL_TEXT_H

#include "compiler/model/model.h"

struct model_text {
    struct arena arena;
    struct names names;
    struct reports reports;
    struct model *model;
};

/* `use` finds nothing: the text is sealed. */
void model_text_read(struct model_text *read, const char *plan);
void model_text_read_bytes(struct model_text *read, struct text plan);
void model_text_free(struct model_text *read);

/* "LINE:COLUMN RULE" of each error in the order of the text, one a line; in the arena. */
const char *model_text_errors(struct model_text *read);

/* The first error; fails the test where there is none. */
const struct report *model_text_error(const struct model_text *read);

/* The plan has exactly these errors. */
void check_errors(const char *file, int line, const char *plan, const char *errors);
#define assert_errors(plan, errors) check_errors(__FILE__, __LINE__, plan, errors)

const struct zone *model_text_zone(const struct model_text *read, const char *name);
const struct product *model_text_product(const struct model_text *read, const char *name);
const struct treatment *model_text_treatment(const struct model_text *read, const char *name);

/* `value` within a 1e-12 share of what is expected. */
#define assert_figure(value, expected) check_figure(__FILE__, __LINE__, #value, value, expected)
void check_figure(const char *file, int line, const char *what, double value, double expected);

/* Numbers that look random and are the same in every run (xorshift of G. Marsaglia); `*seed` is not 0. */
uint32_t drawn(uint64_t *seed, uint32_t below);

#endif
