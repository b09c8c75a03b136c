#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"
#include "compiler/command/progress.h"

#include <stdlib.h>
#include <unistd.h>

/* The plans that could be read, until their reports are printed together. */
struct plans {
    struct prill_compilation **items;
    size_t count;
};

/* ---- compiling, one thread to a processor ---- */

struct work {
    const struct call *call;
    struct prill_compilation **compilations; /* by operand */
    enum prill_status *statuses;
    atomic_int next; /* operand */
    struct progress progress;
};

/* Takes the next plan until none is left. */
static void *compile_plans(void *given)
{
    struct work *work = given;
    struct prill_options options = plan_options(work->call);
    for (int i; (i = atomic_fetch_add(&work->next, 1)) < work->call->operand_count;) {
        work->statuses[i] = plan_try(work->call->operands[i], &options, &work->compilations[i]);
        atomic_fetch_add(&work->progress.done, 1);
    }
    return NULL;
}

enum { THREADS = 64 }; /* at most */

/* This thread takes its part; those that the system refuses are missed by nobody. */
static void compile_all(struct work *work)
{
    pthread_t threads[THREADS];
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    int wanted = work->call->operand_count < THREADS ? work->call->operand_count : THREADS, begun = 0;
    progress_begin(&work->progress, work->call->operand_count, "files");
    while (begun + 1 < wanted && begun + 1 < processors &&
           pthread_create(&threads[begun], NULL, compile_plans, work) == 0)
        begun++;
    compile_plans(work);
    while (begun > 0)
        pthread_join(threads[--begun], NULL);
    progress_end(&work->progress);
}

/* ---- reports ---- */

/* What kept a plan from being read is said in the order of the files, too. */
static enum prill_status add_plan(struct work *work, struct plans *plans, int operand)
{
    struct prill_compilation *compilation = work->compilations[operand];
    struct prill_options options = plan_options(work->call);
    enum prill_status status = work->statuses[operand];
    if (status == PRILL_SYSTEM_FAILED || status == PRILL_BAD_CALL) {
        plan_complain(work->call->operands[operand], &options, compilation);
        prill_free(compilation);
        return status;
    }
    plans->items[plans->count++] = compilation;
    if (work->call->values[OPTION_WARNINGS] && prill_count(compilation, PRILL_WARNING) > 0)
        status = status_worst(status, PRILL_PLAN_HAS_ERRORS);
    return status;
}

static enum prill_status print_reports(const struct call *call, const struct plans *plans)
{
    size_t length;
    const char *form = call->values[OPTION_AS] ? call->values[OPTION_AS] : "text";
    bool colour = output_coloured(STDOUT_FILENO, call->values[OPTION_COLOR]);
    if (plans->count == 0)
        return PRILL_FINE;
    const char *reports = prill_reports(plans->items, plans->count, form, colour, &length);
    if (reports)
        return output_print(reports, length);
    message_print("%s", prill_reason(plans->items[0]));
    return prill_status(plans->items[0]);
}

/* The reports of all plans are printed as one document, once each is read; those that could not be read have
 * said so.
 */
enum prill_status command_check(const struct call *call)
{
    if (!plans_fit(call))
        return PRILL_BAD_CALL;
    size_t count = (size_t)call->operand_count;
    struct plans plans = {.items = calloc(count, sizeof *plans.items)};
    struct work work = {.call = call,
                        .compilations = calloc(count, sizeof *work.compilations),
                        .statuses = calloc(count, sizeof *work.statuses)};
    enum prill_status status = PRILL_FINE;
    if (plans.items && work.compilations && work.statuses) {
        compile_all(&work);
        for (int i = 0; i < call->operand_count; i++)
            status = status_worst(status, add_plan(&work, &plans, i));
        status = status_worst(status, print_reports(call, &plans));
    } else {
        message_print("there is not enough memory");
        status = PRILL_SYSTEM_FAILED;
    }
    for (size_t i = 0; i < plans.count; i++)
        prill_free(plans.items[i]);
    free(plans.items);
    free(work.compilations);
    free(work.statuses);
    return status;
}
