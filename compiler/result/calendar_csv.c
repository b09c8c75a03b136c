/* The season's calendar as a table for spreadsheets: RFC 4180, UTF-8, one row for each occurrence, zone and
 * product.
 *
 * A cell that a spreadsheet would take for a formula gets an apostrophe in front (CWE-1236). Amounts of what
 * is still to do are rounded as for weighing; rates and nutrients have four significant digits. */
#include "compiler/result/result.h"

#include "compiler/form/csv_cell.h"
#include "compiler/result/work.h"

static const enum nutrient columns[] = {NUTRIENT_N, NUTRIENT_SOLUBLE_N, NUTRIENT_P, NUTRIENT_K};
enum { COLUMN_COUNT = sizeof columns / sizeof *columns };

/* Planned, or done. */
static const char *const state_words[][2] = {
    [SHARE_WHOLE] = {"planned", "done"},
    [SHARE_PART] = {"part done", "part done"},
    [SHARE_REST] = {"rest planned", "rest done"},
    [SHARE_BEYOND] = {"done beyond the plan", "done beyond the plan"}};

static void print_when(struct buffer *out, const struct work *work)
{
    const struct occurrence *occurrence = work->occurrence;
    csv_plain(out, day_text(out->arena, occurrence->day));
    csv_plain(out, weekday_name(weekday_of_day(occurrence->day)));
    csv_text(out, name_string(occurrence->treatment->symbol.name));
    csv_plain(out, text_format(out->arena, "%d", occurrence->time));
    csv_plain(out, text_format(out->arena, "%d", occurrence->times));
    csv_plain(out, state_words[occurrence->share][occurrence->done]);
    csv_text(out, work->lawn ? name_string(work->lawn->symbol.name) : "");
}

static void print_zone(struct buffer *out, const struct model *model, const struct zone *zone)
{
    csv_text(out, zone ? name_string(zone->symbol.name) : "");
    csv_plain(out, zone ? display_number(out->arena, model, QUANTITY_AREA, zone->area_m2) : "");
}

static void print_supply(struct buffer *out, const struct model *model, const struct amount *amount)
{
    for (size_t i = 0; i < COLUMN_COUNT; i++) {
        double supplied = amount ? supplied_as(amount->supplied, nutrient_trade_form(columns[i])) : 0;
        csv_plain(out, amount ? display_number(out->arena, model, QUANTITY_MASS_RATE, supplied) : "");
    }
}

static void print_end(struct buffer *out, const struct occurrence *occurrence)
{
    bool known = !occurrence->done && occurrence->slip->end != SLIP_UNKNOWN;
    csv_plain(out, known ? day_text(out->arena, occurrence->slip->alone) : "");
    csv_plain(out, known ? day_text(out->arena, occurrence->slip->latest) : "");
    csv_end(out);
}

/* A row without a product: of a task, or of a zone on which nothing was used. */
static void print_bare_row(struct buffer *out, const struct model *model, const struct work *work,
                           const struct zone *zone)
{
    print_when(out, work);
    print_zone(out, model, zone);
    csv_blank(out, 5); /* product, rate, its unit, amount, its unit */
    print_supply(out, model, NULL);
    print_end(out, work->occurrence);
}

/* The columns are named once; their order is part of the format. */
void calendar_csv_print(struct buffer *out, const struct result_input *input)
{
    const struct season *season = input->season;
    struct work_list list = work_list_of(season);
    buffer_add_string(out, "date,weekday,treatment,time,of,state,lawn,zone,");
    buffer_format(out, "area %s,product,rate,rate unit,amount,amount unit",
                  display_unit(out->arena, season->model, QUANTITY_AREA, 0));
    const char *unit = display_unit(out->arena, season->model, QUANTITY_MASS_RATE, 0);
    for (size_t i = 0; i < COLUMN_COUNT; i++)
        buffer_format(out, ",%s %s", nutrient_trade_form(columns[i])->name, unit);
    buffer_add_string(out, ",alone to,with the rest to\r\n");
    for (size_t i = 0; i < list.count; i++) {
        /* A row for each product and zone; where nothing is put down, one for each zone, and one for a task
         * that names none. */
        const struct model *model = season->model;
        const struct work *work = &list.items[i];
        for (size_t k = 0; k < work->materials.count; k++) {
            const struct material *material = &work->materials.items[k];
            for (size_t j = 0; j < material->portions.count; j++) {
                print_when(out, work);
                print_zone(out, model, material->portions.items[j].amount->zone);
                /* The zones of a material may have rates of their own, so the rate is the amount's. */
                const struct amount *amount = material->portions.items[j].amount;
                enum quantity quantity = amount->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
                csv_text(out, name_string(amount->product->symbol.name));
                struct shown_rate rate = material_rate(material, work);
                rate.rate = amount->rate; /* the zones may differ */
                csv_plain(out, amount->recorded ? display_number(out->arena, model, quantity, amount->rate)
                                                : display_whole_number(out->arena, model, &rate));
                csv_plain(out, display_unit(out->arena, model, quantity, amount->rate));
                csv_plain(out, material->portions.items[j].number);
                csv_plain(out, material->unit->name);
                print_supply(out, model, amount);
                print_end(out, work->occurrence);
            }
        }
        for (size_t k = 0; k < work->zones.count && work->materials.count == 0; k++)
            print_bare_row(out, model, work, work->zones.items[k].zone);
        if (work->zones.count == 0)
            print_bare_row(out, model, work, NULL);
    }
}
