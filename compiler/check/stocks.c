/* What the plan says of the shed, beside what the records used. */
#include "compiler/check/checking.h"
#include "compiler/season/shed.h"

/* A count is taken in bags and by eye: this share of it either way is the same (common practice, no
 * source). */
static const double COUNT_SLACK = 0.02;

static const char *held_text(struct checking *checking, const struct shelf *shelf, double amount)
{
    if (!(amount > 0))
        return "none";
    return display_amount(checking->arena, checking->model, amount, shelf->volume);
}

/* After an error in the text the treatment that uses it may be the one that was not read. */
void check_shed(struct checking *checking)
{
    const struct model *model = checking->model;
    struct reports *reports = model->reports;
    struct shed shed = shed_of(checking->season);
    for (size_t i = 0; i < shed.shelves.count; i++) {
        const struct shelf *shelf = &shed.shelves.items[i];
        const struct symbol *product = &shelf->product->symbol;
        const char *name = name_string(product->name);
        /* Where a count differs from what the records before it leave, one of the two is wrong. */
        for (size_t j = 0; j < shelf->counts.count; j++) {
            const struct shelf_count *count = &shelf->counts.items[j];
            if (fabs(count->counted - count->expected) <= COUNT_SLACK * fmax(count->counted, count->expected))
                continue;
            bool more = count->counted > count->expected;
            struct report *report = finding_add(
                checking, CHECK_STOCK_DIFFERS, ABOUT(&shelf->product->symbol), count->stock->symbol.statement,
                "%s counted %s on %s; the records leave %s", name_string(shelf->product->symbol.name),
                held_text(checking, shelf, count->counted), display_date(checking->arena, count->stock->day),
                held_text(checking, shelf, count->expected));
            report_help(checking->model->reports, report, "the count is used from here on; %s",
                        more ? "state what was bought with `bought`" : "check whether a record is missing");
        }
        /* More used than the shed held: one of the two figures is wrong. */
        for (size_t j = 0; j < shelf->lacks.count; j++) {
            const struct shelf_lack *lack = &shelf->lacks.items[j];
            const struct treatment *treatment = lack->occurrence->treatment;
            struct report *report = finding_add(
                checking, CHECK_RECORD_OVER_STOCK, ABOUT(&treatment->symbol, &shelf->product->symbol),
                occurrence_place(lack->occurrence), "%s used %s of %s; the shed had %s",
                name_string(treatment->symbol.name), held_text(checking, shelf, lack->used),
                name_string(shelf->product->symbol.name), held_text(checking, shelf, lack->held));
            report_label(checking->model->reports, report, lack->stock->symbol.statement, "the shed");
            report_help(checking->model->reports, report,
                        "check both figures; state what was bought since with `bought`");
        }
        if (shelf->unmeasured) {
            struct report *report = finding_add(
                checking, CHECK_STOCK_MEASURE, ABOUT(product), shelf->unmeasured->symbol.statement,
                "%s is measured by mass and by volume, and states no density", name);
            report_label(reports, report, product->place, "the product");
            report_help(reports, report, "state the amount as the product is applied, or its `density`");
        }
        if (!product->used && !product->broken && checking->sound && shelf->left > 0)
            finding_add(checking, CHECK_STOCK_UNUSED, ABOUT(product), shelf->first->symbol.statement,
                        "nothing in this plan uses %s; the shed has %s", name,
                        held_text(checking, shelf, shelf->left));
    }
    for (size_t i = 0; i < model->stocks.count && model->has_season; i++) {
        const struct stock *stock = model->stocks.items[i];
        if (stock->product && stock->day > model->season_last)
            finding_add(checking, CHECK_STOCK_AFTER_SEASON, ABOUT(&stock->product->symbol),
                        stock->symbol.statement, "%s is after the season, which ends on %s",
                        display_date(checking->arena, stock->day),
                        display_date(checking->arena, model->season_last));
    }
}
