#include "compiler/result/result.h"

#include "compiler/model/display.h"
#include "compiler/result/zone_groups.h"
#include "compiler/result/needs.h"
#include "compiler/form/data.h"
#include "compiler/result/need_once.h"
#include "compiler/season/scale_offer.h"

struct document {
    const struct season *season;
    struct need_words words;
};

static void put_words(struct data *object, const char *key, const char *text)
{
    data_string(object, key, *text ? text : NULL);
}

/* Words of the format: a name may not change with what is printed for a person. */
static const char *const rule_names[] = {
    [NEED_BY_NOTHING] = NULL,      [NEED_BY_CLASS] = "class",   [NEED_BY_EQUATION] = "equation",
    [NEED_BY_MINIMUM] = "minimum", [NEED_BY_ENOUGH] = "enough", [NEED_BY_LABORATORY] = "laboratory",
    [NEED_BY_RATING] = "rating",   [NEED_BY_LAWN] = "lawn",     [NEED_BY_GRASS] = "grass",
    [NEED_BY_LIME] = "lime"};
static const char *const verdict_names[] = {
    [NEED_UNKNOWN] = "unknown", [NEED_NONE] = "enough", [NEED_LOW] = "low"};

/* kg/m2 of the element, as the trade counts it: in the form that `nutrient` names, lime as calcium carbonate.
 * Null where it is not known. */
static void put_rate(struct data *object, const char *key, const struct need_words *words, double kg_per_m2,
                     enum nutrient nutrient)
{
    bool known = isfinite(kg_per_m2);
    data_rate(object, key, kg_per_m2 / nutrient_trade_form(nutrient)->element_per_unit, false,
              known ? need_rate_text(words, kg_per_m2, nutrient) : NULL);
}

/* ---- a need ---- */

/* By mass or volume as the label states it; null where it states none. */
static void put_label_rate(struct data *object, const char *key, const struct model *model,
                           const struct product_label *label, double rate)
{
    if (label && isfinite(rate))
        data_rate(object, key, rate, label->volume,
                  display_product_rate(object->arena, model, rate, label->volume));
    else
        data_null(object, key);
}

/* What the trade does about a need without an amount. */
static void put_once(struct data *parent, const struct document *document, const struct zone_need *need)
{
    struct need_once once = need_once_of(&document->words, need);
    if (!once.advised) {
        data_null(parent, "once_at_label");
        return;
    }
    struct data *object = data_object(parent, "once_at_label");
    const struct product_label *label = once.product ? &once.product->label : NULL;
    data_name(object, "product", once.product ? once.product->symbol.name : NULL);
    put_label_rate(object, "label_least", document->words.model, label, label ? label->low : (double)NAN);
    put_label_rate(object, "label_most", document->words.model, label, label ? label->high : (double)NAN);
    struct data *others = data_list_row(object, "others");
    for (size_t i = 0; i < once.others.count; i++)
        data_name(others, NULL, once.others.items[i]->symbol.name);
    data_string(object, "sentence", sentence_of(parent->arena, need_once_text(&document->words, need)));
}

/* From the first day that counts to the last, with what was given in between and what is left then. */
static void put_need(struct data *needs, const struct document *document, const struct zone_need *need)
{
    struct data *object = data_object(needs, NULL);
    const struct nutrient_form *form = nutrient_trade_form(need->nutrient);
    data_string(object, "nutrient", form->name);
    data_number(object, "element_share", form->element_per_unit);
    data_boolean(object, "low", need->low);
    put_rate(object, "least", &document->words, need->kg_per_m2, need->nutrient);
    put_rate(object, "most", &document->words, need->most, need->nutrient);
    data_day(object, "from", need->read ? need->from : DAY_NONE);
    data_day(object, "until", need->until);
    data_integer(object, "years", need->years);
    put_rate(object, "given", &document->words, need->given, need->nutrient);
    put_rate(object, "left", &document->words, need->left, need->nutrient);
    data_string(object, "by", rule_names[need->rule]);
    data_string(object, "sentence", sentence_of(needs->arena, need_sentence(&document->words, need)));
    put_words(object, "reason", need_reason(&document->words, need, false));
    /* What the laboratory recommends beside what the scale gives, over the need's years, and whose the need
     * is. */
    const struct recommendation *recommended = need->read ? need->reading.recommended : NULL;
    if (!recommended) {
        data_null(object, "recommendation");
    } else {
        struct data *entry = data_object(object, "recommendation");
        put_rate(entry, "least", &document->words, recommended->low * need->years, need->nutrient);
        put_rate(entry, "most", &document->words, recommended->high * need->years, need->nutrient);
        put_rate(entry, "scale_least", &document->words, need->scale_least, need->nutrient);
        put_rate(entry, "scale_most", &document->words, need->scale_most, need->nutrient);
        data_string(entry, "follows",
                    need->rule == NEED_BY_LABORATORY ? "laboratory"
                    : need->rule == NEED_BY_LAWN     ? "lawn"
                                                     : "scale");
        data_boolean(entry, "stated", need->reading.test->follow != FOLLOW_UNSTATED);
        data_name(entry, "source", recommended->source ? recommended->source->symbol.name : NULL);
        data_place(entry, "place", recommended->place);
    }
    put_once(object, document, need);
    if (need->read) {
        /* The figure that the need was read from, counted as the scale counts it. */
        const struct soil_reading *reading = &need->reading;
        struct data *item = data_object(object, "result");
        data_string(item, "of", reading->nutrient->name);
        data_string(item, "counted_as", reading->index ? "index" : "share of the soil");
        data_number(item, "mean", reading->mean);
        data_number(item, "lowest", reading->lowest);
        data_number(item, "highest", reading->highest);
        data_integer(item, "spots", (long long)reading->spots);
        data_integer(item, "below_detection", (long long)reading->below_detection);
        data_integer(item, "above_range", (long long)reading->above_range);
        data_day(item, "sampled", reading->test->day);
        data_name(item, "method", reading->test->method);
        data_name(item, "scale", reading->scale ? reading->scale->scale->symbol.name : NULL);
        data_name(item, "class", reading->level ? reading->level->name : NULL);
        data_string(item, "rated", reading->rated == RATING_NONE ? NULL : reading->rated_text);
        data_place(item, "place", reading->test->symbol.place);
    } else {
        data_null(object, "result");
    }
}

