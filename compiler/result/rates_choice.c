#include "compiler/result/rates.h"

#include "compiler/model/display.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/shopping.h"
#include "compiler/result/work.h"
#include "compiler/solve/cause.h"

#include <string.h>

/* A choice being described. */
struct telling {
    struct page *page;
    struct arena *arena;
    const struct model *model;
    const struct rates_answer *choice;
};

/* ---- what is asked ---- */

/* What was asked for, from which products, where it stands in the plan; and the plan's own remark. */
static void describe_question(const struct telling *of)
{
    const struct rates_answer *choice = of->choice;
    const struct match *match = choice->match;
    size_t count = match ? match->products.count : choice->correct->products.count;
    const struct product *const *products = match ? match->products.items : choice->correct->products.items;
    struct buffer text = {.arena = of->arena}, names = {.arena = of->arena};
    for (size_t i = 0; i < count; i++) {
        buffer_separate(&names, ", ");
        buffer_add_string(&names, name_string(products[i]->symbol.name));
    }
    if (choice->correct)
        buffer_format(&text, "%s: needs met", name_string(choice->correct->symbol.name));
    else
        buffer_format(&text, "%s: as %s of %s would,", occurrence_title(of->arena, choice->occurrence),
                      display_rate(of->arena, of->model, match->rate), grade_text(of->arena, match->grade));
    struct place place = choice->correct ? choice->correct->symbol.place : match->place;
    buffer_format(&text, " from %s (%s).", buffer_string(&names), place_line(of->arena, place));
    page_heading(of->page, 0, text.string);
    const char *note = choice->correct ? note_sentence(of->arena, &choice->correct->symbol) : NULL;
    if (note)
        page_line(of->page, 1, note);
}

/* ---- what goes down ---- */

bool rates_chose(const struct rates_answer *choice, const struct amount *amount)
{
    bool bought = false;
    for (size_t i = 0; i < choice->bought.count; i++)
        bought = bought || choice->bought.items[i].product == amount->product;
    return bought && amount->dressing && amount->dressing->open;
}

/* One line for each rate of a product: zones that get as much are named together, and one figure is printed
 * that suits them all. */
static void describe_rates(const struct telling *of, const struct occurrence *occurrence,
                           const struct product *product)
{
    const struct amount *amounts = occurrence->amounts.items;
    size_t count = occurrence->amounts.count;
    for (size_t i = 0; i < count; i++) {
        struct buffer zones = {.arena = of->arena};
        struct leeway leeway = amounts[i].leeway;
        size_t first = count;
        if (amounts[i].product != product || !rates_chose(of->choice, &amounts[i]))
            continue;
        for (size_t j = 0; j < count; j++) {
            if (amounts[j].product != product || differs(amounts[j].mass_rate, amounts[i].mass_rate) ||
                !amounts[j].dressing)
                continue;
            first = j < first ? j : first;
            leeway = leeway_both(leeway, amounts[j].leeway);
            buffer_separate(&zones, ", ");
            buffer_add_string(&zones, name_string(amounts[j].zone->symbol.name));
        }
        if (first < i)
            continue;
        struct shown_rate rate = {amounts[i].rate, amounts[i].volume, leeway, 1};
        page_say(of->page, 2, "%s of %s on %s",
                 display_passes(of->arena, of->model, &rate, rate.passes, NULL),
                 name_string(product->symbol.name), zones.string);
    }
}

/* ---- what each zone gets ---- */

enum { FIGURES = 5, NAME_CELLS = 11, FIGURE_CELLS = 11 };

static bool wants_alike(const struct zone_choice *a, const struct zone_choice *b)
{
    bool alike = a->want_count == b->want_count;
    for (size_t i = 0; i < a->want_count && alike; i++)
        alike =
            a->wants[i].nutrient == b->wants[i].nutrient && !differs(a->wants[i].need, b->wants[i].need) &&
            !differs(a->wants[i].most, b->wants[i].most) && !differs(a->wants[i].given, b->wants[i].given) &&
            !differs(a->wants[i].chosen, b->wants[i].chosen);
    return alike;
}

