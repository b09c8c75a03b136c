#include "tests/unit/season_trial.h"

#include <assert.h>
#include <limits.h>
#include <string.h>

static const struct occurrence *occurrence_at(const struct trial *trial, int index)
{
    return &trial->season->occurrences.items[index];
}

static const struct treatment *treatment_at(const struct trial *trial, int index)
{
    return occurrence_at(trial, index)->treatment;
}

static void constrain(struct trial *trial, int from, int to, int least)
{
    assert(trial->constraint_count < TRIAL_CONSTRAINTS);
    trial->constraints[trial->constraint_count++] = (struct trial_constraint){from, to, least};
}

static void keep(struct trial *trial, int index, day_number from, day_number to)
{
    for (int day = 0; day < trial->day_count; day++)
        if (trial->first + day < from || trial->first + day > to)
            trial->allowed[index][day] = false;
}

/* ---- relations ---- */

static bool added(const struct trial *trial, int index)
{
    enum occurrence_share share = occurrence_at(trial, index)->share;
    return share == SHARE_PART || share == SHARE_BEYOND;
}

static int live_time(const struct trial *trial, const struct treatment *treatment, bool last)
{
    int found = -1;
    for (int i = 0; i < trial->count; i++)
        if (treatment_at(trial, i) == treatment && trial->live[i] && !added(trial, i) && (last || found < 0))
            found = i;
    return found;
}

/* Nothing of it is to come any more: then the last that was done of it counts. */
static int last_done(const struct trial *trial, const struct treatment *treatment, int planned)
{
    int found = planned;
    for (int i = 0; i < trial->count && (planned < 0 || trial->fixed[planned]); i++)
        if (treatment_at(trial, i) == treatment && trial->live[i] && added(trial, i) &&
            (found < 0 || trial->fixed_day[i] > trial->fixed_day[found]))
            found = i;
    return found;
}

static int partner(const struct trial *trial, int index, const struct when *when)
{
    bool before = when->kind == WHEN_AT_LEAST_BEFORE || when->kind == WHEN_EXACTLY_BEFORE;
    for (int i = 0; when->kind == WHEN_SAME_DAY && i < trial->count; i++)
        if (treatment_at(trial, i) == when->other && !added(trial, i) &&
            occurrence_at(trial, i)->times == occurrence_at(trial, index)->times &&
            occurrence_at(trial, i)->time == occurrence_at(trial, index)->time)
            return trial->live[i] ? i : -1;
    int planned = live_time(trial, when->other, !before);
    return before && planned >= 0 ? planned : last_done(trial, when->other, planned);
}

static void join(struct trial *trial, int a, int b)
{
    int low = trial->group[a] < trial->group[b] ? trial->group[a] : trial->group[b];
    int high = trial->group[a] < trial->group[b] ? trial->group[b] : trial->group[a];
    for (int i = 0; i < trial->count; i++)
        if (trial->group[i] == high)
            trial->group[i] = low;
}

/* day[late] - day[early] between the two; most < 0: no bound. Nothing done holds back what comes before it.
 */
static void relate(struct trial *trial, int early, int late, int least, int most)
{
    if (trial->fixed[late])
        return;
    constrain(trial, early, late, least);
    if (most >= 0)
        constrain(trial, late, early, -most);
}

static void relate_when(struct trial *trial, int index, const struct when *when)
{
    int other = when->other ? partner(trial, index, when) : -1;
    if (other < 0)
        return;
    if (when->kind == WHEN_SAME_DAY && !trial->fixed[index] && !trial->fixed[other])
        join(trial, index, other);
    if (when->kind == WHEN_SAME_DAY && (trial->fixed[other] || !trial->fixed[index]))
        relate(trial, other, index, 0, 0);
    if (when->kind == WHEN_AT_LEAST_AFTER)
        relate(trial, other, index, when->wait.days, -1);
    if (when->kind == WHEN_WITHIN)
        relate(trial, other, index, 0, when->wait.days);
    if (when->kind == WHEN_EXACTLY_AFTER)
        relate(trial, other, index, when->wait.days, when->wait.days);
    if (when->kind == WHEN_AT_LEAST_BEFORE)
        relate(trial, index, other, when->wait.days, -1);
    if (when->kind == WHEN_EXACTLY_BEFORE)
        relate(trial, index, other, when->wait.days, when->wait.days);
}

