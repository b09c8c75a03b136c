#include "compiler/result/soil_text.h"

#include "compiler/model/display.h"
#include "compiler/result/zone_groups.h"
#include "compiler/form/paragraph.h"
#include "compiler/result/soil_bar.h"
#include "compiler/result/soil_figure.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/work.h"
#include "compiler/season/scale_class.h"
#include "compiler/season/scale_offer.h"

#include <string.h>

struct text_page {
    struct buffer *out;
    struct arena *arena;
    const struct season *season;
    const struct need_words *words;
};

static void say(struct text_page *page, const char *text)
{
    if (*text)
        paragraph_add(page->out, "      ", text);
}

static void say_note(struct text_page *page, const struct symbol *symbol)
{
    const char *note = note_sentence(page->arena, symbol);
    if (note)
        paragraph_add(page->out, "  ", note);
}

/* ---- a result ---- */

/* Three digits: a laboratory promises no more. */
static const char *number(const struct text_page *page, double value)
{
    double size = fabs(value);
    int decimals = size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3;
    return number_text(page->arena, value, decimals);
}

static const char *with_unit(const struct text_page *page, const struct soil_figure *figure, double value)
{
    bool apart = *figure->unit && *figure->unit != '%';
    return text_format(page->arena, "%s%s%s", number(page, value), apart ? " " : "", figure->unit);
}

/* "12 ppm (11 to 13)", "24 ppm (< 20 to 28)", "< 20 ppm", "> 200 ppm" */
static const char *figure_text(const struct text_page *page, const struct soil_figure *figure)
{
    struct buffer text = {.arena = page->arena};
    const char *mark = figure->below == figure->spots ? "< " : figure->above == figure->spots ? "> " : "";
    buffer_format(&text, "%s%s", mark, with_unit(page, figure, figure->mean));
    if (figure->highest > figure->lowest)
        buffer_format(&text, " (%s%s to %s%s)", figure->lowest_below ? "< " : "",
                      number(page, figure->lowest), figure->highest_above ? "> " : "",
                      number(page, figure->highest));
    return text.string;
}

/* "By Bray P1 10.2 ppm [3] (library/scales.prill:140)." where a conversion counts it. */
static void say_conversion(struct text_page *page, const struct soil_figure *figure)
{
    const struct conversion_step *step = figure->reading.step;
    if (!step)
        return;
    say(page, text_format(page->arena, "Counted by %s: %s %s, from %s at x = %s %s%s (%s).",
                          name_string(figure->reading.conversion->to), number(page, figure->judged),
                          figure->judged_unit, words_formula(page->words, &step->result),
                          number(page, figure->mean), figure->unit, words_mark(page->words, step->source),
                          place_line(page->arena, step->place)));
}

static void say_activity(struct text_page *page, const struct soil_figure *figure)
{
    const struct scale_activity *activity = figure->reading.activity;
    if (isnan(figure->reading.ph))
        return;
    say(page,
        text_format(page->arena, "%s: index %s by the result and pH %s, enough at %s%s (%s).",
                    figure->reading.need == NEED_LOW ? "Low" : "Enough", number(page, figure->judged),
                    number(page, figure->reading.ph), number(page, activity->enough),
                    words_mark(page->words, activity->source), place_line(page->arena, activity->place)));
}

/* ", here 48.1 mg/kg of P2O5", where the report counts in another unit or form than the scale. */
static const char *enough_here(const struct text_page *page, const struct soil_figure *figure)
{
    const char *here = number(page, figure->enough);
    size_t length = strlen(here);
    const struct level *level = figure->reading.level;
    if (strncmp(level->text, here, length) == 0 && level->text[length] == ' ')
        return "";
    const char *what =
        figure->reading.step ? nutrient_element(figure->reading.nutrient->nutrient) : figure->name;
    return text_format(page->arena, ", here %s %s of %s", here, figure->judged_unit, what);
}

