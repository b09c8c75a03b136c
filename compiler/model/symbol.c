#include "compiler/model/embedded.h"
#include "compiler/model/form_match.h"
#include "compiler/model/read.h"

#include <assert.h>
#include <stddef.h>
#include <string.h>

struct other_name {
    const struct name *grass;
    struct text also;
};

struct symbols {
    struct arena *arena;
    struct {
        struct symbol **by_id; /* by the name's id */
        size_t capacity;
        struct name_list declared;
    } kinds[SYMBOL_KIND_COUNT];
    /* 1 + the library's entry that declares a name, by the name's id, and further ones by the entry before
     * them; 0: none does. Of whichever kind: those of one name are few. */
    uint16_t *waiting, *waiting_too;
    size_t waiting_count; /* of names: those of the library come first */
    bool *lost;           /* by the name's id */
    size_t lost_capacity;
    bool file_lost; /* with whatever names were in it */
    /* What people elsewhere call the library's grasses; read when first asked for. */
    VECTOR(struct other_name) others;
    bool others_read;
};

static const char *const phrases[SYMBOL_KIND_COUNT] = {
    [SYMBOL_LAWN] = "a lawn",
    [SYMBOL_ZONE] = "a zone",
    [SYMBOL_PRODUCT] = "a product",
    [SYMBOL_MACHINE] = "a spreader or sprayer",
    [SYMBOL_SPRINKLER] = "a sprinkler",
    [SYMBOL_LIMIT_SET] = "a set of limits",
    [SYMBOL_TREATMENT] = "a treatment or task",
    [SYMBOL_GRASS] = "a grass",
    [SYMBOL_SCALE] = "a scale",
    [SYMBOL_CONVERSION] = "a conversion",
    [SYMBOL_LIME] = "a lime table",
    [SYMBOL_SOURCE] = "a source",
    [SYMBOL_CAUTION] = "a caution",
    [SYMBOL_USUAL] = "a class of products",
    [SYMBOL_CORRECT] = "a correction",
    [SYMBOL_BLEND] = "a blend",
};

/* The first words of statements that declare what is sought by name only. */
static const char *const words[SYMBOL_KIND_COUNT] = {
    [SYMBOL_LIMIT_SET] = "limits",      [SYMBOL_GRASS] = "grass",     [SYMBOL_SCALE] = "scale",
    [SYMBOL_CONVERSION] = "conversion", [SYMBOL_LIME] = "lime",       [SYMBOL_SOURCE] = "source",
    [SYMBOL_USUAL] = "usual",           [SYMBOL_CAUTION] = "caution",
};

/* Suggestions compare with every name, so of thousands of misspelt names the first ones get them. */
enum { SUGGESTION_LIMIT = 50 };

struct symbols *symbols_new(struct arena *arena)
{
    struct symbols *symbols = ARENA_NEW(arena, struct symbols);
    symbols->arena = arena;
    return symbols;
}

struct symbol *symbol_look(const struct model *model, enum symbol_kind kind, const struct name *name)
{
    const struct symbols *symbols = model->symbols;
    return name->id < symbols->kinds[kind].capacity ? symbols->kinds[kind].by_id[name->id] : NULL;
}

void symbol_foresee(struct model *model, enum symbol_kind kind, const struct name *name)
{
    VECTOR_PUSH(model->arena, &model->symbols->kinds[kind].declared, name);
}

/* Names of a plan count from 0 without gaps. */
void *names_reaching(struct arena *arena, void *items, size_t *count, const struct name *name, size_t size)
{
    while (name->id >= *count) {
        size_t before = *count;
        items = arena_grow(arena, items, before, count, size);
        memset((char *)items + before * size, 0, (*count - before) * size);
    }
    return items;
}

/* 1 + the index of the library's entry; 0 for none. */
static size_t entry_waiting(const struct symbols *symbols, enum symbol_kind kind, const struct name *name)
{
    size_t entry = name->id < symbols->waiting_count ? symbols->waiting[name->id] : 0;
    while (entry && strcmp(embedded_entries[entry - 1].word, words[kind] ? words[kind] : "") != 0)
        entry = symbols->waiting_too[entry - 1];
    return entry;
}

