/* Treatments: where, with what, and each time it occurs. */
#include "compiler/result/explanation.h"

/* What is planned is the same each time, so its amounts are explained once. */
void explain_treatment(struct explanation *explanation, const struct treatment *treatment)
{
    const struct season *season = explanation->season;
    uint32_t index = treatment->index;
    uint32_t added = season->added_of[index + 1] - season->added_of[index];
    uint32_t planned = season->first_of[index + 1] - season->first_of[index];
    struct buffer zones = {.arena = explanation->arena};
    explain_heading(explanation, 0, "%s %s (%s)", treatment->task ? "Task" : "Treatment",
                    name_string(treatment->symbol.name), explain_place(explanation, treatment->symbol.place));
    for (size_t i = 0; i < treatment->zones.count; i++) {
        buffer_separate(&zones, ", ");
        buffer_add_string(&zones, name_string(treatment->zones.items[i]->symbol.name));
    }
    if (zones.length)
        explain_line(explanation, 1, "To %s (%s).", zones.string,
                     explain_place(explanation, treatment->zones_place));
    if (treatment->machine)
        explain_line(explanation, 1, "With %s (%s).", name_string(treatment->machine->symbol.name),
                     explain_place(explanation, treatment->machine_place));
    if (treatment->layer)
        explain_line(explanation, 1, "%s.", explain_statement(explanation, treatment->layer->place));
    bool explained = false;
    for (uint32_t i = 0; i < planned + added; i++) {
        const struct occurrence *occurrence =
            &season->occurrences
                 .items[i < planned ? season->first_of[index] + i : season->added_of[index] + i - planned];
        page_gap(explanation->page);
        /* Its day, its weather, its amounts where they were not explained before, and what of limits they use
         * up. */
        const char *name = occurrence_title(explanation->arena, occurrence);
        if (occurrence->skipped || !occurrence->dated) {
            explain_line(explanation, 1, "%s: %s", name, occurrence->skipped ? "skipped" : "no day");
        } else {
            explain_heading(explanation, 1, "%s: %s%s", name,
                            display_date(explanation->arena, occurrence->day),
                            occurrence->done ? ", done" : "");
            explain_day(explanation, occurrence);
            explain_day_weather(explanation, occurrence, 2);
            if (occurrence->amounts.count != 0) {
                if (!explained || occurrence->done)
                    explain_amounts(explanation, occurrence);
                explain_limits(explanation, occurrence);
                if (occurrence->done)
                    explain_next_allowed(explanation, occurrence);
            }
        }
        explained = explained || (occurrence->dated && !occurrence->skipped && !occurrence->done);
    }
    /* All of its kinds of work and of the products that it is to put down, in full. */
    const struct dressing_list *dressings = &explanation->season->dressings[treatment->index];
    struct caution_list list = {0};
    for (size_t i = 0; i < explanation->model->cautions.count; i++) {
        const struct caution *caution = explanation->model->cautions.items[i];
        bool concerned = caution_of_treatment(caution, treatment);
        for (size_t j = 0; j < dressings->count; j++)
            concerned = concerned || caution_of_product(caution, dressings->items[j]->product);
        if (concerned && !caution->symbol.broken)
            VECTOR_PUSH(explanation->arena, &list, caution);
    }
    page_gap(explanation->page);
    explain_cautions(explanation, &list);
}
