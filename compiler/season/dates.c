/* The days of a season: what binds them is put together, solved, and given to the occurrences. */
#include "compiler/model/suppose.h"
#include "compiler/season/dating.h"

/* Days before and after everything the plan names: a season's length, and some. */
enum { HORIZON_PAD = 400 };

/* ---- causes ---- */

/* What may be eased before what: the plan's own wishes (0), practice (1), a label (2), a law or what was done
 * (3). */
static const uint8_t RANK_OF_BASIS[] = {
    [BASIS_UNSTATED] = 1, [BASIS_PRACTICE] = 1, [BASIS_ADVICE] = 1, [BASIS_LABEL] = 2, [BASIS_LAW] = 3};
enum { RANK_LABEL = 2, RANK_DONE = 3 };

/* What a limit of each kind bounds: closed days where nothing else is said. */
static const enum bound_kind BOUND_OF_LIMIT[LIMIT_KINDS] = {
    [LIMIT_WAIT] = BOUND_LIMIT_WAIT,   [LIMIT_WAIT_BETWEEN] = BOUND_LIMIT_WAIT,
    [LIMIT_FOLLOW] = BOUND_LIMIT_WAIT, [LIMIT_ORDER] = BOUND_LIMIT_WAIT,
    [LIMIT_WEEKDAYS] = BOUND_WEEKDAYS, [LIMIT_HEAT] = BOUND_HEAT,
    [LIMIT_WEATHER] = BOUND_WEATHER,   [LIMIT_DORMANT] = BOUND_DORMANT};

static struct bound when_bound(const struct when *when)
{
    return (struct bound){
        .kind = when->weather ? BOUND_WEATHER : BOUND_WHEN, .place = when->place, .when = when};
}

/* Everything that may bound a day, in runs whose first is noted: a bound's number is its cause in the
 * timetable. Of what records add each has one, though only parts are anyone's bound. Without a weather those
 * of treatments are not kept: nearly none is ever asked for. */
static void bounds_make(struct dating_rules *rules)
{
    struct season *season = rules->season;
    const struct model *model = season->model;
    uint32_t cause = 0;
    season->when_cause = ARENA_ARRAY(season->arena, model->treatments.count, uint32_t);
    for (size_t i = 0; i < model->treatments.count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        season->when_cause[i] = cause;
        cause += treatment->whens.count;
        for (size_t j = 0; j < treatment->whens.count && season->climate; j++) {
            struct bound bound = when_bound(&treatment->whens.items[j]);
            bound_watch(rules, &bound, bound.when->weather);
            VECTOR_PUSH(season->arena, &season->bounds, bound);
        }
    }
    season->first_bound = season->climate ? 0 : cause;
    rules->season_cause = season->first_bound + season->bounds.count;
    VECTOR_PUSH(season->arena, &season->bounds,
                ((struct bound){.kind = BOUND_SEASON, .place = model->season_place}));
    rules->limit_cause = season->first_bound + season->bounds.count;
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        struct bound bound = {.kind =
                                  BOUND_OF_LIMIT[limit->kind] ? BOUND_OF_LIMIT[limit->kind] : BOUND_CLOSED,
                              .place = limit->place,
                              .limit = limit};
        if (limit_dates(model, limit))
            bound_watch(rules, &bound, limit->weather);
        VECTOR_PUSH(season->arena, &season->bounds, bound);
    }
    rules->product_cause = season->first_bound + season->bounds.count;
    for (size_t i = 0; i < model->products.count; i++) {
        const struct product *product = model->products.items[i];
        struct bound bound = {
            .kind = BOUND_LABEL_WAIT, .place = product->label.interval_place, .product = product};
        VECTOR_PUSH(season->arena, &season->bounds, bound);
    }
    /* Of each product's `heat`, then of each one's `cold`, the stated ones with a watch. */
    for (int cold = 0; cold < 2; cold++) {
        *(cold ? &rules->cold_cause : &rules->heat_cause) = season->first_bound + season->bounds.count;
        for (size_t i = 0; i < model->products.count; i++) {
            const struct product *product = model->products.items[i];
            struct bound bound = {.kind = cold ? BOUND_COLD : BOUND_HEAT,
                                  .place = cold ? product->cold_place : product->heat_place,
                                  .product = product};
            struct weather_condition condition = {.quantity = cold ? WEATHER_LOW : WEATHER_HIGH,
                                                  .side = cold ? SIDE_ABOVE : SIDE_BELOW,
                                                  .limit = cold ? product->cold_above : product->heat_below,
                                                  .place = bound.place};
            if (!isnan(condition.limit))
                bound_watch(rules, &bound, &condition);
            VECTOR_PUSH(season->arena, &season->bounds, bound);
        }
    }
    rules->part_cause = season->first_bound + season->bounds.count;
    rules->planned = season->first_of[model->treatments.count];
    for (size_t i = rules->planned; i < season->occurrences.count; i++) {
        const struct record *record = season->occurrences.items[i].record;
        struct place place = record->part ? record->part_place : record->day_place;
        VECTOR_PUSH(season->arena, &season->bounds, ((struct bound){.kind = BOUND_PART, .place = place}));
    }
    rules->supposed_cause = season->first_bound + season->bounds.count;
    if (model->supposed)
        VECTOR_PUSH(season->arena, &season->bounds,
                    ((struct bound){.kind = BOUND_SUPPOSED, .place = model->supposed->place}));
    rules->cause_rank = ARENA_ARRAY(season->arena, season->first_bound + season->bounds.count, uint8_t);
    for (size_t i = 0; i < model->limits.count; i++)
        rules->cause_rank[rules->limit_cause + i] = RANK_OF_BASIS[model->limits.items[i]->set->basis];
    for (size_t i = rules->product_cause; i < season->first_bound + season->bounds.count; i++)
        rules->cause_rank[i] = i < rules->part_cause ? RANK_LABEL : RANK_DONE;
}

