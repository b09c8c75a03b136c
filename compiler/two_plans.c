/* Calls of the library on two compilations: plans beside each other, a plan beside itself with a day
 * supposed. */
#include "compiler/compilation.h"

#include "compiler/model/include.h"
#include "compiler/result/season_diff_json.h"
#include "compiler/result/season_diff_text.h"

#include <string.h>

struct beside {
    struct prill_compilation *other;
    struct request request;
};

/* Both have their arenas; the way out is the one of the call. */
static void print_comparison(struct prill_compilation *compilation, void *task)
{
    struct beside *beside = task;
    struct request *request = &beside->request;
    beside->other->arena.exhausted = compilation->arena.exhausted;
    request->out.arena = &compilation->arena;
    request->done = true;
    const struct replacement *replacement = sources_replacement(compilation->sources);
    if (request->form && strcmp(request->form, "text") == 0)
        compare_text_print(&request->out, beside->other->season, compilation->season, replacement);
    else if (request->form && strcmp(request->form, "json") == 0)
        compare_json_print(&request->out, beside->other->season, compilation->season, replacement);
    else
        request->done = false;
    if (!request->done)
        compilation_refuse(compilation, PRILL_BAD_CALL, "a comparison has the forms text and json");
}

const char *prill_compare(struct prill_compilation *earlier, struct prill_compilation *later,
                          const char *form, size_t *length)
{
    struct beside beside = {.other = earlier, .request = {.form = form}};
    if (!compilation_usable(earlier) || !compilation_usable(later) ||
        !compilation_attempt(later, print_comparison, &beside))
        beside.request.done = false;
    return request_answer(&beside.request, length);
}

static void print_late(struct prill_compilation *late, void *task)
{
    struct beside *beside = task;
    struct request *request = &beside->request;
    beside->other->arena.exhausted = late->arena.exhausted;
    request->out.arena = &late->arena;
    request->done = true;
    if (late->reports.errors)
        late_refusal_print(&request->out, late->season, &late->reports);
    else
        late_text_print(&request->out, beside->other->season, &beside->other->reports, late->season,
                        &late->reports);
}

const char *prill_late(struct prill_compilation *compilation, struct prill_compilation *late, size_t *length)
{
    struct beside beside = {.other = compilation};
    bool supposed =
        late && late->season && late->season->model->supposed && late->plan_status != PRILL_BAD_CALL;
    if (!compilation_usable(compilation) || !supposed || !compilation_attempt(late, print_late, &beside))
        beside.request.done = false;
    return request_answer(&beside.request, length);
}