/* ---- windows ---- */

static void window_every(struct trial *trial, int index, const struct when *every)
{
    int time = occurrence_at(trial, index)->time, before = -1, done = -1;
    for (int i = 0; i < index; i++)
        if (treatment_at(trial, i) == treatment_at(trial, index) && trial->live[i]) {
            before = i;
            done = trial->fixed[i] ? i : done;
        }
    if (before >= 0)
        relate(trial, before, index, every->period.days, -1);
    if (trial->fixed[index])
        return;
    day_number end = every->first + time * every->period.days - 1;
    if (done >= 0) {
        const struct occurrence *last = occurrence_at(trial, done);
        day_number moved = last->record->day + (time - last->time + 1) * every->period.days - 1;
        end = moved > end ? moved : end;
    }
    if (every->times == 0 && every->last < end)
        end = every->last;
    keep(trial, index, every->first + (time - 1) * every->period.days, end);
}

static void window_when(struct trial *trial, int index, const struct when *when)
{
    if (when->kind == WHEN_EVERY)
        window_every(trial, index, when);
    if (trial->fixed[index])
        return;
    if (when->kind == WHEN_ON)
        keep(trial, index, when->first, when->first);
    if (when->kind == WHEN_BETWEEN)
        keep(trial, index, when->first, when->last);
    if (when->kind == WHEN_FROM)
        keep(trial, index, when->first, INT32_MAX);
    if (when->kind == WHEN_BY)
        keep(trial, index, INT32_MIN, when->last);
    if (when->kind == WHEN_ON || when->kind == WHEN_BETWEEN || when->kind == WHEN_FROM ||
        when->kind == WHEN_EVERY)
        trial->grounded[index] = true;
}

static void keep_season(struct trial *trial, int index)
{
    keep(trial, index, trial->season->model->season_first, trial->season->model->season_last);
}

/* The season, for what has no first day of its own or by something it comes after. */
static void ground(struct trial *trial)
{
    for (int round = 0; round < trial->count; round++)
        for (int i = 0; i < trial->constraint_count; i++)
            if (trial->grounded[trial->constraints[i].from])
                trial->grounded[trial->constraints[i].to] = true;
    for (int i = 0; i < trial->count; i++)
        if (trial->live[i] && !trial->grounded[i])
            keep_season(trial, i);
}

/* ---- what is put where ---- */

static bool planned_for(const struct treatment *treatment, const struct zone *zone)
{
    for (size_t i = 0; i < treatment->zones.count; i++)
        if (treatment->zones.items[i] == zone)
            return true;
    return treatment->zones.count == 0;
}

static bool planned_with(const struct treatment *treatment, const struct product *product)
{
    for (size_t i = 0; i < treatment->dressings.count; i++)
        if (treatment->dressings.items[i].product == product)
            return true;
    return false;
}

static bool used(const struct record *record, const struct product *product, const struct zone *zone)
{
    for (size_t i = 0; i < record->uses.count; i++)
        if (record->uses.items[i].zone == zone && (!product || record->uses.items[i].product == product))
            return true;
    return false;
}

static bool taken(const struct record *record, const struct zone *zone)
{
    for (size_t i = 0; i < record->part_zones.count; i++)
        if (record->part_zones.items[i] == zone)
            return true;
    return false;
}

