#include "compiler/result/rates_text.h"

#include "compiler/model/tolerance.h"
#include "compiler/model/display.h"
#include "compiler/form/paragraph.h"
#include "compiler/result/shopping.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/work.h"
#include "compiler/solve/cause.h"

struct text_page {
    struct buffer *out;
    struct arena *arena;
    const struct season *season;
    const struct model *model;
    const struct choice_made *choice;
};

static void print(struct text_page *page, const char *lead, const char *text)
{
    paragraph_add(page->out, lead, text);
}

/* ---- what is asked ---- */

static const char *products_words(struct text_page *page)
{
    const struct choice_made *choice = page->choice;
    size_t count = choice->correct ? choice->correct->products.count : choice->match->products.count;
    const struct product *const *products =
        choice->correct ? choice->correct->products.items : choice->match->products.items;
    struct buffer text = {.arena = page->arena};
    for (size_t i = 0; i < count; i++)
        buffer_format(&text, "%s%s", i ? ", " : "", name_string(products[i]->symbol.name));
    return buffer_string(&text);
}

static const char *percent_or_number(struct arena *arena, double share)
{
    return number_text(arena, share * 100, 2);
}

static void print_head(struct text_page *page)
{
    const struct choice_made *choice = page->choice;
    struct buffer text = {.arena = page->arena};
    if (choice->correct)
        buffer_format(&text, "%s: needs met from %s (%s).", name_string(choice->correct->symbol.name),
                      products_words(page), place_line(page->arena, choice->correct->symbol.place));
    else
        buffer_format(&text, "%s: as %s of %s-%s-%s would, from %s (%s).",
                      occurrence_title(page->arena, choice->occurrence),
                      display_rate(page->arena, page->model, choice->match->rate),
                      percent_or_number(page->arena, choice->match->grade[0]),
                      percent_or_number(page->arena, choice->match->grade[1]),
                      percent_or_number(page->arena, choice->match->grade[2]), products_words(page),
                      place_line(page->arena, choice->match->place));
    print(page, "", text.string);
    const char *note = choice->correct ? note_sentence(page->arena, &choice->correct->symbol) : NULL;
    if (note)
        print(page, "  ", note);
}

/* ---- what goes down ---- */

static bool of_choice(const struct text_page *page, const struct amount *amount)
{
    for (size_t i = 0; i < page->choice->bought.count; i++)
        if (page->choice->bought.items[i].product == amount->product)
            return amount->dressing && amount->dressing->open;
    return false;
}

static bool amounts_alike(const struct amount *a, const struct amount *b)
{
    return a->product == b->product && !differs(a->mass_rate, b->mass_rate) && a->dressing && b->dressing;
}

/* One figure is printed for zones that get as much. */
static struct leeway leeway_alike(const struct occurrence *occurrence, const struct amount *first)
{
    struct leeway leeway = first->leeway;
    for (size_t i = 0; i < occurrence->amounts.count; i++)
        if (amounts_alike(&occurrence->amounts.items[i], first))
            leeway = leeway_both(leeway, occurrence->amounts.items[i].leeway);
    return leeway;
}

/* The zones that get as much of a product as amount `at`, which is the first of them; "" where another was.
 */
static const char *zones_alike(struct text_page *page, const struct occurrence *occurrence, size_t at)
{
    struct buffer text = {.arena = page->arena};
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        if (!amounts_alike(amount, &occurrence->amounts.items[at]))
            continue;
        if (i < at)
            return "";
        buffer_format(&text, "%s%s", i > at ? ", " : "", name_string(amount->zone->symbol.name));
    }
    return buffer_string(&text);
}

static bool product_before(const struct occurrence *occurrence, size_t at)
{
    for (size_t i = 0; i < at; i++)
        if (occurrence->amounts.items[i].product == occurrence->amounts.items[at].product)
            return true;
    return false;
}

