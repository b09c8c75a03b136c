/* What products' labels allow in a calendar year: how often, and how much.
 *
 * Where more was done than that, it is told as done; but where something planned is left in the year, that is
 * what can be changed, and it is an error. */
#include "compiler/check/checking.h"

struct product_use { /* an amount, and what a zone got of its product in the year up to and with it */
    const struct application *application;
    const struct amount *amount; /* NULL: none */
    int days;                    /* with the product */
    double sum, before;          /* as `label at most ... a year` measures it, with this amount and without */
    bool done;
};

struct product_uses {
    struct product_use *items;
    size_t count, capacity;
};

struct product_year { /* of one zone */
    const struct ledger *ledger;
    int year;
    const struct product *product;
    struct product_use last, last_planned;       /* of all */
    struct product_uses too_often_all;           /* on each day beyond the label's number */
    struct product_uses too_much_all;            /* on each day from the one that passes the label's sum */
    struct product_use once_too_often, too_much; /* of these the one that is told */
};

/* A day's uses are one. */
static void uses_add(struct arena *arena, struct product_uses *uses, const struct product_use *use)
{
    if (uses->count && uses->items[uses->count - 1].application == use->application)
        uses->items[uses->count - 1] = *use;
    else
        VECTOR_PUSH(arena, uses, *use);
}

static void product_year_add(struct arena *arena, struct product_year *of_year,
                             const struct application *application, const struct amount *amount)
{
    const struct product_label *label = &amount->product->label;
    struct product_use use = {.application = application,
                              .amount = amount,
                              .days = of_year->last.days + (of_year->last.application != application),
                              .before = of_year->last.sum,
                              .done = amount_done(application, amount)};
    use.sum = use.before + amount_rate_as(amount, label->year_volume);
    of_year->last = use;
    if (!use.done)
        of_year->last_planned = use;
    if (label->times_a_year > 0 && use.days > label->times_a_year)
        uses_add(arena, &of_year->too_often_all, &use);
    if (exceeds(use.sum, label->year_most))
        uses_add(arena, &of_year->too_much_all, &use);
}

/* The dates on which the zone got the product in that year. */
static void note_product_days(struct checking *checking, struct report *report,
                              const struct product_year *of_year)
{
    const char *dates[LISTED];
    size_t count = 0, left = 0;
    for (size_t i = 0; i < of_year->ledger->applications.count; i++) {
        const struct application *application = &of_year->ledger->applications.items[i];
        bool holds = false;
        for (size_t j = 0; j < application->amounts.count; j++)
            holds = holds || application->amounts.items[j]->product == of_year->product;
        if (!holds || date_of_day(application->day).year != of_year->year)
            continue;
        if (count < LISTED)
            dates[count++] = display_date(checking->arena, application->day);
        else
            left++;
    }
    const char *more = left ? text_format(checking->arena, ", and %zu more", left) : "";
    report_note(checking->model->reports, report, "it is put down on %s%s",
                list_text(checking->arena, dates, count), more);
}

/* What to report of a label passed: the use that passed it; but where that was done and something planned can
 * still be changed, the last that is planned. */
static const struct product_use *use_to_tell(const struct product_year *of_year,
                                             const struct product_use *passed)
{
    return passed->done && of_year->last_planned.amount ? &of_year->last_planned : passed;
}

static struct report *report_use(struct checking *checking, enum check_id id,
                                 const struct product_year *of_year, const struct product_use *use,
                                 const char *sentence)
{
    const struct treatment *treatment = application_owner(use->application, use->amount)->treatment;
    struct report *report =
        finding_add(checking, use->done ? CHECK_RECORD_OVER_LABEL : id,
                    ABOUT(&of_year->ledger->zone->symbol, &treatment->symbol, &of_year->product->symbol),
                    use->amount->place, "%s", sentence);
    note_product_days(checking, report, of_year);
    if (use->done)
        note_recovery(checking, report, application_owner(use->application, use->amount)->record,
                      of_year->ledger->zone, of_year->product, use->application->day);
    return report;
}

