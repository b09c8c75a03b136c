/* What each zone received when: all amounts of a zone on one day are one application. */
#include "compiler/season/dating.h"

static struct application *application_on(struct season *season, struct ledger *ledger, day_number day)
{
    struct application application = {.day = day};
    if (ledger->applications.count == 0 ||
        ledger->applications.items[ledger->applications.count - 1].day != day)
        VECTOR_PUSH(season->arena, &ledger->applications, application);
    return &ledger->applications.items[ledger->applications.count - 1];
}

static void amount_enter(struct season *season, const struct occurrence *occurrence, struct amount *amount)
{
    struct ledger *ledger = &season->ledgers[amount->zone->index];
    struct application *application = application_on(season, ledger, occurrence->day);
    for (int i = 0; i < NUTRIENT_COUNT; i++)
        application->supplied[i] += amount->supplied[i];
    VECTOR_PUSH(season->arena, &application->amounts, amount);
    size_t count = application->occurrences.count;
    if (count == 0 || application->occurrences.items[count - 1] != occurrence)
        VECTOR_PUSH(season->arena, &application->occurrences, occurrence);
}

/* The calendar is in order of days, so each zone's entries come in order too. */
void ledgers_make(struct season *season)
{
    const struct model *model = season->model;
    season->ledgers = ARENA_ARRAY(season->arena, model->zones.count, struct ledger);
    for (size_t i = 0; i < model->zones.count; i++)
        season->ledgers[i].zone = model->zones.items[i];
    for (size_t i = 0; i < season->calendar_count; i++)
        for (size_t j = 0; j < season->calendar[i]->amounts.count; j++)
            amount_enter(season, season->calendar[i], &season->calendar[i]->amounts.items[j]);
}