/* One that is not kept is that of the last treatment whose causes begin there or before. */
const struct bound *season_bound(const struct season *season, uint32_t cause)
{
    if (cause >= season->first_bound)
        return &season->bounds.items[cause - season->first_bound];
    size_t low = 0, high = season->model->treatments.count;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        *(season->when_cause[middle] <= cause ? &low : &high) = middle;
    }
    struct bound *bound = ARENA_NEW(season->arena, struct bound);
    *bound = when_bound(&season->model->treatments.items[low]->whens.items[cause - season->when_cause[low]]);
    return bound;
}

/* ---- horizon ---- */

static void horizon_reach(struct dating_rules *rules, day_number day)
{
    if (day < rules->first)
        rules->first = day;
    if (day > rules->last)
        rules->last = day;
}

enum { WAITS_PAD = 4000 }; /* days: chains of waits for years, and still few days to keep sets of */

/* Everything the plan names, with a pad; no longer than a set of days may be. Waits may lead beyond what is
 * named: a soil may be tested again after three years. */
static void horizon_make(struct dating_rules *rules)
{
    const struct season *season = rules->season;
    const struct model *model = season->model;
    const day_number earliest = day_of_date((struct civil_date){FIRST_YEAR, 1, 1});
    const day_number latest = day_of_date((struct civil_date){LAST_YEAR, 12, 31});
    int64_t waits = 0, longest = 0;
    rules->first = model->season_first;
    rules->last = model->season_last;
    for (size_t i = 0; i < model->treatments.count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        uint32_t times = season->first_of[i + 1] - season->first_of[i];
        for (size_t j = 0; j < treatment->whens.count && treatment_sound(treatment); j++) {
            /* The days that a statement names itself; what names another is as far off as its wait. */
            const struct when *when = &treatment->whens.items[j];
            bool between = when->kind == WHEN_BETWEEN, every = when->kind == WHEN_EVERY;
            if (between || every || when->kind == WHEN_ON || when->kind == WHEN_FROM)
                horizon_reach(rules, when->first);
            if (between || when->kind == WHEN_BY)
                horizon_reach(rules, when->last);
            if (every)
                horizon_reach(rules, every_day(when, when->first, times));
            int64_t days = when->other ? duration_most_days(when->wait) : 0;
            waits += days;
            longest = days > longest ? days : longest;
        }
    }
    for (size_t i = 0; i < season->occurrences.count && model->records.count; i++) {
        const struct record *record = season->occurrences.items[i].record;
        if (record && season->occurrences.items[i].done)
            horizon_reach(rules, record->day);
    }
    if (model->supposed)
        horizon_reach(rules, model->supposed->day);
    if (rules->first < earliest)
        rules->first = earliest;
    if (rules->last > latest)
        rules->last = latest;
    if (waits > WAITS_PAD)
        waits = longest > WAITS_PAD ? longest : WAITS_PAD;
    int32_t spare = (DAY_SET_SPAN - 1 - (rules->last - rules->first)) / 2;
    int32_t pad = spare - HORIZON_PAD < (int32_t)waits ? spare : HORIZON_PAD + (int32_t)waits;
    rules->first -= pad;
    rules->last += pad;
    rules->all = day_set_all(season->arena, rules->first, rules->last);
}