static void say_level(struct text_page *page, const struct soil_figure *figure)
{
    const struct level *level = figure->reading.level;
    struct buffer text = {.arena = page->arena};
    if (level->minimum)
        buffer_format(&text, "%s: the minimum is ",
                      figure->reading.need == NEED_LOW ? "Low"
                      : figure->reading.open_above     ? "Low or enough"
                      : figure->doubtful               ? "Enough now, as counted"
                                                       : "Enough now");
    else
        buffer_format(&text, "Class %s: ", name_string(level->name));
    buffer_format(&text, "%s%s%s (%s)", level->text, level->minimum ? enough_here(page, figure) : "",
                  words_mark(page->words, level->source), place_line(page->arena, level->place));
    if (figure->reading.need == NEED_LOW && figure->enough > figure->judged)
        buffer_format(&text, "; %s %s short of enough", number(page, figure->enough - figure->judged),
                      figure->judged_unit);
    else if (figure->reading.need == NEED_UNKNOWN && !figure->reading.open_above)
        buffer_add_string(&text, "; the scale does not say from which class on it is enough");
    buffer_add_string(&text, ".");
    say(page, text.string);
}

static void say_spots(struct text_page *page, const struct soil_figure *figure)
{
    if (figure->reading.disagree)
        say(page, text_format(page->arena, "The spots lie more than %s from their mean: treat them apart.",
                              display_share(page->arena, figure->reading.scale->scale->spread)));
    if (figure->above)
        say(page, figure->spots == 1
                      ? "The spot is above what the laboratory measures; counted at that limit."
                      : text_format(
                            page->arena,
                            "%zu of %zu spots %s above what the laboratory measures; counted at that limit.",
                            figure->above, figure->spots, figure->above == 1 ? "is" : "are"));
    if (!figure->below)
        return;
    const char *counted =
        figure->spots == 1 ? "The spot lies below what the laboratory can see"
                           : text_format(page->arena, "%zu of %zu spots %s below what the laboratory can see",
                                         figure->below, figure->spots, figure->below == 1 ? "lies" : "lie");
    say(page,
        text_format(page->arena, "%s; counted at that limit.%s", counted,
                    figure->doubtful ? " There may be too little all the same: a finer method would tell."
                                     : ""));
}

/* ---- what it asks ---- */

/* A need of this test for the zone, over the days on which it is in force; false where it never is. */
static bool need_by(const struct text_page *page, const struct soil_test *test, const struct zone *zone,
                    enum nutrient nutrient, struct zone_need *need)
{
    need_on(page->season, zone, nutrient, test->day, need);
    if (need->read && need->reading.test == test)
        need_on(page->season, zone, nutrient, need->until, need);
    return need->read && need->reading.test == test;
}

static void say_asked(struct text_page *page, const struct asking *asking)
{
    for (size_t i = 0; i < asking->kinds.count; i++)
        say(page, asking_text(page->arena, asking, i));
}

/* That it is low was told with the level. */
static const char *asked_words(const struct text_page *page, const struct soil_figure *figure,
                               const struct zone_need *need)
{
    bool told = (figure->reading.level || figure->reading.activity) && need->low && isnan(need->kg_per_m2);
    const char *text = told ? "how much it needs is not known" : need_sentence(page->words, need);
    return need->retested ? text_format(page->arena, "until the test of %s: %s",
                                        display_date(page->arena, need->until + 1), text)
                          : text;
}

static void say_need(struct text_page *page, const struct soil_figure *figure)
{
    struct asking asking = {0};
    const struct soil_test *test = figure->test;
    for (size_t i = 0; i < test->zones.count; i++) {
        struct zone_need need;
        if (need_by(page, test, test->zones.items[i], figure->column->nutrient->nutrient, &need))
            asking_add(page->arena, &asking, test->zones.items[i],
                       (struct asked){.sentence = sentence_of(page->arena, asked_words(page, figure, &need)),
                                      .reason = need_reason(page->words, &need, true),
                                      .kind = need.lack == LACK_NOTHING ? (int)need.rule : -(int)need.lack});
    }
    say_asked(page, &asking);
}

static void print_nutrient(struct text_page *page, const struct soil_figure *figure)
{
    if (figure->superseded) {
        say(page, "Another test of that day counts in its place.");
        return;
    }
    say_conversion(page, figure);
    if (figure->reading.level)
        say_level(page, figure);
    else if (figure->reading.activity)
        say_activity(page, figure);
    say_spots(page, figure);
    say_need(page, figure);
}

