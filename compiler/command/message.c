#include "compiler/command/message.h"

#include "compiler/form/terminal_text.h"

#include <stdio.h>

/* Needs no memory of the system, so that it can still say that there is none. */
void message_print(const char *format, ...)
{
    char text[MESSAGE_LIMIT];
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    if (length < 0)
        return;
    struct text whole = {text, (size_t)length < sizeof text ? (size_t)length : sizeof text - 1};
    fputs("prill: ", stderr);
    for (size_t at = 0; at < whole.length;) {
        struct shown_character shown = character_shown(whole, at, 0);
        fputs(whole.start[at] == '\t' ? " " : shown.string, stderr);
        at += shown.taken;
    }
    fputs("\n", stderr);
}

const char *name_nearest(const char *const *names, const char *misspelt)
{
    struct text text = text_of(misspelt);
    const char *nearest = NULL;
    size_t least = text.length < 4 ? 1 : 2;
    for (; *names; names++) {
        size_t distance = text_distance(text, text_of(*names));
        if (distance < least || (distance == least && !nearest)) {
            nearest = *names;
            least = distance;
        }
    }
    return nearest;
}
