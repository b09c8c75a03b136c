/* What is put down, against the limits on amounts. A limit passed is told once for a zone and day, or for a
 * zone and run of days. */
#include "compiler/check/checking.h"

#include <assert.h>

enum { LISTED = 8 /* places or dates one report lists; the rest is counted */ };

static bool report_has_label(const struct report *report, struct place place)
{
    bool found = report->place.source == place.source && report->place.start == place.start;
    for (size_t i = 0; i < report->labels.count; i++)
        found = found || (report->labels.items[i].place.source == place.source &&
                          report->labels.items[i].place.start == place.start);
    return found;
}

/* Points at the other statements that take part. */
static void label_parts(struct checking *checking, struct report *report,
                        const struct application *application, const struct nutrient_form *form)
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

/* The dressing's own quantity so that the lead part comes to `value`; only where the text to change is
 * certain. */
static void fix_dressing(struct checking *checking, struct report *report, const struct part *lead,
                         double value)
{
    const struct dressing *dressing = lead->amount->dressing;
    if (dressing->open)
        return; /* its rate stands nowhere */
    double rate = dressing->rate * value / lead->value;
    enum quantity quantity = dressing->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    const char *what = dressing->by_supply ? dressing->nutrient->name : NULL;
    report_fix(checking->model->reports, report, false, dressing->rate_place,
               display_floor(checking->arena, checking->model, quantity, rate, what),
               "lower the rate to the most that passes this limit");
}

/* ---- per application ---- */

static void help_application(struct checking *checking, struct report *report, const struct part *lead,
                             const struct nutrient_form *form, double room)
{
    struct reports *reports = checking->model->reports;
    const char *product = thing_text(checking, &lead->amount->product->thing);
    if (!lead->amount->dressing)
        return;
    if (!exceeds(room, 0)) {
        report_help(reports, report, "%s on another day may pass; beside the rest of this day none does",
                    product);
        return;
    }
    report_help(reports, report, "%s, that is %s, or less would pass",
                display_floor(checking->arena, checking->model, QUANTITY_MASS_RATE, room, form->name),
                product_rate_floor(checking, lead->amount, lead->amount->rate * room / lead->value));
    if (report->labels.count == 0)
        fix_dressing(checking, report, lead, room);
}

static void report_application(struct checking *checking, const struct limit *limit,
                               const struct ledger *ledger, const struct application *application,
                               double value)
{
    const struct nutrient_form *form = limit->nutrient;
    struct part lead = application_lead(application, form);
    bool happened = application_done(application, form);
    struct display_pair pair = supply_pair(checking, value, limit->most, form);
    struct report *report = finding_add(
        checking, happened ? CHECK_RECORD_OVER_LIMIT : CHECK_LIMIT_PER_APPLICATION,
        ABOUT(&ledger->zone->thing, &lead.occurrence->treatment->thing, &lead.amount->product->thing),
        lead.amount->place, "%s %s %s on %s on %s; the most for one application %s %s",
        application_names(checking, application, form), verb_put(happened), pair.value,
        thing_text(checking, &ledger->zone->thing), display_date(checking->arena, application->day),
        verb_be(happened), pair.bound);
    label_parts(checking, report, application, form);
    if (happened)
        note_recovery(checking, report, lead.occurrence->record, ledger->zone, lead.amount->product,
                      application->day);
    else
        help_application(checking, report, &lead, form, limit->most - (value - lead.value));
    limit_label(checking, report, limit);
}

static void check_ledger_per_application(struct checking *checking, const struct limit *limit,
                                         const struct ledger *ledger)
{
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        double value = supplied_as(application->supplied, limit->nutrient);
        bool in_force = !limit->in_window || check_window_holds(limit, application->day);
        if (in_force && exceeds(value, limit->most))
            report_application(checking, limit, ledger, application, value);
    }
}

/* Calls `check` for every zone's ledger that each limit of the kind binds. */
static void check_ledgers(struct checking *checking, enum limit_kind kind,
                          void (*check)(struct checking *, const struct limit *, const struct ledger *))
{
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, kind, &at)) != NULL;)
        for (size_t i = 0; i < checking->model->zones.count; i++)
            if (limit_binds(limit, checking->season->ledgers[i].zone))
                check(checking, limit, &checking->season->ledgers[i]);
}

void check_per_application(struct checking *checking)
{
    check_ledgers(checking, LIMIT_PER_APPLICATION, check_ledger_per_application);
}

/* ---- over a year or a run of days ---- */

struct window { /* applications [first, end) of a ledger */
    const struct limit *limit;
    const struct ledger *ledger;
    size_t first, end;
    double total; /* of the limit's nutrient, kg/m2 of what its form names */
};

static double window_value(const struct window *window, size_t at)
{
    return supplied_as(window->ledger->applications.items[at].supplied, window->limit->nutrient);
}

/* The last application that can still be changed, or the last of all. */
static const struct application *window_lead(const struct window *window)
{
    const struct nutrient_form *form = window->limit->nutrient;
    const struct application *last = NULL;
    for (size_t i = window->end; i-- > window->first;) {
        const struct application *application = &window->ledger->applications.items[i];
        if (window_value(window, i) <= 0)
            continue;
        if (!last || !application_done(application, form))
            last = application;
        if (!application_done(application, form))
            break;
    }
    assert(last && "what passes a limit was put down by something");
    return last;
}

static bool window_happened(const struct window *window)
{
    for (size_t i = window->first; i < window->end; i++)
        if (!application_done(&window->ledger->applications.items[i], window->limit->nutrient))
            return false;
    return true;
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
    *day = window->ledger->applications.items[i - 1].day + limit->days;
    return true;
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
    if (exceeds(lead->value, excess))
        buffer_format(
            &help, ", such as %s on %s",
            product_rate_floor(checking, lead->amount, lead->amount->rate * (1 - excess / lead->value)),
            display_date(checking->arena, application->day));
    if (window_wait(window, &day))
        buffer_format(&help, "; so would waiting until %s", display_date(checking->arena, day));
    report_help(checking->model->reports, report, "%s", buffer_string(&help));
}