/* The plan's own replaces the library's, in whichever order the two are read. */
void symbol_declare(struct model *model, enum symbol_kind kind, struct symbol *symbol)
{
    struct symbols *symbols = model->symbols;
    symbols->kinds[kind].by_id =
        names_reaching(symbols->arena, symbols->kinds[kind].by_id, &symbols->kinds[kind].capacity,
                       symbol->name, sizeof(struct symbol *));
    struct symbol **slot = &symbols->kinds[kind].by_id[symbol->name->id];
    if (*slot && symbol->library && !(*slot)->library) {
        (*slot)->replaces = true;
        return;
    }
    if (*slot && (*slot)->library == symbol->library) {
        struct report *report =
            report_add(model->reports, &model_rules[RULE_DUPLICATE], symbol->place,
                       "`%s` is already the name of %s", name_string(symbol->name), phrases[kind]);
        report_label(model->reports, report, (*slot)->place, "declared here");
        symbol->broken = true;
        return;
    }
    bool waiting = entry_waiting(symbols, kind, symbol->name) != 0;
    symbol->replaces = !symbol->library && (*slot || waiting);
    if (!*slot && !waiting)
        symbol_foresee(model, kind, symbol->name);
    *slot = symbol;
}

/* ---- the library's entries ---- */

/* Before any other name: theirs are the first ids. Each is listed as declared, so that it is suggested before
 * its entry is read. */
void symbols_await(struct model *model)
{
    struct symbols *symbols = model->symbols;
    symbols->waiting = ARENA_ARRAY(symbols->arena, 2 * embedded_entry_count + 1, uint16_t);
    symbols->waiting_too = symbols->waiting + embedded_entry_count;
    assert(model->names->all.count == 0 && embedded_entry_count < UINT16_MAX);
    int kind = 0; /* most entries are of the kind before them */
    for (size_t i = 0; i < embedded_entry_count; i++) {
        int tried = 0;
        for (; tried < SYMBOL_KIND_COUNT &&
               !(words[kind] && strcmp(words[kind], embedded_entries[i].word) == 0);
             tried++)
            kind = (kind + 1) % SYMBOL_KIND_COUNT;
        if (tried == SYMBOL_KIND_COUNT)
            continue;
        const struct name *name = name_intern(model->names, text_of(embedded_entries[i].name));
        symbols->waiting_too[i] = symbols->waiting[name->id];
        symbols->waiting[name->id] = (uint16_t)(i + 1);
        symbols->waiting_count = name->id < symbols->waiting_count ? symbols->waiting_count : name->id + 1;
        symbol_foresee(model, (enum symbol_kind)kind, name);
    }
}

void symbols_read(struct model *model, enum symbol_kind kind)
{
    for (size_t i = 0; i < embedded_entry_count; i++)
        if (words[kind] && strcmp(words[kind], embedded_entries[i].word) == 0)
            library_read(model, i);
}

struct symbol *symbol_seek(struct model *model, enum symbol_kind kind, const struct name *name)
{
    struct symbol *symbol = symbol_look(model, kind, name);
    size_t entry = symbol ? 0 : entry_waiting(model->symbols, kind, name);
    if (!entry)
        return symbol;
    if (kind == SYMBOL_CAUTION) /* they are printed in the order of the library */
        library_read_file(model, LIBRARY_CAUTIONS);
    library_read(model, entry - 1);
    return symbol_look(model, kind, name);
}

/* ---- names that are lost, and found ---- */

void symbol_lose(struct model *model, const struct name *name)
{
    struct symbols *symbols = model->symbols;
    symbols->lost =
        names_reaching(symbols->arena, symbols->lost, &symbols->lost_capacity, name, sizeof(bool));
    symbols->lost[name->id] = true;
}

void symbol_lose_file(struct model *model)
{
    model->symbols->file_lost = true;
}

