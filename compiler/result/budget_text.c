#include "compiler/result/budget_text.h"

#include "compiler/model/display.h"
#include "compiler/result/budget_words.h"
#include "compiler/result/closing_lines.h"
#include "compiler/form/paragraph.h"
#include "compiler/result/work.h"

struct page {
    struct buffer *out;
    struct arena *arena;
    const struct model *model;
    struct footnotes notes;
    struct need_words words;
};

/* ---- by month ---- */

enum { MONTH_CELLS = 17, NUTRIENT_CELLS = 10, COLUMNS = 6 }; /* 77 cells: a terminal's line */

struct columns { /* of one table; a zone with many nutrients has several */
    enum nutrient items[COLUMNS];
    size_t count;
};

/* From *at on, which moves behind the last one taken. */
static struct columns columns_take(const struct budget_zone *zone, size_t *at)
{
    struct columns columns = {.count = 0};
    for (; *at < budget_nutrient_count && columns.count < COLUMNS; ++*at)
        if (budget_gives(zone, budget_nutrients[*at]))
            columns.items[columns.count++] = budget_nutrients[*at];
    return columns;
}

/* A column's figures have the digits of their sum, or as many as show two of the least of them; each is what
 * the sum up to it, rounded down, grows by, so that they add up as printed. */
struct column {
    double so_far; /* as shown */
    int decimals;
};

enum { LEAST_DIGITS = 2, MOST_DECIMALS = 12 };

static double shown(const struct page *page, const double supplied[NUTRIENT_COUNT], enum nutrient nutrient)
{
    return display_value(page->model, QUANTITY_MASS_RATE,
                         supplied_as(supplied, nutrient_trade_form(nutrient)));
}

static void column_refine(struct column *column, double value)
{
    for (double least = pow(10, LEAST_DIGITS - 1 - column->decimals);
         value > 0 && value < least && column->decimals < MOST_DECIMALS; least /= 10)
        column->decimals++;
}

static void columns_begin(const struct page *page, const struct budget_zone *zone,
                          const struct columns *columns, struct column shown_columns[COLUMNS])
{
    for (size_t i = 0; i < columns->count; i++) {
        enum nutrient nutrient = columns->items[i];
        double total = shown(page, zone->total.done, nutrient) + shown(page, zone->total.planned, nutrient);
        int decimals = number_short_decimals(total);
        shown_columns[i] = (struct column){0, decimals < MOST_DECIMALS ? decimals : MOST_DECIMALS};
        for (size_t j = 0; j < zone->months.count; j++) {
            column_refine(&shown_columns[i], shown(page, zone->months.items[j].done, nutrient));
            column_refine(&shown_columns[i], shown(page, zone->months.items[j].planned, nutrient));
        }
    }
}

static void print_row(struct page *page, const char *name, const struct columns *columns,
                      struct column *shown_columns, const double supplied[NUTRIENT_COUNT])
{
    buffer_add_string(page->out, "  ");
    field_add(page->out, name, MONTH_CELLS);
    for (size_t i = 0; i < columns->count; i++) {
        struct column *column = &shown_columns[i];
        double before = number_floor(column->so_far, column->decimals);
        column->so_far += shown(page, supplied, columns->items[i]);
        double figure = number_floor(column->so_far, column->decimals) - before;
        field_add(page->out, number_text(page->arena, figure, column->decimals),
                  i + 1 < columns->count ? NUTRIENT_CELLS : 0);
    }
    buffer_add_string(page->out, "\n");
}

static bool any(const struct columns *columns, const double supplied[NUTRIENT_COUNT])
{
    bool found = false;
    for (size_t i = 0; i < columns->count; i++)
        found = found || supplied[columns->items[i]] > 0;
    return found;
}

static void print_month(struct page *page, const char *name, const struct columns *columns,
                        struct column *shown_columns, const struct budget_month *month)
{
    if (any(columns, month->done))
        print_row(page, text_format(page->arena, "%s done", name), columns, shown_columns, month->done);
    if (any(columns, month->planned))
        print_row(page, text_format(page->arena, "%s planned", name), columns, shown_columns, month->planned);
}

static void print_header(struct page *page, const struct columns *columns)
{
    buffer_add_string(page->out, "  ");
    field_add(page->out, "", MONTH_CELLS);
    for (size_t i = 0; i < columns->count; i++)
        field_add(page->out, nutrient_trade_form(columns->items[i])->name,
                  i + 1 < columns->count ? NUTRIENT_CELLS : 0);
    buffer_add_string(page->out, "\n");
}

static void print_months(struct page *page, const struct budget_zone *zone, const struct columns *columns)
{
    double sum[NUTRIENT_COUNT] = {0};
    struct column shown_columns[COLUMNS];
    columns_begin(page, zone, columns, shown_columns);
    print_header(page, columns);
    for (size_t i = 0; i < zone->months.count; i++) {
        const struct budget_month *month = &zone->months.items[i];
        print_month(page, budget_month_text(page->arena, month), columns, shown_columns, month);
        for (size_t n = 0; n < NUTRIENT_COUNT; n++)
            sum[n] += month->done[n] + month->planned[n];
    }
    for (size_t i = 0; i < columns->count; i++)
        shown_columns[i].so_far = 0;
    print_row(page, "together", columns, shown_columns, sum);
    buffer_add_string(page->out, "\n");
}