/* `when`: "in 2027"; `term`: "in a year". */
static void report_window(struct checking *checking, enum check_id id, const struct window *window,
                          const char *when, const char *term)
{
    const struct nutrient_form *form = window->limit->nutrient;
    const struct application *application = window_lead(window);
    struct part lead = application_lead(application, form);
    bool happened = window_happened(window);
    struct display_pair pair = supply_pair(checking, window->total, window->limit->most, form);
    struct report *report = finding_add(
        checking, happened ? CHECK_RECORD_OVER_LIMIT : id,
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
}

static int year_of(const struct ledger *ledger, size_t at)
{
    return date_of_day(ledger->applications.items[at].day).year;
}

static void check_ledger_per_year(struct checking *checking, const struct limit *limit,
                                  const struct ledger *ledger)
{
    struct window window = {limit, ledger, 0, 0, 0};
    while (window.first < ledger->applications.count) {
        int year = year_of(ledger, window.first);
        window.end = window.first;
        window.total = 0;
        while (window.end < ledger->applications.count && year_of(ledger, window.end) == year)
            window.total += window_value(&window, window.end++);
        if (exceeds(window.total, limit->most))
            report_window(checking, CHECK_LIMIT_PER_YEAR, &window,
                          text_format(checking->arena, "in %d", year), "in a calendar year");
        window.first = window.end;
    }
}

void check_per_year(struct checking *checking)
{
    check_ledgers(checking, LIMIT_PER_YEAR, check_ledger_per_year);
}

static void report_period(struct checking *checking, const struct window *window)
{
    const struct application *applications = window->ledger->applications.items;
    report_window(
        checking, CHECK_LIMIT_PER_PERIOD, window,
        text_format(checking->arena, "from %s to %s",
                    display_date(checking->arena, applications[window->first].day),
                    display_date(checking->arena, applications[window->end - 1].day)),
        text_format(checking->arena, "in any %s", display_days(checking->arena, window->limit->days)));
}

/* Two pointers: `end` moves on by one application, `first` follows to stay within the days. A run that passes
 * the limit is told once; the next one told begins after it. What has happened is told once too, but does not
 * hide what would still be added to it. The sum is added up anew when the run has been emptied and otherwise
 * loses what leaves it, so it is off by no more than rounding over one run. */
static void check_ledger_per_period(struct checking *checking, const struct limit *limit,
                                    const struct ledger *ledger)
{
    const struct application *applications = ledger->applications.items;
    struct window window = {limit, ledger, 0, 0, 0};
    size_t told = 0; /* where the last run told of as done ends */
    while (window.end < ledger->applications.count) {
        window.total += window_value(&window, window.end++);
        while (applications[window.end - 1].day - applications[window.first].day >= limit->days)
            window.total -= window_value(&window, window.first++);
        bool over = exceeds(window.total, limit->most), happened = over && window_happened(&window);
        if (over && (!happened || told <= window.first))
            report_period(checking, &window);
        if (happened && told <= window.first)
            told = window.end;
        if (over && !happened)
            window.first = window.end;
        if (window.first == window.end)
            window.total = 0;
    }
}

void check_per_period(struct checking *checking)
{
    check_ledgers(checking, LIMIT_PER_PERIOD, check_ledger_per_period);
}

/* ---- the slow share ---- */

static void report_slow_share(struct checking *checking, const struct limit *limit,
                              const struct ledger *ledger, const struct application *application,
                              double share)
{
    static const struct nutrient_form nitrogen = {"N", NUTRIENT_N, 1};
    struct part lead = application_lead(application, &nitrogen);
    bool happened = application_done(application, &nitrogen);
    struct display_pair pair = display_share_pair(checking->arena, share, limit->most);
    struct report *report = finding_add(
        checking, happened ? CHECK_RECORD_SLOW_SHARE_LOW : CHECK_SLOW_SHARE_LOW,
        ABOUT(&ledger->zone->thing, &lead.occurrence->treatment->thing, &lead.amount->product->thing),
        lead.amount->place, "%s of the N that %s %s on %s on %s %s slowly available; the least %s %s",
        pair.value, application_names(checking, application, &nitrogen), verb_put(happened),
        thing_text(checking, &ledger->zone->thing), display_date(checking->arena, application->day),
        verb_be(happened), verb_be(happened), pair.bound);
    label_parts(checking, report, application, &nitrogen);
    const struct product *product = lead.amount->product;
    if (product->slow_place.source)
        report_label(checking->model->reports, report, product->slow_place, "%s by its label",
                     display_share(checking->arena, product->slow_share));
    if (!happened)
        report_help(
            checking->model->reports, report,
            "a product with %s or more of its N slowly available would pass; if the label guarantees it, "
            "state `slow` for %s",
            pair.bound, thing_text(checking, &product->thing));
    limit_label(checking, report, limit);
}

static void check_ledger_slow_share(struct checking *checking, const struct limit *limit,
                                    const struct ledger *ledger)
{
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const double *supplied = ledger->applications.items[i].supplied;
        double share = supplied[NUTRIENT_SLOW_N] / supplied[NUTRIENT_N];
        if (supplied[NUTRIENT_N] > 0 && exceeds(limit->most, share))
            report_slow_share(checking, limit, ledger, &ledger->applications.items[i], share);
    }
}

void check_slow_share(struct checking *checking)
{
    check_ledgers(checking, LIMIT_SLOW_SHARE, check_ledger_slow_share);
}
