/* Running the table, reporting what is found, and the `allow` statements that accept it. */
#include "compiler/check/checking.h"

static uint64_t told_hash(const struct told *told)
{
    uint64_t hash = told->key * 31 + told->place.start;
    return (hash * 31 + told->place.source->index) * 0x9E3779B97F4A7C15U >> 16;
}

static struct told *told_slot(struct told *slots, size_t slot_count, const struct told *told)
{
    size_t at = told_hash(told) & (slot_count - 1);
    while (slots[at].place.source &&
           (slots[at].place.source != told->place.source || slots[at].place.start != told->place.start ||
            slots[at].key != told->key))
        at = (at + 1) & (slot_count - 1);
    return &slots[at];
}

static void told_grow(struct arena *arena, struct told_set *set)
{
    size_t slot_count = set->slot_count ? set->slot_count * 2 : 16;
    struct told *slots = ARENA_ARRAY(arena, slot_count, struct told);
    for (size_t i = 0; i < set->slot_count; i++)
        if (set->slots[i].place.source)
            *told_slot(slots, slot_count, &set->slots[i]) = set->slots[i];
    set->slots = slots;
    set->slot_count = slot_count;
}

size_t told_add(struct arena *arena, struct told_set *set, struct place place, uint64_t key)
{
    struct told told = {place, key, set->count};
    if (set->count * 2 >= set->slot_count)
        told_grow(arena, set);
    struct told *slot = told_slot(set->slots, set->slot_count, &told);
    if (!slot->place.source) {
        *slot = told;
        set->count++;
    }
    return slot->index;
}

bool finding_once(struct checking *checking, enum check_id id, struct place place, uint64_t key)
{
    struct told_set *set = &checking->told[id];
    size_t before = set->count;
    return !place.source || told_add(checking->arena, set, place, key) == before;
}

static bool about_holds(const struct thing *const *about, const struct thing *thing)
{
    while (*about && *about != thing)
        about++;
    return *about != NULL;
}

static bool about_names(const struct thing *const *about, const struct name *name)
{
    while (*about && (*about)->name != name)
        about++;
    return *about != NULL;
}

static bool allowance_covers(const struct allowance *allowance, const struct thing *const *about)
{
    return (!allowance->subject || about_names(about, allowance->subject)) &&
           (!allowance->within || about_holds(about, allowance->within));
}

bool finding_allowed(const struct checking *checking, enum check_id id, const struct thing *const *about)
{
    for (size_t i = 0; i < checking->allowed[id].count; i++)
        if (allowance_covers(checking->allowed[id].items[i], about))
            return true;
    return false;
}

static void finding_allow(struct checking *checking, enum check_id id, const struct thing *const *about,
                          struct report *report)
{
    const struct allowances *allowances = &checking->allowed[id];
    for (size_t i = 0; i < allowances->count; i++) {
        struct allowance *allowance = allowances->items[i];
        if (!allowance_covers(allowance, about))
            continue;
        allowance->hits++;
        report_allow(checking->model->reports, report, allowance->why ? allowance->why : "",
                     allowance->thing.statement);
    }
}

struct report *finding_add(struct checking *checking, enum check_id id, const struct thing *const *about,
                           struct place place, const char *format, ...)
{
    const struct rule *rule = &CHECKS[id].rule;
    va_list arguments;
    va_start(arguments, format);
    const char *sentence = text_vformat(checking->arena, format, arguments);
    va_end(arguments);
    struct report *report = report_add(checking->model->reports, rule, place, "%s", sentence);
    if (rule->severity < SEVERITY_ERROR)
        finding_allow(checking, id, about, report);
    return report;
}

/* ---- allow statements ---- */

static const struct thing *const NOTHING[] = {NULL};

static enum check_id check_of_name(const struct name *name)
{
    enum check_id id = 0;
    while (id < CHECK_COUNT && !text_is(name->text, CHECKS[id].rule.name))
        id++;
    return id;
}

static void report_unknown(struct checking *checking, const struct allowance *allowance)
{
    struct text name = allowance->thing.name->text;
    struct report *report = finding_add(checking, CHECK_ALLOW_UNKNOWN, NOTHING, allowance->thing.place,
                                        "there is no check named %s", text_string(checking->arena, name));
    const struct rule *nearest = rule_nearest(name);
    if (!nearest) {
        report_help(checking->model->reports, report, "`prill checks` lists them all");
        return;
    }
    report_help(checking->model->reports, report, "did you mean %s?", nearest->name);
    report_fix(checking->model->reports, report, false, allowance->thing.place, nearest->name,
               "write the nearest name of a check");
}

static void report_allowed_error(struct checking *checking, const struct allowance *allowance,
                                 const struct rule *rule)
{
    struct report *report = finding_add(checking, CHECK_ALLOW_ERROR, NOTHING, allowance->thing.place,
                                        "%s is an error, and errors cannot be allowed", rule->name);
    report_help(checking->model->reports, report, "mend what it reports, and delete this statement");
}

/* Files each allowance under its check; reports those that name no check, or an error. */
static void allowances_sort(struct checking *checking)
{
    struct model *model = checking->model;
    for (size_t i = 0; i < model->allowances.count; i++) {
        struct allowance *allowance = model->allowances.items[i];
        if (allowance->thing.broken || !allowance->thing.name)
            continue;
        const struct rule *rule = rule_find(allowance->thing.name->text);
        enum check_id id = check_of_name(allowance->thing.name);
        if (!rule)
            report_unknown(checking, allowance);
        else if (rule->severity == SEVERITY_ERROR)
            report_allowed_error(checking, allowance, rule);
        else if (id < CHECK_COUNT)
            VECTOR_PUSH(checking->arena, &checking->allowed[id], allowance);
    }
}

static void report_unused(struct checking *checking, const struct allowance *allowance, const char *rule)
{
    const struct name *about = allowance->within ? allowance->within->name : allowance->subject;
    const char *of =
        about ? text_format(checking->arena, " of %s", text_string(checking->arena, about->text)) : "";
    struct report *report =
        finding_add(checking, CHECK_ALLOW_UNUSED, ABOUT(allowance->within), allowance->thing.place,
                    "nothing%s is reported as %s, so there is nothing to allow", of, rule);
    report_help(checking->model->reports, report, "delete the statement, so that it hides nothing later");
}

static void allowances_report_unused(struct checking *checking)
{
    if (!checking->sound)
        return;
    for (enum check_id id = 0; id < CHECK_ALLOW_UNUSED; id++)
        for (size_t i = 0; i < checking->allowed[id].count; i++)
            if (checking->allowed[id].items[i]->hits == 0)
                report_unused(checking, checking->allowed[id].items[i], CHECKS[id].rule.name);
}

/* ---- the table, run ---- */

void checks_run(struct season *season)
{
    struct checking *checking = ARENA_NEW(season->arena, struct checking);
    checking->season = season;
    checking->model = season->model;
    checking->arena = season->arena;
    checking->sound = season->model->reports->errors == 0;
    allowances_sort(checking);
    for (enum check_id id = 0; id < CHECK_COUNT; id++)
        if (CHECKS[id].run)
            CHECKS[id].run(checking);
    allowances_report_unused(checking);
}
