#include "compiler/result/caution_json.h"

#include "compiler/form/json_values.h"
#include "compiler/result/plan_notes.h"

static const char *const stage_words[] = {[STAGE_STORING] = "storing",
                                          [STAGE_HANDLING] = "handling",
                                          [STAGE_APPLYING] = "applying",
                                          [STAGE_AFTERWARDS] = "afterwards"};

void json_put_cautions(struct json_writer *writer, json_t *root, const char *key,
                       const struct caution_list *list)
{
    json_t *cautions = json_put_array(writer, root, key);
    for (size_t i = 0; i < list->count; i++) {
        const struct caution *caution = list->items[i];
        json_t *object = json_put_object(writer, cautions, NULL);
        json_put_name(writer, object, "name", caution->symbol.name);
        json_put_string(writer, object, "text", caution->text);
        json_put_string(writer, object, "brief", caution->brief);
        json_t *stages = json_put_array(writer, object, "for");
        for (int stage = STAGE_STORING; stage <= STAGE_AFTERWARDS; stage++)
            if (caution_for(caution, 1U << stage))
                json_put_string(writer, stages, NULL, stage_words[stage]);
        json_put_string(writer, object, "source", source_text(writer->arena, caution->source));
        json_put_string(writer, object, "at", caution->source ? caution->source->at : NULL);
        json_put_place(writer, object, "place", caution->symbol.place);
    }
}
