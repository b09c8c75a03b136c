#include "compiler/result/calendar_json.h"

#include "compiler/result/caution_json.h"
#include "compiler/result/closing_lines_json.h"
#include "compiler/result/limits_followed.h"
#include "compiler/form/json_values.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/work.h"

/* What the document is made of. */
struct calendar {
    const struct season *season;
    const struct model *model;
    const struct reports *reports;
    struct work_list list, skipped;
    const struct look *look; /* NULL without */
    const struct earlier *earlier;
};

/* ---- the ground ---- */

static void put_lawn(struct json_writer *writer, json_t *lawns, const struct model *model,
                     const struct lawn *lawn)
{
    json_t *object = json_put_object(writer, lawns, NULL);
    json_put_name(writer, object, "name", lawn->symbol.name);
    json_put_name(writer, object, "grass", lawn->grass ? lawn->grass->symbol.name : NULL);
    json_put_name(writer, object, "soil", lawn->soil);
    json_put_place(writer, object, "place", lawn->symbol.place);
    json_t *zones = json_put_array(writer, object, "zones");
    for (size_t i = 0; i < lawn->zones.count; i++) {
        const struct zone *zone = lawn->zones.items[i];
        json_t *item = json_put_object(writer, zones, NULL);
        json_put_name(writer, item, "name", zone->symbol.name);
        json_put_area(writer, item, "area", model, zone->area_m2);
        json_put_place(writer, item, "place", zone->symbol.place);
    }
}

static void put_lawns(struct json_writer *writer, json_t *root, const struct model *model)
{
    json_t *lawns = json_put_array(writer, root, "lawns");
    for (size_t i = 0; i < model->lawns.count; i++)
        put_lawn(writer, lawns, model, model->lawns.items[i]);
}

/* ---- a piece of work ---- */

static void put_portion(struct json_writer *writer, json_t *portions, const struct model *model,
                        const struct portion *portion)
{
    const struct amount *amount = portion->amount;
    json_t *object = json_put_object(writer, portions, NULL);
    json_put_name(writer, object, "zone", amount->zone->symbol.name);
    json_put_amount(writer, object, "amount", amount->total, amount->volume, portion->text);
    json_put_mass(writer, object, "mass", model, amount->mass_total);
    json_put_string(writer, object, "each_pass", portion->each);
}

static void put_material(struct json_writer *writer, json_t *materials, const struct model *model,
                         const struct work *work, const struct material *material)
{
    json_t *object = json_put_object(writer, materials, NULL);
    json_put_name(writer, object, "product", material->product->symbol.name);
    json_put_boolean(writer, object, "recorded", material->recorded);
    if (isnan(material->rate))
        json_put_null(writer, object, "rate");
    else
        json_put_product_rate(writer, object, "rate", material->rate, material->volume,
                              material_rate_text(material, work, model));
    json_t *portions = json_put_array(writer, object, "portions");
    for (size_t i = 0; i < material->portions.count; i++)
        put_portion(writer, portions, model, &material->portions.items[i]);
    json_put_amount(writer, object, "sum", material->sum_exact, material->volume, material->sum_text);
    json_put_mass(writer, object, "mass", model,
                  product_mass(material->product, material->sum_exact, material->volume));
}

static void put_zone(struct json_writer *writer, json_t *zones, const struct model *model,
                     const struct work_zone *zone)
{
    json_t *object = json_put_object(writer, zones, NULL);
    json_put_name(writer, object, "name", zone->zone->symbol.name);
    json_t *supply = json_put_object(writer, object, "supply");
    for (enum nutrient n = NUTRIENT_N; n <= NUTRIENT_LIME; n++) {
        const struct nutrient_form *form = nutrient_trade_form(n);
        double supplied = supplied_as(zone->supplied, form);
        if (supplied > 0)
            json_put_supply(writer, supply, form->name, model, supplied);
    }
}

static void put_mix(struct json_writer *writer, json_t *parent, const struct mix *mix)
{
    if (isnan(mix->volume_m3)) {
        json_put_null(writer, parent, "mix");
        return;
    }
    json_t *object = json_put_object(writer, parent, "mix");
    json_put_number(writer, object, "volume_m3", mix->volume_m3);
    json_put_integer(writer, object, "full_tanks", (json_int_t)mix->full);
    json_put_number(writer, object, "full_tank_m3", mix->full_m3);
    json_put_number(writer, object, "last_tank_m3", mix->rest_m3);
}

/* {"depth": ..., "materials": [{"material": "sand", "volume": ...}]} */
static void put_layer(struct json_writer *writer, json_t *parent, const struct model *model,
                      const struct work *work)
{
    const struct treatment *treatment = work->occurrence->treatment;
    if (isnan(treatment->lay_m)) {
        json_put_null(writer, parent, "layer");
        return;
    }
    json_t *layer = json_put_object(writer, parent, "layer");
    json_put_quantity(writer, layer, "depth", treatment->lay_m, "m",
                      display_depth(writer->arena, model, treatment->lay_m));
    json_t *materials = json_put_array(writer, layer, "materials");
    for (size_t i = 0; i < work->heaps.count; i++) {
        const struct heap *heap = &work->heaps.items[i];
        json_t *object = json_put_object(writer, materials, NULL);
        json_put_name(writer, object, "material", heap->material);
        json_put_quantity(writer, object, "volume", heap->m3, "m3", heap->text);
    }
}