/* All of one product, from its first amount on; zones that get as much stand together. */
static void print_product(struct text_page *page, const struct occurrence *occurrence, size_t first)
{
    for (size_t i = first; i < occurrence->amounts.count; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        if (amount->product != occurrence->amounts.items[first].product || !of_choice(page, amount))
            continue;
        struct shown_rate rate = {amount->rate, amount->volume, leeway_alike(occurrence, amount), 1};
        const char *zones = zones_alike(page, occurrence, i);
        if (*zones)
            print(page, "    ",
                  text_format(page->arena, "%s of %s on %s",
                              display_whole_rate(page->arena, page->model, &rate, NULL),
                              name_string(amount->product->symbol.name), zones));
    }
}

static void print_slot(struct text_page *page, const struct occurrence *occurrence)
{
    bool any = false;
    for (size_t i = 0; i < occurrence->amounts.count; i++)
        any = any || of_choice(page, &occurrence->amounts.items[i]);
    if (!any && occurrence->idle)
        return;
    print(page, "  ",
          text_format(page->arena, "%s, %s%s", display_date(page->arena, occurrence->day),
                      occurrence_title(page->arena, occurrence), any ? "" : ": nothing of these"));
    for (size_t i = 0; i < occurrence->amounts.count && any; i++)
        if (!product_before(occurrence, i))
            print_product(page, occurrence, i);
}

static void print_slots(struct text_page *page)
{
    struct buffer idle = {.arena = page->arena};
    for (size_t i = 0; i < page->choice->slots.count; i++) {
        const struct occurrence *occurrence = page->choice->slots.items[i].occurrence;
        print_slot(page, occurrence);
        if (occurrence->idle)
            buffer_format(&idle, "%s%s", idle.length ? ", " : "", occurrence_title(page->arena, occurrence));
    }
    if (idle.length)
        print(page, "  ", text_format(page->arena, "Not needed: %s.", idle.string));
}

/* ---- what each zone gets ---- */

enum { NAME_CELLS = 11, FIGURE_CELLS = 11 };

static bool wants_alike(const struct zone_choice *a, const struct zone_choice *b)
{
    bool alike = a->want_count == b->want_count;
    for (size_t i = 0; i < a->want_count && alike; i++) {
        const double x[] = {a->wants[i].need, a->wants[i].most, a->wants[i].given, a->wants[i].chosen},
                     y[] = {b->wants[i].need, b->wants[i].most, b->wants[i].given, b->wants[i].chosen};
        alike = a->wants[i].nutrient == b->wants[i].nutrient;
        for (int j = 0; j < 4; j++)
            alike = alike && !exceeds(x[j], y[j]) && !exceeds(y[j], x[j]);
    }
    return alike;
}

static void put_cell(struct text_page *page, double element, const struct nutrient_form *form, bool last)
{
    const char *text = element > 0 ? display_number(page->arena, page->model, QUANTITY_MASS_RATE,
                                                    element / form->element_per_unit)
                                   : "-";
    field_add(page->out, text, last ? 0 : FIGURE_CELLS);
    buffer_add_string(page->out, last ? "\n" : "");
}

/* What nobody asked of this choice is its business only where the choice adds some. */
static void print_wanted(struct text_page *page, const struct wanted *wanted)
{
    double beside = wanted->unasked ? wanted->chosen : wanted->given + wanted->chosen;
    if (!(wanted->need > 0) && !(beside > 0))
        return;
    buffer_add_string(page->out, "    ");
    field_add(page->out, wanted->nutrient->name, NAME_CELLS);
    put_cell(page, wanted->need, wanted->nutrient, false);
    put_cell(page, wanted->given, wanted->nutrient, false);
    put_cell(page, wanted->chosen, wanted->nutrient, false);
    put_cell(page, wanted->missing, wanted->nutrient, false);
    put_cell(page, wanted->excess, wanted->nutrient, true);
}

static void print_columns(struct text_page *page, const char *zones)
{
    static const char *const names[] = {"needed", "planned", "chosen", "missing", "too much"};
    print(page, "  ",
          text_format(page->arena, "%s, in %s over the season:", zones,
                      display_unit(page->arena, page->model, QUANTITY_MASS_RATE, 0.005)));
    buffer_add_string(page->out, "    ");
    field_add(page->out, "", NAME_CELLS);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        bool last = i + 1 == sizeof names / sizeof *names;
        field_add(page->out, names[i], last ? 0 : FIGURE_CELLS);
        buffer_add_string(page->out, last ? "\n" : "");
    }
}

