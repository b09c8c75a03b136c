/* A plan beside itself with a day supposed, for a person: what moves, or why that day cannot be. */
#include "compiler/result/result.h"

#include "compiler/form/report_text.h"
#include "compiler/model/display.h"
#include "compiler/model/suppose.h"
#include "compiler/result/season_diff.h"

#include <stdlib.h>
#include <string.h>

/* The same words of the same rule, wherever they stand. */
static int by_words(const void *a, const void *b)
{
    const struct report *first = *(const struct report *const *)a, *second = *(const struct report *const *)b;
    int order = strcmp(first->rule->name, second->rule->name);
    return order ? order : strcmp(first->sentence, second->sentence);
}

/* The question was about one day, so of the rest only what moves is said, and what is then reported. What was
 * supposed to move is the question itself and is left out. */
void late_page(struct page *page, const struct result_input *input)
{
    struct arena *arena = page->arena;
    const struct season *plan = input->before, *late = input->season;
    const struct occurrence *supposed = late->supposed, *before = &plan->occurrences.items[supposed->index];
    const struct comparison *comparison = comparison_of(arena, plan, late, NULL);
    const char *shift = supposed->day == before->day
                            ? "as planned"
                            : text_format(arena, "%s than %s", shift_words(arena, before->day, supposed->day),
                                          display_date(arena, before->day));
    page_heading(page, 0,
                 text_format(arena, "With %s on %s, %s:", occurrence_title(arena, supposed),
                             display_date(arena, supposed->day), shift));
    size_t moves = 0;
    for (size_t i = 0; i < comparison->pairings.count; i++) {
        const struct pairing *pairing = &comparison->pairings.items[i];
        if (!pairing->moved || pairing->new->occurrence == supposed)
            continue;
        day_number from = pairing->old->occurrence->day, to = pairing->new->occurrence->day;
        page_say(page, 1, "%s: %s; from %s, %s", display_date(arena, to), pairing->new->headline,
                 display_date(arena, from), shift_words(arena, from, to));
        moves++;
    }
    if (moves == 0)
        page_line(page, 1, "Nothing else moves.");
    /* A report that the plan has as it is says nothing about the day. */
    size_t count = input->before_reports->all.count;
    const struct report **known = ARENA_ARRAY(page->arena, count + 1, const struct report *);
    for (size_t j = 0; j < count; j++)
        known[j] = input->before_reports->all.items[j];
    if (count)
        qsort(known, count, sizeof *known, by_words);
    bool any = false;
    for (size_t j = 0; j < input->reports->all.count; j++) {
        const struct report *report = input->reports->all.items[j];
        if (report->allowed_because || (count && bsearch(&report, known, count, sizeof *known, by_words)))
            continue;
        if (!any) {
            page_gap(page);
            page_heading(page, 0, "New reports:");
        }
        any = true;
        page_say(page, 1, "%s: %s [%s]", severity_name(report->severity), report->sentence,
                 report->rule->name);
    }
}

/* Only the errors: a warning does not keep the day from being possible. */
void late_refusal_page(struct page *page, const struct result_input *input)
{
    const struct season *late = input->season;
    const struct supposition *supposed = late->model->supposed;
    struct reports errors = *input->reports;
    errors.all.items = NULL;
    errors.all.count = errors.all.capacity = 0;
    errors.warnings = errors.notes = errors.allowed = 0;
    for (size_t i = 0; i < input->reports->all.count; i++)
        if (input->reports->all.items[i]->severity == SEVERITY_ERROR)
            VECTOR_PUSH(page->arena, &errors.all, input->reports->all.items[i]);
    struct buffer text = {.arena = page->arena};
    reports_text_list(&text, &errors, false);
    reports_text_end(&text, &errors);
    page_say(page, 0, "%s cannot be on %s:",
             late->supposed ? occurrence_title(page->arena, late->supposed)
                            : name_string(supposed->treatment->symbol.name),
             display_date(page->arena, supposed->day));
    page_gap(page);
    page_verbatim(page, 0, (struct text){buffer_string(&text), text.length});
}
