#include "compiler/model/suppose.h"

#include "compiler/model/source_files.h"
#include "compiler/model/symbol.h"

#include <string.h>

/* "NAME" or "NAME:COUNT"; NULL when it is sound, else what is wrong with it. */
const char *model_suppose(struct model *model, const char *what, const char *day)
{
    struct supposition *supposed = ARENA_NEW(model->arena, struct supposition);
    struct text name = text_of(what);
    struct civil_date date;
    if (!date_of_text(text_of(day), &date))
        return text_format(model->arena, "\"%s\" is not a date; write it as 2027-04-17", day);
    /* "fall-feed:2": the count behind the last colon. */
    size_t end = name.length;
    int value = 0, place = 1;
    for (; end > 0 && name.start[end - 1] >= '0' && name.start[end - 1] <= '9' && place <= 100000;
         place *= 10)
        value += place * (name.start[--end] - '0');
    bool counted = end < name.length && end > 0 && name.start[end - 1] == ':' && value;
    for (int cut = 0; cut <= counted && !supposed->treatment; cut++) {
        if (cut) { /* a name of its own may end so, too */
            supposed->time = value;
            name.length = end - 1;
        }
        for (size_t i = 0; i < model->treatments.count && !supposed->treatment; i++)
            if (text_equal(model->treatments.items[i]->symbol.name->text, name))
                supposed->treatment = model->treatments.items[i];
    }
    if (!supposed->treatment) {
        struct text near = symbol_nearest(model, SYMBOL_TREATMENT, name, NULL);
        const char *none = text_format(model->arena, "the plan has no treatment called %s", what);
        return near.length == 0
                   ? none
                   : text_format(model->arena, "%s; did you mean %.*s?", none, (int)near.length, near.start);
    }
    const char *words = text_format(model->arena, "%s %s", what, day);
    uint32_t length = (uint32_t)strlen(words);
    const struct source source = {.path = "--late", .bytes = (const unsigned char *)words, .length = length};
    /* The words of the command line stand beside the plan, so that a report may point at them. */
    const struct file *file = file_add(model->sources, &source, source.path);
    supposed->day = day_of_date(date);
    supposed->place = (struct place){&file->source, 0, length};
    model->supposed = supposed;
    return NULL;
}
