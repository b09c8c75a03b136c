/* The days of a season: what binds them is put together, solved, and given to the occurrences. */
#include "compiler/model/suppose.h"
#include "compiler/season/dating.h"

#include <string.h>

/* Days before and after everything the plan names: a season's length, and some. */
enum { HORIZON_PAD = 400 };

/* ---- causes ---- */

/* What may be eased before what: the plan's own wishes, then practice, the label, the law. */
static uint8_t limit_rank(const struct limit *limit)
{
    switch (limit->set->basis) {
    case BASIS_UNSTATED:
    case BASIS_PRACTICE:
    case BASIS_ADVICE:
        return 1;
    case BASIS_LABEL:
        return 2;
    case BASIS_LAW:
        return 3;
    }
    return 1;
}

static struct bound limit_bound(const struct limit *limit)
{
    struct bound bound = {.kind = BOUND_CLOSED, .place = limit->place, .limit = limit, .wait = limit->time};
    if (limit->kind == LIMIT_WAIT || limit->kind == LIMIT_WAIT_BETWEEN || limit->kind == LIMIT_FOLLOW ||
        limit->kind == LIMIT_ORDER)
        bound.kind = BOUND_LIMIT_WAIT;
    else if (limit->kind == LIMIT_WEEKDAYS)
        bound.kind = BOUND_WEEKDAYS;
    else if (limit->kind == LIMIT_HEAT)
        bound.kind = BOUND_HEAT;
    else if (limit->kind == LIMIT_WEATHER)
        bound.kind = BOUND_WEATHER;
    else if (limit->kind == LIMIT_DORMANT)
        bound.kind = BOUND_DORMANT;
    return bound;
}

static void bounds_of_treatments(struct dating_rules *rules)
{
    struct season *season = rules->season;
    const struct model *model = season->model;
    rules->when_cause = ARENA_ARRAY(season->arena, model->treatments.count, uint32_t);
    for (size_t i = 0; i < model->treatments.count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        rules->when_cause[i] = (uint32_t)season->bounds.count;
        for (size_t j = 0; j < treatment->whens.count; j++) {
            const struct when *when = &treatment->whens.items[j];
            struct bound bound = {
                .kind = when->weather ? BOUND_WEATHER : BOUND_WHEN, .place = when->place, .when = when};
            bound_watch(rules, &bound, when->weather);
            VECTOR_PUSH(season->arena, &season->bounds, bound);
        }
    }
}

static void bounds_of_rules(struct dating_rules *rules)
{
    struct season *season = rules->season;
    const struct model *model = season->model;
    struct bound whole = {.kind = BOUND_SEASON, .place = model->season_place};
    rules->season_cause = (uint32_t)season->bounds.count;
    VECTOR_PUSH(season->arena, &season->bounds, whole);
    rules->limit_cause = (uint32_t)season->bounds.count;
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        struct bound bound = limit_bound(limit);
        if (limit_dates(model, limit))
            bound_watch(rules, &bound, limit->weather);
        VECTOR_PUSH(season->arena, &season->bounds, bound);
    }
    rules->product_cause = (uint32_t)season->bounds.count;
    for (size_t i = 0; i < model->products.count; i++) {
        const struct product *product = model->products.items[i];
        struct bound bound = {.kind = BOUND_LABEL_WAIT,
                              .place = product->label.interval_place,
                              .product = product,
                              .wait = product->label.interval};
        VECTOR_PUSH(season->arena, &season->bounds, bound);
    }
}

static void bounds_of_products(struct dating_rules *rules, bool heat)
{
    struct season *season = rules->season;
    for (size_t i = 0; i < season->model->products.count; i++) {
        const struct product *product = season->model->products.items[i];
        struct bound bound = {.kind = heat ? BOUND_HEAT : BOUND_COLD,
                              .place = heat ? product->heat_place : product->cold_place,
                              .product = product};
        struct weather_condition condition = {.quantity = heat ? WEATHER_HIGH : WEATHER_LOW,
                                              .side = heat ? SIDE_BELOW : SIDE_ABOVE,
                                              .limit = heat ? product->heat_below : product->cold_above,
                                              .place = bound.place};
        if (!isnan(condition.limit))
            bound_watch(rules, &bound, &condition);
        VECTOR_PUSH(season->arena, &season->bounds, bound);
    }
}

/* One for each occurrence that records add, though only parts are anyone's bound. */
static void bounds_of_parts(struct dating_rules *rules)
{
    struct season *season = rules->season;
    rules->part_cause = (uint32_t)season->bounds.count;
    for (size_t i = season->first_of[season->model->treatments.count]; i < season->occurrences.count; i++) {
        const struct record *record = season->occurrences.items[i].record;
        struct bound bound = {.kind = BOUND_PART,
                              .place = record->part ? record->part_place : record->day_place};
        VECTOR_PUSH(season->arena, &season->bounds, bound);
    }
}

