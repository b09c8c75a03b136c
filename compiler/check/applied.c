/* What is put down, against the limits on amounts. A limit passed by one statement is told once, however many
 * zones and days show it. */
#include "compiler/check/checking.h"

#include <assert.h>
#include <math.h>

enum { LISTED = 8 /* places or dates one report lists; the rest is counted */ };

static bool report_has_label(const struct report *report, struct place place)
{
    bool found = report->place.source == place.source && report->place.start == place.start;
    for (size_t i = 0; i < report->labels.count; i++)
        found = found || (report->labels.items[i].place.source == place.source &&
                          report->labels.items[i].place.start == place.start);
    return found;
}

void label_parts(struct checking *checking, struct report *report, const struct application *application,
                 const struct nutrient_form *form)
{
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        double value = supplied_as(amount->supplied, form);
        if (value > 0 && report->labels.count < LISTED && !report_has_label(report, amount->place))
            report_label(checking->model->reports, report, amount->place, "%s from %s",
                         check_supply_text(checking, value, form),
                         thing_text(checking, &amount->product->thing));
    }
}

/* The dressing's own quantity at `share` of it; only where the text to change is certain. */
static void fix_dressing(struct checking *checking, struct report *report, const struct part *lead,
                         double share)
{
    const struct dressing *dressing = lead->amount->dressing;
    if (dressing->open)
        return; /* its rate stands nowhere */
    enum quantity quantity = dressing->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    const char *what = dressing->by_supply ? dressing->nutrient->name : NULL;
    report_fix(checking->model->reports, report, false, dressing->rate_place,
               display_floor(checking->arena, checking->model, quantity, dressing->rate * share, what),
               "lower the rate to the most that passes");
}

/* ---- per application ---- */

struct dose { /* of a nutrient, to one zone on one day */
    const struct application *application;
    double value; /* kg/m2 of what the limit's form names */
};

/* What the lead may come to by this limit (`room`) is no help where another limit or the label asks for less,
 * or the label for more. */
static void help_application(struct checking *checking, struct report *report, const struct part *lead,
                             const struct nutrient_form *form, double room)
{
    struct reports *reports = checking->model->reports;
    const struct amount *amount = lead->amount;
    const char *product = thing_text(checking, &amount->product->thing);
    if (!amount->dressing)
        return;
    if (!exceeds(room, 0)) {
        report_help(reports, report, "%s on another day may pass; beside the rest of this day none does",
                    product);
        return;
    }
    double here = room / lead->value;
    struct dressing_room all = dressing_room(checking, lead->occurrence->treatment, amount->dressing);
    bool tighter = exceeds(here, all.share);
    double share = tighter ? all.share : here;
    if (rate_below_label(amount, share)) {
        report_help(reports, report,
                    "the limits leave room for %s, and its label asks for more: use another product",
                    product_rate_floor(checking, amount, amount->rate * share));
        return;
    }
    report_help(
        reports, report, "%s, that is %s, or less would pass%s",
        display_floor(checking->arena, checking->model, QUANTITY_MASS_RATE, lead->value * share, form->name),
        product_rate_floor(checking, amount, amount->rate * share),
        all.blocked ? " this limit"
        : tighter   ? " all limits on amounts and the label"
                    : "");
    if (report->labels.count == 0)
        fix_dressing(checking, report, lead, share);
}

/* " by spray in such heat": of which applications the limit speaks; "" of all. */
static const char *limit_scope(struct checking *checking, const struct limit *limit)
{
    static const char *const means[] = {
        [MEANS_ANY] = "", [MEANS_SPRAY] = " by spray", [MEANS_SPREADER] = " by spreader"};
    const char *kind = limit->product_kind
                           ? text_format(checking->arena, " of kind %s",
                                         text_string(checking->arena, limit->product_kind->text))
                           : "";
    return text_format(checking->arena, "%s%s%s%s", kind, means[limit->means],
                       isnan(limit->above) ? "" : " in such heat",
                       isnan(limit->unless_below) ? "" : " at that time of year");
}

