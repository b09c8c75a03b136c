/* The table of statements, and its rows by block and first word. */
#include "compiler/model/form_match.h"
#include "compiler/model/read.h"

#include <stddef.h>
#include <string.h>

#define FIELD_KIND(type, member)                                                                             \
    _Generic(((struct type *)0)->member, double                                                               \
             : FIELD_NUMBER, int                                                                              \
             : FIELD_COUNT, bool                                                                              \
             : FIELD_FLAG, unsigned                                                                           \
             : FIELD_CHOICE, const char *                                                                       \
             : FIELD_TEXT, struct duration                                                                    \
             : FIELD_DURATION, const struct name *                                                            \
             : FIELD_NAME, const struct grass *                                                               \
             : FIELD_GRASS, const struct source_entry *                                                       \
             : FIELD_SOURCE, const struct lime_table *                                                        \
             : FIELD_LIME, const struct machine *                                                            \
             : FIELD_MACHINE, double *                                                                        \
             : FIELD_GRADE, struct name_list                                                                  \
             : FIELD_NAMES, struct zone_list                                                                  \
             : FIELD_ZONES, struct product_list                                                               \
             : FIELD_PRODUCTS, struct grass_list                                                              \
             : FIELD_GRASSES)
#define ONE true
#define MANY false
#define FORM(block, pattern, opens, times, reader, meaning, example)                                         \
    {BLOCK_##block, pattern, BLOCK_##opens, times, read_##reader, 0, {0}, meaning, example, NULL},
#define AS(block, pattern, opens, times, reader, which, meaning, example)                                    \
    {BLOCK_##block, pattern, BLOCK_##opens, times, read_##reader, which, {0}, meaning, example, NULL},
#define KEPT(block, pattern, times, type, member, place, meaning, example)                                   \
    {BLOCK_##block,                                                                                          \
     pattern,                                                                                                \
     BLOCK_NONE,                                                                                             \
     times,                                                                                                  \
     field_keep,                                                                                             \
     0,                                                                                                      \
     {FIELD_KIND(type, member), offsetof(struct type, member), place},                                       \
     meaning,                                                                                                \
     example,                                                                                                \
     NULL},
#define KEEP(block, pattern, times, type, member, meaning, example)                                          \
    KEPT(block, pattern, times, type, member, 0, meaning, example)
#define KEEP_AT(block, pattern, times, type, member, place, meaning, example)                                \
    KEPT(block, pattern, times, type, member, offsetof(struct type, place), meaning, example)
#define OTHER(block, pattern, stands, example)                                                               \
    {BLOCK_##block, pattern, BLOCK_NONE, false, NULL, 0, {0}, "the same as", example, stands},
static const struct form forms[] = {
#include "compiler/model/statement.def"
};
#undef FORM
#undef KEPT
#undef AS
#undef KEEP
#undef KEEP_AT
#undef OTHER
#undef ONE
#undef MANY
enum { FORM_COUNT = sizeof forms / sizeof *forms };

static const char *const block_names[BLOCK_KIND_COUNT] = {
    [BLOCK_NONE] = "",           [BLOCK_PLAN] = "plan",
    [BLOCK_LAWN] = "lawn",       [BLOCK_SOIL_TEST] = "soil-test",
    [BLOCK_RESULTS] = "results", [BLOCK_SOIL_FILE] = "results from",
    [BLOCK_PRODUCT] = "product", [BLOCK_SPREADER] = "spreader",
    [BLOCK_SPRAYER] = "sprayer", [BLOCK_SPRINKLER] = "sprinkler",
    [BLOCK_WEATHER] = "weather", [BLOCK_NORMALS] = "normals",
    [BLOCK_SERIES] = "from",     [BLOCK_LIMITS] = "limits",
    [BLOCK_APPLY] = "apply",     [BLOCK_TASK] = "task",
    [BLOCK_DONE] = "done",       [BLOCK_CORRECT] = "correct",
    [BLOCK_BLEND] = "blend",     [BLOCK_GRASS] = "grass",
    [BLOCK_SCALE] = "scale",     [BLOCK_CONVERSION] = "conversion",
    [BLOCK_LIME] = "lime",       [BLOCK_SOURCE] = "source",
    [BLOCK_USUAL] = "usual",     [BLOCK_CAUTION] = "caution",
};

size_t form_count(void)
{
    return FORM_COUNT;
}

const struct form *form_at(size_t index)
{
    return index < FORM_COUNT ? &forms[index] : NULL;
}

const char *block_kind_name(enum block_kind kind)
{
    return block_names[kind];
}

/* The rows stand in the order of their blocks, so halving finds the first one of a block. */
const struct form *form_first(enum block_kind kind)
{
    size_t low = 0, high = FORM_COUNT;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (forms[middle].block < kind)
            low = middle + 1;
        else
            high = middle;
    }
    return low < FORM_COUNT && forms[low].block == kind ? &forms[low] : NULL;
}

const struct form *form_next(const struct form *form)
{
    const struct form *next = form + 1;
    return next < forms + FORM_COUNT && next->block == form->block ? next : NULL;
}

bool form_begins(const struct form *form, struct text word)
{
    if (!word.length || *form->pattern != *word.start || strncmp(form->pattern, word.start, word.length) != 0)
        return false;
    return form->pattern[word.length] == ' ' || form->pattern[word.length] == '\0';
}

const struct form *form_find(enum block_kind kind, struct text word)
{
    const struct form *form = word.length ? form_first(kind) : NULL;
    while (form && (*form->pattern != *word.start || !form_begins(form, word)))
        form = form_next(form);
    return form;
}

struct text form_head(const struct form *form)
{
    return (struct text){form->pattern, strcspn(form->pattern, " ")};
}

bool form_says(const struct form *form, const char *words)
{
    return strstr(form->pattern, words) != NULL;
}

bool form_declares(const struct form *form)
{
    static const char slot[] = " <name:name>";
    return !strncmp(form->pattern + form_head(form).length, slot, sizeof slot - 1);
}

/* By the head alone, or by its second word where that is one of the form's own. */
enum block_kind block_kind_of(enum block_kind outer, struct text head, struct text second)
{
    enum block_kind kind = BLOCK_NONE;
    for (const struct form *form = form_find(outer, head); form && form_begins(form, head);
         form = form_next(form)) {
        if (form->opens == BLOCK_NONE)
            continue;
        /* Where the second word is one of the form's own, it decides. */
        const char *rest = form->pattern + form_head(form).length;
        if (*rest == ' ' && second.length && strcspn(rest + 1, " ") == second.length &&
            memcmp(rest + 1, second.start, second.length) == 0)
            return form->opens;
        kind = kind == BLOCK_NONE ? form->opens : kind;
    }
    return kind;
}
