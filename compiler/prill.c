/* The pipeline, and the one place that catches the end of memory.
 *
 * Every call that takes memory runs inside `compilation_attempt`, so that the arena has a living frame to
 * jump to. */
#include "compiler/compilation.h"

#include "compiler/check/check.h"
#include "compiler/check/slip.h"
#include "compiler/model/include.h"
#include "compiler/model/layout.h"
#include "compiler/model/respell.h"
#include "compiler/model/suppose.h"
#include "compiler/result/result.h"
#include "compiler/solve/solve.h"

#include <stdlib.h>
#include <string.h>

static const char NO_MEMORY[] = "there is not enough memory";

/* ---- the end of memory, and of work ---- */

enum { MANY = 9 };

/* Statements of one kind that the plan's own files hold. */
struct many {
    const char *name;
    size_t count;
    struct place last;
};

/* At the last of what the plan has most of. The report begins anew, since what was being made is half-made; a
 * result is refused with a reason alone. Either may take what it takes. */
static void tell_too_large(struct prill_compilation *compilation, bool result)
{
    struct arena *arena = &compilation->arena;
    struct many many[MANY] = {{.last = {.source = compilation->plan}}};
    bool worked_out = arena_worked_out(arena);
    size_t most = worked_out ? (size_t)(arena->steps_most / 1000000) : arena->most >> 20;
    arena->most = SIZE_MAX;
    arena->steps_most = UINT64_MAX;

    /* What multiplies, the most of it first. */
    const struct model *model = compilation->model;
#define COUNT(at, plural, list, own, where)                                                                  \
    many[at].name = plural;                                                                                  \
    for (size_t i = 0; model && i < model->list.count; i++)                                                  \
        if (!(model->list.items[i]->own)) {                                                                  \
            many[at].count++;                                                                                \
            many[at].last = model->list.items[i]->where;                                                     \
        }
    COUNT(0, "zones", zones, symbol.library, symbol.place)
    COUNT(1, "applications and tasks", treatments, symbol.library, symbol.place)
    COUNT(2, "limits", limits, set->symbol.library, place)
    COUNT(3, "products", products, symbol.library, symbol.place)
    COUNT(4, "soil tests", soil_tests, symbol.library, symbol.place)
    COUNT(5, "records", records, symbol.library, symbol.place)
    COUNT(6, "corrections", corrects, symbol.library, symbol.place)
    COUNT(7, "matches", matches, place.source == NULL, place) /* the library has none */
    COUNT(8, "blends", blends, symbol.library, symbol.place)
#undef COUNT
    for (size_t i = 1; i < MANY; i++)
        for (size_t j = i; j > 0 && many[j].count > many[j - 1].count; j--) {
            struct many more = many[j];
            many[j] = many[j - 1];
            many[j - 1] = more;
        }

    const char *help = "";
    if (many[1].count)
        help = text_format(
            arena, "what it holds multiplies: %zu %s, %zu %s; make one of them smaller, or make two plans",
            many[0].count, many[0].name, many[1].count, many[1].name);
    else if (many[0].count)
        help =
            text_format(arena, "make it smaller, or two plans: it has %zu %s", many[0].count, many[0].name);
    if (result) {
        compilation->reason = compilation->plan_reason =
            text_format(arena, "this takes more %s than prill allows a plan%s%s",
                        worked_out ? "work" : "memory", *help ? "; " : "", help);
        return;
    }
    reports_init(&compilation->reports, arena);
    struct report *report = report_add(&compilation->reports, &model_rules[RULE_TOO_LARGE], many[0].last,
                                       "this plan takes more than %zu %s to work out", most,
                                       worked_out ? "million steps" : "MiB of memory");
    if (*help)
        report_help(&compilation->reports, report, "%s", help);
}

/* A step that fails leaves the compilation with its reason and nothing else that may be used: what the step
 * was building is half-built. */
