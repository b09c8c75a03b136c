/* The season's calendar for a person: day by day what to weigh, mix and walk, narrow enough to print. */
#include "compiler/result/result.h"

#include "compiler/result/agenda.h"
#include "compiler/result/closing_lines.h"
#include "compiler/result/limits_followed.h"
#include "compiler/form/paragraph.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/work.h"

#include <string.h>

/* ---- the head: what, when, where ---- */

static void print_title(struct buffer *out, const struct model *model)
{
    paragraph_add(out, "", model->title ? model->title : "A plan without a name");
    if (model->has_season)
        paragraph_add(out, "",
                      text_format(out->arena, "Calendar of the season %s.",
                                  display_dates(out->arena, model->season_first, model->season_last)));
    if (model->edition > 0)
        paragraph_add(out, "",
                      text_format(out->arena, "Edition %d of %s.", model->edition,
                                  display_date(out->arena, model->edition_day)));
}

static void print_lawn(struct buffer *out, const struct model *model, const struct lawn *lawn)
{
    double area = 0;
    struct buffer zones = {.arena = out->arena};
    for (size_t i = 0; i < lawn->zones.count; i++) {
        const struct zone *zone = lawn->zones.items[i];
        area += zone->area_m2;
        buffer_format(&zones, "%s%s %s", i == 0 ? "" : ", ", name_string(zone->symbol.name),
                      display_area(out->arena, model, zone->area_m2));
    }
    struct buffer line = {.arena = out->arena};
    buffer_format(&line, "Lawn %s", name_string(lawn->symbol.name));
    if (lawn->grass)
        buffer_format(&line, ", %s", name_string(lawn->grass->symbol.name));
    if (lawn->soil)
        buffer_format(&line, " on %s", name_string(lawn->soil));
    buffer_format(&line, ", %s: %s.", display_area(out->arena, model, area), buffer_string(&zones));
    paragraph_add(out, "", line.string);
}

/* What binds, once, and what the sets of limits say beside their figures. */
static void print_held(struct buffer *out, const struct model *model)
{
    const char *held = held_sentence(model);
    struct held_sets sets = held_sets_of(model);
    if (!held)
        return;
    buffer_add_string(out, "\n");
    paragraph_add(out, "", held);
    for (size_t i = 0; i < sets.count; i++) {
        const char *note = note_sentence(out->arena, &sets.items[i]->symbol);
        if (note)
            paragraph_add(out, "  ", note);
    }
}

static void print_head(struct buffer *out, const struct model *model)
{
    print_title(out, model);
    if (model->lawns.count)
        buffer_add_string(out, "\n");
    for (size_t i = 0; i < model->lawns.count; i++)
        print_lawn(out, model, model->lawns.items[i]);
    print_held(out, model);
    const char *replaced = held_replaced(model);
    if (replaced)
        paragraph_add(out, "", replaced);
}

/* ---- a piece of work ---- */

/* The amounts of a material stand under each other by their points. */
struct portion_columns {
    uint32_t name, whole, part; /* cells of the names, and of the numbers before and from the point on */
};

static const char SUM[] = "in all";

static uint32_t whole_cells(const char *amount)
{
    return (uint32_t)strcspn(amount, ". ");
}

static uint32_t number_cells(const char *amount)
{
    return (uint32_t)strcspn(amount, " ");
}

static uint32_t larger(uint32_t a, uint32_t b)
{
    return a > b ? a : b;
}

static void columns_widen(struct buffer *out, struct portion_columns *columns, const char *name,
                          const char *amount)
{
    columns->name = larger(columns->name, field_cells(out->arena, name));
    columns->whole = larger(columns->whole, whole_cells(amount));
    columns->part = larger(columns->part, number_cells(amount) - whole_cells(amount));
}

/* `amount` is "12.94 lb". */
static void print_row(struct buffer *out, const struct portion_columns *columns, const char *name,
                      const char *amount)
{
    uint32_t whole = whole_cells(amount), number = number_cells(amount);
    buffer_add_string(out, "      ");
    field_add(out, name, columns->name + 2);
    buffer_repeat(out, ' ', columns->whole - whole);
    buffer_add(out, (struct text){amount, number});
    buffer_repeat(out, ' ', columns->part - (number - whole));
    buffer_add_string(out, amount + number);
}

static void print_portion(struct buffer *out, const struct portion_columns *columns,
                          const struct portion *portion, int passes)
{
    print_row(out, columns, name_string(portion->amount->zone->symbol.name), portion->text);
    if (portion->each)
        buffer_format(out, ", %s %s", portion->each, passes == 2 ? "each way" : "each pass");
    buffer_add_string(out, "\n");
}

static void print_portions(struct buffer *out, const struct material *material, int passes)
{
    struct portion_columns columns = {0};
    columns_widen(out, &columns, SUM, material->sum_text);
    for (size_t i = 0; i < material->portions.count; i++)
        columns_widen(out, &columns, name_string(material->portions.items[i].amount->zone->symbol.name),
                      material->portions.items[i].text);
    for (size_t i = 0; i < material->portions.count; i++)
        print_portion(out, &columns, &material->portions.items[i], passes);
    if (material->portions.count > 1) {
        print_row(out, &columns, SUM, material->sum_text);
        buffer_add_string(out, "\n");
    }
}