/* Zones with the same figures are named together, where the first of them comes. */
static void describe_zone(const struct telling *of, size_t at)
{
    const struct zone_choice *zones = of->choice->zones;
    struct buffer names = {.arena = of->arena};
    for (size_t i = 0; i < of->choice->zone_count; i++) {
        if (!wants_alike(&zones[i], &zones[at]))
            continue;
        if (i < at)
            return;
        buffer_separate(&names, ", ");
        buffer_add_string(&names, name_string(zones[i].zone->symbol.name));
    }
    struct page_columns *columns = page_columns(of->page, FIGURES + 1);
    for (size_t i = 0; i <= FIGURES; i++)
        columns->items[i].least = i == 0 ? NAME_CELLS : FIGURE_CELLS;
    page_gap(of->page);
    page_say(of->page, 1, "%s, in %s over the season:", names.string,
             display_unit(of->arena, of->model, QUANTITY_MASS_RATE, 0));
    page_column_names(of->page, 2, columns,
                      (const char *[]){NULL, "needed", "planned", "chosen", "short", "over"});
    for (size_t i = 0; i < zones[at].want_count; i++) {
        /* A nutrient that nobody asked of this choice is its business only where the choice adds some. */
        const struct wanted *wanted = &zones[at].wants[i];
        const double figures[FIGURES] = {wanted->need, wanted->given, wanted->chosen, wanted->missing,
                                         wanted->excess};
        const char *cells[FIGURES + 1] = {wanted->nutrient->name};
        double supplied = wanted->unasked ? wanted->chosen : wanted->given + wanted->chosen;
        if (wanted->need > 0 || supplied > 0) {
            for (size_t j = 0; j < FIGURES; j++)
                cells[j + 1] = figures[j] > 0
                                   ? display_number(of->arena, of->model, QUANTITY_MASS_RATE,
                                                    figures[j] / wanted->nutrient->element_per_unit)
                                   : "-";
            page_row(of->page, 2, columns, cells);
        }
    }
}

/* ---- what holds it back ---- */

/* What stays short with the statement eased, unless nothing may ease it: a label, a law. */
static const char *easing_words(const struct telling *of, const struct zone_choice *zone,
                                const struct easing *easing)
{
    struct text statement = place_text(easing->cause->place);
    enum nutrient lacking = NUTRIENT_COUNT; /* where one alone is short */
    size_t lacks = 0;
    for (size_t i = 0; i < zone->want_count; i++)
        if (zone->wants[i].missing > 0) {
            lacking = zone->wants[i].nutrient->nutrient;
            lacks++;
        }
    const char *fixed = cause_fixed_words(of->model, easing->cause, lacks == 1 ? lacking : NUTRIENT_COUNT);
    struct buffer text = {.arena = of->arena}, missing = {.arena = of->arena};
    buffer_format(&text, "`%.*s` (%s): ", (int)statement.length, statement.start,
                  place_line(of->arena, easing->cause->place));
    if (fixed) {
        buffer_format(&text, "%s.", fixed);
        return text.string;
    }
    if (easing->measured)
        buffer_format(&text, "with %s", cause_bound_words(of->model, easing->cause, easing->bound));
    else
        buffer_add_string(&text, "without it");
    for (size_t i = 0; i < zone->want_count; i++) {
        const struct wanted *wanted = &zone->wants[i];
        if (!(wanted->need > 0) || !(easing->missing[i] > 1e-7 * wanted->need))
            continue;
        buffer_separate(&missing, " and ");
        buffer_add_string(&missing, display_of(of->arena, of->model, QUANTITY_MASS_RATE,
                                               easing->missing[i] / wanted->nutrient->element_per_unit,
                                               wanted->nutrient->name));
    }
    buffer_format(&text, ", %s would be short.", missing.length ? missing.string : "nothing");
    return text.string;
}

/* Zones with the same list are named together. */
static void describe_easings(const struct telling *of)
{
    size_t count = of->choice->zone_count;
    struct page *lists = ARENA_ARRAY(of->arena, count, struct page);
    for (size_t i = 0; i < count; i++) {
        const struct zone_choice *zone = &of->choice->zones[i];
        lists[i] = (struct page){.arena = of->arena};
        for (size_t j = 0; j < zone->easings.count; j++)
            page_item(&lists[i], 2, easing_words(of, zone, &zone->easings.items[j]));
    }
    for (size_t i = 0; i < count; i++) {
        struct buffer names = {.arena = of->arena};
        size_t first = count;
        for (size_t j = 0; j < count; j++) {
            if (!page_equal(&lists[i], &lists[j]))
                continue;
            first = j < first ? j : first;
            buffer_separate(&names, ", ");
            buffer_add_string(&names, name_string(of->choice->zones[j].zone->symbol.name));
        }
        if (first < i || !lists[i].parts.count)
            continue;
        page_gap(of->page);
        page_say(of->page, 1, "What holds %s back:", names.string);
        page_append(of->page, &lists[i]);
    }
}

