#include "compiler/result/budget_csv.h"

#include "compiler/model/display.h"
#include "compiler/result/budget_words.h"
#include "compiler/form/csv_cell.h"
#include "compiler/result/work.h"

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

static void print_month(struct buffer *out, const struct model *model, const struct budget_zone *zone,
                        const struct budget_month *month)
{
    for (size_t i = 0; i < budget_nutrient_count; i++) {
        const struct nutrient_form *form = nutrient_trade_form(budget_nutrients[i]);
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

static const char *period_of(const struct need_words *words, const struct budget_measure *measure)
{
    bool yearly = measure->kind == BUDGET_RANGE || measure->kind == BUDGET_STATED;
    if (measure->kind == BUDGET_LIMIT)
        return text_format(words->arena, "%d", measure->year);
    if (!yearly || !season_is_long(words->model))
        return "season";
    return text_format(words->arena, "%s to %s", day_text(words->arena, measure->of_season.first),
                       day_text(words->arena, measure->of_season.last));
}

static void print_measure(struct buffer *out, const struct need_words *words, const struct budget_zone *zone,
                          const struct budget_measure *measure)
{
    print_start(out, zone->zone, budget_kind_name(measure->kind), period_of(words, measure),
                measure->form->name);
    rate_cell(out, words->model, measure->done);
    rate_cell(out, words->model, measure->planned);
    rate_cell(out, words->model, measure->least);
    rate_cell(out, words->model, measure->most);
    csv_text(out, budget_sentence(words, measure));
    csv_end(out);
}

void budget_csv_print(struct buffer *out, const struct season *season)
{
    const struct need_words words = {out->arena, season->model, NULL};
    struct budget budget = budget_of(season);
    const char *unit = display_unit(out->arena, season->model, QUANTITY_MASS_RATE, 0);
    buffer_format(out, "lawn,zone,of,period,nutrient,done %s,planned %s,least %s,most %s,sentence\r\n", unit,
                  unit, unit, unit);
    for (size_t i = 0; i < budget.zones.count; i++) {
        const struct budget_zone *zone = &budget.zones.items[i];
        for (size_t j = 0; j < zone->months.count; j++)
            print_month(out, season->model, zone, &zone->months.items[j]);
        for (size_t j = 0; j < zone->measures.count; j++)
            print_measure(out, &words, zone, &zone->measures.items[j]);
    }
}
