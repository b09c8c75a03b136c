/* The pipeline, and the one place that catches the end of memory.
 *
 * Every call that takes memory runs inside `compilation_attempt`, so that the arena has a living frame to
 * jump to. */
#include "compiler/compilation.h"

#include "compiler/check/check.h"
#include "compiler/check/slip.h"
#include "compiler/model/include.h"
#include "compiler/model/layout.h"
#include "compiler/model/suppose.h"
#include "compiler/form/report_json.h"
#include "compiler/form/report_sarif.h"
#include "compiler/form/report_text.h"
#include "compiler/result/result.h"
#include "compiler/solve/solve.h"

#include <stdlib.h>
#include <string.h>

/* ---- the end of memory ---- */

bool compilation_attempt(struct prill_compilation *compilation, step *run, void *task)
{
    jmp_buf exhausted;
    if (compilation->plan_status == PRILL_SYSTEM_FAILED)
        return false;
    compilation->arena.exhausted = &exhausted;
    if (setjmp(exhausted)) {
        compilation->status = compilation->plan_status = PRILL_SYSTEM_FAILED;
        compilation->reason = "there is not enough memory";
        return false;
    }
    compilation->status = compilation->plan_status;
    compilation->reason = "";
    run(compilation, task);
    return true;
}

void compilation_refuse(struct prill_compilation *compilation, enum prill_status status, const char *reason)
{
    compilation->status = status;
    compilation->reason = reason;
}

/* ---- compiling ---- */

/* A record keeps its day, and there may be no such time. */
static const char *nothing_supposed(struct prill_compilation *compilation, const char *late)
{
    const struct season *season = compilation->season;
    const struct supposition *supposed = season->model->supposed;
    uint32_t index = supposed->treatment->index;
    uint32_t times = season->first_of[index + 1] - season->first_of[index];
    if (supposed->time <= (int)times)
        return text_format(&compilation->arena, "nothing called %s is still to come", late);
    return text_format(&compilation->arena, "%s comes %u time%s, so it has no time %d",
                       name_string(supposed->treatment->symbol.name), times, times == 1 ? "" : "s",
                       supposed->time);
}

static void build_late(struct prill_compilation *compilation, struct model *model, const struct input *input)
{
    const char *why = model_suppose(model, input->late, input->late_day);
    if (why) {
        compilation_refuse(compilation, PRILL_BAD_CALL, why);
        return;
    }
    compilation->season = solve_season(model);
    checks_run(compilation->season);
    if (!compilation->season->supposed)
        compilation_refuse(compilation, PRILL_BAD_CALL, nothing_supposed(compilation, input->late));
}

static void build(struct prill_compilation *compilation, const struct input *input)
{
    struct model *model = model_build(&compilation->arena, &compilation->names, &compilation->reports,
                                      compilation->sources, compilation->plan);
    if (input->late) {
        build_late(compilation, model, input);
        return;
    }
    compilation->season = solve_season(model);
    checks_run(compilation->season);
}

static void parse(struct prill_compilation *compilation)
{
    struct tree tree;
    parse_source(compilation->plan, &compilation->arena, &compilation->reports, &tree);
}

static void read_plan(struct prill_compilation *compilation, const struct input *input)
{
    const char *reason = "";
    compilation->sources = sources_new(&compilation->arena);
    if (input->use)
        sources_replace(compilation->sources, input->use);
    if (input->in_memory && input->text.length > SOURCE_LIMIT)
        reason = "the text is too large";
    else if (input->in_memory)
        compilation->plan = sources_add_text(compilation->sources, input->path, input->text, input->sealed);
    else
        sources_open_plan(compilation->sources, input->path, input->stdin_name, &compilation->plan, &reason);
    if (!compilation->plan)
        compilation_refuse(compilation, PRILL_SYSTEM_FAILED, reason);
}

static void compile(struct prill_compilation *compilation, void *task)
{
    const struct input *input = task;
    names_init(&compilation->names, &compilation->arena);
    reports_init(&compilation->reports, &compilation->arena);
    read_plan(compilation, input);
    if (!compilation->plan)
        return;
    compilation->path = compilation->plan->path;
    compilation->sealed = input->sealed;
    compilation->use = input->use ? text_string(&compilation->arena, text_of(input->use)) : NULL;
    if (input->parse_only)
        parse(compilation);
    else
        build(compilation, input);
    reports_sort(&compilation->reports);
    if (compilation->reports.errors && compilation->status == PRILL_FINE)
        compilation->status = PRILL_PLAN_HAS_ERRORS;
    const char *lack = sources_replace_lack(compilation->sources);
    if (lack)
        compilation_refuse(compilation, PRILL_BAD_CALL, lack);
}

