/* Entries of the plan, or of files it uses, that count in place of the library's of that kind and name. */
#ifndef PRILL_MODEL_REPLACED_H
#define PRILL_MODEL_REPLACED_H

#include "compiler/model/model.h"

struct replaced_entry {
    const char *word; /* "limits", "scale" */
    const struct symbol *symbol;
    bool in_part; /* `usual`: what it does not state stays as the library has it */
};

struct replaced_list {
    struct replaced_entry *items;
    size_t count, capacity;
};

/* Those that the plan goes by: sets of limits that bind it, entries that something refers to, cautions. None
 * of a file without a season: nothing is dated by it. In the model's arena. */
struct replaced_list model_replaced(const struct model *model);

#endif
