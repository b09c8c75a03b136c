#include "compiler/model/allow.h"

bool allowance_covers(const struct allowance *allowance, const struct symbol *const *about)
{
    bool named = !allowance->subject, held = !allowance->within;
    for (; *about; about++) {
        named = named || (*about)->name == allowance->subject;
        held = held || *about == allowance->within;
    }
    return named && held;
}

const struct allowance *allowance_of_rule(const struct model *model, const struct rule *rule,
                                          const struct symbol *const *about, const struct allowance *before)
{
    uint32_t id = name_intern(model->names, text_of(rule->name))->id;
    const struct allowance *first = id < model->allowed.count ? model->allowed.items[id].first : NULL;
    const struct allowance *next = before ? before->next : first;
    while (next && !allowance_covers(next, about))
        next = next->next;
    return next;
}

void report_accept(const struct model *model, struct report *report, const struct symbol *const *about)
{
    if (report->severity == SEVERITY_ERROR)
        return;
    for (const struct allowance *at = NULL; (at = allowance_of_rule(model, report->rule, about, at));)
        report_allow(model->reports, report, at->why ? at->why : "", at->symbol.statement);
}
