/* The season's calendar for a person: what is next comes first, day by day what to weigh, mix and walk; then
 * what was done, and what the plan rests on. Narrow enough to print. */
#include "compiler/result/result.h"

#include "compiler/result/agenda.h"
#include "compiler/result/calendar_parts.h"
#include "compiler/result/limits_followed.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/work.h"

enum { DAY = 0, WORK = 1, DETAIL = 2, AMOUNT = 3 }; /* how far each lies inside the one before it */

/* ---- a piece of work ---- */

/* The amounts of a material by zone, point below point, and their total. */
static void describe_material(struct page *page, const struct model *model, const struct work *work,
                              const struct material *material)
{
    const char *name = name_string(material->product->symbol.name);
    struct page_columns *columns = page_columns(page, 2);
    columns->items[1].by_point = true;
    if (material->recorded)
        page_say(page, DETAIL, "%s, used:", name);
    else if (isnan(material->rate))
        page_line(page, DETAIL, name);
    else
        page_say(page, DETAIL, "%s, %s:", name, material_rate_text(material, material->rate, work, model));
    for (size_t i = 0; i < material->portions.count; i++) {
        const struct portion *portion = &material->portions.items[i];
        const char *zone = name_string(portion->amount->zone->symbol.name);
        page_row(page, AMOUNT, columns, (const char *[]){zone, portion->row});
    }
    if (material->portions.count > 1)
        page_row(page, AMOUNT, columns, (const char *[]){"total", material->sum_text});
}

/* The days whose work is done, or those whose work is still to come. False where there is none. */
static bool describe_days(struct page *page, const struct model *model, const struct work_list *list,
                          bool done)
{
    bool any = false;
    for (size_t i = 0; i < list->count;) {
        day_number day = list->items[i].occurrence->day;
        size_t first = i;
        bool headed = false;
        for (; i < list->count && list->items[i].occurrence->day == day; i++) {
            if (list->items[i].occurrence->done != done)
                continue;
            page_gap(page);
            if (!any && done)
                page_heading(page, DAY, "Done");
            if (!headed)
                page_heading(page, DAY, display_date(page->arena, day));
            page_heading(page, WORK, list->items[i].headline);
            for (size_t j = 0; j < list->items[i].materials.count; j++)
                describe_material(page, model, &list->items[i], &list->items[i].materials.items[j]);
            for (size_t j = 0; j < list->items[i].sentences.count; j++)
                page_line(page, DETAIL, list->items[i].sentences.items[j]);
            any = headed = true;
        }
        if (headed && !done)
            day_care_describe(page, &list->items[first], &list->items[i]);
    }
    return any;
}

/* ---- what a day finds to do ---- */

static void describe_errands(struct page *page, const char *title, const struct errands *errands,
                             const char *(*sentence)(struct arena *, const struct errand *))
{
    if (errands->count)
        page_heading(page, WORK, title);
    for (size_t i = 0; i < errands->count; i++)
        page_item(page, DETAIL, sentence(page->arena, &errands->items[i]));
}

/* What is done goes on binding until the last day of its duties. */
static void describe_in_force(struct page *page, int depth, const struct obligations *obligations)
{
    if (obligations->count)
        page_heading(page, depth, "Still in force after what was done:");
    for (size_t i = 0; i < obligations->count; i++) {
        /* "Until Mon 2027-04-19, after late on verge: Water grains in with 0.2 in."; a caution says in its
         * own words how long it holds. */
        const struct work *work = obligations->items[i].work;
        const struct duty *duty = obligations->items[i].duty;
        struct buffer text = {.arena = page->arena};
        if (!duty->caution)
            buffer_format(&text, "Until %s, after ", display_date(page->arena, duty->last));
        else
            buffer_add_string(&text, "After ");
        buffer_add_string(&text, occurrence_title(page->arena, work->occurrence));
        if (work->lawn)
            buffer_format(&text, " on %s", name_string(work->lawn->symbol.name));
        buffer_format(&text, ": %s", duty->text);
        page_item(page, depth + 1, text.string);
    }
}

/* ---- what the plan rests on ---- */

/* The ground, and the limits that bind with what their sets say beside their figures. */
void calendar_basis_describe(struct page *page, const struct model *model)
{
    const char *held = held_sentence(model), *replaced = held_replaced(model);
    struct held_sets sets = held_sets_of(model);
    page_gap(page);
    for (size_t i = 0; i < model->lawns.count; i++) {
        /* "Lawn green, tall-fescue on loam, 2796 sqft: north 2416 sqft, strip 380 sqft." */
        const struct lawn *lawn = model->lawns.items[i];
        double area = 0;
        struct buffer line = {.arena = page->arena}, zones = {.arena = page->arena};
        for (size_t j = 0; j < lawn->zones.count; j++) {
            const struct zone *zone = lawn->zones.items[j];
            area += zone->area_m2;
            buffer_separate(&zones, ", ");
            buffer_format(&zones, "%s %s", name_string(zone->symbol.name),
                          display_area(page->arena, model, zone->area_m2));
        }
        buffer_format(&line, "Lawn %s", name_string(lawn->symbol.name));
        if (lawn->grass)
            buffer_format(&line, ", %s", name_string(lawn->grass->symbol.name));
        if (lawn->soil)
            buffer_format(&line, " on %s", name_string(lawn->soil));
        page_say(page, DAY, "%s, %s: %s.", line.string, display_area(page->arena, model, area),
                 buffer_string(&zones));
    }
    page_gap(page);
    if (held)
        page_line(page, DAY, held);
    for (size_t i = 0; i < sets.count && held; i++) {
        const char *note = note_sentence(page->arena, &sets.items[i]->symbol);
        if (note)
            page_line(page, WORK, note);
    }
    if (replaced)
        page_line(page, DAY, replaced);
}

