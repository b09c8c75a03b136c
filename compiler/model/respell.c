#include "compiler/model/respell.h"

#include "compiler/model/embedded.h"
#include "compiler/model/include.h"
#include "compiler/model/slot.h"
#include "compiler/model/symbol.h"

#include <stdlib.h>
#include <string.h>

/* What a plan says, clause by clause: forms and values without their places. */
struct respelling {
    struct model *model; /* what a text alone tells: its currency, and the names of grasses */
    struct sources *sources;
    const struct tree *tree;
    enum { GRASSES_UNREAD, GRASSES_KNOWN, GRASSES_UNKNOWN } grasses; /* of the plan and the files it uses */
    VECTOR(const struct source *) used; /* the plan and the files that were looked into for their grasses */
    VECTOR(struct spelling) spellings;
    struct buffer said;
};

/* ---- what is said ---- */

static void add_shape(struct respelling *respelling, const struct shape *shape)
{
    for (size_t i = 0; i < shape->part_count; i++) {
        const struct shape_part *part = &shape->parts[i];
        buffer_format(&respelling->said, "%d%d(", part->kind, part->less);
        for (size_t size = 0; size < part->size_count; size++)
            buffer_format(&respelling->said, "%s ",
                          number_text(respelling->model->arena, part->sizes[size], 9));
        if (part->group)
            add_shape(respelling, part->group);
        buffer_add_string(&respelling->said, ")");
    }
}

/* Figures to 12 digits: a sum of feet and inches may differ in the last bit from what it is written as. */
static void add_value(struct respelling *respelling, const struct value *value)
{
    struct buffer *said = &respelling->said;
    const char *slot = value->slot ? value->slot : ""; /* an item of a list has none */
    buffer_format(said, "<%.*s:", (int)strcspn(slot, ":"), slot);
    const double figures[] = {value->number, value->high, value->per};
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++) {
        bool possible = figures[i] >= -1e15 && figures[i] <= 1e15;
        buffer_format(said, "%s ", possible ? number_text(respelling->model->arena, figures[i], 12) : "-");
    }
    buffer_format(said, "%s %s ", value->nutrient ? value->nutrient->name : "", name_string(value->name));
    buffer_format(said, "%d-%d-%d ", value->date.year, value->date.month, value->date.day);
    if (value->shape)
        add_shape(respelling, value->shape);
    for (size_t i = 0; i < value->count; i++)
        add_value(respelling, &value->items[i]);
    buffer_add_string(said, ">");
}

/* ---- what is written otherwise ---- */

/* Adds the grasses that a file and the files it uses declare. False where one of those cannot be read. */
static bool add_grasses(struct respelling *respelling, const struct tree *tree)
{
    struct model *model = respelling->model;
    struct reports unheard;
    reports_init(&unheard, model->arena);
    VECTOR_PUSH(model->arena, &respelling->used, tree->source);
    for (const struct statement *statement = tree->plan->first; statement;
         statement = statement_next(statement)) {
        uint32_t next = statement->first + 1;
        struct text head = token_text(&tree->tokens, statement->first);
        bool grass = text_is(head, "grass");
        if (next >= statement->end || !(grass || text_is(head, "use")))
            continue;
        struct text text = token_text(&tree->tokens, next);
        if (tree->tokens.items[next].kind == TOKEN_STRING)
            text = token_string(model->arena, text);
        if (grass) {
            symbol_foresee(model, SYMBOL_GRASS, name_intern(model->names, text));
            continue;
        }
        const struct source *source =
            sources_read(respelling->sources, &unheard, tree->source, text, token_place(&tree->tokens, next));
        bool known = false;
        for (size_t i = 0; i < respelling->used.count; i++)
            known = known || respelling->used.items[i] == source;
        struct tree *used = ARENA_NEW(model->arena, struct tree);
        if (source && !known)
            parse_source(source, model->arena, &unheard, used);
        if (!source || (!known && !add_grasses(respelling, used)))
            return false;
    }
    return true;
}