static const char *count_sentence(struct checking *checking, const struct product_year *of_year,
                                  const struct product_use *use)
{
    const struct treatment *treatment = application_owner(use->application, use->amount)->treatment;
    const char *product = thing_text(checking, &of_year->product->symbol),
               *zone = thing_text(checking, &of_year->ledger->zone->symbol);
    int times = of_year->product->label.times_a_year;
    if (use == &of_year->once_too_often)
        return text_format(checking->arena,
                           "%s %s treatment number %d with %s in %d on %s; the label's most %s %d",
                           thing_text(checking, &treatment->symbol), verb_be(use->done), use->days, product,
                           of_year->year, zone, verb_be(use->done), times);
    return text_format(
        checking->arena, "%s is one of %d treatments with %s in %d on %s; the label's most is %d",
        thing_text(checking, &treatment->symbol), of_year->last.days, product, of_year->year, zone, times);
}

static struct report *tell_count(struct checking *checking, const struct instance *instance)
{
    const struct product_year *of_year = instance->what;
    const struct product_use *use = use_to_tell(of_year, &of_year->once_too_often);
    const struct product *product = of_year->product;
    struct report *report =
        report_use(checking, CHECK_LABEL_COUNT, of_year, use, count_sentence(checking, of_year, use));
    report_label(checking->model->reports, report, product->label.times_place, "the label");
    if (!use->done)
        report_help(checking->model->reports, report, "%s would pass, or another product",
                    product->label.times_a_year == 1
                        ? "once"
                        : text_format(checking->arena, "%d times or fewer", product->label.times_a_year));
    return report;
}

static const char *sum_sentence(struct checking *checking, const struct product_year *of_year,
                                const struct product_use *use)
{
    const struct product_label *label = &of_year->product->label;
    bool passed = use == &of_year->too_much;
    struct display_pair pair = display_pair(
        checking->arena, checking->model, label->year_volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE,
        passed ? use->sum : of_year->last.sum, label->year_most,
        text_format(checking->arena, "of %s", thing_text(checking, &of_year->product->symbol)));
    const char *zone = thing_text(checking, &of_year->ledger->zone->symbol);
    if (passed)
        return text_format(
            checking->arena, "%s %s brought to %s in %d by %s; the label's most for a year %s %s", zone,
            verb_be(use->done), pair.value, of_year->year,
            display_date(checking->arena, use->application->day), verb_be(use->done), pair.bound);
    return text_format(checking->arena, "%s is brought to %s in %d; the label's most for a year is %s", zone,
                       pair.value, of_year->year, pair.bound);
}

/* `share`: of the use's rate, at which the year's sum would pass. */
static void help_sum(struct checking *checking, struct report *report, const struct product_use *use,
                     double share)
{
    const struct amount *amount = use->amount;
    const struct occurrence *occurrence = application_owner(use->application, amount);
    const char *when = "on that day would pass";
    if (amount->dressing && !amount->dressing->open) {
        struct dressing_room room = dressing_room(checking, occurrence->treatment, amount->dressing);
        if (occurrence->times > 1 && room.blocked)
            return;
        if (occurrence->times > 1)
            when = "each time would pass";
        else if (exceeds(share, room.share) && !room.blocked)
            when = "on that day would pass, by the label and all limits on amounts";
        share = occurrence->times > 1 ? room.share : fmin(share, room.share);
    }
    if (exceeds(share, 0) && !rate_below_label(amount, share))
        report_help(checking->model->reports, report, "%s or less %s",
                    product_rate_floor(checking, amount, amount->rate * share), when);
}

static struct report *tell_sum(struct checking *checking, const struct instance *instance)
{
    const struct product_year *of_year = instance->what;
    const struct product_use *use = use_to_tell(of_year, &of_year->too_much);
    const struct product_label *label = &of_year->product->label;
    struct report *report =
        report_use(checking, CHECK_LABEL_YEAR, of_year, use, sum_sentence(checking, of_year, use));
    double rate = amount_rate_as(use->amount, label->year_volume);
    double room = label->year_most - (use == &of_year->too_much ? use->before : of_year->last.sum - rate);
    report_label(checking->model->reports, report, label->year_place, "the label");
    if (!use->done && exceeds(room, 0))
        help_sum(checking, report, use, room / rate);
    return report;
}

