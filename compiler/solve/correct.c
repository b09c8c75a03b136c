/* A correction as a question: what each zone wants, and what must be brought or not be passed. */
#include "compiler/model/tolerance.h"
#include "compiler/season/scale_offer.h"
#include "compiler/solve/solving.h"

/* ---- needs ---- */

/* Why a need is not known, as the end of a sentence on that need. */
static const char *const LACKS[] = {
    [LACK_NOTHING] = "it cannot be worked out",
    [LACK_TEST] = "there is no soil test",
    [LACK_FIGURE] = "the soil test has no figure",
    [LACK_LATER] = "the soil test was sampled after the applications",
    [LACK_SCALE] = "the soil test names no scale",
    [LACK_METHOD] = "the scale reads another extraction method",
    [LACK_CONVERSION] = "the conversion it names does not fit",
    [LACK_LEVEL] = "the scale does not cover this result",
    [LACK_INDEX] = "one of scale and soil test uses an index, the other a concentration",
    [LACK_AMOUNT] = "the scale gives no amount",
    [LACK_DEPTH] = "the core depth is not stated",
    [LACK_DENSITY] = "the soil's bulk density is not stated",
    [LACK_NITROGEN] = "the grass's use depends on the N it gets, and none is stated",
    [LACK_USE] = "the grass's use is not known",
    [LACK_GRASS] = "the lawn states no grass, or its grass has no figure here",
    [LACK_ABOVE] = "the soil test says only that there is more than it can measure",
    [LACK_PH] = "it depends on the pH, and the soil test has none",
    [LACK_LIME] = "the lime table needs more than the soil test has; `prill needs` lists what is missing",
};

/* A need that the plan states must be met, so that nothing is chosen without it; what a test finds low beside
 * others is left out, and told. */
static void say_unknown(struct question *question, const struct correct *correct,
                        const struct unknown_need *unknown)
{
    struct season *season = question->season;
    const char **places = ARENA_ARRAY(question->arena, unknown->zones.count, const char *);
    const char *names[NUTRIENT_COUNT];
    size_t count = 0;
    for (size_t i = 0; i < unknown->zones.count; i++)
        places[i] = name_string(unknown->zones.items[i]->symbol.name);
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_COUNT; n++)
        if (unknown->nutrients & 1U << n)
            names[count++] = nutrient_trade_form(n)->name;
    const char *zones = list_text(question->arena, places, unknown->zones.count, " and ");
    const char *nutrients = list_text(question->arena, names, count, " and ");
    const struct symbol *const about[] = {&correct->symbol, &unknown->zones.items[0]->symbol, NULL};
    struct report *report =
        unknown->stated
            ? say(season, RULE_RATES_NEED, about, unknown->place, "the need for %s on %s is not known: %s",
                  nutrients, zones, unknown->lack)
            : say(season, RULE_RATES_LEFT_OUT, about, unknown->place,
                  "no amount of %s is known for %s, so none is chosen: %s", nutrients, zones, unknown->lack);
    report_help(season->model->reports, report, "state how much the laboratory recommends: %s",
                !unknown->test    ? "`need SUPPLY`"
                : unknown->stated ? "`need SUPPLY`, or `recommends` in the soil test"
                                  : "`recommends` in the soil test");
    if (!unknown->test)
        return;
    struct unread unread = unread_of(question->arena, season, unknown->test);
    unread.unread &= unknown->nutrients;
    unread.unmeasured &= unknown->nutrients;
    const char *offers = unread_offers(question->arena, &unread);
    if (*offers)
        report_note(season->model->reports, report, "other scales for %s: %s",
                    name_string(unknown->test->method), offers);
}

/* An amount that the plan states, or 0, is met over the season; what a test shows, as `wanted` has it. */
static void want_add(struct question *question, uint32_t at, struct wanted wanted, struct want want)
{
    if (!wanted.test)
        wanted.given =
            facts_sum(&question->places.items[at], INT32_MIN, INT32_MAX, wanted.nutrient->nutrient);
    want.nutrient = wanted.nutrient->nutrient;
    want.amount = wanted.need;
    want.most = fmax(wanted.need, wanted.most);
    want.given = wanted.given;
    for (size_t i = 0; i < question->problem->products.count; i++)
        wanted.offered = wanted.offered || question->problem->products.items[i].content[want.nutrient] > 0;
    VECTOR_PUSH(question->arena, &question->problem->plots.items[at].wants, want);
    VECTOR_PUSH(question->arena, &question->places.items[at].wants, wanted);
}

