/* Statements of the plan itself: its head, allowances, limit sets and what it follows. */
#include "compiler/model/read.h"

/* More than this many days is no season, and every day of it may be looked at. */
enum { SEASON_DAYS = 3 * 366 };

/* The plan's head stands in the plan's own file: files that plans share have no say in it. */
void read_head(const struct stated *stated)
{
    struct model *model = stated->model;
    struct place place = stated->clause->place;
    enum plan_head head = (enum plan_head)stated->clause->form->which;
    const char *wrong = NULL;
    if (stated->clause->tree->source->used_at.source || model->building->library) {
        report_add(model->reports, &model_rules[RULE_MISPLACED], place,
                   "this statement must be in the plan file itself");
        return;
    }
    switch (head) {
    case HEAD_TITLE:
        model->title = slot_string(stated, "title");
        break;
    case HEAD_EDITION:
        model->edition = (int)slot_value(stated, "number")->number;
        model->edition_day = day_of_date(slot_value(stated, "day")->date);
        break;
    case HEAD_SEASON: /* one that cannot be is kept for its place, but nothing is dated by it */
        model->season_place = place;
        model->season_first = day_of_date(slot_value(stated, "first")->date);
        model->season_last = day_of_date(slot_value(stated, "last")->date);
        if (model->season_last < model->season_first)
            wrong = "this season ends before it begins";
        else if (model->season_last - model->season_first > SEASON_DAYS)
            wrong = "this season is longer than three years";
        if (wrong)
            report_add(model->reports, &model_rules[RULE_VALUE], place, "%s", wrong);
        model->has_season = !wrong;
        break;
    case HEAD_UNITS:
        model->metric = slot_value(stated, "system")->number > 0;
        break;
    case HEAD_RATES_US: /* of the plan's own system, which may be stated before or behind */
    case HEAD_RATES_METRIC:
        model->ground = PER_FIELD;
        model->building->ground_system = head == HEAD_RATES_METRIC ? UNIT_METRIC : UNIT_US;
        model->building->ground_place = place;
        break;
    case HEAD_REMINDER:
        model->has_reminder = true;
        model->reminder_days = (int)slot_value(stated, "days")->number;
        model->reminder_minutes = (int)slot_value(stated, "time")->number;
        break;
    }
}

/* `weighs to` and `measures to` */
void read_tool_step(const struct stated *stated)
{
    struct model *model = stated->model;
    const struct value *step = slot_value(stated, "step");
    bool cup = stated->clause->form->which == BY_VOLUME;
    *(cup ? &model->measures_to : &model->weighs_to) = step->number;
    *(cup ? &model->measures_in : &model->weighs_in) = step->unit;
}

/* In a treatment's block it accepts reports about the treatment, in the plan those about what it names. */
void read_allow(const struct stated *stated)
{
    struct model *model = stated->model;
    const struct value *about = slot_value(stated, "subject");
    struct allowance *allowance = object_new(stated, slot_value(stated, "rule"), sizeof *allowance);
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
    const struct value *name = slot_value(stated, "name");
    struct limit_set *set = object_new(stated, name, sizeof *set);
    set->bound = !name;
    if (name)
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
