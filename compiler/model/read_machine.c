/* Spreaders and sprayers, and the tests that were made with them. */
#include "compiler/model/display.h"
#include "compiler/model/machine.h"
#include "compiler/model/read.h"
#include "compiler/model/tolerance.h"

#include <assert.h>
#include <string.h>

/* ---- the dial ---- */

void report_dial(struct model *model, struct symbol *object, struct place before, struct place place,
                 const char *sentence)
{
    struct report *report = report_add(model->reports, &model_rules[RULE_VALUE], place, "%s", sentence);
    report_label(model->reports, report, before, "compare");
    report_help(model->reports, report, "a higher setting must put down more: check both, or test again");
    object->broken = true;
}

/* ---- spreaders ---- */

/* A test over an area has its rate here; one over a length waits for the width, which may be further down. */
void read_spreader_test(const struct stated *stated)
{
    struct machine *machine = stated->subject;
    const struct value *area = slot_value(stated, "area"), *run = slot_value(stated, "run");
    const struct value *passes = slot_value(stated, "passes");
    struct spreader_test test = {
        .product = slot_symbol(stated, SYMBOL_PRODUCT, "product"),
        .setting = {slot_value(stated, "setting")->number, slot_string(stated, "setting")},
        .kg = slot_value(stated, "mass")->number,
        .run_m = run ? run->number : NAN,
        .passes = passes ? (int)passes->number : 1,
        .place = stated->clause->place};
    if (area)
        test.kg_per_m2 = test.kg / (area->number * test.passes);
    if (test.product)
        VECTOR_PUSH(stated->model->arena, &machine->tests, test);
}

void read_spreader_pans(const struct stated *stated)
{
    struct machine *machine = stated->subject;
    const struct value *masses = slot_value(stated, "masses");
    double *caught = ARENA_ARRAY(stated->model->arena, masses->count, double);
    for (size_t i = 0; i < masses->count; i++)
        caught[i] = masses->items[i].number;
    machine->pans.caught = caught;
    machine->pans.count = masses->count;
    machine->pans.spacing_m = slot_value(stated, "spacing")->number;
    machine->pans.place = stated->clause->place;
}

/* The width by a pan test: what is stated beside it must be near. With a width a length is an area. */
static void finish_spreader(const struct stated *stated)
{
    struct model *model = stated->model;
    struct machine *machine = stated->subject;
    const double *caught = machine->pans.caught;
    size_t count = machine->pans.count;
    if (count) {
        struct swath swath = swath_of(caught, count, machine->pans.spacing_m);
        machine->pans.left_m = swath.left_m;
        machine->pans.right_m = swath.right_m;
        double width_m = swath.left_m + swath.right_m;
        struct report *report = NULL;
        if (isnan(width_m) || !(caught[(count - 1) / 2] + caught[count / 2] > 0)) {
            report =
                report_add(model->reports, &model_rules[RULE_VALUE], machine->pans.place,
                           "these pans do not reach to where the spread falls to half of the middle pan");
            report_help(model->reports, report,
                        "set out more pans, as far as anything falls, and walk over the middle of the row");
        } else if (isnan(machine->width_m)) {
            machine->width_m = width_m;
        } else if (exceeds(fabs(width_m - machine->width_m), TESTS_AGREE * machine->width_m)) {
            report = report_add(model->reports, &model_rules[RULE_VALUE], machine->pans.place,
                                "these pans show a width of %s; the width says %s",
                                display_length(model->arena, model, width_m),
                                display_length(model->arena, model, machine->width_m));
            report_label(model->reports, report, machine->width_place, "the width");
            report_help(model->reports, report, "leave out the one that is wrong");
        }
        machine->symbol.broken = machine->symbol.broken || report;
    }
    for (size_t i = 0; i < machine->tests.count; i++) {
        struct spreader_test *test = &machine->tests.items[i];
        if (isnan(test->run_m))
            continue;
        if (isnan(machine->width_m)) {
            report_lacks(model, test->place, &machine->symbol,
                         "a test over a length needs the width of the spreader",
                         model->metric ? "width 60 cm" : "width 2 ft");
            return;
        }
        test->kg_per_m2 = test->kg / (test->run_m * machine->width_m * test->passes);
    }

    /* Tests of one setting agree, and those of a higher one found more. */
    for (size_t n = 0; n < machine->tests.count && !machine->symbol.broken; n++) {
        const struct spreader_test *test = &machine->tests.items[n];
        size_t alike = 0;
        double sum = 0;
        for (size_t i = 0; i < machine->tests.count; i++) {
            const struct spreader_test *like = &machine->tests.items[i];
            bool same = like->product == test->product && strcmp(like->setting.text, test->setting.text) == 0;
            sum += same ? like->kg_per_m2 : 0;
            alike += same;
        }
        double mean = sum / (double)alike;
        if (exceeds(fabs(test->kg_per_m2 - mean), TESTS_AGREE * mean)) {
            struct display_pair pair =
                display_pair(model->arena, model, QUANTITY_MASS_RATE, test->kg_per_m2, mean, NULL);
            struct report *report =
                report_add(model->reports, &model_rules[RULE_VALUE], test->place,
                           "the tests at setting %s disagree: this one found %s, their mean is %s",
                           test->setting.text, pair.value, pair.bound);
            report_help(model->reports, report, "repeat the test; each should be within %s of the mean",
                        display_share(model->arena, TESTS_AGREE));
            machine->symbol.broken = true;
        }
        for (const struct spreader_test *other = machine->tests.items; other < test; other++)
            if (other->product == test->product &&
                !dial_rises(&other->setting, other->kg_per_m2, &test->setting, test->kg_per_m2)) {
                report_dial(model, &machine->symbol, other->place, test->place,
                            text_format(model->arena, "the tests of %s do not rise with the dial",
                                        name_string(test->product->symbol.name)));
                return;
            }
    }
}