static void bound_of_supposed(struct dating_rules *rules)
{
    struct season *season = rules->season;
    const struct supposition *supposed = season->model->supposed;
    struct bound bound = {.kind = BOUND_SUPPOSED};
    rules->supposed_cause = (uint32_t)season->bounds.count;
    if (supposed) {
        bound.place = supposed->place;
        VECTOR_PUSH(season->arena, &season->bounds, bound);
    }
}

static void bounds_make(struct dating_rules *rules)
{
    const struct season *season = rules->season;
    bounds_of_treatments(rules);
    bounds_of_rules(rules);
    rules->heat_cause = (uint32_t)season->bounds.count;
    bounds_of_products(rules, true);
    rules->cold_cause = (uint32_t)season->bounds.count;
    bounds_of_products(rules, false);
    bounds_of_parts(rules);
    bound_of_supposed(rules);
    rules->cause_rank = ARENA_ARRAY(season->arena, season->bounds.count, uint8_t);
    for (size_t i = 0; i < season->model->limits.count; i++)
        rules->cause_rank[rules->limit_cause + i] = limit_rank(season->model->limits.items[i]);
    for (size_t i = rules->product_cause; i < season->bounds.count; i++)
        rules->cause_rank[i] = 2;
    for (size_t i = rules->part_cause; i < season->bounds.count; i++)
        rules->cause_rank[i] = 3; /* what was done stays done */
}

/* ---- horizon ---- */

static void horizon_reach(struct dating_rules *rules, day_number day)
{
    if (day < rules->first)
        rules->first = day;
    if (day > rules->last)
        rules->last = day;
}

static void horizon_reach_when(struct dating_rules *rules, const struct when *when, uint32_t times)
{
    switch (when->kind) {
    case WHEN_ON:
    case WHEN_FROM:
        horizon_reach(rules, when->first);
        return;
    case WHEN_BETWEEN:
        horizon_reach(rules, when->first);
        horizon_reach(rules, when->last);
        return;
    case WHEN_BY:
        horizon_reach(rules, when->last);
        return;
    case WHEN_EVERY:
        horizon_reach(rules, when->first);
        horizon_reach(rules, every_day(when, when->first, times));
        return;
    case WHEN_SAME_DAY:
    case WHEN_AT_LEAST_AFTER:
    case WHEN_AT_LEAST_BEFORE:
    case WHEN_WITHIN:
    case WHEN_EXACTLY_AFTER:
    case WHEN_EXACTLY_BEFORE:
    case WHEN_WEATHER:
        return;
    }
}

enum { WAITS_PAD = 4000 }; /* days: chains of waits for years, and still few days to keep sets of */

/* How far waits may lead beyond what the plan names: a soil may be tested again after three years. */
static int32_t waits_reach(const struct model *model)
{
    int64_t sum = 0, longest = 0;
    for (size_t i = 0; i < model->treatments.count; i++)
        for (size_t j = 0; j < model->treatments.items[i]->whens.count; j++) {
            const struct when *when = &model->treatments.items[i]->whens.items[j];
            int64_t days = when->other ? duration_most_days(when->wait) : 0;
            sum += days;
            longest = days > longest ? days : longest;
        }
    return (int32_t)(sum <= WAITS_PAD ? sum : longest > WAITS_PAD ? longest : WAITS_PAD);
}

/* Everything the plan names, with a pad; no longer than a set of days may be. */
static void horizon_make(struct dating_rules *rules)
{
    const struct season *season = rules->season;
    const day_number earliest = day_of_date((struct civil_date){FIRST_YEAR, 1, 1});
    const day_number latest = day_of_date((struct civil_date){LAST_YEAR, 12, 31});
    rules->first = season->model->season_first;
    rules->last = season->model->season_last;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        const struct treatment *treatment = occurrence->treatment;
        for (size_t j = 0; j < treatment->whens.count && occurrence->time == 1 && treatment_sound(treatment);
             j++)
            horizon_reach_when(rules, &treatment->whens.items[j], (uint32_t)occurrence->times);
        if (occurrence->done)
            horizon_reach(rules, occurrence->record->day);
    }
    if (season->model->supposed)
        horizon_reach(rules, season->model->supposed->day);
    if (rules->first < earliest)
        rules->first = earliest;
    if (rules->last > latest)
        rules->last = latest;
    int32_t spare = (DAY_SET_SPAN - 1 - (rules->last - rules->first)) / 2;
    int32_t wait = waits_reach(season->model);
    int32_t pad = spare - HORIZON_PAD < wait ? spare : HORIZON_PAD + wait;
    rules->first -= pad;
    rules->last += pad;
    rules->all = day_set_all(season->arena, rules->first, rules->last);
}