enum prill_status compilation_make(struct input input, struct prill_compilation **compilation)
{
    *compilation = calloc(1, sizeof **compilation);
    if (!*compilation)
        return PRILL_SYSTEM_FAILED;
    arena_init(&(*compilation)->arena, NULL);
    if (compilation_attempt(*compilation, compile, &input))
        (*compilation)->plan_status = (*compilation)->status;
    return (*compilation)->status;
}

enum prill_status prill_compile_file(const char *path, const char *stdin_name,
                                     struct prill_compilation **compilation)
{
    return prill_compile_file_using(path, stdin_name, NULL, compilation);
}

enum prill_status prill_compile_file_using(const char *path, const char *stdin_name, const char *use,
                                           struct prill_compilation **compilation)
{
    return compilation_make((struct input){.path = path, .stdin_name = stdin_name, .use = use}, compilation);
}

enum prill_status prill_parse_file(const char *path, const char *stdin_name,
                                   struct prill_compilation **compilation)
{
    return compilation_make((struct input){.path = path, .stdin_name = stdin_name, .parse_only = true},
                            compilation);
}

enum prill_status prill_compile_text(const char *path, const char *text, size_t length, bool sealed,
                                     struct prill_compilation **compilation)
{
    return compilation_make(
        (struct input){.path = path, .text = {text, length}, .in_memory = true, .sealed = sealed},
        compilation);
}

void prill_free(struct prill_compilation *compilation)
{
    if (compilation)
        arena_free(&compilation->arena);
    free(compilation);
}

/* ---- what is known of it ---- */

enum prill_status prill_status(const struct prill_compilation *compilation)
{
    return compilation->status;
}

const char *prill_reason(const struct prill_compilation *compilation)
{
    return compilation->reason;
}

size_t prill_error_count(const struct prill_compilation *compilation)
{
    return compilation->reports.errors;
}

size_t prill_warning_count(const struct prill_compilation *compilation)
{
    return compilation->reports.warnings;
}

size_t prill_note_count(const struct prill_compilation *compilation)
{
    return compilation->reports.notes;
}

const char *prill_text(const struct prill_compilation *compilation, size_t *length)
{
    *length = compilation->plan ? compilation->plan->length : 0;
    return compilation->plan ? (const char *)compilation->plan->bytes : NULL;
}

/* A file that another stands in for, and what that one uses, are the plan's all the same: it is compiled once
 * more without the replacement. */
bool prill_reads_file(const struct prill_compilation *compilation, const char *path)
{
    if (compilation->sources && sources_holds_file(compilation->sources, path))
        return true;
    if (!compilation->use || !compilation->plan)
        return false;
    struct prill_compilation *own;
    compilation_make(
        (struct input){.path = compilation->path,
                       .text = {(const char *)compilation->plan->bytes, compilation->plan->length},
                       .in_memory = true,
                       .sealed = compilation->sealed},
        &own);
    bool reads = !own || !own->sources || sources_holds_file(own->sources, path);
    prill_free(own);
    return reads;
}

const char *prill_version(void)
{
    return PRILL_VERSION;
}

/* ---- what comes out ---- */

const char *request_answer(struct request *request, size_t *length)
{
    *length = request->done ? request->out.length : 0;
    return request->done ? buffer_string(&request->out) : NULL;
}

static void print_reports(struct prill_compilation *compilation, void *task)
{
    struct request *request = task;
    request->out.arena = &compilation->arena;
    request->done = true;
    if (strcmp(request->form, "text") == 0)
        reports_text_print(&request->out, request->reports, request->colour);
    else if (strcmp(request->form, "json") == 0)
        reports_json_print(&request->out, request->reports);
    else if (strcmp(request->form, "sarif") == 0)
        reports_sarif_print(&request->out, request->reports, PRILL_VERSION);
    else
        request->done = false;
    if (!request->done)
        compilation_refuse(compilation, PRILL_BAD_CALL, "reports have the forms text, json and sarif");
}

