#define _DEFAULT_SOURCE /* madvise */
#include "lexer/arena.h"

#include <assert.h>
#include <errno.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

enum {
    ARENA_BLOCK = 256 * 1024,
    PAGE = 4096, /* where pages are larger, madvise refuses, and the system maps as it does alone */
    MAPPED_AHEAD = 32 * 1024,
    LARGE_PAGE = 2 * 1024 * 1024
};

struct arena_block {
    struct arena_block *older;
    size_t size;
    size_t touched; /* bytes behind these are still as the system cleared them */
    size_t mapped;  /* and behind these not mapped yet */
    _Alignas(ARENA_ALIGN) unsigned char bytes[];
};

void arena_init(struct arena *arena, jmp_buf *exhausted)
{
    *arena = (struct arena){.exhausted = exhausted, .most = SIZE_MAX, .steps_most = UINT64_MAX};
}

/* The newest, but for the `kept` oldest. */
static void free_large(struct arena *arena, size_t kept)
{
    for (; arena->large_count > kept; arena->large_count--) {
        struct arena_block *left = arena->large;
        arena->large = left->older;
        arena->large_total -= left->size;
        free(left);
    }
}

/* And of the scratch arena, which has none of its own. */
void arena_free(struct arena *arena)
{
    assert(arena);
    for (struct arena *part = arena; part; part = part->scratch) {
        for (struct arena_block *block = part->block, *older; block; block = older) {
            older = block->older;
            free(block);
        }
        free(part->spare);
        free_large(part, 0);
    }
    free(arena->scratch);
    *arena =
        (struct arena){.exhausted = arena->exhausted, .most = arena->most, .steps_most = arena->steps_most};
}

/* It lies outside the blocks of both, since either may be rewound. */
struct arena *arena_scratch(struct arena *arena)
{
    assert(!arena->owner);
    if (!arena->scratch) {
        arena->scratch = malloc(sizeof *arena->scratch);
        if (!arena->scratch)
            arena_exhausted(arena);
        *arena->scratch = (struct arena){.owner = arena};
    }
    return arena->scratch;
}

struct arena *arena_whole(struct arena *arena)
{
    return arena->owner ? arena->owner : arena;
}

struct arena_mark arena_mark(const struct arena *arena)
{
    return (struct arena_mark){arena->block, arena->large_count, arena->used, arena->total};
}

/* Before another block is the newest, or `used` falls. */
static void block_leave(struct arena *arena)
{
    if (arena->block && arena->used > arena->block->touched)
        arena->block->touched = arena->used;
}

/* The largest of the blocks that are given up is kept for what is taken next; but where nothing is left, and
 * the arena was not reset yet, no large one: what reading a large plan took would lie idle to the end. */
void arena_rewind(struct arena *arena, struct arena_mark mark)
{
    while (arena->block != mark.block) {
        struct arena_block *left = arena->block;
        block_leave(arena);
        arena->used = 0;
        arena->block = left->older;
        if (arena->spare && arena->spare->size >= left->size) {
            free(left);
            continue;
        }
        free(arena->spare);
        arena->spare = left;
    }
    block_leave(arena);
    if (!mark.block && !arena->first && arena->spare && arena->spare->size > 2 * (size_t)LARGE_PAGE) {
        free(arena->spare);
        arena->spare = NULL;
    }
    free_large(arena, mark.large_count);
    arena->used = arena->ready = mark.used;
    arena->total = mark.total;
}

/* The pieces that the last one took together are one piece the next time; and so are those of the scratch
 * arena, which has none of its own. */
void arena_reset(struct arena *arena)
{
    for (struct arena *part = arena; part; part = part->scratch) {
        size_t peak = part->peak < ARENA_KEPT ? part->peak : 0;
        arena_rewind(part, (struct arena_mark){0});
        struct arena_block *spare = part->spare;
        if (spare && (!peak || spare->size < peak)) {
            free(spare);
            spare = NULL;
        }
        *part = (struct arena){.spare = spare,
                               .first = peak,
                               .most = SIZE_MAX,
                               .steps_most = UINT64_MAX,
                               .scratch = part->scratch,
                               .owner = part->owner};
    }
}

void arena_exhausted(struct arena *arena)
{
    arena = arena_whole(arena);
    if (!arena->exhausted)
        abort();
    longjmp(*arena->exhausted, 1);
}

/* The system clears and maps memory page by page when it is first touched, which for a large plan takes
 * longer than reading it. Of large pages, where it has them, these are five hundred times fewer. It is asked
 * for the whole of a block's mapping: what is mapped in two ways realloc cannot move without copying it. */
static void ask_for_large_pages(void *memory, size_t size)
{
#ifdef MADV_HUGEPAGE
    size_t before = (uintptr_t)memory % PAGE, bytes = before + size;
    if (size >= 2 * (size_t)LARGE_PAGE)
        madvise((char *)memory - before, (bytes + PAGE - 1) / PAGE * PAGE, MADV_HUGEPAGE);
#else
    (void)memory;
    (void)size;
#endif
}

void arena_work(struct arena *arena, uint64_t steps)
{
    arena = arena_whole(arena);
    arena->steps += steps;
    if (!arena_worked_out(arena))
        return;
    arena->spent = true;
    arena_exhausted(arena);
}