/* ---- a run ---- */

/* The days by everything that is said of them: first by statements and closed days, then by the waits too,
 * whose order the first answer gives. What is still to come lies on `from` or later, and what a trial holds
 * on the day it has or later. */
static struct dating *dating_run(struct dating_rules *rules, bool records, day_number from,
                                 const struct day_trial *trial)
{
    struct season *season = rules->season;
    struct dating *dating = ARENA_NEW(season->arena, struct dating);
    *dating = (struct dating){.rules = rules,
                              .season = season,
                              .arena = season->arena,
                              .scratch = arena_scratch(season->arena),
                              .records = records,
                              .trial = trial};
    struct arena_mark mark = arena_mark(dating->scratch);
    dating->question = (struct timetable){.first = rules->first,
                                          .last = rules->last,
                                          .cause_count = season->first_bound + season->bounds.count,
                                          .cause_rank = rules->cause_rank};
    relations_make(dating);
    nodes_make(dating);
    windows_make(dating);
    supposed_make(dating);
    seasons_make(dating);
    dormancy_make(dating);
    weather_make(dating);
    closed_days_make(dating);
    for (uint32_t node = 0; node < dating->node_count && from != DAY_EVER; node++)
        if (!dating->nodes[node].fixed)
            window_add(dating, node, from, DAY_NEVER, TIMETABLE_NONE);
    for (size_t i = 0; i < season->occurrences.count && trial && trial->hold; i++)
        if (dating->node_of[i] != TIMETABLE_NONE && !dating->nodes[dating->node_of[i]].fixed)
            window_add(dating, dating->node_of[i], season->occurrences.items[i].day, DAY_NEVER,
                       TIMETABLE_NONE);
    nodes_furnish(dating);
    arena_rewind(dating->scratch, mark);
    placement_make(dating);
    if (limits_order(dating))
        placement_make(dating);
    if (!trial || dating->answer.feasible)
        waits_make(dating);
    arena_rewind(dating->scratch, mark);
    if (dating->edges.count > dating->first_wait)
        placement_make(dating);
    return dating;
}

/* ---- what comes of it ---- */

/* What outputs and checks ask of the days later, they ask of the run that gave them. */
static void timetable_give(struct season *season, const struct dating *dating)
{
    season->nodes = dating->nodes;
    season->node_count = dating->node_count;
    season->member_start = dating->member_start;
    season->members = dating->members;
    season->edges.items = dating->edges.items;
    season->edges.count = season->edges.capacity = dating->edges.count;
    season->first_wait = dating->first_wait;
    season->waits = dating->waits.items;
    season->node_of = dating->node_of;
    season->question = dating->question;
    season->timetable = dating->answer;
}

/* Twice where there are records: by the plan alone, which says when each was planned, and then with them. */
void season_date(struct season *season)
{
    const struct model *model = season->model;
    if (!model->has_season || model->season_first > model->season_last) {
        amounts_record(season);
        return;
    }
    struct dating_rules *rules = ARENA_NEW(season->arena, struct dating_rules);
    rules->season = season;
    rules->open = ARENA_ARRAY(season->arena, model->limits.count, const struct day_set *);
    season->rules = rules;
    horizon_make(rules);
    rules->heat = taken_make(model);
    /* A condition on frost looks to the midsummer nearest to the day, ahead or back: half a year at most. */
    day_number reach = 0;
    for (size_t i = 0; i < model->treatments.count && model->weather.stated; i++)
        for (size_t j = 0; j < model->treatments.items[i]->whens.count; j++) {
            const struct weather_condition *condition = model->treatments.items[i]->whens.items[j].weather;
            reach = condition && condition->frost ? 184 : reach;
        }
    if (model->weather.stated && !model->weather.broken)
        season->climate =
            climate_make(season->arena, &model->weather, rules->first - reach, rules->last + reach);
    bounds_make(rules);
    for (size_t i = 0; i < season->occurrences.count && model->records.count; i++)
        rules->recorded |= season->occurrences.items[i].record != NULL;
    rules->supposing = !rules->recorded;
    struct dating *plan = dating_run(rules, false, DAY_EVER, NULL), *dating = plan;
    if (rules->recorded) {
        amounts_record(season);
        rules->supposing = true;
        dating = dating_run(rules, true, DAY_EVER, NULL);
    }
    /* What the run without records gave a day was planned for that day; a part was planned when its time was.
     * No latest day lies past the season's end, unless the day itself does. */
    season->dated = true;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        struct occurrence *occurrence = &season->occurrences.items[i];
        uint32_t node = dating->node_of[i];
        day_number planned =
            plan->node_of[i] == TIMETABLE_NONE ? DAY_NEVER : plan->earliest[plan->node_of[i]];
        occurrence->dated = node != TIMETABLE_NONE && dating->earliest[node] != DAY_NEVER;
        season->dated &= occurrence->dated || node == TIMETABLE_NONE;
        if (occurrence->dated) {
            occurrence->day = dating->earliest[node];
            day_number end = model->season_last > occurrence->day ? model->season_last : occurrence->day;
            occurrence->latest_by_dates = dating->latest[node] < end ? dating->latest[node] : end;
        }
        occurrence->planned = planned == DAY_NEVER ? occurrence->day : planned;
    }
    for (size_t i = season->first_of[season->model->treatments.count]; i < season->occurrences.count; i++) {
        struct occurrence *part = &season->occurrences.items[i];
        uint32_t rest = season->first_of[part->treatment->index] + (uint32_t)part->time - 1;
        if (part->share == SHARE_PART)
            part->planned = season->occurrences.items[rest].planned;
    }
    timetable_give(season, dating);
    calendar_make(season, dating);
}

