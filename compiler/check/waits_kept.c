/* Days that must lie between: waits of limits, intervals of labels. What shares a day is one application, and
 * no wait of one nutrient, kind or product counts within it; two kinds that must lie apart do not share it.
 * The dates were chosen to keep these; here they are looked at again by other means, and records, which
 * nobody chose, for the first time. */
#include "compiler/check/checking.h"

struct gap {
    const struct zone *zone;
    const struct occurrence *earlier, *later;
    struct duration least; /* what the limit or label requires */
    const char *between;   /* "between N applications" */
};

/* `planned` while one of the two can still move, `recorded` once both have happened. "b on Sat 2027-04-10
 * comes 6 days after a on north; the limit requires at least
 * 28 days between N applications" */
static struct report *report_gap(struct checking *checking, const struct limit *limit, enum check_id planned,
                                 enum check_id recorded, const struct gap *gap)
{
    struct reports *reports = checking->model->reports;
    const struct occurrence *earlier = gap->earlier, *later = gap->later;
    bool happened = earlier->done && later->done;
    const char *date = display_date(checking->arena, later->day);
    const char *first = name_string(earlier->treatment->symbol.name);
    const char *second = name_string(later->treatment->symbol.name);
    const char *zone = name_string(gap->zone->symbol.name);
    struct buffer text = {.arena = checking->arena};
    if (earlier == later)
        buffer_format(&text, "%s %s both to %s on %s", first, happened ? "applied" : "applies", zone, date);
    else if (earlier->day == later->day)
        buffer_format(&text, "%s and %s %s a day on %s", first, second, happened ? "shared" : "share", zone);
    else
        buffer_format(&text, "%s on %s %s %s", second, date, happened ? "came" : "comes",
                      display_days(checking->arena, later->day - earlier->day));
    if (earlier->day != later->day)
        buffer_format(&text, " after %s on %s", first, zone);
    else if (earlier != later)
        buffer_format(&text, ", %s", date);
    buffer_format(&text, "; the %s requires at least %s %s", limit ? "limit" : "label",
                  display_duration(checking->arena, gap->least), gap->between);
    struct report *report =
        limit_finding(checking, limit, happened ? recorded : planned,
                      ABOUT(&gap->zone->symbol, &later->treatment->symbol, &earlier->treatment->symbol),
                      occurrence_place(later), "%s", buffer_string(&text));
    if (earlier != later)
        report_label(reports, report, occurrence_place(earlier), "%s on %s", first,
                     display_date(checking->arena, earlier->day));
    if (!later->done)
        report_help(reports, report,
                    earlier == later ? "apply one of them in a treatment of its own, on %s or later"
                                     : "move it to %s or later",
                    display_date(checking->arena, day_after(earlier->day, gap->least)));
    return report;
}

/* ---- limits ---- */

/* Kinds of one set that is always may be two names of one thing: the two treatments are told of once. */
static void report_limit_gap(struct checking *checking, const struct limit *limit, struct gap gap)
{
    const struct name *name = limit->set->symbol.name; /* a set that is always has one */
    uint64_t pair = (uint64_t)gap.earlier->index << 32 | (name ? name->id : UINT32_MAX);
    if (limit->set->always &&
        !finding_once_by(checking, CHECK_WAIT_TOO_SHORT, occurrence_place(gap.later), pair,
                         zone_allowed(checking, CHECK_WAIT_TOO_SHORT, limit, gap.zone)))
        return;
    limit_label(checking, report_gap(checking, limit, CHECK_WAIT_TOO_SHORT, CHECK_RECORD_WAIT_SHORT, &gap),
                limit);
}

static const char *class_text(struct checking *checking, const struct treatment_class *class)
{
    return class->nutrient ? class->nutrient->name : text_string(checking->arena, class->kind->text);
}

/* What of one visit is of a class: the products that are, or the work itself where it puts nothing down. */
struct class_members {
    const void *only; /* the first of them; NULL: none is */
    bool several;
};

/* One occurrence on one zone: what it puts down there; work that puts nothing down too. */
struct visit {
    const struct occurrence *occurrence;
    size_t first, count;             /* its amounts in visits->amounts */
    struct class_members members[2]; /* of the two classes of the limit looked at */
};

struct visits { /* what reaches one zone, by day, then order of the day */
    struct visit *items;
    size_t count, capacity;
    VECTOR(const struct amount *) amounts;
};