/* `bermuda` of `bermudagrass`; any other name as it is. */
static struct text stem_of(enum symbol_kind kind, struct text name)
{
    static const struct text behind = {"grass", 5};
    bool longer = kind == SYMBOL_GRASS && name.length > behind.length;
    bool grass =
        longer && text_equal((struct text){name.start + name.length - behind.length, behind.length}, behind);
    return (struct text){name.start, name.length - (grass ? behind.length : 0)};
}

/* A part of a name, `bentgrass` of `creeping-bentgrass`, is nearer than any other word; where several names
 * have it, none is nearer than the rest. Who misspells mostly has the first letter right, while `north` is
 * not `south`. */
struct text symbol_nearest(struct model *model, enum symbol_kind kind, struct text wanted, bool *certain)
{
    const struct name_list *list = &model->symbols->kinds[kind].declared;
    struct text best = {0};
    size_t least = SIZE_MAX, within = 0;
    bool alone = true;
    if (certain)
        *certain = false;
    if (model->reports->errors > SUGGESTION_LIMIT || wanted.length < 2)
        return best;
    for (size_t i = 0; i < list->count && wanted.length > 3; i++) {
        struct text name = list->items[i]->text;
        bool found = false;
        for (size_t at = 0; at + wanted.length <= name.length && !found; at++)
            found = (at == 0 || name.start[at - 1] == '-') &&
                    (at + wanted.length == name.length || name.start[at + wanted.length] == '-') &&
                    memcmp(name.start + at, wanted.start, wanted.length) == 0;
        within += found && !text_equal(name, best);
        best = found ? name : best;
    }
    if (within)
        return within == 1 ? best : (struct text){0};
    for (size_t i = 0; i < list->count; i++) {
        struct text name = list->items[i]->text;
        size_t distance = text_distance(wanted, name),
               short_distance = text_distance(wanted, stem_of(kind, name));
        distance = short_distance < distance ? short_distance : distance;
        size_t longer = wanted.length > name.length ? wanted.length : name.length;
        size_t most = (longer > 3 ? longer : 3) / 3 + (longer > 3 && *wanted.start == *name.start);
        if (distance > least || distance > most || text_equal(name, best))
            continue;
        alone = distance < least;
        best = alone ? name : best;
        least = distance;
    }
    if (!certain)
        return best;

    /* `feed-1` is not a misspelt `feed-2`. */
    size_t i = 0, j = 0;
    for (;; i++, j++) {
        while (i < wanted.length && (wanted.start[i] < '0' || wanted.start[i] > '9'))
            i++;
        while (j < best.length && (best.start[j] < '0' || best.start[j] > '9'))
            j++;
        if (i == wanted.length || j == best.length || wanted.start[i] != best.start[j])
            break;
    }
    *certain = best.length && alone && i == wanted.length && j == best.length;
    return best;
}

/* The grass that people elsewhere call so, other than the one that bears the name here; NULL where none is.
 * Entries of the library that are not read into the model are looked through for the statement that keeps
 * their other names. */
static const struct name *grass_elsewhere(struct model *model, struct text wanted, struct text here)
{
    struct symbols *symbols = model->symbols;
    for (size_t i = 0; i < embedded_entry_count && !symbols->others_read; i++) {
        const struct embedded_entry *entry = &embedded_entries[i];
        if (strcmp(entry->word, "grass") != 0)
            continue;
        struct arena *arena = arena_scratch(model->arena);
        struct text text = {(const char *)embedded_files[entry->file].bytes + entry->start,
                            entry->end - entry->start};
        struct source source;
        struct reports unheard = {.arena = arena};
        struct tree tree;
        source_init(&source, arena, "", (const unsigned char *)text_string(arena, text),
                    (uint32_t)text.length);
        parse_source(&source, arena, &unheard, &tree);
        const struct statement *grass = tree.plan->first;
        for (const struct statement *next = grass->block ? grass->block->first : NULL; next;
             next = statement_next(next)) {
            struct value values[SLOT_LIMIT];
            struct clause clause = {.statement = next, .tree = &tree, .values = values};
            struct matcher matcher = {
                .model = model, .tree = &tree, .block = BLOCK_GRASS, .first = next->first, .end = next->end};
            struct text head = {0};
            for (uint32_t at = match_skip(&matcher, next->first); match_clause(&matcher, &at, head, &clause);
                 at = match_next(&matcher, at)) {
                bool also = clause.form->field.offset == offsetof(struct grass, also);
                for (size_t j = 0; also && j < values->count; j++) {
                    const struct name *name = name_intern(model->names, text_of(entry->name));
                    const char *other = text_string(symbols->arena, values->items[j].text);
                    struct other_name called = {name, text_of(other)};
                    VECTOR_PUSH(symbols->arena, &symbols->others, called);
                }
                head = form_head(clause.form);
                if (match_kind(&matcher, at) != TOKEN_COMMA)
                    break;
            }
        }
    }
    symbols->others_read = true;
    for (size_t i = 0; i < symbols->others.count; i++) {
        const struct other_name *other = &symbols->others.items[i];
        if (!text_equal(other->grass->text, here) && text_distance(other->also, wanted) == 0)
            return other->grass;
    }
    return NULL;
}

