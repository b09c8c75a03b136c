/* Another file in place of one that the plan's own `use` statements name. */
#ifndef PRILL_MODEL_REPLACEMENT_H
#define PRILL_MODEL_REPLACEMENT_H

#include "lexer/arena.h"
#include "lexer/text.h"

struct replacement {
    struct text wanted;   /* the name that gives way, as it was asked for; empty: whatever the plan uses */
    struct text by;       /* what stands in for it; `start` NULL: none was asked for */
    struct text replaced; /* the name that gave way, once there was one */
    size_t count;         /* of the `use` statements that gave way */
};

/* Of "FILE" or "OLD=FILE". */
struct replacement replacement_of(struct arena *arena, const char *form);

/* What is read for a `use` of `path` in the plan itself. */
struct text replacement_path(struct replacement *replacement, struct text path);

/* As sources_replace_lack. */
const char *replacement_lack(const struct replacement *replacement, struct arena *arena);

#endif
