#include "tests/unit/format_text.h"

#include <string.h>

enum { PLAN, PROPERTIES, TABLE, RULES, UNKNOWN };

static int block_kind(int outer, struct text head, struct text second)
{
    (void)second;
    if (outer == PROPERTIES && text_is(head, "results"))
        return TABLE;
    if (outer == PLAN && text_is(head, "limits"))
        return RULES;
    return outer == PLAN ? PROPERTIES : UNKNOWN;
}

static const enum block_layout block_layouts[] = {
    [PLAN] = LAYOUT_ALIGNED, [PROPERTIES] = LAYOUT_ALIGNED, [TABLE] = LAYOUT_TABLE, [UNKNOWN] = LAYOUT_PLAIN};

static bool declares_name(int kind, struct text head)
{
    return kind == PROPERTIES && text_is(head, "zone");
}

static bool head_goes_on(struct text word, struct text next)
{
    return text_is(word, "at") && text_is(next, "least");
}

static size_t column_words(const struct text *words, size_t count)
{
    return count > 1 && text_is(words[1], "ppm") ? 2 : 1;
}

const struct format_language small_language = {PLAN,          block_kind,   block_layouts,
                                               declares_name, head_goes_on, column_words};

int arena_setup(void **state)
{
    static struct arena arena;
    arena_init(&arena, NULL);
    *state = &arena;
    return 0;
}

int arena_teardown(void **state)
{
    arena_free(*state);
    return 0;
}

void parse_text(struct arena *arena, const char *bytes, struct tree *tree)
{
    struct source *source = ARENA_NEW(arena, struct source);
    struct reports *reports = ARENA_NEW(arena, struct reports);
    reports_init(reports, arena);
    source_init(source, arena, "green.prill", (const unsigned char *)bytes, (uint32_t)strlen(bytes));
    parse_source(source, arena, reports, tree);
}

const char *formatted(struct arena *arena, const char *bytes)
{
    struct tree tree;
    struct buffer out = {.arena = arena};
    parse_text(arena, bytes, &tree);
    if (!tree.sound)
        return NULL;
    if (!format_tree(&tree, &small_language, &out))
        fail_msg("the formatter would have changed:\n%s\ninto:\n%s", bytes, buffer_string(&out));
    return buffer_string(&out);
}

const char *without_blanks(struct arena *arena, const char *bytes)
{
    char *copy = (char *)text_string(arena, text_of(bytes)), *end = copy;
    for (const char *at = copy; *at; at++)
        if (*at != ' ' && *at != '\t' && *at != '\r' && *at != '\n')
            *end++ = *at;
    *end = '\0';
    return copy;
}