/* "fescue" for "tall-fescue", "kentucky" for "kentucky-bluegrass": every grass that it may be short for. */
size_t symbol_short_name(struct model *model, enum symbol_kind kind, struct text wanted,
                         const struct name *names[SHORT_NAME_LIMIT])
{
    const struct name_list *list = &model->symbols->kinds[kind].declared;
    size_t count = 0;
    for (size_t i = 0; i < list->count && kind == SYMBOL_GRASS && wanted.length; i++) {
        struct text name = list->items[i]->text;
        bool found = false;
        for (size_t at = 0; at < name.length && !found; at++) {
            struct text rest = {name.start + at, name.length - at};
            if (at > 0 && name.start[at - 1] != '-')
                continue;
            found = text_distance(rest, wanted) == 0 || text_distance(stem_of(kind, rest), wanted) == 0;
        }
        if (found && count < SHORT_NAME_LIMIT)
            names[count++] = list->items[i];
    }
    const struct name *other = count == 1 && !text_equal(wanted, names[0]->text)
                                   ? grass_elsewhere(model, wanted, names[0]->text)
                                   : NULL; /* "buffalo" */
    if (other)
        names[count++] = other;
    return count;
}

/* A list longer than this is not read to the end. */
enum { NAMES_LISTED = 20 };

/* The block that declares a name which only the plan itself can have. */
static const char *const blocks[SYMBOL_KIND_COUNT] = {
    [SYMBOL_PRODUCT] = "product", [SYMBOL_MACHINE] = "spreader", [SYMBOL_TREATMENT] = "apply"};

/* What there is: who does not know the names cannot be near to one. */
static void help_with_names(struct model *model, struct report *report, enum symbol_kind kind,
                            const struct value *value)
{
    const struct name_list *list = &model->symbols->kinds[kind].declared;
    const struct name_list *lawns = &model->symbols->kinds[SYMBOL_LAWN].declared;
    const char *names[NAMES_LISTED], *wanted = name_string(value->name);
    const char *adds =
        blocks[kind] ? text_format(model->arena, "to add it, write `%s %s { ... }`", blocks[kind], wanted)
                     : NULL;
    if (list->count > NAMES_LISTED && words[kind])
        report_help(model->reports, report, "`prill library` lists the %u there are", list->count);
    else if (adds && (!list->count || list->count > NAMES_LISTED))
        report_help(model->reports, report, "%s", adds);
    if (!list->count || list->count > NAMES_LISTED)
        return;
    for (size_t i = 0; i < list->count; i++)
        names[i] = name_string(list->items[i]);
    const char *all = list_text(model->arena, names, list->count, " and "),
               *there =
                   text_format(model->arena, list->count == 1 ? "the only one is %s" : "there are %s", all);
    if (kind == SYMBOL_ZONE && lawns->count == 1) {
        const char *lawn = name_string(lawns->items[0]);
        report_help(model->reports, report, "%s; `%s` means all zones of that lawn", there, lawn);
        if (strcmp(wanted, "all") == 0 || strcmp(wanted, "everything") == 0)
            report_fix(model->reports, report, false, value->place, lawn,
                       text_format(model->arena, "write `%s`", lawn));
    } else if (adds) {
        report_help(model->reports, report, "%s; %s", there, adds);
    } else {
        report_help(model->reports, report, "%s", there);
    }
}

