/* What a plan can be asked for. Each result is worked out, then described: as a page for a person, as data
 * for a program. The table of results (compiler/result.c) says which of them has what; their forms follow. */
#ifndef PRILL_RESULT_RESULT_H
#define PRILL_RESULT_RESULT_H

#include "compiler/form/data.h"
#include "compiler/form/page.h"
#include "compiler/model/replacement.h"
#include "compiler/result/agenda.h"
#include "compiler/result/earlier_edition.h"

/* The last second of the last year that a plan may name (LAST_YEAR). */
#define STAMP_LIMIT INT64_C(7258118399)

/* What a result is made of: a season without errors. */
struct result_input {
    const struct season *season;
    const struct reports *reports;
    const struct season *before; /* of two seasons beside each other the first; NULL otherwise */
    const struct reports *before_reports;
    const struct replacement *replacement; /* the file by which the second is another; NULL without */
    const char *subject;                   /* of an explanation a name, of a day's page the day; "" without */
    const struct look *look;               /* the day that a calendar is looked at from; NULL without */
    const struct earlier *earlier;         /* the edition before; NULL without */
    const int64_t *stamp; /* of a calendar file: seconds since 1970-01-01 UTC, 0 to STAMP_LIMIT, at which the
                             plan was last revised; NULL: the start of the edition's day, or of the season's
                             first where no edition is stated */
};

/* Describes all of a result but its closing lines. A page without parts: there is nothing of that name. */
typedef void page_describer(struct page *page, const struct result_input *input);

/* Puts what the document holds besides its format, the plan and the closing lines. */
typedef void data_describer(struct data *root, const struct result_input *input);

/* For forms that are neither a page nor data: a table for spreadsheets, a calendar file. */
typedef void file_printer(struct buffer *out, const struct result_input *input);

/* A row of the table. */
struct result {
    const char *name;       /* NULL ends the table */
    page_describer *page;   /* as text, HTML and Markdown */
    page_describer *report; /* as HTML in place of that; NULL mostly */
    file_printer *csv, *ics;
    data_describer *data; /* as JSON, whose `format` is "prill NAME VERSION" */
    int version;
    bool of_day; /* its subject is a day */
    bool slips;  /* it says how far days may slip, which takes many trials (compiler/check/slip.h) */
    bool scales; /* it names the scales that soil tests could have been read by */
    bool two;    /* it sets two seasons beside each other, and says itself of which plans */
};

extern const struct result results[];

/* NULL where there is none of that name. */
const struct result *result_find(const char *name);

/* "text", "html", "markdown", "ics", "csv", "json": those that it has, the usual one first; NULL behind the
 * last. */
const char *result_form(const struct result *result, size_t index);

/* False, with nothing printed, where the result has no such form or nothing is called as the input's subject.
 */
bool result_print(struct buffer *out, const struct result *result, const char *form,
                  const struct result_input *input);

page_describer calendar_page, season_report, day_page, shopping_page, budget_page, needs_page, rates_page,
    weather_page, explain_page;
page_describer compare_page;
data_describer calendar_data, needs_data, shopping_data, budget_data, rates_data, weather_data, compare_data;
file_printer calendar_csv_print, shopping_csv_print, budget_csv_print, weather_csv_print;
file_printer calendar_ics_print;

/* What moves where a day is supposed in the second of two seasons (season->supposed); why that day cannot be.
 */
page_describer late_page, late_refusal_page;

#endif