/* What a block says is added to what is said, and what it spells otherwise to the spellings. */
static void read_block(struct respelling *respelling, enum block_kind kind, const struct block *block)
{
    const struct tokens *tokens = &respelling->tree->tokens;
    struct value values[SLOT_LIMIT];
    for (const struct statement *statement = block->first; statement; statement = statement_next(statement)) {
        struct matcher matcher = {.model = respelling->model,
                                  .tree = respelling->tree,
                                  .block = kind,
                                  .first = statement->first,
                                  .end = statement->end};
        struct text head = {0};
        uint32_t at = match_skip(&matcher, statement->first);
        /* Every clause up to the first that does not fit; the rows of a table have none. */
        for (bool more = kind != BLOCK_RESULTS && kind != BLOCK_NORMALS; more;
             at = match_next(&matcher, at)) {
            struct clause clause = {.statement = statement, .tree = respelling->tree, .values = values};
            size_t spellings = respelling->spellings.count;
            if (!match_clause(&matcher, &at, head, &clause))
                break;
            head = form_head(clause.form);
            buffer_format(&respelling->said, "%s ", clause.form->pattern);
            for (size_t i = 0; i < clause.value_count; i++) {
                const struct name *names[SHORT_NAME_LIMIT];
                bool grass = clause.form->block == BLOCK_LAWN && !strncmp(values[i].slot, "grass:", 6) &&
                             values[i].name;
                if (grass && respelling->grasses == GRASSES_UNREAD)
                    respelling->grasses =
                        add_grasses(respelling, respelling->tree) ? GRASSES_KNOWN : GRASSES_UNKNOWN;
                /* A short name of a grass is written in full. */
                if (grass && respelling->grasses == GRASSES_KNOWN &&
                    symbol_short_name(respelling->model, SYMBOL_GRASS, values[i].name->text, names) == 1 &&
                    names[0] != values[i].name) {
                    struct spelling spelling = {values[i].place, name_string(names[0])};
                    VECTOR_PUSH(respelling->model->arena, &respelling->spellings, spelling);
                    values[i].name = names[0];
                }
                add_value(respelling, &values[i]);
            }
            if (respelling->spellings.count == spellings)
                for (size_t i = 0; i < matcher.spellings.count; i++)
                    VECTOR_PUSH(respelling->model->arena, &respelling->spellings, matcher.spellings.items[i]);
            matcher.spellings.count = 0;
            more = match_kind(&matcher, at) == TOKEN_COMMA;
        }
        struct text second = statement->first + 1 < statement->end ? token_text(tokens, statement->first + 1)
                                                                   : (struct text){0};
        if (statement->block)
            read_block(respelling, block_kind_of(kind, token_text(tokens, statement->first), second),
                       statement->block);
    }
}

/* Insertions before what replaces the text behind them. */
static int by_place(const void *left, const void *right)
{
    const struct spelling *a = left, *b = right;
    if (a->place.start != b->place.start)
        return a->place.start < b->place.start ? -1 : 1;
    return (a->place.end > b->place.end) - (a->place.end < b->place.end);
}

/* What the new text says is read as the old one's was, and has to be the same: a spelling is never worth a
 * plan that means something else. */
const char *plan_respelled(struct arena *arena, struct sources *sources, const struct tree *tree)
{
    struct model *model = ARENA_NEW(arena, struct model);
    struct respelling before = {.model = model, .sources = sources, .tree = tree, .said = {.arena = arena}};
    model->arena = arena;
    model->names = ARENA_NEW(arena, struct names);
    names_init(model->names, arena);
    model->symbols = symbols_new(arena);
    symbols_await(model);
    model->currency = stated_currency(arena, tree);
    read_block(&before, BLOCK_PLAN, tree->plan);
    if (!before.spellings.count)
        return NULL;
    qsort(before.spellings.items, before.spellings.count, sizeof *before.spellings.items, by_place);
    struct buffer text = {.arena = arena};
    const struct source *source = tree->source;
    uint32_t at = 0;
    for (size_t i = 0; i < before.spellings.count; i++) {
        const struct spelling *spelling = &before.spellings.items[i];
        if (spelling->place.start < at)
            continue; /* within one that is written already */
        buffer_add(&text, (struct text){(const char *)source->bytes + at, spelling->place.start - at});
        bool blank = text.length && text.string[text.length - 1] == ' ' && *spelling->written == ' ';
        buffer_add_string(&text, spelling->written + blank); /* "20'x15'": one between the two */
        at = spelling->place.end;
    }
    buffer_add(&text, (struct text){(const char *)source->bytes + at, source->length - at});
    if (text.length > SOURCE_LIMIT)
        return NULL;
    struct reports unheard;
    struct source *changed = ARENA_NEW(arena, struct source);
    struct tree *new_tree = ARENA_NEW(arena, struct tree);
    reports_init(&unheard, arena);
    source_init(changed, arena, source->path, (const unsigned char *)buffer_string(&text),
                (uint32_t)text.length);
    parse_source(changed, arena, &unheard, new_tree);
    if (!new_tree->sound)
        return NULL;
    struct respelling after = before; /* the grasses are the same */
    after.tree = new_tree;
    after.said = (struct buffer){.arena = arena};
    memset(&after.spellings, 0, sizeof after.spellings);
    read_block(&after, BLOCK_PLAN, new_tree->plan);
    bool same =
        !after.spellings.count && strcmp(buffer_string(&before.said), buffer_string(&after.said)) == 0;
    return same ? buffer_string(&text) : NULL;
}
