#include "compiler/solve/solve.h"

#include "compiler/solve/solving.h"

/* What is open is dated as if every product on its list were used; where that leaves no days, as if none
 * were. Then how far a day may slip is not known, since what is chosen may hold it: no slip is stated. */
static struct season *season_open(const struct model *model, bool *apart)
{
    struct season *season = season_build(model, true);
    *apart = !season->dated;
    if (!*apart)
        return season;
    season = season_build(model, false);
    for (size_t i = 0; i < season->occurrences.count && season->dated; i++) {
        struct occurrence *occurrence = &season->occurrences.items[i];
        occurrence->latest_by_dates = DAY_NEVER;
        struct slip *slip = ARENA_NEW(season->arena, struct slip);
        *slip = (struct slip){.end = SLIP_UNKNOWN,
                              .latest = occurrence->day,
                              .alone = occurrence->day,
                              .farthest = occurrence->day};
        occurrence->slip = slip;
    }
    return season;
}

/* Who watches the questions being worked out, and how far that is. */
struct watch {
    question_begun *begun;
    void *watcher;
    size_t number, count;
};

static void question_begin(struct watch *watch)
{
    if (watch->begun)
        watch->begun(watch->watcher, ++watch->number, watch->count);
}

/* Matches first, each settled for each time of its application that is still to come; then corrections in the
 * order of the text. None after a match that has no rates, since what comes after counts them. */
static void rates_choose(struct season *season, struct solution *solution, struct watch *watch)
{
    const struct model *model = season->model;
    bool solved = true;
    amounts_clear(season);
    for (size_t i = 0; i < model->matches.count; i++) {
        const struct match *match = model->matches.items[i];
        const struct product *product = match->products.count ? match->products.items[0] : NULL;
        if (!match->treatment || match->treatment->symbol.broken ||
            !records_say_used(season, match->treatment, product))
            continue;
        for (uint32_t j = season->first_of[match->treatment->index];
             j < season->first_of[match->treatment->index + 1] && solved; j++) {
            struct occurrence *occurrence = &season->occurrences.items[j];
            if (occurrence->done || occurrence->skipped)
                continue;
            question_begin(watch);
            solved = match_apply(season, solution, match, occurrence);
        }
    }
    for (size_t i = 0; i < model->corrects.count && solved; i++) {
        const struct correct *correct = model->corrects.items[i];
        bool sound = !correct->symbol.broken && !(correct->added && correct->added->symbol.broken);
        for (size_t j = 0; j < correct->treatments.count; j++)
            sound = sound && !correct->treatments.items[j]->symbol.broken;
        for (size_t j = 0; j < correct->products.count; j++)
            sound = sound && !correct->products.items[j]->symbol.broken;
        if (!sound)
            continue;
        question_begin(watch);
        ledgers_make(season); /* needs count what was chosen before */
        correct_solve(season, solution, correct);
    }
    season_settle(season);
    needs_settle(season, solution);
}

/* Nothing is solved, and nothing is kept of it, for a plan that asks for nothing. */
struct season *solve_season(const struct model *model, question_begun *begun, void *watcher)
{
    bool open = false, apart = false;
    for (size_t i = 0; i < model->treatments.count; i++)
        open = open || model->treatments.items[i]->open;
    struct season *season = open ? season_open(model, &apart) : season_build(model, true);
    if (!open && !model->matches.count && !model->blends.count && !model->corrects.count)
        return season;
    struct solution *solution = ARENA_NEW(model->arena, struct solution);
    solution->apart = apart;
    season->solution = solution;
    solution->questions = model->corrects.count + model->blends.count;
    for (size_t i = 0; i < model->matches.count; i++) {
        const struct treatment *treatment = model->matches.items[i]->treatment;
        solution->questions +=
            treatment ? season->first_of[treatment->index + 1] - season->first_of[treatment->index] : 1;
    }
    struct watch watch = {begun, watcher, 0, solution->questions};
    if (open && season->dated && model->has_season)
        rates_choose(season, solution, &watch);
    else if (open) {
        amounts_clear(season);
        ledgers_make(season); /* they held what is cleared */
    }
    /* Questions that no application has to do with. */
    for (size_t i = 0; i < model->matches.count; i++)
        if (!model->matches.items[i]->treatment) {
            question_begin(&watch);
            match_answer(season, solution, model->matches.items[i]);
        }
    for (size_t i = 0; i < model->blends.count; i++)
        if (!model->blends.items[i]->symbol.broken) {
            question_begin(&watch);
            blend_answer(season, solution, model->blends.items[i]);
        }
    for (size_t i = 0; i < solution->choices.count; i++) {
        say_contradictions(season, &solution->choices.items[i]);
        say_shortfalls(season, &solution->choices.items[i]);
        say_choice(season, &solution->choices.items[i]);
    }
    for (size_t i = 0; i < solution->matches.count; i++)
        say_match(season, &solution->matches.items[i]);
    for (size_t i = 0; i < solution->blends.count; i++)
        say_blend(season, &solution->blends.items[i]);
    return season;
}
