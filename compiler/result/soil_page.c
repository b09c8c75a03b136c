#include "compiler/result/needs.h"

#include "compiler/model/display.h"
#include "compiler/model/figure.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/soil_figure.h"
#include "compiler/result/zone_groups.h"
#include "compiler/season/scale_class.h"
#include "compiler/season/scale_offer.h"

#include <string.h>

/* A soil test being described. */
struct telling {
    struct page *page;
    struct arena *arena;
    const struct season *season;
    const struct need_words *words;
    const struct soil_test *test;
};

static void say(const struct telling *of, const char *text)
{
    if (*text)
        page_line(of->page, 3, text);
}

/* ---- a figure ---- */

/* "12 ppm (11 to 13)", "24 ppm (< 20 to 28)", "< 20 ppm", "> 200 ppm" */
static const char *figure_text(const struct telling *of, const struct soil_figure *figure)
{
    struct buffer text = {.arena = of->arena};
    if (isnan(figure->mean))
        return "no figure";
    if (figure->below == figure->spots || figure->above == figure->spots)
        buffer_add_string(&text, figure->below == figure->spots ? "< " : "> ");
    buffer_add_string(&text, figure_number(of->arena, figure->mean));
    buffer_add_string(&text, *figure->unit && *figure->unit != '%' ? " " : "");
    buffer_add_string(&text, figure->unit);
    if (figure->highest > figure->lowest) {
        buffer_format(&text, " (%s%s", figure->lowest_below ? "< " : "",
                      figure_number(of->arena, figure->lowest));
        buffer_format(&text, " to %s%s)", figure->highest_above ? "> " : "",
                      figure_number(of->arena, figure->highest));
    }
    return text.string;
}

/* "" where there is nothing to draw it against. */
static const char *figure_bar(const struct telling *of, const struct soil_figure *figure)
{
    if (isnan(figure->mean))
        return "";
    if (figure->column->kind == ANALYTE_PH && of->test->zones.count)
        return ph_bar_of(of->arena, NAN, figure->mean, lawn_range(of->test->zones.items[0]->lawn, GRASS_PH));
    bool indexed = !figure->reading.activity || !isnan(figure->reading.ph);
    if (figure->read && indexed && !isnan(figure->enough) && !isnan(figure->judged))
        return bar_of(of->arena, figure->judged, figure->enough);
    return "";
}

/* Which level the figure is in, and how far it is below what is enough. */
static void say_level(const struct telling *of, const struct soil_figure *figure)
{
    const struct level *level = figure->reading.level;
    struct buffer text = {.arena = of->arena};
    if (level->minimum)
        buffer_format(&text, "%s: the minimum is ",
                      figure->reading.need == NEED_LOW ? "Low"
                      : figure->reading.open_above     ? "Low or enough"
                      : figure->doubtful               ? "Enough now, as counted"
                                                       : "Enough now");
    else
        buffer_format(&text, "Class %s: ", name_string(level->name));
    buffer_add_string(&text, level->text);
    /* ", here 48.1 mg/kg of P2O5", where the report counts in another unit or form than the scale. */
    const char *here = level->minimum ? figure_number(of->arena, figure->enough) : "";
    size_t length = strlen(here);
    if (level->minimum && (strncmp(level->text, here, length) != 0 || level->text[length] != ' '))
        buffer_format(&text, ", here %s %s of %s", here, figure->judged_unit,
                      figure->reading.step ? nutrient_element(figure->reading.nutrient->nutrient)
                                           : figure->name);
    buffer_add_string(&text, words_cited(of->words, level->source, level->place));
    if (figure->reading.need == NEED_LOW && figure->enough > figure->judged)
        buffer_format(&text, "; %s %s below %s", figure_number(of->arena, figure->enough - figure->judged),
                      figure->judged_unit, level->minimum ? "the minimum" : "enough");
    else if (figure->reading.need == NEED_UNKNOWN && !figure->reading.open_above)
        buffer_add_string(&text, "; the scale does not say which class is enough");
    buffer_add_string(&text, ".");
    say(of, text.string);
}

