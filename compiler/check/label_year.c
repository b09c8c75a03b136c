/* What products' labels allow in a calendar year: how often, and how much. */
#include "compiler/check/checking.h"

enum { LISTED = 8 /* dates one report lists; the rest is counted */ };

struct product_year { /* of one zone, up to and with an application */
    const struct ledger *ledger;
    size_t at; /* the application */
    const struct amount *amount;
    bool done; /* the amount has been put down */
    int year;
    int days;          /* with the product */
    double sum;        /* as `label at most ... a year` measures it */
    bool first_of_day; /* the amount is the first of the product in the application */
    double before;     /* the sum before this amount */
};

static void product_year_add(struct product_year *use, const struct ledger *ledger, size_t at,
                             const struct amount *amount)
{
    int year = date_of_day(ledger->applications.items[at].day).year;
    if (use->ledger != ledger || use->year != year)
        *use = (struct product_year){.ledger = ledger, .year = year, .at = SIZE_MAX};
    use->first_of_day = use->at != at;
    use->at = at;
    use->amount = amount;
    use->done = amount_done(&ledger->applications.items[at], amount);
    use->days += use->first_of_day;
    use->before = use->sum;
    use->sum += amount_rate_as(amount, amount->product->label.year_volume);
}

/* The dates on which the zone got the product in that year. */
static void note_product_days(struct checking *checking, struct report *report,
                              const struct product_year *use)
{
    const char *dates[LISTED];
    size_t count = 0, left = 0;
    for (size_t i = 0; i < use->ledger->applications.count; i++) {
        const struct application *application = &use->ledger->applications.items[i];
        bool holds = false;
        for (size_t j = 0; j < application->amounts.count; j++)
            holds = holds || application->amounts.items[j]->product == use->amount->product;
        if (!holds || date_of_day(application->day).year != use->year)
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

static const struct thing *const *about_use(struct checking *checking, const struct product_year *use)
{
    const struct thing **about = ARENA_ARRAY(checking->arena, 4, const struct thing *);
    about[0] = &use->ledger->zone->thing;
    about[1] = &application_owner(&use->ledger->applications.items[use->at], use->amount)->treatment->thing;
    about[2] = &use->amount->product->thing;
    return about;
}

static void check_count(struct checking *checking, const struct product_year *use)
{
    const struct product *product = use->amount->product;
    int times = product->label.times_a_year;
    if (times == 0 || use->days != times + 1 || !use->first_of_day)
        return;
    bool happened = use->done;
    const struct thing *const *about = about_use(checking, use);
    struct report *report = finding_add(
        checking, CHECK_LABEL_COUNT, about, use->amount->place,
        "%s %s treatment number %d with %s in %d on %s; the label's most %s %d",
        thing_text(checking, about[1]), verb_be(happened), use->days, thing_text(checking, &product->thing),
        use->year, thing_text(checking, &use->ledger->zone->thing), verb_be(happened), times);
    note_product_days(checking, report, use);
    report_label(checking->model->reports, report, product->label.times_place, "the label");
    if (!happened)
        report_help(checking->model->reports, report, "%d times or fewer would pass, or another product",
                    times);
}

static void check_year(struct checking *checking, const struct product_year *use)
{
    const struct product *product = use->amount->product;
    const struct product_label *label = &product->label;
    if (!exceeds(use->sum, label->year_most) || exceeds(use->before, label->year_most))
        return;
    bool happened = use->done;
    struct display_pair pair = display_pair(
        checking->arena, checking->model, label->year_volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE,
        use->sum, label->year_most,
        text_format(checking->arena, "of %s", thing_text(checking, &product->thing)));
    struct report *report =
        finding_add(checking, CHECK_LABEL_YEAR, about_use(checking, use), use->amount->place,
                    "%s %s brought to %s in %d by %s; the label's most for a year %s %s",
                    thing_text(checking, &use->ledger->zone->thing), verb_be(happened), pair.value, use->year,
                    display_date(checking->arena, use->ledger->applications.items[use->at].day),
                    verb_be(happened), pair.bound);
    note_product_days(checking, report, use);
    report_label(checking->model->reports, report, label->year_place, "the label");
    double room = label->year_most - (use->sum - amount_rate_as(use->amount, label->year_volume));
    if (!happened && exceeds(room, 0))
        report_help(
            checking->model->reports, report, "%s or less on that day would pass",
            product_rate_floor(checking, use->amount,
                               use->amount->rate * room / amount_rate_as(use->amount, label->year_volume)));
}

/* Calls `check` for every amount put down, with the sums of its product, zone and year so far. */
static void walk_product_years(struct checking *checking,
                               void (*check)(struct checking *, const struct product_year *))
{
    struct product_year *uses =
        ARENA_ARRAY(checking->arena, checking->model->products.count + 1, struct product_year);
    for (size_t i = 0; i < checking->model->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[i];
        for (size_t j = 0; j < ledger->applications.count; j++) {
            const struct application *application = &ledger->applications.items[j];
            for (size_t k = 0; k < application->amounts.count; k++) {
                struct product_year *use = &uses[application->amounts.items[k]->product->index];
                product_year_add(use, ledger, j, application->amounts.items[k]);
                check(checking, use);
            }
        }
    }
}

void check_label_counts(struct checking *checking)
{
    walk_product_years(checking, check_count);
}

void check_label_years(struct checking *checking)
{
    walk_product_years(checking, check_year);
}