const char *prill_reports(struct prill_compilation *compilation, const char *form, bool colour,
                          size_t *length)
{
    struct request request = {.form = form, .colour = colour, .reports = &compilation->reports};
    compilation_attempt(compilation, print_reports, &request);
    return request_answer(&request, length);
}

struct gathering {
    struct prill_compilation *const *compilations;
    size_t count;
    struct reports reports;
};

static void gather(struct prill_compilation *compilation, void *task)
{
    struct gathering *gathering = task;
    reports_init(&gathering->reports, &compilation->arena);
    for (size_t i = 0; i < gathering->count; i++) {
        const struct reports *reports = &gathering->compilations[i]->reports;
        for (size_t j = 0; j < reports->all.count; j++)
            VECTOR_PUSH(&compilation->arena, &gathering->reports.all, reports->all.items[j]);
        gathering->reports.errors += reports->errors;
        gathering->reports.warnings += reports->warnings;
        gathering->reports.notes += reports->notes;
        gathering->reports.allowed += reports->allowed;
        gathering->reports.flooded = gathering->reports.flooded || reports->flooded;
    }
}

const char *prill_reports_of(struct prill_compilation *const *compilations, size_t count, const char *form,
                             bool colour, size_t *length)
{
    struct gathering gathering = {.compilations = compilations, .count = count};
    struct request request = {.form = form, .colour = colour, .reports = &gathering.reports};
    if (compilation_attempt(compilations[0], gather, &gathering))
        compilation_attempt(compilations[0], print_reports, &request);
    return request_answer(&request, length);
}

/* From a tree of its own: reading a plan may move statements to where they were meant to stand. */
static void print_format(struct prill_compilation *compilation, void *task)
{
    struct request *request = task;
    struct reports reports;
    struct tree tree;
    request->out.arena = &compilation->arena;
    reports_init(&reports, &compilation->arena);
    parse_source(compilation->plan, &compilation->arena, &reports, &tree);
    if (!tree.sound)
        return;
    request->done = format_tree(&tree, &plan_layout, &request->out);
    if (!request->done)
        compilation_refuse(compilation, PRILL_SYSTEM_FAILED,
                           "the new layout would not keep the text: a fault of prill; nothing is changed");
}

const char *prill_format(struct prill_compilation *compilation, size_t *length)
{
    struct request request = {0};
    if (!compilation_attempt(compilation, print_format, &request))
        request.done = false;
    return request_answer(&request, length);
}

/* ---- results ---- */

const char *prill_result_name(size_t index)
{
    for (const struct result *result = results; result->name; result++)
        if (index-- == 0)
            return result->name;
    return NULL;
}

const char *prill_result_form(const char *result, size_t index)
{
    const struct result *found = result_find(result);
    return found ? result_form(found, index) : NULL;
}

static void print_result(struct prill_compilation *compilation, void *task)
{
    struct request *request = task;
    struct arena *arena = &compilation->arena;
    const struct season *season = compilation->season;
    const struct result *result = result_find(request->name);
    const char *form = NULL, *refusal = NULL;
    for (size_t i = 0; result && (form = result_form(result, i)) && strcmp(form, request->form) != 0;)
        i++;
    request->out.arena = arena;
    if (!form || !season)
        refusal = text_format(arena, "there is no %s as %s", request->name, request->form);
    /* A file of products or knowledge: an empty calendar would clear the one that somebody subscribed to. */
    else if (result->ics && !season->model->has_season && compilation->reports.errors == 0)
        refusal = text_format(arena, "%s states no season, so there is nothing to date", compilation->path);
    else if (compilation->reports.errors == 0) {
        struct result_input input = {.season = season,
                                     .reports = &compilation->reports,
                                     .subject = request->subject ? request->subject : "",
                                     .look = compilation->look,
                                     .earlier = compilation->earlier,
                                     .stamp = compilation->stamp};
        if (result->slips)
            slips_find(compilation->season);
        request->done = result_print(&request->out, result, form, &input);
        if (!request->done)
            refusal = text_format(arena, "nothing in the plan or the library is called %s", input.subject);
    }
    if (refusal)
        compilation_refuse(compilation, PRILL_BAD_CALL, refusal);
}

const char *prill_result(struct prill_compilation *compilation, const char *result, const char *form,
                         const char *subject, size_t *length)
{
    struct request request = {.name = result, .form = form, .subject = subject};
    if (!compilation_attempt(compilation, print_result, &request))
        request.done = false;
    return request_answer(&request, length);
}
