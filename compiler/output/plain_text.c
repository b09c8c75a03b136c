#include "compiler/output/plain_text.h"

static bool is_control(uint32_t code_point)
{
    return code_point < 0x20 || (code_point >= 0x7F && code_point <= 0x9F);
}

const char *plain_text(struct arena *arena, const char *text, bool lines)
{
    struct text whole = text_of(text);
    struct buffer plain = {.arena = arena};
    size_t length;
    for (size_t at = 0; at < whole.length; at += length) {
        uint32_t code_point = text_character(whole, at, &length);
        bool broken = length == 1 && (unsigned char)text[at] >= 0x80;
        if (broken)
            buffer_add_string(&plain, "\xEF\xBF\xBD");
        else if (is_control(code_point) && !(lines && code_point == '\n'))
            buffer_add_string(&plain, " ");
        else
            buffer_add(&plain, (struct text){text + at, length});
    }
    return buffer_string(&plain);
}