bool compilation_attempt(struct prill_compilation *compilation, step *run, void *task)
{
    jmp_buf exhausted;
    if (!compilation || compilation->over)
        return false;
    compilation->arena.exhausted = &exhausted;
    if (setjmp(exhausted)) {
        bool too_large = compilation->arena.spent && !compilation->compiled && !compilation->over;
        compilation->over = true;
        compilation->status = compilation->plan_status = PRILL_SYSTEM_FAILED;
        const char *lack = compilation->arena.lack;
        compilation->reason = compilation->plan_reason = lack ? lack : NO_MEMORY;
        if (too_large) {
            tell_too_large(compilation, false);
            compilation->over = false; /* its report can be shown */
            compilation->status = compilation->plan_status = PRILL_PLAN_HAS_ERRORS;
            compilation->reason = compilation->plan_reason = "";
        } else if (compilation->arena.spent) {
            tell_too_large(compilation, true);
        }
        return false;
    }
    compilation->status = compilation->plan_status;
    compilation->reason = compilation->plan_reason;
    if (compilation->compiled)
        compilation->arena.steps = 0;
    run(compilation, task);
    return true;
}

void compilation_refuse(struct prill_compilation *compilation, enum prill_status status, const char *option,
                        const char *reason)
{
    compilation->status = status;
    compilation->reason = reason;
    compilation->option = option ? option : compilation->option;
}

/* ---- compiling ---- */

/* The model, the season with what the compiler chose, and what the checks have to say of it. */
static void build(struct prill_compilation *compilation)
{
    const struct prill_options *options = &compilation->options;
    struct model *model = model_build(&compilation->arena, &compilation->names, &compilation->reports,
                                      compilation->sources, compilation->plan);
    const char *why = options->late ? model_suppose(model, options->late, options->late_day) : NULL;
    if (why) {
        compilation_refuse(compilation, PRILL_BAD_CALL, "late", why);
        return;
    }
    compilation->model = model;
    compilation->season = solve_season(model, options->question, options->watcher);
    checks_run(compilation->season);
    if (!options->late || compilation->season->supposed)
        return;
    /* A record keeps its day, and there may be no such time of the treatment. */
    const struct supposition *supposed = model->supposed;
    uint32_t index = supposed->treatment->index;
    uint32_t times = compilation->season->first_of[index + 1] - compilation->season->first_of[index];
    if (supposed->time <= (int)times)
        why = text_format(&compilation->arena, "nothing called %s is still to come", options->late);
    else
        why = text_format(&compilation->arena, "%s comes %u time%s, so it has no time %d",
                          name_string(supposed->treatment->symbol.name), times, times == 1 ? "" : "s",
                          supposed->time);
    compilation_refuse(compilation, PRILL_BAD_CALL, "late", why);
}

struct call_of_compile {
    const char *path;
    const struct prill_options *options;
};

/* Options that cannot be, and a plan that cannot be read, end it; what the options add comes last, when there
 * is a season to add it to. */
static void compile(struct prill_compilation *compilation, void *task)
{
    static const struct prill_options usual = {.size = sizeof usual};
    const struct call_of_compile *call = task;
    const struct prill_options *given = call->options ? call->options : &usual;
    names_init(&compilation->names, &compilation->arena);
    reports_init(&compilation->reports, &compilation->arena);
    if (!call->path)
        compilation_refuse(compilation, PRILL_BAD_CALL, NULL, "no path of a plan is given");
    if (!call->path || !options_take(compilation, given)) {
        compilation->over = true;
        return;
    }

    /* The plan's text is from the client, from memory or from the disk. */
    const struct prill_options *options = &compilation->options;
    const char *reason = "";
    struct text text = {given->text, given->text_length};
    compilation->sources = sources_new(&compilation->arena, options->read_file, options->reader);
    if (options->use)
        sources_replace(compilation->sources, options->use);
    if (!text.start && options->read_file && strcmp(call->path, "-") != 0)
        text.start = options->read_file(options->reader, call->path, &text.length);
    if (text.start && text.length > SOURCE_LIMIT)
        reason = "the text is too large";
    else if (text.start)
        compilation->plan = sources_add_text(compilation->sources, call->path, text, options->sealed);
    else if (options->sealed)
        reason = "no text is given for it, and no file may be read";
    else
        sources_open_plan(compilation->sources, call->path, options->stdin_name, &compilation->plan, &reason);
    if (!compilation->plan) {
        compilation_refuse(compilation, PRILL_SYSTEM_FAILED, NULL, reason);
        compilation->over = true;
        return;
    }

    compilation->path = compilation->plan->path;
    if (options->parse_only) {
        struct tree tree;
        parse_source(compilation->plan, &compilation->arena, &compilation->reports, &tree);
    } else {
        build(compilation);
    }
    reports_sort(&compilation->reports);
    if (compilation->reports.errors && compilation->status == PRILL_FINE)
        compilation->status = PRILL_PLAN_HAS_ERRORS;
    const char *lack = sources_replace_lack(compilation->sources);
    if (lack)
        compilation_refuse(compilation, PRILL_BAD_CALL, "use", lack);
    if (!compilation->option)
        options_apply(compilation);
}

