/* What is put down over a year, a run of days or the same days of every year, against the limits on amounts.
 * A limit passed by one statement is told once, however many zones and days show it. */
#include "compiler/check/checking.h"

#include <math.h>

/* Doses of one zone that count together against a limit. */
struct window {
    const struct limit *limit;
    const struct ledger *ledger;
    struct doses doses; /* kg/m2 of what the limit's nutrient names */
    struct dose_run run;
};

/* The last dose that can still be changed, or the last of all. */
static const struct dose *window_lead(const struct window *window)
{
    size_t at = window->run.end - 1;
    while (window->run.planned && window->doses.items[at].done)
        at--;
    return &window->doses.items[at];
}

/* ", such as 3 lb of feed per 1000 sqft on Mon 2027-05-10": the lead at `share` of its rate, which passes
 * this limit; what stands in the plan once and comes several times is changed each time, and so as all limits
 * and the label allow. "" where that does not help. */
static const char *lower_text(struct checking *checking, day_number day, const struct part *lead,
                              double share)
{
    const struct amount *amount = lead->amount;
    bool several = lead->occurrence->times > 1;
    const char *when = text_format(checking->arena, "on %s", display_date(checking->arena, day));
    struct rate_left left = {.share = INFINITY};
    if (amount->dressing && !amount->dressing->open) {
        left = rate_left(checking, lead->occurrence->treatment, amount->dressing);
        if (several && left.blocked)
            return "";
        if (several)
            when = "each time";
        else if (exceeds(share, left.share) && !left.blocked)
            when = text_format(checking->arena, "%s (for all limits and the label)", when);
        share = several ? left.share : fmin(share, left.share);
    }
    if (rate_refused(checking, amount, share, &left) || !exceeds(1, share))
        return "";
    return text_format(checking->arena, ", for example %s %s",
                       product_rate_floor(checking, amount, amount->rate * share), when);
}

/* How much less would pass, as what rate; and the day until which to wait, where that helps. */
static void help_window(struct checking *checking, struct report *report, const struct window *window,
                        const struct part *lead)
{
    const struct limit *limit = window->limit;
    const struct dose *doses = window->doses.items;
    double excess = window->run.total - limit->most;
    struct buffer help = {.arena = checking->arena};
    buffer_format(&help, "apply %s less",
                  display_rounded(checking->arena, checking->model, QUANTITY_MASS_RATE, excess,
                                  number_ceiling, limit->nutrient->name));
    if (exceeds(lead->value, excess) || lead->occurrence->times > 1)
        buffer_add_string(&help,
                          lower_text(checking, window_lead(window)->day, lead, 1 - excess / lead->value));
    /* The last dose passes once so many of the first ones have left its run of days that the rest leaves room
     * for it; where none has to leave, it is not the days. */
    size_t at = window->run.end - 1;
    double sum = doses[at].value;
    bool fits = limit->kind == LIMIT_PER_PERIOD && !exceeds(sum, limit->most);
    while (fits && at > window->run.first && !exceeds(sum + doses[at - 1].value, limit->most))
        sum += doses[--at].value;
    if (fits && at > window->run.first)
        buffer_format(&help, "; or wait until %s",
                      display_date(checking->arena, day_after(doses[at - 1].day, limit->time)));
    report_help(checking->model->reports, report, "%s", buffer_string(&help));
}

/* When the doses count together ("in 2027"), and how long that is by the limit ("in a calendar year"). */
static const char *window_when(struct checking *checking, const struct window *window, const char **term)
{
    struct arena *arena = checking->arena;
    const struct limit *limit = window->limit;
    const struct dose_span span = limit_span(limit);
    struct civil_date first = limit->closed_first, last = limit->closed_last;
    day_number first_day = window->doses.items[window->run.first].day;
    day_number last_day = window->doses.items[window->run.end - 1].day;
    *term = "";
    switch (span.kind) {
    case SPAN_YEAR:
        *term = "in a calendar year";
        if (dose_run_complete(&window->run, &window->doses))
            return text_format(arena, "in %d", date_of_day(first_day).year);
        return text_format(arena, "in %d up to %s", date_of_day(first_day).year,
                           display_date(arena, window_lead(window)->day));
    case SPAN_DAYS:
        *term = text_format(arena, "in any %s", display_duration(arena, limit->time));
        if (window->run.first + 1 == window->run.end)
            return text_format(arena, "on %s", display_date(arena, last_day));
        return text_format(arena, "from %s to %s", display_date(arena, first_day),
                           display_date(arena, last_day));
    case SPAN_WINDOW:
        *term = "in these days";
        return text_format(arena, "in the days from %s, %d to %s",
                           text_format(arena, "%.3s %d", month_name(first.month), first.day),
                           dose_window_year(limit, first_day),
                           text_format(arena, "%.3s %d", month_name(last.month), last.day));
    }
    return "";
}

