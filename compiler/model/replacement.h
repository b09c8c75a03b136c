/* Another file in place of one that the plan's own `use` statements name. */
#ifndef PRILL_MODEL_REPLACEMENT_H
#define PRILL_MODEL_REPLACEMENT_H

#include "lexer/text.h"

struct replacement {
    struct text wanted;   /* the name that gives way, as it was asked for; empty: whatever the plan uses */
    struct text by;       /* what stands in for it; `start` NULL: none was asked for */
    struct text replaced; /* the name that gave way, once there was one */
    size_t count;         /* of the `use` statements that gave way */
};

#endif
