/* Running the table, reporting what is found, and `allow` statements that accept nothing. */
#include "compiler/check/checking.h"
#include "compiler/model/allow.h"

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

bool finding_allowed(const struct checking *checking, enum check_id id, const struct symbol *const *about)
{
    return allowance_accepts(checking->model, &CHECKS[id].rule, about);
}

struct report *finding_add(struct checking *checking, enum check_id id, const struct symbol *const *about,
                           struct place place, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *sentence = text_vformat(checking->arena, format, arguments);
    va_end(arguments);
    struct report *report = report_add(checking->model->reports, &CHECKS[id].rule, place, "%s", sentence);
    report_accept(checking->model, report, about);
    return report;
}

/* A limit of advice says what is usual, and is a matter of judgement. */
struct report *limit_finding(struct checking *checking, const struct limit *limit, enum check_id id,
                             const struct symbol *const *about, struct place place, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *sentence = text_vformat(checking->arena, format, arguments);
    va_end(arguments);
    struct report *report = finding_add(checking, id, about, place, "%s", sentence);
    if (!limit)
        return report;
    if (limit->set->basis == BASIS_ADVICE)
        report_soften(checking->model->reports, report);
    const struct allowance *allowance = limit_allowance(checking->model, limit, about);
    if (allowance)
        report_allow(checking->model->reports, report, allowance->why ? allowance->why : "",
                     allowance->symbol.statement);
    return report;
}

/* ---- allow statements ---- */

static const struct symbol *const NOTHING[] = {NULL};

static void report_unknown(struct checking *checking, const struct allowance *allowance)
{
    struct text name = allowance->symbol.name->text;
    struct report *report = finding_add(checking, CHECK_ALLOW_UNKNOWN, NOTHING, allowance->symbol.place,
                                        "there is no check named %s", text_string(checking->arena, name));
    const struct rule *nearest = rule_nearest(name);
    if (!nearest) {
        report_help(checking->model->reports, report, "`prill checks` lists them all");
        return;
    }
    report_help(checking->model->reports, report, "did you mean %s?", nearest->name);
}

static void report_allowed_error(struct checking *checking, const struct allowance *allowance,
                                 const struct rule *rule)
{
    struct report *report = finding_add(checking, CHECK_ALLOW_ERROR, NOTHING, allowance->symbol.place,
                                        "%s is an error, and errors cannot be allowed", rule->name);
    report_help(checking->model->reports, report, "mend what it reports, and delete this statement");
}

/* Those that name no check, or an error. */
static void allowances_report_wrong(struct checking *checking)
{
    const struct model *model = checking->model;
    for (size_t i = 0; i < model->allowances.count; i++) {
        struct allowance *allowance = model->allowances.items[i];
        if (allowance->symbol.broken || !allowance->symbol.name)
            continue;
        const struct rule *rule = rule_find(allowance->symbol.name->text);
        if (allowance_of_set(checking->model, allowance))
            continue;
        if (!rule)
            report_unknown(checking, allowance);
        else if (rule->severity == SEVERITY_ERROR)
            report_allowed_error(checking, allowance, rule);
    }
}

/* `rule` NULL: of a set of limits. */
static void report_unused(struct checking *checking, const struct allowance *allowance,
                          const struct rule *rule)
{
    const struct name *about = allowance->within ? allowance->within->name : allowance->subject;
    const char *of = about ? text_format(checking->arena, " of %s", name_string(about)) : "";
    struct report *report =
        finding_add(checking, CHECK_ALLOW_UNUSED, ABOUT(allowance->within), allowance->symbol.place,
                    "nothing%s is reported as %s, so there is nothing to allow", of,
                    rule ? rule->name : name_string(allowance->symbol.name));
    if (rule == &CHECKS[CHECK_HEAT].rule)
        report_note(
            checking->model->reports, report,
            "it lifts limits of practice on heat; a product's own `heat` is its label, which nothing lifts");
    report_help(checking->model->reports, report, "delete the statement, so that it hides nothing later");
}

/* Whether an `allow allow-unused` accepts anything is known only after this, so of those nothing is told. */
static void allowances_report_unused(struct checking *checking)
{
    const struct model *model = checking->model;
    for (size_t i = 0; i < model->allowances.count && checking->sound; i++) {
        const struct allowance *allowance = model->allowances.items[i];
        if (allowance->symbol.broken || !allowance->symbol.name ||
            reports_allowed_by(model->reports, allowance->symbol.statement))
            continue;
        const struct rule *rule = rule_find(allowance->symbol.name->text);
        if (allowance_of_set(model, allowance))
            report_unused(checking, allowance, NULL);
        else if (rule && rule->severity != SEVERITY_ERROR && rule != &CHECKS[CHECK_ALLOW_UNUSED].rule)
            report_unused(checking, allowance, rule);
    }
}

/* ---- the table, run ---- */

struct checking *checking_new(struct season *season, bool sound)
{
    struct checking *checking = ARENA_NEW(season->arena, struct checking);
    *checking = (struct checking){.sound = sound,
                                  .season = season,
                                  .model = season->model,
                                  .arena = season->arena,
                                  .told = ARENA_ARRAY(season->arena, CHECK_COUNT, struct told_set)};
    return checking;
}

void checks_run(struct season *season)
{
    struct checking *checking = checking_new(season, season->model->reports->errors == 0);
    size_t before = season->model->reports->all.count;
    allowances_report_wrong(checking);
    for (enum check_id id = 0; id < CHECK_COUNT; id++)
        if (CHECKS[id].run)
            CHECKS[id].run(checking);
    allowances_report_unused(checking);
    /* What is left out, undated or without its rates may be all that a note is about: a sum too small, a
     * thing that nothing uses. */
    if (!checking->sound)
        reports_drop_notes(season->model->reports, before);
}