static const char *const slip_end_words[] = {[SLIP_UNKNOWN] = "unknown",
                                             [SLIP_WINDOW] = "window",
                                             [SLIP_SEASON] = "season",
                                             [SLIP_CLOSED] = "closed",
                                             [SLIP_BROKEN] = "broken"};

static void put_day_known(struct json_writer *writer, json_t *object, const char *key, day_number day,
                          bool known)
{
    if (known)
        json_put_day(writer, object, key, day);
    else
        json_put_null(writer, object, key);
}

/* The days it may slip to, and what ends them. */
static void put_slip(struct json_writer *writer, json_t *object, const struct occurrence *occurrence)
{
    const struct slip *slip = &occurrence->slip;
    bool known = slip->end != SLIP_UNKNOWN;
    put_day_known(writer, object, "slips_alone_to", slip->alone, known);
    put_day_known(writer, object, "slips_with_the_rest_to", slip->latest, known);
    json_t *end = json_put_object(writer, object, "slip_end");
    json_put_string(writer, end, "by", slip_end_words[slip->end]);
    if (slip->check)
        json_put_string(writer, end, "check", slip->check);
    else
        json_put_null(writer, end, "check");
    json_put_place(writer, end, "place", slip->at);
    put_day_known(writer, end, "open_again", slip->opens,
                  slip->end == SLIP_CLOSED && slip->opens != DAY_NEVER);
    put_day_known(writer, object, "latest_by_dates_alone", occurrence->latest_by_dates,
                  occurrence->latest_by_dates != DAY_NEVER);
}

static void put_days(struct json_writer *writer, json_t *object, const struct occurrence *occurrence)
{
    json_put_day(writer, object, "date", occurrence->day);
    json_put_string(writer, object, "weekday", weekday_name(weekday_of_day(occurrence->day)));
    json_put_boolean(writer, object, "done", occurrence->done);
    json_put_day(writer, object, "planned", occurrence->planned);
    if (!occurrence->done)
        put_slip(writer, object, occurrence);
}

static const char *const share_words[] = {
    [SHARE_WHOLE] = "whole", [SHARE_PART] = "part", [SHARE_REST] = "rest", [SHARE_BEYOND] = "beyond"};

static void put_what(struct json_writer *writer, json_t *object, const struct occurrence *occurrence)
{
    json_put_name(writer, object, "treatment", occurrence->treatment->symbol.name);
    json_put_string(writer, object, "kind", occurrence->treatment->task ? "task" : "application");
    json_put_integer(writer, object, "time", occurrence->time);
    json_put_integer(writer, object, "times", occurrence->times);
    json_put_string(writer, object, "share", share_words[occurrence->share]);
}

static void put_work(struct json_writer *writer, json_t *works, const struct model *model,
                     const struct work *work)
{
    json_t *object = json_put_object(writer, works, NULL);
    json_put_string(writer, object, "uid", work->uid);
    put_what(writer, object, work->occurrence);
    put_days(writer, object, work->occurrence);
    json_put_name(writer, object, "lawn", work->lawn ? work->lawn->symbol.name : NULL);
    json_put_string(writer, object, "headline", work->headline);
    json_t *zones = json_put_array(writer, object, "zones");
    for (size_t i = 0; i < work->zones.count; i++)
        put_zone(writer, zones, model, &work->zones.items[i]);
    json_t *materials = json_put_array(writer, object, "materials");
    for (size_t i = 0; i < work->materials.count; i++)
        put_material(writer, materials, model, work, &work->materials.items[i]);
    put_mix(writer, object, &work->mix);
    put_layer(writer, object, model, work);
    json_t *sentences = json_put_array(writer, object, "sentences");
    for (size_t i = 0; i < work->sentences.count; i++)
        json_put_string(writer, sentences, NULL, work->sentences.items[i]);
    json_t *cautions = json_put_array(writer, object, "cautions");
    for (size_t i = 0; i < work->cautions.count; i++)
        json_put_name(writer, cautions, NULL, work->cautions.items[i]->symbol.name);
    json_put_place(writer, object, "place", work->occurrence->treatment->symbol.place);
}

/* ---- what stands around it ---- */

static void put_skipped(struct json_writer *writer, json_t *root, const struct work_list *list)
{
    json_t *skipped = json_put_array(writer, root, "skipped");
    for (size_t i = 0; i < list->count; i++) {
        const struct occurrence *occurrence = list->items[i].occurrence;
        json_t *object = json_put_object(writer, skipped, NULL);
        json_put_string(writer, object, "uid", list->items[i].uid);
        put_what(writer, object, occurrence);
        json_put_name(writer, object, "lawn", list->items[i].lawn ? list->items[i].lawn->symbol.name : NULL);
        if (occurrence->planned != occurrence->day)
            json_put_day(writer, object, "planned", occurrence->planned);
        else
            json_put_null(writer, object, "planned");
        json_put_string(writer, object, "headline", list->items[i].headline);
        json_put_string(writer, object, "why", occurrence->record ? occurrence->record->why : NULL);
    }
}

