#include "compiler/model/late.h"

#include "lexer/text.h"

#include <dlfcn.h>
#include <string.h>

/* A library is opened anew by each who wants it: the system counts, and loads it once. */
void late_open(struct arena *arena, const char *library, const char *const names[], void *functions,
               size_t size)
{
    unsigned char *next = functions;
    void *opened = dlopen(library, RTLD_NOW | RTLD_LOCAL), *address = NULL;
    for (size_t i = 0; i < size / sizeof address; i++) {
        address = opened ? dlsym(opened, names[i]) : NULL;
        if (!address) {
            arena->lack = text_format(arena, "%s cannot be loaded", library);
            arena_exhausted(arena);
        }
        memcpy(next + i * sizeof address, &address, sizeof address); /* C has no cast from data to function */
    }
}