/* ---- sprayers ---- */

void read_sprayer_nozzles(const struct stated *stated)
{
    struct machine *machine = stated->subject;
    const struct value *spacing = slot_value(stated, "spacing");
    machine->nozzles = (int)slot_value(stated, "count")->number;
    machine->spacing_m = spacing ? spacing->number : NAN;
    machine->nozzles_place = stated->clause->place;
}

void read_sprayer_pace(const struct stated *stated)
{
    struct machine *machine = stated->subject;
    if (!isnan(machine->speed))
        report_add(stated->model->reports, &model_rules[RULE_REPEATED], stated->clause->place,
                   "the speed is stated twice");
    machine->speed = slot_value(stated, "run")->number / slot_value(stated, "time")->number;
}

/* `which` is how it is stated. A flow is a volume in a second, or what was caught in a time. */
void read_sprayer_output(const struct stated *stated)
{
    struct machine *machine = stated->subject;
    enum output_basis basis = (enum output_basis)stated->clause->form->which;
    const struct value *rate = slot_value(stated, basis == OUTPUT_RATE ? "rate" : "flow");
    const struct value *volume = slot_value(stated, "volume");
    const struct value *per = slot_value(stated, basis == OUTPUT_FLOW      ? "time"
                                                 : basis == OUTPUT_ON_AREA ? "area"
                                                                           : "run");
    struct sprayer_output output = {.basis = basis,
                                    .amount = volume ? volume->number : rate->number,
                                    .per = volume ? per->number : 1,
                                    .each = slot_value(stated, "each") != NULL,
                                    .place = stated->clause->place};
    VECTOR_PUSH(stated->model->arena, &machine->outputs, output);
}

/* The boom's width by its nozzles: what stands beside it must agree. All that was stated of the output comes
 * to one figure, and each must be near it. */
static void finish_sprayer(const struct stated *stated)
{
    struct model *model = stated->model;
    struct machine *machine = stated->subject;
    double sum = 0, boom = machine->nozzles * machine->spacing_m;
    if (isnan(machine->width_m)) {
        machine->width_m = boom;
    } else if (isnan(machine->spacing_m) && machine->nozzles) {
        machine->spacing_m = machine->width_m / machine->nozzles;
    } else if (exceeds(fabs(boom - machine->width_m), TESTS_AGREE * machine->width_m)) {
        struct report *report = report_add(
            model->reports, &model_rules[RULE_VALUE], machine->nozzles_place,
            "%d nozzles %s apart cover %s; the width says %s", machine->nozzles,
            display_depth(model->arena, model, machine->spacing_m), display_length(model->arena, model, boom),
            display_length(model->arena, model, machine->width_m));
        report_label(model->reports, report, machine->width_place, "the width");
        report_help(model->reports, report, "leave out the one that is wrong");
        machine->symbol.broken = true;
    }
    for (size_t i = 0; i < machine->outputs.count; i++) {
        /* What one statement comes to on an area. */
        struct sprayer_output *output = &machine->outputs.items[i];
        double width = output->each ? machine->spacing_m : machine->width_m;
        bool flow = output->basis == OUTPUT_FLOW, run = output->basis == OUTPUT_ON_RUN;
        const char *lacks = NULL, *example = model->metric ? "width 1 m" : "width 3 ft";
        if (flow && isnan(machine->speed)) {
            lacks = "a flow needs the speed of the sprayer";
            example = model->metric ? "speed 5 km/h" : "speed 3 mph";
        } else if ((flow || run) && isnan(width) && output->each) {
            lacks = "what one nozzle gives needs the spacing of the nozzles";
            example = model->metric ? "nozzles 6, 50 cm apart" : "nozzles 6, 20 in apart";
        } else if ((flow || run) && isnan(width)) {
            lacks = flow ? "a flow needs the width that it covers"
                         : "a test over a length needs the width that it covers";
        }
        if (lacks)
            report_lacks(model, output->place, &machine->symbol, lacks, example);
        else if (flow)
            output->m3_per_m2 = output->amount / output->per / (machine->speed * width);
        else
            output->m3_per_m2 = output->amount / (output->per * (run ? width : 1));
        if (machine->symbol.broken)
            return;
        sum += output->m3_per_m2;
    }
    if (machine->outputs.count)
        machine->output = sum / (double)machine->outputs.count;
    for (size_t i = 0; i < machine->outputs.count; i++) {
        const struct sprayer_output *output = &machine->outputs.items[i];
        if (!exceeds(fabs(output->m3_per_m2 - machine->output), TESTS_AGREE * machine->output))
            continue;
        struct display_pair pair =
            display_pair(model->arena, model, QUANTITY_WATER_RATE, output->m3_per_m2, machine->output, NULL);
        struct report *report =
            report_add(model->reports, &model_rules[RULE_VALUE], output->place,
                       "the outputs stated for %s disagree: this one comes to %s, their mean is %s",
                       name_string(machine->symbol.name), pair.value, pair.bound);
        for (size_t j = 0; j < machine->outputs.count; j++)
            if (j != i)
                report_label(model->reports, report, machine->outputs.items[j].place, "compare");
        report_help(model->reports, report, "test again; each should be within %s of the mean",
                    display_share(model->arena, TESTS_AGREE));
        machine->symbol.broken = true;
        return;
    }
}

