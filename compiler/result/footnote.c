#include "compiler/result/footnote.h"

#include "compiler/form/paragraph.h"
#include "compiler/result/plan_notes.h"

const char *footnote_mark(struct footnotes *notes, const struct source_entry *source)
{
    if (!source)
        return " (no source stated)";
    size_t index = 0;
    while (index < notes->sources.count && notes->sources.items[index] != source)
        index++;
    if (index == notes->sources.count)
        VECTOR_PUSH(notes->arena, &notes->sources, source);
    return text_format(notes->arena, " [%zu]", index + 1);
}

void footnotes_print(struct buffer *out, const struct footnotes *notes)
{
    if (notes->sources.count)
        buffer_add_string(out, "\nSources:\n");
    for (size_t i = 0; i < notes->sources.count; i++) {
        const struct source_entry *source = notes->sources.items[i];
        paragraph_add(out, text_format(out->arena, "  [%zu] ", i + 1),
                      text_format(out->arena, "%s (%s)%s%s", source_text(out->arena, source),
                                  place_line(out->arena, source->symbol.place), source->at ? " " : "",
                                  source->at ? source->at : ""));
    }
}
