/* Whether the dial of a spreader is known for the rates that it is to put down. */
#include "compiler/check/checking.h"
#include "compiler/model/machine.h"

/* The rate against the nearest one that has a setting: the report proposes a test, since going on from a
 * tested setting is a guess. */
static void report_untested(struct checking *checking, const struct occurrence *occurrence,
                            const struct amount *amount, const struct dial_answer *dial)
{
    struct arena *arena = checking->arena;
    struct reports *reports = checking->model->reports;
    const struct machine *machine = occurrence->treatment->machine;
    const char *product = name_string(amount->product->symbol.name);
    bool below = dial->found == DIAL_BELOW, between = dial->found == DIAL_BETWEEN;
    struct display_pair pair =
        display_pair(arena, checking->model, QUANTITY_MASS_RATE, amount->rate / machine->passes,
                     below ? dial->low : dial->high, text_format(arena, "of %s", product));
    const char *nearest = between ? "no number lies between its settings"
                                  : text_format(arena, "the %s%s is for %s", below ? "lowest" : "highest",
                                                dial->of_label ? " on the label" : " tested", pair.bound);
    struct report *report = finding_add(
        checking, CHECK_SETTING_UNTESTED,
        ABOUT(&occurrence->treatment->symbol, &machine->symbol, &amount->product->symbol), amount->place,
        "no setting of %s is known for %s%s; %s", name_string(machine->symbol.name), pair.value,
        machine->passes > 1 ? text_format(arena, " in each of %d passes", machine->passes) : "", nearest);
    report_label(reports, report, dial->place, dial->of_label ? "the label's nearest" : "the nearest test");
    report_help(reports, report, "test a %s setting, and add the test to %s",
                between ? "further"
                : below ? "lower"
                        : "higher",
                name_string(machine->symbol.name));
}

/* Once for a statement. */
void check_settings(struct checking *checking)
{
    const struct season *season = checking->season;
    const struct model *model = season->model;
    bool known = false; /* a setting, of a catch test or a label */
    for (size_t i = 0; i < model->machines.count; i++)
        known = known || model->machines.items[i]->tests.count;
    for (size_t i = 0; i < model->products.count; i++)
        known = known || model->products.items[i]->settings.count;
    for (size_t i = 0; known && i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        const struct machine *machine = occurrence->treatment->machine;
        bool counts = machine && !machine->sprayer && !machine->symbol.broken && !occurrence->done &&
                      !occurrence->skipped && !occurrence->treatment->symbol.broken;
        for (size_t j = 0; counts && j < occurrence->amounts.count; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            if (amount->volume || !(amount->rate > 0))
                continue;
            struct dial_answer dial =
                dial_for(checking->arena, machine, amount->product, amount->rate / machine->passes);
            bool other = dial.found == DIAL_OTHER;
            if (dial.found == DIAL_FOUND || dial.found == DIAL_UNKNOWN ||
                !finding_once(checking, other ? CHECK_SETTING_OTHER_DIAL : CHECK_SETTING_UNTESTED,
                              amount->place, 0))
                continue;
            if (!other) {
                report_untested(checking, occurrence, amount, &dial);
                continue;
            }
            const char *spreader = name_string(machine->symbol.name);
            struct report *report =
                finding_add(checking, CHECK_SETTING_OTHER_DIAL,
                            ABOUT(&occurrence->treatment->symbol, &machine->symbol, &amount->product->symbol),
                            occurrence->treatment->machine_place, "the label of %s gives no setting for %s",
                            name_string(amount->product->symbol.name), spreader);
            report_label(checking->model->reports, report, dial.place, "for another dial");
            report_help(
                checking->model->reports, report, "if that is the dial of %s, say so there: dial %s",
                spreader,
                name_string(amount->product->settings.items[amount->product->settings.count - 1].dial));
        }
    }
}
