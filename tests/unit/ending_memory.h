/* Memory that ends after so many allocations: an allocator in place of the program's, for one test program.
 */
#ifndef TESTS_UNIT_ENDING_MEMORY_H
#define TESTS_UNIT_ENDING_MEMORY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>

/* A sanitizer has an allocator of its own, and another C library no __libc_malloc. */
#if defined(__SANITIZE_ADDRESS__) || !defined(__GLIBC__)
#define MEMORY_NEVER_ENDS 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define MEMORY_NEVER_ENDS 1
#endif
#endif

#ifndef MEMORY_NEVER_ENDS
void *__libc_malloc(size_t size); /* glibc's own, behind those below */
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *piece, size_t size);
static long allocations_left = -1; /* -1: no end */
static bool end_was_met;

static bool memory_ends(void)
{
    end_was_met |= allocations_left == 0;
    bool ends = allocations_left == 0;
    allocations_left -= allocations_left > 0;
    return ends;
}

/* What the library and what it links call for new memory under test. */
void *malloc(size_t size)
{
    return memory_ends() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    return memory_ends() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *piece, size_t size)
{
    return memory_ends() ? NULL : __libc_realloc(piece, size);
}

/* Under valgrind the program's malloc is valgrind's. */
static bool memory_can_end(void)
{
    void *(*volatile allocate)(size_t) = malloc;
    allocations_left = 0;
    void *piece = allocate(1);
    allocations_left = -1;
    free(piece);
    return piece == NULL;
}
#endif

#endif