/* What the limit takes for granted, since the plan does not say it. */
static void note_unknown(struct checking *checking, struct report *report, const struct limit *limit,
                         const struct zone *zone, day_number day)
{
    struct reports *reports = checking->model->reports;
    bool cool = !isnan(limit->unless_below) &&
                season_reading(checking->season, WEATHER_HIGH, day).origin == READING_NONE;
    if (limit->but != BUT_NONE && !zone->lawn->grass)
        report_note(reports, report,
                    "%s states no grass; `grass NAME` in its lawn settles whether this is about it",
                    thing_text(checking, &zone->thing));
    if (cool)
        report_note(
            reports, report,
            "the plan states no high of %s; `normals` in a `weather` block settle whether it is that warm",
            month_name(date_of_day(day).month));
}

static struct report *tell_application(struct checking *checking, const struct instance *instance)
{
    const struct limit *limit = instance->limit;
    const struct nutrient_form *form = limit->nutrient;
    const struct dose *dose = instance->what;
    const struct application *application = dose->application;
    const struct zone *zone = instance->ledger->zone;
    struct part lead = limit_lead(application, limit);
    bool happened = application_done(application, form);
    struct display_pair pair = supply_pair(checking, dose->value, limit->most, form);
    struct report *report =
        limit_finding(checking, limit, happened ? CHECK_RECORD_OVER_LIMIT : CHECK_LIMIT_PER_APPLICATION,
                      ABOUT(&zone->thing, &lead.occurrence->treatment->thing, &lead.amount->product->thing),
                      lead.amount->place, "%s %s %s on %s on %s; the most for one application%s %s %s",
                      application_names(checking, application, form), verb_put(happened), pair.value,
                      thing_text(checking, &zone->thing), display_date(checking->arena, application->day),
                      limit_scope(checking, limit), verb_be(happened), pair.bound);
    label_parts(checking, report, application, form);
    if (happened)
        note_recovery(checking, report, lead.occurrence->record, zone, lead.amount->product,
                      application->day);
    else
        help_application(checking, report, &lead, form, limit->most - (dose->value - lead.value));
    limit_label(checking, report, limit);
    note_unknown(checking, report, limit, zone, application->day);
    return report;
}

void check_ledgers(struct checking *checking, enum limit_kind kind,
                   void (*check)(struct checking *, struct gathering *, const struct instance *),
                   struct report *(*tell)(struct checking *, const struct instance *))
{
    struct gathering gathering = {.groups = {0}};
    struct instance instance = {.limit = NULL};
    for (size_t at = 0; (instance.limit = limit_next(checking, kind, &at)) != NULL;) {
        instance.bound = at;
        for (size_t i = 0; i < checking->model->zones.count; i++) {
            instance.ledger = &checking->season->ledgers[i];
            if (limit_binds(instance.limit, instance.ledger->zone))
                check(checking, &gathering, &instance);
        }
    }
    gathering_tell(checking, &gathering, tell);
}

static void check_ledger_per_application(struct checking *checking, struct gathering *gathering,
                                         const struct instance *of)
{
    const struct limit *limit = of->limit;
    for (size_t i = 0; i < of->ledger->applications.count; i++) {
        const struct application *application = &of->ledger->applications.items[i];
        double value = limit_dose(limit, application);
        if (!check_most_holds(checking, limit, application) || !exceeds(value, limit->most))
            continue;
        struct dose *dose = ARENA_NEW(checking->arena, struct dose);
        *dose = (struct dose){application, value};
        struct instance instance = *of;
        instance.excess = value;
        instance.day = application->day;
        instance.what = dose;
        struct part lead = limit_lead(application, limit);
        instance.place = lead.amount->place;
        instance.record = application_done(application, limit->nutrient) ? lead.occurrence->record : NULL;
        gather(checking, gathering, instance);
    }
}

void check_per_application(struct checking *checking)
{
    check_ledgers(checking, LIMIT_PER_APPLICATION, check_ledger_per_application, tell_application);
}

/* ---- over a year or a run of days ---- */

struct window { /* applications [first, end) of a ledger */
    const struct limit *limit;
    const struct ledger *ledger;
    size_t first, end;
    double total;   /* of the limit's nutrient, kg/m2 of what its form names */
    size_t planned; /* how many of them are still to come, as to that nutrient */
};