/* ---- pH ---- */

static bool lime_by(const struct text_page *page, const struct soil_test *test, const struct zone *zone,
                    struct lime_need *need)
{
    lime_need_of(page->season, zone, need);
    return need->test == test;
}

static void print_ph(struct text_page *page, const struct soil_figure *figure)
{
    struct asking asking = {0}, giving = {0};
    for (size_t i = 0; i < figure->test->zones.count; i++) {
        struct lime_need need;
        const struct zone *zone = figure->test->zones.items[i];
        if (!lime_by(page, figure->test, zone, &need))
            continue;
        /* One after the other: sources are numbered in the order in which they are asked for. */
        struct asked asked = {.sentence = lime_sentence(page->words, &need), .kind = (int)i};
        asked.reason = lime_reason(page->words, &need);
        asking_add(page->arena, &asking, zone, asked);
        const char *given = lime_given(page->words, &need);
        if (*given)
            asking_add(page->arena, &giving, zone, (struct asked){.sentence = given, .reason = ""});
    }
    if (!asking.kinds.count)
        say(page, "A newer test counts in its place.");
    say_asked(page, &asking);
    say_asked(page, &giving);
}

/* ---- the test ---- */

static const char *figure_bar(struct text_page *page, const struct soil_figure *figure)
{
    if (figure->column->kind == ANALYTE_PH && figure->test->zones.count)
        return ph_bar_of(page->arena, figure->mean, lawn_range(figure->test->zones.items[0]->lawn, GRASS_PH));
    bool indexed = !figure->reading.activity || !isnan(figure->reading.ph);
    if (figure->read && indexed && !isnan(figure->enough) && !isnan(figure->judged))
        return bar_of(page->arena, figure->judged, figure->enough);
    return "";
}

enum { FIGURE_CELLS = 26 }; /* most figures fit, so that the bars of several tests stand below each other */

struct figure_cells {
    uint32_t name, figure; /* the widest of the test */
};

static void print_figure(struct text_page *page, const struct soil_figure *figure, struct figure_cells cells)
{
    buffer_add_string(page->out, "  ");
    field_add(page->out, figure->name, cells.name + 2);
    if (isnan(figure->mean)) {
        buffer_add_string(page->out, "no figure\n");
        return;
    }
    const char *text = figure_text(page, figure), *drawn = figure_bar(page, figure);
    field_add(page->out, text, *drawn ? cells.figure + 2 : 0);
    buffer_format(page->out, "%s\n", drawn);
    if (figure->column->kind == ANALYTE_NUTRIENT)
        print_nutrient(page, figure);
    else if (figure->column->kind == ANALYTE_PH)
        print_ph(page, figure);
}

static const char *names_joined(struct arena *arena, const struct soil_test *test)
{
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < test->zones.count; i++)
        buffer_format(&text, "%s%s", i ? ", " : "", name_string(test->zones.items[i]->symbol.name));
    return buffer_string(&text);
}

/* What several needs of the test go by, once for all of them: of each zone by the first of its needs that has
 * it. */
static void print_basis(struct text_page *page, const struct soil_test *test, const char *lead,
                        const char *(*words)(const struct need_words *, const struct zone_need *))
{
    struct asking asking = {0};
    for (size_t i = 0; i < test->zones.count; i++) {
        const char *text = "";
        for (enum nutrient n = NUTRIENT_P; n < NUTRIENT_SOLUBLE_N && !*text; n++) {
            struct zone_need need;
            if (need_by(page, test, test->zones.items[i], n, &need))
                text = words(page->words, &need);
        }
        if (*text)
            asking_add(page->arena, &asking, test->zones.items[i],
                       (struct asked){.sentence = text, .reason = ""});
    }
    for (size_t i = 0; i < asking.kinds.count; i++)
        paragraph_add(page->out, "  ",
                      text_format(page->arena, "%s%s%s%s.", lead, asking.kinds.items[i].sentence,
                                  asking.kinds.count > 1 ? ", on " : "",
                                  asking.kinds.count > 1 ? asking.kinds.items[i].zones.string : ""));
}

