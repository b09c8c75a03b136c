/* The season's calendar as one JSON document, for other programs; docs/calendar.schema.json describes it.
 *
 * Exact amounts are SI numbers; beside them stand the texts that the other outputs show, rounded for
 * weighing. */
#include "compiler/result/result.h"

#include "compiler/result/caution.h"
#include "compiler/result/limits_followed.h"
#include "compiler/form/data.h"
#include "compiler/result/plan_facts.h"
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

/* Beside each name its place in the text, so that an editor can lead there. */
static void put_lawns(struct data *root, const struct model *model)
{
    struct data *lawns = data_list(root, "lawns");
    for (size_t i = 0; i < model->lawns.count; i++) {
        const struct lawn *lawn = model->lawns.items[i];
        struct data *object = data_object(lawns, NULL);
        data_name(object, "name", lawn->symbol.name);
        data_name(object, "grass", lawn->grass ? lawn->grass->symbol.name : NULL);
        data_name(object, "soil", lawn->soil);
        data_place(object, "place", lawn->symbol.place);
        struct data *zones = data_list(object, "zones");
        for (size_t j = 0; j < lawn->zones.count; j++) {
            const struct zone *zone = lawn->zones.items[j];
            struct data *item = data_object(zones, NULL);
            data_name(item, "name", zone->symbol.name);
            data_measure(item, "area", model, QUANTITY_AREA, zone->area_m2);
            data_place(item, "place", zone->symbol.place);
        }
    }
}

/* ---- a piece of work ---- */

/* What a spreader is to do with it on the zone. */
static void put_spreading(struct data *parent, const struct spreading *spreading)
{
    static const char *const checks[] = {
        [CHECK_AFTER_FIRST_PASS] = "after-first-pass", [CHECK_HALF_WAY] = "half-way"};
    if (!spreading) {
        data_null(parent, "spreading");
        return;
    }
    const struct loads *fills = &spreading->fills;
    struct data *object = data_object(parent, "spreading");
    data_quantity(object, "pass_rate", spreading->pass_rate, "kg/m2", spreading->rate);
    data_number(object, "pass_kg", spreading->pass_kg);
    data_boolean(object, "one_load", spreading->once);
    data_string(object, "load", spreading->load);
    data_integer(object, "full_fills", (long long)fills->full);
    data_number(object, "full_fill_kg", fills->full_each);
    data_integer(object, "last_fills", (long long)fills->rest);
    data_number(object, "last_fill_kg", fills->rest_each);
    data_quantity(object, "walk", spreading->distance_m, "m", spreading->walk);
    struct data *check = data_object(object, "check");
    data_string(check, "when", checks[spreading->check]);
    data_quantity(check, "left", spreading->left_kg, "kg", spreading->left);
    data_number(check, "least_kg", spreading->least_kg);
    data_number(check, "most_kg", spreading->most_kg);
    data_string(check, "band", spreading->band);
    data_quantity(check, "walk", spreading->check_m, "m", spreading->check_walk);
    /* {"found": "between", "setting": "12.4", "by": "test", "after": "12", "until": "14"}: setting is null
     * where none is known. */
    const struct dial_answer *dial = &spreading->dial;
    static const char *const words[] = {
        [DIAL_UNKNOWN] = "unknown", [DIAL_OTHER] = "other-dial", [DIAL_BELOW] = "below",
        [DIAL_ABOVE] = "above",     [DIAL_BETWEEN] = "between",  [DIAL_FOUND] = "found"};
    struct data *item = data_row(object, "dial");
    data_string(item, "found", words[dial->found]);
    data_string(item, "setting", dial->found == DIAL_FOUND ? dial->text : NULL);
    data_string(item, "by", isnan(dial->low) ? NULL : dial->of_label ? "label" : "test");
    data_string(item, "after", dial->after);
    data_string(item, "until", dial->until);
}

/* What one tank takes; null where no tanks are known. */
static void put_tank(struct data *object, const char *key, const struct material *material, double si,
                     const char *text)
{
    data_amount(object, key, si > 0 ? si : (double)NAN, material->volume, text ? text : material->sum_text);
}

