/* Which product may go into which application on which zone. */
#include "compiler/solve/question.h"

#include "compiler/model/tolerance.h"

#include <assert.h>
#include <stdlib.h>

enum { LABEL_PARTS = CAUSE_LEAST_RATE + 1 };

/* ---- causes ---- */

uint32_t question_cause(struct question *question, struct cause cause)
{
    VECTOR_PUSH(question->arena, &question->causes, cause);
    question->problem->cause_count = (uint32_t)question->causes.count;
    return (uint32_t)question->causes.count - 1;
}

uint32_t question_limit(struct question *question, const struct limit *limit)
{
    size_t at = 0;
    while (question->model->limits.items[at] != limit)
        at++;
    if (question->limit_cause[at] == NO_CAUSE)
        question->limit_cause[at] = question_cause(
            question, (struct cause){.kind = CAUSE_LIMIT, .place = limit->place, .limit = limit});
    return question->limit_cause[at];
}

/* The clause of the label, so that a report points at what holds and not at the product. */
static struct place label_place(const struct product *product, enum cause_kind part)
{
    const struct product_label *label = &product->label;
    switch (part) {
    case CAUSE_LABEL_LEAST:
    case CAUSE_LABEL_MOST:
        return label->rate_place;
    case CAUSE_LABEL_INTERVAL:
        return label->interval_place;
    case CAUSE_LABEL_TIMES:
        return label->times_place;
    case CAUSE_LABEL_YEAR:
        return label->year_place;
    case CAUSE_HEAT:
        return product->heat_place;
    case CAUSE_COLD:
        return product->cold_place;
    case CAUSE_LIMIT:
    case CAUSE_BOUND:
    case CAUSE_LEAST_RATE:
    case CAUSE_MATCH:
    case CAUSE_PACKS:
        break;
    }
    return product->symbol.place;
}

/* ---- products ---- */

static int by_name(const void *a, const void *b)
{
    const struct product *first = *(const struct product *const *)a;
    const struct product *second = *(const struct product *const *)b;
    return text_compare(first->symbol.name->text, second->symbol.name->text);
}

/* Of one of the question's products. */
uint32_t question_label(struct question *question, const struct product *product, enum cause_kind part)
{
    const struct product **at = bsearch(&product, question->products, question->problem->products.count,
                                        sizeof *question->products, by_name);
    uint32_t *cause = &question->label_cause[(size_t)(at - question->products) * LABEL_PARTS + part];
    if (*cause == NO_CAUSE)
        *cause = question_cause(
            question, (struct cause){.kind = part, .place = label_place(product, part), .product = product});
    return *cause;
}

static uint32_t *no_causes(struct arena *arena, size_t count)
{
    uint32_t *causes = ARENA_ARRAY(arena, count, uint32_t);
    for (size_t i = 0; i < count; i++)
        causes[i] = NO_CAUSE;
    return causes;
}

/* Products go in order of name, so that a list written otherwise is the same problem. Packs of no known mass
 * are no packs. */
struct question *question_new(struct season *season, bool apart, const struct product *const *products,
                              size_t count)
{
    enum { PARTS = 3, WORK_TO_BEGIN = 500000 };
    struct arena *arena = season->arena;
    struct question *question = ARENA_NEW(arena, struct question);
    *question = (struct question){.arena = arena, .season = season, .model = season->model, .apart = apart};
    question->problem = ARENA_NEW(arena, struct problem);
    question->problem->arena = arena;
    question->problem->budget = ARENA_NEW(arena, struct problem_budget);
    /* What is left of the compilation's work goes to the questions that are left, in equal parts, and PARTS
     * of it to one: rates and packs, why something is short, and what comes after. An easy question leaves
     * most of its part to the others; so each may begin. */
    size_t *left = &season->solution->questions;
    uint64_t work = arena_work_left(arena) / (PARTS * (*left ? *left : 1));
    *left -= *left > 0;
    question->problem->budget->whole = work > WORK_TO_BEGIN ? work : WORK_TO_BEGIN;
    question->problem->within = model_within(season->model);
    question->products = ARENA_ARRAY(arena, count, const struct product *);
    question->limit_cause = no_causes(arena, season->model->limits.count);
    question->label_cause = no_causes(arena, count * LABEL_PARTS);
    for (size_t i = 0; i < count; i++)
        question->products[i] = products[i];
    qsort(question->products, count, sizeof *question->products, by_name);
    for (size_t i = 0; i < count; i++) {
        const struct product *product = question->products[i];
        struct problem_product entry = {.name = product->symbol.name->text};
        for (int n = 0; n < NUTRIENT_COUNT; n++)
            entry.content[n] = product->content[n];
        for (size_t j = 0; j < product->packs.count; j++) {
            const struct pack *pack = &product->packs.items[j];
            struct problem_pack size = {product_mass(product, pack->amount, pack->volume), pack->price};
            if (size.mass > 0)
                VECTOR_PUSH(arena, &entry.packs, size);
        }
        VECTOR_PUSH(arena, &question->problem->products, entry);
    }
    return question;
}

