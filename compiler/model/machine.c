#include "compiler/model/machine.h"

#include "compiler/model/tolerance.h"

#include <stdlib.h>
#include <string.h>

/* Outwards from the middle, each side by itself: a skewed pattern is not the same on both. */
struct swath swath_of(const double *caught, size_t count, double spacing_m)
{
    double sides[2] = {NAN, NAN}, middle = (caught[(count - 1) / 2] + caught[count / 2]) / 2;
    for (int right = 0; right < 2; right++) {
        double out_m = 0, got = middle; /* of the pan before */
        for (size_t k = count % 2; k <= count / 2 && isnan(sides[right]); k++) {
            /* The k-th pan from the middle; of an even number the first is half a space out. */
            size_t at = right ? count / 2 + k : (count - 1) / 2 - k;
            if (k > (count - 1) / 2)
                break;
            double next_m = spacing_m * ((double)k + (count % 2 ? 0 : 0.5));
            if (caught[at] <= middle / 2)
                sides[right] = out_m + (next_m - out_m) * (got - middle / 2) / (got - caught[at]);
            out_m = next_m;
            got = caught[at];
        }
    }
    return (struct swath){sides[0], sides[1]};
}

double machine_least_rate(const struct machine *machine, int measure)
{
    return machine->least[measure] * machine->passes;
}

/* Without a machine what is wet is taken as sprayed. */
struct rate_steps rate_steps_of(const struct model *model, const struct machine *machine,
                                const struct product *product, bool volume)
{
    int measure = volume ? BY_VOLUME : BY_MASS;
    bool wet = product->form == FORM_LIQUID || product->form == FORM_SOLUBLE;
    enum tool tool = (machine ? machine->sprayer : wet) ? TOOL_SPRAYER : TOOL_SPREADER;
    enum unit_system system = model->metric ? UNIT_METRIC : UNIT_US;
    const struct usual *usual = model->tools[tool];
    if (machine && !isnan(machine->step[measure]))
        return (struct rate_steps){1, {machine->step[measure]}};
    struct rate_steps steps = {0};
    for (size_t i = 0; usual && i < usual->rate_steps.count && steps.count < RATE_STEPS; i++)
        if (usual->rate_steps.items[i].volume == volume && usual->rate_steps.items[i].system == system)
            steps.items[steps.count++] = usual->rate_steps.items[i].step;
    return steps;
}

/* ---- the dial ---- */

bool dial_rises(const struct dial_setting *a, double a_rate, const struct dial_setting *b, double b_rate)
{
    if (isnan(a->number) || isnan(b->number) || a->number == b->number)
        return true;
    return a->number < b->number ? exceeds(b_rate, a_rate) : exceeds(a_rate, b_rate);
}

struct dial_point {
    struct dial_setting setting;
    double rate; /* the mean of `count` tests */
    int count;
    struct place place;
};

struct dial_points {
    struct dial_point *items;
    size_t count, capacity;
};

/* Into the mean of its mark, or as a mark of its own. */
static void point_add(struct arena *arena, struct dial_points *points, struct dial_setting setting,
                      double rate, struct place place)
{
    for (size_t i = 0; i < points->count; i++) {
        struct dial_point *point = &points->items[i];
        bool number = !isnan(point->setting.number) && !isnan(setting.number);
        if (number ? point->setting.number != setting.number : strcmp(point->setting.text, setting.text) != 0)
            continue;
        point->rate += (rate - point->rate) / ++point->count;
        return;
    }
    struct dial_point point = {setting, rate, 1, place};
    VECTOR_PUSH(arena, points, point);
}

static int by_rate(const void *left, const void *right)
{
    const struct dial_point *a = left, *b = right;
    return a->rate < b->rate ? -1 : a->rate > b->rate;
}