/* Spots that a mean hides: far apart, or beyond what the laboratory measures. */
static void say_spots(const struct telling *of, const struct soil_figure *figure)
{
    struct buffer text = {.arena = of->arena};
    if (figure->reading.disagree)
        say(of, text_format(of->arena,
                            "The spots differ from their mean by more than %s: treat them as separate zones.",
                            display_share(of->arena, figure->reading.scale->scale->spread)));
    if (figure->above && figure->spots == 1)
        say(of, "The spot is above what the laboratory measures; counted at that limit.");
    else if (figure->above)
        say(of, text_format(of->arena,
                            "%zu of %zu spots %s above what the laboratory measures; counted at that limit.",
                            figure->above, figure->spots, figure->above == 1 ? "is" : "are"));
    if (!figure->below)
        return;
    if (figure->spots == 1)
        buffer_add_string(&text, "The spot is");
    else
        buffer_format(&text, "%zu of %zu spots %s", figure->below, figure->spots,
                      figure->below == 1 ? "is" : "are");
    buffer_add_string(&text, " below what the laboratory can measure; counted at that limit.");
    if (figure->doubtful)
        buffer_add_string(&text, " The true level may be too low: a finer method would show.");
    say(of, text.string);
}

/* ---- what it asks ---- */

/* A need of this test for the zone, over the days on which it is in force; false where it never is. */
static bool need_by(const struct telling *of, const struct zone *zone, enum nutrient nutrient,
                    struct zone_need *need)
{
    need_on(of->season, zone, nutrient, of->test->day, need);
    if (need->read && need->reading.test == of->test)
        need_on(of->season, zone, nutrient, need->until, need);
    return need->read && need->reading.test == of->test;
}

static void say_groups(const struct telling *of, const struct zone_groups *groups)
{
    for (size_t i = 0; i < groups->count; i++)
        say(of, zone_group_text(of->arena, groups, i));
}

/* Lime goes by the newest test alone; what was applied since is said of each zone that differs. */
static void say_lime(const struct telling *of)
{
    struct zone_groups needing = {0}, given = {0};
    for (size_t i = 0; i < of->test->zones.count; i++) {
        struct lime_need need;
        const struct zone *zone = of->test->zones.items[i];
        lime_need_of(of->season, zone, &need);
        if (need.test != of->test)
            continue;
        /* One after the other: sources are numbered in the order in which they are asked for. */
        struct zone_group said = {.sentence = lime_sentence(of->words, &need), .kind = (int)i};
        said.reason = lime_reason(of->words, &need);
        zone_groups_add(of->arena, &needing, zone, said);
        const char *applied = lime_given(of->words, &need);
        if (*applied)
            zone_groups_add(of->arena, &given, zone, (struct zone_group){.sentence = applied, .reason = ""});
    }
    if (!needing.count)
        say(of, "A newer test replaces this pH.");
    say_groups(of, &needing);
    say_groups(of, &given);
}

/* The row, then below it how the figure was read and what it means for the zones. */
static void describe_figure(const struct telling *of, struct page_columns *columns,
                            const struct soil_figure *figure)
{
    page_row(of->page, 1, columns,
             (const char *[]){figure->name, figure_text(of, figure), figure_bar(of, figure)});
    if (isnan(figure->mean))
        return;
    if (figure->column->kind == ANALYTE_PH)
        say_lime(of);
    if (figure->column->kind != ANALYTE_NUTRIENT)
        return;
    if (figure->superseded) {
        say(of, "Another test of that day replaces this figure.");
        return;
    }
    /* "Converted to bray-p1: 10.2 ppm, by ... at x = 8 ppm [3] (library/scales.prill:140)." */
    const struct conversion_step *step = figure->reading.step;
    struct buffer text = {.arena = of->arena};
    if (step) {
        buffer_format(&text, "Converted to %s: %s %s, by ", name_string(figure->reading.conversion->to),
                      figure_number(of->arena, figure->judged), figure->judged_unit);
        buffer_format(&text, "%s at x = %s %s", words_formula(of->words, &step->result),
                      figure_number(of->arena, figure->mean), figure->unit);
        buffer_format(&text, "%s.", words_cited(of->words, step->source, step->place));
        say(of, text.string);
    }
    if (figure->reading.level)
        say_level(of, figure);
    else if (figure->reading.activity) {
        /* By an index of the result and the pH; without a pH there is none. */
        const struct scale_activity *activity = figure->reading.activity;
        struct buffer line = {.arena = of->arena};
        if (!isnan(figure->reading.ph)) {
            buffer_format(&line, "%s: index %s from the result and pH %s; ",
                          figure->reading.need == NEED_LOW ? "Low" : "Enough",
                          figure_number(of->arena, figure->judged),
                          figure_number(of->arena, figure->reading.ph));
            buffer_format(&line, "enough at %s%s.", figure_number(of->arena, activity->enough),
                          words_cited(of->words, activity->source, activity->place));
            say(of, line.string);
        }
    }
    say_spots(of, figure);
    /* Of each zone over the days on which this test is in force: an older test has needs too. */
    struct zone_groups groups = {0};
    for (size_t i = 0; i < of->test->zones.count; i++) {
        struct zone_need need;
        if (!need_by(of, of->test->zones.items[i], figure->column->nutrient->nutrient, &need))
            continue;
        /* That it is low was said with the level. */
        bool known = (figure->reading.level || figure->reading.activity) && need.low && isnan(need.kg_per_m2);
        const char *remark = known ? "the amount needed is not known" : need_sentence(of->words, &need);
        if (need.retested)
            remark = text_format(of->arena, "until the test of %s: %s",
                                 display_date(of->arena, need.until + 1), remark);
        struct zone_group said = {.sentence = sentence_of(of->arena, remark),
                                  .kind = need.lack == LACK_NOTHING ? (int)need.rule : -(int)need.lack};
        said.reason = need_reason(of->words, &need, true);
        zone_groups_add(of->arena, &groups, of->test->zones.items[i], said);
    }
    say_groups(of, &groups);
}

