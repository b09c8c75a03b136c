/* Any bytes through lexer, parser and formatter: nothing is lost, every report has its place, and the layout
 * of a sound plan is sound, says the same and stays as it is. */
#include "compiler/model/layout.h"

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#define DEMAND(condition)                                                                                    \
    do {                                                                                                     \
        if (!(condition))                                                                                    \
            abort();                                                                                         \
    } while (0)

static void parse(struct arena *arena, const char *bytes, size_t length, struct reports *reports,
                  struct tree *tree)
{
    struct source *source = ARENA_NEW(arena, struct source);
    reports_init(reports, arena);
    source_init(source, arena, "fuzz.prill", (const unsigned char *)bytes, (uint32_t)length);
    parse_source(source, arena, reports, tree);
}

static bool is_blank(unsigned char byte)
{
    return byte == ' ' || byte == '\t';
}

/* Tokens follow on each other, and between them there is nothing but blanks (and the mark of UTF-8 at the
 * start). */
static void demand_all_bytes(const struct tree *tree)
{
    const unsigned char *bytes = tree->source->bytes;
    uint32_t at = tree->source->length >= 3 && !memcmp(bytes, "\xEF\xBB\xBF", 3) ? 3 : 0;
    for (size_t i = 0; i < tree->tokens.count; i++) {
        const struct token *token = &tree->tokens.items[i];
        uint32_t end = token->end;
        DEMAND(at <= token->start && token->start <= end && end <= tree->source->length);
        for (; at < token->start; at++)
            DEMAND(is_blank(bytes[at]));
        at = end;
    }
    DEMAND(at == tree->source->length);
}

static void demand_places(const struct reports *reports, const struct source *source)
{
    for (size_t i = 0; i < reports->all.count; i++) {
        struct place place = reports->all.items[i]->place;
        DEMAND(place.source == source && place.start <= place.end && place.end <= source->length);
    }
}

static void demand_layout(struct arena *arena, const struct tree *tree)
{
    struct buffer once = {.arena = arena}, twice = {.arena = arena};
    struct reports reports;
    struct tree again;
    DEMAND(format_tree(tree, &plan_layout, &once));
    parse(arena, buffer_string(&once), once.length, &reports, &again);
    DEMAND(again.sound);
    DEMAND(format_tree(&again, &plan_layout, &twice));
    DEMAND(once.length == twice.length &&
           (once.length == 0 || !memcmp(once.string, twice.string, once.length)));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct arena arena;
    struct reports reports;
    struct tree tree;
    arena_init(&arena, NULL);
    const char *bytes = text_string(&arena, (struct text){(const char *)data, size});
    parse(&arena, bytes, size, &reports, &tree);
    demand_all_bytes(&tree);
    demand_places(&reports, tree.source);
    DEMAND(tree.sound == (reports.errors == 0));
    if (tree.sound)
        demand_layout(&arena, &tree);
    arena_free(&arena);
    return 0;
}
