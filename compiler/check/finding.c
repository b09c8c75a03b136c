/* Running the table, reporting what is found, and `allow` statements that accept nothing. */
#include "compiler/check/checking.h"
#include "compiler/model/allow.h"

#include <assert.h>

/* Where an equal one is, or the free slot where it belongs; `slot_count` is a power of two. */
static struct seen *seen_slot(const struct seen_set *set, const struct seen *seen)
{
    uint64_t hash = (seen->key * 31 + seen->record) * 31 + seen->start;
    size_t at = (hash * 31 + seen->source->index) * 0x9E3779B97F4A7C15U >> 16 & (set->slot_count - 1);
    const struct seen *slot = &set->slots[at];
    while (slot->source &&
           (slot->source != seen->source || slot->start != seen->start || slot->key != seen->key ||
            slot->record != seen->record || slot->allowed != seen->allowed)) {
        at = (at + 1) & (set->slot_count - 1);
        slot = &set->slots[at];
    }
    return &set->slots[at];
}

/* At least half of the slots stay free, so that a look takes a step or two. */
size_t seen_add(struct arena *arena, struct seen_set *set, struct seen seen)
{
    if (set->count * 2 >= set->slot_count) {
        struct seen_set grown = {.slot_count = set->slot_count ? set->slot_count * 2 : 16,
                                 .count = set->count};
        grown.slots = ARENA_ARRAY(arena, grown.slot_count, struct seen);
        for (size_t i = 0; i < set->slot_count; i++)
            if (set->slots[i].source)
                *seen_slot(&grown, &set->slots[i]) = set->slots[i];
        *set = grown;
    }
    struct seen *slot = seen_slot(set, &seen);
    if (!slot->source) {
        *slot = seen;
        slot->index = (uint32_t)set->count++;
    }
    return slot->index;
}

bool finding_once_by(struct checking *checking, enum check_id id, struct place place, uint64_t key,
                     const struct allowance *allowed)
{
    struct seen_set *set = &checking->seen[id];
    size_t before = set->count;
    struct seen seen = {.source = place.source, .start = place.start, .key = key, .allowed = allowed};
    return !place.source || seen_add(checking->arena, set, seen) == before;
}

/* A limit of advice says what is usual, and is a matter of judgement: what passes it is a warning. */
struct report *limit_finding(struct checking *checking, const struct limit *limit, enum check_id id,
                             const struct symbol *const *about, struct place place, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    struct report *report = report_vadd(checking->model->reports, &CHECKS[id].rule, place, format, arguments);
    va_end(arguments);
    report_accept(checking->model, report, about);
    if (limit && limit->set->basis == BASIS_ADVICE)
        report_soften(checking->model->reports, report);
    const struct allowance *allowance = limit ? limit_allowance(checking->model, limit, about) : NULL;
    if (allowance)
        report_allow(checking->model->reports, report, allowance->why ? allowance->why : "",
                     allowance->symbol.statement);
    return report;
}

/* ---- allow statements ---- */

static const struct symbol *const NOTHING[] = {NULL};

/* Those that name no check, or an error. */
static void allowances_report_wrong(struct checking *checking)
{
    const struct model *model = checking->model;
    for (size_t i = 0; i < model->allowances.count; i++) {
        const struct allowance *allowance = model->allowances.items[i];
        if (allowance->symbol.broken || !allowance->symbol.name || allowance_of_set(model, allowance))
            continue;
        struct text name = allowance->symbol.name->text;
        const struct rule *rule = rule_find(name), *nearest = rule ? NULL : rule_nearest(name);
        if (rule && rule->severity == SEVERITY_ERROR) {
            struct report *report = finding_add(checking, CHECK_ALLOW_ERROR, NOTHING, allowance->symbol.place,
                                                "%s is an error, and errors cannot be allowed", rule->name);
            bool advice = false;
            for (size_t j = 0; j < model->reports->all.count && !advice; j++)
                advice = model->reports->all.items[j]->rule == rule &&
                         model->reports->all.items[j]->severity == SEVERITY_WARNING;
            report_help(model->reports, report,
                        advice ? "where it is a warning, allow the set of limits that it names"
                               : "fix the error, then delete this line");
        } else if (!rule) {
            struct report *report =
                finding_add(checking, CHECK_ALLOW_UNKNOWN, NOTHING, allowance->symbol.place,
                            "there is no check named %s", text_string(checking->arena, name));
            if (nearest)
                report_help(model->reports, report, "did you mean %s?", nearest->name);
            else
                report_help(model->reports, report, "`prill checks` lists them all");
        }
    }
}

/* Whether an `allow allow-unused` accepts anything is known only after this, so of those nothing is told; nor
 * of those that allowances_report_wrong found. A treatment without a day may get its report once it has one,
 * except for heat: an `allow` would have given it a day. */