/* The needs of the tests before the newest, each over the days on which it was in force, oldest first. */
static void put_earlier(struct data *zone_object, const struct document *document, const struct zone *zone)
{
    struct data *needs = data_list(zone_object, "earlier_needs");
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        const struct soil_history *history = soil_history_of(document->season, zone, n);
        for (size_t i = 0; i + 1 < history->readings.count; i++) {
            struct zone_need need;
            day_number last = history->readings.items[i + 1]->test->day - 1;
            need_on(document->season, zone, n, last, &need);
            if (need.read && need.reading.test == history->readings.items[i]->test)
                put_need(needs, document, &need);
        }
    }
}

/* ---- a re-test ---- */

static void put_scale(struct data *object, const char *key, const struct soil_reading *reading)
{
    const struct test_scale *by = reading ? reading->scale : NULL;
    data_name(object, key, by ? by->scale->symbol.name : NULL);
}

/* In the unit of the newer report, which the older figures are turned into. */
static void put_change(struct data *changes, const struct document *document,
                       const struct soil_change *change)
{
    struct data *object = data_object(changes, NULL);
    data_string(object, "of", change->name);
    data_string(object, "unit", change->unit);
    struct data *zones = data_list_row(object, "zones");
    for (size_t i = 0; i < change->zones.count; i++)
        data_name(zones, NULL, change->zones.items[i]->symbol.name);
    data_day(object, "from", change->first->day);
    data_day(object, "to", change->then->day);
    data_number(object, "then", change->was);
    data_number(object, "now", change->is);
    data_number(object, "change", change->is - change->was);
    data_number(object, "enough", change->enough);
    data_string(object, "then_is", change->was_read ? verdict_names[change->was_read->need] : NULL);
    put_scale(object, "then_scale", change->was_read);
    data_string(object, "now_is", change->is_read ? verdict_names[change->is_read->need] : NULL);
    put_scale(object, "now_scale", change->is_read);
    enum nutrient applied = change_nutrient(change);
    const struct nutrient_form *form = applied == NUTRIENT_COUNT ? NULL : nutrient_trade_form(applied);
    data_string(object, "applied", form ? form->name : NULL);
    if (form) {
        put_rate(object, "applied_least", &document->words, change->least, applied);
        put_rate(object, "applied_most", &document->words, change->most, applied);
    } else {
        data_null(object, "applied_least");
        data_null(object, "applied_most");
    }
    data_integer(object, "pairs", (long long)change->pairs.count);
    data_number(object, "pairs_changed_at_least", change->pairs.low);
    data_number(object, "pairs_changed_at_most", change->pairs.high);
    if (change->pairs.count < 2)
        data_null(object, "smaller_than_noise");
    else
        data_boolean(object, "smaller_than_noise", change->pairs.noise);
    const char *noise = soil_change_noise(&document->words, change);
    put_words(object, "sentence", *noise ? sentence_of(changes->arena, noise) : "");
}

