/* Any bytes through the whole compiler by its public header, no file opened: a plan without errors gives
 * every result, one with errors gives none, and the reports can always be told. Of the results an input asks
 * for one, which its bytes choose: to ask for all would take most of the time, and ten times as many inputs
 * find more. */
#include "compiler/prill.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#define DEMAND(condition)                                                                                    \
    do {                                                                                                     \
        if (!(condition))                                                                                    \
            abort();                                                                                         \
    } while (0)

static void demand_reports(struct prill_compilation *compilation)
{
    static const char *const forms[] = {"text", "json", "sarif"};
    size_t length;
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        const char *reports = prill_reports(&compilation, 1, forms[i], i == 0, &length);
        DEMAND(reports && strlen(reports) == length);
    }
    for (const struct prill_report *report = NULL; (report = prill_report_after(compilation, report));)
        DEMAND(report->check && report->sentence && report->place.from.byte <= report->place.to.byte);
}

/* `explain` wants the name of something, `day` a date; where there is nothing of that name the call is a bad
 * one, and so is that for the calendar of a file that is no plan. */
static void demand_result(struct prill_compilation *compilation, const char *result, const char *form,
                          enum prill_status status)
{
    static const char *const names[] = {"spring-feed", "north", "starter", "a"};
    size_t length;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        bool named = strcmp(result, "explain") == 0;
        const char *text = prill_result(compilation, result, form, named ? names[i] : "2027-04-17", &length);
        bool undated =
            strcmp(result, "calendar") == 0 && strstr(prill_reason(compilation), "states no season");
        DEMAND(!text || status == PRILL_FINE);
        DEMAND(text || status == PRILL_PLAN_HAS_ERRORS || named || undated);
        DEMAND(!text || strlen(text) == length);
        if (!named)
            break;
    }
}

static size_t result_chosen(const uint8_t *data, size_t size)
{
    size_t count = 0, sum = 0;
    while (prill_result_name(count))
        count++;
    for (size_t i = 0; i < size; i++)
        sum = sum * 31 + data[i];
    return sum % count;
}

static void demand_results(struct prill_compilation *compilation, size_t chosen, enum prill_status status)
{
    const char *form;
    for (size_t j = 0; (form = prill_result_form(prill_result_name(chosen), j)); j++)
        demand_result(compilation, prill_result_name(chosen), form, status);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct prill_compilation *compilation;
    size_t length;
    struct prill_options options = {
        .size = sizeof options, .text = (const char *)data, .text_length = size, .sealed = true};
    enum prill_status status = prill_compile("fuzz.prill", &options, &compilation);
    DEMAND(compilation && (status == PRILL_FINE || status == PRILL_PLAN_HAS_ERRORS));
    DEMAND((prill_count(compilation, PRILL_ERROR) > 0) == (status == PRILL_PLAN_HAS_ERRORS));
    demand_reports(compilation);
    demand_results(compilation, result_chosen(data, size), status);
    prill_format(compilation, &length);
    DEMAND(prill_status(compilation) != PRILL_SYSTEM_FAILED);
    prill_free(compilation);
    return 0;
}