static bool correct_names(const struct correct *correct, const struct treatment *treatment)
{
    bool named = treatment == correct->added;
    for (size_t i = 0; i < correct->treatments.count; i++)
        named = named || correct->treatments.items[i] == treatment;
    return named;
}

/* The day of the last application that reaches the zone, done or to come. */
static day_number last_application(const struct season *season, const struct correct *correct,
                                   const struct zone *zone)
{
    day_number last = INT32_MIN;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        if (correct_names(correct, occurrence->treatment) && occurrence->dated && !occurrence->skipped &&
            zone_among(occurrence->zones.items, occurrence->zones.count, zone) && occurrence->day > last)
            last = occurrence->day;
    }
    return last > INT32_MIN ? last : INT32_MAX;
}

/* The need of the test that is in force on the day, for the years begun by then. */
static bool need_over(const struct season *season, const struct zone *zone, enum nutrient nutrient,
                      day_number day, struct zone_need *need)
{
    need_on(season, zone, nutrient, day, need);
    return need_on(season, zone, nutrient, need->counted_until > day ? need->counted_until : day, need);
}

/* As the soil test says, or the lawn, or the grass; false where it must be known and is not. */
static bool want_of_test(struct question *question, uint32_t at, const struct correct *correct,
                         const struct nutrient_form *nutrient, struct place place, bool stated)
{
    struct zone_need *need = ARENA_NEW(question->arena, struct zone_need);
    struct wanted wanted = {question->places.items[at].zone, nutrient, .test = need, .place = place};
    struct want want = {.per_n = 0};
    bool known = need_over(question->season, wanted.zone, nutrient->nutrient,
                           last_application(question->season, correct, wanted.zone), need);

    /* What is not known of one soil test is gathered into one report. */
    if (!known || isnan(need->kg_per_m2)) {
        const struct soil_test *test = need->read ? need->reading.test : NULL;
        struct unknown_need *found = NULL;
        bool named = false;
        for (size_t i = 0; i < question->unknowns.count; i++)
            if (question->unknowns.items[i].test == test && question->unknowns.items[i].stated == stated)
                found = &question->unknowns.items[i];
        if (!found) {
            struct unknown_need added = {
                .test = test, .stated = stated, .place = place, .lack = LACKS[need->lack]};
            VECTOR_PUSH(question->arena, &question->unknowns, added);
            found = &question->unknowns.items[question->unknowns.count - 1];
        }
        found->nutrients |= 1U << nutrient->nutrient;
        for (size_t i = 0; i < found->zones.count; i++)
            named = named || found->zones.items[i] == wanted.zone;
        if (!named)
            VECTOR_PUSH(question->arena, &found->zones, wanted.zone);
        return !stated;
    }
    wanted.need = need->kg_per_m2;
    wanted.most = need->most;
    wanted.given = need->given;

    /* Where the grass's use goes by the N of the season, it goes by the N that is chosen too: at least by
     * what the correction must meet and the zone does not get yet. */
    if (need->use_share > 0 && need->nitrogen_basis == NITROGEN_PLAN) {
        struct zone_need nitrogen;
        double asked = NAN;
        need_of(question->season, wanted.zone, NUTRIENT_N, &nitrogen);
        for (size_t i = 0; i < correct->needs.count && isnan(asked); i++)
            if (correct->needs.items[i].nutrient->nutrient == NUTRIENT_N)
                asked = isnan(correct->needs.items[i].kg_per_m2) ? nitrogen.kg_per_m2
                                                                 : correct->needs.items[i].kg_per_m2;
        want.per_n = need->use_share;
        want.bare = need->use + need->minimum - need->test;
        wanted.need = wanted.most =
            fmax(0, want.bare + want.per_n * (isnan(asked) ? 0 : fmax(0, asked - nitrogen.given)));
    }
    want_add(question, at, wanted, want);
    return true;
}

