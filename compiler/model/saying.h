/* Words that other texts use where this language has its own. A saying is met in a clause that does not fit,
 * and is said only where the clause then does. */
#ifndef PRILL_MODEL_SAYING_H
#define PRILL_MODEL_SAYING_H

#include "compiler/model/form.h"

enum { SAYING_READINGS = 2 };

struct saying {
    enum block_kind block; /* where it is said; BLOCK_NONE: anywhere */
    const char *written;   /* tokens, with blanks between them */
    struct {
        const char *instead, *behind; /* in its place, and at the clause's end */
    } readings[SAYING_READINGS];      /* the second is NULL where one thing alone can be meant */
    bool guess; /* something is added that nobody stated: a question, and no fix */
};

extern const struct saying sayings[];
extern const size_t saying_count;

#endif
