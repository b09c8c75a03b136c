#include "compiler/output/needs_text.h"

#include "compiler/model/display.h"
#include "compiler/output/asked.h"
#include "compiler/output/change_text.h"
#include "compiler/output/closing.h"
#include "compiler/output/need_text.h"
#include "compiler/output/needs_table.h"
#include "compiler/output/paragraph.h"
#include "compiler/output/soil_bar.h"
#include "compiler/output/soil_figure.h"
#include "compiler/output/standing.h"
#include "compiler/output/work.h"
#include "compiler/season/judge.h"
#include "compiler/season/offer.h"

#include <string.h>

struct needs {
    struct buffer *out;
    struct arena *arena;
    const struct season *season;
    const struct model *model;
    struct footnotes notes;
    struct need_words words;
};

static void say(struct needs *needs, const char *text)
{
    if (*text)
        paragraph_add(needs->out, "      ", text);
}

/* What the plan or the library has to remark on a scale or a grass. */
static void say_note(struct needs *needs, const char *indent, const struct thing *thing)
{
    if (thing->note)
        paragraph_add(needs->out, indent,
                      text_format(needs->arena, "Note on %s: %s", name_string(thing->name), thing->note));
}

/* ---- a result ---- */

/* Three digits: a laboratory promises no more. */
static const char *number(const struct needs *needs, double value)
{
    double size = fabs(value);
    int decimals = size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3;
    return number_text(needs->arena, value, decimals);
}

static const char *with_unit(const struct needs *needs, const struct soil_figure *figure, double value)
{
    bool apart = *figure->unit && *figure->unit != '%';
    return text_format(needs->arena, "%s%s%s", number(needs, value), apart ? " " : "", figure->unit);
}

/* "12 ppm (11 to 13)", "24 ppm (< 20 to 28)", "< 20 ppm", "> 200 ppm" */
static const char *figure_text(const struct needs *needs, const struct soil_figure *figure)
{
    struct buffer text = {.arena = needs->arena};
    const char *mark = figure->below == figure->spots ? "< " : figure->above == figure->spots ? "> " : "";
    buffer_format(&text, "%s%s", mark, with_unit(needs, figure, figure->mean));
    if (figure->highest > figure->lowest)
        buffer_format(&text, " (%s%s to %s%s)", figure->lowest_below ? "< " : "",
                      number(needs, figure->lowest), figure->highest_above ? "> " : "",
                      number(needs, figure->highest));
    return text.string;
}

/* "By Bray P1 10.2 ppm [3] (library/scales.prill:140)." where a conversion counts it. */
static void say_conversion(struct needs *needs, const struct soil_figure *figure)
{
    const struct conversion_step *step = figure->reading.step;
    if (!step)
        return;
    say(needs,
        text_format(needs->arena, "Counted by %s: %s %s, from %s at x = %s %s%s (%s).",
                    name_string(figure->reading.conversion->to), number(needs, figure->judged),
                    figure->judged_unit, words_formula(&needs->words, &step->result),
                    number(needs, figure->mean), figure->unit, footnote_mark(&needs->notes, step->source),
                    place_line(needs->arena, step->place)));
}

static void say_activity(struct needs *needs, const struct soil_figure *figure)
{
    const struct scale_activity *activity = figure->reading.activity;
    if (isnan(figure->reading.ph))
        return;
    say(needs, text_format(needs->arena, "%s: index %s by the result and pH %s, enough at %s%s (%s).",
                           figure->reading.need == NEED_LOW ? "Low" : "Enough", number(needs, figure->judged),
                           number(needs, figure->reading.ph), number(needs, activity->enough),
                           footnote_mark(&needs->notes, activity->source),
                           place_line(needs->arena, activity->place)));
}

/* ", here 48.1 mg/kg of P2O5", where the report counts in another unit or form than the scale. */
static const char *enough_here(const struct needs *needs, const struct soil_figure *figure)
{
    const char *here = number(needs, figure->enough);
    size_t length = strlen(here);
    const struct level *level = figure->reading.level;
    if (strncmp(level->text, here, length) == 0 && level->text[length] == ' ')
        return "";
    const char *what =
        figure->reading.step ? nutrient_element(figure->reading.nutrient->nutrient) : figure->name;
    return text_format(needs->arena, ", here %s %s of %s", here, figure->judged_unit, what);
}