/* As calcium carbonate, and in each liming material of the plan as it is weighed. */
static void put_lime(struct data *zone_object, const struct document *document, const struct zone *zone)
{
    struct lime_need need;
    lime_need_of(document->season, zone, &need);
    struct data *object = data_object(zone_object, "lime");
    data_number(object, "pH", need.ph);
    put_rate(object, "least", &document->words, need.kg_per_m2, NUTRIENT_LIME);
    put_rate(object, "given", &document->words, need.given, NUTRIENT_LIME);
    put_rate(object, "left", &document->words, need.left, NUTRIENT_LIME);
    data_number(object, "goal_pH", need.goal);
    data_rate(object, "most_at_once", need.most_at_once, false,
              isfinite(need.most_at_once)
                  ? display_rounded(object->arena, document->words.model, QUANTITY_MASS_RATE,
                                    need.most_at_once, number_floor, NULL)
                  : NULL);
    struct data *materials = data_list(object, "materials");
    for (size_t i = 0; i < document->season->model->products.count; i++) {
        const struct product *product = document->season->model->products.items[i];
        double material = lime_material(product, need.kg_per_m2);
        if (isnan(material))
            continue;
        struct data *item = data_object(materials, NULL);
        data_name(item, "product", product->symbol.name);
        data_rate(item, "rate", material, false,
                  display_rate(item->arena, document->season->model, material));
        data_integer(item, "times", lime_times(&need, product));
    }
    data_integer(object, "apart_days", need.interval.days);
    data_integer(object, "apart_months", need.interval.months);
    const char *given = lime_given(&document->words, &need);
    data_string(object, "sentence",
                text_format(zone_object->arena, "%s%s%s", lime_sentence(&document->words, &need),
                            *given ? " " : "", given));
    put_words(object, "reason", lime_reason(&document->words, &need));
}

/* ---- what the tests' scales do not say ---- */

static void put_nutrients(struct data *parent, const char *key, unsigned nutrients)
{
    struct data *names = data_list_row(parent, key);
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++)
        if (nutrients & 1U << n)
            data_string(names, NULL, nutrient_element(n));
}

/* Zone by zone: its needs, those before the newest tests, its lime and its acidity. */
void needs_data(struct data *root, const struct result_input *input)
{
    const struct model *model = input->season->model;
    struct document document = {.season = input->season, .words = {root->arena, model, NULL}};
    struct data *changes = data_list(root, "changes");
    struct soil_changes found = soil_changes_of(root->arena, document.season);
    for (size_t i = 0; i < found.items.count; i++)
        put_change(changes, &document, &found.items.items[i]);
    struct data *tests = data_list(root, "unread");
    for (size_t i = 0; i < model->soil_tests.count; i++) {
        /* Only tests that a scale leaves something out of; with the scales that could read it. */
        const struct soil_test *test = model->soil_tests.items[i];
        if (test->symbol.broken)
            continue;
        struct unread unread = unread_of(tests->arena, document.season, test);
        if (!unread.unread && !unread.unmeasured)
            continue;
        struct data *item = data_object(tests, NULL);
        data_day(item, "sampled", test->day);
        data_place(item, "place", test->symbol.place);
        data_name(item, "method", test->method);
        put_nutrients(item, "not_read", unread.unread);
        put_nutrients(item, "without_amount", unread.unmeasured);
        struct data *scales = data_list(item, "scales");
        for (size_t k = 0; k < unread.offers.count; k++) {
            const struct scale_offer *offer = &unread.offers.items[k];
            struct data *scale = data_object(scales, NULL);
            data_name(scale, "scale", offer->scale->symbol.name);
            data_name(scale, "region", offer->scale->region);
            struct data *grasses = data_list_row(scale, "grasses");
            for (size_t j = 0; j < offer->scale->grasses.count; j++)
                data_name(grasses, NULL, offer->scale->grasses.items[j]->symbol.name);
            put_nutrients(scale, "reads", offer->reads);
            put_nutrients(scale, "gives_amounts_of", offer->amounts);
        }
    }
    struct data *zones = data_list(root, "zones");
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct zone *zone = model->zones.items[i];
        struct data *object = data_object(zones, NULL);
        data_name(object, "zone", zone->symbol.name);
        data_name(object, "lawn", zone->lawn->symbol.name);
        data_measure(object, "area", model, QUANTITY_AREA, zone->area_m2);
        struct data *needs = data_list(object, "needs");
        for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
            struct zone_need need;
            need_of(document.season, zone, n, &need);
            if (need.read || n == NUTRIENT_N)
                put_need(needs, &document, &need);
        }
        put_earlier(object, &document, zone);
        put_lime(object, &document, zone);
        /* What the year's products do to the soil's acidity. */
        struct acid_balance balance = zone_acid(document.season, zone);
        struct data *acid = data_object(object, "acid");
        put_rate(acid, "made", &document.words, balance.acid, NUTRIENT_LIME);
        put_rate(acid, "neutralized", &document.words, balance.lime, NUTRIENT_LIME);
        data_name(acid, "not_counted", balance.unknown ? balance.unknown->symbol.name : NULL);
        const char *sentence = acid_sentence(&document.words, &balance);
        put_words(acid, "sentence", *sentence ? sentence_of(object->arena, sentence) : "");
    }
}