/* ---- a run ---- */

static const day_number ANY_DAY = INT32_MIN;

/* What is still to come lies on `from` or later. */
static void not_before_make(struct dating *dating, day_number from)
{
    struct timetable_condition condition = {
        .kind = TIMETABLE_NOT_BEFORE, .day = from, .cause = TIMETABLE_NONE};
    for (uint32_t node = 0; node < dating->node_count && from != ANY_DAY; node++)
        if (!occurrence_fixed(
                dating, &dating->season->occurrences.items[dating->members[dating->member_start[node]]]))
            condition_add(dating, node, condition);
}

/* What a trial holds lies on the day it has, or later. */
static void days_hold(struct dating *dating)
{
    for (size_t i = 0; i < dating->season->occurrences.count && dating->trial && dating->trial->hold; i++) {
        const struct occurrence *occurrence = &dating->season->occurrences.items[i];
        struct timetable_condition condition = {
            .kind = TIMETABLE_NOT_BEFORE, .day = occurrence->day, .cause = TIMETABLE_NONE};
        if (dating->node_of[i] != TIMETABLE_NONE && !occurrence_fixed(dating, occurrence))
            condition_add(dating, dating->node_of[i], condition);
    }
}

/* The days by everything that is said of them: first by statements and closed days, then by the waits too,
 * whose order the first answer gives. */
static struct dating *dating_run(struct dating_rules *rules, bool records, day_number from,
                                 const struct day_trial *trial)
{
    struct season *season = rules->season;
    struct dating *dating = ARENA_NEW(season->arena, struct dating);
    *dating = (struct dating){
        .rules = rules, .season = season, .arena = season->arena, .records = records, .trial = trial};
    dating->question = (struct timetable){.first = rules->first,
                                          .last = rules->last,
                                          .cause_count = (uint32_t)season->bounds.count,
                                          .cause_rank = rules->cause_rank};
    relations_make(dating);
    nodes_make(dating);
    windows_make(dating);
    supposed_make(dating);
    seasons_make(dating);
    closed_days_make(dating);
    weather_make(dating);
    dormancy_make(dating);
    not_before_make(dating, from);
    days_hold(dating);
    nodes_furnish(dating);
    placement_make(dating, &dating->own);
    if (limits_order(dating))
        placement_make(dating, &dating->own);
    dating->full = dating->own;
    if (trial && !dating->answer.feasible)
        return dating;
    waits_make(dating);
    if (dating->edges.count > dating->first_wait)
        placement_make(dating, &dating->full);
    return dating;
}

/* ---- what comes of it ---- */

static void plans_give(struct season *season, const struct dating *dating)
{
    for (size_t i = 0; i < season->occurrences.count; i++) {
        uint32_t node = dating->node_of[i];
        if (node != TIMETABLE_NONE && dating->full.placed[node])
            season->occurrences.items[i].planned = dating->full.earliest[node];
    }
}

/* A part was planned when its time was. */
static void parts_give(struct season *season)
{
    for (size_t i = season->first_of[season->model->treatments.count]; i < season->occurrences.count; i++) {
        struct occurrence *part = &season->occurrences.items[i];
        uint32_t rest = season->first_of[part->treatment->index] + (uint32_t)part->time - 1;
        if (part->share == SHARE_PART)
            part->planned = season->occurrences.items[rest].planned;
    }
}

static day_number within_season(const struct season *season, day_number day, day_number latest)
{
    day_number end = season->model->season_last > day ? season->model->season_last : day;
    return latest < end ? latest : end;
}

static void days_give(struct season *season, const struct dating *dating, const struct dating *plan)
{
    season->dated = true;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        struct occurrence *occurrence = &season->occurrences.items[i];
        uint32_t node = dating->node_of[i], planned = plan->node_of[i];
        if (node == TIMETABLE_NONE)
            continue;
        occurrence->dated = dating->full.placed[node];
        season->dated &= occurrence->dated;
        occurrence->day = dating->full.earliest[node];
        occurrence->latest_by_dates = within_season(season, occurrence->day, dating->full.latest[node]);
        if (planned == TIMETABLE_NONE || !plan->full.placed[planned])
            occurrence->planned = occurrence->day;
    }
}

