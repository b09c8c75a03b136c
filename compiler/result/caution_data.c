#include "compiler/result/caution_data.h"

#include "compiler/form/data.h"
#include "compiler/result/plan_notes.h"

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
        struct data *stages = data_list(object, "for");
        for (int stage = STAGE_STORING; stage <= STAGE_AFTERWARDS; stage++)
            if (caution_for(caution, 1U << stage))
                data_string(stages, NULL, stage_words[stage]);
        data_string(object, "source", source_text(root->arena, caution->source));
        data_string(object, "at", caution->source ? caution->source->at : NULL);
        data_place(object, "place", caution->symbol.place);
    }
}
