#include "compiler/result/library_page.h"

#include "compiler/model/library.h"

#include <stdlib.h>
#include <string.h>

/* What an entry is for, by the first word of its statement; in the order of being listed. */
static const struct kind {
    const char *word, *heading;
    const char *use; /* how a plan names one: NULL where it does not */
} kinds[] = {
    {"grass", "Grasses", "`grass %s` in a lawn"},
    {"scale", "Scales for reading soil tests", "`scale %s` in a soil test"},
    {"lime", "Lime tables", "`lime %s` in a soil test"},
    {"conversion", "Conversions from one laboratory method to another", "`convert %s` in a soil test"},
    {"limits", "Sets of limits that a plan can follow", "`follow %s`"},
    {"caution", "Cautions", "`caution %s` in a product"},
    {"usual", "What products usually are, by form and kind", "`kind %s` in a product"},
    {"source", NULL, NULL},
};
enum { KINDS = sizeof kinds / sizeof *kinds };

/* Statements of the library that give nothing a name: what is known of pairs and kinds of materials. */
static const char *const material_words[] = {"mix", "salt-index", "acidity", "basicity"};

static const struct kind *kind_of(const char *word)
{
    for (int i = 0; i < KINDS; i++)
        if (strcmp(kinds[i].word, word) == 0)
            return &kinds[i];
    return NULL;
}

/* ---- lists of names ---- */

static int by_bytes(const void *a, const void *b)
{
    return text_compare(*(const struct text *)a, *(const struct text *)b);
}

static void describe_names(struct page *page, const char *heading, struct text_list *names)
{
    struct buffer list = {.arena = page->arena};
    if (!names->count)
        return;
    qsort(names->items, names->count, sizeof *names->items, by_bytes);
    for (size_t i = 0; i < names->count; i++) {
        buffer_add_string(&list, i ? ", " : "");
        buffer_add(&list, names->items[i]);
    }
    page_gap(page);
    page_heading(page, 0, heading);
    page_line(page, 1, buffer_string(&list));
}

/* "salt-index of urea is ...", "mix urea with lime never ..." */
static struct text_list materials(struct arena *arena, const struct library_entries *entries)
{
    struct text_list names = {0};
    for (size_t i = 0; i < entries->count; i++) {
        bool of_materials = false;
        for (size_t j = 0; j < sizeof material_words / sizeof *material_words; j++)
            of_materials = of_materials || strcmp(entries->items[i].word, material_words[j]) == 0;
        if (!of_materials)
            continue;
        text_list_add_behind(arena, &names, entries->items[i].text, "of ", false);
        text_list_add_behind(arena, &names, entries->items[i].text, "mix ", false);
        text_list_add_behind(arena, &names, entries->items[i].text, "with ", false);
    }
    return names;
}

static struct text_list names_of_kind(struct arena *arena, const struct library_entries *entries,
                                      const char *word, bool always)
{
    struct text_list names = {0};
    for (size_t i = 0; i < entries->count; i++) {
        const struct library_entry *entry = &entries->items[i];
        if (strcmp(entry->word, word) == 0 && *entry->name &&
            text_names(entry->text, TEXT("always")) == always)
            text_list_add(arena, &names, text_of(entry->name));
    }
    return names;
}

/* Kind by kind, with how a plan names one: who knows the kind and not the name looks here. */
void library_list_page(struct page *page)
{
    struct arena *arena = page->arena;
    struct library_entries entries = library_entries(arena);
    page_line(page, 0,
              "What prill knows of grasses, soil tests, limits and materials, each with its source. "
              "`prill library NAME` shows one entry. A plan that needs other figures states an entry of "
              "its own with the same name; that one then counts.");
    for (int i = 0; i < KINDS; i++) {
        if (!kinds[i].heading)
            continue;
        struct text_list names = names_of_kind(arena, &entries, kinds[i].word, false);
        const char *use = text_format(arena, kinds[i].use, "NAME");
        describe_names(page, text_format(arena, "%s (%s):", kinds[i].heading, use), &names);
        if (strcmp(kinds[i].word, "limits") != 0)
            continue;
        names = names_of_kind(arena, &entries, kinds[i].word, true);
        describe_names(page, "Limits that hold for every plan:", &names);
    }
    struct text_list list = library_regions(arena, &entries);
    describe_names(page, "Regions (`region NAME` in a lawn):", &list);
    list = materials(arena, &entries);
    describe_names(page, "Kinds of materials (`kind NAME` in a product):", &list);
}

/* ---- one entry ---- */

/* The text behind the property's word, without its quotation marks; empty where the entry has no such
 * line. */
static struct text property(struct text entry, const char *word)
{
    for (const char *at = entry.start, *end = entry.start + entry.length; at < end;) {
        const char *newline = memchr(at, '\n', (size_t)(end - at));
        struct text line = {at, (size_t)((newline ? newline : end) - at)};
        at = line.start + line.length + 1;
        while (line.length && *line.start == ' ')
            line.start++, line.length--;
        size_t length = strlen(word);
        if (line.length <= length || memcmp(line.start, word, length) != 0 || line.start[length] != ' ')
            continue;
        line.start += length;
        line.length -= length;
        while (line.length && (*line.start == ' ' || *line.start == '"'))
            line.start++, line.length--;
        while (line.length && (line.start[line.length - 1] == ' ' || line.start[line.length - 1] == '"'))
            line.length--;
        return line;
    }
    return (struct text){"", 0};
}