size_t arena_total(const struct arena *arena)
{
    size_t total = arena->total + arena->large_total;
    return total + (arena->scratch ? arena->scratch->total + arena->scratch->large_total : 0);
}

/* What may still be asked of the system; where `least` is more, the arena ends here. */
static size_t bytes_left(struct arena *arena, size_t least)
{
    struct arena *whole = arena_whole(arena);
    size_t taken = arena_total(whole);
    size_t left = whole->most > taken ? whole->most - taken : 0;
    whole->spent = least > left;
    if (whole->spent)
        arena_exhausted(arena);
    return left;
}

/* Later blocks double, so that a large plan asks the system some dozen times and not thousands. */
static void add_block(struct arena *arena, size_t least)
{
    size_t left = bytes_left(arena, least);
    size_t usual = !arena->block && arena->first > ARENA_BLOCK ? arena->first : ARENA_BLOCK;
    size_t size = least > usual ? least : usual;
    if (arena->block && arena->total > size && arena->total < SIZE_MAX / 4)
        size = arena->total;
    if (size > left)
        size = left;
    struct arena_block *block = arena->spare;
    if (block && block->size >= least) {
        size = block->size;
        arena->spare = NULL;
    } else {
        block = size > SIZE_MAX - sizeof *block ? NULL : calloc(1, sizeof *block + size);
    }
    if (!block)
        arena_exhausted(arena);
    ask_for_large_pages(block, sizeof *block + size);
    block_leave(arena);
    block->older = arena->block;
    block->size = size;
    arena->block = block;
    arena->used = 0;
    arena->total += size;
    arena->peak = arena->total > arena->peak ? arena->total : arena->peak;
}

/* The system maps many pages that it is asked for at once in a third of the time that it takes when each is
 * found missing. */
static void block_map(struct arena_block *block, size_t used)
{
#ifdef MADV_POPULATE_WRITE
    int error = errno;
    size_t ahead = used + MAPPED_AHEAD + used / 16, end = ahead < block->size ? ahead : block->size;
    unsigned char *from = block->bytes + block->mapped;
    size_t before = (uintptr_t)from % PAGE;
    bool mapped = madvise(from - before, before + end - block->mapped, MADV_POPULATE_WRITE) == 0;
    block->mapped = mapped ? end : SIZE_MAX; /* a system that does not know of it is asked once */
    errno = error;
#else
    (void)used;
    block->mapped = SIZE_MAX;
#endif
}

void *arena_further(struct arena *arena, size_t size)
{
    if (size > SIZE_MAX - ARENA_ALIGN)
        arena_exhausted(arena);
    size_t rounded = (size + ARENA_ALIGN - 1) / ARENA_ALIGN * ARENA_ALIGN;
    if (!arena->block || rounded > arena->block->size - arena->used)
        add_block(arena, rounded);
    struct arena_block *block = arena->block;
    void *piece = block->bytes + arena->used;
    arena->used += rounded;
    if (arena->used > block->mapped)
        block_map(block, arena->used);
    arena->bytes = block->bytes;
    arena->ready = (block->mapped < block->size ? block->mapped : block->size) / ARENA_ALIGN * ARENA_ALIGN;
    return piece;
}

void *arena_alloc(struct arena *arena, size_t size)
{
    unsigned char *piece = arena_uncleared(arena, size);
    size_t touched = arena->block->touched, before = (size_t)(piece - arena->block->bytes);
    if (touched > before)
        memset(piece, 0, (touched < arena->used ? touched : arena->used) - before);
    return piece;
}

void *arena_array(struct arena *arena, size_t count, size_t size)
{
    size_t bytes;
    if (__builtin_mul_overflow(count, size, &bytes))
        arena_exhausted(arena);
    return arena_alloc(arena, bytes);
}

/* What was taken last grows where it lies. */
void *arena_double(struct arena *arena, void *items, size_t count, size_t *capacity, size_t size)
{
    size_t held = *capacity * size, bytes;
    if (__builtin_mul_overflow(held, 2, &bytes))
        arena_exhausted(arena);
    *capacity *= 2;
    /* A large vector has a block of its own, which the system can make longer where it lies: nothing is
     * copied, and no shorter copies of it stay behind. */
    if (held >= ARENA_BLOCK && bytes <= PTRDIFF_MAX) {
        struct arena_block **at = &arena->large;
        while (*at && (*at)->bytes != items)
            at = &(*at)->older;
        struct arena_block *old = *at;
        bytes_left(arena, old ? bytes - old->size : bytes);
        struct arena_block *block = realloc(old, sizeof *block + bytes);
        if (!block)
            arena_exhausted(arena);
        if (!old) {
            block->older = arena->large;
            block->size = 0;
            arena->large_count++;
            at = &arena->large;
            memcpy(block->bytes, items, count * size);
        }
        arena->large_total += bytes - block->size;
        block->size = bytes;
        *at = block;
        ask_for_large_pages(block, sizeof *block + bytes);
        return block->bytes;
    }

    if (held % ARENA_ALIGN == 0 && arena->block &&
        (unsigned char *)items + held == arena->block->bytes + arena->used &&
        held <= arena->block->size - arena->used) {
        arena_uncleared(arena, held);
        return items;
    }
    return memcpy(arena_uncleared(arena, bytes), items, count * size);
}
