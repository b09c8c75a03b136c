/* The library as text: its entries as they are written, without reading what they say. */
#ifndef PRILL_MODEL_LIBRARY_H
#define PRILL_MODEL_LIBRARY_H

#include "lexer/text.h"

/* A statement that begins a line of one of the library's files. */
struct library_entry {
    const char *word;    /* "grass" */
    const char *name;    /* "tall-fescue"; "" where the statement gives no name */
    const char *path;    /* "library/grasses.prill" */
    uint32_t line;       /* from 1 */
    struct text comment; /* the lines of comment right above it; empty without */
    struct text text;    /* to its closing brace, or to the end of its line */
};

struct library_entries {
    struct library_entry *items;
    size_t count, capacity;
};

/* In the order of the files and their lines. */
struct library_entries library_entries(struct arena *arena);

/* NULL where there is none. */
const struct library_entry *library_entry_find(const struct library_entries *entries, const char *word,
                                               struct text name);

/* A statement of `file` from its first byte at `start` to its closing brace, or to the end of its line. */
struct text statement_text(struct text file, size_t start);

/* Words, each once. */
struct text_list {
    struct text *items;
    size_t count, capacity;
};
void text_list_add(struct arena *arena, struct text_list *names, struct text name);

/* Adds the word behind each `before` in the text, outside comments; with `sourced` only where ` from `
 * follows it, as behind the region in `pH 6.0 to 7.0 in indiana from purdue-turf`. */
void text_list_add_behind(struct arena *arena, struct text_list *names, struct text text, const char *before,
                          bool sourced);

/* The names behind `from` in an entry: where its figures come from. */
struct text_list sources_named(struct arena *arena, struct text entry);

/* The regions that grasses have figures for, and that scales and lime tables are made for. */
struct text_list library_regions(struct arena *arena, const struct library_entries *entries);

/* Whether `word` stands in the text as a whole word, outside quotation marks and comments. */
bool text_names(struct text text, struct text word);

#endif
