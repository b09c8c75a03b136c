/* What is put down over a year, a run of days or the same days of every year, against the limits on amounts.
 * A limit passed by one statement is told once, however many zones and days show it. */
#include "compiler/check/checking.h"

#include <assert.h>
#include <math.h>

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
    struct report *report =
        limit_finding(checking, window->limit, happened ? CHECK_RECORD_OVER_LIMIT : id,
                      ABOUT(&window->ledger->zone->symbol, &lead.occurrence->treatment->symbol,
                            &lead.amount->product->symbol),
                      lead.amount->place, "%s %s %s %s; the most %s %s %s",
                      thing_text(checking, &window->ledger->zone->symbol), happened ? "got" : "would get",
                      pair.value, when, term, verb_be(happened), pair.bound);
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
