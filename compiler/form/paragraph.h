/* Lines that fit a terminal or a sheet of paper, from texts of any length. */
#ifndef PRILL_FORM_PARAGRAPH_H
#define PRILL_FORM_PARAGRAPH_H

#include "lexer/source.h"

enum { PARAGRAPH_CELLS = 80 };

/* Appends `lead` and then `text`, broken at blanks into lines of at most PARAGRAPH_CELLS cells, the further
 * ones indented by as many cells as `lead` takes. A word that is longer stands alone on its line. What would
 * drive a terminal is spelled out. Ends with a newline. */
void paragraph_add(struct buffer *out, const char *lead, const char *text);

/* Appends `text`, spelled out likewise, and blanks up to `cells`; longer text is not cut. Returns the
 * cells that the text alone takes. */
uint32_t field_add(struct buffer *out, const char *text, uint32_t cells);

#endif
