#include "compiler/model/library.h"

#include "compiler/model/embedded.h"

#include <string.h>

static bool in_word(char byte)
{
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || (byte >= '0' && byte <= '9') ||
           byte == '-';
}

/* Where what begins at `at` ends: a string, a comment or a word as a whole, anything else one byte. */
static size_t piece_end(struct text text, size_t at)
{
    const char *start = text.start;
    if (start[at] == '"') {
        for (at++; at < text.length && start[at] != '"' && start[at] != '\n'; at++)
            at += start[at] == '\\';
        return at < text.length ? at + 1 : text.length;
    }
    if (start[at] == '#') {
        while (at < text.length && start[at] != '\n')
            at++;
        return at;
    }
    if (!in_word(start[at]))
        return at + 1;
    while (at < text.length && in_word(start[at]))
        at++;
    return at;
}

struct text statement_text(struct text file, size_t start)
{
    int depth = 0;
    size_t at = start;
    while (at < file.length && (depth > 0 || file.start[at] != '\n')) {
        depth += (file.start[at] == '{') - (file.start[at] == '}');
        at = piece_end(file, at);
    }
    return (struct text){file.start + start, at - start};
}

/* The first word behind `at`, on the same line. */
static struct text next_word(struct text text, size_t at)
{
    while (at < text.length && text.start[at] == ' ')
        at++;
    if (at == text.length || !in_word(text.start[at]))
        return (struct text){text.start + at, 0};
    return (struct text){text.start + at, piece_end(text, at) - at};
}

/* An entry begins a line; comment lines right above it, with no empty line between, are its own. */
struct library_entries library_entries(struct arena *arena)
{
    struct library_entries entries = {0};
    for (size_t i = 0; i < embedded_file_count; i++) {
        const struct embedded_file *file = &embedded_files[i];
        struct text text = {(const char *)file->bytes, file->length};
        size_t comment = 0; /* where the lines of comment above this line begin */
        uint32_t line = 1;
        for (size_t at = 0, end; at < text.length; at = end + 1, line++) {
            const char *newline = memchr(text.start + at, '\n', text.length - at);
            end = newline ? (size_t)(newline - text.start) : text.length;
            if (text.start[at] == '#')
                continue;
            if (in_word(text.start[at])) {
                struct text statement = statement_text(text, at), word = next_word(text, at);
                struct library_entry entry = {
                    .word = text_string(arena, word),
                    .name = text_string(arena, next_word(text, at + word.length)),
                    .path = file->path,
                    .line = line,
                    .comment = {text.start + comment, at > comment ? at - comment - 1 : 0},
                    .text = statement,
                };
                VECTOR_PUSH(arena, &entries, entry);
                for (size_t byte = at; byte < at + statement.length; byte++)
                    line += text.start[byte] == '\n';
                end = at + statement.length;
            }
            comment = end + 1;
        }
    }
    return entries;
}

const struct library_entry *library_entry_find(const struct library_entries *entries, const char *word,
                                               struct text name)
{
    for (size_t i = 0; i < entries->count; i++)
        if (strcmp(entries->items[i].word, word) == 0 && text_is(name, entries->items[i].name))
            return &entries->items[i];
    return NULL;
}

void text_list_add(struct arena *arena, struct text_list *names, struct text name)
{
    for (size_t i = 0; i < names->count; i++)
        if (text_equal(names->items[i], name))
            return;
    VECTOR_PUSH(arena, names, name);
}

struct text_list sources_named(struct arena *arena, struct text entry)
{
    struct text_list names = {0};
    for (size_t at = 0, end; at < entry.length; at = end) {
        end = piece_end(entry, at);
        struct text name = next_word(entry, end);
        if (text_is((struct text){entry.start + at, end - at}, "from") && name.length)
            text_list_add(arena, &names, name);
    }
    return names;
}

bool text_names(struct text text, struct text word)
{
    for (size_t at = 0, end; at < text.length; at = end) {
        end = piece_end(text, at);
        if (text_equal((struct text){text.start + at, end - at}, word))
            return true;
    }
    return false;
}

/* Line by line: what is behind a `#` is left out. */
void text_list_add_behind(struct arena *arena, struct text_list *names, struct text text, const char *before,
                          bool sourced)
{
    size_t length = strlen(before);
    for (const char *at = text.start, *end = text.start + text.length; at < end;) {
        const char *newline = memchr(at, '\n', (size_t)(end - at));
        struct text line = {at, (size_t)((newline ? newline : end) - at)};
        const char *next = line.start + line.length + 1, *comment = memchr(at, '#', line.length);
        line.length = comment ? (size_t)(comment - at) : line.length;
        for (size_t i = 0; i + length < line.length; i++) {
            if (memcmp(line.start + i, before, length) != 0 || (i && line.start[i - 1] != ' '))
                continue;
            size_t from = i + length, to;
            while (from < line.length && line.start[from] == ' ')
                from++;
            for (to = from; to < line.length && line.start[to] != ' ';)
                to++;
            struct text rest = {line.start + to, line.length - to};
            if (to > from && (!sourced || (rest.length > 6 && memcmp(rest.start, " from ", 6) == 0)))
                text_list_add(arena, names, (struct text){line.start + from, to - from});
        }
        at = next;
    }
}

struct text_list library_regions(struct arena *arena, const struct library_entries *entries)
{
    struct text_list names = {0};
    for (size_t i = 0; i < entries->count; i++) {
        const struct library_entry *entry = &entries->items[i];
        if (strcmp(entry->word, "grass") == 0)
            text_list_add_behind(arena, &names, entry->text, "in ", true);
        else if (strcmp(entry->word, "scale") == 0 || strcmp(entry->word, "lime") == 0)
            text_list_add_behind(arena, &names, entry->text, "region ", false);
    }
    return names;
}
