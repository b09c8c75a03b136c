#include "compiler/result/budget.h"

#include "compiler/model/display.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/footnote.h"
#include "compiler/result/result.h"

/* ---- by month ---- */

enum { MONTH_CELLS = 17, NUTRIENT_CELLS = 10, TABLE_NUTRIENTS = 6 }; /* 77 cells: a terminal's line */
enum { LEAST_DIGITS = 2 };

/* A column's figures have the digits of their sum, or as many as show two of the least of them; each is what
 * the sum up to it, rounded down, grows by, so that they add up as printed. */
struct column {
    enum nutrient nutrient;
    double so_far; /* as shown */
    int decimals;
};

struct month_table { /* a zone with many nutrients has several */
    struct page_columns *columns;
    struct column items[TABLE_NUTRIENTS];
    size_t count;
};

static double shown(const struct model *model, const double supplied[NUTRIENT_COUNT], enum nutrient nutrient)
{
    return display_parts(model, QUANTITY_MASS_RATE, supplied_as(supplied, nutrient_trade_form(nutrient)))
        .value;
}

static void column_refine(struct column *column, double value)
{
    while (value > 0 && value < pow(10, LEAST_DIGITS - 1 - column->decimals) &&
           column->decimals < NUMBER_DECIMALS)
        column->decimals++;
}

/* The next nutrients that the zone gets, from budget_nutrients[*at] on, as many as a table takes; *at moves
 * behind the last. */
static struct month_table table_next(struct page *page, const struct model *model,
                                     const struct budget_zone *zone, size_t *at)
{
    struct month_table table = {.count = 0};
    for (; *at < budget_nutrient_count && table.count < TABLE_NUTRIENTS; ++*at) {
        enum nutrient nutrient = budget_nutrients[*at];
        if (!budget_gives(zone, nutrient))
            continue;
        double total = shown(model, zone->total.done, nutrient) + shown(model, zone->total.planned, nutrient);
        struct column *column = &table.items[table.count++];
        *column = (struct column){nutrient, 0, number_short_decimals(total)};
        for (size_t i = 0; i < zone->months.count; i++) {
            column_refine(column, shown(model, zone->months.items[i].done, nutrient));
            column_refine(column, shown(model, zone->months.items[i].planned, nutrient));
        }
    }
    table.columns = page_columns(page, table.count + 1);
    for (size_t i = 0; i <= table.count; i++)
        table.columns->items[i].least = i == 0 ? MONTH_CELLS : NUTRIENT_CELLS;
    return table;
}

static void table_row(struct page *page, const struct model *model, struct month_table *table,
                      const char *name, const double supplied[NUTRIENT_COUNT])
{
    const char *cells[TABLE_NUTRIENTS + 1] = {name};
    for (size_t i = 0; i < table->count; i++) {
        struct column *column = &table->items[i];
        double before = number_floor(column->so_far, column->decimals);
        column->so_far += shown(model, supplied, column->nutrient);
        double figure = number_floor(column->so_far, column->decimals) - before;
        cells[i + 1] = number_text(page->arena, figure, column->decimals);
    }
    page_row(page, 1, table->columns, cells);
}

/* The total is of the exact figures, and its row begins anew, so that it is rounded once. */
static void describe_months(struct page *page, const struct model *model, const struct budget_zone *zone,
                            struct month_table *table)
{
    double sum[NUTRIENT_COUNT] = {0};
    const char *names[TABLE_NUTRIENTS + 1] = {NULL};
    for (size_t i = 0; i < table->count; i++)
        names[i + 1] = nutrient_trade_form(table->items[i].nutrient)->name;
    page_column_names(page, 1, table->columns, names);
    for (size_t i = 0; i < zone->months.count; i++) {
        const struct budget_month *month = &zone->months.items[i];
        /* Rows of nothing but zeros are left out, so the sum of what was done and what is planned is not
         * repeated. */
        const struct {
            const char *word;
            const double *supplied;
        } parts[] = {{"done", month->done}, {"planned", month->planned}};
        for (size_t k = 0; k < sizeof parts / sizeof *parts; k++) {
            bool any = false;
            for (size_t j = 0; j < table->count; j++)
                any = any || parts[k].supplied[table->items[j].nutrient] > 0;
            if (any)
                table_row(
                    page, model, table,
                    text_format(page->arena, "%s %s", budget_month_text(page->arena, month), parts[k].word),
                    parts[k].supplied);
        }
        for (size_t n = 0; n < NUTRIENT_COUNT; n++)
            sum[n] += month->done[n] + month->planned[n];
    }
    for (size_t i = 0; i < table->count; i++)
        table->items[i].so_far = 0;
    table_row(page, model, table, "total", sum);
    page_gap(page);
}

/* ---- bars ---- */

enum { BAR_BOUND = 20, BAR_CELLS = 24 }; /* cells up to the higher bound, and of the whole bar */

/* Whole cells that are full, and the cell by which a bound is reached: what is below a bound never looks as
 * if it reached it, and what is above it always passes it. */
static size_t cells_full(double share)
{
    return (size_t)fmax(fmin(floor(share * BAR_BOUND + COMPARE_TOLERANCE), BAR_CELLS), 0);
}

