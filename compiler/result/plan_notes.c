#include "compiler/result/plan_notes.h"

#include <string.h>

const char *place_line(struct arena *arena, struct place place)
{
    if (!place.source)
        return "no place";
    return text_format(arena, "%s:%u", place.source->path, source_position(place.source, place.start).line);
}

static const char *const status_words[] = {
    [STATUS_CONFIRMED] = NULL,
    [STATUS_SECOND_HAND] = "second-hand",
    [STATUS_COMMON_PRACTICE] = "common practice, no source",
    [STATUS_FROM_MEMORY] = "from memory",
    [STATUS_NOT_READ] = "not read",
};

const char *source_status_text(enum source_status status)
{
    return status_words[status];
}

static void part_add(struct buffer *text, const char *before, const char *part)
{
    if (part)
        buffer_format(text, "%s%s%s", text->length ? ", " : "", before, part);
}

const char *source_text(struct arena *arena, const struct source_entry *source)
{
    if (!source)
        return "no source stated";
    struct buffer text = {.arena = arena};
    part_add(&text, "", source->title);
    part_add(&text, "by ", source->by);
    if (source->year > 0)
        part_add(&text, "", text_format(arena, "%d", source->year));
    part_add(&text, "", status_words[source->status]);
    return text.length ? text.string : name_string(source->symbol.name);
}

const char *note_sentence(struct arena *arena, const struct symbol *symbol)
{
    bool any = symbol->note && symbol->note[strspn(symbol->note, " \t")];
    return any ? text_format(arena, "Note on %s: %s", name_string(symbol->name), symbol->note) : NULL;
}

const char *open_sentence(struct arena *arena, const struct reports *reports)
{
    const size_t counts[] = {reports->warnings, reports->notes};
    static const char *const nouns[] = {"warning", "note"};
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < 2; i++)
        if (counts[i])
            buffer_format(&text, "%s%zu %s%s", text.length ? " and " : "", counts[i], nouns[i],
                          counts[i] == 1 ? "" : "s");
    if (!text.length)
        return NULL;
    buffer_add_string(&text, " not shown here: run `prill check`.");
    return text.string;
}
