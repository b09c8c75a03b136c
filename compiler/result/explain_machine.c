/* Spreaders, sprayers and sprinklers: what each statement of their output or dial comes to, and what counts.
 */
#include "compiler/model/tolerance.h"
#include "compiler/result/explanation.h"
#include "compiler/result/work.h"

/* Each test by its statement, then what the labels say of its dial. */
static void explain_spreader(struct explanation *explanation, const struct machine *machine)
{
    struct arena *arena = explanation->arena;
    const struct model *model = explanation->model;
    if (!isnan(machine->width_m))
        explain_line(explanation, 1, "Covers %s in a pass.", display_length(arena, model, machine->width_m));
    if (!isnan(machine->pans.left_m)) {
        double wide = machine->pans.left_m + machine->pans.right_m;
        explain_line(explanation, 1,
                     "%s: falls to half of the middle pan %s to the left and %s to the right: %s.",
                     explain_statement(explanation, machine->pans.place),
                     display_length(arena, model, machine->pans.left_m),
                     display_length(arena, model, machine->pans.right_m), display_length(arena, model, wide));
        if (exceeds(fabs(machine->pans.left_m - machine->pans.right_m), TESTS_AGREE * wide / 2))
            explain_line(explanation, 1, "The pattern is skewed: adjust the spreader, and test again.");
    }
    if (!isnan(machine->hopper_kg))
        explain_line(explanation, 1, "Hopper %s.", display_amount(arena, model, machine->hopper_kg, false));
    if (machine->passes > 1)
        explain_line(explanation, 1, "Each of %d passes puts down its part of the rate.", machine->passes);
    for (size_t i = 0; i < machine->tests.count; i++) {
        const struct spreader_test *test = &machine->tests.items[i];
        explain_line(explanation, 1, "%s: %s in a pass", explain_statement(explanation, test->place),
                     display_of(arena, model, QUANTITY_MASS_RATE, test->kg_per_m2,
                                text_format(arena, "of %s", name_string(test->product->symbol.name))));
    }
    const struct name *dial = machine->dial ? machine->dial : machine->symbol.name;
    for (size_t i = 0; i < model->products.count; i++) {
        const struct product *product = model->products.items[i];
        for (size_t j = 0; j < product->settings.count; j++)
            if (product->settings.items[j].dial == dial)
                explain_line(explanation, 1, "Label of %s: %s.", name_string(product->symbol.name),
                             explain_statement(explanation, product->settings.items[j].place));
    }
}

/* The statements, what each comes to, and who uses the machine. */
void explain_machine(struct explanation *explanation, const struct machine *machine)
{
    explain_heading(explanation, 0, "%s %s (%s)", machine->sprayer ? "Sprayer" : "Spreader",
                    name_string(machine->symbol.name), explain_place(explanation, machine->symbol.place));
    if (machine->sprayer) {
        /* Each output as its statement has it and as water by area; then their mean, which counts. */
        struct arena *arena = explanation->arena;
        const struct model *model = explanation->model;
        if (!isnan(machine->width_m))
            explain_line(explanation, 1, "Covers %s.", display_length(arena, model, machine->width_m));
        if (!isnan(machine->tank_m3))
            explain_line(explanation, 1, "Tank %s.", display_amount(arena, model, machine->tank_m3, true));
        if (!isnan(machine->speed))
            explain_line(explanation, 1, "Speed: %s.", pace_text(arena, model, machine->speed));
        for (size_t j = 0; j < machine->outputs.count; j++) {
            const struct sprayer_output *output = &machine->outputs.items[j];
            double width = output->each ? machine->spacing_m : machine->width_m;
            const char *over = output->basis == OUTPUT_FLOW || output->basis == OUTPUT_ON_RUN
                                   ? text_format(arena, "over %s", display_depth(arena, model, width))
                                   : "";
            const char *at = output->basis == OUTPUT_FLOW
                                 ? text_format(arena, " at %s", pace_text(arena, model, machine->speed))
                                 : "";
            explain_line(explanation, 1, "%s: %s%s", explain_statement(explanation, output->place),
                         *over ? text_format(arena, "%s%s, ", over, at) : "",
                         display_of(arena, model, QUANTITY_WATER_RATE, output->m3_per_m2, NULL));
        }
        if (machine->outputs.count > 1)
            explain_line(explanation, 1, "Output: the mean of these, %s.",
                         display_of(arena, model, QUANTITY_WATER_RATE, machine->output, NULL));
        if (machine->outputs.count && !isnan(machine->tank_m3))
            explain_line(explanation, 1, "A full tank covers %s.",
                         display_area(arena, model, machine->tank_m3 / machine->output));
    } else {
        explain_spreader(explanation, machine);
    }
    for (size_t i = 0; i < explanation->model->treatments.count; i++) {
        const struct treatment *treatment = explanation->model->treatments.items[i];
        if (treatment->machine == machine)
            explain_line(explanation, 1, "Used in %s (%s).", name_string(treatment->symbol.name),
                         explain_place(explanation, treatment->machine_place));
    }
}

/* What the cans come to: how much falls in an hour, and how evenly. */
void explain_sprinkler(struct explanation *explanation, const struct sprinkler *sprinkler)
{
    struct arena *arena = explanation->arena;
    struct buffer zones = {.arena = arena};
    for (size_t i = 0; i < sprinkler->zones.count; i++) {
        buffer_separate(&zones, ", ");
        buffer_add_string(&zones, name_string(sprinkler->zones.items[i]->symbol.name));
    }
    explain_heading(explanation, 0, "Sprinkler %s (%s)", name_string(sprinkler->symbol.name),
                    explain_place(explanation, sprinkler->symbol.place));
    explain_line(explanation, 1, "Waters %s.", buffer_string(&zones));
    explain_line(explanation, 1, "%s: %s.", explain_statement(explanation, sprinkler->cans_place),
                 sprinkler_text(arena, explanation->model, sprinkler));
    if (isnan(sprinkler->driest))
        explain_line(explanation, 1, "Four cans or more would show how evenly it waters.");
    else if (sprinkler->driest <= 0)
        explain_line(explanation, 1, "However long it runs, that quarter gets none: fix the sprinkler.");
    else
        explain_line(explanation, 1, "To give that quarter its depth, water %s times as long as by the mean.",
                     number_text(arena, number_ceiling(1 / sprinkler->driest, 2), 2));
}
