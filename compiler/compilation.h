/* Inside libprill: one compilation, and how a call of the library is run on it. */
#ifndef PRILL_COMPILATION_H
#define PRILL_COMPILATION_H

#include "compiler/result/agenda.h"
#include "compiler/result/earlier_edition.h"
#include "compiler/prill.h"

struct prill_compilation {
    struct arena arena;
    enum prill_status plan_status; /* how compiling ended */
    enum prill_status status;
    const char *reason;
    struct names names;
    struct reports reports;
    struct sources *sources;
    struct source *plan;           /* NULL when it could not be read */
    struct season *season;         /* NULL where only parsed */
    const int64_t *stamp;          /* NULL: the edition's day counts */
    const struct look *look;       /* NULL: nothing depends on a day */
    const struct earlier *earlier; /* NULL: no edition before is known */
    const char *path;              /* of the plan, as sources_add_text takes it */
    bool sealed;
    const char *use; /* as in struct input */
};

typedef void step(struct prill_compilation *compilation, void *task);

/* Runs a step that takes memory, so that the arena has a living frame to jump to. False when memory ran out;
 * nothing of the compilation but its reason may then be used. */
bool compilation_attempt(struct prill_compilation *compilation, step *run, void *task);

void compilation_refuse(struct prill_compilation *compilation, enum prill_status status, const char *reason);

struct input {
    const char *path, *stdin_name;
    const char *use;  /* another file in place of one; NULL without */
    struct text text; /* where `in_memory` */
    bool in_memory, sealed, parse_only;
    const char *late, *late_day; /* a treatment taken to fall on a day; NULL without */
};

enum prill_status compilation_make(struct input input, struct prill_compilation **compilation);

/* One thing asked for. */
struct request {
    const char *name, *form, *subject;
    bool colour;
    const struct reports *reports;
    struct buffer out;
    bool done;
};

/* What a call returns. */
const char *request_answer(struct request *request, size_t *length);

#endif
