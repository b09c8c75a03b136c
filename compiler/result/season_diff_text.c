#include "compiler/result/season_diff_text.h"

#include "compiler/model/tolerance.h"
#include "compiler/model/display.h"
#include "compiler/model/suppose.h"
#include "compiler/result/caution.h"
#include "compiler/result/closing_lines.h"
#include "compiler/result/season_diff.h"
#include "compiler/form/paragraph.h"
#include "compiler/form/report_text.h"
#include "compiler/result/shopping.h"
#include "compiler/result/plan_notes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the plans ---- */

static const char *plan_words(struct arena *arena, const struct model *model, const struct text *file)
{
    struct buffer text = {.arena = arena};
    buffer_add_string(&text, model->title ? model->title : "a plan without a name");
    if (model->edition > 0)
        buffer_format(&text, ", edition %d of %s", model->edition, display_date(arena, model->edition_day));
    if (file)
        buffer_format(&text, ", with %.*s", (int)file->length, file->start);
    return buffer_string(&text);
}

/* ---- one work ---- */

/* "21 days later" */
static const char *shift_words(struct arena *arena, day_number from, day_number to)
{
    return text_format(arena, "%s %s", display_days(arena, to > from ? to - from : from - to),
                       to > from ? "later" : "earlier");
}

/* The new day and headline lead: they are what holds from now on. */
static void print_pairing(struct buffer *out, const struct pairing *pairing)
{
    struct arena *arena = out->arena;
    const struct occurrence *old = pairing->old->occurrence, *new = pairing->new->occurrence;
    paragraph_add(out, "  ",
                  text_format(arena, "%s: %s", display_date(arena, new->day), pairing->new->headline));
    if (pairing->moved)
        paragraph_add(out, "    ",
                      text_format(arena, "%s from %s, %s.", new->done ? "Done; planned earlier" : "Moved",
                                  display_date(arena, old->day), shift_words(arena, old->day, new->day)));
    else if (pairing->done)
        paragraph_add(out, "    ", "Done on the day planned.");
    for (size_t i = 0; i < pairing->amounts.count; i++)
        paragraph_add(out, "    ", portion_change_sentence(arena, &pairing->amounts.items[i]));
    for (size_t i = 0; i < pairing->sentences.count; i++)
        paragraph_add(out, "    ", text_format(arena, "Now: %s", pairing->sentences.items[i]));
    for (size_t i = 0; i < pairing->gone.count; i++)
        paragraph_add(out, "    ", text_format(arena, "No longer: %s", pairing->gone.items[i]));
}

/* ---- the groups ---- */

static bool is_changed(const struct pairing *pairing)
{
    return pairing->old && pairing->new && !pairing->skipped &&pairing_differs(pairing);
}

static bool is_added(const struct pairing *pairing)
{
    return !pairing->old;
}

static bool is_dropped(const struct pairing *pairing)
{
    return !pairing->new || pairing->skipped;
}

static void print_added(struct buffer *out, const struct pairing *pairing)
{
    paragraph_add(out, "  ",
                  text_format(out->arena, "%s: %s", display_date(out->arena, pairing->new->occurrence->day),
                              pairing->new->headline));
    for (size_t i = 0; i < pairing->sentences.count; i++)
        paragraph_add(out, "    ", pairing->sentences.items[i]);
}

static void print_dropped(struct buffer *out, const struct pairing *pairing)
{
    const struct work *old = pairing->old;
    const char *date = display_date(out->arena, old->occurrence->day);
    const struct record *record = pairing->new ? pairing->new->occurrence->record : NULL;
    if (!pairing->skipped)
        paragraph_add(out, "  ", text_format(out->arena, "%s: %s", date, old->headline));
    else if (record && record->why)
        paragraph_add(out, "  ",
                      text_format(out->arena, "%s: %s, skipped: %s", date, old->headline, record->why));
    else
        paragraph_add(out, "  ", text_format(out->arena, "%s: %s, skipped", date, old->headline));
}

static void print_group(struct buffer *out, const struct comparison *comparison, const char *title,
                        bool (*belongs)(const struct pairing *),
                        void (*print)(struct buffer *, const struct pairing *))
{
    bool any = false;
    for (size_t i = 0; i < comparison->pairings.count; i++) {
        if (!belongs(&comparison->pairings.items[i]))
            continue;
        if (!any)
            buffer_format(out, "\n%s:\n", title);
        any = true;
        print(out, &comparison->pairings.items[i]);
    }
}

