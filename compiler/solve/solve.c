#include "compiler/solve/solve.h"

#include "compiler/solve/solving.h"

/* ---- dating with and without what is open ---- */

static bool model_open(const struct model *model)
{
    for (size_t i = 0; i < model->treatments.count; i++)
        if (model->treatments.items[i]->open)
            return true;
    return false;
}

/* With these days how far each may slip is not known: what was chosen may hold it. */
static void slips_forget(struct season *season)
{
    for (size_t i = 0; i < season->occurrences.count; i++) {
        struct occurrence *occurrence = &season->occurrences.items[i];
        occurrence->latest_by_dates = DAY_NEVER;
        occurrence->slip = (struct slip){.end = SLIP_UNKNOWN,
                                         .latest = occurrence->day,
                                         .alone = occurrence->day,
                                         .reach = occurrence->day};
    }
}

static struct season *season_open(const struct model *model, bool *apart)
{
    struct season *season = season_build(model);
    *apart = !season->dated;
    if (!*apart)
        return season;
    struct season *bare = season_build_apart(model);
    if (bare->dated)
        slips_forget(bare);
    return bare;
}

/* ---- choosing ---- */

static bool matches_apply(struct season *season, struct solution *solution)
{
    const struct model *model = season->model;
    bool solved = true;
    for (size_t i = 0; i < model->matches.count; i++) {
        const struct match *match = model->matches.items[i];
        const struct product *product = match->products.count ? match->products.items[0] : NULL;
        if (!match->treatment || match->treatment->symbol.broken ||
            !records_tell(season, match->treatment, product))
            continue;
        for (uint32_t j = season->first_of[match->treatment->index];
             j < season->first_of[match->treatment->index + 1] && solved; j++) {
            struct occurrence *occurrence = &season->occurrences.items[j];
            if (!occurrence->done && !occurrence->skipped)
                solved = match_apply(season, solution, match, occurrence);
        }
    }
    return solved;
}

static bool correct_sound(const struct correct *correct)
{
    bool sound = !correct->symbol.broken && !(correct->added && correct->added->symbol.broken);
    for (size_t i = 0; i < correct->treatments.count; i++)
        sound = sound && !correct->treatments.items[i]->symbol.broken;
    for (size_t i = 0; i < correct->products.count; i++)
        sound = sound && !correct->products.items[i]->symbol.broken;
    return sound;
}

static void rates_choose(struct season *season, struct solution *solution)
{
    const struct model *model = season->model;
    amounts_clear(season);
    if (matches_apply(season, solution))
        for (size_t i = 0; i < model->corrects.count; i++)
            if (correct_sound(model->corrects.items[i])) {
                season_recount(season); /* needs count what was chosen before */
                correct_solve(season, solution, model->corrects.items[i]);
            }
    season_settle(season);
    needs_settle(season, solution);
}

static void answers_find(struct season *season, struct solution *solution)
{
    const struct model *model = season->model;
    for (size_t i = 0; i < model->matches.count; i++)
        if (!model->matches.items[i]->treatment)
            match_answer(season, solution, model->matches.items[i]);
    for (size_t i = 0; i < model->blends.count; i++)
        if (!model->blends.items[i]->symbol.broken)
            blend_answer(season, solution, model->blends.items[i]);
}

static void solution_say(struct season *season, const struct solution *solution)
{
    for (size_t i = 0; i < solution->choices.count; i++) {
        say_contradictions(season, &solution->choices.items[i]);
        say_shortfalls(season, &solution->choices.items[i]);
        say_choice(season, &solution->choices.items[i]);
    }
    for (size_t i = 0; i < solution->matches.count; i++)
        say_match(season, &solution->matches.items[i]);
    for (size_t i = 0; i < solution->blends.count; i++)
        say_blend(season, &solution->blends.items[i]);
}

struct season *solve_season(const struct model *model)
{
    bool open = model_open(model), apart = false;
    struct season *season = open ? season_open(model, &apart) : season_build(model);
    if (!open && !model->matches.count && !model->blends.count && !model->corrects.count)
        return season;
    struct solution *solution = ARENA_NEW(model->arena, struct solution);
    solution->apart = apart;
    season->solution = solution;
    if (open && season->dated && model->has_season)
        rates_choose(season, solution);
    else if (open)
        amounts_clear(season);
    answers_find(season, solution);
    solution_say(season, solution);
    return season;
}
