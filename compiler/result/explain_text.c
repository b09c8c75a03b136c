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

/* ---- what is called so ---- */

static bool named(const struct symbol *symbol, struct text name)
{
    return symbol->name && text_equal(symbol->name->text, name);
}

/* A line between one thing and the next. */
static void separate(struct explanation *explanation, size_t start)
{
    if (explanation->out->length > start)
        buffer_add_string(explanation->out, "\n");
}

static void explain_ground(struct explanation *explanation, struct text name, size_t start)
{
    const struct model *model = explanation->model;
    for (size_t i = 0; i < model->lawns.count; i++)
        if (named(&model->lawns.items[i]->symbol, name)) {
            separate(explanation, start);
            explain_lawn(explanation, model->lawns.items[i]);
        }
    for (size_t i = 0; i < model->zones.count; i++)
        if (named(&model->zones.items[i]->symbol, name)) {
            separate(explanation, start);
            explain_zone(explanation, model->zones.items[i]);
        }
}

static void explain_solution(struct explanation *explanation, struct text name, size_t start)
{
    const struct solution none = {0},
                          *solution = explanation->season->solution ? explanation->season->solution : &none;
    for (size_t i = 0; i < solution->choices.count; i++) {
        const struct choice_made *choice = &solution->choices.items[i];
        if (!choice->correct || !named(&choice->correct->symbol, name))
            continue;
        separate(explanation, start);
        explain_correction(explanation, choice);
    }
    for (size_t i = 0; i < solution->blends.count; i++)
        if (named(&solution->blends.items[i].blend->symbol, name)) {
            separate(explanation, start);
            explain_blend(explanation, &solution->blends.items[i]);
        }
}

static void explain_symbols(struct explanation *explanation, struct text name, size_t start)
{
    const struct model *model = explanation->model;
    const struct nutrient_form *form = nutrient_find(name);
    for (size_t i = 0; i < model->treatments.count; i++)
        if (named(&model->treatments.items[i]->symbol, name)) {
            separate(explanation, start);
            explain_treatment(explanation, model->treatments.items[i]);
        }
    explain_solution(explanation, name, start);
    explain_ground(explanation, name, start);
    for (size_t i = 0; i < model->products.count; i++)
        if (named(&model->products.items[i]->symbol, name)) {
            separate(explanation, start);
            explain_product(explanation, model->products.items[i]);
        }
    if (form) {
        separate(explanation, start);
        explain_nutrient(explanation, form);
    }
}

void explain_text_print(struct buffer *out, const struct result_input *input)
{
    const struct season *season = input->season;
    struct explanation explanation = {.out = out,
                                      .arena = out->arena,
                                      .season = season,
                                      .model = season->model,
                                      .notes = {.arena = out->arena}};
    size_t start = out->length;
    explain_symbols(&explanation, text_of(input->subject), start);
    if (out->length == start)
        return;
    footnotes_print(out, &explanation.notes);
    buffer_add_string(out, "\n");
    struct closing closing = closing_of(season->model);
    for (size_t i = 0; i < closing.count; i++)
        paragraph_add(out, "", closing.lines[i]);
}
