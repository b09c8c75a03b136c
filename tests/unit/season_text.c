#include "tests/unit/season_text.h"

#include "compiler/model/include.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

void season_text_read_faulty(struct season_text *read, const char *plan)
{
    memset(read, 0, sizeof *read);
    arena_init(&read->arena, NULL);
    names_init(&read->names, &read->arena);
    reports_init(&read->reports, &read->arena);
    struct sources *sources = sources_new(&read->arena, NULL, NULL);
    struct source *source = sources_add_text(sources, "test.prill", text_of(plan), true);
    struct model *model = model_build(&read->arena, &read->names, &read->reports, sources, source);
    model_read_for_results(model, true);
    read->model = model;
    read->season = season_build(read->model, true);
    season_leeways(read->season);
}

void season_text_read(struct season_text *read, const char *plan)
{
    season_text_read_faulty(read, plan);
    for (size_t i = 0; i < read->reports.all.count; i++) {
        const struct report *report = read->reports.all.items[i];
        if (report->severity == SEVERITY_ERROR)
            print_error("%s, byte %u: %s\n", report->place.source ? report->place.source->path : "",
                        report->place.start, report->sentence);
    }
    assert_int_equal(read->reports.errors, 0);
}

void season_text_free(struct season_text *read)
{
    arena_free(&read->arena);
}

struct occurrence *season_text_find(struct season_text *read, const char *treatment, int time)
{
    for (size_t i = 0; i < read->season->occurrences.count; i++) {
        struct occurrence *occurrence = &read->season->occurrences.items[i];
        if (text_is(occurrence->treatment->symbol.name->text, treatment) && occurrence->time == time)
            return occurrence;
    }
    fail_msg("there is no %s, time %d", treatment, time);
    return NULL;
}

const char *season_text_day(struct season_text *read, const char *treatment, int time)
{
    const struct occurrence *occurrence = season_text_find(read, treatment, time);
    return occurrence->dated ? day_text(&read->arena, occurrence->day) : "none";
}

day_number text_day(const char *date)
{
    int part[3] = {0};
    for (int i = 0; *date; date++) {
        if (*date == '-')
            i++;
        else
            part[i] = part[i] * 10 + (*date - '0');
    }
    return day_of_date((struct civil_date){part[0], part[1], part[2]});
}

const struct zone *season_text_zone(const struct season_text *read, const char *name)
{
    for (size_t i = 0; i < read->model->zones.count; i++)
        if (text_is(read->model->zones.items[i]->symbol.name->text, name))
            return read->model->zones.items[i];
    fail_msg("there is no zone %s", name);
    return NULL;
}

const struct amount *season_text_amount(struct season_text *read, const char *treatment, int time,
                                        const char *product, const char *zone)
{
    const struct occurrence *occurrence = season_text_find(read, treatment, time);
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        if (text_is(amount->product->symbol.name->text, product) &&
            text_is(amount->zone->symbol.name->text, zone))
            return amount;
    }
    fail_msg("%s, time %d, has no %s on %s", treatment, time, product, zone);
    return NULL;
}