/* ---- applications ---- */

void question_apply(struct question *question, struct occurrence *occurrence)
{
    struct slot slot = {occurrence, 0};
    if (occurrence->dated && !occurrence->done && !occurrence->skipped)
        VECTOR_PUSH(question->arena, &question->slots, slot);
}

void question_apply_all(struct question *question, const struct treatment *treatment)
{
    const struct season *season = question->season;
    for (uint32_t i = season->first_of[treatment->index]; i < season->first_of[treatment->index + 1]; i++)
        question_apply(question, &season->occurrences.items[i]);
}

static int by_day(const void *a, const void *b)
{
    const struct occurrence *first = ((const struct slot *)a)->occurrence;
    const struct occurrence *second = ((const struct slot *)b)->occurrence;
    if (first->day != second->day)
        return first->day < second->day ? -1 : 1;
    return first->index < second->index ? -1 : first->index > second->index;
}

const struct slot *choice_slot(const struct question *question, const struct choice *choice)
{
    return &question->slots.items[choice->application];
}

day_number choice_day(const struct question *question, const struct choice *choice)
{
    return choice_slot(question, choice)->occurrence->day;
}

const struct product *choice_product(const struct question *question, const struct choice *choice)
{
    return question->products[choice->product];
}

/* ---- facts ---- */

double facts_sum(const struct plot_place *place, day_number first, day_number last, enum nutrient nutrient)
{
    double sum = 0;
    for (size_t i = 0; i < place->facts.count; i++) {
        const struct fact *fact = &place->facts.items[i];
        if (fact->amount && fact->day >= first && fact->day <= last)
            sum += fact->amount->supplied[nutrient];
    }
    return sum;
}

/* ---- choices ---- */

/* Rates can be compared with a label by volume only where the density is known. */
const char *product_unfit(const struct treatment *treatment, const struct product *product)
{
    const struct product_label *label = &product->label;
    const struct machine *machine = treatment->machine;
    bool volume = (!isnan(label->high) && label->volume) || (!isnan(label->year_most) && label->year_volume);
    bool water = machine && machine->sprayer && !isnan(label->water_low);
    if (volume && !(product->density > 0))
        return "its label counts by volume, and it states no density";
    if (water && machine->output < label->water_low * (1 - 1e-9))
        return "the sprayer puts out less water than its label requires";
    if (water && machine->output > label->water_high * (1 + 1e-9))
        return "the sprayer puts out more water than its label allows";
    if (machine && product->form == FORM_GRANULAR && machine->sprayer)
        return "a sprayer does not take granules";
    if (machine && product->form == FORM_LIQUID && !machine->sprayer)
        return "a spreader does not take liquids";
    return NULL;
}

/* The steps in which the rate is set; and the lowest that the machine states it can put down or, where
 * neither it nor the label names a least rate, that anyone can, unless the label's most is less than that. */
static void choice_set(struct question *question, struct choice *choice, const struct machine *machine,
                       double given)
{
    const struct product *product = question->products[choice->product];
    bool wet = product->form == FORM_LIQUID || product->form == FORM_SOLUBLE;
    bool sprayed = machine ? machine->sprayer : wet, volume = product_by_volume(product);
    int measure = volume ? BY_VOLUME : BY_MASS;
    const struct usual *usual = question->model->tools[sprayed ? TOOL_SPRAYER : TOOL_SPREADER];
    bool own_least = machine && !isnan(machine->least[measure]);
    double least = own_least                                     ? machine_least_rate(machine, measure)
                   : usual && usual->least[measure].place.source ? usual->least[measure].low
                                                                 : 0;
    least = product_mass(product, least, volume);
    struct rate_steps steps = rate_steps_of(question->model, machine, product, volume);
    for (size_t i = 0; i < steps.count; i++)
        choice->steps[choice->step_count++] = product_mass(product, steps.items[i], volume);
    bool stated = choice->low > 0 && !(own_least && exceeds(least - given, choice->low));
    if (stated || !(least - given > 0) || exceeds(least - given, choice->high))
        return;
    uint32_t *cause = &question->label_cause[(size_t)choice->product * LABEL_PARTS + CAUSE_LEAST_RATE];
    assert(own_least || usual); /* or it would be 0 */
    if (*cause == NO_CAUSE)
        *cause = question_cause(
            question, (struct cause){.kind = CAUSE_LEAST_RATE,
                                     .place = own_least ? machine->symbol.place : usual->least[measure].place,
                                     .product = product});
    choice->low = least - given;
    choice->low_cause = *cause;
}

