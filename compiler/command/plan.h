/* Plans named on the command line. */
#ifndef PRILL_COMMAND_PLAN_H
#define PRILL_COMMAND_PLAN_H

#include "compiler/command/command.h"

/* As messages call a plan. */
const char *plan_name(const char *path);

/* The plan's status; what keeps it from being read, or --use from fitting, is said on standard error. NULL in
 * *compilation when memory ran out at once. */
enum prill_status plan_compile(const struct call *call, const char *path,
                               struct prill_compilation **compilation);

/* The same with `use` in place of --use; NULL without. */
enum prill_status plan_compile_using(const struct call *call, const char *path, const char *use,
                                     struct prill_compilation **compilation);

/* The form that --as names, or else the ending of the file to write; "text" without either. NULL after a
 * message, where the ending is none of the command's forms. */
const char *plan_form(const struct call *call);

struct wanted {
    const char *form;
    const char *subject; /* NULL without */
    const char *output;  /* a file; NULL and "-": standard output */
    bool reports;        /* on standard error even where there are only warnings and notes */
    const char *day;     /* to tell of what is due; NULL without */
    const char *since;   /* a file, the calendar of an edition before; NULL without */
};

/* Compiles the plan and gives the result named like the command. A plan with errors gives its reports
 * instead. */
enum prill_status plan_result(const struct call *call, const char *path, const struct wanted *wanted);

/* Writes to `output`, as wanted->output, but never over a part of the plan. */
enum prill_status plan_deliver(const struct prill_compilation *compilation, const char *output,
                               const char *text, size_t length);

/* The reports of one compilation on standard error. */
void plan_reports(const struct call *call, struct prill_compilation *compilation);

/* Tells about a rule on standard output; says so when there is none of that name. */
enum prill_status rule_print(const char *name);

/* Whether standard input is named once at most; says so otherwise. */
bool plans_fit(const struct call *call);

#endif
