#include "compiler/result/budget.h"

#include "compiler/form/csv_cell.h"
#include "compiler/model/display.h"
#include "compiler/result/result.h"

static const char *const kind_names[] = {
    [BUDGET_NEED] = "need", [BUDGET_RANGE] = "range", [BUDGET_STATED] = "stated", [BUDGET_LIMIT] = "limit"};

/* ---- for a program ---- */

static void put_nutrients(struct data *parent, const char *key, const struct model *model,
                          const double supplied[NUTRIENT_COUNT])
{
    struct data *object = data_object(parent, key);
    for (size_t i = 0; i < budget_nutrient_count; i++) {
        const struct nutrient_form *form = nutrient_trade_form(budget_nutrients[i]);
        if (supplied[form->nutrient] > 0)
            data_measure(object, form->name, model, QUANTITY_MASS_RATE, supplied_as(supplied, form));
    }
}

/* The figures of the page, zone by zone, and exact. */
void budget_data(struct data *root, const struct result_input *input)
{
    const struct need_words words = {root->arena, input->season->model, NULL};
    struct budget budget = budget_of(input->season);
    struct data *zones = data_list(root, "zones");
    for (size_t i = 0; i < budget.zones.count; i++) {
        /* Month by month, then what its sums are held against. */
        const struct budget_zone *zone = &budget.zones.items[i];
        struct data *object = data_object(zones, NULL);
        data_name(object, "lawn", zone->zone->lawn->symbol.name);
        data_name(object, "zone", zone->zone->symbol.name);
        data_measure(object, "area", words.model, QUANTITY_AREA, zone->zone->area_m2);
        struct data *months = data_list(object, "months");
        for (size_t j = 0; j < zone->months.count; j++) {
            const struct budget_month *month = &zone->months.items[j];
            struct data *item = data_object(months, NULL);
            data_string(item, "month", budget_month_text(words.arena, month));
            put_nutrients(item, "done", words.model, month->done);
            put_nutrients(item, "planned", words.model, month->planned);
        }
        put_nutrients(object, "done", words.model, zone->total.done);
        put_nutrients(object, "planned", words.model, zone->total.planned);
        struct data *measures = data_list(object, "held_against");
        for (size_t j = 0; j < zone->measures.count; j++) {
            /* Years of the season have a first and a last day; a limit counts in a calendar year. */
            const struct budget_measure *measure = &zone->measures.items[j];
            struct data *item = data_object(measures, NULL);
            data_string(item, "kind", kind_names[measure->kind]);
            data_string(item, "nutrient", measure->form->name);
            if (measure->kind == BUDGET_LIMIT)
                data_integer(item, "year", measure->year);
            if (budget_yearly(measure)) {
                data_day(item, "first", measure->of_season.first);
                data_day(item, "last", measure->of_season.last);
            }
            data_measure(item, "done", words.model, QUANTITY_MASS_RATE, measure->done);
            data_measure(item, "planned", words.model, QUANTITY_MASS_RATE, measure->planned);
            data_measure(item, "least", words.model, QUANTITY_MASS_RATE, measure->least);
            data_measure(item, "most", words.model, QUANTITY_MASS_RATE, measure->most);
            data_string(item, "sentence", budget_sentence(&words, measure));
        }
    }
}

/* ---- for a spreadsheet ---- */

/* Empty where it is not known. */
static void rate_cell(struct buffer *out, const struct model *model, double value)
{
    csv_plain(out, isnan(value) ? "" : display_number(out->arena, model, QUANTITY_MASS_RATE, value));
}

static void print_start(struct buffer *out, const struct zone *zone, const char *kind, const char *period,
                        const char *nutrient)
{
    csv_text(out, name_string(zone->lawn->symbol.name));
    csv_text(out, name_string(zone->symbol.name));
    csv_plain(out, kind);
    csv_plain(out, period);
    csv_plain(out, nutrient);
}

/* One table: rows of months, then rows of measures, told apart by the column `of`. */
void budget_csv_print(struct buffer *out, const struct result_input *input)
{
    const struct model *model = input->season->model;
    const struct need_words words = {out->arena, model, NULL};
    struct budget budget = budget_of(input->season);
    const char *unit = display_unit(out->arena, model, QUANTITY_MASS_RATE, 0);
    buffer_format(out, "lawn,zone,of,period,nutrient,done %s,planned %s,least %s,most %s,sentence\r\n", unit,
                  unit, unit, unit);
    for (size_t i = 0; i < budget.zones.count; i++) {
        const struct budget_zone *zone = &budget.zones.items[i];
        for (size_t j = 0; j < zone->months.count; j++) {
            /* A row for each nutrient that the zone gets in the month. */
            const struct budget_month *month = &zone->months.items[j];
            for (size_t k = 0; k < budget_nutrient_count; k++) {
                const struct nutrient_form *form = nutrient_trade_form(budget_nutrients[k]);
                double done = supplied_as(month->done, form), planned = supplied_as(month->planned, form);
                if (!(done > 0) && !(planned > 0))
                    continue;
                print_start(out, zone->zone, "month", budget_month_text(out->arena, month), form->name);
                rate_cell(out, model, done);
                rate_cell(out, model, planned);
                csv_blank(out, 3); /* least, most, sentence */
                csv_end(out);
            }
        }
        for (size_t j = 0; j < zone->measures.count; j++) {
            const struct budget_measure *measure = &zone->measures.items[j];
            const char *period = "season";
            if (measure->kind == BUDGET_LIMIT)
                period = text_format(words.arena, "%d", measure->year);
            else if (budget_yearly(measure) && season_is_long(words.model))
                period = text_format(words.arena, "%s to %s", day_text(words.arena, measure->of_season.first),
                                     day_text(words.arena, measure->of_season.last));
            print_start(out, zone->zone, kind_names[measure->kind], period, measure->form->name);
            rate_cell(out, words.model, measure->done);
            rate_cell(out, words.model, measure->planned);
            rate_cell(out, words.model, measure->least);
            rate_cell(out, words.model, measure->most);
            csv_text(out, budget_sentence(&words, measure));
            csv_end(out);
        }
    }
}
