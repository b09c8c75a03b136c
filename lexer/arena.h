/* Memory and work of one compilation. Memory is taken piece by piece and given back all at once; work is
 * counted in steps, never in time, so that the same text ends at the same place everywhere. */
#ifndef PRILL_LEXER_ARENA_H
#define PRILL_LEXER_ARENA_H

#include <setjmp.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct arena_block;

/* When the system refuses memory, or `most` or `steps_most` is spent, the arena jumps to `exhausted`, so no
 * caller tests for NULL. A thread may use its arena only while the frame that called setjmp is alive. */
struct arena {
    struct arena_block *block;
    unsigned char *bytes;      /* of the newest block, */
    size_t ready;              /* and how many of them can be taken at once */
    struct arena_block *spare; /* the largest that rewinds left; NULL mostly */
    struct arena_block *large; /* the newest of the vectors that have a block each; NULL mostly */
    size_t used;               /* bytes taken from it */
    size_t total, large_total; /* bytes asked of the system: for blocks, for large vectors */
    size_t large_count;
    size_t peak;         /* the most that `total` was */
    size_t first;        /* bytes of the first block, where that is more than the usual */
    size_t most;         /* what both may come to, those of the scratch arena included */
    uint64_t steps;      /* of work so far: see arena_work */
    uint64_t steps_most; /* what `steps` may come to */
    bool spent;          /* it would have passed one of the two */
    const char *lack;    /* why it was exhausted, where that was not for memory or work */
    jmp_buf *exhausted;
    struct arena *scratch; /* see arena_scratch; NULL till it is asked for */
    struct arena *owner;   /* of a scratch arena: the one that it is part of; otherwise NULL */
};

/* May take as much as the system gives, and work without end, until `most` and `steps_most` are set. */
void arena_init(struct arena *arena, jmp_buf *exhausted);
void arena_free(struct arena *arena);

/* Gives back all that was taken, and the counts begin anew, without limits until they are set. The memory
 * stays with the arena up to ARENA_KEPT bytes, and with its scratch arena up to as many, in one piece from
 * the second time on: who takes as much again and again waits for the system no more. Large vectors do not
 * stay. */
enum { ARENA_KEPT = 32 * 1024 * 1024 };
void arena_reset(struct arena *arena);

/* Bytes that it asked of the system, its scratch arena included. */
size_t arena_total(const struct arena *arena);

/* Where an arena stands. A rewind gives back all that was taken since; nothing kept may point into it. Of
 * several marks the newest is rewound first. One block is kept for what is taken next: who marks and rewinds
 * over and over does not ask the system each time. */
struct arena_mark {
    struct arena_block *block;
    size_t large_count; /* a large vector may grow, and move, till the rewind */
    size_t used, total;
};
struct arena_mark arena_mark(const struct arena *arena);
void arena_rewind(struct arena *arena, struct arena_mark mark);

/* The same arena's memory for what is needed for a while only: whoever takes some marks it before and rewinds
 * it after, so that what is kept lies close together and the rest is used again. */
struct arena *arena_scratch(struct arena *arena);

/* The arena itself, or that which it is the scratch arena of: where `exhausted` counts. */
struct arena *arena_whole(struct arena *arena);

/* Counts work, of the whole arena's: a step is one turn of a plain loop, some 10 ns. Whoever goes through
 * what a plan multiplies (each limit on each zone's applications) counts it before the loop. */
void arena_work(struct arena *arena, uint64_t steps);
static inline uint64_t arena_work_left(const struct arena *arena)
{
    return arena->steps < arena->steps_most ? arena->steps_most - arena->steps : 0;
}
/* Whether work was spent, and not memory. */
static inline bool arena_worked_out(const struct arena *arena)
{
    return arena->steps > arena->steps_most;
}

/* What the arena does when memory ends; for those who take memory elsewhere. */
_Noreturn void arena_exhausted(struct arena *arena);

/* Zeroed, aligned for pointers and numbers of up to 64 bits, valid until arena_free. */
void *arena_alloc(struct arena *arena, size_t size);

/* The same, with whatever is in it: for what is written at once. Mostly the newest block has room. */
enum { ARENA_ALIGN = 8 };
void *arena_further(struct arena *arena, size_t size);
static inline void *arena_uncleared(struct arena *arena, size_t size)
{
    if (size >= arena->ready - arena->used)
        return arena_further(arena, size);
    arena->used += (size + ARENA_ALIGN - 1) / ARENA_ALIGN * ARENA_ALIGN;
    return arena->bytes + arena->used - (size + ARENA_ALIGN - 1) / ARENA_ALIGN * ARENA_ALIGN;
}

/* `count` items of `size` bytes each; an overflow of the product counts as exhaustion. */
void *arena_array(struct arena *arena, size_t count, size_t size);

#define ARENA_NEW(arena, type) ((type *)arena_alloc((arena), sizeof(type)))
#define ARENA_ARRAY(arena, count, type) ((type *)arena_array((arena), (count), sizeof(type)))

/* Grows a vector to hold one more item: returns the (possibly moved) items and updates `capacity`.
 * Capacities double, so the arena wastes at most as much again as the vector needs. Most vectors of a plan
 * stay at one or two items: a small one begins with what would lie idle behind. What lies behind the `count`
 * items is not zeroed. */
void *arena_double(struct arena *arena, void *items, size_t count, size_t *capacity, size_t size);
static inline void *arena_grow(struct arena *arena, void *items, size_t count, size_t *capacity, size_t size)
{
    if (*capacity)
        return arena_double(arena, items, count, capacity, size);
    *capacity = size < ARENA_ALIGN ? ARENA_ALIGN / size : 1;
    return arena_uncleared(arena, *capacity * size);
}

/* A list that grows: its items move when it does. */
#define VECTOR(type)                                                                                         \
    struct {                                                                                                 \
        type *items;                                                                                         \
        uint32_t count, capacity;                                                                            \
    }

/* VECTOR_PUSH(arena, v, value): appends to a struct with members items, count, capacity. */
#define VECTOR_PUSH(arena, v, value)                                                                         \
    do {                                                                                                     \
        if ((v)->count == (v)->capacity) {                                                                   \
            size_t capacity_ = (v)->capacity;                                                                \
            (v)->items = arena_grow((arena), (v)->items, (v)->count, &capacity_, sizeof *(v)->items);        \
            (v)->capacity = (uint32_t)capacity_;                                                             \
        }                                                                                                    \
        (v)->items[(v)->count++] = (value);                                                                  \
    } while (0)

#endif