/* With each dose that adds up, and what would pass. */
struct report *tell_window(struct checking *checking, const struct instance *instance)
{
    const struct window *window = instance->what;
    const struct limit *limit = window->limit;
    const struct zone *zone = window->ledger->zone;
    const struct dose *dose = window_lead(window);
    struct part lead = application_lead(dose->application, limit->nutrient);
    bool happened = window->run.planned == 0;
    struct display_pair pair = supply_pair(checking, window->run.total, limit->most, limit->nutrient);
    const char *term, *when = window_when(checking, window, &term);
    struct report *report = limit_finding(
        checking, limit, instance->id,
        ABOUT(&zone->symbol, &lead.occurrence->treatment->symbol, &lead.amount->product->symbol),
        lead.amount->place, "%s too high on %s %s: %s", limit->nutrient->name, name_string(zone->symbol.name),
        when, text_format(checking->arena, "%s; limit %s %s", pair.value, pair.bound, term));
    /* The dates and amounts that add up, and the statements behind them. */
    size_t count = window->run.end - window->run.first;
    for (size_t i = 0; i < count; i++) {
        const struct dose *part = &window->doses.items[window->run.first + i];
        label_parts(checking, report, part->application, limit->nutrient);
        if (i < LISTED)
            report_note(checking->model->reports, report, "%s: %s from %s",
                        display_date(checking->arena, part->day),
                        check_supply_text(checking, part->value, limit->nutrient),
                        application_names(checking, part->application, limit->nutrient));
    }
    if (count > LISTED)
        report_note(checking->model->reports, report, "and %zu more", count - LISTED);
    if (happened)
        note_recovery(checking, report, lead.occurrence->record, zone, lead.amount->product, dose->day);
    else
        help_window(checking, report, window, &lead);
    limit_label(checking, report, limit);
    return report;
}

/* Of a run of days each lead day is an instance of its own; a year or a window is one by itself. */
static void gather_window(struct checking *checking, struct gathering *gathering, const struct instance *of,
                          const struct window *window)
{
    const struct dose *dose = window_lead(window);
    struct part lead = application_lead(dose->application, window->limit->nutrient);
    struct window *kept = ARENA_NEW(checking->arena, struct window);
    *kept = *window;
    struct instance instance = *of;
    instance.place = lead.amount->place;
    instance.id = window->run.planned == 0                ? CHECK_RECORD_OVER_LIMIT
                  : window->limit->kind == LIMIT_PER_YEAR ? CHECK_LIMIT_PER_YEAR
                                                          : CHECK_LIMIT_PER_PERIOD;
    instance.record = window->run.planned == 0 ? lead.occurrence->record : NULL;
    instance.excess = window->run.total;
    instance.day = window->limit->kind == LIMIT_PER_PERIOD ? dose->day : DAY_NONE;
    instance.what = kept;
    gather(checking, gathering, instance);
}

/* A year, or the days of one, is reported as a whole, once; a run of days over the limit once too, and the
 * next begins behind it. Where all of it was done, every record that went over or added to it is reported,
 * since each needs its own `admit`; what is still planned is reported beside them. */
void check_window(struct checking *checking, struct gathering *gathering, const struct instance *of)
{
    const struct limit *limit = of->limit;
    const struct dose_span span = limit_span(limit);
    /* Where all that ever reaches the zone passes, every part of it does. */
    double all = 0;
    for (size_t i = 0; i < of->ledger->applications.count; i++)
        all += supplied_as(of->ledger->applications.items[i].supplied, limit->nutrient);
    if (all <= limit->most)
        return;
    /* What of the nutrient reaches the zone is worked out once: limits by the hundred may count the same. */
    struct arena *scratch = arena_scratch(checking->arena);
    if (!checking->doses)
        checking->doses = ARENA_ARRAY(scratch, checking->model->zones.count, struct doses_kept);
    struct doses_kept *kept = &checking->doses[of->ledger->zone->index];
    size_t at = 0;
    while (at < kept->count && kept->items[at].form != limit->nutrient)
        at++;
    if (at == kept->count) {
        struct yardstick yardstick = {.form = limit->nutrient};
        struct form_doses counted = {limit->nutrient, doses_of(scratch, of->ledger, &yardstick, false)};
        VECTOR_PUSH(scratch, kept, counted);
    }
    struct window window = {limit, of->ledger, kept->items[at].doses, {0}};
    while (dose_run_next(&window.run, &window.doses, &span)) {
        bool over = exceeds(window.run.total, limit->most);
        /* What is too much at once is told of by itself, to who asked for neither. */
        bool at_once = limit->kind == LIMIT_PER_PERIOD && limit->set->always &&
                       !exceeds(window.run.total, window.doses.items[window.run.end - 1].value);
        if (!over || at_once || (span.kind != SPAN_DAYS && !dose_run_complete(&window.run, &window.doses)))
            continue;
        struct window part = window;
        if (span.kind == SPAN_DAYS || window.run.planned) {
            gather_window(checking, gathering, of, &window);
        } else {
            part.run = (struct dose_run){.first = window.run.first, .end = window.run.first};
            while (part.run.end < window.run.end && dose_run_next(&part.run, &part.doses, &span))
                if (exceeds(part.run.total, limit->most))
                    gather_window(checking, gathering, of, &part);
        }
        if (span.kind == SPAN_DAYS && window.run.planned)
            window.run = (struct dose_run){.first = window.run.end, .end = window.run.end};
    }
}
