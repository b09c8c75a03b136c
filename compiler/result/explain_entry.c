/* Entries of knowledge that a plan uses, its own or the library's: a grass, a scale, a set of limits, a
 * source. */
#include "compiler/model/library.h"
#include "compiler/result/explanation.h"

/* Its own text, who uses it, and a footnote for each source it names. */
static void explain_entry(struct explanation *explanation, enum symbol_kind kind, const struct symbol *symbol)
{
    const struct source *source = symbol->statement.source;
    struct text file = {(const char *)source->bytes, source->length};
    struct text text = statement_text(file, symbol->statement.start);
    explain_heading(explanation, 0, "%s (%s)", name_string(symbol->name),
                    explain_place(explanation, symbol->place));
    page_gap(explanation->page);
    page_verbatim(explanation->page, 2, text);
    page_gap(explanation->page);
    /* Who uses it, where that is one place or few: a grass its lawns, a set of limits the statement that
     * follows it. */
    const struct model *model = explanation->model;
    size_t lawns = 0;
    for (size_t j = 0; kind == SYMBOL_GRASS && j < model->lawns.count; j++)
        if (model->lawns.items[j]->grass && &model->lawns.items[j]->grass->symbol == symbol && ++lawns)
            explain_line(explanation, 1, "The grass of lawn %s (%s).",
                         name_string(model->lawns.items[j]->symbol.name),
                         explain_place(explanation, model->lawns.items[j]->symbol.place));
    if (kind == SYMBOL_GRASS && !lawns)
        explain_line(explanation, 1, "No lawn of this plan has it.");
    for (size_t j = 0; kind == SYMBOL_LIMIT_SET && j < model->limit_sets.count; j++) {
        const struct limit_set *set = model->limit_sets.items[j];
        if (&set->symbol != symbol)
            continue;
        if (set->followed_at.source)
            explain_line(explanation, 1, "The plan follows it: %s.",
                         explain_statement(explanation, set->followed_at));
        else
            explain_line(explanation, 1,
                         set->bound ? "It holds for every plan." : "The plan does not follow it.");
    }
    if (symbol->replaces)
        explain_line(explanation, 1, "It counts in place of the library's entry of that name.");
    struct text_list names = sources_named(explanation->arena, text);
    struct buffer list = {.arena = explanation->arena};
    for (size_t i = 0; i < names.count; i++) {
        const struct name *name = name_intern(explanation->model->names, names.items[i]);
        const struct symbol *from = symbol_look(explanation->model, SYMBOL_SOURCE, name);
        if (from)
            buffer_format(&list, "%s%s%s", list.length ? ", " : "", name_string(name),
                          footnote_mark(&explanation->notes, (const struct source_entry *)from));
    }
    if (list.length)
        explain_line(explanation, 1, "Figures from %s.", buffer_string(&list));
}

/* A file of the library is read as a whole where one entry is sought: of the others in it only what counts is
 * told. */
void explain_entries(struct explanation *explanation, struct text name)
{
    static const enum symbol_kind kinds[] = {SYMBOL_GRASS,      SYMBOL_SCALE,     SYMBOL_LIME,
                                             SYMBOL_CONVERSION, SYMBOL_LIMIT_SET, SYMBOL_USUAL,
                                             SYMBOL_CAUTION,    SYMBOL_SOURCE};
    const struct name *interned = name_intern(explanation->model->names, name);
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        const struct symbol *symbol = symbol_look(explanation->model, kinds[i], interned);
        bool counts = symbol && (!symbol->library || symbol->used || kinds[i] == SYMBOL_CAUTION ||
                                 (kinds[i] == SYMBOL_LIMIT_SET && ((const struct limit_set *)symbol)->bound));
        if (!counts)
            continue;
        page_gap(explanation->page);
        explain_entry(explanation, kinds[i], symbol);
    }
}
