/* What a plan can be asked for: the results, the forms of each, and how one of them is printed. */
#include "compiler/compilation.h"

#include "compiler/check/slip.h"
#include "compiler/result/budget_csv.h"
#include "compiler/result/budget_json.h"
#include "compiler/result/budget_text.h"
#include "compiler/result/calendar_csv.h"
#include "compiler/result/calendar_ics.h"
#include "compiler/result/calendar_json.h"
#include "compiler/result/calendar_text.h"
#include "compiler/result/explain_text.h"
#include "compiler/result/needs_json.h"
#include "compiler/result/needs_text.h"
#include "compiler/result/rates_json.h"
#include "compiler/result/rates_text.h"
#include "compiler/result/weather_csv.h"
#include "compiler/result/weather_json.h"
#include "compiler/result/weather_risk_text.h"
#include "compiler/result/shopping_csv.h"
#include "compiler/result/shopping_json.h"
#include "compiler/result/shopping_text.h"

#include <string.h>

static void print_calendar_text(struct prill_compilation *compilation, struct request *request)
{
    calendar_text_print(&request->out, compilation->season, &compilation->reports, compilation->look);
}

static void print_calendar_ics(struct prill_compilation *compilation, struct request *request)
{
    calendar_ics_print(&request->out, compilation->season, compilation->stamp, compilation->earlier);
}

static void print_calendar_csv(struct prill_compilation *compilation, struct request *request)
{
    calendar_csv_print(&request->out, compilation->season);
}

static void print_calendar_json(struct prill_compilation *compilation, struct request *request)
{
    calendar_json_print(&request->out, compilation->season, &compilation->reports, compilation->look,
                        compilation->earlier);
}

static void print_needs(struct prill_compilation *compilation, struct request *request)
{
    needs_text_print(&request->out, compilation->season);
}

static void print_needs_json(struct prill_compilation *compilation, struct request *request)
{
    needs_json_print(&request->out, compilation->season);
}

static void print_shopping(struct prill_compilation *compilation, struct request *request)
{
    shopping_text_print(&request->out, compilation->season);
}

static void print_shopping_csv(struct prill_compilation *compilation, struct request *request)
{
    shopping_csv_print(&request->out, compilation->season);
}

static void print_shopping_json(struct prill_compilation *compilation, struct request *request)
{
    shopping_json_print(&request->out, compilation->season);
}

static void print_budget(struct prill_compilation *compilation, struct request *request)
{
    budget_text_print(&request->out, compilation->season);
}

static void print_budget_csv(struct prill_compilation *compilation, struct request *request)
{
    budget_csv_print(&request->out, compilation->season);
}

static void print_budget_json(struct prill_compilation *compilation, struct request *request)
{
    budget_json_print(&request->out, compilation->season);
}

static void print_rates(struct prill_compilation *compilation, struct request *request)
{
    rates_text_print(&request->out, compilation->season);
}

static void print_rates_json(struct prill_compilation *compilation, struct request *request)
{
    rates_json_print(&request->out, compilation->season);
}

static void print_weather(struct prill_compilation *compilation, struct request *request)
{
    risk_text_print(&request->out, compilation->season);
}

static void print_weather_csv(struct prill_compilation *compilation, struct request *request)
{
    risk_csv_print(&request->out, compilation->season);
}

static void print_weather_json(struct prill_compilation *compilation, struct request *request)
{
    risk_json_print(&request->out, compilation->season);
}

static void print_explanation(struct prill_compilation *compilation, struct request *request)
{
    const char *subject = request->subject ? request->subject : "";
    request->done = explain_text_print(&request->out, compilation->season, subject);
    if (!request->done)
        compilation_refuse(
            compilation, PRILL_BAD_CALL,
            text_format(&compilation->arena, "nothing in the plan or the library is called %s", subject));
}

/* What can be asked for; the forms of a result stand together, the usual one first. */
static const struct result {
    const char *name, *form;
    void (*print)(struct prill_compilation *compilation, struct request *request);
    bool slips; /* it says how far days may slip, which takes many trials */
} results[] = {
    {"calendar", "text", print_calendar_text, true},
    {"calendar", "ics", print_calendar_ics, true},
    {"calendar", "csv", print_calendar_csv, true},
    {"calendar", "json", print_calendar_json, true},
    {"needs", "text", print_needs, false},
    {"needs", "json", print_needs_json, false},
    {"shopping", "text", print_shopping, false},
    {"shopping", "csv", print_shopping_csv, false},
    {"shopping", "json", print_shopping_json, false},
    {"budget", "text", print_budget, false},
    {"budget", "csv", print_budget_csv, false},
    {"budget", "json", print_budget_json, false},
    {"rates", "text", print_rates, false},
    {"rates", "json", print_rates_json, false},
    {"weather", "text", print_weather, true},
    {"weather", "csv", print_weather_csv, true},
    {"weather", "json", print_weather_json, true},
    {"explain", "text", print_explanation, true},
};
enum { RESULT_COUNT = sizeof results / sizeof *results };

const char *prill_result_name(size_t index)
{
    for (size_t i = 0; i < RESULT_COUNT; i++)
        if ((i == 0 || strcmp(results[i].name, results[i - 1].name) != 0) && index-- == 0)
            return results[i].name;
    return NULL;
}

const char *prill_result_form(const char *result, size_t index)
{
    for (size_t i = 0; i < RESULT_COUNT; i++)
        if (strcmp(results[i].name, result) == 0 && index-- == 0)
            return results[i].form;
    return NULL;
}

static const struct result *result_of(const char *name, const char *form)
{
    for (size_t i = 0; i < RESULT_COUNT; i++)
        if (strcmp(results[i].name, name) == 0 && strcmp(results[i].form, form) == 0)
            return &results[i];
    return NULL;
}

static void print_result(struct prill_compilation *compilation, void *task)
{
    struct request *request = task;
    const struct result *result = result_of(request->name, request->form);
    request->out.arena = &compilation->arena;
    if (!result || !compilation->season) {
        compilation_refuse(
            compilation, PRILL_BAD_CALL,
            text_format(&compilation->arena, "there is no %s as %s", request->name, request->form));
    } else if (strcmp(request->name, "calendar") == 0 && !compilation->season->model->has_season &&
               compilation->reports.errors == 0) {
        /* A file of products or knowledge: an empty calendar would clear the one that somebody subscribed to.
         */
        compilation_refuse(compilation, PRILL_BAD_CALL,
                           text_format(&compilation->arena,
                                       "%s states no season, so there is nothing to date",
                                       compilation->path));
    } else if (compilation->reports.errors == 0) {
        request->done = true;
        if (result->slips)
            slips_find(compilation->season);
        result->print(compilation, request);
    }
}

const char *prill_result(struct prill_compilation *compilation, const char *result, const char *form,
                         const char *subject, size_t *length)
{
    struct request request = {.name = result, .form = form, .subject = subject};
    if (!compilation_attempt(compilation, print_result, &request))
        request.done = false;
    return request_answer(&request, length);
}