/* Of one product on one day and zone only the first application may hold it, since its label counts them
 * together. A choice's bounds are what the label leaves beside what the plan puts down of the product that
 * day. */
static void plot_choices(struct question *question, struct plot *plot, const struct plot_place *place)
{
    for (uint32_t at = 0; at < question->problem->products.count; at++)
        for (uint32_t slot = 0; slot < question->slots.count; slot++) {
            const struct product *product = question->products[at];
            const struct product_label *label = &product->label;
            const struct occurrence *occurrence = question->slots.items[slot].occurrence;
            struct choice choice = {.product = at,
                                    .application = slot,
                                    .high = INFINITY,
                                    .low_cause = NO_CAUSE,
                                    .high_cause = NO_CAUSE};
            bool taken = false;
            double given = 0;
            for (size_t i = 0; i < plot->choices.count && !taken; i++)
                taken =
                    plot->choices.items[i].product == at &&
                    choice_slot(question, &plot->choices.items[i])->day == question->slots.items[slot].day;
            if (taken || !zone_among(occurrence->zones.items, occurrence->zones.count, place->zone) ||
                product->symbol.broken || product_unfit(occurrence->treatment, product))
                continue;
            for (size_t i = 0; i < place->facts.count; i++) {
                const struct fact *fact = &place->facts.items[i];
                if (fact->amount && fact->amount->product == product && fact->day == occurrence->day)
                    given += fact->amount->mass_rate;
            }
            if (!isnan(label->high)) {
                choice.low = fmax(0, product_mass(product, label->low, label->volume) - given);
                choice.high = fmax(0, product_mass(product, label->high, label->volume) - given);
                choice.high_cause = question_label(question, product, CAUSE_LABEL_MOST);
            }
            if (choice.low > 0)
                choice.low_cause = question_label(question, product, CAUSE_LABEL_LEAST);
            choice_set(question, &choice, occurrence->treatment->machine, given);
            VECTOR_PUSH(question->arena, &plot->choices, choice);
        }
}

/* Slots of one day get one number: waits count days, not applications. */
void question_plots(struct question *question, const struct zone *const *zones, size_t count)
{
    const struct model *model = question->model;
    const struct season *season = question->season;
    struct slot *slots = question->slots.items;
    if (question->slots.count)
        qsort(slots, question->slots.count, sizeof *slots, by_day);
    for (size_t i = 1; i < question->slots.count; i++)
        slots[i].day = slots[i - 1].day + (slots[i].occurrence->day != slots[i - 1].occurrence->day);
    question->problem->application_count = (uint32_t)question->slots.count;
    for (size_t i = 0; i < (count ? count : model->zones.count); i++) {
        const struct zone *zone = count ? zones[i] : model->zones.items[i];
        bool treated = count > 0;
        for (size_t j = 0; j < question->slots.count && !treated; j++)
            treated = zone_among(slots[j].occurrence->zones.items, slots[j].occurrence->zones.count, zone);
        if (!treated || zone->symbol.broken || !(zone->area_m2 > 0))
            continue;

        /* What the zone gets besides, in the order of the calendar, hence by day. A task that names no zone
         * concerns all. */
        struct plot plot = {.area_m2 = zone->area_m2};
        struct plot_place place = {.zone = zone};
        for (size_t j = 0; j < season->calendar_count; j++) {
            const struct occurrence *occurrence = season->calendar[j];
            struct fact fact = {occurrence->day, NULL, occurrence};
            for (size_t k = 0; k < occurrence->amounts.count; k++) {
                fact.amount = &occurrence->amounts.items[k];
                if (fact.amount->zone == zone && fact.amount->rate > 0)
                    VECTOR_PUSH(question->arena, &place.facts, fact);
            }
            fact.amount = NULL;
            if (occurrence->treatment->task &&
                (occurrence->zones.count == 0 ||
                 zone_among(occurrence->zones.items, occurrence->zones.count, zone)))
                VECTOR_PUSH(question->arena, &place.facts, fact);
        }

        /* Dates see to waits and closed days, except where they were made without what is chosen. */
        plot_choices(question, &plot, &place);
        VECTOR_PUSH(question->arena, &question->problem->plots, plot);
        VECTOR_PUSH(question->arena, &question->places, place);
        uint32_t at = (uint32_t)question->problem->plots.count - 1;
        plot_limits(question, at);
        plot_labels(question, at);
        plot_waits(question, at);
        if (question->apart)
            plot_closings(question, at);
    }
}