static void print_same(struct buffer *out, const struct comparison *comparison)
{
    buffer_add_string(out, "\n");
    if (comparison->same == comparison->pairings.count)
        buffer_add_string(out, "No work changes.\n");
    else if (comparison->same)
        buffer_format(out, "%zu other%s unchanged.\n", comparison->same, comparison->same == 1 ? "" : "s");
    else
        buffer_add_string(out, "All work changes.\n");
}

/* "41.00 crowns", "41.00 crowns and 2 products of unknown cost" */
static const char *cost_words(struct arena *arena, const struct model *model, const struct shopping *shopping)
{
    const char *cost = money_text(arena, model, shopping->cost);
    if (shopping->unpriced == 0)
        return cost;
    return text_format(arena, "%s%s%zu %s of unknown cost", shopping->cost > 0 ? cost : "",
                       shopping->cost > 0 ? " and " : "", shopping->unpriced,
                       shopping->unpriced == 1 ? "product" : "products");
}

static bool counted_alike(const struct model *old, const struct model *new)
{
    return old->currency && new->currency ? strcmp(old->currency, new->currency) == 0
                                          : old->currency == new->currency;
}

/* What is still to be bought, where it costs something else or comes from another shop. */
static void print_cost(struct buffer *out, const struct comparison *comparison)
{
    struct arena *arena = out->arena;
    const struct model *old = comparison->old->model, *new = comparison->new->model;
    const struct shopping *before = &comparison->old_shopping, *now = &comparison->new_shopping;
    bool all_priced = before->unpriced == 0 && now->unpriced == 0;
    bool same = !differs(before->cost, now->cost) && before->unpriced == now->unpriced;
    double more = now->cost - before->cost;
    const char *change = "";
    if (same && (!comparison->replacement || now->cost + (double)now->unpriced <= 0))
        return;
    if (same)
        change = ", as before";
    else
        change = text_format(arena, ", was %s", cost_words(arena, old, before));
    if (!same && all_priced && counted_alike(old, new))
        change = text_format(arena, "%s (%s %s)", change, money_text(arena, new, fabs(more)),
                             more > 0 ? "more" : "less");
    buffer_add_string(out, "\n");
    paragraph_add(out, "", text_format(arena, "Still to buy: %s%s.", cost_words(arena, new, now), change));
}

static void print_cautions(struct buffer *out, const struct comparison *comparison, struct footnotes *notes)
{
    if (comparison->new_cautions.count)
        buffer_add_string(out, "\nNew cautions:\n");
    for (size_t i = 0; i < comparison->new_cautions.count; i++)
        paragraph_add(out, "  - ", caution_sentence(out->arena, comparison->new_cautions.items[i], notes));
    if (comparison->old_cautions.count)
        buffer_add_string(out, "\nCautions no longer needed:\n");
    for (size_t i = 0; i < comparison->old_cautions.count; i++)
        paragraph_add(out, "  - ", caution_brief(comparison->old_cautions.items[i]));
}

static void print_closing(struct buffer *out, const struct model *model)
{
    buffer_add_string(out, "\n");
    struct closing closing = closing_of(model);
    for (size_t i = 0; i < closing.count; i++)
        paragraph_add(out, "", closing.lines[i]);
}

/* What changes on the lawn first; what it costs, and what to mind, behind it. */
void compare_text_print(struct buffer *out, const struct season *old, const struct season *new,
                        const struct replacement *replacement)
{
    struct comparison *comparison = comparison_of(out->arena, old, new, replacement);
    paragraph_add(out, "From ",
                  plan_words(out->arena, old->model, replacement ? &replacement->replaced : NULL));
    paragraph_add(out, "to   ", plan_words(out->arena, new->model, replacement ? &replacement->by : NULL));
    print_group(out, comparison, "Changed", is_changed, print_pairing);
    print_group(out, comparison, "Added", is_added, print_added);
    print_group(out, comparison, "Removed", is_dropped, print_dropped);
    print_same(out, comparison);
    print_cost(out, comparison);
    struct footnotes notes = {.arena = out->arena};
    print_cautions(out, comparison, &notes);
    footnotes_print(out, &notes);
    print_closing(out, new->model);
}