/* By a part that was done of the same time before. */
static bool done_before(const struct trial *trial, int index, const struct product *product,
                        const struct zone *zone)
{
    const struct occurrence *rest = occurrence_at(trial, index);
    for (int i = 0; i < trial->count && rest->share == SHARE_REST; i++) {
        const struct occurrence *part = occurrence_at(trial, i);
        if (part->share == SHARE_PART && part->treatment == rest->treatment && part->time == rest->time &&
            (taken(part->record, zone) || used(part->record, product, zone)))
            return true;
    }
    return false;
}

/* Whether it puts the product on the zone; a NULL product: work without any is done there. */
static bool brings(const struct trial *trial, int index, const struct product *product,
                   const struct zone *zone)
{
    const struct treatment *treatment = treatment_at(trial, index);
    const struct record *record =
        trial->records && trial->fixed[index] ? occurrence_at(trial, index)->record : NULL;
    bool planned = planned_for(treatment, zone) && (!product || planned_with(treatment, product));
    if (trial->records && done_before(trial, index, product, zone))
        planned = false;
    if (!record || (record->uses.count == 0 && !record->part))
        return planned;
    return used(record, product, zone) || (record->part && taken(record, zone) && planned);
}

static bool anywhere(const struct trial *trial, int index)
{
    const struct model *model = trial->season->model;
    for (size_t i = 0; i < model->products.count; i++)
        for (size_t j = 0; j < model->zones.count; j++)
            if (brings(trial, index, model->products.items[i], model->zones.items[j]))
                return true;
    return false;
}

static bool in_zone(const struct trial *trial, int index, const struct zone *zone)
{
    const struct model *model = trial->season->model;
    for (size_t i = 0; i < model->products.count; i++)
        if (brings(trial, index, model->products.items[i], zone))
            return true;
    return !anywhere(trial, index) && brings(trial, index, NULL, zone);
}

static bool has_nutrient(const struct trial *trial, int index, const struct zone *zone,
                         enum nutrient nutrient)
{
    const struct model *model = trial->season->model;
    for (size_t i = 0; i < model->products.count; i++)
        if (model->products.items[i]->content[nutrient] > 0 &&
            brings(trial, index, model->products.items[i], zone))
            return true;
    return false;
}

static bool has_kind(const struct trial *trial, int index, const struct zone *zone,
                     const struct treatment_class *class)
{
    const struct model *model = trial->season->model;
    for (size_t i = 0; i < model->products.count && trial->fixed[index]; i++)
        for (size_t j = 0; j < model->products.items[i]->kinds.count; j++)
            if (model->products.items[i]->kinds.items[j] == class->kind &&
                brings(trial, index, model->products.items[i], zone))
                return true;
    return treatment_in_class(treatment_at(trial, index), class);
}

static bool in_class(const struct trial *trial, int index, const struct zone *zone,
                     const struct treatment_class *class)
{
    return class->nutrient ? has_nutrient(trial, index, zone, class->nutrient->nutrient)
                           : has_kind(trial, index, zone, class);
}

static bool limit_speaks_of(const struct trial *trial, const struct limit *limit, int index)
{
    const struct model *model = trial->season->model;
    bool speaks = false;
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct zone *zone = model->zones.items[i];
        bool nutrient =
            limit->nutrients.count == 0 && (in_zone(trial, index, zone) || brings(trial, index, NULL, zone));
        for (size_t j = 0; j < limit->nutrients.count; j++)
            nutrient |= has_nutrient(trial, index, zone, limit->nutrients.items[j]->nutrient);
        speaks |= limit_binds(limit, zone) && nutrient;
    }
    return speaks && !treatment_at(trial, index)->task;
}

static void close_days(struct trial *trial, const struct limit *limit, int index)
{
    for (int day = 0; day < trial->day_count; day++) {
        struct civil_date date = date_of_day(trial->first + day);
        if (limit->kind == LIMIT_WEEKDAYS && !(limit->weekdays >> weekday_of_day(trial->first + day) & 1))
            trial->allowed[index][day] = false;
        if (limit->kind == LIMIT_CLOSED && date.month == limit->closed_first.month &&
            date.day >= limit->closed_first.day && date.day <= limit->closed_last.day)
            trial->allowed[index][day] = false; /* the plans tried close days within a month */
    }
}

