#include "compiler/command/message.h"
#include "compiler/command/plan.h"
#include "compiler/command/print.h"
#include "compiler/result/library_text.h"

static void fill_list(struct buffer *out, const void *subject)
{
    (void)subject;
    library_list_print(out);
}

struct inquiry {
    const char *name;
    bool *found;
};

static void fill_entry(struct buffer *out, const void *subject)
{
    const struct inquiry *inquiry = subject;
    *inquiry->found = library_entry_print(out, inquiry->name);
}

static void fill_entry_or_complain(struct buffer *out, const void *subject)
{
    const struct inquiry *inquiry = subject;
    fill_entry(out, inquiry);
    const char *nearest = *inquiry->found ? NULL : library_name_nearest(out->arena, inquiry->name);
    if (nearest)
        message_print("the library has no %s; did you mean %s?", inquiry->name, nearest);
    else if (!*inquiry->found)
        message_print("the library has no %s; `prill library` lists what it has", inquiry->name);
}

bool library_print(const char *name, enum prill_status *status)
{
    bool found = false;
    struct inquiry inquiry = {name, &found};
    *status = print_filled(fill_entry, &inquiry);
    return found;
}

enum prill_status command_library(const struct call *call)
{
    bool found = false;
    struct inquiry inquiry = {call->operands[0], &found};
    if (call->operand_count == 0)
        return print_filled(fill_list, NULL);
    enum prill_status status = print_filled(fill_entry_or_complain, &inquiry);
    return found || status != PRILL_FINE ? status : PRILL_BAD_CALL;
}