day_number *season_days_from(struct season *season, day_number day)
{
    day_number *days = ARENA_ARRAY(season->arena, season->occurrences.count, day_number);
    struct dating *dating = season->rules ? dating_run(season->rules, true, day, NULL) : NULL;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        uint32_t node = dating ? dating->node_of[i] : TIMETABLE_NONE;
        days[i] = node == TIMETABLE_NONE ? DAY_NEVER : dating->earliest[node];
    }
    return days;
}

/* The season's members, in its order, so those of a treatment lie side by side. */
static void members_copy(struct season *tried, const struct season *season, const struct day_trial *trial)
{
    uint32_t treatments = season->model->treatments.count, count = trial->member_count;
    uint32_t planned = 0, added;
    struct occurrence *items = arena_uncleared(season->arena, count * sizeof *items);
    tried->occurrences.items = items;
    tried->occurrences.count = tried->occurrences.capacity = count;
    tried->first_of = arena_uncleared(season->arena, (treatments + 1) * sizeof *tried->first_of);
    tried->added_of = arena_uncleared(season->arena, (treatments + 1) * sizeof *tried->added_of);
    for (uint32_t i = 0; i < count; i++) {
        items[i] = season->occurrences.items[trial->members[i]];
        items[i].index = i;
        planned += trial->members[i] < season->first_of[treatments];
    }
    added = tried->first_of[treatments] = planned;
    for (uint32_t i = 0, next; i < planned; i = next) {
        uint32_t at = items[i].treatment->index;
        next = i + season->first_of[at + 1] - season->first_of[at];
        tried->first_of[at] = i;
        tried->first_of[at + 1] = next;
        tried->added_of[at] = added;
        tried->added_of[at + 1] = added += season->added_of[at + 1] - season->added_of[at];
    }
}

/* A copy of the season as far as dating changes it; the rules and their sets of days are the same. */
struct season *season_day_trial(const struct season *season, const struct day_trial *trial)
{
    struct season *tried = ARENA_NEW(season->arena, struct season);
    struct dating_rules *rules = ARENA_NEW(season->arena, struct dating_rules);
    *tried = *season;
    *rules = *season->rules;
    rules->season = tried;
    tried->rules = rules;
    tried->order_search = ARENA_NEW(season->arena, struct order_search);
    members_copy(tried, season, trial);
    struct dating *dating = dating_run(rules, rules->recorded, DAY_EVER, trial);
    tried->calendar_count = 0;
    tried->dated = dating->answer.feasible;
    for (size_t i = 0; i < tried->occurrences.count; i++) {
        struct occurrence *occurrence = &tried->occurrences.items[i];
        uint32_t node = dating->node_of[i];
        occurrence->dated = tried->dated && node != TIMETABLE_NONE && !occurrence->idle;
        if (occurrence->dated)
            occurrence->day = dating->earliest[node];
    }
    timetable_give(tried, dating);
    if (tried->dated) {
        calendar_make(tried, dating);
        ledgers_make(tried);
    }
    if (trial->reasons)
        conflicts_make(tried);
    return tried;
}
