/* Words that other texts use where this language has its own. A saying is met in a clause that does not fit,
 * and is said only where the clause then does. */
#ifndef PRILL_MODEL_SAYING_H
#define PRILL_MODEL_SAYING_H

#include "compiler/model/form.h"

/* `written`: tokens, with blanks between them, and a `|` between several ways of writing it; `^` is the
 * statement's beginning, `#` a number or a percentage, `_` a word, `?` one such as `about`, and `...` all up
 * to the next of the tokens or, at the end, to the end of the clause. In what goes in their place the same
 * marks are what they stood for, `$` is the season's last day, and what begins with `!` is for a plan in
 * metric units alone. */
struct saying {
    enum block_kind block; /* where it is said, a task's as an application's; BLOCK_NONE: anywhere */
    const char *written;
    const char *instead;
    const char *other; /* NULL where one thing alone can be meant */
    const char *lacks; /* what is said of the words that were written, where what goes in their place has more
                          than they said: then it is a question, and no fix; NULL otherwise */
};

extern const struct saying sayings[];
extern const size_t saying_count;

#endif