/* What really went down on the zone counts too, where the treatment did not foresee it. */
static bool visit_in_class(const struct visits *visits, const struct visit *visit,
                           const struct treatment_class *class)
{
    for (size_t i = 0; i < visit->count && visit->occurrence->done; i++)
        if (product_in_class(visits->amounts.items[visit->first + i]->product, class))
            return true;
    return occurrence_in_class(visit->occurrence, class);
}

/* The last visit of each class on a day before, and on the day looked at. */
struct class_days {
    const struct treatment_class *class, *other;
    const struct occurrence *before, *today;
};

static struct visit *visit_add(struct checking *checking, struct visits *visits,
                               const struct occurrence *occurrence)
{
    struct visit visit = {.occurrence = occurrence, .first = visits->amounts.count};
    if (!visits->count || visits->items[visits->count - 1].occurrence != occurrence)
        VECTOR_PUSH(arena_scratch(checking->arena), visits, visit);
    return &visits->items[visits->count - 1];
}

/* One a zone. A record counts where it says something was used; work without amounts counts where it was
 * planned, and work that names no zone counts everywhere. */
static struct visits *visits_gather(struct checking *checking)
{
    const struct season *season = checking->season;
    size_t zones = checking->model->zones.count;
    struct arena *scratch = arena_scratch(checking->arena);
    struct visits *visits = ARENA_ARRAY(scratch, zones + 1, struct visits);
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        size_t amounts = occurrence->amounts.count, named = occurrence->zones.count;
        if (occurrence->skipped || occurrence->treatment->symbol.broken)
            continue;
        for (size_t j = 0; j < amounts; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            struct visits *of_zone = &visits[amount->zone->index];
            visit_add(checking, of_zone, occurrence)->count++;
            VECTOR_PUSH(scratch, &of_zone->amounts, amount);
        }
        for (size_t j = 0; j < named && !amounts; j++)
            visit_add(checking, &visits[occurrence->zones.items[j]->index], occurrence);
        for (size_t j = 0; j < zones && !amounts && !named; j++)
            visit_add(checking, &visits[j], occurrence);
    }
    return visits;
}

/* Work without amounts is of a class by what it does, work with amounts by what it puts down. */
static struct class_members visit_members(const struct visits *visits, const struct visit *visit,
                                          const struct treatment_class *class)
{
    const struct occurrence *occurrence = visit->occurrence;
    struct class_members members = {0};
    if (!occurrence->amounts.count)
        members.only =
            occurrence->treatment->task && occurrence_in_class(occurrence, class) ? occurrence : NULL;
    for (size_t i = 0; i < visit->count && !members.several; i++) {
        const struct product *product = visits->amounts.items[visit->first + i]->product;
        if (!product_in_class(product, class))
            continue;
        members.several = members.only && members.only != product;
        members.only = members.only ? members.only : product;
    }
    return members;
}

/* Waits between two kinds or nutrients: the last of the one on a day before what is of the other; and on one
 * day the last visit of which something is of the one class and another thing of the other, in either order.
 * What is of both classes itself (a product of lime and N) does not wait for itself. */
static void check_visits_between(struct checking *checking, const struct limit *limit,
                                 const struct zone *zone, struct visits *visits)
{
    struct class_days classes[] = {{&limit->first, &limit->second, NULL, NULL},
                                   {&limit->second, &limit->first, NULL, NULL}};
    bool same =
        limit->first.nutrient && limit->second.nutrient
            ? limit->first.nutrient->nutrient == limit->second.nutrient->nutrient
            : limit->first.nutrient == limit->second.nutrient && limit->first.kind == limit->second.kind;
    for (size_t i = 0; i < visits->count; i++) {
        struct visit *visit = &visits->items[i];
        const struct occurrence *later = visit->occurrence, *earlier = NULL, *today = NULL;
        for (size_t j = 0; j < (limit->directed ? 1 : 2); j++) {
            struct class_days *days = &classes[j];
            if (days->today && days->today->day != later->day) {
                days->before = days->today;
                days->today = NULL;
            }
            if (visit_in_class(visits, visit, days->class))
                days->today = later;
            if (visit_in_class(visits, visit, days->other) && days->before &&
                (!earlier || days->before->day > earlier->day))
                earlier = days->before;
        }
        visit->members[0] = visit_members(visits, visit, &limit->first);
        visit->members[1] = visit_members(visits, visit, &limit->second);
        /* Most work is of neither class: it is not held against all else of its day. */
        bool of_either = visit->members[0].only || visit->members[1].only;
        for (size_t j = i + 1; !same && of_either && !today && j-- > 0;) {
            const struct visit *other = &visits->items[j];
            if (other->occurrence->day != later->day)
                break;
            for (int k = 0; k < 2; k++) {
                const struct class_members *one = &other->members[k], *two = &visit->members[1 - k];
                if (one->only && two->only && (one->several || two->several || one->only != two->only))
                    today = other->occurrence;
            }
        }
        earlier = today ? today : earlier;
        if (earlier && later->day < day_after(earlier->day, limit->time)) {
            const char *between =
                text_format(checking->arena, limit->directed ? "from %s to %s" : "between %s and %s",
                            class_text(checking, &limit->first), class_text(checking, &limit->second));
            report_limit_gap(checking, limit, (struct gap){zone, earlier, later, limit->time, between});
        }
    }
}

