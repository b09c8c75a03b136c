/* How a result came about, for a person: formula, operands, and the statements and sources they came from. */
#include "compiler/result/result.h"

#include "compiler/result/explanation.h"

void explain_heading(struct explanation *explanation, int depth, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    page_heading(explanation->page, depth, text_vformat(explanation->arena, format, arguments));
    va_end(arguments);
}

void explain_line(struct explanation *explanation, int depth, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    page_line(explanation->page, depth, text_vformat(explanation->arena, format, arguments));
    va_end(arguments);
}

const char *explain_place(struct explanation *explanation, struct place place)
{
    if (!place.source)
        return "no place";
    uint32_t line = source_position(place.source, place.start).line;
    if (place.source->index == 0)
        return text_format(explanation->arena, "line %u", line);
    return text_format(explanation->arena, "%s:%u", place.source->path, line);
}

const char *explain_statement(struct explanation *explanation, struct place place)
{
    return text_format(explanation->arena, "`%s`, %s", place_words(explanation->arena, place),
                       explain_place(explanation, place));
}

void explain_cautions(struct explanation *explanation, const struct caution_list *cautions)
{
    if (cautions->count)
        explain_line(explanation, 1, "Take care:");
    for (size_t i = 0; i < cautions->count; i++)
        page_item(explanation->page, 2,
                  caution_sentence(explanation->arena, cautions->items[i], &explanation->notes));
}

/* ---- what is called so ---- */

/* Whether it has that name; then it is parted from what was explained before. */
static bool begins(struct explanation *explanation, const struct symbol *symbol, struct text name)
{
    bool same = symbol->name && text_equal(symbol->name->text, name);
    if (same)
        page_gap(explanation->page);
    return same;
}

/* Several may share a name: work first, then the ground, then what is used on it. No parts at all where
 * nothing is called so. */
void explain_page(struct page *page, const struct result_input *input)
{
    const struct season *season = input->season;
    const struct model *model = season->model;
    const struct text name = text_of(input->subject);
    const struct solution none = {0};
    const struct solution *solution = season->solution ? season->solution : &none;
    struct explanation explanation = {.page = page,
                                      .arena = page->arena,
                                      .season = season,
                                      .model = model,
                                      .notes = {.arena = page->arena}};
    for (size_t i = 0; i < model->treatments.count; i++)
        if (begins(&explanation, &model->treatments.items[i]->symbol, name))
            explain_treatment(&explanation, model->treatments.items[i]);
    for (size_t i = 0; i < solution->choices.count; i++) {
        const struct rates_answer *choice = &solution->choices.items[i];
        if (choice->correct && begins(&explanation, &choice->correct->symbol, name))
            explain_correction(&explanation, choice);
    }
    for (size_t i = 0; i < solution->blends.count; i++)
        if (begins(&explanation, &solution->blends.items[i].blend->symbol, name))
            explain_blend(&explanation, &solution->blends.items[i]);
    for (size_t i = 0; i < model->lawns.count; i++)
        if (begins(&explanation, &model->lawns.items[i]->symbol, name))
            explain_lawn(&explanation, model->lawns.items[i]);
    for (size_t i = 0; i < model->zones.count; i++)
        if (begins(&explanation, &model->zones.items[i]->symbol, name))
            explain_zone(&explanation, model->zones.items[i]);
    for (size_t i = 0; i < model->products.count; i++)
        if (begins(&explanation, &model->products.items[i]->symbol, name))
            explain_product(&explanation, model->products.items[i]);
    for (size_t i = 0; i < model->machines.count; i++)
        if (begins(&explanation, &model->machines.items[i]->symbol, name))
            explain_machine(&explanation, model->machines.items[i]);
    for (size_t i = 0; i < model->sprinklers.count; i++)
        if (begins(&explanation, &model->sprinklers.items[i]->symbol, name))
            explain_sprinkler(&explanation, model->sprinklers.items[i]);
    explain_entries(&explanation, name);
    const struct nutrient_form *form = nutrient_find(name);
    if (form) {
        page_gap(page);
        explain_nutrient(&explanation, form);
    }
    page_sources(page, &explanation.notes);
}