/* What is left comes not before the parts. */
static void rests(struct trial *trial)
{
    for (int i = 0; i < trial->count; i++)
        for (int j = 0; j < trial->count; j++)
            if (trial->live[i] && trial->live[j] && occurrence_at(trial, i)->share == SHARE_PART &&
                occurrence_at(trial, j)->share == SHARE_REST &&
                treatment_at(trial, i) == treatment_at(trial, j) &&
                occurrence_at(trial, i)->time == occurrence_at(trial, j)->time)
                relate(trial, i, j, 0, -1);
}

static void own_statements(struct trial *trial)
{
    const struct model *model = trial->season->model;
    for (int i = 0; i < trial->count; i++) {
        const struct treatment *treatment = treatment_at(trial, i);
        for (size_t j = 0; j < treatment->whens.count && trial->live[i]; j++) {
            window_when(trial, i, &treatment->whens.items[j]);
            relate_when(trial, i, &treatment->whens.items[j]);
        }
        if (trial->fixed[i] || !trial->live[i])
            continue;
        if (!treatment->task || treatment->whens.count == 0) {
            keep_season(trial, i);
            trial->grounded[i] = true;
        }
        for (size_t j = 0; j < model->limits.count; j++)
            if (limit_speaks_of(trial, model->limits.items[j], i))
                close_days(trial, model->limits.items[j], i);
    }
    rests(trial);
    ground(trial);
}

/* ---- trying ---- */

static bool holds(const struct trial *trial, int newest)
{
    for (int i = 0; i < trial->constraint_count; i++) {
        const struct trial_constraint *constraint = &trial->constraints[i];
        int from = constraint->from, to = constraint->to;
        if ((from != newest && to != newest) || from > newest || to > newest || trial->left_out[from] ||
            trial->left_out[to] || (trial->fixed[from] && trial->fixed[to]))
            continue;
        if (trial->day[to] < trial->day[from] + constraint->least)
            return false;
    }
    return true;
}

static void note_solution(struct trial *trial)
{
    trial->found = true;
    for (int i = 0; i < trial->count; i++) {
        if (trial->day[i] < trial->least[i])
            trial->least[i] = trial->day[i];
        if (trial->day[i] > trial->greatest[i])
            trial->greatest[i] = trial->day[i];
    }
}

static void try_from(struct trial *trial, int index)
{
    if (index == trial->count) {
        note_solution(trial);
        return;
    }
    bool given = trial->fixed[index] || !trial->live[index] || trial->left_out[index];
    for (int day = 0; day < (given ? 1 : trial->day_count); day++) {
        trial->day[index] = trial->fixed[index] ? trial->fixed_day[index] : day;
        if ((given || trial->allowed[index][day]) && holds(trial, index))
            try_from(trial, index + 1);
    }
}

void trial_again(struct trial *trial)
{
    trial->found = false;
    for (int i = 0; i < trial->count; i++) {
        trial->least[i] = INT_MAX;
        trial->greatest[i] = INT_MIN;
    }
    try_from(trial, 0);
}

/* ---- waits ---- */

struct trial_rule {
    enum { EITHER, FROM_FIRST, AT_MOST } kind;
    const struct zone *zone;
    const struct limit *limit;     /* or */
    const struct product *product; /* a label's interval */
    int days;
};

static bool on_one_day(const struct trial *trial, int a, int b)
{
    bool pinned = trial->least[a] == trial->greatest[a] && trial->least[b] == trial->greatest[b];
    return trial->group[a] == trial->group[b] || (pinned && trial->least[a] == trial->least[b]);
}

