#include "compiler/result/needs_json.h"

#include "compiler/model/display.h"
#include "compiler/result/zone_groups.h"
#include "compiler/result/fix_text.h"
#include "compiler/form/json_values.h"
#include "compiler/result/need_once.h"
#include "compiler/result/need_text.h"
#include "compiler/result/soil_change.h"
#include "compiler/result/plan_notes.h"
#include "compiler/season/scale_offer.h"

struct document {
    const struct season *season;
    struct need_words words;
};

static void put_words(struct json_writer *writer, json_t *object, const char *key, const char *text)
{
    json_put_string(writer, object, key, *text ? text : NULL);
}

static const char *rule_name(enum need_rule rule)
{
    switch (rule) {
    case NEED_BY_NOTHING:
        return NULL;
    case NEED_BY_CLASS:
        return "class";
    case NEED_BY_EQUATION:
        return "equation";
    case NEED_BY_MINIMUM:
        return "minimum";
    case NEED_BY_ENOUGH:
        return "enough";
    case NEED_BY_LABORATORY:
        return "laboratory";
    case NEED_BY_RATING:
        return "rating";
    case NEED_BY_LAWN:
        return "lawn";
    case NEED_BY_GRASS:
        return "grass";
    case NEED_BY_LIME:
        return "lime";
    }
    return NULL;
}

/* ---- a result ---- */

static void put_result(struct json_writer *writer, json_t *parent, const struct soil_reading *reading)
{
    json_t *object = json_put_object(writer, parent, "result");
    json_put_string(writer, object, "of", reading->nutrient->name);
    json_put_string(writer, object, "counted_as", reading->index ? "index" : "share of the soil");
    json_put_number(writer, object, "mean", reading->mean);
    json_put_number(writer, object, "lowest", reading->lowest);
    json_put_number(writer, object, "highest", reading->highest);
    json_put_integer(writer, object, "spots", (json_int_t)reading->spots);
    json_put_integer(writer, object, "below_detection", (json_int_t)reading->below_detection);
    json_put_integer(writer, object, "above_range", (json_int_t)reading->above_range);
    json_put_string(writer, object, "sampled", day_text(writer->arena, reading->test->day));
    json_put_name(writer, object, "method", reading->test->method);
    json_put_name(writer, object, "scale", reading->scale ? reading->scale->scale->symbol.name : NULL);
    json_put_name(writer, object, "class", reading->level ? reading->level->name : NULL);
    json_put_string(writer, object, "rated", reading->rated == RATING_NONE ? NULL : reading->rated_text);
    json_put_place(writer, object, "place", reading->test->symbol.place);
}

/* ---- a need ---- */

/* What the laboratory recommends beside what the scale gives, over the need's years, and whose the need is.
 */
static void put_recommendation(struct json_writer *writer, json_t *parent, const struct zone_need *need)
{
    const struct recommendation *recommended = need->read ? need->reading.recommended : NULL;
    if (!recommended) {
        json_put_null(writer, parent, "recommendation");
        return;
    }
    json_t *object = json_put_object(writer, parent, "recommendation");
    json_put_number(writer, object, "kg_per_m2_of_element", recommended->low * need->years);
    json_put_number(writer, object, "most_kg_per_m2_of_element", recommended->high * need->years);
    json_put_figure(writer, object, "scale_kg_per_m2_of_element", need->scale_least);
    json_put_figure(writer, object, "scale_most_kg_per_m2_of_element", need->scale_most);
    json_put_string(writer, object, "follows",
                    need->rule == NEED_BY_LABORATORY ? "laboratory"
                    : need->rule == NEED_BY_LAWN     ? "lawn"
                                                     : "scale");
    json_put_boolean(writer, object, "stated", need->reading.test->follow != FOLLOW_UNSTATED);
    json_put_name(writer, object, "source", recommended->source ? recommended->source->symbol.name : NULL);
    json_put_place(writer, object, "place", recommended->place);
}

