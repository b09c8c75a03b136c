#include "compiler/result/limits_followed.h"

#include "compiler/model/replaced.h"
#include "compiler/form/data.h"
#include "compiler/result/plan_notes.h"

/* In the order in which the plan follows them, which need not be the model's. */
struct held_sets held_sets_of(const struct model *model)
{
    struct held_sets sets = {.count = 0};
    for (size_t i = 0; i < model->limit_sets.count; i++) {
        const struct limit_set *set = model->limit_sets.items[i];
        if (!set->bound || !set->followed_at.source)
            continue;
        VECTOR_PUSH(model->arena, &sets, set);
        for (size_t at = sets.count - 1;
             at > 0 && sets.items[at - 1]->followed_at.start > set->followed_at.start; at--) {
            sets.items[at] = sets.items[at - 1];
            sets.items[at - 1] = set;
        }
    }
    return sets;
}

static const char *const basis_words[] = {
    [BASIS_UNSTATED] = NULL,       [BASIS_LAW] = "law",       [BASIS_LABEL] = "label",
    [BASIS_PRACTICE] = "practice", [BASIS_ADVICE] = "advice",
};

/* "law of 2013, read 2026-11-29, second-hand" */
static const char *origin_text(struct arena *arena, const struct limit_set *set)
{
    struct buffer text = {.arena = arena};
    const struct source_entry *source = set->source;
    if (set->symbol.replaces)
        return "as this plan states it, not as the library does";
    if (basis_words[set->basis])
        buffer_add_string(&text, basis_words[set->basis]);
    if (set->basis != BASIS_LAW)
        return text.string;
    if (!source)
        buffer_add_string(&text, ", no source stated");
    if (source && source->year)
        buffer_format(&text, " of %d", source->year);
    if (source && source->day != DAY_NONE)
        buffer_format(&text, ", read %s", day_text(arena, source->day));
    const char *status = source ? source_status_text(source->status) : NULL;
    if (status)
        buffer_format(&text, ", %s", status);
    return text.string;
}

/* What binds and how far each text can be trusted: a law read years ago may have changed. */
const char *held_sentence(const struct model *model)
{
    struct held_sets sets = held_sets_of(model);
    struct buffer text = {.arena = model->arena};
    bool law = false;
    for (size_t i = 0; i < sets.count; i++) {
        const char *origin = origin_text(model->arena, sets.items[i]);
        law = law || sets.items[i]->basis == BASIS_LAW;
        buffer_format(&text, "%s%s", i ? ", " : "", name_string(sets.items[i]->symbol.name));
        if (origin)
            buffer_format(&text, " (%s)", origin);
    }
    if (!sets.count)
        return NULL;
    bool own = false;
    for (size_t i = 0; i < model->limits.count; i++)
        own = own || !model->limits.items[i]->set->symbol.name;
    if (own)
        buffer_add_string(&text, ", and this plan's own limits");
    return text_format(model->arena, "Held to: %s.%s", text.string,
                       law ? " Laws change; check before you rely on it." : "");
}

const char *held_replaced(const struct model *model)
{
    struct replaced_list entries = model_replaced(model);
    struct buffer line = {.arena = model->arena};
    for (size_t i = 0; i < entries.count; i++)
        buffer_format(&line, "%s%s %s", i == 0 ? "" : ", ", entries.items[i].word,
                      name_string(entries.items[i].symbol->name));
    return entries.count
               ? text_format(model->arena, "The plan's own, in place of the library's: %s.", line.string)
               : NULL;
}

/* What nobody has read is incomplete too. */
static const char *lack_of(const struct limit_set *set)
{
    bool unread = set->source && set->source->status == STATUS_NOT_READ;
    return set->incomplete ? set->incomplete : unread ? "nobody has read its text" : NULL;
}

const char *held_incomplete(const struct model *model)
{
    struct held_sets sets = held_sets_of(model);
    struct buffer text = {.arena = model->arena};
    for (size_t i = 0; i < sets.count; i++)
        if (lack_of(sets.items[i]))
            buffer_format(&text, "%s%s (%s)", text.length ? ", " : "",
                          name_string(sets.items[i]->symbol.name), lack_of(sets.items[i]));
    return text.length
               ? text_format(model->arena, "These limits are incomplete: %s. Read the rules themselves.",
                             text.string)
               : NULL;
}

/* The sets, then what the plan put in the place of the library's: both change what is allowed. */
void data_held(struct data *root, const struct model *model)
{
    struct held_sets sets = held_sets_of(model);
    struct data *array = data_list(root, "held_to");
    for (size_t i = 0; i < sets.count; i++) {
        const struct limit_set *set = sets.items[i];
        const struct source_entry *source = set->source;
        struct data *object = data_object(array, NULL);
        data_name(object, "name", set->symbol.name);
        data_string(object, "basis", basis_words[set->basis]);
        data_string(object, "title", source ? source->title : NULL);
        data_string(object, "at", source ? source->at : NULL);
        if (source && source->year)
            data_integer(object, "year", source->year);
        else
            data_null(object, "year");
        data_day(object, "read", source ? source->day : DAY_NONE);
        data_string(object, "status", source ? source_status_text(source->status) : NULL);
        data_string(object, "note", set->symbol.note);
        data_string(object, "incomplete", lack_of(set));
        data_place(object, "place", set->symbol.place);
    }
    struct replaced_list entries = model_replaced(model);
    array = data_list(root, "replaces_library");
    for (size_t i = 0; i < entries.count; i++) {
        struct data *object = data_object(array, NULL);
        data_string(object, "kind", entries.items[i].word);
        data_name(object, "name", entries.items[i].symbol->name);
        data_place(object, "place", entries.items[i].symbol->place);
    }
}
