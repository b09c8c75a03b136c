/* What the program says on standard error about the call, files and the system. */
#ifndef PRILL_COMMAND_MESSAGE_H
#define PRILL_COMMAND_MESSAGE_H

/* "prill: ..." on one line, at most MESSAGE_LIMIT bytes of it; what would drive a terminal is spelled out. */
void message_print(const char *format, ...) __attribute__((format(printf, 1, 2)));

enum { MESSAGE_LIMIT = 4096 };

/* The nearest of `names` (ended by NULL) to a misspelt one; NULL when none is near. */
const char *name_nearest(const char *const *names, const char *misspelt);

#endif