static void put_gone(struct json_writer *writer, json_t *root, const struct calendar *calendar)
{
    struct earlier_works gone =
        earlier_gone(writer->arena, calendar->earlier, &calendar->list, &calendar->skipped);
    json_t *array = json_put_array(writer, root, "gone");
    for (size_t i = 0; i < gone.count; i++) {
        json_t *object = json_put_object(writer, array, NULL);
        json_put_string(writer, object, "uid", gone.items[i]->uid);
        json_put_string(writer, object, "kind", gone.items[i]->kind);
        json_put_day(writer, object, "date", gone.items[i]->day);
        json_put_string(writer, object, "headline", gone.items[i]->headline);
    }
}

static void put_accepted(struct json_writer *writer, json_t *root, const struct reports *reports)
{
    json_t *accepted = json_put_array(writer, root, "accepted");
    for (size_t i = 0; i < reports->all.count; i++) {
        const struct report *report = reports->all.items[i];
        if (!report->allowed_because)
            continue;
        json_t *object = json_put_object(writer, accepted, NULL);
        json_put_string(writer, object, "check", report->rule->name);
        json_put_string(writer, object, "sentence", report->sentence);
        json_put_string(writer, object, "because", report->allowed_because);
        json_put_place(writer, object, "place", report->place);
        json_put_place(writer, object, "allowed_at", report->allowed_at);
    }
}

/* ---- what a day finds to do ---- */

static void put_errands(struct json_writer *writer, json_t *parent, const char *key,
                        const struct errands *errands)
{
    json_t *array = json_put_array(writer, parent, key);
    for (size_t i = 0; i < errands->count; i++) {
        const struct errand *errand = &errands->items[i];
        json_t *object = json_put_object(writer, array, NULL);
        json_put_string(writer, object, "uid", errand->work->uid);
        json_put_day(writer, object, "date", errand->work->occurrence->day);
        if (errand->day == DAY_NEVER)
            json_put_null(writer, object, "fits");
        else
            json_put_day(writer, object, "fits", errand->day);
    }
}

static void put_in_force(struct json_writer *writer, json_t *parent, const struct agenda *agenda)
{
    json_t *array = json_put_array(writer, parent, "in_force");
    for (size_t i = 0; i < agenda->in_force.count; i++) {
        const struct obligation *obligation = &agenda->in_force.items[i];
        json_t *object = json_put_object(writer, array, NULL);
        json_put_string(writer, object, "uid", obligation->work->uid);
        json_put_day(writer, object, "until", obligation->duty->last);
        json_put_string(writer, object, "text", obligation->duty->text);
    }
}

static void put_agenda(struct json_writer *writer, json_t *root, const struct calendar *calendar)
{
    struct agenda agenda = agenda_of(calendar->season, &calendar->list, calendar->look);
    json_t *object = json_put_object(writer, root, "as_of");
    json_put_day(writer, object, "date", agenda.day);
    json_put_day(writer, object, "week_to", agenda.week_end);
    put_errands(writer, object, "overdue", &agenda.overdue);
    put_errands(writer, object, "held", &agenda.held);
    put_in_force(writer, object, &agenda);
    put_errands(writer, object, "due", &agenda.due);
    put_errands(writer, object, "next", &agenda.next);
}

static void put_open(struct json_writer *writer, json_t *root, const struct reports *reports)
{
    json_t *open = json_put_object(writer, root, "open");
    json_put_integer(writer, open, "warnings", (json_int_t)reports->warnings);
    json_put_integer(writer, open, "notes", (json_int_t)reports->notes);
}

static void fill(struct json_writer *writer, json_t *root, const void *subject)
{
    const struct calendar *calendar = subject;
    json_put_string(writer, root, "format", "prill calendar 1");
    json_put_plan(writer, root, "plan", calendar->model);
    if (calendar->look)
        put_agenda(writer, root, calendar);
    json_put_held(writer, root, calendar->model);
    put_lawns(writer, root, calendar->model);
    json_t *works = json_put_array(writer, root, "work");
    for (size_t i = 0; i < calendar->list.count; i++)
        put_work(writer, works, calendar->model, &calendar->list.items[i]);
    put_skipped(writer, root, &calendar->skipped);
    if (calendar->earlier)
        put_gone(writer, root, calendar);
    put_accepted(writer, root, calendar->reports);
    put_open(writer, root, calendar->reports);
    json_put_cautions(writer, root, "cautions", &calendar->list.cautions);
    json_put_closing(writer, root, calendar->model);
}

void calendar_json_print(struct buffer *out, const struct season *season, const struct reports *reports,
                         const struct look *look, const struct earlier *earlier)
{
    struct calendar calendar = {.season = season,
                                .model = season->model,
                                .reports = reports,
                                .list = work_list_of(season),
                                .skipped = work_list_skipped(season),
                                .look = look,
                                .earlier = earlier};
    json_print(out, true, fill, &calendar);
}