/* ---- against what is asked and allowed ---- */

static void print_measure(struct page *page, const struct budget_measure *measure)
{
    const char *bar = budget_bar(page->arena, measure);
    paragraph_add(page->out, text_format(page->arena, "  %s: ", measure->form->name),
                  budget_sentence(&page->words, measure));
    if (bar)
        buffer_format(page->out, "    %s\n", bar);
}

/* ---- a zone ---- */

static void print_figures(struct page *page, const struct budget_zone *zone)
{
    if (zone->months.count == 0) {
        paragraph_add(page->out, "  ", "Nothing is put down here.");
        return;
    }
    struct columns columns;
    for (size_t at = 0; (columns = columns_take(zone, &at)).count > 0;)
        print_months(page, zone, &columns);
    for (size_t i = 0; i < zone->measures.count; i++)
        print_measure(page, &zone->measures.items[i]);
    if (zone->measures.count == 0)
        paragraph_add(
            page->out, "  ",
            "Nothing to hold it against: no soil test, range of the grass or limit of a year speaks "
            "of this zone.");
}

static const char *figures_of(struct page *page, const struct budget_zone *zone)
{
    struct buffer text = {.arena = page->arena}, *out = page->out;
    page->out = &text;
    print_figures(page, zone);
    page->out = out;
    return buffer_string(&text);
}

static const char *area_of(struct page *page, const struct zone *zone)
{
    return display_area(page->arena, page->model, zone->area_m2);
}

/* Zones of a lawn with the same figures are told together; false where zone `at` was told before. */
static bool print_heading(struct page *page, const struct budget *budget, const char *const *figures,
                          size_t at)
{
    struct buffer names = {.arena = page->arena};
    const struct zone *zone = budget->zones.items[at].zone;
    size_t count = 0;
    for (size_t i = 0; i < budget->zones.count; i++) {
        const struct zone *other = budget->zones.items[i].zone;
        if (other->lawn != zone->lawn || !text_equal(text_of(figures[i]), text_of(figures[at])))
            continue;
        if (i < at)
            return false;
        buffer_format(&names, "%s%s (%s)", count++ ? ", " : "", name_string(other->symbol.name),
                      area_of(page, other));
    }
    buffer_add_string(page->out, "\n");
    const char *lawn = name_string(zone->lawn->symbol.name);
    paragraph_add(page->out, "",
                  count > 1 ? text_format(page->arena, "Zones %s of %s, each", names.string, lawn)
                            : text_format(page->arena, "Zone %s of %s, %s", name_string(zone->symbol.name),
                                          lawn, area_of(page, zone)));
    return true;
}

static void print_zones(struct page *page, const struct budget *budget)
{
    const char **figures = ARENA_ARRAY(page->arena, budget->zones.count, const char *);
    for (size_t i = 0; i < budget->zones.count; i++)
        figures[i] = figures_of(page, &budget->zones.items[i]);
    for (size_t i = 0; i < budget->zones.count; i++)
        if (print_heading(page, budget, figures, i))
            buffer_add_string(page->out, figures[i]);
}

static bool asks_a_year(const struct budget *budget)
{
    for (size_t i = 0; i < budget->zones.count; i++)
        for (size_t j = 0; j < budget->zones.items[i].measures.count; j++) {
            enum budget_kind kind = budget->zones.items[i].measures.items[j].kind;
            if (kind == BUDGET_RANGE || kind == BUDGET_STATED)
                return true;
        }
    return false;
}

/* What is given behind the last whole year is in the table, and in no figure of a year. */
static void print_years(struct page *page, const struct budget *budget)
{
    const struct model *model = page->model;
    if (!season_is_long(model) || !asks_a_year(budget))
        return;
    day_number end = season_year_at(model, season_year_count(model) - 1).last + 1;
    const char *rest = end > model->season_last
                           ? ""
                           : text_format(page->arena, "; the days from %s on make no whole year",
                                         display_date(page->arena, end));
    paragraph_add(
        page->out, "",
        text_format(page->arena, "What is asked a year counts from the season's first day%s.", rest));
}

static void print_head(struct page *page, const struct budget *budget)
{
    const struct model *model = page->model;
    paragraph_add(page->out, "", model->title ? model->title : "A plan without a name");
    if (model->has_season)
        paragraph_add(page->out, "",
                      text_format(page->arena, "Nutrients of the season %s, %s.",
                                  display_dates(page->arena, model->season_first, model->season_last),
                                  display_unit(page->arena, model, QUANTITY_MASS_RATE, 0)));
    print_years(page, budget);
    paragraph_add(page->out, "", budget_bar_legend);
}

void budget_text_print(struct buffer *out, const struct season *season)
{
    struct page page = {
        .out = out, .arena = out->arena, .model = season->model, .notes = {.arena = out->arena}};
    page.words = (struct need_words){out->arena, season->model, &page.notes};
    struct budget budget = budget_of(season);
    print_head(&page, &budget);
    print_zones(&page, &budget);
    footnotes_print(out, &page.notes);
    buffer_add_string(out, "\n");
    struct closing closing = closing_of(season->model);
    for (size_t i = 0; i < closing.count; i++)
        paragraph_add(out, "", closing.lines[i]);
}
