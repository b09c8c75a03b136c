/* Text made by a command of its own and printed: the one place where that takes memory. */
#ifndef PRILL_COMMAND_PRINT_H
#define PRILL_COMMAND_PRINT_H

#include "compiler/command/command.h"

#include "lexer/text.h"

/* Lets `writer` append to a buffer, and prints that on standard output. */
enum prill_status print_filled(void (*writer)(struct buffer *out, const void *subject), const void *subject);

#endif
