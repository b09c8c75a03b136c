/* A plan that is being written: its text, and the memory in which it is compiled again and again. */
#include "compiler/compilation.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

static_assert(PRILL_TEXT_LIMIT == SOURCE_LIMIT, "clients see the bound of a source");

enum { TEXT_LEAST = 4096 };

struct prill_document {
    char *path;
    char *text; /* `length` bytes and no NUL */
    size_t length, capacity;
    struct prill_options options; /* for each time; its strings are in `strings` */
    char *strings;
    struct prill_compilation *compilation; /* of a text before, unless `compiled` */
    bool compiled;
};

/* Room for a text of that length. False, and all as before, where memory has run out. */
static bool reserve(struct prill_document *document, size_t length)
{
    size_t capacity = document->capacity ? document->capacity : TEXT_LEAST;
    while (capacity < length)
        capacity *= 2;
    char *text = capacity > document->capacity ? realloc(document->text, capacity) : document->text;
    if (!text)
        return false;
    document->text = text;
    document->capacity = capacity;
    return true;
}

/* What is half-made when memory runs out is given back. */
enum prill_status prill_document_open(const char *path, const struct prill_options *options,
                                      struct prill_document **document)
{
    static const struct prill_options usual = {.size = sizeof usual};
    const struct prill_options *given = options ? options : &usual;
    *document = NULL;
    if (!path || !options_fit(given) || (given->text && given->text_length > SOURCE_LIMIT))
        return PRILL_BAD_CALL;
    struct prill_document *opened = calloc(1, sizeof *opened);
    if (!opened)
        return PRILL_SYSTEM_FAILED;
    size_t length = given->text ? given->text_length : 0, name = strlen(path) + 1;
    opened->path = malloc(name);

    /* Who gave the options may change or free them. */
    struct prill_options *kept = &opened->options;
    const char **strings[OPTION_STRINGS];
    size_t size = 1;
    memcpy(kept, given, given->size < sizeof *kept ? given->size : sizeof *kept);
    kept->size = sizeof *kept;
    options_strings(kept, strings);
    for (size_t i = 0; i < OPTION_STRINGS; i++)
        size += *strings[i] ? strlen(*strings[i]) + 1 : 0;
    char *next = opened->strings = malloc(size);
    for (size_t i = 0; i < OPTION_STRINGS && next; i++) {
        if (!*strings[i])
            continue;
        size_t bytes = strlen(*strings[i]) + 1;
        *strings[i] = memcpy(next, *strings[i], bytes);
        next += bytes;
    }

    if (!opened->path || !opened->strings || !reserve(opened, length)) {
        prill_document_close(opened);
        return PRILL_SYSTEM_FAILED;
    }
    memcpy(opened->path, path, name);
    if (length)
        memcpy(opened->text, given->text, length);
    opened->length = length;
    *document = opened;
    return PRILL_FINE;
}

void prill_document_close(struct prill_document *document)
{
    if (!document)
        return;
    prill_free(document->compilation);
    free(document->strings);
    free(document->text);
    free(document->path);
    free(document);
}

/* Nothing is changed before all of it can be. */
enum prill_status prill_document_edit(struct prill_document *document, size_t offset, size_t removed,
                                      const char *text, size_t length)
{
    if (!document || offset > document->length || removed > document->length - offset || (length && !text) ||
        length > SOURCE_LIMIT - (document->length - removed))
        return PRILL_BAD_CALL;
    size_t kept = document->length - removed;
    if (!reserve(document, kept + length))
        return PRILL_SYSTEM_FAILED;
    char *at = document->text + offset;
    memmove(at + length, at + removed, kept - offset);
    if (length)
        memcpy(at, text, length);
    document->length = kept + length;
    document->compiled = false;
    return PRILL_FINE;
}

struct prill_compilation *prill_document_compilation(struct prill_document *document)
{
    if (!document)
        return NULL;
    struct prill_options options = document->options;
    options.text = document->text;
    options.text_length = document->length;
    if (!document->compiled)
        compilation_again(document->path, &options, &document->compilation);
    document->compiled = true;
    return document->compilation;
}
