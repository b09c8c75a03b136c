/* How a result came about, for a person: formula, operands, and the statements and sources they came from. */
#include "compiler/result/result.h"

#include "compiler/result/closing_lines.h"
#include "compiler/result/explanation.h"
#include "compiler/form/paragraph.h"

void explain_line(struct explanation *explanation, int depth, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *text = text_vformat(explanation->arena, format, arguments);
    va_end(arguments);
    struct buffer lead = {.arena = explanation->arena};
    buffer_repeat(&lead, ' ', 2 * (size_t)depth);
    paragraph_add(explanation->out, buffer_string(&lead), text);
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
        paragraph_add(explanation->out, "    - ",
                      caution_sentence(explanation->arena, cautions->items[i], &explanation->notes));
}

/* ---- what is called so ---- */

/* Whether it has that name; then also a blank line between it and what was explained before. */
static bool begins(struct explanation *explanation, const struct symbol *symbol, struct text name)
{
    bool same = symbol->name && text_equal(symbol->name->text, name);
    if (same && explanation->out->length > explanation->start)
        buffer_add_string(explanation->out, "\n");
    return same;
}

/* Several may share a name: work first, then the ground, then what is used on it. */
static void explain_named(struct explanation *explanation, struct text name)
{
    const struct model *model = explanation->model;
    const struct solution none = {0};
    const struct solution *solution = explanation->season->solution;
    for (size_t i = 0; i < model->treatments.count; i++)
        if (begins(explanation, &model->treatments.items[i]->symbol, name))
            explain_treatment(explanation, model->treatments.items[i]);
    solution = solution ? solution : &none;
    for (size_t i = 0; i < solution->choices.count; i++) {
        const struct choice_made *choice = &solution->choices.items[i];
        if (choice->correct && begins(explanation, &choice->correct->symbol, name))
            explain_correction(explanation, choice);
    }
    for (size_t i = 0; i < solution->blends.count; i++)
        if (begins(explanation, &solution->blends.items[i].blend->symbol, name))
            explain_blend(explanation, &solution->blends.items[i]);
    for (size_t i = 0; i < model->lawns.count; i++)
        if (begins(explanation, &model->lawns.items[i]->symbol, name))
            explain_lawn(explanation, model->lawns.items[i]);
    for (size_t i = 0; i < model->zones.count; i++)
        if (begins(explanation, &model->zones.items[i]->symbol, name))
            explain_zone(explanation, model->zones.items[i]);
    for (size_t i = 0; i < model->products.count; i++)
        if (begins(explanation, &model->products.items[i]->symbol, name))
            explain_product(explanation, model->products.items[i]);
    explain_entries(explanation, name);
    const struct nutrient_form *form = nutrient_find(name);
    if (form && explanation->out->length > explanation->start)
        buffer_add_string(explanation->out, "\n");
    if (form)
        explain_nutrient(explanation, form);
}

/* Nothing at all where nothing is called so: the command says that. */
void explain_text_print(struct buffer *out, const struct result_input *input)
{
    struct explanation explanation = {.out = out,
                                      .start = out->length,
                                      .arena = out->arena,
                                      .season = input->season,
                                      .model = input->season->model,
                                      .notes = {.arena = out->arena}};
    explain_named(&explanation, text_of(input->subject));
    if (out->length == explanation.start)
        return;
    footnotes_print(out, &explanation.notes);
    buffer_add_string(out, "\n");
    struct closing closing = closing_of(input->season->model);
    for (size_t i = 0; i < closing.count; i++)
        paragraph_add(out, "", closing.lines[i]);
}