static void print_material(struct buffer *out, const struct model *model, const struct work *work,
                           const struct material *material)
{
    const char *name = name_string(material->product->symbol.name);
    const struct machine *machine = work->occurrence->treatment->machine;
    const char *line = name;
    if (material->recorded)
        line = text_format(out->arena, "%s, used:", name);
    else if (!isnan(material->rate))
        line = text_format(out->arena, "%s, %s:", name, material_rate_text(material, work, model));
    paragraph_add(out, "    ", line);
    print_portions(out, material, machine ? machine->passes : 1);
}

static void print_work(struct buffer *out, const struct model *model, const struct work *work)
{
    paragraph_add(out, "  ", work->headline);
    for (size_t i = 0; i < work->materials.count; i++)
        print_material(out, model, work, &work->materials.items[i]);
    for (size_t i = 0; i < work->sentences.count; i++)
        paragraph_add(out, "    ", work->sentences.items[i]);
}

static void print_days(struct buffer *out, const struct model *model, const struct work_list *list)
{
    for (size_t i = 0; i < list->count; i++) {
        day_number day = list->items[i].occurrence->day;
        buffer_add_string(out, "\n");
        if (i == 0 || list->items[i - 1].occurrence->day != day)
            buffer_format(out, "%s\n", display_date(out->arena, day));
        print_work(out, model, &list->items[i]);
    }
    if (list->count == 0)
        buffer_add_string(out, "\nNothing is planned.\n");
}

/* ---- the foot ---- */

static void print_skipped(struct buffer *out, const struct season *season)
{
    bool any = false;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        if (!occurrence->skipped)
            continue;
        if (!any)
            buffer_add_string(out, "\nNot done:\n");
        any = true;
        paragraph_add(out, "  - ", skipped_sentence(out->arena, occurrence));
    }
}

static void print_standing(struct buffer *out, const struct reports *reports)
{
    bool any = false;
    for (size_t i = 0; i < reports->all.count; i++) {
        if (!reports->all.items[i]->allowed_because)
            continue;
        if (!any)
            buffer_add_string(out, "\nAccepted in this plan:\n");
        any = true;
        paragraph_add(out, "  - ", allowed_sentence(out->arena, reports->all.items[i]));
    }
    const char *open = open_sentence(out->arena, reports);
    if (open) {
        buffer_add_string(out, "\n");
        paragraph_add(out, "", open);
    }
}

/* ---- what a day finds to do ---- */

static void print_errands(struct buffer *out, const char *title, const struct errands *errands,
                          const char *(*sentence)(struct arena *, const struct errand *))
{
    if (errands->count)
        buffer_format(out, "  %s\n", title);
    for (size_t i = 0; i < errands->count; i++)
        paragraph_add(out, "    - ", sentence(out->arena, &errands->items[i]));
}

static void print_agenda(struct buffer *out, const struct season *season, const struct work_list *list,
                         const struct look *look)
{
    struct agenda agenda = agenda_of(season, list, look);
    const char *week = text_format(out->arena, "Due by %s:", display_date(out->arena, agenda.week_end));
    buffer_format(out, "\nAs of %s\n", display_date(out->arena, agenda.day));
    if (!agenda.overdue.count)
        buffer_add_string(out, "  Nothing is overdue.\n");
    print_errands(out, "Overdue, neither done nor skipped by the records:", &agenda.overdue,
                  overdue_sentence);
    print_errands(out, "Without a day while that is so:", &agenda.held, errand_sentence);
    if (agenda.in_force.count)
        buffer_add_string(out, "  Still in force after what was done:\n");
    for (size_t i = 0; i < agenda.in_force.count; i++)
        paragraph_add(out, "    - ", obligation_sentence(out->arena, &agenda.in_force.items[i]));
    if (!agenda.due.count)
        buffer_format(out, "  Nothing%s is due by %s.\n", agenda.overdue.count ? " else" : "",
                      display_date(out->arena, agenda.week_end));
    print_errands(out, week, &agenda.due, errand_sentence);
    print_errands(out, "Next:", &agenda.next, errand_sentence);
    if (!agenda.next.count)
        buffer_add_string(out, "  Nothing comes later.\n");
}

void calendar_text_print(struct buffer *out, const struct result_input *input)
{
    const struct season *season = input->season;
    struct work_list list = work_list_of(season);
    print_head(out, season->model);
    if (input->look)
        print_agenda(out, season, &list, input->look);
    print_days(out, season->model, &list);
    print_skipped(out, season);
    struct footnotes notes = {.arena = out->arena};
    cautions_print(out, &list.cautions, &notes); /* sources below: here they would drown it */
    print_standing(out, input->reports);
    footnotes_print(out, &notes);
    buffer_add_string(out, "\n");
    struct closing closing = closing_of(season->model);
    for (size_t i = 0; i < closing.count; i++)
        paragraph_add(out, "", closing.lines[i]);
}
