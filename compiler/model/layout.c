#include "compiler/model/layout.h"

#include "compiler/model/form.h"

/* Limits read as sentences; everything else is a list of properties. */
static const enum block_layout layouts[BLOCK_KIND_COUNT] = {
    [BLOCK_NONE] = LAYOUT_PLAIN,        [BLOCK_PLAN] = LAYOUT_ALIGNED,     [BLOCK_LAWN] = LAYOUT_ALIGNED,
    [BLOCK_SOIL_TEST] = LAYOUT_ALIGNED, [BLOCK_RESULTS] = LAYOUT_TABLE,    [BLOCK_PRODUCT] = LAYOUT_ALIGNED,
    [BLOCK_SOIL_FILE] = LAYOUT_ALIGNED, [BLOCK_SPREADER] = LAYOUT_ALIGNED, [BLOCK_SPRAYER] = LAYOUT_ALIGNED,
    [BLOCK_SPRINKLER] = LAYOUT_ALIGNED, [BLOCK_WEATHER] = LAYOUT_ALIGNED,  [BLOCK_NORMALS] = LAYOUT_TABLE,
    [BLOCK_SERIES] = LAYOUT_ALIGNED,    [BLOCK_LIMITS] = LAYOUT_PLAIN,     [BLOCK_APPLY] = LAYOUT_ALIGNED,
    [BLOCK_TASK] = LAYOUT_ALIGNED,      [BLOCK_DONE] = LAYOUT_ALIGNED,     [BLOCK_CORRECT] = LAYOUT_ALIGNED,
    [BLOCK_BLEND] = LAYOUT_ALIGNED,     [BLOCK_GRASS] = LAYOUT_ALIGNED,    [BLOCK_SCALE] = LAYOUT_ALIGNED,
    [BLOCK_SOURCE] = LAYOUT_ALIGNED,    [BLOCK_CAUTION] = LAYOUT_ALIGNED,  [BLOCK_USUAL] = LAYOUT_ALIGNED,
};

static int kind_of_block(int outer, struct text head, struct text second)
{
    return (int)block_kind_of((enum block_kind)outer, head, second);
}

static bool declares_name(int kind, struct text head)
{
    for (const struct form *form = form_first((enum block_kind)kind); form; form = form_next(form))
        if (form_begins(form, head) && form_declares(form))
            return true;
    return false;
}

static bool head_goes_on(struct text word, struct text next)
{
    static const char *const pairs[][2] = {
        {"at", "least"}, {"at", "most"}, {"add", "up"}, {"up", "to"}, {"whole", "packs"},
    };
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
        if (text_is(word, pairs[i][0]) && text_is(next, pairs[i][1]))
            return true;
    return false;
}

/* A name and perhaps its unit: `pH`, `P ppm`, `K lb per acre`, `CEC meq per 100 g`. */
static size_t column_words(const struct text *words, size_t count)
{
    size_t end = 1;
    struct unit_found found = unit_find(words + end, count - end);
    if (!found.unit)
        return end;
    for (end += found.taken; end < count && (text_is(words[end], "per") || text_is(words[end], "/"));) {
        bool number = end + 1 < count && words[end + 1].length && words[end + 1].start[0] >= '0' &&
                      words[end + 1].start[0] <= '9';
        size_t unit = end + 1 + number;
        found = unit_find(words + unit, unit < count ? count - unit : 0);
        if (!found.unit)
            break;
        end = unit + found.taken;
    }
    return end;
}

const struct format_language plan_layout = {
    .plan = BLOCK_PLAN,
    .block_kind = kind_of_block,
    .block_layouts = layouts,
    .declares_name = declares_name,
    .head_goes_on = head_goes_on,
    .column_words = column_words,
};