/* As it was written: a name of two words is not quoted with the hyphen that it was read with. */
static const char *written_name(const struct model *model, const struct value *value)
{
    const char *name = name_string(value->name),
               *text = value->place.source ? place_words(model->arena, value->place) : name;
    size_t same = 0;
    while (name[same] && (text[same] == name[same] || (text[same] == ' ' && name[same] == '-')))
        same++;
    return name[same] || text[same] ? name : text;
}

/* A name that was lost, or may have been in a lost file, is not reported: its loss was. */
struct symbol *symbol_find(struct model *model, enum symbol_kind kind, const struct value *value)
{
    const struct name *found[SHORT_NAME_LIMIT];
    struct symbol *symbol = symbol_seek(model, kind, value->name);
    size_t count = symbol ? 0 : symbol_short_name(model, kind, value->name->text, found);
    if (count == 1)
        symbol = symbol_seek(model, kind, found[0]);
    if (symbol) {
        symbol->used = true;
        return symbol;
    }
    bool certain = false, other_name = false;
    struct text name = value->name->text, near = {0};
    const char *written = written_name(model, value);
    if (count <= 1) {
        near = symbol_nearest(model, kind, name, &certain);
        found[0] = certain ? name_intern(model->names, near) : NULL;
        found[1] = kind == SYMBOL_GRASS && certain ? grass_elsewhere(model, name, near) : NULL;
        count = found[1] ? 2 : count;
    }
    if (count > 1) { /* which of them is meant cannot be told */
        const char *names[SHORT_NAME_LIMIT];
        for (size_t i = 0; i < count; i++)
            names[i] = text_format(model->arena, "`%s`", name_string(found[i]));
        struct report *report =
            report_add(model->reports, &model_rules[RULE_UNKNOWN], value->place, "`%s` could be %s", written,
                       list_text(model->arena, names, count, " or "));
        report_help(model->reports, report, "write the one you mean");
        return NULL;
    }
    if (kind == SYMBOL_GRASS && !certain && model->sources)
        symbols_read(model, SYMBOL_GRASS);
    for (size_t i = 0; i < model->grasses.count && kind == SYMBOL_GRASS && !certain; i++)
        for (size_t j = 0; j < model->grasses.items[i]->also.count && !certain; j++)
            if (text_distance(model->grasses.items[i]->also.items[j]->text, name) == 0) {
                near = model->grasses.items[i]->symbol.name->text;
                certain = other_name = true;
            }
    uint32_t id = value->name->id;
    bool lost = id < model->symbols->lost_capacity && model->symbols->lost[id];
    if (lost || (model->symbols->file_lost && !near.length))
        return NULL;
    const char *fault = other_name ? text_format(model->arena, "`%s` is called `%s` here", written,
                                                 text_string(model->arena, near))
                                   : text_format(model->arena, "`%s` is not %s", written, phrases[kind]);
    struct report *report = report_add(model->reports, &model_rules[RULE_UNKNOWN], value->place, "%s", fault);
    if (near.length) {
        if (!other_name)
            report_help(model->reports, report, "did you mean `%.*s`?", (int)near.length, near.start);
        if (certain)
            report_fix(model->reports, report, false, value->place, text_string(model->arena, near),
                       text_format(model->arena, "write `%.*s`", (int)near.length, near.start));
        return NULL;
    }
    for (int as = 0; as < SYMBOL_KIND_COUNT && !symbol; as++) { /* something else that has the name */
        symbol = as == SYMBOL_CAUTION ? NULL : symbol_seek(model, (enum symbol_kind)as, value->name);
        if (symbol)
            report_label(model->reports, report, symbol->place, "this is %s of that name", phrases[as]);
    }
    help_with_names(model, report, kind, value);
    return NULL;
}