/* What the trade does about a need without an amount. */
static void put_once(struct json_writer *writer, json_t *parent, const struct document *document,
                     const struct zone_need *need)
{
    struct need_once once = need_once_of(&document->words, need);
    if (!once.advised) {
        json_put_null(writer, parent, "once_at_label");
        return;
    }
    json_t *object = json_put_object(writer, parent, "once_at_label");
    const struct product_label *label = once.product ? &once.product->label : NULL;
    json_put_name(writer, object, "product", once.product ? once.product->symbol.name : NULL);
    json_put_string(writer, object, "rate_in", !label ? NULL : label->volume ? "m3_per_m2" : "kg_per_m2");
    json_put_figure(writer, object, "label_least", label ? label->low : (double)NAN);
    json_put_figure(writer, object, "label_most", label ? label->high : (double)NAN);
    json_t *others = json_put_array(writer, object, "others");
    for (size_t i = 0; i < once.others.count; i++)
        json_put_name(writer, others, NULL, once.others.items[i]->symbol.name);
    json_put_string(writer, object, "sentence",
                    sentence_of(writer->arena, need_once_text(&document->words, need)));
}

static void put_need(struct json_writer *writer, json_t *needs, const struct document *document,
                     const struct zone_need *need)
{
    json_t *object = json_put_object(writer, needs, NULL);
    json_put_string(writer, object, "nutrient", nutrient_trade_form(need->nutrient)->name);
    json_put_boolean(writer, object, "low", need->low);
    json_put_figure(writer, object, "kg_per_m2_of_element", need->kg_per_m2);
    json_put_figure(writer, object, "most_kg_per_m2_of_element", need->most);
    json_put_string(writer, object, "from", need->read ? day_text(writer->arena, need->from) : NULL);
    json_put_string(writer, object, "until",
                    need->until < INT32_MAX ? day_text(writer->arena, need->until) : NULL);
    json_put_integer(writer, object, "years", need->years);
    json_put_figure(writer, object, "given_kg_per_m2_of_element", need->given);
    json_put_figure(writer, object, "left_kg_per_m2_of_element", need->left);
    json_put_string(writer, object, "by", rule_name(need->rule));
    json_put_string(writer, object, "sentence",
                    sentence_of(writer->arena, need_sentence(&document->words, need)));
    put_words(writer, object, "reason", need_reason(&document->words, need, false));
    put_recommendation(writer, object, need);
    put_once(writer, object, document, need);
    if (need->read)
        put_result(writer, object, &need->reading);
    else
        json_put_null(writer, object, "result");
}

static void put_needs(struct json_writer *writer, json_t *zone_object, const struct document *document,
                      const struct zone *zone)
{
    json_t *needs = json_put_array(writer, zone_object, "needs");
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        struct zone_need need;
        need_of(document->season, zone, n, &need);
        if (need.read || n == NUTRIENT_N)
            put_need(writer, needs, document, &need);
    }
}

/* The needs of the tests before the newest, each over the days on which it was in force, oldest first. */
static void put_earlier(struct json_writer *writer, json_t *zone_object, const struct document *document,
                        const struct zone *zone)
{
    json_t *needs = json_put_array(writer, zone_object, "earlier_needs");
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        const struct soil_history *history = soil_history_of(document->season, zone, n);
        for (size_t i = 0; i + 1 < history->readings.count; i++) {
            struct zone_need need;
            day_number last = history->readings.items[i + 1]->test->day - 1;
            need_on(document->season, zone, n, last, &need);
            if (need.read && need.reading.test == history->readings.items[i]->test)
                put_need(writer, needs, document, &need);
        }
    }
}

/* ---- a re-test ---- */

static const char *verdict_name(const struct soil_reading *reading)
{
    if (!reading)
        return NULL;
    switch (reading->need) {
    case NEED_UNKNOWN:
        return "unknown";
    case NEED_NONE:
        return "enough";
    case NEED_LOW:
        return "low";
    }
    return NULL;
}

static void put_scale(struct json_writer *writer, json_t *object, const char *key,
                      const struct soil_reading *reading)
{
    const struct test_scale *by = reading ? reading->scale : NULL;
    json_put_name(writer, object, key, by ? by->scale->symbol.name : NULL);
}