/* What each plot wants; false after a report. */
static bool plots_want(struct question *question, const struct correct *correct)
{
    bool sound = true;
    for (uint32_t at = 0; at < question->problem->plots.count; at++) {
        struct plot *plot = &question->problem->plots.items[at];
        const struct plot_place *place = &question->places.items[at];
        struct demand early = question_demand(DEMAND_NONE, NO_CAUSE, 0);

        /* What the correction states is met over the season, or as the soil test says. */
        for (size_t i = 0; i < correct->needs.count; i++) {
            const struct correct_need *need = &correct->needs.items[i];
            struct wanted wanted = {.zone = place->zone,
                                    .nutrient = need->nutrient,
                                    .need = need->kg_per_m2,
                                    .most = need->kg_per_m2,
                                    .place = need->place};
            if (!isnan(need->kg_per_m2))
                want_add(question, at, wanted, (struct want){.per_n = 0});
            else if (!want_of_test(question, at, correct, need->nutrient, need->place, true))
                sound = false;
        }

        /* Where it states nothing, every nutrient that the zone's soil test finds low. */
        day_number last = last_application(question->season, correct, place->zone);
        for (enum nutrient n = NUTRIENT_P; n < NUTRIENT_SOLUBLE_N && !correct->needs.count; n++) {
            struct soil_reading reading;
            if (soil_reading_on(question->season, place->zone, n, last, &reading) &&
                reading.counts != NEED_NONE &&
                !want_of_test(question, at, correct, nutrient_trade_form(n), correct->symbol.place, false))
                sound = false;
        }

        /* N, P and K that nobody needs are to be kept low. */
        for (enum nutrient n = NUTRIENT_N; n <= NUTRIENT_K; n++) {
            struct wanted unasked = {.zone = place->zone,
                                     .nutrient = nutrient_trade_form(n),
                                     .unasked = true,
                                     .place = correct->symbol.place};
            bool wanted = false;
            for (size_t i = 0; i < place->wants.count && !wanted; i++)
                wanted = place->wants.items[i].nutrient->nutrient == n;
            if (!wanted)
                want_add(question, at, unasked, (struct want){.per_n = 0});
        }

        /* What a test shows is met from its day of sampling on: what would be put on before is in its result.
         */
        for (uint32_t i = 0; i < plot->choices.count; i++) {
            bool before = false;
            for (size_t j = 0; j < place->wants.count; j++)
                before = before ||
                         (place->wants.items[j].test &&
                          choice_day(question, &plot->choices.items[i]) < place->wants.items[j].test->from);
            if (before)
                demand_part_add(question, &early, i, 1);
        }
        demand_keep(question, plot, &early);
    }
    for (size_t i = 0; i < question->unknowns.count; i++)
        say_unknown(question, correct, &question->unknowns.items[i]);
    return sound;
}

/* ---- bounds ---- */

/* Over the season, or in each application of the treatment that the bound names; what the plan itself puts
 * down there counts. */
static void bound_keep(struct question *question, uint32_t at, const struct correct_bound *bound,
                       uint32_t cause)
{
    const struct plot_place *place = &question->places.items[at];
    struct plot *plot = &question->problem->plots.items[at];
    for (size_t slot = 0; slot < (bound->treatment ? question->slots.count : 1); slot++) {
        const struct occurrence *only = bound->treatment ? question->slots.items[slot].occurrence : NULL;
        double rest = bound->kg_per_m2;
        if (only && (only->treatment != bound->treatment ||
                     !zone_among(only->zones.items, only->zones.count, place->zone)))
            continue;
        for (size_t i = 0; i < place->facts.count; i++) {
            const struct fact *fact = &place->facts.items[i];
            if (fact->amount && (!only || fact->occurrence == only))
                rest -= fact->amount->supplied[bound->nutrient->nutrient];
        }
        struct demand demand =
            question_demand(bound->least ? DEMAND_LEAST : DEMAND_MOST, cause, fmax(0, rest));
        for (uint32_t i = 0; i < plot->choices.count; i++) {
            const struct choice *choice = &plot->choices.items[i];
            double content = choice_product(question, choice)->content[bound->nutrient->nutrient];
            if (content > 0 && (!only || choice_slot(question, choice)->occurrence == only))
                demand_part_add(question, &demand, i, content);
        }
        demand_keep(question, plot, &demand);
    }
}

/* ---- all of it ---- */

/* A record without amounts means that all went as planned, and here nothing was. */
bool records_say_used(struct season *season, const struct treatment *treatment, const struct product *product)
{
    bool sound = true;
    for (size_t i = 0; i < treatment->records.count; i++) {
        const struct record *record = treatment->records.items[i];
        if (record->skipped || record->uses.count || record->symbol.broken)
            continue;
        struct report *report =
            say(season, RULE_RATES_RECORD, (const struct symbol *const[]){&treatment->symbol, NULL},
                record->symbol.statement, "say what was used here: these rates were left to prill");
        if (product && treatment->zones.count)
            report_help(season->model->reports, report,
                        "write what was put down on each zone, in this form: used AMOUNT of %s on %s",
                        name_string(product->symbol.name),
                        name_string(treatment->zones.items[0]->symbol.name));
        sound = false;
    }
    return sound;
}

