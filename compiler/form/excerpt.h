/* Lines of a source quoted for a person, with places in them underlined. */
#ifndef PRILL_FORM_EXCERPT_H
#define PRILL_FORM_EXCERPT_H

#include "compiler/form/terminal_text.h"

/* Longer lines are cut to a window of so many cells around what is marked. */
enum { EXCERPT_CELLS = 100 };

struct excerpt {
    struct buffer *out;
    bool colour;
    int digits; /* width of the line numbers */
};

/* A place to underline with `sign`, and what is said of it there (NULL for nothing). */
struct mark {
    struct place place; /* its source is not NULL */
    char sign;
    enum tint tint;
    const char *label;
};

/* Quotes the line of marks[0] with a row of signs under it. Of a place over several lines the first and the
 * last are quoted. Marks that follow and fit under the same quoted line get a row there too; returns how many
 * were shown. */
size_t excerpt_print(const struct excerpt *excerpt, const struct mark *marks, size_t count);

/* One line, numbered, after `border`, in a window around its byte `at`. */
void excerpt_line(const struct excerpt *excerpt, uint32_t number, char border, enum tint tint,
                  struct text line, size_t at);

/* First and last line of a place, from 1. A line end belongs to the line that it ends. */
uint32_t place_first_line(struct place place);
uint32_t place_last_line(struct place place);

#endif
