/* Inside libprill: one compilation, and how a call of the library is run on it. */
#ifndef PRILL_COMPILATION_H
#define PRILL_COMPILATION_H

#include "compiler/result/agenda.h"
#include "compiler/result/earlier_edition.h"
#include "compiler/prill.h"

struct prill_compilation {
    struct arena arena;
    bool compiled;                 /* to the end, with errors or without */
    bool over;                     /* memory ended, or the plan could not be read: nothing can be run on it */
    enum prill_status plan_status; /* how compiling ended, and what was said of it */
    const char *plan_reason;
    enum prill_status status; /* of the newest call */
    const char *reason;
    const char *option;           /* as prill_option */
    struct prill_options options; /* as given; strings are copies, but the text: that is the plan's */
    struct names names;
    struct reports reports;
    struct sources *sources;
    struct model *model;           /* NULL until it is read */
    struct source *plan;           /* NULL when it could not be read */
    struct season *season;         /* NULL where only parsed */
    const int64_t *stamp;          /* NULL: the edition's day counts */
    const struct look *look;       /* NULL: nothing depends on a day */
    const struct earlier *earlier; /* NULL: no edition before is known */
    const char *path;              /* of the plan, as reports print it */
    struct prill_report *listed; /* the reports as prill_report_after shows them; NULL before it is called */
};

/* prill_compile, in the memory of a compilation that nobody looks at any more; `*compilation` may be NULL,
 * and may be another one afterwards. The result is the same; what is at `path` may be read twice. */
enum prill_status compilation_again(const char *path, const struct prill_options *options,
                                    struct prill_compilation **compilation);

/* What only results need: of the library (model_read_for_results), and how figures may be rounded. A step of
 * its own, before the first of them. */
void compilation_ready(struct prill_compilation *compilation, bool scales);

typedef void step(struct prill_compilation *compilation, void *task);

/* Runs a step that takes memory, so that the arena has a living frame to jump to. False when memory ran out,
 * now or before, or `compilation` is NULL. */
bool compilation_attempt(struct prill_compilation *compilation, step *run, void *task);

/* `option`: the member of struct prill_options that is refused; NULL where it is none of them. */
void compilation_refuse(struct prill_compilation *compilation, enum prill_status status, const char *option,
                        const char *reason);

/* Whether there can be results: the plan was read, has no errors, and the options fit. */
bool compilation_usable(const struct prill_compilation *compilation);

/* Whether this library knows options of that size; `given` may have fewer members than it knows. */
bool options_fit(const struct prill_options *given);

/* False, with the reason, where a member's value cannot be; `given` may have fewer members than this library
 * knows. Copies what is to live on. */
bool options_take(struct prill_compilation *compilation, const struct prill_options *given);

/* Where the strings are that the options hold, but the text. */
enum { OPTION_STRINGS = 6 };
void options_strings(struct prill_options *options, const char **strings[OPTION_STRINGS]);

/* What the options add to a plan that is read and dated: stamp, day, earlier edition. */
void options_apply(struct prill_compilation *compilation);

/* One thing asked for. */
struct request {
    const char *name, *form, *subject;
    bool colour;
    struct buffer out;
    bool done;
};

/* What a call returns; `length` may be NULL. */
const char *request_answer(struct request *request, size_t *length);

#endif