/* "Read by the scale minimum-levels (library/scales.prill:40); Fe, Zn by rutgers-levels (...)." */
static void add_scales(struct text_page *page, struct buffer *text, const struct soil_test *test)
{
    const struct test_scale *others = test_scale_for_others(test);
    if (others)
        buffer_format(text, "Read by the scale %s (%s)", name_string(others->scale->symbol.name),
                      place_line(page->arena, others->scale->symbol.place));
    else if (!test->scales.count)
        buffer_add_string(text, "No scale reads it");
    bool first = !others;
    for (size_t i = 0; i < test->scales.count; i++) {
        const struct test_scale *by = &test->scales.items[i];
        for (size_t j = 0; j < by->nutrients.count; j++)
            buffer_format(text, "%s%s", j ? ", " : first ? "" : "; ", by->nutrients.items[j]->nutrient->name);
        if (by->nutrients.count)
            buffer_format(text, " %sby %s%s (%s)", first ? "read " : "", first ? "the scale " : "",
                          name_string(by->scale->symbol.name),
                          place_line(page->arena, by->scale->symbol.place));
        first = first && !by->nutrients.count;
    }
    buffer_add_string(text, ".");
}

static void print_test_head(struct text_page *page, const struct soil_test *test)
{
    struct buffer text = {.arena = page->arena};
    paragraph_add(page->out, "",
                  text_format(page->arena, "Soil test of %s (%s)", display_date(page->arena, test->day),
                              place_line(page->arena, test->symbol.place)));
    buffer_format(&text, "Zones %s. ", names_joined(page->arena, test));
    if (test->method)
        buffer_format(&text, "Method %s. ", name_string(test->method));
    if (!isnan(test->depth_m))
        buffer_format(&text, "%s deep. ", display_depth(page->arena, page->season->model, test->depth_m));
    buffer_format(&text, "%zu %s", test->results.row_count, test->results.row_count == 1 ? "spot" : "spots");
    if (test->cores)
        buffer_format(&text, " of %d %s", test->cores, test->cores == 1 ? "core" : "cores");
    buffer_add_string(&text, ". ");
    add_scales(page, &text, test);
    paragraph_add(page->out, "  ", text.string);
    for (size_t i = 0; i < test->scales.count; i++)
        if (!test_scale_repeated(test, i))
            say_note(page, &test->scales.items[i].scale->symbol);
    for (size_t i = 0; i < test->conversions.count; i++)
        say_note(page, &test->conversions.items[i]->symbol);
    print_basis(page, test, "Amounts count ", need_layer);
    print_basis(page, test, "The grass's use goes by N: ", need_nitrogen);
    buffer_add_string(page->out, "\n");
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
static void print_lacking(struct text_page *page, const struct soil_test *test)
{
    struct buffer text = {.arena = page->arena};
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
        paragraph_add(page->out, "  ", text_format(page->arena, "Not in the report: %s.", text.string));
}

/* Once for the test what its scales do not say, and which scales could. */
static void print_unread(struct text_page *page, const struct soil_test *test)
{
    struct arena *arena = page->arena;
    struct unread unread = unread_of(arena, page->season, test);
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
    paragraph_add(page->out, "  ", text.string);
}

void soil_text_print(struct buffer *out, const struct need_words *words, const struct season *season,
                     const struct soil_test *test)
{
    struct text_page page = {out, out->arena, season, words};
    print_test_head(&page, test);
    struct figure_cells cells = {.figure = FIGURE_CELLS};
    for (size_t i = 0; i < test->results.column_count; i++) {
        struct soil_figure figure = soil_figure_of(page.season, test, i);
        uint32_t name = field_cells(page.arena, figure.name);
        uint32_t wide = isnan(figure.mean) ? 0 : field_cells(page.arena, figure_text(&page, &figure));
        cells.name = name > cells.name ? name : cells.name;
        cells.figure = wide > cells.figure ? wide : cells.figure;
    }
    for (size_t i = 0; i < test->results.column_count; i++) {
        struct soil_figure figure = soil_figure_of(page.season, test, i);
        print_figure(&page, &figure, cells);
    }
    print_lacking(&page, test);
    if (!test->symbol.broken)
        print_unread(&page, test);
    buffer_add_string(page.out, "\n");
}
