/* The season's calendar for calendar programs: iCalendar (RFC 5545, RFC 7986), one all-day event for each
 * lawn and treatment date. Lines end in CR LF. */
#include "compiler/result/result.h"

#include "compiler/result/closing_lines.h"
#include "compiler/result/limits_followed.h"
#include "compiler/form/ics.h"
#include "compiler/form/plain_text.h"
#include "compiler/result/work.h"

#include <assert.h>

/* ---- the texts of an event ---- */

/* What a phone shows under the headline: amounts first, then what to do, then what to take care of. */
static const char *event_description(const struct model *model, const struct work *work)
{
    struct buffer text = {.arena = model->arena};
    for (size_t i = 0; i < work->materials.count; i++) {
        /* As a list of lines: a calendar program shows no columns. */
        const struct material *material = &work->materials.items[i];
        buffer_add_string(&text, name_string(material->product->symbol.name));
        if (material->recorded)
            buffer_add_string(&text, ", used");
        else if (!isnan(material->rate))
            buffer_format(&text, ", %s", material_rate_text(material, material->rate, work, model));
        buffer_add_string(&text, ":\n");
        for (size_t j = 0; j < material->portions.count; j++) {
            const struct portion *portion = &material->portions.items[j];
            buffer_format(&text, "- %s %s\n", name_string(portion->amount->zone->symbol.name), portion->row);
        }
        if (material->portions.count > 1)
            buffer_format(&text, "- total %s\n", material->sum_text);
    }
    for (size_t i = 0; i < work->sentences.count; i++)
        buffer_format(&text, "%s\n", work->sentences.items[i]);
    /* One line: in full they would be half of every event. What is done is past most of them; what goes on
     * after it is among the sentences. */
    struct caution_list at_work = {0};
    for (size_t i = 0; i < work->cautions.count; i++)
        if (caution_for(work->cautions.items[i], STAGES_OF_WORK))
            VECTOR_PUSH(text.arena, &at_work, work->cautions.items[i]);
    const char *line = cautions_line(text.arena, &at_work);
    if (line && !work->occurrence->done)
        buffer_format(&text, "\nTake care: %s. In full: prill explain.\n", line);
    struct closing_text closing_text = closing_text_of(model);
    for (size_t i = 0; i < closing_text.deferring; i++)
        buffer_format(&text, "\n%s", closing_text.lines[i]);
    return plain_text(model->arena, text.string, true);
}

/* Commas are between categories, so a name may not bring its own. */
static void category_add(struct buffer *text, const char *name)
{
    if (text->length)
        buffer_add_string(text, ",");
    for (const char *at = plain_text(text->arena, name, false); *at; at++)
        buffer_add(text, *at == ',' || *at == ';' ? TEXT(" ") : (struct text){at, 1});
}

/* ---- events ---- */

enum { SECONDS_A_DAY = 86400 };

/* What all events have in common. */
static struct ics_event event_begin(const struct model *model, const struct work *work, int64_t stamp)
{
    struct buffer text = {.arena = model->arena};
    const struct treatment *treatment = work->occurrence->treatment;
    category_add(&text, treatment->task ? "task" : "application");
    for (size_t i = 0; i < treatment->kinds.count; i++)
        category_add(&text, name_string(treatment->kinds.items[i]));
    return (struct ics_event){.uid = work->uid,
                              .summary = plain_text(model->arena, work->headline, false),
                              .categories = text.string,
                              .sequence = model->edition > 0 ? model->edition - 1 : 0,
                              .stamp = stamp};
}

/* What is skipped or gone is issued as cancelled, since an edition before may have put it into a calendar. */
void calendar_ics_print(struct buffer *out, const struct result_input *input)
{
    const struct season *season = input->season;
    const struct model *model = season->model;
    struct work_list list = work_list_of(season), skipped = work_list_skipped(season);
    day_number from = model->edition > 0 ? model->edition_day : model->has_season ? model->season_first : 0;
    int64_t at = input->stamp ? *input->stamp : from < 0 ? 0 : (int64_t)from * SECONDS_A_DAY;
    assert(at >= 0 && at <= STAMP_LIMIT);
    const char *held = held_sentence(model), *replaced = held_replaced(model);
    const char *head = text_format(season->arena, "%s%s%s", held ? held : "", held && replaced ? " " : "",
                                   replaced ? replaced : "");
    ics_begin(out, plain_text(season->arena, model->title ? model->title : "", false),
              plain_text(season->arena, head, false));
    for (size_t i = 0; i < list.count; i++) {
        struct ics_event event = event_begin(model, &list.items[i], at);
        event.day = list.items[i].occurrence->day;
        event.description = event_description(model, &list.items[i]);
        event.alarm = model->has_reminder && !list.items[i].occurrence->done;
        event.alarm_seconds = model->reminder_minutes * 60 - model->reminder_days * SECONDS_A_DAY;
        ics_add(out, &event);
    }
    for (size_t i = 0; i < skipped.count; i++) {
        /* An edition before may have put it into somebody's calendar; this takes it off again. */
        const struct occurrence *occurrence = skipped.items[i].occurrence;
        if (occurrence->planned == occurrence->day) /* it never had a day */
            continue;
        const char *why = occurrence->record && occurrence->record->why ? occurrence->record->why : "";
        struct ics_event event = event_begin(model, &skipped.items[i], at);
        event.day = occurrence->planned;
        event.description = plain_text(model->arena, why, true);
        event.cancelled = true;
        ics_add(out, &event);
    }
    struct earlier_works gone = {0};
    if (input->earlier)
        gone = earlier_gone(season->arena, input->earlier, &list, &skipped);
    for (size_t i = 0; i < gone.count; i++) {
        /* What an edition before had, and this one has not, is taken off the calendar. */
        const struct earlier_work *work = gone.items[i];
        struct ics_event off = {.uid = work->uid,
                                .summary = plain_text(model->arena, work->headline, false),
                                .description = "No longer in the plan.",
                                .categories = work->kind,
                                .day = work->day,
                                .sequence = model->edition > 0 ? model->edition - 1 : 0,
                                .stamp = at,
                                .cancelled = true};
        ics_add(out, &off);
    }
    ics_end(out, list.count + skipped.count + gone.count == 0);
}
