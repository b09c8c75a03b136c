#include "compiler/command/message.h"
#include "compiler/command/plan.h"
#include "compiler/command/print.h"
#include "compiler/form/page_text.h"
#include "compiler/result/library_page.h"

struct inquiry {
    const char *name; /* NULL: whatever it has is listed */
    bool complains;   /* where the library has none of that name */
    bool *found;
};

/* What is nearest is looked up in the same memory, so it is said here. */
static void entry_write(struct buffer *out, const void *subject)
{
    const struct inquiry *inquiry = subject;
    struct page page = {.arena = out->arena};
    if (inquiry->name)
        *inquiry->found = library_entry_page(&page, inquiry->name);
    else
        library_list_page(&page);
    page_text_print(out, &page);
    if (*inquiry->found || !inquiry->complains)
        return;
    const char *nearest = library_name_nearest(out->arena, inquiry->name);
    if (nearest)
        message_print("the library has no %s; did you mean %s?", inquiry->name, nearest);
    else
        message_print("the library has no %s; `prill library` lists what it has", inquiry->name);
}

bool library_print(const char *name, enum prill_status *status)
{
    bool found = false;
    struct inquiry inquiry = {name, false, &found};
    *status = print_filled(entry_write, &inquiry);
    return found;
}

enum prill_status command_library(const struct call *call)
{
    bool listed = call->operand_count == 0, found = listed;
    struct inquiry inquiry = {listed ? NULL : call->operands[0], true, &found};
    enum prill_status status = print_filled(entry_write, &inquiry);
    return found || status != PRILL_FINE ? status : PRILL_BAD_CALL;
}
