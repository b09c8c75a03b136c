#include "compiler/form/plain_text.h"

/* Copies only from the first replaced character on: most texts are clean and stay where they are. */
const char *plain_text(struct arena *arena, const char *string, bool lines)
{
    struct text text = text_of(string);
    struct buffer clean = {.arena = arena};
    size_t kept = 0, length; /* what is before `kept` is in `clean` */
    for (size_t at = 0; at < text.length; at += length) {
        uint32_t code_point = text_character(text, at, &length);
        bool control = code_point < 0x20 || (code_point >= 0x7F && code_point <= 0x9F);
        const char *replacement = NULL;
        if (length == 1 && (unsigned char)string[at] >= 0x80)
            replacement = "\xEF\xBF\xBD";
        else if (control && !(lines && code_point == '\n'))
            replacement = " ";
        if (!replacement)
            continue;
        buffer_add(&clean, (struct text){string + kept, at - kept});
        buffer_add_string(&clean, replacement);
        kept = at + length;
    }
    if (kept == 0)
        return string;
    buffer_add_string(&clean, string + kept);
    return clean.string;
}
