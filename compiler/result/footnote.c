#include "compiler/result/footnote.h"

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

void page_sources(struct page *page, const struct footnotes *notes)
{
    if (notes->sources.count) {
        page_gap(page);
        page_heading(page, 0, "Sources:");
    }
    for (size_t i = 0; i < notes->sources.count; i++) {
        const struct source_entry *source = notes->sources.items[i];
        page_entry(page, 1, text_format(page->arena, "[%zu]", i + 1),
                   text_format(page->arena, "%s (%s)%s%s", source_text(page->arena, source),
                               place_line(page->arena, source->symbol.place), source->at ? " " : "",
                               source->at ? source->at : ""));
    }
}
