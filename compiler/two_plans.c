/* Calls of the library on two compilations: plans beside each other, a plan beside itself with a day
 * supposed. */
#include "compiler/compilation.h"

#include "compiler/model/include.h"
#include "compiler/form/page_text.h"
#include "compiler/result/result.h"

struct beside {
    struct prill_compilation *other;
    struct request request;
};

/* Both have their arenas; the way out is the one of the call, and the work of both begins anew with it. */
static void both_ready(struct prill_compilation *other, struct prill_compilation *compilation)
{
    other->arena.exhausted = compilation->arena.exhausted;
    other->arena.steps = 0;
    compilation_ready(other, false);
    compilation_ready(compilation, false);
}

static void print_comparison(struct prill_compilation *compilation, void *task)
{
    struct beside *beside = task;
    struct request *request = &beside->request;
    both_ready(beside->other, compilation);
    request->out.arena = &compilation->arena;
    struct result_input input = {.season = compilation->season,
                                 .reports = &compilation->reports,
                                 .before = beside->other->season,
                                 .before_reports = &beside->other->reports,
                                 .replacement = sources_replacement(compilation->sources)};
    request->done =
        request->form && result_print(&request->out, result_find("compare"), request->form, &input);
    if (!request->done)
        compilation_refuse(compilation, PRILL_BAD_CALL, NULL, "a comparison has no such form");
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

/* In the arena of the plan that is late: what it holds ends with it, the other plan stays as it was. */
static void print_late(struct prill_compilation *late, void *task)
{
    struct beside *beside = task;
    struct request *request = &beside->request;
    both_ready(beside->other, late);
    request->out.arena = &late->arena;
    struct page page = {.arena = &late->arena};
    const struct result_input input = {.season = late->season,
                                       .reports = &late->reports,
                                       .before = beside->other->season,
                                       .before_reports = &beside->other->reports};
    (late->reports.errors ? late_refusal_page : late_page)(&page, &input);
    page_text_print(&request->out, &page);
    request->done = true;
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
