#include "compiler/result/result.h"

#include "compiler/form/data.h"
#include "compiler/form/page_html.h"
#include "compiler/form/page_markdown.h"
#include "compiler/form/page_text.h"
#include "compiler/result/closing_lines.h"

#include <string.h>

/* What a result has no describer or printer for, it has not as a form. A `version` is of its JSON: it is
 * counted up where a member goes or changes its meaning, not where one is added. */
const struct result results[] = {
    {.name = "calendar",
     .page = calendar_page,
     .report = season_report,
     .ics = calendar_ics_print,
     .csv = calendar_csv_print,
     .data = calendar_data,
     .version = 2,
     .slips = true},
    {.name = "day", .page = day_page, .of_day = true, .slips = true},
    {.name = "needs", .page = needs_page, .data = needs_data, .version = 3, .scales = true},
    {.name = "shopping",
     .page = shopping_page,
     .csv = shopping_csv_print,
     .data = shopping_data,
     .version = 2},
    {.name = "budget", .page = budget_page, .csv = budget_csv_print, .data = budget_data, .version = 2},
    {.name = "rates", .page = rates_page, .data = rates_data, .version = 3},
    {.name = "weather",
     .page = weather_page,
     .csv = weather_csv_print,
     .data = weather_data,
     .version = 3,
     .slips = true},
    {.name = "compare", .page = compare_page, .data = compare_data, .version = 3, .two = true},
    {.name = "explain", .page = explain_page, .slips = true},
    {.name = NULL},
};

/* Its words are those of --as; the usual one first. */
enum result_form { AS_TEXT, AS_HTML, AS_MARKDOWN, AS_ICS, AS_CSV, AS_JSON, FORMS };
static const char *const form_names[FORMS] = {"text", "html", "markdown", "ics", "csv", "json"};

/* What it describes or prints decides: nothing else says which forms there are. */
static bool has_form(const struct result *result, enum result_form form)
{
    switch (form) {
    case AS_TEXT:
    case AS_HTML:
    case AS_MARKDOWN:
        return result->page;
    case AS_ICS:
        return result->ics;
    case AS_CSV:
        return result->csv;
    case AS_JSON:
        return result->data;
    case FORMS:
        break;
    }
    return false;
}

const struct result *result_find(const char *name)
{
    for (const struct result *result = results; result->name; result++)
        if (strcmp(result->name, name) == 0)
            return result;
    return NULL;
}

const char *result_form(const struct result *result, size_t index)
{
    for (enum result_form form = AS_TEXT; form < FORMS; form++)
        if (has_form(result, form) && index-- == 0)
            return form_names[form];
    return NULL;
}

typedef void page_printer(struct buffer *out, const struct page *page);

/* Every page and document ends with the same lines. */
static void print_page(struct buffer *out, page_describer *describe, const struct result_input *input,
                       page_printer *print)
{
    struct page page = {.arena = out->arena, .title = input->season->model->title};
    describe(&page, input);
    if (!page.parts.count)
        return;
    struct closing_text closing_text = closing_text_of(input->season->model);
    page_gap(&page);
    for (size_t i = 0; i < closing_text.count; i++)
        page_add(&page, PART_CLOSING, 0, closing_text.lines[i]);
    print(out, &page);
}

/* Nothing printed is how a result says that there is nothing of the name asked for. */
bool result_print(struct buffer *out, const struct result *result, const char *form,
                  const struct result_input *input)
{
    size_t before = out->length;
    enum result_form wanted = AS_TEXT;
    while (wanted < FORMS && strcmp(form_names[wanted], form) != 0)
        wanted++;
    if (!has_form(result, wanted))
        return false;
    switch (wanted) {
    case AS_TEXT:
        print_page(out, result->page, input, page_text_print);
        break;
    case AS_HTML:
        print_page(out, result->report ? result->report : result->page, input, page_html_print);
        break;
    case AS_MARKDOWN:
        print_page(out, result->page, input, page_markdown_print);
        break;
    case AS_ICS:
        result->ics(out, input);
        break;
    case AS_CSV:
        result->csv(out, input);
        break;
    case AS_JSON: {
        struct data *root = data_begin(out, true);
        data_string(root, "format", text_format(out->arena, "prill %s %d", result->name, result->version));
        if (!result->two)
            data_plan(root, "plan", input->season->model);
        result->data(root, input);
        struct closing_text closing_text = closing_text_of(input->season->model);
        struct data *lines = data_list(root, "closing");
        for (size_t i = 0; i < closing_text.count; i++)
            data_string(lines, NULL, closing_text.lines[i]);
        data_end(root);
        break;
    }
    case FORMS:
        break;
    }
    return out->length > before;
}