static void timetable_give(struct season *season, const struct dating *dating)
{
    season->nodes = dating->nodes;
    season->node_count = dating->node_count;
    season->member_start = dating->member_start;
    season->members = dating->members;
    season->edges.items = dating->edges.items;
    season->edges.count = season->edges.capacity = dating->edges.count;
    season->first_wait = dating->first_wait;
    season->waits = dating->waits;
    season->node_of = dating->node_of;
    season->question = dating->question;
    season->when_bound = dating->rules->when_cause;
    season->timetable = dating->answer;
}

static void calendar_give(struct season *season, const struct dating *dating)
{
    VECTOR(struct precedence) pairs = {0};
    for (size_t i = 0; i < dating->relations.count; i++) {
        struct precedence pair = {dating->relations.items[i].early, dating->relations.items[i].late};
        const struct occurrence *early = &season->occurrences.items[pair.before];
        const struct occurrence *late = &season->occurrences.items[pair.after];
        if (early->dated && late->dated && early->day == late->day)
            VECTOR_PUSH(season->arena, &pairs, pair);
    }
    for (size_t i = 0; i < dating->orders.count; i++) {
        struct precedence pair = dating->orders.items[i];
        if (season->occurrences.items[pair.before].day == season->occurrences.items[pair.after].day)
            VECTOR_PUSH(season->arena, &pairs, pair);
    }
    calendar_make(season, pairs.items, pairs.count);
}

static bool has_records(const struct season *season)
{
    for (size_t i = 0; i < season->occurrences.count; i++)
        if (season->occurrences.items[i].record)
            return true;
    return false;
}

/* A condition on frost looks on to the midsummer nearest to the day, or back to it: half a year at most. */
static day_number frost_reach(const struct model *model)
{
    for (size_t i = 0; i < model->treatments.count; i++)
        for (size_t j = 0; j < model->treatments.items[i]->whens.count; j++) {
            const struct weather_condition *condition = model->treatments.items[i]->whens.items[j].weather;
            if (condition && condition->frost)
                return 184;
        }
    return 0;
}

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
    if (model->weather.stated && !model->weather.broken)
        season->climate = climate_make(season->arena, &model->weather, rules->first - frost_reach(model),
                                       rules->last + frost_reach(model));
    bounds_make(rules);
    rules->supposing = !has_records(season);
    struct dating *plan = dating_run(rules, false, ANY_DAY, NULL), *dating = plan;
    plans_give(season, plan);
    if (has_records(season)) {
        amounts_record(season);
        rules->supposing = true;
        dating = dating_run(rules, true, ANY_DAY, NULL);
    }
    days_give(season, dating, plan);
    parts_give(season);
    timetable_give(season, dating);
    calendar_give(season, dating);
}

day_number *season_days_from(struct season *season, day_number day)
{
    day_number *days = ARENA_ARRAY(season->arena, season->occurrences.count, day_number);
    struct dating *dating = season->rules ? dating_run(season->rules, true, day, NULL) : NULL;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        uint32_t node = dating ? dating->node_of[i] : TIMETABLE_NONE;
        bool placed = node != TIMETABLE_NONE && dating->full.placed[node];
        days[i] = placed ? dating->full.earliest[node] : DAY_NEVER;
    }
    return days;
}

/* A copy of the season as far as dating changes it; the rules, and the sets of days they hold, are the same.
 */
struct season *season_day_trial(const struct season *season, const struct day_trial *trial)
{
    struct season *tried = ARENA_NEW(season->arena, struct season);
    struct dating_rules *rules = ARENA_NEW(season->arena, struct dating_rules);
    size_t count = season->occurrences.count;
    *tried = *season;
    *rules = *season->rules;
    rules->season = tried;
    tried->rules = rules;
    tried->occurrences.items = ARENA_ARRAY(season->arena, count, struct occurrence);
    memcpy(tried->occurrences.items, season->occurrences.items, count * sizeof *tried->occurrences.items);
    struct dating *dating = dating_run(rules, has_records(season), ANY_DAY, trial);
    tried->calendar_count = 0;
    tried->dated = dating->answer.feasible;
    for (size_t i = 0; i < count; i++) {
        struct occurrence *occurrence = &tried->occurrences.items[i];
        uint32_t node = dating->node_of[i];
        occurrence->dated = tried->dated && node != TIMETABLE_NONE && !occurrence->idle;
        if (occurrence->dated)
            occurrence->day = dating->full.earliest[node];
    }
    timetable_give(tried, dating);
    if (tried->dated) {
        calendar_give(tried, dating);
        ledgers_make(tried);
    }
    if (trial->reasons) {
        orders_make(tried);
        conflicts_make(tried);
    }
    return tried;
}