static struct window window_of(const struct instance *of)
{
    return (struct window){.limit = of->limit, .ledger = of->ledger};
}

static double window_value(const struct window *window, size_t at)
{
    return supplied_as(window->ledger->applications.items[at].supplied, window->limit->nutrient);
}

static bool window_done_at(const struct window *window, size_t at)
{
    return application_done(&window->ledger->applications.items[at], window->limit->nutrient);
}

static void window_take(struct window *window)
{
    window->planned += !window_done_at(window, window->end);
    window->total += window_value(window, window->end++);
}

static void window_drop(struct window *window)
{
    window->planned -= !window_done_at(window, window->first);
    window->total -= window_value(window, window->first++);
}

static void window_empty(struct window *window)
{
    window->first = window->end;
    window->total = 0;
    window->planned = 0;
}

static bool window_happened(const struct window *window)
{
    return window->planned == 0;
}

/* The last application that can still be changed, or the last of all. */
static const struct application *window_lead(const struct window *window)
{
    for (size_t i = window->end; i-- > window->first;)
        if (window_value(window, i) > 0 && (window_happened(window) || !window_done_at(window, i)))
            return &window->ledger->applications.items[i];
    assert(false && "what passes a limit was put down by something");
    return NULL;
}

/* The dates and amounts that add up, and the statements behind them. */
static void tell_window(struct checking *checking, struct report *report, const struct window *window)
{
    const struct nutrient_form *form = window->limit->nutrient;
    size_t told = 0, left = 0;
    for (size_t i = window->first; i < window->end; i++) {
        const struct application *application = &window->ledger->applications.items[i];
        if (window_value(window, i) <= 0)
            continue;
        label_parts(checking, report, application, form);
        if (told++ < LISTED)
            report_note(checking->model->reports, report, "%s: %s by %s",
                        display_date(checking->arena, application->day),
                        check_supply_text(checking, window_value(window, i), form),
                        application_names(checking, application, form));
        else
            left++;
    }
    if (left)
        report_note(checking->model->reports, report, "and %zu more", left);
}

/* The first day on which the window's last application would pass; false when waiting does not help. */
static bool window_wait(const struct window *window, day_number *day)
{
    const struct limit *limit = window->limit;
    double sum = window_value(window, window->end - 1);
    size_t i = window->end - 1;
    if (limit->kind != LIMIT_PER_PERIOD || exceeds(sum, limit->most))
        return false;
    while (i > window->first && !exceeds(sum + window_value(window, i - 1), limit->most))
        sum += window_value(window, --i);
    if (i == window->first)
        return false;
    *day = day_after(window->ledger->applications.items[i - 1].day, limit->time);
    return true;
}

/* ", such as 3 lb of feed per 1000 sqft on Mon 2027-05-10": the lead at `share` of its rate, which passes
 * this limit; what stands in the plan once and comes several times is changed each time, and so as all limits
 * and the label allow. "" where that does not help. */
static const char *lower_text(struct checking *checking, const struct application *application,
                              const struct part *lead, double share)
{
    const struct amount *amount = lead->amount;
    const struct treatment *treatment = lead->occurrence->treatment;
    const char *when = text_format(checking->arena, "on %s", display_date(checking->arena, application->day));
    if (amount->dressing && !amount->dressing->open) {
        struct dressing_room room = dressing_room(checking, treatment, amount->dressing);
        if (lead->occurrence->times > 1 && room.blocked)
            return "";
        bool tighter = exceeds(share, room.share);
        if (lead->occurrence->times > 1)
            when = "each time";
        else if (tighter && !room.blocked)
            when = text_format(checking->arena, "%s, by all limits on amounts and the label", when);
        share = lead->occurrence->times > 1 ? room.share : fmin(share, room.share);
    }
    if (rate_below_label(amount, share) || !exceeds(1, share))
        return "";
    return text_format(checking->arena, ", such as %s %s",
                       product_rate_floor(checking, amount, amount->rate * share), when);
}