static void put_change(struct json_writer *writer, json_t *changes, const struct document *document,
                       const struct soil_change *change)
{
    json_t *object = json_put_object(writer, changes, NULL);
    json_put_string(writer, object, "of", change->name);
    json_put_string(writer, object, "unit", change->unit);
    json_t *zones = json_put_array(writer, object, "zones");
    for (size_t i = 0; i < change->zones.count; i++)
        json_put_name(writer, zones, NULL, change->zones.items[i]->symbol.name);
    json_put_string(writer, object, "from", day_text(writer->arena, change->first->day));
    json_put_string(writer, object, "to", day_text(writer->arena, change->then->day));
    json_put_figure(writer, object, "then", change->was);
    json_put_figure(writer, object, "now", change->is);
    json_put_figure(writer, object, "change", change->is - change->was);
    json_put_figure(writer, object, "enough", change->enough);
    json_put_string(writer, object, "then_is", verdict_name(change->was_read));
    put_scale(writer, object, "then_scale", change->was_read);
    json_put_string(writer, object, "now_is", verdict_name(change->is_read));
    put_scale(writer, object, "now_scale", change->is_read);
    json_put_number(writer, object, "put_on_least_kg_per_m2_of_element", change->least);
    json_put_number(writer, object, "put_on_most_kg_per_m2_of_element", change->most);
    json_put_integer(writer, object, "pairs", (json_int_t)change->pairs.count);
    json_put_figure(writer, object, "pairs_changed_at_least", change->pairs.low);
    json_put_figure(writer, object, "pairs_changed_at_most", change->pairs.high);
    if (change->pairs.count < 2)
        json_put_null(writer, object, "smaller_than_noise");
    else
        json_put_boolean(writer, object, "smaller_than_noise", change->pairs.noise);
    const char *noise = change_noise(&document->words, change);
    put_words(writer, object, "sentence", *noise ? sentence_of(writer->arena, noise) : "");
}

static void put_materials(struct json_writer *writer, json_t *lime, const struct model *model,
                          const struct lime_need *need)
{
    json_t *materials = json_put_array(writer, lime, "materials");
    for (size_t i = 0; i < model->products.count; i++) {
        const struct product *product = model->products.items[i];
        double material = lime_material(product, need->kg_per_m2);
        if (isnan(material))
            continue;
        json_t *object = json_put_object(writer, materials, NULL);
        json_put_name(writer, object, "product", product->symbol.name);
        json_put_number(writer, object, "kg_per_m2", material);
        json_put_integer(writer, object, "times", lime_times(need, product));
    }
}

static void put_acid(struct json_writer *writer, json_t *zone_object, const struct document *document,
                     const struct zone *zone)
{
    struct acid_balance balance = zone_acid(document->season, zone);
    json_t *object = json_put_object(writer, zone_object, "acid");
    json_put_number(writer, object, "acid_kg_per_m2_of_calcium_carbonate", balance.acid);
    json_put_number(writer, object, "lime_kg_per_m2_of_calcium_carbonate", balance.lime);
    json_put_name(writer, object, "not_counted", balance.unknown ? balance.unknown->symbol.name : NULL);
    const char *sentence = acid_sentence(&document->words, &balance);
    put_words(writer, object, "sentence", *sentence ? sentence_of(writer->arena, sentence) : "");
}

