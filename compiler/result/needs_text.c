/* What the soil tests say, for a person: each figure with its spread, where a scale places it, and what it
 * asks. */
#include "compiler/result/result.h"

#include "compiler/result/zone_groups.h"
#include "compiler/result/fix_text.h"
#include "compiler/result/closing_lines.h"
#include "compiler/result/need_text.h"
#include "compiler/result/needs_table.h"
#include "compiler/form/paragraph.h"
#include "compiler/result/soil_bar.h"
#include "compiler/result/soil_text.h"
#include "compiler/result/plan_notes.h"

struct needs {
    struct buffer *out;
    struct arena *arena;
    const struct season *season;
    const struct model *model;
    struct footnotes notes;
    struct need_words words;
};

/* ---- acid ---- */

static void print_acid(struct needs *needs)
{
    struct asking asking = {0};
    for (size_t i = 0; i < needs->model->zones.count; i++) {
        const struct zone *zone = needs->model->zones.items[i];
        struct acid_balance balance = zone_acid(needs->season, zone);
        const char *text = acid_sentence(&needs->words, &balance);
        if (*text)
            asking_add(needs->arena, &asking, zone,
                       (struct asked){.sentence = sentence_of(needs->arena, text), .reason = ""});
    }
    if (!asking.kinds.count)
        return;
    paragraph_add(needs->out, "", "Acid of the season, counted as the calcium carbonate that neutralizes it");
    for (size_t i = 0; i < asking.kinds.count; i++)
        paragraph_add(needs->out, "  ",
                      text_format(needs->arena, "%s: %s", asking.kinds.items[i].zones.string,
                                  asking.kinds.items[i].sentence));
    buffer_add_string(needs->out, "\n");
}

/* ---- what no test says ---- */

static void print_by_grass(struct needs *needs, const struct lawn *lawn, const struct zone_need *need)
{
    paragraph_add(needs->out, "",
                  text_format(needs->arena, "%s on %s %s. %s", name_string(lawn->grass->symbol.name),
                              name_string(lawn->symbol.name), need_sentence(&needs->words, need),
                              need_reason(&needs->words, need, false)));
}

/* The grass's range is told beside it, so that nobody has to look up whether the figure is usual. */
static void print_by_lawn(struct needs *needs, const struct lawn *lawn, const struct zone_need *need)
{
    struct arena *arena = needs->arena;
    const struct grass_range *range = lawn_range_of(lawn, GRASS_YEARLY, need->nutrient);
    struct zone_need usual = *need;
    usual.kg_per_m2 = range ? range->low : NAN;
    usual.most = range ? range->high : NAN;
    const char *grass =
        range ? text_format(arena, " For %s %s is usual%s (%s).", name_string(lawn->grass->symbol.name),
                            need_cell(&needs->words, &usual), words_mark(&needs->words, range->source),
                            words_at(&needs->words, range->place))
              : "";
    paragraph_add(needs->out, "",
                  text_format(arena, "%s %s. %s%s", name_string(lawn->symbol.name),
                              need_sentence(&needs->words, need), need_reason(&needs->words, need, false),
                              grass));
}

/* N, mostly: what the lawn states, or else its grass asks for; and that N is asked for by nobody. */
static void print_untested(struct needs *needs, const struct lawn *lawn)
{
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        struct zone_need need;
        if (!need_of(needs->season, lawn->zones.items[0], n, &need)) {
            if (n == NUTRIENT_N)
                paragraph_add(needs->out, "", need_reason(&needs->words, &need, false));
        } else if (need.rule == NEED_BY_GRASS) {
            print_by_grass(needs, lawn, &need);
        } else if (need.rule == NEED_BY_LAWN && (n == NUTRIENT_N || !need.read)) {
            print_by_lawn(needs, lawn, &need);
        }
    }
}

/* Once for each grass. */
static void print_grass_notes(struct needs *needs)
{
    const struct model *model = needs->model;
    for (size_t i = 0; i < model->lawns.count; i++) {
        const struct grass *grass = model->lawns.items[i]->grass;
        bool told = !grass;
        for (size_t j = 0; j < i && !told; j++)
            told = model->lawns.items[j]->grass == grass;
        const char *note = told ? NULL : note_sentence(needs->arena, &grass->symbol);
        if (note)
            paragraph_add(needs->out, "", note);
    }
}

static bool zone_tested(const struct model *model, const struct zone *zone)
{
    for (size_t i = 0; i < model->soil_tests.count; i++)
        for (size_t j = 0; j < model->soil_tests.items[i]->zones.count; j++)
            if (model->soil_tests.items[i]->zones.items[j] == zone)
                return true;
    return false;
}

/* "No soil test is of bank, crown: what they need but N is not known." */
static void print_zones_without(struct needs *needs)
{
    struct buffer names = {.arena = needs->arena};
    size_t count = 0;
    for (size_t i = 0; i < needs->model->zones.count; i++) {
        const struct zone *zone = needs->model->zones.items[i];
        if (!zone_tested(needs->model, zone))
            buffer_format(&names, "%s%s", count++ ? ", " : "", name_string(zone->symbol.name));
    }
    if (count && needs->model->soil_tests.count)
        paragraph_add(needs->out, "",
                      text_format(needs->arena, "No soil test is of %s: what %s but N is not known.",
                                  names.string, count == 1 ? "it needs" : "they need"));
}

void needs_text_print(struct buffer *out, const struct result_input *input)
{
    const struct season *season = input->season;
    const struct model *model = season->model;
    struct needs needs = {
        .out = out, .arena = out->arena, .season = season, .model = model, .notes = {.arena = out->arena}};
    needs.words = (struct need_words){out->arena, model, &needs.notes};
    paragraph_add(out, "", model->title ? model->title : "A plan without a name");
    buffer_add_string(out, "\n");
    change_text_print(out, &needs.words, season);
    needs_table_print(out, season);
    if (model->soil_tests.count)
        paragraph_add(out, "", soil_bar_legend);
    else
        paragraph_add(out, "", "The plan has no soil test.");
    buffer_add_string(out, "\n");
    for (size_t i = 0; i < model->soil_tests.count; i++)
        soil_text_print(out, &needs.words, season, model->soil_tests.items[i]);
    print_acid(&needs);
    print_zones_without(&needs);
    for (size_t i = 0; i < model->lawns.count; i++)
        if (model->lawns.items[i]->zones.count)
            print_untested(&needs, model->lawns.items[i]);
    print_grass_notes(&needs);
    footnotes_print(out, &needs.notes);
    if (model->zones.count)
        buffer_add_string(out, "\n");
    struct closing closing = closing_of(model);
    for (size_t i = 0; i < closing.count; i++)
        paragraph_add(out, "", closing.lines[i]);
}
