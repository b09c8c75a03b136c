#include "compiler/model/allow.h"

void allowance_add(struct model *model, struct allowance *allowance)
{
    VECTOR_PUSH(model->arena, &model->allowances, allowance);
    if (allowance->symbol.broken || !allowance->symbol.name)
        return;
    while (model->allowed.count <= allowance->symbol.name->id)
        VECTOR_PUSH(model->arena, &model->allowed, (struct allowances){0});
    struct allowances *alike = &model->allowed.items[allowance->symbol.name->id];
    *(alike->first ? &alike->last->next : &alike->first) = allowance;
    alike->last = allowance;
}

/* The first statement that names the rule; the others follow by `next`. */
static struct allowance *allowance_first(const struct model *model, const struct rule *rule)
{
    uint32_t id = name_intern(model->names, text_of(rule->name))->id;
    return id < model->allowed.count ? model->allowed.items[id].first : NULL;
}

bool allowance_covers(const struct allowance *allowance, const struct symbol *const *about)
{
    bool named = !allowance->subject, held = !allowance->within;
    for (; *about; about++) {
        named = named || (*about)->name == allowance->subject;
        held = held || *about == allowance->within;
    }
    return named && held;
}

bool allowance_accepts(const struct model *model, const struct rule *rule, const struct symbol *const *about)
{
    for (const struct allowance *at = allowance_first(model, rule); at; at = at->next)
        if (allowance_covers(at, about))
            return true;
    return false;
}

void report_accept(const struct model *model, struct report *report, const struct symbol *const *about)
{
    if (report->severity == SEVERITY_ERROR)
        return;
    for (const struct allowance *at = allowance_first(model, report->rule); at; at = at->next)
        if (allowance_covers(at, about))
            report_allow(model->reports, report, at->why ? at->why : "", at->symbol.statement);
}
