/* The readers: what each form of statement.def does to the model. One declaration for each row. */
#ifndef PRILL_MODEL_READ_H
#define PRILL_MODEL_READ_H

#include "compiler/model/model.h"
#include "compiler/model/symbol.h"

#define FORM(block, pattern, opens, times, reader, meaning, example)                                         \
    void read_##reader(struct model *model, const struct clause *clause, void *subject);
#include "compiler/model/statement.def"
#undef FORM

/* Bodies are read after every name is declared, in this order, so that statements may stand in any. */
enum phase {
    PHASE_KNOWLEDGE,
    PHASE_GROUND,
    PHASE_PRODUCT,
    PHASE_RULES,
    PHASE_TREATMENT,
    PHASE_RECORD,
    PHASE_COUNT
};

struct pending {
    enum phase phase;
    const struct clause *clause;
    struct symbol *subject;
    void (*finish)(struct model *model, const struct clause *clause,
                   struct symbol *subject); /* may be NULL */
    bool read;
};

/* Units that one word spells, as found before: a plan has few of them, and each many times. */
struct unit_memo {
    struct text word;
    const struct unit *unit; /* NULL: nothing is kept here */
};
enum { UNIT_MEMOS = 64 };

struct building {
    const struct tree *tree; /* being read now */
    bool library;
    bool faulty;      /* the clause being read has a mistake: what it declares is broken from the start */
    bool season_lost; /* the `season` statement could not be read */
    uint32_t *listed; /* by a zone's index: the last list of zones it was put in */
    size_t listed_count;
    bool *written; /* by a name's id: it is among the model's written_names */
    size_t written_count;
    uint32_t list;                    /* the list being made, from 1 */
    const struct treatment *repeated; /* the last treatment with an `every`, */
    struct place repeated_at;         /* and that statement */
    const struct record *using;       /* the last record that named a product it used, */
    struct product *used;             /* and the product; NULL where it is unknown */
    struct unit_memo units[UNIT_MEMOS];
    VECTOR(struct pending) pending;
    int phase;          /* whose bodies are being read; -1 before, PHASE_COUNT after */
    bool *library_read; /* by the library's file */
};

/* Reads a file of the library, once; its bodies too, as far as their phase has come. */
void library_read(struct model *model, size_t file);

/* Gives back to the plan the statements that a missing } has drawn into a block where they cannot stand. */
void tree_mend(struct model *model, const struct tree *tree);

/* A new object of `size` bytes that begins with its symbol; named by the clause's slot `name` unless that is
 * NULL. */
void *symbol_new(struct model *model, const struct clause *clause, const char *slot, size_t size);

/* Reads the clause's block into the subject in its phase, then calls `finish`. */
void body_later(struct model *model, const struct clause *clause, struct symbol *subject, enum phase phase,
                void (*finish)(struct model *model, const struct clause *clause, struct symbol *subject));

/* The day a value means; a day without a year is the season's. False after a report. */
bool day_of_value(struct model *model, const struct value *value, day_number *day);

/* A time as whole days, or as calendar months: parts of a day are rounded up, so that a wait is never too
 * short; with `at_most` they are dropped, so that a bound is never too late. */
struct duration duration_of_time(const struct value *value, bool at_most);

/* A nutrient's symbol means the nutrient, any other word a kind of product or task. Lime is a kind, since a
 * liming material may state no neutralizing value. */
struct treatment_class treatment_class_of(const struct value *name);
/* The same where no day is known that months could count from: a month is 31 days. */
int days_of_time(const struct value *value);

const char *string_of(struct model *model, const struct value *value);

/* The zones that names of zones and lawns stand for, each once. False after a report. */
struct zone_list {
    const struct zone **items;
    size_t count, capacity;
};
bool zones_of(struct model *model, const struct value *names, struct zone_list *zones);

#endif