/* With all its applications done or skipped nothing is left to choose, and records stand as they are. */
bool correct_solve(struct season *season, struct solution *solution, const struct correct *correct)
{
    const struct product *product = correct->products.count ? correct->products.items[0] : NULL;
    bool sound = true, over = true;
    for (size_t i = 0; i < correct->treatments.count; i++)
        sound = records_say_used(season, correct->treatments.items[i], product) && sound;
    if (correct->added)
        sound = records_say_used(season, correct->added, product) && sound;
    if (!sound)
        return false;
    struct question *question =
        question_new(season, solution->apart, correct->products.items, correct->products.count);
    question->problem->whole_packs = correct->whole_packs;
    for (size_t i = 0; i < correct->treatments.count; i++)
        question_apply_all(question, correct->treatments.items[i]);
    if (correct->added)
        question_apply_all(question, correct->added);
    for (size_t i = 0; i < season->occurrences.count && over; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        over = !correct_names(correct, occurrence->treatment) || occurrence->done || occurrence->skipped;
    }
    if (over)
        return true;
    question_plots(question, correct->zones.items, correct->zones.count);

    /* A listed product that no application can take would be left out in silence. */
    for (uint32_t at = 0; at < question->problem->products.count; at++) {
        bool used = question->problem->plots.count == 0 || question->slots.count == 0;
        for (size_t i = 0; i < question->problem->plots.count && !used; i++)
            for (size_t j = 0; j < question->problem->plots.items[i].choices.count && !used; j++)
                used = question->problem->plots.items[i].choices.items[j].product == at;
        const struct symbol *symbol = &question->products[at]->symbol;
        if (used)
            continue;
        const char *why =
            product_unfit(question->slots.items[0].occurrence->treatment, question->products[at]);
        say(season, RULE_RATES_USELESS, (const struct symbol *const[]){&correct->symbol, symbol, NULL},
            correct->products_place, "%s cannot be used in these applications%s%s", name_string(symbol->name),
            why ? ": " : "", why ? why : "");
    }
    if (!plots_want(question, correct))
        return false;
    for (size_t i = 0; i < correct->bounds.count; i++) {
        const struct correct_bound *bound = &correct->bounds.items[i];
        uint32_t cause = question_cause(
            question, (struct cause){.kind = CAUSE_BOUND, .place = bound->place, .bound = bound});
        for (uint32_t at = 0; at < question->problem->plots.count; at++)
            bound_keep(question, at, bound, cause);
    }

    /* What comes in no pack is not bought where packs are to be whole. */
    if (correct->whole_packs) {
        uint32_t cause =
            question_cause(question, (struct cause){.kind = CAUSE_PACKS, .place = correct->packs_place});
        for (uint32_t at = 0; at < question->problem->plots.count; at++) {
            struct plot *plot = &question->problem->plots.items[at];
            struct demand demand = question_demand(DEMAND_NONE, cause, 0);
            for (uint32_t i = 0; i < plot->choices.count; i++)
                if (!question->problem->products.items[plot->choices.items[i].product].packs.count)
                    demand_part_add(question, &demand, i, 1);
            demand_keep(question, plot, &demand);
        }
    }
    struct rates_answer *choice = choice_make(season, solution, question);
    choice->correct = correct;
    return choice->solved;
}

/* Needs go by the N that the season gives, which is known when all rates are chosen. What is told of a choice
 * is the need that every output prints. */
void needs_settle(const struct season *season, struct solution *solution)
{
    for (size_t i = 0; i < solution->choices.count; i++)
        for (size_t j = 0; j < solution->choices.items[i].zone_count; j++) {
            struct zone_choice *zone = &solution->choices.items[i].zones[j];
            for (size_t k = 0; k < zone->want_count; k++) {
                struct wanted *wanted = &zone->wants[k];
                struct zone_need need;
                if (!wanted->test || !need_over(season, wanted->zone, wanted->nutrient->nutrient,
                                                wanted->test->counted_until, &need))
                    continue;
                *wanted->test = need;
                wanted->need = need.kg_per_m2;
                wanted->most = need.most;
                wanted->given = exceeds(need.given, wanted->chosen) ? need.given - wanted->chosen : 0;
                wanted->missing = exceeds(need.kg_per_m2, need.given) ? need.kg_per_m2 - need.given : 0;
                wanted->excess = exceeds(need.given, need.most) ? need.given - need.most : 0;
            }
        }
}
