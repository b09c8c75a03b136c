/* Texts laid out by the rules of a language small enough to be seen whole; the real one is compiler/model's.
 */
#ifndef PRILL_TESTS_FORMAT_TEXT_H
#define PRILL_TESTS_FORMAT_TEXT_H

#include "parser/format.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

extern const struct format_language small_language;

int arena_setup(void **state); /* the state is the arena */
int arena_teardown(void **state);

void parse_text(struct arena *arena, const char *bytes, struct tree *tree);

/* NULL when the text is not sound. */
const char *formatted(struct arena *arena, const char *bytes);

/* Everything but blanks, so that two texts may be compared by what they say; written without the lexer. */
const char *without_blanks(struct arena *arena, const char *bytes);

#endif
