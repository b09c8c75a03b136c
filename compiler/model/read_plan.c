/* Statements of the plan itself: its head, allowances, limit sets and what it follows. */
#include "compiler/model/allow.h"
#include "compiler/model/read.h"

/* The plan's head stands in the plan's own file. */
static bool in_plan(struct model *model, const struct clause *clause)
{
    if (!clause->tree->source->used_at.source && !model->building->library)
        return true;
    report_add(model->reports, &model_rules[RULE_MISPLACED], clause->place,
               "this statement belongs in the plan itself");
    return false;
}

void read_plan_title(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    if (!in_plan(model, clause))
        return;
    const struct value *title = clause_value(clause, "title");
    model->title = string_of(model, title);
    model->title_place = title->place;
}

void read_edition(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    if (!in_plan(model, clause))
        return;
    model->edition = (int)clause_value(clause, "number")->number;
    model->edition_day = day_of_date(clause_value(clause, "day")->date);
    model->edition_place = clause->place;
}

/* More than this many days is no season, and every day of it may be looked at. */
enum { SEASON_DAYS = 3 * 366 };

void read_season(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    if (!in_plan(model, clause))
        return;
    model->season_place = clause->place;
    model->season_first = day_of_date(clause_value(clause, "first")->date);
    model->season_last = day_of_date(clause_value(clause, "last")->date);
    if (model->season_last < model->season_first) {
        report_add(model->reports, &model_rules[RULE_VALUE], clause->place,
                   "this season ends before it begins");
        return;
    }
    if (model->season_last - model->season_first > SEASON_DAYS) {
        report_add(model->reports, &model_rules[RULE_VALUE], clause->place,
                   "this season is longer than three years");
        return;
    }
    model->has_season = true;
}

void read_units(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    if (in_plan(model, clause))
        model->metric = clause_value(clause, "system")->number > 0;
}

void read_currency(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    model->currency = string_of(model, clause_value(clause, "name"));
}

void read_remind(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    if (!in_plan(model, clause))
        return;
    model->has_reminder = true;
    model->reminder_days = (int)clause_value(clause, "days")->number;
    model->reminder_minutes = (int)clause_value(clause, "time")->number;
}

static struct allowance *allowance_new(struct model *model, const struct clause *clause)
{
    struct allowance *allowance = symbol_new(model, clause, "rule", sizeof *allowance);
    allowance->why = string_of(model, clause_value(clause, "why"));
    allowance_add(model, allowance);
    return allowance;
}

void read_allow(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    const struct value *about = clause_value(clause, "subject");
    struct allowance *allowance = allowance_new(model, clause);
    allowance->subject = about ? about->name : NULL;
}

void read_allow_here(struct model *model, const struct clause *clause, void *subject)
{
    allowance_new(model, clause)->within = subject;
}

static struct limit_set *limit_set_new(struct model *model, const struct clause *clause, const char *slot)
{
    struct limit_set *set = symbol_new(model, clause, slot, sizeof *set);
    VECTOR_PUSH(model->arena, &model->limit_sets, set);
    body_later(model, clause, &set->symbol, PHASE_RULES, NULL);
    return set;
}

void read_limits(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    limit_set_new(model, clause, NULL)->bound = true;
}

void read_limit_set(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct limit_set *set = limit_set_new(model, clause, "name");
    symbol_declare(model, SYMBOL_LIMIT_SET, &set->symbol);
}

static void bind_sets(struct model *model, const struct clause *clause, struct symbol *subject)
{
    (void)subject;
    const struct value *names = clause_value(clause, "sets");
    for (size_t i = 0; i < names->count; i++) {
        struct limit_set *set = (struct limit_set *)symbol_find(model, SYMBOL_LIMIT_SET, &names->items[i]);
        if (!set)
            continue;
        set->bound = true;
        set->followed_at = names->items[i].place;
    }
}

void read_follow(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct symbol *follow = symbol_new(model, clause, NULL, sizeof *follow);
    body_later(model, clause, follow, PHASE_RULES, bind_sets);
}