/* `spreader` or `sprayer`. */
void read_machine(const struct stated *stated)
{
    bool sprayer = form_says(stated->clause->form, "sprayer");
    struct machine *machine = object_declare(stated, SYMBOL_MACHINE, sizeof *machine, PHASE_PRODUCT,
                                             sprayer ? finish_sprayer : finish_spreader);
    machine->sprayer = sprayer;
    machine->width_m = machine->hopper_kg = machine->spacing_m = machine->tank_m3 = NAN;
    machine->speed = machine->output = NAN;
    machine->pans.left_m = machine->pans.right_m = NAN;
    for (int measure = 0; measure < MEASURES; measure++)
        machine->least[measure] = machine->step[measure] = NAN;
    machine->passes = 1;
    machine->usual = usual_of(stated->model, sprayer ? "sprayer" : "spreader");
    VECTOR_PUSH(stated->model->arena, &stated->model->machines, machine);
}

/* The lowest rate, or the step of rates: of one machine both measures may be stated, each once. */
void read_machine_rate(const struct stated *stated)
{
    struct machine *machine = stated->subject;
    const struct value *rate = slot_value(stated, "rate");
    double *figures = form_says(stated->clause->form, "least") ? machine->least : machine->step;
    double *figure = &figures[rate->volume ? BY_VOLUME : BY_MASS];
    if (!isnan(*figure))
        report_add(stated->model->reports, &model_rules[RULE_REPEATED], stated->clause->place,
                   "this is stated twice");
    *figure = rate->number;
}

/* Looked up once everything is read: nothing of the library is read later. What an entry of the plan does not
 * state stays as the library has it: each bound by itself, and steps by measure and system of units, so that
 * a step in pounds leaves those in grams and fluid ounces. */
void tools_settle(struct model *model)
{
    for (size_t n = 0; n < model->usuals.count; n++) {
        struct usual *own = model->usuals.items[n];
        const struct usual *library = NULL;
        if (!own->symbol.replaces)
            continue;
        symbols_read(model, SYMBOL_USUAL);
        for (size_t i = 0; i < model->usuals.count && !library; i++) {
            const struct symbol *other = &model->usuals.items[i]->symbol;
            if (other->library && other->name == own->symbol.name)
                library = model->usuals.items[i];
        }
        assert(library);
        const struct {
            struct usual_range *own;
            const struct usual_range *library;
            size_t count;
        } ranges[] = {{own->rate, library->rate, MEASURES},   {own->pack, library->pack, MEASURES},
                      {&own->density, &library->density, 1},  {own->grade, library->grade, 3},
                      {&own->prices, &library->prices, 1},    {&own->loads, &library->loads, 1},
                      {own->least, library->least, MEASURES}, {&own->within, &library->within, 1}};
        for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++)
            for (size_t j = 0; j < ranges[i].count; j++)
                if (!ranges[i].own[j].place.source)
                    ranges[i].own[j] = ranges[i].library[j];
        const struct {
            struct usual_steps *own;
            const struct usual_steps *library;
        } lists[] = {{&own->steps, &library->steps}, {&own->rate_steps, &library->rate_steps}};
        for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
            const struct usual_steps stated = *lists[i].own;
            for (size_t j = 0; j < lists[i].library->count; j++) {
                const struct usual_step *step = &lists[i].library->items[j];
                size_t like = 0;
                while (like < stated.count && (stated.items[like].volume != step->volume ||
                                               stated.items[like].system != step->system))
                    like++;
                if (like == stated.count)
                    VECTOR_PUSH(model->arena, lists[i].own, *step);
            }
        }
    }

    static const char *const entries[TOOLS] = {
        [TOOL_SPREADER] = "spreader", [TOOL_SPRAYER] = "sprayer", [TOOL_SCALE] = "scale", [TOOL_CUP] = "cup"};
    for (size_t i = 0; i < TOOLS && model->products.count; i++)
        model->tools[i] = usual_of(model, entries[i]);
}

double model_within(const struct model *model)
{
    const struct usual *spreader = model->tools[TOOL_SPREADER];
    return spreader && spreader->within.place.source ? spreader->within.high : 0;
}