static void say_level(struct needs *needs, const struct soil_figure *figure)
{
    const struct level *level = figure->reading.level;
    struct buffer text = {.arena = needs->arena};
    if (level->minimum)
        buffer_format(&text, "%s: the minimum is ",
                      figure->reading.need == NEED_LOW ? "Low"
                      : figure->reading.open_above     ? "Low or enough"
                      : figure->doubtful               ? "Enough now, as counted"
                                                       : "Enough now");
    else
        buffer_format(&text, "Class %s: ", name_string(level->name));
    buffer_format(&text, "%s%s%s (%s)", level->text, level->minimum ? enough_here(needs, figure) : "",
                  footnote_mark(&needs->notes, level->source), place_line(needs->arena, level->place));
    if (figure->reading.need == NEED_LOW && figure->enough > figure->judged)
        buffer_format(&text, "; %s %s short of enough", number(needs, figure->enough - figure->judged),
                      figure->judged_unit);
    else if (figure->reading.need == NEED_UNKNOWN && !figure->reading.open_above)
        buffer_add_string(&text, "; the scale does not say from which class on it is enough");
    buffer_add_string(&text, ".");
    say(needs, text.string);
}

static void say_spots(struct needs *needs, const struct soil_figure *figure)
{
    if (figure->reading.disagree)
        say(needs, text_format(needs->arena, "The spots lie more than %s from their mean: treat them apart.",
                               display_share(needs->arena, figure->reading.scale->scale->spread)));
    if (figure->above)
        say(needs, figure->spots == 1
                       ? "The spot is above what the laboratory measures; counted at that limit."
                       : text_format(
                             needs->arena,
                             "%zu of %zu spots %s above what the laboratory measures; counted at that limit.",
                             figure->above, figure->spots, figure->above == 1 ? "is" : "are"));
    if (!figure->below)
        return;
    const char *counted =
        figure->spots == 1
            ? "The spot lies below what the laboratory can see"
            : text_format(needs->arena, "%zu of %zu spots %s below what the laboratory can see",
                          figure->below, figure->spots, figure->below == 1 ? "lies" : "lie");
    say(needs,
        text_format(needs->arena, "%s; counted at that limit.%s", counted,
                    figure->doubtful ? " There may be too little all the same: a finer method would tell."
                                     : ""));
}

/* ---- what it asks ---- */

/* A need of this test for the zone, over the days on which it is in force; false where it never is. */
static bool need_by(const struct needs *needs, const struct soil_test *test, const struct zone *zone,
                    enum nutrient nutrient, struct zone_need *need)
{
    need_on(needs->season, zone, nutrient, test->day, need);
    if (need->read && need->reading.test == test)
        need_on(needs->season, zone, nutrient, need->until, need);
    return need->read && need->reading.test == test;
}

static void say_asked(struct needs *needs, const struct asking *asking)
{
    for (size_t i = 0; i < asking->kinds.count; i++)
        say(needs, asking_text(needs->arena, asking, i));
}

/* That it is low was told with the level. */
static const char *asked_words(const struct needs *needs, const struct soil_figure *figure,
                               const struct zone_need *need)
{
    bool told = (figure->reading.level || figure->reading.activity) && need->low && isnan(need->kg_per_m2);
    const char *text = told ? "how much it needs is not known" : need_sentence(&needs->words, need);
    return need->retested ? text_format(needs->arena, "until the test of %s: %s",
                                        display_date(needs->arena, need->until + 1), text)
                          : text;
}

