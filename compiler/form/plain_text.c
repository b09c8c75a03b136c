#include "compiler/form/plain_text.h"

/* What stands in place of the character of `length` bytes at `at`; NULL where it may stay. */
static const char *replacement_of(const char *at, uint32_t code_point, size_t length, bool lines)
{
    if (length == 1 && (unsigned char)*at >= 0x80)
        return "\xEF\xBF\xBD";
    bool control = code_point < 0x20 || (code_point >= 0x7F && code_point <= 0x9F);
    return control && !(lines && code_point == '\n') ? " " : NULL;
}

const char *plain_text(struct arena *arena, const char *text, bool lines)
{
    struct text whole = text_of(text);
    struct buffer plain = {.arena = arena};
    size_t kept = 0, length; /* what is before `kept` is in `plain` */
    for (size_t at = 0; at < whole.length; at += length) {
        uint32_t code_point = text_character(whole, at, &length);
        const char *replacement = replacement_of(text + at, code_point, length, lines);
        if (!replacement)
            continue;
        buffer_add(&plain, (struct text){text + kept, at - kept});
        buffer_add_string(&plain, replacement);
        kept = at + length;
    }
    if (kept == 0)
        return text;
    buffer_add(&plain, (struct text){text + kept, whole.length - kept});
    return plain.string;
}
