#include "compiler/check/slip.h"

#include "compiler/check/checking.h"
#include "compiler/season/precedence.h"
#include "compiler/season/risk.h"

/* What all trials of a plan may count as (trial_work): enough for some 400 applications that have a month
 * each. */
static const uint64_t WORK_LIMIT = 150000000;

struct slipping {
    struct season *season;
    struct season judged;   /* the same with reports of its own */
    struct model model;     /* of `judged` */
    struct reports reports; /* of one trial */
    struct checking *checking;
    /* What cannot feel each other's days is in different clusters. */
    uint32_t *cluster;                 /* by occurrence: named after a treatment of it */
    uint32_t *members, *members_start; /* occurrences by cluster */
    uint32_t *at;                      /* by occurrence: where it is among them */
    uint64_t work;                     /* done */
    uint64_t reserve;                  /* of the plan's work: left to what comes after */
    bool hold;
};

/* ---- who can feel whose day ---- */

/* Treatments come first, then zones. What names no zone concerns them all where it has a kind. */
static void clusters_make(struct slipping *slipping)
{
    const struct season *season = slipping->season;
    const struct model *model = season->model;
    uint32_t zones = (uint32_t)model->treatments.count, count = (uint32_t)season->occurrences.count;
    uint32_t *groups = groups_new(season->arena, zones + (uint32_t)model->zones.count);
    for (size_t i = 0; i < model->treatments.count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        uint32_t self = treatment->index;
        for (size_t j = 0; j < treatment->whens.count; j++)
            if (treatment->whens.items[j].other)
                group_join(groups, self, treatment->whens.items[j].other->index);
        for (size_t j = 0; j < treatment->zones.count; j++)
            group_join(groups, self, zones + treatment->zones.items[j]->index);
        for (uint32_t j = 0; j < model->zones.count && !treatment->zones.count && treatment->kinds.count; j++)
            group_join(groups, self, zones + j);
    }
    for (size_t i = 0; i < count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        uint32_t self = occurrence->treatment->index;
        for (size_t j = 0; j < occurrence->amounts.count; j++)
            group_join(groups, self, zones + occurrence->amounts.items[j].zone->index);
        for (size_t j = 0; j < occurrence->zones.count; j++)
            group_join(groups, self, zones + occurrence->zones.items[j]->index);
    }
    slipping->cluster = ARENA_ARRAY(season->arena, count, uint32_t);
    for (uint32_t i = 0; i < count; i++)
        slipping->cluster[i] = group_of(groups, season->occurrences.items[i].treatment->index);
    struct keyed members = sort_by_key(season->arena, slipping->cluster, count, zones);
    slipping->members = members.items;
    slipping->members_start = members.start;
    slipping->at = ARENA_ARRAY(season->arena, count, uint32_t);
    for (uint32_t i = 0; i < count; i++)
        slipping->at[members.items[i]] = i;
}

/* What one trial counts as: it dates its members alone, but of a large plan fewer are made, so that a
 * calendar takes little more than reading the plan does. */
static uint64_t trial_work(const struct season *season, const struct day_trial *trial)
{
    uint64_t members = 0;
    for (uint32_t i = 0; i < trial->member_count; i++)
        members += 1 + season->occurrences.items[trial->members[i]].amounts.count;
    return 1000 + 40 * (uint64_t)season->occurrences.count +
           (uint64_t)season->model->limits.count * (season->model->zones.count + 8) + 200 * members;
}

static bool work_is_spent(const struct slipping *slipping)
{
    return slipping->work > WORK_LIMIT || arena_work_left(slipping->season->arena) < slipping->reserve;
}

/* ---- a day tried ---- */

struct tried {
    bool passes, moves;
};

/* Runs the checks that a day can make find an error. */
static bool breaks_nothing(struct slipping *slipping, struct season *tried)
{
    reports_init(&slipping->reports, tried->arena);
    struct checking checking = *slipping->checking;
    checking.season = tried;
    checking.seen = ARENA_ARRAY(tried->arena, CHECK_COUNT, struct seen_set);
    for (enum check_id id = 0; id < CHECK_COUNT && slipping->reports.errors == 0; id++)
        if (CHECKS[id].days == BY_DAY)
            check_run(&checking, id);
    return slipping->reports.errors == 0;
}