/* What compiling found stays with the compilation; what is asked of it later has a status of its own. */
static void compile_in(struct prill_compilation *compilation, const char *path,
                       const struct prill_options *options)
{
    struct call_of_compile call = {path, options};
    compilation->arena.most = PLAN_MEMORY;
    compilation->arena.steps_most = PLAN_WORK;
    compilation->plan_reason = "";
    compilation->compiled = compilation_attempt(compilation, compile, &call);
    if (compilation->compiled) {
        compilation->plan_status = compilation->status;
        compilation->plan_reason = compilation->reason;
    }
}

enum prill_status prill_compile(const char *path, const struct prill_options *options,
                                struct prill_compilation **compilation)
{
    struct prill_compilation *created = calloc(1, sizeof *created);
    *compilation = created;
    if (!created)
        return PRILL_SYSTEM_FAILED;
    arena_init(&created->arena, NULL);
    compile_in(created, path, options);
    return created->status;
}

/* Memory that was used before lies in other pieces, so that its limit might be met at another place: a plan
 * that comes near to it is compiled anew. */
enum prill_status compilation_again(const char *path, const struct prill_options *options,
                                    struct prill_compilation **compilation)
{
    struct prill_compilation *used = *compilation;
    if (!used)
        return prill_compile(path, options, compilation);
    arena_reset(&used->arena);
    *used = (struct prill_compilation){.arena = used->arena};
    compile_in(used, path, options);
    if (used->compiled && !used->over && arena_total(&used->arena) < used->arena.most / 2)
        return used->status;
    prill_free(used);
    return prill_compile(path, options, compilation);
}

void prill_free(struct prill_compilation *compilation)
{
    if (compilation)
        arena_free(&compilation->arena);
    free(compilation);
}

/* ---- what is known of it ---- */

bool compilation_usable(const struct prill_compilation *compilation)
{
    return compilation && compilation->season && compilation->plan_status == PRILL_FINE;
}

enum prill_status prill_status(const struct prill_compilation *compilation)
{
    return compilation ? compilation->status : PRILL_SYSTEM_FAILED;
}

const char *prill_reason(const struct prill_compilation *compilation)
{
    return compilation ? compilation->reason : NO_MEMORY;
}

const char *prill_option(const struct prill_compilation *compilation)
{
    return compilation ? compilation->option : NULL;
}

const char *prill_text(const struct prill_compilation *compilation, size_t *length)
{
    const struct source *plan = compilation ? compilation->plan : NULL;
    if (length)
        *length = plan ? plan->length : 0;
    return plan ? (const char *)plan->bytes : NULL;
}

/* A file that another stands in for, and what that one uses, are the plan's all the same: it is compiled once
 * more without the replacement. */
bool prill_reads_file(const struct prill_compilation *compilation, const char *path)
{
    if (!compilation || !path)
        return true;
    if (compilation->sources && sources_holds_file(compilation->sources, path))
        return true;
    if (!compilation->options.use || !compilation->plan)
        return false;
    struct prill_compilation *own;
    struct prill_options options = {.size = sizeof options,
                                    .text = (const char *)compilation->plan->bytes,
                                    .text_length = compilation->plan->length,
                                    .read_file = compilation->options.read_file,
                                    .reader = compilation->options.reader,
                                    .sealed = compilation->options.sealed};
    prill_compile(compilation->path, &options, &own);
    bool reads = !own || !own->sources || sources_holds_file(own->sources, path);
    prill_free(own);
    return reads;
}

