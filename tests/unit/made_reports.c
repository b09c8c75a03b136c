#include "tests/unit/made_reports.h"

#include <setjmp.h>
#include <string.h>

#include <cmocka.h>

const struct rule made_error = {"n-per-application", SEVERITY_ERROR, "nitrogen of one application",
                                "Too much at once burns the grass.", "an invented handbook, table 3"};
const struct rule made_warning = {"unused-zone", SEVERITY_WARNING, "zones that nothing is done on",
                                  "A zone may have been {forgotten}.", NULL};
const struct rule made_note = {"few-spots", SEVERITY_NOTE, "soil samples of few spots", NULL, NULL};

struct arena made_arena;
struct reports made_reports;

int made_setup(void **state)
{
    arena_init(&made_arena, NULL);
    reports_init(&made_reports, &made_arena);
    *state = &made_reports;
    return 0;
}

int made_teardown(void **state)
{
    *state = NULL;
    arena_free(&made_arena);
    return 0;
}

struct source *made_source_bytes(const char *path, const char *bytes, size_t length)
{
    static uint32_t index;
    struct source *source = ARENA_NEW(&made_arena, struct source);
    const char *copy = text_string(&made_arena, (struct text){bytes, length});
    source_init(source, &made_arena, path, (const unsigned char *)copy, (uint32_t)length);
    source->index = index++;
    return source;
}

struct source *made_source(const char *path, const char *text)
{
    return made_source_bytes(path, text, strlen(text));
}

struct place made_range(const struct source *source, uint32_t start, uint32_t end)
{
    return (struct place){source, start, end};
}

struct place made_place(const struct source *source, const char *words)
{
    const char *bytes = (const char *)source->bytes;
    const char *found = strstr(bytes, words);
    if (!found)
        fail_msg("%s does not hold \"%s\"", source->path, words);
    uint32_t start = (uint32_t)(found - bytes);
    return (struct place){source, start, start + (uint32_t)strlen(words)};
}

uint32_t made_number(uint32_t *state, uint32_t below)
{
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    return *state % below;
}