static void put_lime(struct json_writer *writer, json_t *zone_object, const struct document *document,
                     const struct zone *zone)
{
    struct lime_need need;
    lime_need_of(document->season, zone, &need);
    json_t *object = json_put_object(writer, zone_object, "lime");
    json_put_figure(writer, object, "pH", need.ph);
    json_put_figure(writer, object, "kg_per_m2_of_calcium_carbonate", need.kg_per_m2);
    json_put_figure(writer, object, "given_kg_per_m2_of_calcium_carbonate", need.given);
    json_put_figure(writer, object, "left_kg_per_m2_of_calcium_carbonate", need.left);
    json_put_figure(writer, object, "goal_pH", need.goal);
    json_put_figure(writer, object, "most_at_once_kg_per_m2", need.most_at_once);
    put_materials(writer, object, document->season->model, &need);
    json_put_integer(writer, object, "apart_days", need.apart.days);
    json_put_integer(writer, object, "apart_months", need.apart.months);
    const char *given = lime_given(&document->words, &need);
    json_put_string(writer, object, "sentence",
                    text_format(writer->arena, "%s%s%s", lime_sentence(&document->words, &need),
                                *given ? " " : "", given));
    put_words(writer, object, "reason", lime_reason(&document->words, &need));
}

/* ---- what the tests' scales do not say ---- */

static void put_nutrients(struct json_writer *writer, json_t *parent, const char *key, unsigned nutrients)
{
    json_t *names = json_put_array(writer, parent, key);
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++)
        if (nutrients & 1U << n)
            json_put_string(writer, names, NULL, nutrient_element(n));
}

static void put_unread(struct json_writer *writer, json_t *parent, const struct document *document,
                       const struct soil_test *test)
{
    struct unread unread = unread_of(writer->arena, document->season, test);
    if (!unread.unread && !unread.unmeasured)
        return;
    json_t *object = json_put_object(writer, parent, NULL);
    json_put_string(writer, object, "sampled", day_text(writer->arena, test->day));
    json_put_place(writer, object, "place", test->symbol.place);
    json_put_name(writer, object, "method", test->method);
    put_nutrients(writer, object, "not_read", unread.unread);
    put_nutrients(writer, object, "without_amount", unread.unmeasured);
    json_t *scales = json_put_array(writer, object, "scales");
    for (size_t i = 0; i < unread.offers.count; i++) {
        const struct scale_offer *offer = &unread.offers.items[i];
        json_t *scale = json_put_object(writer, scales, NULL);
        json_put_name(writer, scale, "scale", offer->scale->symbol.name);
        json_put_name(writer, scale, "region", offer->scale->region);
        json_t *grasses = json_put_array(writer, scale, "grasses");
        for (size_t j = 0; j < offer->scale->grasses.count; j++)
            json_put_name(writer, grasses, NULL, offer->scale->grasses.items[j]->symbol.name);
        put_nutrients(writer, scale, "reads", offer->reads);
        put_nutrients(writer, scale, "gives_amounts_of", offer->amounts);
    }
}

static void fill(struct json_writer *writer, json_t *root, const void *subject)
{
    struct document document = *(const struct document *)subject;
    const struct model *model = document.season->model;
    document.words.arena = writer->arena;
    json_put_string(writer, root, "format", "prill needs 2");
    json_put_plan(writer, root, "plan", model);
    json_t *changes = json_put_array(writer, root, "changes");
    struct soil_changes found = soil_changes_of(writer->arena, document.season);
    for (size_t i = 0; i < found.items.count; i++)
        put_change(writer, changes, &document, &found.items.items[i]);
    json_t *tests = json_put_array(writer, root, "unread");
    for (size_t i = 0; i < model->soil_tests.count; i++)
        if (!model->soil_tests.items[i]->symbol.broken)
            put_unread(writer, tests, &document, model->soil_tests.items[i]);
    json_t *zones = json_put_array(writer, root, "zones");
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct zone *zone = model->zones.items[i];
        json_t *object = json_put_object(writer, zones, NULL);
        json_put_name(writer, object, "zone", zone->symbol.name);
        json_put_name(writer, object, "lawn", zone->lawn->symbol.name);
        json_put_area(writer, object, "area", model, zone->area_m2);
        put_needs(writer, object, &document, zone);
        put_earlier(writer, object, &document, zone);
        put_lime(writer, object, &document, zone);
        put_acid(writer, object, &document, zone);
    }
}

void needs_json_print(struct buffer *out, const struct season *season)
{
    struct document document = {.season = season, .words = {out->arena, season->model, NULL}};
    json_print(out, true, fill, &document);
}