/* The rate is null where the zones differ: then only the portions say what goes where. */
static void put_material(struct data *materials, const struct model *model, const struct work *work,
                         const struct material *material)
{
    struct data *object = data_object(materials, NULL);
    data_name(object, "product", material->product->symbol.name);
    data_boolean(object, "recorded", material->recorded);
    data_rate(object, "rate", material->rate, material->volume,
              isnan(material->rate) ? NULL : material_rate_text(material, material->rate, work, model));
    struct data *portions = data_list(object, "portions");
    for (size_t i = 0; i < material->portions.count; i++) {
        /* What each zone gets. */
        const struct portion *portion = &material->portions.items[i];
        const struct amount *amount = portion->amount;
        struct data *item = data_object(portions, NULL);
        data_name(item, "zone", amount->zone->symbol.name);
        data_rate(item, "rate", amount->rate, amount->volume, portion->rate);
        data_amount(item, "amount", amount->total, amount->volume, portion->text);
        data_measure(item, "mass", model, QUANTITY_MASS,
                     product_mass(amount->product, amount->total, amount->volume));
        data_string(item, "each_pass", portion->each);
        put_spreading(item, portion->spreading);
    }
    data_amount(object, "sum", material->sum_exact, material->volume, material->sum_text);
    put_tank(object, "full_tank", material, material->tank_exact, material->tank_text);
    put_tank(object, "last_tank", material, material->last_exact, material->last_text);
    data_measure(object, "mass", model, QUANTITY_MASS,
                 product_mass(material->product, material->sum_exact, material->volume));
}

/* What one such tank covers, and the water in it; null without such a tank, and where a product's volume is
 * not known. */
static void put_tank_more(struct data *object, const char *tank, const struct model *model, double m2,
                          double water_m3)
{
    struct arena *arena = object->arena;
    const char *covers = text_format(arena, "%s_covers", tank), *water = text_format(arena, "%s_water", tank);
    data_measure(object, covers, model, QUANTITY_AREA, m2);
    bool known = !isnan(m2) && !isnan(water_m3) && water_m3 >= 0;
    data_quantity(object, water, known ? water_m3 : (double)NAN, "m3",
                  known ? water_text(model, water_m3) : NULL);
}

/* {"depth": ..., "materials": [{"material": "sand", "volume": ...}]} */
static void put_layer(struct data *parent, const struct model *model, const struct work *work)
{
    const struct treatment *treatment = work->occurrence->treatment;
    if (!treatment->layer) {
        data_null(parent, "layer");
        return;
    }
    struct data *layer = data_object(parent, "layer");
    data_quantity(layer, "depth", treatment->layer->depth_m, "m",
                  display_depth(parent->arena, model, treatment->layer->depth_m));
    struct data *materials = data_list(layer, "materials");
    for (size_t i = 0; i < work->heaps.count; i++) {
        const struct heap *heap = &work->heaps.items[i];
        struct data *object = data_object(materials, NULL);
        data_name(object, "material", heap->material);
        data_quantity(object, "volume", heap->m3, "m3", heap->text);
    }
}

static const char *const slip_end_words[] = {[SLIP_UNKNOWN] = "unknown",
                                             [SLIP_WINDOW] = "window",
                                             [SLIP_SEASON] = "season",
                                             [SLIP_CLOSED] = "closed",
                                             [SLIP_BROKEN] = "broken"};

/* What is done slips no more. */
static void put_days(struct data *object, const struct occurrence *occurrence)
{
    data_day(object, "date", occurrence->day);
    data_string(object, "weekday", weekday_name(weekday_of_day(occurrence->day)));
    data_boolean(object, "done", occurrence->done);
    data_day(object, "planned", occurrence->planned);
    if (!occurrence->done) {
        /* The days it may slip to, and what ends them. */
        const struct slip *slip = occurrence->slip;
        bool known = slip->end != SLIP_UNKNOWN;
        data_day(object, "slips_alone_to", known ? slip->alone : DAY_NEVER);
        data_day(object, "slips_with_the_rest_to", known ? slip->latest : DAY_NEVER);
        struct data *end = data_row(object, "slip_end");
        data_string(end, "by", slip_end_words[slip->end]);
        data_string(end, "check", slip->check);
        data_place(end, "place", slip->at);
        data_day(end, "open_again", slip->end == SLIP_CLOSED ? slip->opens : DAY_NEVER);
        data_day(object, "latest_by_dates_alone", occurrence->latest_by_dates);
    }
}

static const char *const share_words[] = {
    [SHARE_WHOLE] = "whole", [SHARE_PART] = "part", [SHARE_REST] = "rest", [SHARE_BEYOND] = "beyond"};

static void put_what(struct data *object, const struct occurrence *occurrence)
{
    data_name(object, "treatment", occurrence->treatment->symbol.name);
    data_string(object, "kind", occurrence->treatment->task ? "task" : "application");
    data_integer(object, "time", occurrence->time);
    data_integer(object, "times", occurrence->times);
    data_string(object, "share", share_words[occurrence->share]);
}

