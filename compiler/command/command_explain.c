#include "compiler/check/check.h"
#include "compiler/command/message.h"
#include "compiler/command/plan.h"
#include "compiler/command/print.h"
#include "compiler/form/paragraph.h"

static void fill_rule(struct buffer *out, const void *subject)
{
    const struct rule *rule = subject;
    const char *head = text_format(out->arena, "%s (%s): ", rule->name, severity_name(rule->severity));
    paragraph_add(out, "", text_format(out->arena, "%s%s", head, rule->sentence));
    buffer_add_string(out, "\n");
    paragraph_add(out, "", rule->explanation);
    if (rule->source) {
        buffer_add_string(out, "\n");
        paragraph_add(out, "Source: ", rule->source);
    }
}

enum prill_status rule_print(const char *name)
{
    const struct rule *rule = rule_find(text_of(name)), *nearest = rule_nearest(text_of(name));
    if (rule)
        return print_filled(fill_rule, rule);
    if (nearest)
        message_print("there is no check called %s; did you mean %s?", name, nearest->name);
    else
        message_print(
            "there is no check called %s; `prill checks` lists them. For a name of a plan: prill explain "
            "PLAN NAME",
            name);
    return PRILL_BAD_CALL;
}

enum prill_status command_explain(const struct call *call)
{
    enum prill_status shown;
    if (call->operand_count == 1 && !rule_find(text_of(call->operands[0])) &&
        library_print(call->operands[0], &shown))
        return shown;
    if (call->operand_count == 1)
        return rule_print(call->operands[0]);
    struct wanted wanted = {.form = "text", .subject = call->operands[1]};
    struct prill_options options = plan_options(call);
    return plan_result(call, &options, &wanted);
}
