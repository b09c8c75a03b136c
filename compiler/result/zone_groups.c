#include "compiler/result/zone_groups.h"

void asking_add(struct arena *arena, struct asking *asking, const struct zone *zone, struct asked asked)
{
    struct asked *found = NULL;
    for (size_t i = 0; i < asking->kinds.count && !found; i++)
        if (text_is(text_of(asking->kinds.items[i].sentence), asked.sentence) &&
            text_is(text_of(asking->kinds.items[i].reason), asked.reason))
            found = &asking->kinds.items[i];
    if (!found) {
        asked.zones.arena = arena;
        VECTOR_PUSH(arena, &asking->kinds, asked);
        found = &asking->kinds.items[asking->kinds.count - 1];
    }
    buffer_format(&found->zones, "%s%s", found->count++ ? ", " : "", name_string(zone->symbol.name));
}

static bool reason_told(const struct asking *asking, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (asking->kinds.items[i].kind == asking->kinds.items[index].kind)
            return true;
    return false;
}

const char *asking_text(struct arena *arena, const struct asking *asking, size_t index)
{
    const struct asked *asked = &asking->kinds.items[index];
    const char *reason = reason_told(asking, index) ? "" : asked->reason;
    const char *who = asking->kinds.count > 1 ? text_format(arena, "%s: ", asked->zones.string) : "";
    return text_format(arena, "%s%s%s%s", who, asked->sentence, *reason ? " " : "", reason);
}

const char *sentence_of(struct arena *arena, const char *text)
{
    bool small = *text >= 'a' && *text <= 'z';
    return *text ? text_format(arena, "%c%s.", small ? *text - 'a' + 'A' : *text, text + 1) : "";
}
