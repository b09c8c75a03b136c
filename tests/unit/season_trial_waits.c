/* The waits of a trial: which party goes before which, and how long after. */
#include "tests/unit/season_trial_parts.h"

#include <limits.h>

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
    if (!trial->live[index] || !trial_in_zone(trial, index, rule->zone))
        return 0;
    if (rule->product)
        return trial_brings(trial, index, rule->product, rule->zone) ? 3 : 0;
    if (rule->limit->kind == LIMIT_WAIT)
        return trial_has_nutrient(trial, index, rule->zone, rule->limit->nutrient->nutrient) ? 3 : 0;
    unsigned first = trial_in_class(trial, index, rule->zone, &rule->limit->first),
             second = trial_in_class(trial, index, rule->zone, &rule->limit->second);
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
            if (limit_binds(limit, zone) && limit_dates(model, limit) && number-- == 0)
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
        trial_constrain(trial, found[i].from, found[i].to, found[i].least);
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
        trial_constrain(trial, found[i].from, found[i].to, found[i].least);
}

void trial_waits(struct trial *trial)
{
    struct trial_rule rule;
    for (int number = 0; rule_at(trial, number, &rule); number++)
        if (rule.kind == AT_MOST)
            rule_follow(trial, &rule);
        else
            rule_apply(trial, &rule);
}
