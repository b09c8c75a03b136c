/* What labels allow in a calendar year: how often, and how much. */
#include "compiler/solve/question.h"

static bool fact_of_year(const struct fact *fact, const struct product *product, int year)
{
    return fact->amount && fact->amount->product == product && date_of_day(fact->day).year == year;
}

static bool given_on(const struct plot_place *place, const struct product *product, day_number day)
{
    for (size_t i = 0; i < place->facts.count; i++)
        if (place->facts.items[i].amount && place->facts.items[i].amount->product == product &&
            place->facts.items[i].day == day)
            return true;
    return false;
}

static int days_given(const struct plot_place *place, const struct product *product, int year)
{
    int days = 0;
    day_number last = DAY_NEVER;
    for (size_t i = 0; i < place->facts.count; i++) {
        const struct fact *fact = &place->facts.items[i];
        if (!fact_of_year(fact, product, year))
            continue;
        days += fact->day != last;
        last = fact->day;
    }
    return days;
}

/* A day on which the plan uses the product anyway takes no further count. */
static void label_times(struct question *question, uint32_t at, uint32_t product, int year)
{
    struct plot *plot = &question->problem->plots.items[at];
    const struct plot_place *place = &question->places.items[at];
    const struct product *used = question->products[product];
    struct demand demand = question_demand(DEMAND_TIMES, question_label(question, used, CAUSE_LABEL_TIMES),
                                           used->label.times_a_year - days_given(place, used, year));
    demand.bound = fmax(0, demand.bound);
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        day_number day = choice_day(question, choice);
        if (choice->product == product && date_of_day(day).year == year && !given_on(place, used, day))
            demand_part_add(question, &demand, i, 1);
    }
    if ((double)demand.parts.count > demand.bound)
        demand_keep(question, plot, &demand);
}

static void label_year(struct question *question, uint32_t at, uint32_t product, int year)
{
    struct plot *plot = &question->problem->plots.items[at];
    const struct plot_place *place = &question->places.items[at];
    const struct product *used = question->products[product];
    double most = product_mass(used, used->label.year_most, used->label.year_volume);
    for (size_t i = 0; i < place->facts.count; i++)
        if (fact_of_year(&place->facts.items[i], used, year))
            most -= place->facts.items[i].amount->mass_rate;
    struct demand demand =
        question_demand(DEMAND_MOST, question_label(question, used, CAUSE_LABEL_YEAR), fmax(0, most));
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        if (choice->product == product && date_of_day(choice_day(question, choice)).year == year)
            demand_part_add(question, &demand, i, 1);
    }
    demand_keep(question, plot, &demand);
}

void plot_labels(struct question *question, uint32_t at)
{
    for (uint32_t product = 0; product < question->problem->products.count; product++) {
        const struct product_label *label = &question->products[product]->label;
        int last = 0;
        for (size_t i = 0; i < question->slots.count; i++) {
            int year = date_of_day(question->slots.items[i].occurrence->day).year;
            if (year != last && label->times_a_year > 0)
                label_times(question, at, product, year);
            if (year != last && !isnan(label->year_most))
                label_year(question, at, product, year);
            last = year;
        }
    }
}