static void say_need(struct needs *needs, const struct soil_figure *figure)
{
    struct asking asking = {0};
    const struct soil_test *test = figure->test;
    for (size_t i = 0; i < test->zones.count; i++) {
        struct zone_need need;
        if (need_by(needs, test, test->zones.items[i], figure->column->nutrient->nutrient, &need))
            asking_add(
                needs->arena, &asking, test->zones.items[i],
                (struct asked){.sentence = sentence_of(needs->arena, asked_words(needs, figure, &need)),
                               .reason = need_reason(&needs->words, &need, true),
                               .kind = need.lack == LACK_NOTHING ? (int)need.rule : -(int)need.lack});
    }
    say_asked(needs, &asking);
}

static void print_nutrient(struct needs *needs, const struct soil_figure *figure)
{
    if (figure->superseded) {
        say(needs, "Another test of that day counts in its place.");
        return;
    }
    say_conversion(needs, figure);
    if (figure->reading.level)
        say_level(needs, figure);
    else if (figure->reading.activity)
        say_activity(needs, figure);
    say_spots(needs, figure);
    say_need(needs, figure);
}

/* ---- pH ---- */

static bool lime_by(const struct needs *needs, const struct soil_test *test, const struct zone *zone,
                    struct lime_need *need)
{
    lime_need_of(needs->season, zone, need);
    return need->test == test;
}

static void print_ph(struct needs *needs, const struct soil_figure *figure)
{
    struct asking asking = {0}, giving = {0};
    for (size_t i = 0; i < figure->test->zones.count; i++) {
        struct lime_need need;
        const struct zone *zone = figure->test->zones.items[i];
        if (!lime_by(needs, figure->test, zone, &need))
            continue;
        /* One after the other: sources are numbered in the order in which they are asked for. */
        struct asked asked = {.sentence = lime_sentence(&needs->words, &need), .kind = (int)i};
        asked.reason = lime_reason(&needs->words, &need);
        asking_add(needs->arena, &asking, zone, asked);
        const char *given = lime_given(&needs->words, &need);
        if (*given)
            asking_add(needs->arena, &giving, zone, (struct asked){.sentence = given, .reason = ""});
    }
    if (!asking.kinds.count)
        say(needs, "A newer test counts in its place.");
    say_asked(needs, &asking);
    say_asked(needs, &giving);
}

/* ---- a test ---- */

static const char *figure_bar(struct needs *needs, const struct soil_figure *figure)
{
    if (figure->column->kind == ANALYTE_PH && figure->test->zones.count)
        return ph_bar_of(needs->arena, figure->mean,
                         lawn_range(figure->test->zones.items[0]->lawn, GRASS_PH));
    bool indexed = !figure->reading.activity || !isnan(figure->reading.ph);
    if (figure->read && indexed && !isnan(figure->enough) && !isnan(figure->judged))
        return bar_of(needs->arena, figure->judged, figure->enough);
    return "";
}

enum { FIGURE_CELLS = 26 }; /* most figures fit, so that the bars of several tests stand below each other */

struct figure_cells {
    uint32_t name, figure; /* the widest of the test */
};

static void print_figure(struct needs *needs, const struct soil_figure *figure, struct figure_cells cells)
{
    buffer_add_string(needs->out, "  ");
    field_add(needs->out, figure->name, cells.name + 2);
    if (isnan(figure->mean)) {
        buffer_add_string(needs->out, "no figure\n");
        return;
    }
    const char *text = figure_text(needs, figure), *drawn = figure_bar(needs, figure);
    field_add(needs->out, text, *drawn ? cells.figure + 2 : 0);
    buffer_format(needs->out, "%s\n", drawn);
    if (figure->column->kind == ANALYTE_NUTRIENT)
        print_nutrient(needs, figure);
    else if (figure->column->kind == ANALYTE_PH)
        print_ph(needs, figure);
}

static const char *names_joined(struct arena *arena, const struct soil_test *test)
{
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < test->zones.count; i++)
        buffer_format(&text, "%s%s", i ? ", " : "", name_string(test->zones.items[i]->thing.name));
    return buffer_string(&text);
}

/* What several needs of the test go by, once for all of them: of each zone by the first of its needs that has
 * it. */