/* In the order of certainty: the very rate of a mark, outside all of them, between two. */
struct dial_answer dial_for(struct arena *arena, const struct machine *spreader,
                            const struct product *product, double kg_per_m2)
{
    struct dial_answer answer = {.found = DIAL_UNKNOWN, .low = NAN, .high = NAN};
    struct dial_points points = {0};
    for (size_t i = 0; i < spreader->tests.count; i++) {
        const struct spreader_test *test = &spreader->tests.items[i];
        if (test->product == product)
            point_add(arena, &points, test->setting, test->kg_per_m2, test->place);
    }
    /* Tests count before the label: they were made with this spreader and this walker. */
    answer.of_label = points.count == 0;
    const struct name *dial = spreader->dial ? spreader->dial : spreader->symbol.name;
    for (size_t i = 0; i < product->settings.count && answer.of_label; i++) {
        const struct label_setting *line = &product->settings.items[i];
        if (line->dial == dial)
            point_add(arena, &points, line->setting, line->kg_per_m2, line->place);
        answer.place = line->place;
    }
    if (points.count == 0) {
        answer.found = product->settings.count ? DIAL_OTHER : DIAL_UNKNOWN;
        return answer;
    }
    qsort(points.items, points.count, sizeof *points.items, by_rate);
    const struct dial_point *first = points.items, *last = &points.items[points.count - 1];
    answer.low = first->rate;
    answer.high = last->rate;
    for (size_t i = 0; i < points.count; i++) {
        const struct dial_point *point = &points.items[i];
        /* The very rate of a mark; or a little more than the last one's. */
        bool over = point == last && exceeds(kg_per_m2, point->rate) &&
                    !exceeds(kg_per_m2, point->rate * (1 + ACCEPT_BAND));
        if (differs(kg_per_m2, point->rate) && !over)
            continue;
        answer.found = DIAL_FOUND;
        answer.text = point->setting.text;
        answer.place = point->place;
        return answer;
    }
    if (kg_per_m2 < first->rate || kg_per_m2 > last->rate) {
        answer.found = kg_per_m2 < first->rate ? DIAL_BELOW : DIAL_ABOVE;
        answer.place = kg_per_m2 < first->rate ? first->place : last->place;
        return answer;
    }
    size_t next = 1;
    while (kg_per_m2 > points.items[next].rate)
        next++;
    const struct dial_point *low = &points.items[next - 1], *high = &points.items[next];
    answer.place = low->place;
    answer.found = isnan(low->setting.number) || isnan(high->setting.number) ? DIAL_BETWEEN : DIAL_FOUND;
    if (answer.found == DIAL_BETWEEN)
        return answer;
    double way = (kg_per_m2 - low->rate) / (high->rate - low->rate);
    double mark = low->setting.number + way * (high->setting.number - low->setting.number);
    mark = fmax(low->setting.number, floor(mark * 10 * (1 + COMPARE_TOLERANCE)) / 10);
    answer.text = mark == low->setting.number ? low->setting.text : number_text(arena, mark, 1);
    answer.after = low->setting.text;
    answer.until = high->setting.text;
    return answer;
}

/* ---- fills ---- */

/* Whole fills and what they leave; of less than half a fill, evened out with the last whole one. */
struct loads loads_of(double amount, double holds)
{
    const double most = 1e6; /* far beyond what anyone fills; keeps the conversion defined */
    struct loads loads = {.rest = 1, .rest_each = amount};
    if (!(amount > 0) || isnan(holds) || !exceeds(amount, holds))
        return loads;
    double count = fmin(amount / holds, most);
    loads.full = (size_t)floor(count * (1 + COMPARE_TOLERANCE));
    double left = amount - (double)loads.full * holds;
    if (!exceeds(left, COMPARE_TOLERANCE * amount))
        return (struct loads){.full = loads.full, .full_each = amount / (double)loads.full};
    loads.rest = exceeds(holds, 2 * left) ? 2 : 1;
    loads.full -= loads.rest - 1;
    loads.full_each = loads.full ? holds : 0;
    loads.rest_each = (amount - (double)loads.full * holds) / (double)loads.rest;
    return loads;
}