/* Calls `check` for what reaches each zone that each limit of the kind binds. */
static void check_visits(struct checking *checking, enum limit_kind kind,
                         void (*check)(struct checking *, const struct limit *, const struct zone *,
                                       struct visits *))
{
    const struct limit *limit;
    struct visits *visits = NULL;
    struct arena *scratch = arena_scratch(checking->arena);
    struct arena_mark mark = arena_mark(scratch);
    for (size_t at = 0; (limit = limit_next(checking, kind, &at)) != NULL;) {
        if (limit->idle)
            continue;
        visits = visits ? visits : visits_gather(checking);
        for (size_t i = 0; i < checking->model->zones.count; i++)
            if (ledger_bound(checking, limit, &checking->season->ledgers[i]))
                check(checking, limit, checking->model->zones.items[i], &visits[i]);
    }
    arena_rewind(scratch, mark);
}

/* ---- at most so long after ---- */

/* What is of the second class lies within the time after the last of the first, before it or on its day; what
 * has none of the first before it is free. */
static void check_visits_follow(struct checking *checking, const struct limit *limit, const struct zone *zone,
                                struct visits *visits)
{
    const struct occurrence *earlier = NULL;
    size_t ahead = 0; /* looks at the whole of a day before what follows on it */
    for (size_t i = 0; i < visits->count; i++) {
        const struct occurrence *later = visits->items[i].occurrence;
        for (; ahead < visits->count && visits->items[ahead].occurrence->day <= later->day; ahead++)
            if (visit_in_class(visits, &visits->items[ahead], &limit->first))
                earlier = visits->items[ahead].occurrence;
        if (!earlier || !visit_in_class(visits, &visits->items[i], &limit->second) ||
            later->day <= day_after(earlier->day, limit->time))
            continue;
        /* "b on Sat 2027-04-10 comes 6 days after a on north; the limit allows at most 3 days from aerate to
         * topdress" */
        const char *first = name_string(earlier->treatment->symbol.name);
        struct buffer text = {.arena = checking->arena};
        buffer_format(&text, "%s on %s %s %s", name_string(later->treatment->symbol.name),
                      display_date(checking->arena, later->day), later->done ? "came" : "comes",
                      display_days(checking->arena, later->day - earlier->day));
        buffer_format(&text, " after %s on %s; the limit allows at most %s", first,
                      name_string(zone->symbol.name), display_duration(checking->arena, limit->time));
        buffer_format(&text, " from %s to %s", class_text(checking, &limit->first),
                      class_text(checking, &limit->second));
        struct report *report =
            limit_finding(checking, limit, later->done ? CHECK_RECORD_WAIT_LONG : CHECK_WAIT_TOO_LONG,
                          ABOUT(&zone->symbol, &later->treatment->symbol, &earlier->treatment->symbol),
                          occurrence_place(later), "%s", buffer_string(&text));
        report_label(checking->model->reports, report, occurrence_place(earlier), "%s on %s", first,
                     display_date(checking->arena, earlier->day));
        limit_label(checking, report, limit);
    }
}

/* ---- in an order ---- */

/* A visit of an earlier class after one of a later class is out of order; each is told beside the furthest.
 */
