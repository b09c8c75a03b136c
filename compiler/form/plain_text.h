/* Text from a plan made safe for a file format: valid UTF-8 without control characters. */
#ifndef PRILL_FORM_PLAIN_TEXT_H
#define PRILL_FORM_PLAIN_TEXT_H

#include "lexer/source.h"

/* Bytes that are not UTF-8 become U+FFFD; C0 but the line feed, DEL and C1 become blanks, and so does the
 * line feed where `lines` is false. The text itself where nothing changes, otherwise in the arena. */
const char *plain_text(struct arena *arena, const char *text, bool lines);

#endif
