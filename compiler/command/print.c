#include "compiler/command/print.h"

#include "compiler/command/message.h"
#include "compiler/command/output.h"

static bool write_guarded(struct buffer *out, void (*writer)(struct buffer *out, const void *subject),
                          const void *subject)
{
    jmp_buf exhausted;
    out->arena->exhausted = &exhausted;
    if (!setjmp(exhausted)) {
        writer(out, subject);
        out->arena->exhausted = NULL;
        return true;
    }
    out->arena->exhausted = NULL;
    return false;
}

enum prill_status print_filled(void (*writer)(struct buffer *out, const void *subject), const void *subject)
{
    struct arena arena;
    struct buffer out = {.arena = &arena};
    enum prill_status status = PRILL_SYSTEM_FAILED;
    arena_init(&arena, NULL);
    if (write_guarded(&out, writer, subject))
        status = output_print(buffer_string(&out), out.length);
    else
        message_print("there is not enough memory");
    arena_free(&arena);
    return status;
}