static struct place bound_place(const struct season *season, uint32_t cause)
{
    return cause == TIMETABLE_NONE ? (struct place){0} : season_bound(season, cause)->place;
}

static bool bound_of_season(const struct season *season, uint32_t cause)
{
    return cause != TIMETABLE_NONE && season_bound(season, cause)->kind == BOUND_SEASON;
}

/* What the day breaks: of a contradiction the cause of its end leaves the last word, as far as that has one;
 * otherwise the first error found. */
static void reason_find(const struct slipping *slipping, const struct season *season, struct slip *slip)
{
    slip->end = SLIP_BROKEN;
    if (!season->dated) {
        const struct timetable_contradiction *contradiction = season->timetable.contradictions;
        uint32_t cause = TIMETABLE_NONE;
        for (uint32_t i = 0; i < contradiction->step_count; i++)
            if (contradiction->steps[i].cause != TIMETABLE_NONE)
                cause = contradiction->steps[i].cause;
        slip->check = CHECKS[CHECK_NO_DAY].rule.name;
        slip->end = bound_of_season(season, cause) ? SLIP_SEASON : SLIP_BROKEN;
        slip->at = bound_place(season, cause);
    } else {
        const struct report *report = slipping->reports.all.items[0];
        for (size_t i = 0; report->severity != SEVERITY_ERROR; i++)
            report = slipping->reports.all.items[i];
        slip->check = report->rule->name;
        slip->at =
            report->labels.count ? report->labels.items[report->labels.count - 1].place : report->place;
    }
}

/* Whether the day passes everything, and whether others of its cluster move then. Where it does not, `slip`
 * is told why; NULL where nobody asks. */
static struct tried day_try(struct slipping *slipping, struct day_trial *trial, day_number day,
                            struct slip *slip)
{
    const struct season *season = slipping->season;
    struct arena *arena = season->arena;
    struct arena_mark mark = arena_mark(arena);
    uint32_t own = season->node_of[trial->members[trial->member]];
    trial->day = day;
    trial->reasons = slip != NULL;
    struct season *other = season_day_trial(&slipping->judged, trial);
    struct tried tried = {.passes = other->dated && breaks_nothing(slipping, other)};
    for (uint32_t i = 0; tried.passes && !tried.moves && i < trial->member_count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[trial->members[i]];
        tried.moves = season->node_of[occurrence->index] != own && occurrence->dated &&
                      other->occurrences.items[i].day != occurrence->day;
    }
    if (!tried.passes && slip)
        reason_find(slipping, other, slip);
    arena_rewind(arena, mark);
    slipping->work += trial_work(season, trial) * (!tried.passes && slip ? 5 : 1);
    return tried;
}

/* ---- the days of a node ---- */

/* Goes on to the next open day; false where the slip ends before it, and `slip` says why: of a long row of
 * closed days the set that closes most of them. */
static bool day_open(const struct season *season, const struct timetable_node *node, day_number *day,
                     struct slip *slip)
{
    const struct timetable_window *late = NULL;
    day_number first = *day, end = season->model->season_last;
    for (; *day <= end; ++*day) {
        bool shut = false;
        for (uint32_t i = 0; i < node->window_count && !late; i++)
            late = node->windows[i].last < *day ? &node->windows[i] : NULL;
        for (const struct timetable_closure *set = node->closures; set && !late && !shut; set = set->next)
            shut = !day_set_contains(set->days, *day);
        if (!shut)
            break;
    }
    bool over = *day > end || late;
    if (*day - first >= SLIP_GAP) {
        const struct timetable_closure *most = NULL;
        int most_closed = 0;
        for (const struct timetable_closure *set = node->closures; set; set = set->next) {
            int closed = 0;
            for (day_number at = first; at < *day; at++)
                closed += !day_set_contains(set->days, at);
            most = closed > most_closed ? set : most;
            most_closed = closed > most_closed ? closed : most_closed;
        }
        slip->end = SLIP_CLOSED;
        slip->at = bound_place(season, most ? most->cause : TIMETABLE_NONE);
        slip->opens = over ? DAY_NEVER : *day;
    } else if (over) {
        bool of_season = !late || bound_of_season(season, late->cause);
        slip->end = of_season ? SLIP_SEASON : SLIP_WINDOW;
        slip->at = of_season ? season->model->season_place : bound_place(season, late->cause);
    }
    return slip->end == SLIP_NOT_ASKED;
}