/* In the order of reading: what, when, where, how much, how. */
static void put_work(struct data *works, const struct model *model, const struct work *work)
{
    struct data *object = data_object(works, NULL);
    data_string(object, "uid", work->uid);
    put_what(object, work->occurrence);
    put_days(object, work->occurrence);
    data_name(object, "lawn", work->lawn ? work->lawn->symbol.name : NULL);
    data_string(object, "headline", work->headline);
    const struct machine *machine = work->occurrence->treatment->machine;
    data_name(object, "machine", machine ? machine->symbol.name : NULL);
    struct data *zones = data_list(object, "zones");
    for (size_t i = 0; i < work->zones.count; i++) {
        /* What each zone gets of all of it. */
        const struct work_zone *zone = &work->zones.items[i];
        struct data *entry = data_object(zones, NULL);
        data_name(entry, "name", zone->zone->symbol.name);
        struct data *supply = data_object(entry, "supply");
        for (enum nutrient n = NUTRIENT_N; n <= NUTRIENT_LIME; n++) {
            if (!(zone->supplied[n] > 0))
                continue;
            const struct nutrient_form *form = nutrient_trade_form(n);
            data_measure(supply, form->name, model, QUANTITY_MASS_RATE, supplied_as(zone->supplied, form));
        }
        data_quantity(entry, "mix", zone->spray_m3, "m3",
                      isnan(zone->spray_m3) ? NULL : water_text(model, zone->spray_m3));
        data_quantity(entry, "spray_walk", zone->spray_m, "m",
                      isnan(zone->spray_m) ? NULL : display_length(entry->arena, model, zone->spray_m));
        data_number(entry, "spray_seconds", zone->spray_s);
    }
    struct data *materials = data_list(object, "materials");
    for (size_t i = 0; i < work->materials.count; i++)
        put_material(materials, model, work, &work->materials.items[i]);
    /* No full tank where its size is not stated, no last one where all are full. */
    const struct mix *mix = &work->mix;
    if (isnan(mix->volume_m3)) {
        data_null(object, "mix");
    } else {
        struct data *item = data_object(object, "mix");
        data_quantity(item, "volume", mix->volume_m3, "m3", water_text(model, mix->volume_m3));
        data_integer(item, "full_tanks", (long long)mix->full);
        data_quantity(item, "full_tank", mix->full_m3 > 0 ? mix->full_m3 : (double)NAN, "m3",
                      water_text(model, mix->full_m3));
        put_tank_more(item, "full_tank", model, mix->full ? mix->full_m2 : (double)NAN, mix->full_water_m3);
        data_integer(item, "last_tanks", (long long)mix->rest);
        data_quantity(item, "last_tank", mix->rest_m3 > 0 ? mix->rest_m3 : (double)NAN, "m3",
                      water_text(model, mix->rest_m3));
        put_tank_more(item, "last_tank", model, mix->rest ? mix->rest_m2 : (double)NAN, mix->rest_water_m3);
    }
    put_layer(object, model, work);
    struct data *sentences = data_list(object, "sentences");
    for (size_t i = 0; i < work->sentences.count; i++)
        data_string(sentences, NULL, work->sentences.items[i]);
    struct data *cautions = data_list_row(object, "cautions");
    for (size_t i = 0; i < work->cautions.count; i++)
        data_name(cautions, NULL, work->cautions.items[i]->symbol.name);
    data_place(object, "place", work->occurrence->treatment->symbol.place);
}

/* ---- what stands around it ---- */

static void put_gone(struct data *root, const struct calendar *calendar)
{
    struct earlier_works gone =
        earlier_gone(root->arena, calendar->earlier, &calendar->list, &calendar->skipped);
    struct data *array = data_list(root, "gone");
    for (size_t i = 0; i < gone.count; i++) {
        struct data *object = data_object(array, NULL);
        data_string(object, "uid", gone.items[i]->uid);
        data_string(object, "kind", gone.items[i]->kind);
        data_day(object, "date", gone.items[i]->day);
        data_string(object, "headline", gone.items[i]->headline);
    }
}

/* What an `allow` silences was accepted by a person, for a reason that a reader may ask about. */
static void put_accepted(struct data *root, const struct reports *reports)
{
    struct data *accepted = data_list(root, "accepted");
    for (size_t i = 0; i < reports->all.count; i++) {
        const struct report *report = reports->all.items[i];
        if (!report->allowed_because)
            continue;
        struct data *object = data_object(accepted, NULL);
        data_string(object, "check", report->rule->name);
        data_string(object, "sentence", report->sentence);
        data_string(object, "because", report->allowed_because);
        data_place(object, "place", report->place);
        data_place(object, "allowed_at", report->allowed_at);
    }
}

/* ---- what a day finds to do ---- */

static void put_errands(struct data *parent, const char *key, const struct errands *errands)
{
    struct data *array = data_list(parent, key);
    for (size_t i = 0; i < errands->count; i++) {
        const struct errand *errand = &errands->items[i];
        struct data *object = data_object(array, NULL);
        data_string(object, "uid", errand->work->uid);
        data_day(object, "date", errand->work->occurrence->day);
        data_day(object, "fits", errand->day);
    }
}

