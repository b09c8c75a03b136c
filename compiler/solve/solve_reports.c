/* Reports of the room. */
#include "compiler/model/allow.h"
#include "compiler/model/tolerance.h"
#include "compiler/model/display.h"
#include "compiler/solve/cause.h"
#include "compiler/solve/solving.h"

#include <assert.h>

/* ---- reporting ---- */

struct report *say(struct season *season, enum rates_rule rule, const struct symbol *const *about,
                   struct place place, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *sentence = text_vformat(season->arena, format, arguments);
    va_end(arguments);
    struct report *report = report_add(season->model->reports, &rates_rules[rule], place, "%s", sentence);
    report_accept(season->model, report, about);
    return report;
}

const struct symbol *choice_symbol(const struct rates_answer *choice)
{
    assert(choice->correct || choice->match);
    return choice->correct ? &choice->correct->symbol : &choice->match->treatment->symbol;
}

const char *say_supply(struct season *season, double element, const struct nutrient_form *form)
{
    return display_of(season->arena, season->model, QUANTITY_MASS_RATE, element / form->element_per_unit,
                      form->name);
}

/* ---- statements that clash ---- */

static const char *eased_words(struct season *season, const struct contradiction *contradiction, size_t at)
{
    const struct cause *cause = contradiction->causes[at];
    if (cause_fixed_by(cause)) /* a label says so in its own words */
        return cause->limit ? text_format(season->arena, "; fixed by the %s", cause_fixed_by(cause)) : "";
    if (isnan(contradiction->eased[at]))
        return "";
    const char *bound = cause_bound_words(season->model, cause, contradiction->eased[at]);
    bool lowered = cause->kind == CAUSE_BOUND && cause->bound->least;
    if (lowered && !(contradiction->eased[at] * cause->bound->nutrient->element_per_unit >
                     COMPARE_TOLERANCE * cause->bound->kg_per_m2))
        return "; only removing it would work";
    return text_format(season->arena, "; %s or %s would work", bound, lowered ? "less" : "more");
}

/* What is down already counts in a correction's bounds and in the sums of limits, and is often what leaves
 * nothing. Each nutrient is said once as long as its statements follow each other. */
static void note_given(struct season *season, struct report *report,
                       const struct contradiction *contradiction)
{
    const struct ledger *ledger = &season->ledgers[contradiction->zone->index];
    const struct nutrient_form *last = NULL;
    for (size_t i = 0; i < contradiction->count; i++) {
        const struct cause *cause = contradiction->causes[i];
        bool sums = cause->kind == CAUSE_LIMIT &&
                    (cause->limit->kind == LIMIT_PER_YEAR || cause->limit->kind == LIMIT_PER_PERIOD);
        const struct nutrient_form *nutrient = cause->kind == CAUSE_BOUND ? cause->bound->nutrient
                                               : sums                     ? cause->limit->nutrient
                                                                          : NULL;
        double sum = 0;
        if (!nutrient || nutrient == last)
            continue;
        for (size_t j = 0; j < ledger->applications.count; j++)
            sum += ledger->applications.items[j].supplied[nutrient->nutrient];
        if (!(sum > 0))
            continue;
        last = nutrient;
        report_note(season->model->reports, report,
                    "%s from records and the rest of the plan counts on %s too",
                    say_supply(season, sum, nutrient), name_string(contradiction->zone->symbol.name));
    }
}

/* The report stands at what the correction requires, and labels what binds it. */
static void say_contradiction(struct season *season, const struct rates_answer *choice,
                              const struct contradiction *contradiction)
{
    struct reports *reports = season->model->reports;
    const struct symbol *const about[] = {choice_symbol(choice), &contradiction->zone->symbol, NULL};
    const char *zones = name_string(contradiction->zone->symbol.name);
    size_t listed = choice->correct ? choice->correct->products.count : choice->match->products.count;
    const struct product *const *list =
        choice->correct ? choice->correct->products.items : choice->match->products.items;
    const char **names = ARENA_ARRAY(season->arena, listed, const char *);
    for (size_t i = 0; i < listed; i++)
        names[i] = name_string(list[i]->symbol.name);
    const char *products = list_text(season->arena, names, listed, " and ");
    if (contradiction->zones > 1)
        zones = text_format(season->arena, "%s and %zu other %s", zones, contradiction->zones - 1,
                            contradiction->zones > 2 ? "zones" : "zone");
    size_t head = 0;
    while (head < contradiction->count &&
           !(contradiction->causes[head]->kind == CAUSE_BOUND && contradiction->causes[head]->bound->least))
        head++;
    head = head < contradiction->count ? head : 0;
    struct place place = contradiction->causes[head]->place;
    struct report *report =
        contradiction->count == 1
            ? say(season, RULE_RATES_IMPOSSIBLE, about, place, "no rates on %s can satisfy this with %s",
                  zones, products)
            : say(season, RULE_RATES_IMPOSSIBLE, about, place,
                  "no rates on %s can satisfy these %zu statements", zones, contradiction->count);
    for (size_t i = 0; i < contradiction->count; i++) {
        const struct cause *cause = contradiction->causes[i];
        const char *words =
            text_format(season->arena, "%s%s", cause_words(season->model, cause, contradiction->zone),
                        eased_words(season, contradiction, i));
        if (i == head)
            report->place_label = words;
        else
            report_label(reports, report, cause->place, "%s", words);
    }
    if (contradiction->count > 1)
        report_note(reports, report, "products to choose from: %s", products);
    note_given(season, report, contradiction);
    if (contradiction->count > 1 && contradiction->verified)
        report_note(reports, report, "without any one of these statements, rates exist");
}

void say_contradictions(struct season *season, const struct rates_answer *choice)
{
    size_t said = 0;
    for (size_t i = 0; i < choice->contradictions.count; i++)
        if (choice->contradictions.items[i].count) {
            say_contradiction(season, choice, &choice->contradictions.items[i]);
            said++;
        }
    if (!choice->solved && !said) /* no rates are not rates of nothing */
        say(season, RULE_RATES_UNDECIDED, (const struct symbol *const[]){choice_symbol(choice), NULL},
            choice_symbol(choice)->place,
            "no rates were found for %s, and rates were not shown to be impossible",
            name_string((choice_symbol(choice))->name));
}