static void help_window(struct checking *checking, struct report *report, const struct window *window,
                        const struct application *application, const struct part *lead)
{
    double excess = window->total - window->limit->most;
    struct buffer help = {.arena = checking->arena};
    day_number day;
    buffer_format(&help, "%s less would pass",
                  display_ceiling(checking->arena, checking->model, QUANTITY_MASS_RATE, excess,
                                  window->limit->nutrient->name));
    if (exceeds(lead->value, excess) || lead->occurrence->times > 1)
        buffer_add_string(&help, lower_text(checking, application, lead, 1 - excess / lead->value));
    if (window_wait(window, &day))
        buffer_format(&help, "; so would waiting until %s", display_date(checking->arena, day));
    report_help(checking->model->reports, report, "%s", buffer_string(&help));
}

/* `when`: "in 2027"; `term`: "in a year". */
static struct report *report_window(struct checking *checking, enum check_id id, const struct window *window,
                                    const char *when, const char *term)
{
    const struct nutrient_form *form = window->limit->nutrient;
    const struct application *application = window_lead(window);
    struct part lead = application_lead(application, form);
    bool happened = window_happened(window);
    struct display_pair pair = supply_pair(checking, window->total, window->limit->most, form);
    struct report *report = limit_finding(
        checking, window->limit, happened ? CHECK_RECORD_OVER_LIMIT : id,
        ABOUT(&window->ledger->zone->thing, &lead.occurrence->treatment->thing, &lead.amount->product->thing),
        lead.amount->place, "%s %s %s %s; the most %s %s %s",
        thing_text(checking, &window->ledger->zone->thing), happened ? "got" : "would get", pair.value, when,
        term, verb_be(happened), pair.bound);
    tell_window(checking, report, window);
    if (happened)
        note_recovery(checking, report, lead.occurrence->record, window->ledger->zone, lead.amount->product,
                      application->day);
    else
        help_window(checking, report, window, application, &lead);
    limit_label(checking, report, window->limit);
    return report;
}

static void gather_window(struct checking *checking, struct gathering *gathering, const struct instance *of,
                          const struct window *window, bool dated)
{
    const struct application *application = window_lead(window);
    struct part lead = application_lead(application, window->limit->nutrient);
    struct window *kept = ARENA_NEW(checking->arena, struct window);
    *kept = *window;
    struct instance instance = *of;
    instance.place = lead.amount->place;
    instance.record = window_happened(window) ? lead.occurrence->record : NULL;
    instance.excess = window->total;
    instance.day = dated ? application->day : DAY_NONE;
    instance.what = kept;
    gather(checking, gathering, instance);
}

static int year_of(const struct ledger *ledger, size_t at)
{
    return date_of_day(ledger->applications.items[at].day).year;
}

/* Every record that passed the limit or added to what had passed it: each owns up for itself. */
static void gather_year_done(struct checking *checking, struct gathering *gathering,
                             const struct instance *of, const struct window *year)
{
    struct window window = *year;
    window.end = year->first;
    window.total = 0;
    while (window.end < year->end) {
        window_take(&window);
        if (window_value(&window, window.end - 1) > 0 && exceeds(window.total, of->limit->most))
            gather_window(checking, gathering, of, &window, false);
    }
}

static void check_ledger_per_year(struct checking *checking, struct gathering *gathering,
                                  const struct instance *of)
{
    const struct ledger *ledger = of->ledger;
    struct window window = window_of(of);
    while (window.first < ledger->applications.count) {
        int year = year_of(ledger, window.first);
        while (window.end < ledger->applications.count && year_of(ledger, window.end) == year)
            window_take(&window);
        if (exceeds(window.total, of->limit->most) && window_happened(&window))
            gather_year_done(checking, gathering, of, &window);
        else if (exceeds(window.total, of->limit->most))
            gather_window(checking, gathering, of, &window, false);
        window_empty(&window);
    }
}