/* Each once, in the order in which the entry names them. */
static void describe_sources(struct page *page, const struct library_entries *entries,
                             const struct text_list *names)
{
    bool begun = false;
    for (size_t i = 0; i < names->count; i++) {
        const struct library_entry *source = library_entry_find(entries, "source", names->items[i]);
        if (!source)
            continue;
        if (!begun) {
            page_gap(page);
            page_heading(page, 0, "Sources:");
        }
        begun = true;
        /* "NAME: title, by whom, year (status), read on that day address": what the entry has of these. */
        static const struct {
            const char *word, *before, *behind;
        } parts[] = {{"title", "", ""},     {"by", ", by ", ""},     {"year", ", ", ""},
                     {"status", " (", ")"}, {"read", ", read ", ""}, {"at", " ", ""}};
        struct buffer line = {.arena = page->arena};
        buffer_format(&line, "%s: ", source->name);
        if (!property(source->text, "title").length)
            buffer_add_string(&line, "nothing published");
        for (size_t j = 0; j < sizeof parts / sizeof *parts; j++) {
            struct text value = property(source->text, parts[j].word);
            if (!value.length)
                continue;
            buffer_add_string(&line, parts[j].before);
            buffer_add(&line, value);
            buffer_add_string(&line, parts[j].behind);
        }
        page_item(page, 1, buffer_string(&line));
    }
}

enum { ENTRY_DEPTH = 2 };

static const char *entry_title(struct arena *arena, const struct library_entry *entry)
{
    return text_format(arena, "%s %s (%s:%u)", entry->word, entry->name, entry->path, entry->line);
}

/* Of a region or a kind of material: each line that speaks of it, and where it is. */
static void describe_mentions(struct page *page, const struct library_entries *entries, struct text name)
{
    struct arena *arena = page->arena;
    struct text_list known = library_regions(arena, entries), sources = {0};
    struct text_list kinds_of_material = materials(arena, entries);
    for (size_t i = 0; i < kinds_of_material.count; i++)
        text_list_add(arena, &known, kinds_of_material.items[i]);
    bool is_known = false;
    for (size_t i = 0; i < known.count; i++)
        is_known = is_known || text_equal(known.items[i], name);
    if (!is_known)
        return;
    page_gap(page);
    for (size_t i = 0; i < entries->count; i++) {
        const struct library_entry *entry = &entries->items[i];
        bool headed = false;
        for (size_t at = 0; at < entry->text.length;) {
            const char *start = entry->text.start + at;
            const char *newline = memchr(start, '\n', entry->text.length - at);
            struct text line = {start, newline ? (size_t)(newline - start) : entry->text.length - at};
            at += line.length + 1;
            if (!text_names(line, name))
                continue;
            struct text_list named = sources_named(arena, line);
            for (size_t j = 0; j < named.count; j++)
                text_list_add(arena, &sources, named.items[j]);
            if (!headed && line.length < entry->text.length)
                page_line(page, 1, entry_title(arena, entry));
            headed = true;
            page_verbatim(page, ENTRY_DEPTH, line);
        }
    }
    describe_sources(page, entries, &sources);
}

/* A name may be an entry of several kinds, and a region or material beside. */
bool library_entry_page(struct page *page, const char *name)
{
    struct library_entries entries = library_entries(page->arena);
    for (size_t i = 0; i < entries.count; i++)
        if (kind_of(entries.items[i].word) && strcmp(entries.items[i].name, name) == 0) {
            page_gap(page);
            /* As it is written, comments and all: the library is plan text, and an entry in a plan can be
             * made from it. */
            const struct library_entry *entry = &entries.items[i];
            const struct kind *kind = kind_of(entry->word);
            page_heading(page, 0, entry_title(page->arena, entry));
            page_gap(page);
            if (entry->comment.length)
                page_verbatim(page, ENTRY_DEPTH, entry->comment);
            page_verbatim(page, ENTRY_DEPTH, entry->text);
            struct text_list names = sources_named(page->arena, entry->text);
            describe_sources(page, &entries, &names);
            if (kind && kind->use) {
                page_gap(page);
                const char *use = text_format(page->arena, kind->use, entry->name);
                const char *how = text_names(entry->text, TEXT("always"))
                                      ? "It holds for every plan."
                                      : text_format(page->arena, "A plan uses it with %s.", use);
                page_say(page, 0, "%s An entry `%s %s` in a plan replaces it there.", how, entry->word,
                         entry->name);
            }
        }
    describe_mentions(page, &entries, text_of(name));
    return page->parts.count > 0;
}

/* A third of the letters may be wrong. */
const char *library_name_nearest(struct arena *arena, const char *name)
{
    struct library_entries entries = library_entries(arena);
    struct text_list names = library_regions(arena, &entries), more = materials(arena, &entries);
    for (size_t i = 0; i < more.count; i++)
        text_list_add(arena, &names, more.items[i]);
    for (size_t i = 0; i < entries.count; i++)
        if (kind_of(entries.items[i].word))
            text_list_add(arena, &names, text_of(entries.items[i].name));
    struct text nearest = {0};
    size_t least = strlen(name) / 3 + 1;
    for (size_t i = 0; i < names.count; i++) {
        size_t distance = text_distance(names.items[i], text_of(name));
        if (distance < least) {
            nearest = names.items[i];
            least = distance;
        }
    }
    return nearest.length ? text_string(arena, nearest) : NULL;
}
