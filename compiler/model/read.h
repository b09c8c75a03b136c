/* The readers: what each form of statement.def does to the model. */
#ifndef PRILL_MODEL_READ_H
#define PRILL_MODEL_READ_H

#include "compiler/model/model.h"
#include "compiler/model/symbol.h"

#define FORM(block, pattern, opens, times, reader, meaning, example)                                         \
    void read_##reader(const struct stated *stated);
#define AS(block, pattern, opens, times, reader, which, meaning, example)                                    \
    void read_##reader(const struct stated *stated);
#define KEEP(block, pattern, times, type, member, meaning, example)
#define KEEP_AT(block, pattern, times, type, member, place, meaning, example)
#define OTHER(block, pattern, stands, example)
#include "compiler/model/statement.def"
#undef FORM
#undef AS
#undef KEEP
#undef KEEP_AT
#undef OTHER

/* What a reader of several forms is told by `which` where the model has no name for it. */
enum plan_head {
    HEAD_TITLE,
    HEAD_EDITION,
    HEAD_SEASON,
    HEAD_UNITS,
    HEAD_RATES_US,
    HEAD_RATES_METRIC,
    HEAD_REMINDER
};

/* The reader of forms that only keep their first value in a member of the subject. */
void field_keep(const struct stated *stated);

/* Bodies are read after every name is declared, in this order, so that statements may be in any. */
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
    struct symbol *subject;
    const struct tree *tree;
    const struct block *block; /* NULL: it has none */
    struct finishing {
        reader_function *finish;
        struct clause clause;
    } * later;            /* once the body is read; NULL: nothing is left to do */
    uint8_t phase, opens; /* enum phase, enum block_kind */
    bool read;
};

/* Units that one word spells, as found before: a plan has few of them, and each many times. */
struct unit_memo {
    struct text word;
    const struct unit *unit; /* NULL: nothing is kept here */
};
enum { UNIT_MEMOS = 64 };

/* The likely meaning is looked up for as many statements as anyone reads: a text that is not a plan has a
 * mistake in each line. */
enum { MEANT_REPORTS = 200 };

struct building {
    const struct tree *tree; /* being read now */
    bool library;
    bool faulty;         /* the clause being read has a mistake: what it declares is broken from the start */
    bool season_lost;    /* the `season` statement could not be read */
    unsigned complaints; /* of statements that fit no form, up to one more than MEANT_REPORTS */
    enum unit_system ground_system; /* of the plan whose rates are per acre or ha, and where it says so */
    struct place ground_place;
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
    bool *library_read; /* by the library's entry */
};

/* Finds what people do the work with (model->tools). */
void tools_settle(struct model *model);

/* Reads an entry of the library, once; its body too, as far as its phase has come. */
void library_read(struct model *model, size_t entry);

/* Reads all entries of a file, for what is not sought by its name. Whoever states one of the kind has those
 * of the library before his own. */
#define LIBRARY_CAUTIONS "library/cautions.prill"
#define LIBRARY_LIMITS "library/limits-always.prill"
#define LIBRARY_MATERIALS "library/materials.prill"
#define LIBRARY_SAMPLING "library/sampling.prill"
void library_read_file(struct model *model, const char *path);

/* Gives back to the plan the statements that a missing } has drawn into a block where they cannot stand. */
void tree_mend(struct model *model, const struct tree *tree);

/* A new object of `size` bytes that begins with its symbol; named by the value, unless that is NULL. */
void *object_new(const struct stated *stated, const struct value *name, size_t size);

/* Reads the clause's block into the object in its phase, then calls `finish`. */
void body_later(const struct stated *stated, void *object, enum phase phase, reader_function *finish);

/* A new object under the name in slot `name`, its body to be read in the phase. */
void *object_declare(const struct stated *stated, enum symbol_kind kind, size_t size, enum phase phase,
                     reader_function *finish);

/* What the name in the slot stands for; NULL after a report, or where the slot was left out. */
static inline void *slot_symbol(const struct stated *stated, enum symbol_kind kind, const char *slot)
{
    const struct value *value = slot_value(stated, slot);
    return value ? symbol_find(stated->model, kind, value) : NULL;
}

/* The entry of what products or machines of a class usually are; NULL without. */
const struct usual *usual_of(struct model *model, const char *class);

/* Two settings of one dial that contradict each other; the object is broken. */
void report_dial(struct model *model, struct symbol *object, struct place before, struct place place,
                 const char *sentence);

/* The text in the slot; NULL where it was left out. */
const char *slot_string(const struct stated *stated, const char *slot);

/* The source in slot `source`; NULL after a report. */
const struct source_entry *slot_source(const struct stated *stated);

/* What was written in the slot, byte by byte: "8 weeks". */
const char *slot_written(const struct stated *stated, const char *slot);

/* The day a value means; a day without a year is the season's. False after a report. */
bool day_of_value(struct model *model, const struct value *value, day_number *day);

/* The days in two slots of names `first` and `last`, either of which may be left out of the form. False after
 * a report, also where the last comes before the first, or is a leap day a year or more behind it. */
bool days_in(const struct stated *stated, const char *first_slot, day_number *first, const char *last_slot,
             day_number *last);

/* A time as whole days, or as calendar months: parts of a day are rounded up, so that a wait is never too
 * short; with `at_most` they are dropped, so that a bound is never too late. */
struct duration duration_of_time(const struct value *value, bool at_most);

/* A calendar month where nothing says from which day it counts: the longest for what must not be too short,
 * the shortest for what must not be too long. */
enum { MONTH_LONGEST = 31, MONTH_SHORTEST = 28 };
int days_of_time(const struct value *value); /* for a wait: a month is the longest */

/* A nutrient's symbol means the nutrient, any other word a kind of product or task. Lime is a kind, since a
 * liming material may state no neutralizing value. */
struct treatment_class treatment_class_of(const struct value *name);

/* Whether it is above 0 and at most 14; false after a report. */
bool ph_possible(struct model *model, const struct value *ph);

/* The zones that names of zones and lawns stand for, each once. False after a report. */
bool zones_of(struct model *model, const struct value *names, struct zone_list *zones);

/* Products or grasses by their names. False after a report. */
bool products_of(struct model *model, const struct value *names, struct product_list *products);
bool grasses_of(struct model *model, const struct value *names, struct grass_list *grasses);

/* A statement that the block must have and has not, with how it is written; the object is broken. */
void report_lacks(struct model *model, struct place place, struct symbol *object, const char *sentence,
                  const char *example);

/* What a statement states already stands at `before`. */
struct report *report_repeated(struct model *model, struct place place, struct place before,
                               const char *sentence);

/* ---- formulas in library text ---- */

/* The polynomial of a `terms` slot, its terms times `factor`, which is what 1 of them is in SI. False after a
 * report where it has too many. */
bool polynomial_of(struct model *model, const struct value *terms, double factor,
                   struct polynomial *polynomial);

struct level_unit level_unit_of(struct model *model, const struct value *unit);

#endif