/* ---- the test ---- */

/* What several needs of the test are worked out from, once for all of them: of each zone by the first of its
 * needs that has it. */
static void describe_basis(const struct telling *of, const char *lead,
                           const char *(*basis_of)(const struct need_words *, const struct zone_need *))
{
    struct zone_groups groups = {0};
    for (size_t i = 0; i < of->test->zones.count; i++) {
        const char *text = "";
        for (enum nutrient n = NUTRIENT_P; n < NUTRIENT_SOLUBLE_N && !*text; n++) {
            struct zone_need need;
            if (need_by(of, of->test->zones.items[i], n, &need))
                text = basis_of(of->words, &need);
        }
        if (*text)
            zone_groups_add(of->arena, &groups, of->test->zones.items[i],
                            (struct zone_group){.sentence = text, .reason = ""});
    }
    for (size_t i = 0; i < groups.count; i++)
        page_say(of->page, 1, "%s%s%s%s.", lead, groups.items[i].sentence, groups.count > 1 ? ", on " : "",
                 groups.count > 1 ? groups.items[i].zones.string : "");
}

/* "Read by the scale minimum-levels (library/scales.prill:40); Fe, Zn by rutgers-levels (...)." */
static void add_scales(const struct telling *of, struct buffer *text)
{
    const struct test_scale *others = test_scale_for_others(of->test);
    if (others)
        buffer_format(text, "Read by the scale %s (%s)", name_string(others->scale->symbol.name),
                      place_line(of->arena, others->scale->symbol.place));
    else if (!of->test->scales.count)
        buffer_add_string(text, "No scale reads it");
    bool first = !others;
    for (size_t i = 0; i < of->test->scales.count; i++) {
        const struct test_scale *by = &of->test->scales.items[i];
        for (size_t j = 0; j < by->nutrients.count; j++)
            buffer_format(text, "%s%s", j ? ", " : first ? "" : "; ", by->nutrients.items[j]->nutrient->name);
        if (by->nutrients.count)
            buffer_format(text, " %s%s (%s)", first ? "read by the scale " : "by ",
                          name_string(by->scale->symbol.name),
                          place_line(of->arena, by->scale->symbol.place));
        first = first && !by->nutrients.count;
    }
    buffer_add_string(text, ".");
}