/* ---- what is short, and cost ---- */

/* What a zone is short of: of what the soil keeps for the next year (`kept`), or of the rest. */
static const char *missing_words(const struct telling *of, const struct zone_choice *zone, bool kept)
{
    struct buffer text = {.arena = of->arena};
    for (size_t i = 0; i < zone->want_count; i++) {
        const struct wanted *wanted = &zone->wants[i];
        if (!(wanted->missing > 0) || nutrient_carries_over(wanted->nutrient->nutrient) != kept)
            continue;
        buffer_separate(&text, " and ");
        buffer_add_string(&text, display_of(of->arena, of->model, QUANTITY_MASS_RATE,
                                            wanted->missing / wanted->nutrient->element_per_unit,
                                            wanted->nutrient->name));
        double percent = floor(wanted->missing / wanted->need * 100 + 0.5);
        if (wanted->need > 0 && percent < 1)
            buffer_add_string(&text, " (under 1%)");
        else if (wanted->need > 0)
            buffer_format(&text, " (%.0f%%)", percent);
        if (!wanted->offered)
            buffer_add_string(&text, " (no product on the list supplies it)");
    }
    return buffer_string(&text);
}

/* Zones that are short of as much are named together. False where none is short of any. */
static bool describe_missing(const struct telling *of, bool kept)
{
    struct buffer text = {.arena = of->arena};
    const struct zone_choice *zones = of->choice->zones;
    for (size_t i = 0; i < of->choice->zone_count; i++) {
        const char *missing = missing_words(of, &zones[i], kept);
        struct buffer names = {.arena = of->arena};
        size_t first = i;
        for (size_t j = 0; j < of->choice->zone_count && *missing; j++) {
            if (strcmp(missing_words(of, &zones[j], kept), missing) != 0)
                continue;
            first = j < first ? j : first;
            buffer_separate(&names, ", ");
            buffer_add_string(&names, name_string(zones[j].zone->symbol.name));
        }
        if (!*missing || first < i)
            continue;
        buffer_separate(&text, "; ");
        buffer_format(&text, "%s on %s", missing, names.string);
    }
    const char *head = !of->choice->correct ? "Short" : kept ? "Left for next year" : "Not met this season";
    if (text.length)
        page_say(of->page, 1, "%s: %s.", head, text.string);
    return text.length > 0;
}

/* What rounding to rates that people can set costs, where that is more than a two hundredth of a need: what
 * is supplied, what exact rates would supply, and what is needed. */
static void describe_steps(const struct telling *of)
{
    const double matters = 0.005;
    const struct rates_answer *choice = of->choice;
    struct buffer text = {.arena = of->arena};
    for (size_t i = 0; i < choice->zone_count; i++) {
        bool said = false;
        for (size_t j = 0; j < i && !said; j++)
            said = wants_alike(&choice->zones[i], &choice->zones[j]);
        for (size_t j = 0; j < choice->zones[i].want_count && !said; j++) {
            const struct wanted *wanted = &choice->zones[i].wants[j];
            double lost = wanted->missing - wanted->exact_missing, unit = wanted->nutrient->element_per_unit;
            if (!(wanted->need > 0) || !(lost > matters * wanted->need))
                continue;
            struct buffer names = {.arena = of->arena};
            for (size_t k = i; k < choice->zone_count; k++)
                if (wants_alike(&choice->zones[i], &choice->zones[k])) {
                    buffer_separate(&names, ", ");
                    buffer_add_string(&names, name_string(choice->zones[k].zone->symbol.name));
                }
            buffer_separate(&text, "; ");
            buffer_format(&text, "%s of %s on %s",
                          display_of(of->arena, of->model, QUANTITY_MASS_RATE,
                                     (wanted->need - wanted->missing) / unit, wanted->nutrient->name),
                          display_number(of->arena, of->model, QUANTITY_MASS_RATE, wanted->need / unit),
                          names.string);
            buffer_format(&text, ", where exact rates supply %s",
                          display_number(of->arena, of->model, QUANTITY_MASS_RATE,
                                         (wanted->need - wanted->exact_missing) / unit));
        }
    }
    if (text.length)
        page_say(of->page, 1, "Rounded to rates that can be set: %s.", text.string);
    if (!choice->stepped && choice->bought.count)
        page_line(of->page, 1, "Some rates are exact: rounded, they would pass a limit or a label.");
}

