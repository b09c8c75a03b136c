/* Calls of the library on two compilations: plans beside each other, a plan beside itself with a day
 * supposed. */
#include "compiler/compilation.h"

#include "compiler/model/include.h"
#include "compiler/result/season_diff_json.h"
#include "compiler/result/season_diff_text.h"

#include <string.h>

struct pair {
    struct prill_compilation *other;
    struct request request;
};

/* Both have their arenas; the way out is the one of the call. */
static void print_comparison(struct prill_compilation *compilation, void *task)
{
    struct pair *pair = task;
    struct request *request = &pair->request;
    pair->other->arena.exhausted = compilation->arena.exhausted;
    request->out.arena = &compilation->arena;
    request->done = true;
    const struct replacement *replacement = sources_replacement(compilation->sources);
    if (strcmp(request->form, "text") == 0)
        compare_text_print(&request->out, pair->other->season, compilation->season, replacement);
    else if (strcmp(request->form, "json") == 0)
        compare_json_print(&request->out, pair->other->season, compilation->season, replacement);
    else
        request->done = false;
    if (!request->done)
        compilation_refuse(compilation, PRILL_BAD_CALL, "a comparison has the forms text and json");
}

static bool usable(const struct prill_compilation *compilation)
{
    return compilation->season && compilation->reports.errors == 0 && compilation->plan_status == PRILL_FINE;
}

const char *prill_compare(struct prill_compilation *old, struct prill_compilation *new, const char *form,
                          size_t *length)
{
    struct pair pair = {.other = old, .request = {.form = form}};
    if (!usable(old) || !usable(new) || !compilation_attempt(new, print_comparison, &pair))
        pair.request.done = false;
    return request_answer(&pair.request, length);
}

enum prill_status prill_compile_late(const struct prill_compilation *compilation, const char *what,
                                     const char *date, struct prill_compilation **late)
{
    struct text text = {(const char *)compilation->plan->bytes, compilation->plan->length};
    return compilation_make((struct input){.path = compilation->path,
                                           .use = compilation->use,
                                           .text = text,
                                           .in_memory = true,
                                           .sealed = compilation->sealed,
                                           .late = what,
                                           .late_day = date},
                            late);
}

static void print_late(struct prill_compilation *late, void *task)
{
    struct pair *pair = task;
    struct request *request = &pair->request;
    pair->other->arena.exhausted = late->arena.exhausted;
    request->out.arena = &late->arena;
    request->done = true;
    if (late->reports.errors)
        late_refusal_print(&request->out, late->season, &late->reports);
    else
        late_text_print(&request->out, pair->other->season, &pair->other->reports, late->season,
                        &late->reports);
}

const char *prill_late(struct prill_compilation *compilation, struct prill_compilation *late, size_t *length)
{
    struct pair pair = {.other = compilation};
    bool sound = late->season && late->season->model->supposed && late->plan_status != PRILL_BAD_CALL;
    if (!usable(compilation) || !sound || !compilation_attempt(late, print_late, &pair))
        pair.request.done = false;
    return request_answer(&pair.request, length);
}
