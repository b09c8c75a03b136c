/* Names, and what a plan or the library declares under them. */
#ifndef PRILL_MODEL_SYMBOL_H
#define PRILL_MODEL_SYMBOL_H

#include "compiler/model/date.h"
#include "lexer/source.h"

struct model;
struct value;
struct zone;
struct product;
struct grass;

/* What the names of one statement stand for. */
struct name_list {
    const struct name **items;
    uint32_t count, capacity;
};
struct zone_list {
    const struct zone **items;
    uint32_t count, capacity;
};
struct product_list {
    const struct product **items;
    uint32_t count, capacity;
};
struct grass_list {
    const struct grass **items;
    uint32_t count, capacity;
};

/* What everything that a statement declares has in common: a zone, a product, a limit set. The first member
 * of each, so that a pointer to it is one to the whole. */
struct symbol {
    const struct name *name; /* NULL for what is declared without one: a soil test, the plan's own limits */
    struct place place;      /* of the name where it is declared */
    struct place statement;  /* the whole first line */
    const char *note;        /* NULL without */
    bool library;
    bool replaces;  /* the library has an entry of this kind and name, which does not count */
    bool broken;    /* an error in it was reported: nothing further is concluded from it */
    bool used;      /* something refers to it */
    bool ambiguous; /* a lawn's, that it is a zone's as well was reported */
};

enum symbol_kind {
    SYMBOL_LAWN,
    SYMBOL_ZONE,
    SYMBOL_PRODUCT,
    SYMBOL_MACHINE,
    SYMBOL_SPRINKLER,
    SYMBOL_LIMIT_SET,
    SYMBOL_TREATMENT,
    SYMBOL_GRASS,
    SYMBOL_SCALE,
    SYMBOL_CONVERSION,
    SYMBOL_LIME,
    SYMBOL_SOURCE,
    SYMBOL_CAUTION,
    SYMBOL_USUAL,
    SYMBOL_CORRECT,
    SYMBOL_BLEND,
    SYMBOL_KIND_COUNT
};

struct symbols *symbols_new(struct arena *arena);

/* Enters `symbol` under its name. A second symbol of the kind and name is reported, unless one of the two is
 * the library's: then the plan's own counts, whichever is read first. */
void symbol_declare(struct model *model, enum symbol_kind kind, struct symbol *symbol);

/* An array by the ids of names, long enough for this one; what it is longer is zeroed. */
void *names_reaching(struct arena *arena, void *items, size_t *count, const struct name *name, size_t size);

/* Lists a name as declared in a text that is not read further: short names may stand for it. */
void symbol_foresee(struct model *model, enum symbol_kind kind, const struct name *name);

enum { SHORT_NAME_LIMIT = 8 };

/* The names that a short one may stand for: of a grass without what goes before its last part or without
 * `grass` behind it, in any case of letters. Other kinds have none. */
size_t symbol_short_name(struct model *model, enum symbol_kind kind, struct text wanted,
                         const struct name *names[SHORT_NAME_LIMIT]);

/* The symbol of that name that is read, or NULL without a report. Does not count as use. */
struct symbol *symbol_look(const struct model *model, enum symbol_kind kind, const struct name *name);

/* The same, but an entry of the library that waits for the name is read. */
struct symbol *symbol_seek(struct model *model, enum symbol_kind kind, const struct name *name);

/* The declared name nearest to what was written; of no length where none is near. *certain (NULL: not asked):
 * no other is as near and no digit differs, since `bed-3` is no misspelt `bed-1`. */
struct text symbol_nearest(struct model *model, enum symbol_kind kind, struct text wanted, bool *certain);

/* The symbol a value names, be it by a short name, marked as used; NULL after a report that suggests the
 * nearest name, or in silence for a lost one. */
struct symbol *symbol_find(struct model *model, enum symbol_kind kind, const struct value *value);

/* A name whose declaration could not be read: that it is unknown is not reported. */
void symbol_lose(struct model *model, const struct name *name);

/* A file that could not be read: a name that is unknown and near to none may have been in it. */
void symbol_lose_file(struct model *model);

/* ---- entries of the library that are read when they are sought ---- */

/* Notes the names of all. */
void symbols_await(struct model *model);

/* Reads all entries of the library that declare symbols of the kind. What is noted is not among the model's
 * lists before. */
void symbols_read(struct model *model, enum symbol_kind kind);

#endif