static void allowances_report_unused(struct checking *checking)
{
    const struct model *model = checking->model;
    bool dated = checking->season->timetable.contradiction_count == 0;
    for (size_t i = 0; i < model->allowances.count && checking->sound; i++) {
        const struct allowance *allowance = model->allowances.items[i];
        if (allowance->symbol.broken || !allowance->symbol.name ||
            reports_allowed_by(model->reports, allowance->symbol.statement))
            continue;
        const struct rule *rule = rule_find(allowance->symbol.name->text);
        if (!allowance_of_set(model, allowance) &&
            (!rule || rule->severity == SEVERITY_ERROR || rule == &CHECKS[CHECK_ALLOW_UNUSED].rule))
            continue;
        if (!dated && rule != &CHECKS[CHECK_HEAT].rule)
            continue;
        const struct name *about = allowance->within ? allowance->within->name : allowance->subject;
        const char *of =
            about ? text_format(checking->arena, "for %s", text_string(checking->arena, about->text))
                  : "here";
        struct report *report =
            finding_add(checking, CHECK_ALLOW_UNUSED, ABOUT(allowance->within), allowance->symbol.place,
                        "nothing to allow: no %s is reported %s", name_string(allowance->symbol.name), of);
        if (rule == &CHECKS[CHECK_HEAT].rule)
            report_note(model->reports, report,
                        "it lifts limits of practice on heat only; a product's `heat` is part of its label, "
                        "which nothing lifts");
        const struct limit_set *set =
            allowance_of_set(model, allowance)
                ? (const struct limit_set *)symbol_look(model, SYMBOL_LIMIT_SET, allowance->symbol.name)
                : NULL;
        if (set && limit_set_is_fixed(set))
            report_note(model->reports, report, "nothing lifts a set whose basis is a law or a label");
        report_help(model->reports, report, "delete this line, so that it hides nothing later");
    }
}

/* ---- the table, run ---- */

/* Each dressing goes through all checks of dressings before the next: in a large plan a walk over them all is
 * dear, since they lie far apart. */
static void dressings_check(struct checking *checking)
{
    const struct model *model = checking->model;
    enum check_id looking[CHECK_COUNT];
    size_t count = 0;
    for (enum check_id id = 0; id < CHECK_COUNT; id++)
        if (CHECKS[id].dressing) {
            assert(CHECKS[id].days == ANY_DAY); /* slips do not come here */
            looking[count++] = id;
        }
    for (size_t i = 0; i < model->treatments.count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        const struct dressing_list *dressings = &checking->season->dressings[treatment->index];
        for (size_t j = 0; j < dressings->count && !treatment->symbol.broken; j++)
            for (size_t k = 0; k < count && !dressings->items[j]->product->symbol.broken; k++)
                CHECKS[looking[k]].dressing(checking, treatment, dressings->items[j]);
    }
}

/* What is broken is passed over: it was reported when it was read. */
void check_run(struct checking *checking, enum check_id id)
{
    const struct check *check = &CHECKS[id];
    const struct model *model = checking->model;
    struct arena *scratch = arena_scratch(checking->arena);
    struct arena_mark mark = arena_mark(scratch);
    for (size_t i = 0; check->test && i < model->soil_tests.count; i++)
        if (!model->soil_tests.items[i]->symbol.broken)
            check->test(checking, model->soil_tests.items[i]);
    for (enum limit_kind kind = check->first; check->ledger && kind <= check->last; kind++) {
        struct gathering gathering = {.groups = {0}};
        struct instance instance = {.limit = NULL};
        for (size_t at = 0; (instance.limit = limit_next(checking, kind, &at)) != NULL;) {
            instance.bound = at;
            for (size_t i = 0; i < model->zones.count; i++) {
                instance.ledger = &checking->season->ledgers[i];
                if (ledger_bound(checking, instance.limit, instance.ledger))
                    check->ledger(checking, &gathering, &instance);
            }
        }
        gathering_tell(checking, &gathering, check->tell);
    }
    if (check->plan)
        check->plan(checking);
    checking->doses = NULL;
    arena_rewind(scratch, mark);
}

/* The limits that bind the plan are sorted by kind once, for all checks. */
struct checking *checking_new(struct season *season, bool sound, bool tried)
{
    struct checking *checking = ARENA_NEW(season->arena, struct checking);
    *checking = (struct checking){.sound = sound,
                                  .tried = tried,
                                  .season = season,
                                  .model = season->model,
                                  .arena = season->arena,
                                  .seen = ARENA_ARRAY(season->arena, CHECK_COUNT, struct seen_set)};
    for (size_t i = 0; i < season->model->limits.count; i++) {
        const struct limit *limit = season->model->limits.items[i];
        if (limit->set->bound && !limit->set->symbol.broken)
            VECTOR_PUSH(season->arena, &checking->limits[limit->kind], limit);
    }
    return checking;
}

void checks_run(struct season *season)
{
    struct checking *checking = checking_new(season, season->model->reports->errors == 0, false);
    size_t before = season->model->reports->all.count;
    dressings_check(checking);
    for (enum check_id id = 0; id < CHECK_COUNT; id++)
        check_run(checking, id);
    allowances_report_wrong(checking);
    allowances_report_unused(checking);
    /* What is left out, undated or without its rates may be all that a note is about: a sum too small, a
     * thing that nothing uses. */
    if (!checking->sound)
        reports_drop_notes(season->model->reports, before);
}
