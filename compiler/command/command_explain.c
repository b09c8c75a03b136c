#include "compiler/check/check.h"
#include "compiler/command/message.h"
#include "compiler/command/plan.h"
#include "compiler/command/print.h"
#include "compiler/form/page_text.h"

static void rule_write(struct buffer *out, const void *subject)
{
    const struct rule *rule = subject;
    struct page page = {.arena = out->arena};
    page_say(&page, 0, "%s (%s): %s", rule->name, severity_name(rule->severity), rule->sentence);
    page_gap(&page);
    page_line(&page, 0, rule->explanation);
    if (rule->source) {
        page_gap(&page);
        page_entry(&page, 0, "Source:", rule->source);
    }
    page_text_print(out, &page);
}

enum prill_status rule_print(const char *name)
{
    const struct rule *rule = rule_find(text_of(name)), *nearest = rule_nearest(text_of(name));
    if (rule)
        return print_filled(rule_write, rule);
    if (nearest)
        message_print("there is no check called %s; did you mean %s?", name, nearest->name);
    else
        message_print(
            "there is no check called %s; `prill checks` lists them. For a name of a plan: prill explain "
            "PLAN NAME",
            name);
    return PRILL_BAD_CALL;
}

/* Without a plan a check or an entry of the library is shown, on the terminal only. */
enum prill_status command_explain(const struct call *call)
{
    const char *name = call->operands[call->operand_count - 1];
    struct wanted wanted = {.form = plan_form(call), .subject = name, .output = call->values[OPTION_OUTPUT]};
    enum prill_status shown;
    if (!wanted.form)
        return PRILL_BAD_CALL;
    if (call->operand_count == 1 && (call->values[OPTION_AS] || wanted.output)) {
        message_print("explain takes --as and -o with a plan only: prill explain PLAN NAME");
        return PRILL_BAD_CALL;
    }
    if (call->operand_count == 1 && !rule_find(text_of(name)) && library_print(name, &shown))
        return shown;
    if (call->operand_count == 1)
        return rule_print(name);
    struct prill_options options = plan_options(call);
    return plan_result(call, &options, &wanted);
}