static void print_zone(struct text_page *page, size_t at)
{
    const struct choice_made *choice = page->choice;
    struct buffer zones = {.arena = page->arena};
    for (size_t i = 0; i < choice->zone_count; i++) {
        if (!wants_alike(&choice->zones[i], &choice->zones[at]))
            continue;
        if (i < at)
            return;
        buffer_format(&zones, "%s%s", i > at ? ", " : "", name_string(choice->zones[i].zone->symbol.name));
    }
    buffer_add_string(page->out, "\n");
    print_columns(page, zones.string);
    for (size_t i = 0; i < choice->zones[at].want_count; i++)
        print_wanted(page, &choice->zones[at].wants[i]);
}

/* ---- what presses ---- */

static const char *missing_words(struct text_page *page, const struct zone_choice *zone,
                                 const double *missing)
{
    struct buffer text = {.arena = page->arena};
    for (size_t i = 0; i < zone->want_count; i++) {
        const struct wanted *wanted = &zone->wants[i];
        if (wanted->need > 0 && missing[i] > 1e-7 * wanted->need)
            buffer_format(&text, "%s%s", text.length ? " and " : "",
                          display_of(page->arena, page->model, QUANTITY_MASS_RATE,
                                     missing[i] / wanted->nutrient->element_per_unit,
                                     wanted->nutrient->name));
    }
    return text.length ? text_format(page->arena, "%s would be missing", text.string)
                       : "nothing would be missing";
}

static const char *easing_words(struct text_page *page, const struct zone_choice *zone,
                                const struct easing *easing)
{
    struct text statement = place_text(easing->cause->place);
    const char *fixed = cause_fixed_words(page->model, easing->cause);
    if (fixed)
        return text_format(page->arena, "`%.*s` (%s): %s.", (int)statement.length, statement.start,
                           place_line(page->arena, easing->cause->place), fixed);
    const char *how = easing->measured
                          ? text_format(page->arena, "with %s",
                                        cause_bound_words(page->model, easing->cause, easing->bound))
                          : "without it";
    return text_format(page->arena, "`%.*s` (%s): %s, %s.", (int)statement.length, statement.start,
                       place_line(page->arena, easing->cause->place), how,
                       missing_words(page, zone, easing->missing));
}

/* Zones of which the same is to be said are told together. */
static bool easings_alike(struct text_page *page, const struct zone_choice *a, const struct zone_choice *b)
{
    bool alike = a->easings.count == b->easings.count;
    for (size_t i = 0; i < a->easings.count && alike; i++)
        alike = text_equal(text_of(easing_words(page, a, &a->easings.items[i])),
                           text_of(easing_words(page, b, &b->easings.items[i])));
    return alike;
}

static void print_pressing(struct text_page *page, size_t at)
{
    const struct choice_made *choice = page->choice;
    const struct zone_choice *zone = &choice->zones[at];
    struct buffer zones = {.arena = page->arena};
    for (size_t i = 0; i < choice->zone_count; i++) {
        if (!easings_alike(page, &choice->zones[i], zone))
            continue;
        if (i < at)
            return;
        buffer_format(&zones, "%s%s", i > at ? ", " : "", name_string(choice->zones[i].zone->symbol.name));
    }
    if (!zone->easings.count)
        return;
    buffer_add_string(page->out, "\n");
    print(page, "  ", text_format(page->arena, "What holds %s back:", zones.string));
    for (size_t i = 0; i < zone->easings.count; i++)
        print(page, "    - ", easing_words(page, zone, &zone->easings.items[i]));
}

/* ---- left over, and cost ---- */

/* What is missing of a zone: of what the soil keeps for the next year (`kept`), or of the rest. */
static const char *left_words(struct text_page *page, const struct zone_choice *zone, bool kept)
{
    struct buffer text = {.arena = page->arena};
    for (size_t i = 0; i < zone->want_count; i++) {
        const struct wanted *wanted = &zone->wants[i];
        if (wanted->missing > 0 && nutrient_carries_over(wanted->nutrient->nutrient) == kept)
            buffer_format(&text, "%s%s%s", text.length ? " and " : "",
                          display_of(page->arena, page->model, QUANTITY_MASS_RATE,
                                     wanted->missing / wanted->nutrient->element_per_unit,
                                     wanted->nutrient->name),
                          wanted->offered ? "" : " (no product on the list holds it)");
    }
    return buffer_string(&text);
}

