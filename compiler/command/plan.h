/* Plans named on the command line. */
#ifndef PRILL_COMMAND_PLAN_H
#define PRILL_COMMAND_PLAN_H

#include "compiler/command/command.h"

/* As messages call a plan. */
const char *plan_name(const char *path);

/* What the call says to every command that reads a plan: --use and --stdin-name. */
struct prill_options plan_options(const struct call *call);

/* The plan's status, and the compilation, to be freed: in the memory of `*compilation`, which nobody looks at
 * any more, where it is not NULL. Says nothing: several threads may call it at once. */
enum prill_status plan_try(const char *path, const struct prill_options *options,
                           struct prill_compilation **compilation);

/* What kept a plan from being read, or an option from fitting, on standard error. */
void plan_complain(const char *path, const struct prill_options *options,
                   const struct prill_compilation *compilation);

/* The plan's status; what keeps it from being read, or an option from fitting, is said on standard error. So
 * are the reports of a plan with errors, unless a day is only supposed: prill_late speaks of those. */
enum prill_status plan_compile(const struct call *call, const char *path, const struct prill_options *options,
                               struct prill_compilation **compilation);

/* The form that --as names, or else the ending of the file to write; "text" without either. NULL after a
 * message, where the ending is none of the command's forms. */
const char *plan_form(const struct call *call);

struct wanted {
    const char *form;
    const char *subject; /* NULL without */
    const char *output;  /* a file; NULL and "-": standard output */
    bool reports;        /* on standard error even where there are only warnings and notes */
};

/* Compiles the plan of the first operand and gives the result named like the command. A plan with errors
 * gives its reports instead. */
enum prill_status plan_result(const struct call *call, const struct prill_options *options,
                              const struct wanted *wanted);

/* Writes to `output`, as wanted->output, but never over a part of the plan. */
enum prill_status plan_deliver(const struct prill_compilation *compilation, const char *output,
                               const char *text, size_t length);

/* The reports of one compilation on standard error. */
void plan_reports(const struct call *call, struct prill_compilation *compilation);

/* Tells about a rule on standard output; says so when there is none of that name. */
enum prill_status rule_print(const char *name);

/* Prints what the library has under a name to standard output; false, and nothing printed, without any. */
bool library_print(const char *name, enum prill_status *status);

/* Whether standard input is named once at most; says so otherwise. */
bool plans_fit(const struct call *call);

#endif