/* Bits: 1 for the first class, 2 for the second. */
static unsigned classes_in(const struct trial *trial, const struct trial_rule *rule, int index)
{
    if (!trial->live[index] || !in_zone(trial, index, rule->zone))
        return 0;
    if (rule->product)
        return brings(trial, index, rule->product, rule->zone) ? 3 : 0;
    if (rule->limit->kind == LIMIT_WAIT)
        return has_nutrient(trial, index, rule->zone, rule->limit->nutrient->nutrient) ? 3 : 0;
    unsigned first = in_class(trial, index, rule->zone, &rule->limit->first),
             second = in_class(trial, index, rule->zone, &rule->limit->second);
    return first | second << 1;
}

/* What one rule orders: those on one day together. */
struct party {
    int member;
    unsigned classes;
    bool fixed, pinned;
    int key, day, text;
};

static int tie_rank(const struct trial *trial, int index);

/* Every rule on every zone, `number` from 0; false after the last. */
static bool rule_at(const struct trial *trial, int number, struct trial_rule *rule)
{
    const struct model *model = trial->season->model;
    for (size_t z = 0; z < model->zones.count; z++) {
        const struct zone *zone = model->zones.items[z];
        for (size_t i = 0; i < model->limits.count; i++) {
            const struct limit *limit = model->limits.items[i];
            *rule = (struct trial_rule){EITHER, zone, limit, NULL, limit->time.days};
            if (limit->kind == LIMIT_FOLLOW)
                rule->kind = AT_MOST;
            else if (limit->kind == LIMIT_WAIT_BETWEEN && limit->directed)
                rule->kind = FROM_FIRST;
            else if (limit->kind != LIMIT_WAIT && limit->kind != LIMIT_WAIT_BETWEEN)
                continue;
            if (limit_binds(limit, zone) && number-- == 0)
                return true;
        }
        for (size_t i = 0; i < model->products.count; i++) {
            const struct product *product = model->products.items[i];
            *rule = (struct trial_rule){EITHER, zone, NULL, product, product->label.interval.days};
            if (rule->days > 0 && number-- == 0)
                return true;
        }
    }
    return false;
}

/* The day of the last thing done that does not leave this (and what shares its day) room before it, by any
 * rule; its own earliest day where that is later. */
static int slot_of(const struct trial *trial, int index)
{
    struct trial_rule rule;
    int slot = trial->least[index], after = slot, before = INT_MIN; /* `before`: as it was */
    bool pinned = trial->fixed[index] || trial->least[index] == trial->greatest[index];
    while (before != slot + after && !pinned) {
        before = slot + after; /* neither shrinks */
        for (int number = 0; rule_at(trial, number, &rule); number++)
            for (int i = 0; i < trial->count && rule.kind != AT_MOST; i++)
                for (int done = 0; done < trial->count; done++) {
                    unsigned own = classes_in(trial, &rule, i), other = classes_in(trial, &rule, done);
                    if (trial->group[i] != trial->group[index] || !trial->fixed[done])
                        continue;
                    for (unsigned class = 1; class <= 2; class ++) {
                        int ahead = rule.kind == EITHER || class == 1 ? rule.days : 1;
                        int behind = rule.kind == EITHER || class == 2 ? rule.days : 1;
                        int day = trial->fixed_day[done];
                        if (!(own & class) || !(other & (3 - class)) || after <= day - ahead)
                            continue;
                        slot = day > slot ? day : slot;
                        after = day + behind > after ? day + behind : after;
                    }
                }
    }
    return slot;
}

static struct party party_of(const struct trial *trial, const struct trial_rule *rule, int index)
{
    struct party party = {
        .member = index, .pinned = trial->least[index] == trial->greatest[index], .text = INT_MAX};
    for (int i = 0; i < trial->count; i++) {
        if (classes_in(trial, rule, i) == 0 || !on_one_day(trial, index, i))
            continue;
        party.fixed |= trial->fixed[i];
        if (tie_rank(trial, i) < party.text)
            party.text = tie_rank(trial, i);
    }
    party.key = slot_of(trial, index);
    party.day = trial->least[index];
    return party;
}