static void print_basis(struct needs *needs, const struct soil_test *test, const char *lead,
                        const char *(*words)(const struct need_words *, const struct zone_need *))
{
    struct asking asking = {0};
    for (size_t i = 0; i < test->zones.count; i++) {
        const char *text = "";
        for (enum nutrient n = NUTRIENT_P; n < NUTRIENT_SOLUBLE_N && !*text; n++) {
            struct zone_need need;
            if (need_by(needs, test, test->zones.items[i], n, &need))
                text = words(&needs->words, &need);
        }
        if (*text)
            asking_add(needs->arena, &asking, test->zones.items[i],
                       (struct asked){.sentence = text, .reason = ""});
    }
    for (size_t i = 0; i < asking.kinds.count; i++)
        paragraph_add(needs->out, "  ",
                      text_format(needs->arena, "%s%s%s%s.", lead, asking.kinds.items[i].sentence,
                                  asking.kinds.count > 1 ? ", on " : "",
                                  asking.kinds.count > 1 ? asking.kinds.items[i].zones.string : ""));
}

/* "Read by the scale minimum-levels (library/scales.prill:40); Fe, Zn by rutgers-levels (...)." */
static void add_scales(struct needs *needs, struct buffer *text, const struct soil_test *test)
{
    const struct test_scale *others = test_scale_for_others(test);
    if (others)
        buffer_format(text, "Read by the scale %s (%s)", name_string(others->scale->thing.name),
                      place_line(needs->arena, others->scale->thing.place));
    else if (!test->scales.count)
        buffer_add_string(text, "No scale reads it");
    bool first = !others;
    for (size_t i = 0; i < test->scales.count; i++) {
        const struct test_scale *by = &test->scales.items[i];
        for (size_t j = 0; j < by->nutrients.count; j++)
            buffer_format(text, "%s%s", j ? ", " : first ? "" : "; ", by->nutrients.items[j]->nutrient->name);
        if (by->nutrients.count)
            buffer_format(text, " %sby %s%s (%s)", first ? "read " : "", first ? "the scale " : "",
                          name_string(by->scale->thing.name),
                          place_line(needs->arena, by->scale->thing.place));
        first = first && !by->nutrients.count;
    }
    buffer_add_string(text, ".");
}

static void print_test_head(struct needs *needs, const struct soil_test *test)
{
    struct buffer text = {.arena = needs->arena};
    paragraph_add(needs->out, "",
                  text_format(needs->arena, "Soil test of %s (%s)", display_date(needs->arena, test->day),
                              place_line(needs->arena, test->thing.place)));
    buffer_format(&text, "Zones %s. ", names_joined(needs->arena, test));
    if (test->method)
        buffer_format(&text, "Method %s. ", name_string(test->method));
    if (!isnan(test->depth_m))
        buffer_format(&text, "%s deep. ", display_depth(needs->arena, needs->model, test->depth_m));
    buffer_format(&text, "%zu %s", test->results.row_count, test->results.row_count == 1 ? "spot" : "spots");
    if (test->cores)
        buffer_format(&text, " of %d %s", test->cores, test->cores == 1 ? "core" : "cores");
    buffer_add_string(&text, ". ");
    add_scales(needs, &text, test);
    paragraph_add(needs->out, "  ", text.string);
    for (size_t i = 0; i < test->scales.count; i++)
        if (!test_scale_repeated(test, i))
            say_note(needs, "  ", &test->scales.items[i].scale->thing);
    for (size_t i = 0; i < test->conversions.count; i++)
        say_note(needs, "  ", &test->conversions.items[i]->thing);
    print_basis(needs, test, "Amounts count ", need_layer);
    print_basis(needs, test, "The grass's use goes by N: ", need_nitrogen);
    buffer_add_string(needs->out, "\n");
}

static bool test_holds(const struct soil_test *test, int kind, enum nutrient nutrient)
{
    for (size_t i = 0; i < test->results.column_count; i++) {
        const struct table_column *column = &test->results.columns[i];
        if (column->kind == kind && (kind != ANALYTE_NUTRIENT || column->nutrient->nutrient == nutrient))
            return true;
    }
    return false;
}

