#include "compiler/model/replacement.h"

#include <string.h>

struct replacement replacement_of(struct arena *arena, const char *form)
{
    struct text text = text_of(text_string(arena, text_of(form)));
    const char *equals = memchr(text.start, '=', text.length);
    size_t wanted = equals ? (size_t)(equals - text.start) : 0;
    return (struct replacement){.wanted = {text.start, wanted}, .by = equals ? text_of(equals + 1) : text};
}

struct text replacement_path(struct replacement *replacement, struct text path)
{
    if (!replacement->by.start || (replacement->wanted.length && !text_equal(replacement->wanted, path)))
        return path;
    replacement->replaced = path;
    replacement->count++;
    return replacement->by;
}

const char *replacement_lack(const struct replacement *replacement, struct arena *arena)
{
    struct text by = replacement->by, wanted = replacement->wanted;
    if (!by.start || replacement->count == 1 || (wanted.length && replacement->count))
        return NULL;
    if (replacement->count)
        return text_format(arena, "the plan uses %zu files; say which one to replace: --use OLD=%.*s",
                           replacement->count, (int)by.length, by.start);
    if (wanted.length)
        return text_format(arena, "the plan uses no \"%.*s\" for \"%.*s\" to replace", (int)wanted.length,
                           wanted.start, (int)by.length, by.start);
    return text_format(arena, "the plan uses no file for \"%.*s\" to replace", (int)by.length, by.start);
}
