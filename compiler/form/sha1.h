/* SHA-1, for names and not for secrets: equal text gives an equal name on every machine.
 * Source: RFC 3174, "US Secure Hash Algorithm 1 (SHA1)". */
#ifndef PRILL_FORM_SHA1_H
#define PRILL_FORM_SHA1_H

#include <stddef.h>
#include <stdint.h>

enum { SHA1_SIZE = 20 };

void sha1_digest(const void *bytes, size_t length, uint8_t digest[SHA1_SIZE]);

#endif