/* ---- walking the years ---- */

/* What is to be told of a zone's year with a product. */
struct year_bound {
    /* Those with which the label was passed, none where it is kept; and where the one told stands. */
    const struct product_uses *(*passed)(const struct product_year *of_year);
    struct product_use *(*told)(struct product_year *of_year);
    double (*excess)(const struct product_year *of_year);
    struct report *(*tell)(struct checking *checking, const struct instance *instance);
};

static void gather_use(struct checking *checking, struct gathering *gathering, const struct year_bound *bound,
                       const struct product_year *of_year, const struct product_use *passed)
{
    struct product_year *kept = ARENA_NEW(checking->arena, struct product_year);
    *kept = *of_year;
    *bound->told(kept) = *passed;
    const struct product_use *use = use_to_tell(kept, bound->told(kept));
    gather(checking, gathering,
           (struct instance){.place = use->amount->place,
                             .record =
                                 use->done ? application_owner(use->application, use->amount)->record : NULL,
                             .bound = of_year->product->index,
                             .excess = bound->excess(kept),
                             .ledger = of_year->ledger,
                             .day = DAY_NONE,
                             .what = kept});
}

/* Where all was done, each record that passed the label or added to what had passed it owns up for itself. */
static void product_year_end(struct checking *checking, struct gathering *gathering,
                             const struct year_bound *bound, const struct product_year *of_year)
{
    if (!of_year->ledger)
        return;
    const struct product_uses *passed = bound->passed(of_year);
    size_t count = passed->count && of_year->last_planned.amount ? 1 : passed->count;
    for (size_t i = 0; i < count; i++)
        gather_use(checking, gathering, bound, of_year, &passed->items[i]);
}

/* Takes an application of the zone into the years of its products; a year that is left behind has ended. */
static void product_years_take(struct checking *checking, struct gathering *gathering,
                               const struct year_bound *bound, struct product_year *of_years,
                               const struct ledger *ledger, const struct application *application)
{
    int year = date_of_day(application->day).year;
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        struct product_year *of_year = &of_years[amount->product->index];
        if (of_year->ledger != ledger || of_year->year != year) {
            product_year_end(checking, gathering, bound, of_year);
            *of_year = (struct product_year){.ledger = ledger, .year = year, .product = amount->product};
        }
        product_year_add(checking->arena, of_year, application, amount);
    }
}

static void walk_product_years(struct checking *checking, const struct year_bound *bound)
{
    size_t products = checking->model->products.count;
    struct product_year *of_years = ARENA_ARRAY(checking->arena, products + 1, struct product_year);
    struct gathering gathering = {.groups = {0}};
    for (size_t i = 0; i < checking->model->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[i];
        for (size_t j = 0; j < ledger->applications.count; j++)
            product_years_take(checking, &gathering, bound, of_years, ledger, &ledger->applications.items[j]);
    }
    for (size_t i = 0; i < products; i++)
        product_year_end(checking, &gathering, bound, &of_years[i]);
    gathering_tell(checking, &gathering, bound->tell);
}

static const struct product_uses *count_passed(const struct product_year *of_year)
{
    return &of_year->too_often_all;
}

static struct product_use *count_told(struct product_year *of_year)
{
    return &of_year->once_too_often;
}

static double count_excess(const struct product_year *of_year)
{
    return of_year->last.days;
}

static const struct product_uses *sum_passed(const struct product_year *of_year)
{
    return &of_year->too_much_all;
}

static struct product_use *sum_told(struct product_year *of_year)
{
    return &of_year->too_much;
}

static double sum_excess(const struct product_year *of_year)
{
    return of_year->last.sum;
}

void check_label_counts(struct checking *checking)
{
    walk_product_years(checking, &(struct year_bound){count_passed, count_told, count_excess, tell_count});
}

void check_label_years(struct checking *checking)
{
    walk_product_years(checking, &(struct year_bound){sum_passed, sum_told, sum_excess, tell_sum});
}