const char *prill_version(void)
{
    return PRILL_VERSION;
}

/* ---- its text ---- */

const char *request_answer(struct request *request, size_t *length)
{
    if (length)
        *length = request->done ? request->out.length : 0;
    return request->done ? buffer_string(&request->out) : NULL;
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
    const char *respelled = plan_respelled(&compilation->arena, compilation->sources, &tree);
    if (respelled) {
        struct source *source = ARENA_NEW(&compilation->arena, struct source);
        source_init(source, &compilation->arena, compilation->plan->path, (const unsigned char *)respelled,
                    (uint32_t)strlen(respelled));
        parse_source(source, &compilation->arena, &reports, &tree);
    }
    request->done = format_tree(&tree, &plan_layout, &request->out);
    if (!request->done)
        compilation_refuse(
            compilation, PRILL_SYSTEM_FAILED, NULL,
            request->out.length > SOURCE_LIMIT
                ? "the new layout would be larger than a plan may be; nothing is changed"
                : "the new layout would not keep the text: a fault of prill; nothing is changed");
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
        if (!result->two && index-- == 0)
            return result->name;
    return NULL;
}

const char *prill_result_form(const char *result, size_t index)
{
    const struct result *found = result ? result_find(result) : NULL;
    return found ? result_form(found, index) : NULL;
}

void compilation_ready(struct prill_compilation *compilation, bool scales)
{
    if (compilation->model)
        model_read_for_results(compilation->model, scales);
    if (compilation->season)
        season_leeways(compilation->season);
}

/* Nothing after an error: an output that looks right then is a hazard on a lawn. */
static void print_result(struct prill_compilation *compilation, void *task)
{
    struct request *request = task;
    struct arena *arena = &compilation->arena;
    const struct season *season = compilation->season;
    const char *name = request->name ? request->name : "result without a name";
    const char *asked = request->form ? request->form : "a form without a name";
    const struct result *result = result_find(name);
    if (result && result->two) /* prill_compare takes the other plan too */
        result = NULL;
    const char *form = NULL, *refusal = NULL;
    for (size_t i = 0; result && (form = result_form(result, i)) && strcmp(form, asked) != 0;)
        i++;
    request->out.arena = arena;
    if (!form || (!season && !compilation->reports.errors))
        refusal = text_format(arena, "there is no %s as %s", name, asked);
    /* A file of products or knowledge: an empty calendar would clear the one that somebody subscribed to. */
    else if (compilation->reports.errors == 0 && result->ics && !season->model->has_season)
        refusal = text_format(arena, "%s states no season, so there is nothing to date", compilation->path);
    else if (compilation->reports.errors == 0) {
        struct result_input input = {.season = season,
                                     .reports = &compilation->reports,
                                     .subject = request->subject ? request->subject : "",
                                     .look = compilation->look,
                                     .earlier = compilation->earlier,
                                     .stamp = compilation->stamp};
        bool whole = result->report && strcmp(form, "html") == 0; /* what it needs is in the report too */
        compilation_ready(compilation, result->scales || whole);
        if (result->slips)
            slips_find(compilation->season);
        request->done = result_print(&request->out, result, form, &input);
        if (!request->done)
            refusal = text_format(arena,
                                  result->of_day ? "%s is not a date, such as 2027-04-17"
                                                 : "nothing in the plan or the library is called %s",
                                  input.subject);
    }
    if (refusal)
        compilation_refuse(compilation, PRILL_BAD_CALL, NULL, refusal);
}

const char *prill_result(struct prill_compilation *compilation, const char *result, const char *form,
                         const char *subject, size_t *length)
{
    struct request request = {.name = result, .form = form, .subject = subject};
    if (!compilation || compilation->plan_status == PRILL_BAD_CALL ||
        !compilation_attempt(compilation, print_result, &request))
        request.done = false;
    return request_answer(&request, length);
}