/* NAN: no cell. */
static bool bound_ends_at(double bound, double scale, size_t cell)
{
    double cells = ceil(bound / scale * BAR_BOUND - COMPARE_TOLERANCE);
    return !isnan(bound) && (size_t)fmax(fmin(cells, BAR_CELLS), 0) == cell;
}

/* "#######+++++........]...": reads without colour. NULL where nothing is asked or allowed that is above
 * 0. */
static const char *bar_of(struct arena *arena, const struct budget_measure *measure)
{
    double least = measure->least, most = measure->most;
    double scale = fmax(isnan(most) ? 0 : most, isnan(least) ? 0 : least);
    if (!(scale > 0))
        return NULL;
    double sum = measure->done + measure->planned;
    size_t done = cells_full(measure->done / scale), all = cells_full(sum / scale);
    if (exceeds(sum, scale) && all <= BAR_BOUND)
        all = BAR_BOUND + 1;
    struct buffer bar = {.arena = arena};
    for (size_t i = 0; i <= BAR_CELLS; i++) {
        if (bound_ends_at(least, scale, i))
            buffer_add_string(&bar, "[");
        if (bound_ends_at(most, scale, i) && (isnan(least) || differs(least, most)))
            buffer_add_string(&bar, "]");
        if (i < BAR_CELLS)
            buffer_add_string(&bar, i < done ? "#" : i < all ? "+" : ".");
    }
    if (sum / scale * BAR_BOUND > BAR_CELLS)
        buffer_add_string(&bar, ">");
    return bar.string;
}

/* ---- a zone ---- */

/* The months first, then each sum against what is needed and allowed. */
static void describe_figures(struct page *page, const struct need_words *words,
                             const struct budget_zone *zone)
{
    if (zone->months.count == 0) {
        page_line(page, 1, "Nothing is applied here.");
        return;
    }
    struct month_table table;
    for (size_t at = 0; (table = table_next(page, words->model, zone, &at)).count > 0;)
        describe_months(page, words->model, zone, &table);
    for (size_t i = 0; i < zone->measures.count; i++) {
        const struct budget_measure *measure = &zone->measures.items[i];
        const char *bar = bar_of(page->arena, measure);
        page_entry(page, 1, text_format(page->arena, "%s:", measure->form->name),
                   budget_sentence(words, measure));
        if (bar)
            page_add(page, PART_BAR, 2, bar);
    }
    if (zone->measures.count == 0)
        page_line(page, 1,
                  "Nothing to compare with: this zone has no soil test, no yearly range of its grass and no "
                  "yearly limit.");
}

/* ---- the page ---- */

/* The key of the bars stands above the first of them. */
void budget_page(struct page *page, const struct result_input *input)
{
    const struct model *model = input->season->model;
    struct footnotes notes = {.arena = page->arena};
    const struct need_words words = {page->arena, model, &notes};
    struct budget budget = budget_of(input->season);
    page_plan(page, model);
    if (model->has_season)
        page_say(page, 0, "Nutrients of the season %s, %s.",
                 display_dates(page->arena, model->season_first, model->season_last),
                 display_unit(page->arena, model, QUANTITY_MASS_RATE, 0));
    /* What is given behind the last whole year is in the table, and in no figure of a year. */
    bool yearly = false;
    for (size_t i = 0; i < budget.zones.count; i++)
        for (size_t j = 0; j < budget.zones.items[i].measures.count; j++)
            yearly = yearly || budget_yearly(&budget.zones.items[i].measures.items[j]);
    if (season_is_long(model) && yearly) {
        day_number end = season_year_at(model, season_year_count(model) - 1).last + 1;
        const char *rest = end > model->season_last
                               ? ""
                               : text_format(page->arena, "; the days from %s on are not a whole year",
                                             display_date(page->arena, end));
        page_say(page, 0, "Yearly amounts count from the season's first day%s.", rest);
    }
    page_line(page, 0,
              "Bars: # applied, + planned, . left; [ the least needed, ] the most needed or allowed.");
    /* Zones of a lawn with the same figures share a section, where the first of them comes. */
    size_t count = budget.zones.count;
    struct page *figures = ARENA_ARRAY(page->arena, count, struct page);
    for (size_t k = 0; k < count; k++) {
        figures[k] = (struct page){.arena = page->arena};
        describe_figures(&figures[k], &words, &budget.zones.items[k]);
    }
    for (size_t k = 0; k < count; k++) {
        const struct zone *zone = budget.zones.items[k].zone;
        struct buffer names = {.arena = page->arena};
        size_t first = count, alike = 0;
        for (size_t m = 0; m < count; m++) {
            const struct zone *other = budget.zones.items[m].zone;
            if (other->lawn != zone->lawn || !page_equal(&figures[k], &figures[m]))
                continue;
            first = m < first ? m : first;
            buffer_format(&names, "%s%s (%s)", alike++ ? ", " : "", name_string(other->symbol.name),
                          display_area(page->arena, words.model, other->area_m2));
        }
        if (first < k)
            continue;
        const char *lawn = name_string(zone->lawn->symbol.name);
        page_gap(page);
        page_heading(page, 0,
                     alike > 1 ? text_format(page->arena, "Zones %s of %s, each", names.string, lawn)
                               : text_format(page->arena, "Zone %s of %s, %s", name_string(zone->symbol.name),
                                             lawn, display_area(page->arena, words.model, zone->area_m2)));
        page_append(page, &figures[k]);
    }
    page_sources(page, &notes);
}
