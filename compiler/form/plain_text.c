#include "compiler/form/plain_text.h"

/* Control characters that become blanks: none, all, or all but the line feed. */
enum controls { CONTROLS_STAY, CONTROLS_GO, CONTROLS_GO_BUT_LINES };

/* Copies only from the first replaced character on: most texts are clean and stay where they are. */
static struct text text_cleaned(struct arena *arena, struct text text, enum controls controls)
{
    struct buffer clean = {.arena = arena};
    size_t kept = 0, length; /* what is before `kept` is in `clean` */
    for (size_t at = 0; at < text.length; at += length) {
        uint32_t code_point = text_character(text, at, &length);
        bool control = code_point < 0x20 || (code_point >= 0x7F && code_point <= 0x9F);
        const char *replacement = NULL;
        if (length == 1 && (unsigned char)text.start[at] >= 0x80)
            replacement = "\xEF\xBF\xBD";
        else if (control &&
                 (controls == CONTROLS_GO || (controls == CONTROLS_GO_BUT_LINES && code_point != '\n')))
            replacement = " ";
        if (!replacement)
            continue;
        buffer_add(&clean, (struct text){text.start + kept, at - kept});
        buffer_add_string(&clean, replacement);
        kept = at + length;
    }
    if (kept == 0)
        return text;
    buffer_add(&clean, (struct text){text.start + kept, text.length - kept});
    return (struct text){clean.string, clean.length};
}

struct text text_valid(struct arena *arena, struct text text)
{
    return text_cleaned(arena, text, CONTROLS_STAY);
}

const char *plain_text(struct arena *arena, const char *text, bool lines)
{
    return text_cleaned(arena, text_of(text), lines ? CONTROLS_GO_BUT_LINES : CONTROLS_GO).start;
}