/* Among groups of one earliest day: the next is the first in the text after all that are stated before it. */
static int tie_rank(const struct trial *trial, int index)
{
    bool ranked[TRIAL_OCCURRENCES] = {false};
    for (int rank = 0; rank < trial->count; rank++) {
        int next = -1, any = -1;
        for (int i = 0; i < trial->count; i++) {
            bool ready = true;
            if (ranked[i] || trial->group[i] != i || !trial->live[i] ||
                trial->least[i] != trial->least[index])
                continue;
            for (int j = 0; j < trial->own_count; j++) {
                int from = trial->group[trial->constraints[j].from],
                    to = trial->group[trial->constraints[j].to];
                if (to == i && from != i && trial->constraints[j].least >= 0 && !ranked[from] &&
                    trial->least[from] == trial->least[index])
                    ready = false;
            }
            any = any < 0 ? i : any;
            next = ready && next < 0 ? i : next;
        }
        next = next < 0 ? any : next;
        if (next == trial->group[index])
            return rank;
        if (next >= 0)
            ranked[next] = true;
    }
    return TRIAL_OCCURRENCES;
}

static bool goes_before(const struct party *a, const struct party *b)
{
    if (a->key != b->key)
        return a->key < b->key;
    if (a->fixed != b->fixed)
        return a->fixed;
    if (a->day != b->day)
        return a->day < b->day;
    if (a->pinned != b->pinned)
        return a->pinned;
    return a->text < b->text;
}

static bool party_before(const struct trial *trial, const struct trial_rule *rule, int a, int b)
{
    struct party first = party_of(trial, rule, a), second = party_of(trial, rule, b);
    return !on_one_day(trial, a, b) && goes_before(&first, &second);
}

static bool past(const struct trial *trial, const struct trial_rule *rule, int index)
{
    return party_of(trial, rule, index).fixed;
}

/* `b` at most so long after the last of the first class before it; before the next one where there is none.
 */
static void follow_bind(struct trial *trial, const struct trial_rule *rule, int b,
                        struct trial_constraint *found, int *count)
{
    int last = -1, next = -1;
    for (int a = 0; a < trial->count; a++) {
        if (!(classes_in(trial, rule, a) & 1))
            continue;
        if (on_one_day(trial, a, b))
            return;
        if (party_before(trial, rule, a, b) && (last < 0 || party_before(trial, rule, last, a)))
            last = a;
        if (party_before(trial, rule, b, a) && (next < 0 || party_before(trial, rule, a, next)))
            next = a;
    }
    int other = last >= 0 ? last : next;
    if (other < 0 || (past(trial, rule, other) && past(trial, rule, b)))
        return;
    if (last < 0) {
        found[(*count)++] = (struct trial_constraint){b, next, 0};
        return;
    }
    found[(*count)++] = (struct trial_constraint){last, b, 0};
    found[(*count)++] = (struct trial_constraint){b, last, -rule->days};
}

static void rule_follow(struct trial *trial, const struct trial_rule *rule)
{
    struct trial_constraint found[2 * TRIAL_OCCURRENCES];
    int count = 0;
    for (int b = 0; b < trial->count; b++)
        if ((classes_in(trial, rule, b) & 2) && !trial->fixed[b])
            follow_bind(trial, rule, b, found, &count);
    for (int i = 0; i < count; i++)
        constrain(trial, found[i].from, found[i].to, found[i].least);
}

