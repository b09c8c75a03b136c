#include "tests/unit/season_trial_parts.h"

#include <assert.h>
#include <limits.h>
#include <string.h>

const struct occurrence *trial_occurrence(const struct trial *trial, int index)
{
    return &trial->season->occurrences.items[index];
}

const struct treatment *trial_treatment(const struct trial *trial, int index)
{
    return trial_occurrence(trial, index)->treatment;
}

void trial_constrain(struct trial *trial, int from, int to, int least)
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
    enum occurrence_share share = trial_occurrence(trial, index)->share;
    return share == SHARE_PART || share == SHARE_BEYOND;
}

static int live_time(const struct trial *trial, const struct treatment *treatment, bool last)
{
    int found = -1;
    for (int i = 0; i < trial->count; i++)
        if (trial_treatment(trial, i) == treatment && trial->live[i] && !added(trial, i) &&
            (last || found < 0))
            found = i;
    return found;
}

/* Nothing of it is to come any more: then the last that was done of it counts. */
static int last_done(const struct trial *trial, const struct treatment *treatment, int planned)
{
    int found = planned;
    for (int i = 0; i < trial->count && (planned < 0 || trial->fixed[planned]); i++)
        if (trial_treatment(trial, i) == treatment && trial->live[i] && added(trial, i) &&
            (found < 0 || trial->fixed_day[i] > trial->fixed_day[found]))
            found = i;
    return found;
}

static int partner(const struct trial *trial, int index, const struct when *when)
{
    bool before = when->kind == WHEN_AT_LEAST_BEFORE || when->kind == WHEN_EXACTLY_BEFORE;
    for (int i = 0; when->kind == WHEN_SAME_DAY && i < trial->count; i++)
        if (trial_treatment(trial, i) == when->other && !added(trial, i) &&
            trial_occurrence(trial, i)->times == trial_occurrence(trial, index)->times &&
            trial_occurrence(trial, i)->time == trial_occurrence(trial, index)->time)
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
    trial_constrain(trial, early, late, least);
    if (most >= 0)
        trial_constrain(trial, late, early, -most);
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
    int time = trial_occurrence(trial, index)->time, before = -1, done = -1;
    for (int i = 0; i < index; i++)
        if (trial_treatment(trial, i) == trial_treatment(trial, index) && trial->live[i]) {
            before = i;
            done = trial->fixed[i] ? i : done;
        }
    if (before >= 0)
        relate(trial, before, index, every->wait.days, -1);
    if (trial->fixed[index])
        return;
    day_number end = every->first + time * every->wait.days - 1;
    if (done >= 0) {
        const struct occurrence *last = trial_occurrence(trial, done);
        day_number moved = last->record->day + (time - last->time + 1) * every->wait.days - 1;
        end = moved > end ? moved : end;
    }
    if (every->times == 0 && every->last < end)
        end = every->last;
    keep(trial, index, every->first + (time - 1) * every->wait.days, end);
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
            if (trial->live[i] && trial->live[j] && trial_occurrence(trial, i)->share == SHARE_PART &&
                trial_occurrence(trial, j)->share == SHARE_REST &&
                trial_treatment(trial, i) == trial_treatment(trial, j) &&
                trial_occurrence(trial, i)->time == trial_occurrence(trial, j)->time)
                relate(trial, i, j, 0, -1);
}

static void own_statements(struct trial *trial)
{
    const struct model *model = trial->season->model;
    for (int i = 0; i < trial->count; i++) {
        const struct treatment *treatment = trial_treatment(trial, i);
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
            if (trial_limit_speaks_of(trial, model->limits.items[j], i))
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

/* ---- kinds in an order ---- */

static int order_rank(const struct trial *trial, const struct limit *limit, int index,
                      const struct zone *zone)
{
    for (size_t i = 0; i < limit->classes.count && trial_in_zone(trial, index, zone); i++)
        if (trial_in_class(trial, index, zone, &limit->classes.items[i]))
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
        const struct occurrence *occurrence = trial_occurrence(trial, i);
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
    trial_waits(trial);
    trial_again(trial);
    return true;
}
