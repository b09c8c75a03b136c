/* One active ingredient in several products: what each label allows in a year is a share of the same whole.
 */
#include "compiler/check/checking.h"

#include <math.h>

/* What a zone gets of an active ingredient in a calendar year, by product. */
struct shared_year {
    const struct active *active;
    const struct ledger *ledger;
    int year;
    double *shares;              /* by product index: of what its label allows in a year */
    const struct amount *amount; /* the last that can still be changed; the last of all where none can */
    const struct application *application;
    bool done;
};

/* In the label's own measure; NAN where it does not bound a year. */
static double year_allowed(const struct product_label *label)
{
    if (!isnan(label->year_most))
        return label->year_most;
    return label->times_a_year > 0 ? label->times_a_year * label->high : NAN;
}

static struct report *tell_shared(struct checking *checking, const struct instance *instance)
{
    const struct shared_year *year = instance->what;
    const struct model *model = checking->model;
    const struct occurrence *owner = application_owner(year->application, year->amount);
    const char *parts[LISTED];
    size_t count = 0;
    for (size_t i = 0; i < model->products.count && count < LISTED; i++) {
        if (!(year->shares[i] > 0))
            continue;
        parts[count] = text_format(
            checking->arena, "%s%s from %s", display_share(checking->arena, year->shares[i]),
            count ? "" : " of a year's limit", name_string(model->products.items[i]->symbol.name));
        count++;
    }
    struct report *report = finding_add(
        checking, CHECK_LABEL_SHARED,
        ABOUT(&year->ledger->zone->symbol, &owner->treatment->symbol, &year->amount->product->symbol),
        year->amount->place, "%s %s more %s in %d than one label allows: %s",
        name_string(year->ledger->zone->symbol.name), year->done ? "got" : "gets",
        name_string(year->active->kind), year->year, list_text(checking->arena, parts, count, " and "));
    for (size_t i = 0; i < model->products.count; i++) {
        const struct product_label *label = &model->products.items[i]->label;
        if (year->shares[i] > 0)
            report_label(model->reports, report,
                         isnan(label->year_most) ? label->times_place : label->year_place, "the label");
    }
    report_label(model->reports, report, year->active->place, "an active ingredient");
    if (!year->done)
        report_help(model->reports, report, "use one of these products only, or less of each");
    return report;
}

/* Of one product alone its own label speaks. */
static void gather_shared(struct checking *checking, struct gathering *gathering,
                          const struct shared_year *of)
{
    size_t products = checking->model->products.count, count = 0;
    double sum = 0;
    for (size_t i = 0; i < products; i++) {
        count += of->shares[i] > 0;
        sum += of->shares[i];
    }
    if (count < 2 || !exceeds(sum, 1))
        return;
    struct shared_year *year = ARENA_NEW(checking->arena, struct shared_year);
    *year = *of;
    year->shares = ARENA_ARRAY(checking->arena, products, double);
    memcpy(year->shares, of->shares, products * sizeof *year->shares);
    gather(checking, gathering,
           (struct instance){.id = CHECK_LABEL_SHARED,
                             .place = year->amount->place,
                             .bound = year->active->kind->id,
                             .excess = sum,
                             .ledger = year->ledger,
                             .day = DAY_NONE,
                             .what = year});
}

/* What of the application has the active ingredient, and a label that bounds a year. */
static void add_shared(struct checking *checking, struct gathering *gathering, struct shared_year *year,
                       const struct application *application)
{
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        const struct product_label *label = &amount->product->label;
        double allowed = year_allowed(label);
        if (isnan(allowed) || !product_has_kind(amount->product, year->active->kind))
            continue;
        int of = date_of_day(application->day).year;
        if (year->amount && of != year->year)
            gather_shared(checking, gathering, year);
        if (!year->amount || of != year->year) {
            memset(year->shares, 0, checking->model->products.count * sizeof *year->shares);
            year->amount = NULL;
        }
        bool volume = isnan(label->year_most) ? label->volume : label->year_volume;
        year->shares[amount->product->index] += amount_rate_as(amount, volume) / allowed;
        year->year = of;
        bool done = amount_done(application, amount);
        if (year->amount && done && !year->done)
            continue;
        year->amount = amount;
        year->application = application;
        year->done = done;
    }
}

/* Of each active ingredient that several of the plan's products have. */
void check_shared_years(struct checking *checking)
{
    const struct model *model = checking->model;
    struct gathering gathering = {.groups = {0}};
    struct shared_year year = {.shares = ARENA_ARRAY(checking->arena, model->products.count + 1, double)};
    for (size_t at = 0; at < model->actives.count; at++) {
        size_t with = 0;
        year.active = &model->actives.items[at];
        for (size_t i = 0; i < model->products.count; i++)
            with += product_has_kind(model->products.items[i], year.active->kind) &&
                    !isnan(year_allowed(&model->products.items[i]->label));
        for (size_t i = 0; i < model->zones.count && with > 1; i++) {
            year.ledger = &checking->season->ledgers[i];
            year.amount = NULL;
            for (size_t j = 0; j < year.ledger->applications.count; j++)
                add_shared(checking, &gathering, &year, &year.ledger->applications.items[j]);
            if (year.amount)
                gather_shared(checking, &gathering, &year);
        }
    }
    gathering_tell(checking, &gathering, tell_shared);
}