/* Which ground, how sampled, and which scale reads it: what makes two tests comparable. */
static void describe_head(const struct telling *of)
{
    const struct soil_test *test = of->test;
    struct buffer text = {.arena = of->arena}, zones = {.arena = of->arena};
    page_heading(of->page, 0,
                 text_format(of->arena, "Soil test of %s (%s)", display_date(of->arena, test->day),
                             place_line(of->arena, test->symbol.place)));
    for (size_t i = 0; i < test->zones.count; i++) {
        buffer_separate(&zones, ", ");
        buffer_add_string(&zones, name_string(test->zones.items[i]->symbol.name));
    }
    buffer_format(&text, "Zones %s. ", buffer_string(&zones));
    if (test->method)
        buffer_format(&text, "Method %s. ", name_string(test->method));
    if (!isnan(test->depth_m))
        buffer_format(&text, "%s deep. ", display_depth(of->arena, of->season->model, test->depth_m));
    buffer_format(&text, "%zu %s", test->results.row_count, test->results.row_count == 1 ? "spot" : "spots");
    if (test->cores)
        buffer_format(&text, " of %d %s", test->cores, test->cores == 1 ? "core" : "cores");
    buffer_add_string(&text, ". ");
    add_scales(of, &text);
    page_line(of->page, 1, text.string);
}

/* What scales and conversions say of themselves, each once. */
static void describe_notes(const struct telling *of)
{
    const struct soil_test *test = of->test;
    for (size_t i = 0; i < test->scales.count + test->conversions.count; i++) {
        const char *note = NULL;
        if (i >= test->scales.count)
            note = note_sentence(of->arena, &test->conversions.items[i - test->scales.count]->symbol);
        else if (!test_scale_repeated(test, i))
            note = note_sentence(of->arena, &test->scales.items[i].scale->symbol);
        if (note)
            page_line(of->page, 1, note);
    }
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

/* What the scale could have read, pH, and what the amounts are worked out from. */
static void describe_lacking(const struct telling *of)
{
    const struct soil_test *test = of->test;
    struct buffer text = {.arena = of->arena};
    bool layered = false;
    if (!test_holds(test, ANALYTE_PH, NUTRIENT_COUNT))
        buffer_add_string(&text, "pH");
    for (size_t i = 0; i < test->scales.count; i++)
        layered = layered || test->scales.items[i].scale->sum != SUM_NONE;
    if (isnan(test->depth_m) && layered) {
        buffer_separate(&text, ", ");
        buffer_add_string(&text, "the depth of the cores");
    }
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        const struct test_scale *by = test_scale_of(test, n);
        if (!by || !scale_speaks_of(by->scale, n) || test_holds(test, ANALYTE_NUTRIENT, n))
            continue;
        buffer_separate(&text, ", ");
        buffer_add_string(&text, nutrient_element(n));
    }
    if (text.length)
        page_say(of->page, 1, "Not in the report: %s.", text.string);
}

/* Its figures in one table, then what the test lacks and which scale would read it. */
void soil_test_describe(struct page *page, const struct need_words *words, const struct season *season,
                        const struct soil_test *test)
{
    enum { FIGURE_CELLS = 28 }; /* most figures fit, so that the bars of several tests are below each other */
    const struct telling of = {page, page->arena, season, words, test};
    struct page_columns *columns = page_columns(page, 3);
    columns->items[2].bar = true;
    columns->items[1].least = FIGURE_CELLS;
    describe_head(&of);
    describe_notes(&of);
    describe_basis(&of, "Amounts are for ", need_layer);
    describe_basis(&of, "Grass use is worked out from N: ", need_nitrogen);
    page_gap(page);
    for (size_t i = 0; i < test->results.column_count; i++) {
        struct soil_figure figure = soil_figure_of(season, test, i);
        describe_figure(&of, columns, &figure);
    }
    describe_lacking(&of);
    if (!test->symbol.broken) {
        /* Once for the test what its scales do not say, and which scales could. */
        struct unread unread = unread_of(of.arena, of.season, of.test);
        struct buffer text = {.arena = of.arena};
        if (unread.unread || unread.unmeasured) {
            if (unread.unread)
                buffer_format(&text, "No scale of this test covers %s. ",
                              nutrients_of_bits(of.arena, unread.unread));
            if (unread.unmeasured)
                buffer_format(&text, "Low, without an amount: %s. ",
                              nutrients_of_bits(of.arena, unread.unmeasured));
            const char *offers = unread_offers(of.arena, &unread);
            const char *method = of.test->method ? name_string(of.test->method) : "its method";
            if (*offers)
                buffer_format(&text, "Other scales for %s: %s.", method, offers);
            else
                buffer_format(
                    &text,
                    "No other scale for %s helps; add one from the laboratory's own sheet, with its "
                    "source.",
                    method);
            page_line(of.page, 1, text.string);
        }
    }
    page_gap(page);
}