/* What the scale could have read, pH, and what the amounts go by. */
static void print_lacking(struct needs *needs, const struct soil_test *test)
{
    struct buffer text = {.arena = needs->arena};
    if (!test_holds(test, ANALYTE_PH, NUTRIENT_COUNT))
        buffer_add_string(&text, "pH");
    bool layered = false;
    for (size_t i = 0; i < test->scales.count; i++)
        layered = layered || test->scales.items[i].scale->sum != SUM_NONE;
    if (isnan(test->depth_m) && layered)
        buffer_format(&text, "%sthe depth of the cores", text.length ? ", " : "");
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        const struct test_scale *by = test_scale_of(test, n);
        if (by && scale_speaks_of(by->scale, n) && !test_holds(test, ANALYTE_NUTRIENT, n))
            buffer_format(&text, "%s%s", text.length ? ", " : "", nutrient_element(n));
    }
    if (text.length)
        paragraph_add(needs->out, "  ", text_format(needs->arena, "Not in the report: %s.", text.string));
}

/* Once for the test what its scales do not say, and which scales could. */
static void print_unread(struct needs *needs, const struct soil_test *test)
{
    struct arena *arena = needs->arena;
    struct unread unread = unread_of(arena, needs->season, test);
    if (!unread.unread && !unread.unmeasured)
        return;
    struct buffer text = {.arena = arena};
    if (unread.unread)
        buffer_format(&text, "Not read by a scale of this test: %s. ",
                      nutrients_of_bits(arena, unread.unread));
    if (unread.unmeasured)
        buffer_format(&text, "Low, without an amount: %s. ", nutrients_of_bits(arena, unread.unmeasured));
    const char *offers = unread_offers(arena, &unread);
    const char *method = test->method ? name_string(test->method) : "its method";
    if (*offers)
        buffer_format(&text, "Other scales for %s: %s.", method, offers);
    else
        buffer_format(&text,
                      "No other scale for %s does better; add one from the laboratory's own sheet, with its "
                      "source.",
                      method);
    paragraph_add(needs->out, "  ", text.string);
}

static void print_test(struct needs *needs, const struct soil_test *test)
{
    print_test_head(needs, test);
    struct figure_cells cells = {.figure = FIGURE_CELLS};
    for (size_t i = 0; i < test->results.column_count; i++) {
        struct soil_figure figure = soil_figure_of(needs->season, test, i);
        uint32_t name = field_cells(needs->arena, figure.name);
        uint32_t wide = isnan(figure.mean) ? 0 : field_cells(needs->arena, figure_text(needs, &figure));
        cells.name = name > cells.name ? name : cells.name;
        cells.figure = wide > cells.figure ? wide : cells.figure;
    }
    for (size_t i = 0; i < test->results.column_count; i++) {
        struct soil_figure figure = soil_figure_of(needs->season, test, i);
        print_figure(needs, &figure, cells);
    }
    print_lacking(needs, test);
    if (!test->thing.broken)
        print_unread(needs, test);
    buffer_add_string(needs->out, "\n");
}

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
                  text_format(needs->arena, "%s on %s %s. %s", name_string(lawn->grass->thing.name),
                              name_string(lawn->thing.name), need_sentence(&needs->words, need),
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
        range ? text_format(arena, " For %s %s is usual%s (%s).", name_string(lawn->grass->thing.name),
                            need_cell(&needs->words, &usual), words_mark(&needs->words, range->source),
                            words_at(&needs->words, range->place))
              : "";
    paragraph_add(needs->out, "",
                  text_format(arena, "%s %s. %s%s", name_string(lawn->thing.name),
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
        if (!told)
            say_note(needs, "", &grass->thing);
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
            buffer_format(&names, "%s%s", count++ ? ", " : "", name_string(zone->thing.name));
    }
    if (count && needs->model->soil_tests.count)
        paragraph_add(needs->out, "",
                      text_format(needs->arena, "No soil test is of %s: what %s but N is not known.",
                                  names.string, count == 1 ? "it needs" : "they need"));
}

void needs_text_print(struct buffer *out, const struct season *season)
{
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
        print_test(&needs, model->soil_tests.items[i]);
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