/* ---- a day that is supposed ---- */

/* What was supposed to move is the question itself and is left out. */
static void print_moves(struct buffer *out, const struct comparison *comparison)
{
    struct arena *arena = out->arena;
    size_t moves = 0;
    for (size_t i = 0; i < comparison->pairings.count; i++) {
        const struct pairing *pairing = &comparison->pairings.items[i];
        if (!pairing->moved || pairing->new->occurrence == comparison->new->supposed)
            continue;
        day_number from = pairing->old->occurrence->day, to = pairing->new->occurrence->day;
        moves++;
        paragraph_add(out, "  ",
                      text_format(arena, "%s: %s; from %s, %s", display_date(arena, to),
                                  pairing->new->headline, display_date(arena, from),
                                  shift_words(arena, from, to)));
    }
    if (moves == 0)
        buffer_add_string(out, "  Nothing else moves.\n");
}

/* The same words of the same rule, wherever they stand. */
static int by_words(const void *a, const void *b)
{
    const struct report *first = *(const struct report *const *)a, *second = *(const struct report *const *)b;
    int order = strcmp(first->rule->name, second->rule->name);
    return order ? order : strcmp(first->sentence, second->sentence);
}

/* A report that the plan has as it is says nothing about the day. */
static void print_new_reports(struct buffer *out, const struct reports *before, const struct reports *after)
{
    size_t count = before->all.count;
    const struct report **known = ARENA_ARRAY(out->arena, count + 1, const struct report *);
    for (size_t i = 0; i < count; i++)
        known[i] = before->all.items[i];
    if (count)
        qsort(known, count, sizeof *known, by_words);
    bool any = false;
    for (size_t i = 0; i < after->all.count; i++) {
        const struct report *report = after->all.items[i];
        if (report->allowed_because || (count && bsearch(&report, known, count, sizeof *known, by_words)))
            continue;
        if (!any)
            buffer_add_string(out, "\nNew reports:\n");
        any = true;
        paragraph_add(out, "  ",
                      text_format(out->arena, "%s: %s [%s]", severity_name(report->severity),
                                  report->sentence, report->rule->name));
    }
}

static const char *supposed_title(struct arena *arena, const struct season *late)
{
    if (late->supposed)
        return occurrence_title(arena, late->supposed);
    return name_string(late->model->supposed->treatment->symbol.name);
}

/* The question was about one day, so of the rest only what moves is said, and what is then reported. */
void late_text_print(struct buffer *out, const struct season *plan, const struct reports *reports,
                     const struct season *late, const struct reports *late_reports)
{
    struct arena *arena = out->arena;
    const struct occurrence *supposed = late->supposed, *before = &plan->occurrences.items[supposed->index];
    struct comparison *comparison = comparison_of(arena, plan, late, NULL);
    const char *shift = supposed->day == before->day
                            ? "as planned"
                            : text_format(arena, "%s than %s", shift_words(arena, before->day, supposed->day),
                                          display_date(arena, before->day));
    paragraph_add(out, "",
                  text_format(arena, "With %s on %s, %s:", occurrence_title(arena, supposed),
                              display_date(arena, supposed->day), shift));
    print_moves(out, comparison);
    print_new_reports(out, reports, late_reports);
}

/* Only the errors: a warning does not keep the day from being possible. */
void late_refusal_print(struct buffer *out, const struct season *late, const struct reports *late_reports)
{
    const struct model *model = late->model;
    struct reports errors = *late_reports;
    errors.all.items = NULL;
    errors.all.count = errors.all.capacity = 0;
    errors.warnings = errors.notes = errors.allowed = 0;
    for (size_t i = 0; i < late_reports->all.count; i++)
        if (late_reports->all.items[i]->severity == SEVERITY_ERROR)
            VECTOR_PUSH(out->arena, &errors.all, late_reports->all.items[i]);
    paragraph_add(out, "",
                  text_format(out->arena, "%s cannot be on %s:", supposed_title(out->arena, late),
                              display_date(out->arena, model->supposed->day)));
    buffer_add_string(out, "\n");
    reports_text_print(out, &errors, false);
}