static void rule_apply(struct trial *trial, const struct trial_rule *rule)
{
    struct trial_constraint found[TRIAL_OCCURRENCES * TRIAL_OCCURRENCES];
    int count = 0;
    for (int i = 0; i < trial->count; i++)
        for (int j = 0; j < trial->count; j++) {
            unsigned a = classes_in(trial, rule, i), b = classes_in(trial, rule, j);
            bool apart = ((a & 1) && (b & 2)) || ((a & 2) && (b & 1));
            if (i == j || !apart || on_one_day(trial, i, j))
                continue;
            struct party first = party_of(trial, rule, i), second = party_of(trial, rule, j);
            bool counts = rule->kind == EITHER || ((a & 1) && (b & 2));
            if (goes_before(&first, &second) && !(first.fixed && second.fixed))
                found[count++] = (struct trial_constraint){i, j, counts ? rule->days : 1};
        }
    for (int i = 0; i < count; i++)
        constrain(trial, found[i].from, found[i].to, found[i].least);
}

static void waits(struct trial *trial)
{
    struct trial_rule rule;
    for (int number = 0; rule_at(trial, number, &rule); number++)
        if (rule.kind == AT_MOST)
            rule_follow(trial, &rule);
        else
            rule_apply(trial, &rule);
}

/* ---- kinds in an order ---- */

static int order_rank(const struct trial *trial, const struct limit *limit, int index,
                      const struct zone *zone)
{
    for (size_t i = 0; i < limit->classes.count && in_zone(trial, index, zone); i++)
        if (in_class(trial, index, zone, &limit->classes.items[i]))
            return (int)i;
    return -1;
}

static void orders(struct trial *trial)
{
    const struct model *model = trial->season->model;
    for (size_t l = 0; l < model->limits.count; l++)
        for (size_t z = 0; z < model->zones.count; z++) {
            const struct limit *limit = model->limits.items[l];
            const struct zone *zone = model->zones.items[z];
            if (limit->kind != LIMIT_ORDER || !limit_binds(limit, zone))
                continue;
            for (int i = 0; i < trial->count; i++)
                for (int j = 0; j < trial->count; j++) {
                    int first = order_rank(trial, limit, i, zone), second = order_rank(trial, limit, j, zone);
                    if (first >= 0 && second > first && trial->live[i] && trial->live[j])
                        relate(trial, i, j, 0, -1);
                }
        }
}

bool trial_run(struct trial *trial, const struct season *season, bool records, day_number first,
               int day_count)
{
    memset(trial, 0, sizeof *trial);
    *trial = (struct trial){.season = season, .records = records, .first = first, .day_count = day_count};
    trial->count = (int)season->occurrences.count;
    assert(trial->count <= TRIAL_OCCURRENCES && day_count <= TRIAL_DAYS);
    for (int i = 0; i < trial->count; i++) {
        const struct occurrence *occurrence = occurrence_at(trial, i);
        trial->group[i] = i;
        trial->live[i] = records ? !occurrence->skipped : !added(trial, i);
        trial->fixed[i] = trial->grounded[i] = records && occurrence->done;
        trial->fixed_day[i] = occurrence->done ? occurrence->record->day - first : 0;
        for (int day = 0; day < day_count; day++)
            trial->allowed[i][day] = true;
    }
    own_statements(trial);
    orders(trial);
    trial->own_count = trial->constraint_count;
    trial_again(trial);
    if (!trial->found)
        return false;
    waits(trial);
    trial_again(trial);
    return true;
}

int trial_slip_alone(struct trial *trial, int occurrence)
{
    int slip = trial->least[occurrence];
    for (int day = slip; day < trial->day_count && !trial->fixed[occurrence]; day++) {
        bool good = true;
        for (int i = 0; i < trial->count; i++) {
            bool moved = trial->group[i] == trial->group[occurrence] && trial->live[i];
            trial->day[i] = trial->fixed[i] ? trial->fixed_day[i] : moved ? day : trial->least[i];
            good &= !moved || trial->allowed[i][day];
        }
        for (int i = 0; i < trial->count; i++)
            good &= holds(trial, i);
        slip = good ? day : slip;
    }
    return slip;
}