static struct report *tell_year(struct checking *checking, const struct instance *instance)
{
    const struct window *window = instance->what;
    int year = year_of(window->ledger, window->first);
    const char *when = text_format(checking->arena, "in %d", year);
    if (window->end < window->ledger->applications.count && year_of(window->ledger, window->end) == year)
        when = text_format(checking->arena, "%s up to %s", when,
                           display_date(checking->arena, window_lead(window)->day));
    return report_window(checking, CHECK_LIMIT_PER_YEAR, window, when, "in a calendar year");
}

void check_per_year(struct checking *checking)
{
    check_ledgers(checking, LIMIT_PER_YEAR, check_ledger_per_year, tell_year);
}

static struct report *tell_period(struct checking *checking, const struct instance *instance)
{
    const struct window *window = instance->what;
    const struct application *applications = window->ledger->applications.items;
    const char *first = display_date(checking->arena, applications[window->first].day);
    const char *last = display_date(checking->arena, applications[window->end - 1].day);
    return report_window(
        checking, CHECK_LIMIT_PER_PERIOD, window,
        window->first + 1 == window->end ? text_format(checking->arena, "on %s", last)
                                         : text_format(checking->arena, "from %s to %s", first, last),
        text_format(checking->arena, "in any %s", display_duration(checking->arena, window->limit->time)));
}

/* ---- days of every year ---- */

static struct report *tell_per_window(struct checking *checking, const struct instance *instance)
{
    const struct window *window = instance->what;
    struct civil_date first = window->limit->closed_first, last = window->limit->closed_last;
    int year = check_window_year(window->limit, window->ledger->applications.items[window->first].day);
    return report_window(checking, CHECK_LIMIT_PER_PERIOD, window,
                         text_format(checking->arena, "in the days from %.3s %d, %d to %.3s %d",
                                     month_name(first.month), first.day, year, month_name(last.month),
                                     last.day),
                         "in these days");
}

/* Applications outside the days end the window before them. */
static void check_ledger_per_window(struct checking *checking, struct gathering *gathering,
                                    const struct instance *of)
{
    const struct limit *limit = of->limit;
    const struct application *applications = of->ledger->applications.items;
    struct window window = window_of(of);
    while (window.first < of->ledger->applications.count) {
        int year = check_window_year(limit, applications[window.first].day);
        while (window.end < of->ledger->applications.count &&
               check_window_holds(limit, applications[window.end].day) &&
               check_window_year(limit, applications[window.end].day) == year)
            window_take(&window);
        if (exceeds(window.total, limit->most) && window_happened(&window))
            gather_year_done(checking, gathering, of, &window);
        else if (exceeds(window.total, limit->most))
            gather_window(checking, gathering, of, &window, false);
        if (window.end == window.first)
            window.end++;
        window_empty(&window);
    }
}

/* ---- any run of days ---- */

/* Two pointers: `end` moves on by one application, `first` follows to stay within the days. A run that passes
 * the limit is told once; the next one told begins after it. Of what has happened each record is told that
 * passed the limit or added to what had: each owns up for itself. It does not hide what would still be added
 * to it. The sum is added up anew when the run has been emptied and otherwise loses what leaves it, so it is
 * off by no more than rounding over one run. */
static void check_ledger_per_period(struct checking *checking, struct gathering *gathering,
                                    const struct instance *of)
{
    const struct limit *limit = of->limit;
    const struct ledger *ledger = of->ledger;
    const struct application *applications = ledger->applications.items;
    struct window window = window_of(of);
    while (window.end < ledger->applications.count) {
        window_take(&window);
        while (applications[window.end - 1].day >= day_after(applications[window.first].day, limit->time))
            window_drop(&window);
        double last = window_value(&window, window.end - 1);
        bool over = exceeds(window.total, limit->most) && last > 0;
        /* What is too much at once is told of by itself, to who asked for neither. */
        over = over && !(limit->set->always && !exceeds(window.total, last));
        if (over)
            gather_window(checking, gathering, of, &window, true);
        if ((over && !window_happened(&window)) || window.first == window.end)
            window_empty(&window);
    }
}

void check_per_period(struct checking *checking)
{
    check_ledgers(checking, LIMIT_PER_PERIOD, check_ledger_per_period, tell_period);
    check_ledgers(checking, LIMIT_PER_WINDOW, check_ledger_per_window, tell_per_window);
}
