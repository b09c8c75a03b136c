#include "compiler/result/zone_groups.h"

#include <string.h>

void zone_groups_add(struct arena *arena, struct zone_groups *groups, const struct zone *zone,
                     struct zone_group said)
{
    size_t at = 0;
    while (at < groups->count && (strcmp(groups->items[at].sentence, said.sentence) != 0 ||
                                  strcmp(groups->items[at].reason, said.reason) != 0))
        at++;
    if (at == groups->count) {
        said.zones = (struct buffer){.arena = arena};
        VECTOR_PUSH(arena, groups, said);
    }
    buffer_separate(&groups->items[at].zones, ", ");
    buffer_add_string(&groups->items[at].zones, name_string(zone->symbol.name));
}

const char *zone_group_text(struct arena *arena, const struct zone_groups *groups, size_t index)
{
    const struct zone_group *group = &groups->items[index];
    struct buffer text = {.arena = arena};
    bool known = false; /* the reason, from a group before */
    for (size_t i = 0; i < index; i++)
        known = known || groups->items[i].kind == group->kind;
    if (groups->count > 1)
        buffer_format(&text, "%s: ", group->zones.string);
    buffer_add_string(&text, group->sentence);
    if (!known && *group->reason)
        buffer_format(&text, " %s", group->reason);
    return text.string;
}

const char *sentence_of(struct arena *arena, const char *text)
{
    bool small = *text >= 'a' && *text <= 'z';
    return *text ? text_format(arena, "%c%s.", small ? *text - 'a' + 'A' : *text, text + 1) : "";
}