/* By uid: the work itself is below. */
static void put_agenda(struct data *root, const struct calendar *calendar)
{
    struct agenda agenda = agenda_of(calendar->season, &calendar->list, calendar->look);
    struct data *object = data_object(root, "as_of");
    data_day(object, "date", agenda.day);
    data_day(object, "week_to", agenda.week_end);
    put_errands(object, "overdue", &agenda.overdue);
    put_errands(object, "held", &agenda.held);
    /* What is done and still to be kept to. */
    struct data *array = data_list(object, "in_force");
    for (size_t i = 0; i < agenda.in_force.count; i++) {
        const struct obligation *obligation = &agenda.in_force.items[i];
        struct data *item = data_object(array, NULL);
        data_string(item, "uid", obligation->work->uid);
        data_day(item, "until", obligation->duty->last);
        data_string(item, "text", obligation->duty->text);
    }
    put_errands(object, "due", &agenda.due);
    put_errands(object, "next", &agenda.next);
}

/* Each statement of a limit in force with its place. */
static void put_limits(struct data *root, const struct model *model)
{
    struct data *limits = data_list(root, "limits");
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        if (!limit->set->bound)
            continue;
        struct data *object = data_object(limits, NULL);
        data_name(object, "set", limit->set->symbol.name);
        data_string(object, "statement", place_words(root->arena, limit->place));
        data_place(object, "place", limit->place);
    }
}

/* Of the products that some work puts down, each statement of their blocks. */
static void put_products(struct data *root, const struct model *model, const struct work_list *list)
{
    const bool *used = products_in_use(model, list);
    struct data *products = data_list(root, "products");
    for (size_t i = 0; i < model->products.count; i++) {
        const struct product *product = model->products.items[i];
        struct facts facts = {0};
        if (!used[i])
            continue;
        facts_of_product(root->arena, &facts, product);
        struct data *object = data_object(products, NULL);
        data_name(object, "name", product->symbol.name);
        struct data *statements = data_list(object, "statements");
        for (size_t j = 0; j < facts.count; j++)
            data_string(statements, NULL, facts.items[j].words);
        data_place(object, "place", product->symbol.place);
    }
}

/* In the order of the schema. */
void calendar_data(struct data *root, const struct result_input *input)
{
    struct calendar calendar = {.season = input->season,
                                .model = input->season->model,
                                .reports = input->reports,
                                .list = work_list_of(input->season),
                                .skipped = work_list_skipped(input->season),
                                .look = input->look,
                                .earlier = input->earlier};
    if (calendar.look)
        put_agenda(root, &calendar);
    data_held(root, calendar.model);
    put_limits(root, calendar.model);
    put_lawns(root, calendar.model);
    struct data *works = data_list(root, "work");
    for (size_t i = 0; i < calendar.list.count; i++)
        put_work(works, calendar.model, &calendar.list.items[i]);
    put_products(root, calendar.model, &calendar.list);
    /* Nothing in a plan without any. */
    const struct model *model = calendar.model;
    struct data *array = model->sprinklers.count ? data_list(root, "sprinklers") : NULL;
    for (size_t k = 0; k < model->sprinklers.count; k++) {
        const struct sprinkler *sprinkler = model->sprinklers.items[k];
        struct data *object = data_object(array, NULL);
        data_name(object, "name", sprinkler->symbol.name);
        struct data *zones = data_list_row(object, "zones");
        for (size_t j = 0; j < sprinkler->zones.count; j++)
            data_name(zones, NULL, sprinkler->zones.items[j]->symbol.name);
        data_number(object, "m_per_s", sprinkler->m_per_s);
        data_number(object, "uniformity", sprinkler->driest);
        data_string(object, "text", sprinkler_text(root->arena, model, sprinkler));
        data_place(object, "place", sprinkler->symbol.place);
    }
    /* With the day on which the plan had it, null where it never had one. */
    const struct work_list *list = &calendar.skipped;
    struct data *skipped = data_list(root, "skipped");
    for (size_t m = 0; m < list->count; m++) {
        const struct occurrence *occurrence = list->items[m].occurrence;
        struct data *item = data_object(skipped, NULL);
        data_string(item, "uid", list->items[m].uid);
        put_what(item, occurrence);
        data_name(item, "lawn", list->items[m].lawn ? list->items[m].lawn->symbol.name : NULL);
        data_day(item, "planned", occurrence->planned != occurrence->day ? occurrence->planned : DAY_NEVER);
        data_string(item, "headline", list->items[m].headline);
        data_string(item, "why", occurrence->record ? occurrence->record->why : NULL);
    }
    if (calendar.earlier)
        put_gone(root, &calendar);
    put_accepted(root, calendar.reports);
    struct data *open = data_object(root, "open");
    data_integer(open, "warnings", (long long)calendar.reports->warnings);
    data_integer(open, "notes", (long long)calendar.reports->notes);
    data_cautions(root, "cautions", &calendar.list.cautions);
}