double rates_money(double value)
{
    return floor(value * 100 + 0.5) / 100;
}

/* What it takes, and in which order these rates are the best. */
static void describe_grounds(const struct telling *of)
{
    const struct rates_answer *choice = of->choice;
    struct buffer text = {.arena = of->arena};
    double cost = 0;
    for (size_t i = 0; i < choice->bought.count; i++) {
        buffer_separate(&text, "; ");
        /* "starter 12 lb in packs: 1 of 25 lb at 31.00" */
        const struct bought *bought = &choice->bought.items[i];
        buffer_format(
            &text, "%s %s", name_string(bought->product->symbol.name),
            display_rounded(of->arena, of->model, QUANTITY_MASS, bought->mass, number_ceiling, NULL));
        const char *before = " in packs: ";
        for (size_t j = 0; j < bought->product->packs.count && bought->packs; j++) {
            if (!bought->packs[j])
                continue;
            buffer_format(&text, "%s%u of %s", before, bought->packs[j],
                          pack_text(of->arena, of->model, &bought->product->packs.items[j]));
            before = ", ";
        }
        if (!isnan(bought->cost))
            buffer_format(&text, " at %s", money_text(of->arena, of->model, rates_money(bought->cost)));
        cost += bought->cost;
    }
    if (choice->bought.count > 1 && !isnan(cost))
        buffer_format(&text, "; total %s", money_text(of->arena, of->model, rates_money(cost)));
    if (text.length)
        page_say(of->page, 1, "Products needed: %s.", text.string);
    for (size_t i = 0; i < choice->bought.count; i++)
        if (choice->bought.items[i].spared > 0)
            page_say(of->page, 1, "%s is lowered from %s, to need one pack less.",
                     name_string(choice->bought.items[i].product->symbol.name),
                     display_rounded(of->arena, of->model, QUANTITY_MASS, choice->bought.items[i].spared,
                                     number_ceiling, NULL));
    page_say(of->page, 1, "Best %s: least short, then least over, then %s.",
             choice->proven ? "within the limits" : "found within the limits",
             choice->priced ? "cheapest" : "lightest, since not every product has a price");
    if (!choice->proven)
        page_line(of->page, 1, "Better rates may exist: the search was ended before all were tried.");
    describe_steps(of);
}

/* From the question to the answer: what was asked, what was found, what holds it back. */
void rates_choice_describe(struct page *page, const struct season *season, const struct rates_answer *choice)
{
    const struct telling of = {page, page->arena, season->model, choice};
    describe_question(&of);
    struct buffer idle = {.arena = of.arena};
    for (size_t i = 0; i < of.choice->slots.count; i++) {
        const struct occurrence *occurrence = of.choice->slots.items[i].occurrence;
        /* One that these products leave out is named below the others. */
        bool any = false;
        for (size_t k = 0; k < occurrence->amounts.count; k++)
            any = any || rates_chose(of.choice, &occurrence->amounts.items[k]);
        if (any || !occurrence->idle) {
            page_say(of.page, 1, "%s, %s%s", display_date(of.arena, occurrence->day),
                     occurrence_title(of.arena, occurrence), any ? "" : ": none of these products");
            for (size_t k = 0; k < occurrence->amounts.count; k++) {
                bool before = false;
                for (size_t j = 0; j < k; j++)
                    before = before ||
                             occurrence->amounts.items[j].product == occurrence->amounts.items[k].product;
                if (!before)
                    describe_rates(&of, occurrence, occurrence->amounts.items[k].product);
            }
        }
        if (!occurrence->idle)
            continue;
        buffer_separate(&idle, ", ");
        buffer_add_string(&idle, occurrence_title(of.arena, occurrence));
    }
    if (idle.length)
        page_say(of.page, 1, "Not needed: %s.", idle.string);
    for (size_t i = 0; i < choice->zone_count; i++)
        describe_zone(&of, i);
    describe_easings(&of);
    page_gap(page);
    bool kept = describe_missing(&of, true), other = describe_missing(&of, false);
    if (!kept && !other)
        page_line(page, 1, "Nothing is short.");
    describe_grounds(&of);
}
