/* Statements of the plan itself: its head, allowances, limit sets and what it follows. */
#include "compiler/model/read.h"

/* The plan's head stands in the plan's own file: files that plans share have no say in it. */
static bool in_plan(const struct stated *stated)
{
    if (!stated->clause->tree->source->used_at.source && !stated->model->building->library)
        return true;
    report_add(stated->model->reports, &model_rules[RULE_MISPLACED], stated->clause->place,
               "this statement must be in the plan file itself");
    return false;
}

void read_plan_title(const struct stated *stated)
{
    if (in_plan(stated))
        stated->model->title = slot_string(stated, "title");
}

void read_edition(const struct stated *stated)
{
    struct model *model = stated->model;
    if (!in_plan(stated))
        return;
    model->edition = (int)slot_value(stated, "number")->number;
    model->edition_day = day_of_date(slot_value(stated, "day")->date);
}

/* More than this many days is no season, and every day of it may be looked at. */
enum { SEASON_DAYS = 3 * 366 };

/* A season that cannot be is kept for its place, but nothing is dated by it. */
void read_season(const struct stated *stated)
{
    struct model *model = stated->model;
    if (!in_plan(stated))
        return;
    model->season_place = stated->clause->place;
    model->season_first = day_of_date(slot_value(stated, "first")->date);
    model->season_last = day_of_date(slot_value(stated, "last")->date);
    const char *wrong = NULL;
    if (model->season_last < model->season_first)
        wrong = "this season ends before it begins";
    else if (model->season_last - model->season_first > SEASON_DAYS)
        wrong = "this season is longer than three years";
    if (wrong)
        report_add(model->reports, &model_rules[RULE_VALUE], model->season_place, "%s", wrong);
    model->has_season = !wrong;
}

void read_units(const struct stated *stated)
{
    if (in_plan(stated))
        stated->model->metric = slot_value(stated, "system")->number > 0;
}

/* `which` is the system that the rates are of: it has to be the plan's, which may be stated before or behind.
 */
void read_ground_units(const struct stated *stated)
{
    if (!in_plan(stated))
        return;
    stated->model->ground = PER_FIELD;
    stated->model->building->ground_system = (enum unit_system)stated->clause->form->which;
    stated->model->building->ground_place = stated->clause->place;
}

void read_weighs_to(const struct stated *stated)
{
    stated->model->weighs_to = slot_value(stated, "step")->number;
    stated->model->weighs_in = slot_value(stated, "step")->unit;
}

void read_measures_to(const struct stated *stated)
{
    stated->model->measures_to = slot_value(stated, "step")->number;
    stated->model->measures_in = slot_value(stated, "step")->unit;
}

void read_remind(const struct stated *stated)
{
    struct model *model = stated->model;
    if (!in_plan(stated))
        return;
    model->has_reminder = true;
    model->reminder_days = (int)slot_value(stated, "days")->number;
    model->reminder_minutes = (int)slot_value(stated, "time")->number;
}

/* In a treatment's block it accepts reports about the treatment, in the plan those about what it names. */
void read_allow(const struct stated *stated)
{
    struct model *model = stated->model;
    const struct value *about = slot_value(stated, "subject");
    struct allowance *allowance = object_new(stated, "rule", sizeof *allowance);
    allowance->why = slot_string(stated, "why");
    allowance->subject = about ? about->name : NULL;
    allowance->within = stated->clause->form->block == BLOCK_PLAN ? NULL : stated->subject;
    VECTOR_PUSH(model->arena, &model->allowances, allowance);
    if (allowance->symbol.broken || !allowance->symbol.name)
        return;
    while (model->allowed.count <= allowance->symbol.name->id)
        VECTOR_PUSH(model->arena, &model->allowed, (struct allowances){0});
    struct allowances *alike = &model->allowed.items[allowance->symbol.name->id]; /* of the same rule */
    *(alike->first ? &alike->last->next : &alike->first) = allowance;
    alike->last = allowance;
}

/* The plan's own limits, or a named set that binds once it is followed. */
void read_limits(const struct stated *stated)
{
    bool named = slot_value(stated, "name") != NULL;
    struct limit_set *set = object_new(stated, named ? "name" : NULL, sizeof *set);
    set->bound = !named;
    if (named)
        symbol_declare(stated->model, SYMBOL_LIMIT_SET, &set->symbol);
    VECTOR_PUSH(stated->model->arena, &stated->model->limit_sets, set);
    body_later(stated, set, PHASE_RULES, NULL);
}

static void bind_sets(const struct stated *stated)
{
    const struct value *names = slot_value(stated, "sets");
    for (size_t i = 0; i < names->count; i++) {
        struct limit_set *set =
            (struct limit_set *)symbol_find(stated->model, SYMBOL_LIMIT_SET, &names->items[i]);
        if (!set)
            continue;
        set->bound = true;
        set->followed_at = names->items[i].place;
    }
}

void read_follow(const struct stated *stated)
{
    body_later(stated, object_new(stated, NULL, sizeof(struct symbol)), PHASE_RULES, bind_sets);
}