static struct slip slip_unknown(const struct occurrence *occurrence)
{
    return (struct slip){.end = SLIP_UNKNOWN,
                         .latest = occurrence->day,
                         .alone = occurrence->day,
                         .farthest = occurrence->day};
}

/* Day by day from the planned one on, until one is closed for long or breaks something. */
static struct slip node_slip(struct slipping *slipping, const struct occurrence *occurrence)
{
    const struct season *season = slipping->season;
    const struct timetable_node *node = &season->nodes[season->node_of[occurrence->index]];
    struct slip slip = {.latest = occurrence->day, .alone = occurrence->day};
    const uint32_t *start = &slipping->members_start[slipping->cluster[occurrence->index]];
    struct day_trial trial = {.members = &slipping->members[start[0]],
                              .member_count = start[1] - start[0],
                              .member = slipping->at[occurrence->index] - start[0],
                              .hold = slipping->hold};
    bool moves = false;
    for (day_number day = occurrence->day + 1; day_open(season, node, &day, &slip); day++) {
        if (work_is_spent(slipping))
            return slip_unknown(occurrence);
        struct tried tried = day_try(slipping, &trial, day, &slip);
        if (!tried.passes)
            break;
        moves = moves || tried.moves;
        slip.latest = day;
        slip.alone = moves ? slip.alone : day;
    }
    /* What goes by the weather may have a better day behind long closed ones. */
    struct slip on = {.end = slip.end, .opens = slip.opens};
    slip.farthest = slip.alone;
    bool goes_on = slip.alone >= slip.latest && season_asks_weather(season, occurrence);
    while (goes_on && on.end == SLIP_CLOSED && on.opens != DAY_NEVER) {
        day_number day = on.opens;
        for (on.end = SLIP_NOT_ASKED; day_open(season, node, &day, &on); day++) {
            struct tried tried = day_try(slipping, &trial, day, NULL);
            if (!tried.passes || tried.moves || work_is_spent(slipping))
                return slip;
            slip.farthest = day;
        }
    }
    return slip;
}

/* ---- all of them ---- */

/* Occurrences of one node share its slip. What was done keeps its day. The names of the checks, which a
 * report looks up, are known before the first trial: a name first met in one would be gone with it. Where
 * rates were chosen nothing may come earlier than it was chosen for. */
void slips_find(struct season *season)
{
    struct slipping slipping = {.season = season, .judged = *season, .model = *season->model};
    struct slip *slips = ARENA_ARRAY(season->arena, (size_t)season->node_count + 1, struct slip);
    /* A trial takes no more than the checks of the plan did. */
    uint64_t half = arena_work_left(season->arena) / 2, taken = season->arena->steps;
    slipping.reserve = half > taken ? half : taken;
    slipping.model.reports = &slipping.reports;
    slipping.judged.model = &slipping.model;
    slipping.checking = checking_new(&slipping.judged, true, true);
    for (size_t i = 0; i < season->model->treatments.count; i++)
        slipping.hold = slipping.hold || season->model->treatments.items[i]->open;
    clusters_make(&slipping);
    for (enum check_id id = 0; id < CHECK_COUNT; id++)
        name_intern(season->model->names, text_of(CHECKS[id].rule.name));
    for (size_t i = 0; i < season->calendar_count; i++) {
        struct occurrence *occurrence = season->calendar[i];
        if (occurrence->done || occurrence->slip->end != SLIP_NOT_ASKED)
            continue;
        struct slip *slip = &slips[season->node_of[occurrence->index]];
        if (slip->end == SLIP_NOT_ASKED)
            *slip = season->dated ? node_slip(&slipping, occurrence) : slip_unknown(occurrence);
        occurrence->slip = slip;
    }
}
