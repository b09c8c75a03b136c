/* Text inside HTML. */
#ifndef PRILL_FORM_HTML_TEXT_H
#define PRILL_FORM_HTML_TEXT_H

#include "lexer/source.h"

/* Appends `text` so that it is text wherever it stands, in an element or between double quotes: what would be
 * markup is an entity, what is invisible or reorders text is spelled out as for a terminal. */
void html_escape(struct buffer *out, struct text text);

/* The same for a sentence: addresses become links, and what is between backticks becomes code. */
void html_sentence(struct buffer *out, const char *text);

#endif
