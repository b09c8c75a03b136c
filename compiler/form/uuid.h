/* Name-based identifiers: the same name gives the same one for ever.
 * Source: RFC 9562, "Universally Unique IDentifiers (UUIDs)", section 5.5 (version 5). */
#ifndef PRILL_FORM_UUID_H
#define PRILL_FORM_UUID_H

#include "lexer/text.h"

enum { UUID_SIZE = 16 };

/* "2ed6657d-e927-568b-95e1-2665a8aea6a2" in the arena. */
const char *uuid_of_name(struct arena *arena, const uint8_t name_space[UUID_SIZE], struct text name);

#endif
