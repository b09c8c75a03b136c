#include "compiler/form/uuid.h"

#include "compiler/form/sha1.h"

#include <string.h>

/* Version 5 of RFC 9562: the same name gives the same identifier on every machine. */
const char *uuid_of_name(struct arena *arena, const uint8_t name_space[UUID_SIZE], struct text name)
{
    uint8_t *input = arena_array(arena, UUID_SIZE + name.length, 1);
    memcpy(input, name_space, UUID_SIZE);
    if (name.length)
        memcpy(input + UUID_SIZE, name.start, name.length);
    uint8_t digest[SHA1_SIZE];
    sha1_digest(input, UUID_SIZE + name.length, digest);
    digest[6] = (uint8_t)((digest[6] & 0x0F) | 0x50); /* version 5 */
    digest[8] = (uint8_t)((digest[8] & 0x3F) | 0x80); /* the variant of RFC 9562 */
    /* Hyphens after bytes 4, 6, 8 and 10. */
    static const char hex[] = "0123456789abcdef";
    char *text = arena_alloc(arena, 2 * (size_t)UUID_SIZE + sizeof "----"), *end = text;
    for (int i = 0; i < UUID_SIZE; i++) {
        if (i == 4 || i == 6 || i == 8 || i == 10)
            *end++ = '-';
        *end++ = hex[digest[i] >> 4];
        *end++ = hex[digest[i] & 0xF];
    }
    return text;
}
