#include "compiler/command/message.h"
#include "compiler/command/plan.h"
#include "compiler/model/date.h"

/* Without a day, all of them, or the next from --as-of. */
enum prill_status command_day(const struct call *call)
{
    struct wanted wanted = {.form = plan_form(call), .output = call->values[OPTION_OUTPUT], .reports = true};
    struct prill_options options = plan_options(call);
    struct civil_date date;
    options.day = call->values[OPTION_AS_OF];
    if (call->operand_count > 1)
        wanted.subject = call->operands[1];
    if (!wanted.form)
        return PRILL_BAD_CALL;
    if (wanted.subject && !date_of_text(text_of(wanted.subject), &date)) {
        message_print("%s is not a date, such as 2027-04-17", wanted.subject);
        return PRILL_BAD_CALL;
    }
    if (wanted.subject && options.day) {
        message_print("--as-of finds the next day; it does not go with a date");
        return PRILL_BAD_CALL;
    }
    return plan_result(call, &options, &wanted);
}
