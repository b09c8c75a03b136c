/* Text from a plan made safe for a file format. */
#ifndef PRILL_FORM_PLAIN_TEXT_H
#define PRILL_FORM_PLAIN_TEXT_H

#include "lexer/source.h"

/* Valid UTF-8, bytes that are not being U+FFFD, without control characters: C0 but the line feed, DEL and C1
 * become blanks, and so does the line feed where `lines` is false. */
const char *plain_text(struct arena *arena, const char *string, bool lines);

#endif
