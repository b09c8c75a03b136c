#include "compiler/result/plan_facts.h"

#include "compiler/model/display.h"
#include "compiler/model/form.h"
#include "compiler/model/library.h"

#include <string.h>

static void fact_add(struct arena *arena, struct facts *facts, struct fact fact)
{
    VECTOR_PUSH(arena, facts, fact);
}

/* Its keys: the sentence; the same without its figures; of that, the first two words. So a setting finds the
 * setting of the same product, though its figure is another, and else whatever is said of the spreader. */
static void sentence_add(struct arena *arena, struct facts *facts, const char *subject, const char *sentence)
{
    enum { WORDS_OF_A_TOPIC = 2 };
    const char *of = subject ? subject : "";
    struct buffer like = {.arena = arena}, topic = {.arena = arena};
    size_t words = 0;
    buffer_format(&like, "%s\n", of);
    buffer_format(&topic, "%s\n", of);
    for (const char *at = sentence; *at;) {
        size_t length = strcspn(at, " "), digits = strcspn(at, "0123456789");
        if (digits >= length) {
            struct text word = {at, length};
            buffer_separate(&like, " ");
            buffer_add(&like, word);
            if (words++ < WORDS_OF_A_TOPIC) {
                buffer_separate(&topic, " ");
                buffer_add(&topic, word);
            }
        }
        at += length + strspn(at + length, " ");
    }
    fact_add(arena, facts,
             (struct fact){
                 subject,
                 sentence,
                 NAN,
                 {text_format(arena, "%s\n%s", of, sentence), buffer_string(&like), buffer_string(&topic)}});
}

/* ---- the ground ---- */

struct facts facts_of_areas(const struct model *model)
{
    struct arena *arena = model->arena;
    struct facts facts = {0};
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct zone *zone = model->zones.items[i];
        const char *name = name_string(zone->symbol.name);
        const char *key = text_format(arena, "%s\n%s", name_string(zone->lawn->symbol.name), name);
        fact_add(arena, &facts,
                 (struct fact){name, display_area(arena, model, zone->area_m2), zone->area_m2, {key}});
    }
    return facts;
}

/* What changes no area, and yet what a plan rests on. */
struct facts facts_of_ground(const struct model *model)
{
    struct arena *arena = model->arena;
    struct facts facts = {0};
    if (model->has_season) {
        const char *days = display_dates(arena, model->season_first, model->season_last);
        fact_add(arena, &facts, (struct fact){"season", days, NAN, {"season"}});
    }
    for (size_t i = 0; i < model->lawns.count; i++) {
        const struct lawn *lawn = model->lawns.items[i];
        const char *grass = text_format(arena, "grass of %s", name_string(lawn->symbol.name));
        const char *soil = text_format(arena, "soil of %s", name_string(lawn->symbol.name));
        if (lawn->grass)
            fact_add(arena, &facts,
                     (struct fact){grass, name_string(lawn->grass->symbol.name), NAN, {grass}});
        if (lawn->soil)
            fact_add(arena, &facts, (struct fact){soil, name_string(lawn->soil), NAN, {soil}});
    }
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct zone *zone = model->zones.items[i];
        const char *subject = text_format(arena, "%s from water", name_string(zone->symbol.name));
        if (isfinite(zone->water_m))
            fact_add(arena, &facts,
                     (struct fact){
                         subject, display_length(arena, model, zone->water_m), zone->water_m, {subject}});
    }
    return facts;
}

/* ---- limits ---- */

/* A limit whose figure changes is of the same set, kind and nutrient. */
struct facts facts_of_limits(const struct model *model)
{
    struct arena *arena = model->arena;
    struct facts facts = {0};
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        const char *set = limit->set->symbol.name ? name_string(limit->set->symbol.name) : NULL;
        if (!limit->set->bound)
            continue;
        const char *words = place_words(arena, limit->place);
        const char *nutrient = limit->nutrient ? limit->nutrient->name : "";
        const char *same = text_format(arena, "%s\n%s", set ? set : "", words);
        const char *like = text_format(arena, "%s\n%d %s", set ? set : "", (int)limit->kind, nutrient);
        fact_add(arena, &facts, (struct fact){set, words, NAN, {same, like}});
    }
    return facts;
}

/* ---- products ---- */

/* A line of the block may hold several statements, with commas between them: each begins with a word that
 * begins one. */
static void clauses_add(struct arena *arena, struct facts *facts, const char *product, const char *line)
{
    bool quoted = false;
    const char *first = line, *at = line;
    for (; *at; at++) {
        quoted = quoted != (*at == '"');
        const struct text next = {at + 2, *at == ',' && at[1] ? strcspn(at + 2, " ,") : 0};
        if (quoted || !next.length || !form_find(BLOCK_PRODUCT, next))
            continue;
        sentence_add(arena, facts, product, text_string(arena, (struct text){first, (size_t)(at - first)}));
        first = at + 2;
    }
    if (at > first)
        sentence_add(arena, facts, product, first);
}

/* Its block's statements as the plan has them: grade, label, packs, and whatever else it says. */
void facts_of_product(struct arena *arena, struct facts *facts, const struct product *product)
{
    const struct place at = product->symbol.statement;
    const struct text block =
        statement_text((struct text){(const char *)at.source->bytes, at.source->length}, at.start);
    const char *end = block.start + block.length, *line = memchr(block.start, '{', block.length);
    while (end > block.start && end[-1] != '}') /* a comment behind the block */
        end--;
    for (line = line ? line + 1 : end; line < end;) {
        const char *newline = memchr(line, '\n', (size_t)(end - line));
        const char *stop = newline ? newline : end - 1;
        uint32_t start = (uint32_t)(line - (const char *)at.source->bytes);
        const char *words =
            place_words(arena, (struct place){at.source, start, start + (uint32_t)(stop - line)});
        clauses_add(arena, facts, name_string(product->symbol.name), words);
        line = stop + 1;
    }
}

const bool *products_in_use(const struct model *model, const struct work_list *list)
{
    bool *used = ARENA_ARRAY(model->arena, model->products.count, bool);
    for (size_t i = 0; i < list->count; i++)
        for (size_t j = 0; j < list->items[i].materials.count; j++)
            used[list->items[i].materials.items[j].product->index] = true;
    return used;
}

struct facts facts_of_products(const struct model *model, const bool *used)
{
    struct facts facts = {0};
    for (size_t i = 0; i < model->products.count; i++)
        if (used[i])
            facts_of_product(model->arena, &facts, model->products.items[i]);
    return facts;
}

/* ---- a piece of work ---- */

/* Of cautions only what goes on afterwards: the others are of the whole season. */
struct facts facts_of_work(struct arena *arena, const struct work *work)
{
    struct facts facts = {0};
    for (size_t i = 0; i < work->sentences.count; i++)
        sentence_add(arena, &facts, NULL, work->sentences.items[i]);
    for (size_t i = 0; i < work->duties.count; i++)
        if (work->duties.items[i].caution)
            sentence_add(arena, &facts, NULL, work->duties.items[i].text);
    return facts;
}
