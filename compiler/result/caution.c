#include "compiler/result/caution.h"

#include "compiler/model/product.h"
#include "compiler/result/plan_notes.h"

bool caution_for(const struct caution *caution, unsigned stages)
{
    return caution->stages == 0 || (caution->stages & stages);
}

/* What `with granular` of a caution names, beside the kinds that products are given by name. */
static const char *const form_words[] = {
    [FORM_UNKNOWN] = "", [FORM_GRANULAR] = "granular", [FORM_LIQUID] = "liquid", [FORM_SOLUBLE] = "soluble"};

/* A product may name its cautions; else they go by its kinds, its form and what it brings. */
bool caution_of_product(const struct caution *caution, const struct product *product)
{
    for (size_t i = 0; i < product->cautions.count; i++)
        if (product->cautions.items[i] == caution)
            return true;
    /* A kind may be a form, granular or liquid; a nutrient stands for every product that brings it. */
    for (size_t i = 0; i < caution->kinds.count; i++) {
        const struct name *kind = caution->kinds.items[i];
        const struct nutrient_form *nutrient = nutrient_find(kind->text);
        if (text_is(kind->text, form_words[product->form]) || product_has_kind(product, kind) ||
            (nutrient && product_supplies(product, nutrient->nutrient)))
            return true;
    }
    return caution->neutralizing_above > 0 && product->neutralizing > caution->neutralizing_above;
}

/* Two products in one tank are of the kind `tank-mix`, whatever else they are. */
bool caution_of_treatment(const struct caution *caution, const struct treatment *treatment)
{
    bool mixed = treatment->machine && treatment->machine->sprayer && treatment->dressings.count > 1;
    for (size_t i = 0; i < caution->kinds.count && (mixed || treatment->kinds.count); i++) {
        if (mixed && text_is(caution->kinds.items[i]->text, "tank-mix"))
            return true;
        for (size_t j = 0; j < treatment->kinds.count; j++)
            if (treatment->kinds.items[j] == caution->kinds.items[i])
                return true;
    }
    return false;
}

/* A product's own cautions and those of its kinds are not kept apart: each is said once. */
struct caution_list cautions_of(const struct model *model, const struct product *const *products,
                                size_t count, unsigned stages)
{
    struct caution_list list = {0};
    for (size_t i = 0; i < model->cautions.count; i++) {
        const struct caution *caution = model->cautions.items[i];
        bool wanted = !caution->symbol.broken && caution_for(caution, stages);
        for (size_t j = 0; j < count && wanted; j++)
            if (caution_of_product(caution, products[j])) {
                VECTOR_PUSH(model->arena, &list, caution);
                break;
            }
    }
    return list;
}

const char *caution_sentence(struct arena *arena, const struct caution *caution, struct footnotes *notes)
{
    const char *text = caution->text ? caution->text : "";
    bool practice = caution->source && caution->source->status == STATUS_COMMON_PRACTICE;
    return practice ? text_format(arena, "%s (common practice, no source)", text)
                    : text_format(arena, "%s%s", text, footnote_mark(notes, caution->source));
}

const char *caution_brief(const struct caution *caution)
{
    return caution->brief ? caution->brief : caution->text ? caution->text : "";
}

const char *cautions_line(struct arena *arena, const struct caution_list *list)
{
    struct buffer line = {.arena = arena};
    for (size_t i = 0; i < list->count; i++)
        buffer_format(&line, "%s%s", i == 0 ? "" : "; ", caution_brief(list->items[i]));
    return line.length ? line.string : NULL;
}

static const char *const stage_words[] = {[STAGE_STORING] = "storing",
                                          [STAGE_HANDLING] = "handling",
                                          [STAGE_APPLYING] = "applying",
                                          [STAGE_AFTERWARDS] = "afterwards"};

/* Both texts: the few words for a line, all of them for who asks. */
void data_cautions(struct data *root, const char *key, const struct caution_list *list)
{
    struct data *cautions = data_list(root, key);
    for (size_t i = 0; i < list->count; i++) {
        const struct caution *caution = list->items[i];
        struct data *object = data_object(cautions, NULL);
        data_name(object, "name", caution->symbol.name);
        data_string(object, "text", caution->text);
        data_string(object, "brief", caution->brief);
        struct data *stages = data_list_row(object, "for");
        for (int stage = STAGE_STORING; stage <= STAGE_AFTERWARDS; stage++)
            if (caution_for(caution, 1U << stage))
                data_string(stages, NULL, stage_words[stage]);
        data_string(object, "source", source_text(root->arena, caution->source));
        data_string(object, "at", caution->source ? caution->source->at : NULL);
        data_place(object, "place", caution->symbol.place);
    }
}