/* With a day asked for, what is due comes first; without one, what still has to be kept to. */
void calendar_opening_describe(struct page *page, const struct result_input *input,
                               const struct work_list *list)
{
    const struct season *season = input->season;
    const struct model *model = season->model;
    page_plan(page, model);
    if (model->has_season)
        page_say(page, DAY, "Season %s.",
                 display_dates(page->arena, model->season_first, model->season_last));
    if (model->edition > 0)
        page_say(page, DAY, "Edition %d of %s.", model->edition,
                 display_date(page->arena, model->edition_day));
    if (input->look) {
        struct agenda agenda = agenda_of(season, list, input->look);
        /* That nothing is overdue or due is said too: an empty list could mean that nobody looked. */
        const char *end = display_date(page->arena, agenda.week_end);
        page_gap(page);
        page_say(page, DAY, "As of %s", display_date(page->arena, agenda.day));
        if (!agenda.overdue.count)
            page_line(page, WORK, "Nothing is overdue.");
        describe_errands(page, "Overdue, with no record that says done or skipped:", &agenda.overdue,
                         overdue_sentence);
        describe_errands(page, "No day is left for these while that is overdue:", &agenda.held,
                         errand_sentence);
        describe_in_force(page, WORK, &agenda.in_force);
        if (!agenda.due.count)
            page_say(page, WORK, "Nothing%s is due by %s.", agenda.overdue.count ? " else" : "", end);
        describe_errands(page, text_format(page->arena, "Due by %s:", end), &agenda.due, errand_sentence);
        describe_errands(page, "Next:", &agenda.next, errand_sentence);
        if (!agenda.next.count)
            page_line(page, WORK, "Nothing comes later.");
    } else {
        struct obligations in_force = obligations_of(season, list);
        page_gap(page);
        describe_in_force(page, DAY, &in_force);
    }
}

/* What was skipped and what was accepted, each with the reason that the plan gives. */
void calendar_reports_describe(struct page *page, const struct result_input *input)
{
    bool any = false;
    for (size_t i = 0; i < input->season->occurrences.count; i++) {
        const struct occurrence *occurrence = &input->season->occurrences.items[i];
        if (!occurrence->skipped)
            continue;
        page_gap(page);
        if (!any)
            page_heading(page, DAY, "Skipped:");
        any = true;
        /* "green-up 1 of 2: the lawn was dry" */
        const char *why = occurrence->record ? occurrence->record->why : NULL;
        page_item(page, WORK,
                  text_format(page->arena, "%s%s%s", occurrence_title(page->arena, occurrence),
                              why ? ": " : "", why ? why : ""));
    }
    /* Accepted reports with their reasons; of the others only how many, since `prill check` prints them. */
    const struct reports *reports = input->reports;
    bool found = false;
    page_gap(page);
    for (size_t j = 0; j < reports->all.count; j++) {
        const struct report *report = reports->all.items[j];
        if (!report->allowed_because)
            continue;
        if (!found)
            page_heading(page, DAY, "Accepted in this plan:");
        found = true;
        page_item(page, WORK,
                  text_format(page->arena, "%s (%s: %s) because %s", report->rule->name,
                              place_line(page->arena, report->place), report->sentence,
                              report->allowed_because));
    }
    const char *open = open_sentence(page->arena, reports);
    page_gap(page);
    if (open)
        page_line(page, DAY, open);
}

/* What a day finds to do and what is in force come before the days; what the plan rests on behind them. */
void calendar_page(struct page *page, const struct result_input *input)
{
    const struct season *season = input->season;
    struct work_list list = work_list_of(season);
    calendar_opening_describe(page, input, &list);
    if (!describe_days(page, season->model, &list, false)) {
        page_gap(page);
        page_line(page, DAY, list.count ? "Nothing more is planned." : "Nothing is planned.");
    }
    describe_days(page, season->model, &list, true);
    calendar_reports_describe(page, input);
    calendar_basis_describe(page, season->model);
    page_gap(page);
    if (list.cautions.count)
        page_line(page, DAY,
                  "Cautions in full, with their sources: `prill explain PLAN NAME`, for a product or a "
                  "treatment.");
}