/* The zones that miss as much as zone `at`, which is the first of them; "" where another was. */
static const char *zones_left_alike(struct text_page *page, size_t at, bool kept, const char *left)
{
    struct buffer text = {.arena = page->arena};
    for (size_t i = 0; i < page->choice->zone_count; i++) {
        if (!text_equal(text_of(left_words(page, &page->choice->zones[i], kept)), text_of(left)))
            continue;
        if (i < at)
            return "";
        buffer_format(&text, "%s%s", i > at ? ", " : "",
                      name_string(page->choice->zones[i].zone->symbol.name));
    }
    return buffer_string(&text);
}

static bool print_missing(struct text_page *page, bool kept)
{
    struct buffer text = {.arena = page->arena};
    for (size_t i = 0; i < page->choice->zone_count; i++) {
        const char *left = left_words(page, &page->choice->zones[i], kept);
        const char *zones = *left ? zones_left_alike(page, i, kept, left) : "";
        if (*zones)
            buffer_format(&text, "%s%s on %s", text.length ? "; " : "", left, zones);
    }
    const char *head = !page->choice->correct ? "Missing"
                       : kept                 ? "Left for next year"
                                              : "Not met this season";
    if (text.length)
        print(page, "  ", text_format(page->arena, "%s: %s.", head, text.string));
    return text.length > 0;
}

static void print_left(struct text_page *page)
{
    buffer_add_string(page->out, "\n");
    bool kept = print_missing(page, true), other = print_missing(page, false);
    if (!kept && !other)
        print(page, "  ", "Nothing is missing.");
}

static const char *bought_words(struct text_page *page, const struct bought *bought)
{
    struct buffer text = {.arena = page->arena};
    buffer_format(&text, "%s %s", name_string(bought->product->symbol.name),
                  display_ceiling(page->arena, page->model, QUANTITY_MASS, bought->mass, NULL));
    for (size_t i = 0; i < bought->product->packs.count && bought->packs; i++)
        if (bought->packs[i])
            buffer_format(&text, "%s%u of %s", text.length && i == 0 ? " in packs: " : ", ", bought->packs[i],
                          pack_text(page->arena, page->model, &bought->product->packs.items[i]));
    if (!isnan(bought->cost))
        buffer_format(&text, " at %s",
                      money_text(page->arena, page->model, floor(bought->cost * 100 + 0.5) / 100));
    return buffer_string(&text);
}

static void print_why(struct text_page *page)
{
    const struct choice_made *choice = page->choice;
    struct buffer text = {.arena = page->arena};
    double cost = 0;
    for (size_t i = 0; i < choice->bought.count; i++) {
        buffer_format(&text, "%s%s", i ? "; " : "It takes ", bought_words(page, &choice->bought.items[i]));
        cost += choice->bought.items[i].cost;
    }
    if (text.length)
        print(page, "  ",
              isnan(cost) || choice->bought.count < 2
                  ? text_format(page->arena, "%s.", text.string)
                  : text_format(page->arena, "%s: together %s.", text.string,
                                money_text(page->arena, page->model, floor(cost * 100 + 0.5) / 100)));
    print(page, "  ",
          text_format(page->arena, "Of %s these miss least, then bring least too much, then %s.",
                      choice->proven ? "all rates within the limits"
                                     : "the rates within the limits that were tried",
                      choice->priced ? "cost least" : "weigh least: not every product has a price"));
    if (!choice->proven)
        print(page, "  ", "Whether better ones exist was not followed to the end.");
}

void rates_choice_print(struct buffer *out, const struct season *season, const struct choice_made *choice)
{
    struct text_page page = {out, out->arena, season, season->model, choice};
    print_head(&page);
    print_slots(&page);
    for (size_t i = 0; i < choice->zone_count; i++)
        print_zone(&page, i);
    for (size_t i = 0; i < choice->zone_count; i++)
        print_pressing(&page, i);
    print_left(&page);
    print_why(&page);
}