static void check_visits_order(struct checking *checking, const struct limit *limit, const struct zone *zone,
                               struct visits *visits)
{
    const struct occurrence *early = NULL;
    size_t furthest = 0;
    for (size_t i = 0; i < visits->count; i++) {
        const struct occurrence *late = visits->items[i].occurrence;
        size_t rank = 0;
        while (rank < limit->classes.count &&
               !visit_in_class(visits, &visits->items[i], &limit->classes.items[rank]))
            rank++;
        if (rank == limit->classes.count)
            continue;
        if (!early || rank >= furthest) {
            early = late;
            furthest = rank;
            continue;
        }
        const char *date = display_date(checking->arena, late->day);
        const char *first =
            text_format(checking->arena, "%s %s on %s", name_string(early->treatment->symbol.name),
                        early->done ? "was done" : "falls", display_date(checking->arena, early->day));
        struct report *report = limit_finding(
            checking, limit, early->done ? CHECK_RECORD_OUT_OF_ORDER : CHECK_KINDS_OUT_OF_ORDER,
            ABOUT(&zone->symbol, &early->treatment->symbol, &late->treatment->symbol),
            occurrence_place(early), "%s, before %s on %s; the limit requires the other order on %s", first,
            name_string(late->treatment->symbol.name), date, name_string(zone->symbol.name));
        report_label(checking->model->reports, report, occurrence_place(late), "%s on %s",
                     name_string(late->treatment->symbol.name), date);
        limit_label(checking, report, limit);
    }
}

/* ---- all of them ---- */

/* Waits of one nutrient, then those between two kinds, and how these are to follow each other. */
void check_waits(struct checking *checking)
{
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_WAIT, &at)) != NULL;)
        for (size_t i = 0; i < checking->model->zones.count; i++) {
            const struct ledger *ledger = &checking->season->ledgers[i];
            const struct application *earlier = NULL;
            if (!ledger_bound(checking, limit, ledger))
                continue;
            for (size_t j = 0; j < ledger->applications.count; j++) {
                const struct application *later = &ledger->applications.items[j];
                if (!(later->supplied[limit->nutrient->nutrient] > 0))
                    continue;
                if (earlier && later->day < day_after(earlier->day, limit->time))
                    report_limit_gap(
                        checking, limit,
                        (struct gap){
                            ledger->zone, application_lead(earlier, limit->nutrient).occurrence,
                            application_lead(later, limit->nutrient).occurrence, limit->time,
                            text_format(checking->arena, "between %s applications", limit->nutrient->name)});
                earlier = later;
            }
        }
    check_visits(checking, LIMIT_WAIT_BETWEEN, check_visits_between);
    check_visits(checking, LIMIT_FOLLOW, check_visits_follow);
    check_visits(checking, LIMIT_ORDER, check_visits_order);
}

/* ---- labels ---- */

/* When a zone last got a product; `zone` tells whether the entry is of the zone looked at. */
struct last_use {
    const struct zone *zone;
    const struct application *application;
    const struct amount *amount;
};

/* By product the zone's last use; what shares a day is one use. */
void check_label_intervals(struct checking *checking)
{
    struct last_use *uses =
        ARENA_ARRAY(checking->arena, checking->model->products.count + 1, struct last_use);
    for (size_t i = 0; i < checking->model->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[i];
        for (size_t j = 0; j < ledger->applications.count; j++) {
            const struct application *application = &ledger->applications.items[j];
            for (size_t k = 0; k < application->amounts.count; k++) {
                const struct amount *amount = application->amounts.items[k];
                const struct product *product = amount->product;
                struct last_use last = uses[product->index];
                uses[product->index] = (struct last_use){ledger->zone, application, amount};
                if (last.zone != ledger->zone || last.application == application ||
                    application->day >= day_after(last.application->day, product->label.interval))
                    continue;
                struct gap gap = {ledger->zone, application_owner(last.application, last.amount),
                                  application_owner(application, amount), product->label.interval,
                                  text_format(checking->arena, "between treatments with %s",
                                              name_string(product->symbol.name))};
                struct report *report =
                    report_gap(checking, NULL, CHECK_LABEL_INTERVAL, CHECK_RECORD_LABEL_INTERVAL, &gap);
                report_label(checking->model->reports, report, product->label.interval_place, "the label");
            }
        }
    }
}
