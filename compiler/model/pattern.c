#include "compiler/model/pattern.h"
#include "compiler/model/slot.h"

#include <string.h>

enum { HEADS = 128 }; /* a plan has some twenty first words, each many times */

struct patterns {
    const struct part **parts; /* by form; NULL: not taken apart yet */
    struct head {
        enum block_kind kind;
        struct text word;
        const struct form *form; /* NULL: nothing is kept here */
    } heads[HEADS];
};

static struct patterns *patterns_of(struct model *model)
{
    if (!model->patterns) {
        struct arena *scratch = arena_scratch(model->arena);
        model->patterns = ARENA_NEW(scratch, struct patterns);
        model->patterns->parts = ARENA_ARRAY(scratch, form_count(), const struct part *);
    }
    return model->patterns;
}

/* The part at *at, which moves behind it. */
static struct part part_read(const char **at)
{
    const char *start = *at, *colon, *end;
    struct part part = {.kind = PART_END};
    switch (*(*at)++) {
    case '\0':
    case ']':
        return part;
    case '[':
        part.kind = PART_OPTION;
        return part;
    case ',':
        part.kind = PART_COMMA;
        return part;
    case ':':
        part.kind = PART_COLON;
        return part;
    case '<':
        colon = strchr(start, ':');
        end = strchr(start, '>');
        part = (struct part){.kind = PART_SLOT,
                             .text = {start + 1, (size_t)(colon - start) - 1},
                             .type_text = {colon + 1, (size_t)(end - colon) - 1}};
        part.type = slot_type_find(part.type_text);
        *at = end + 1;
        return part;
    default:
        part = (struct part){.kind = PART_WORD, .text = {start, strcspn(start, " ,:<>[]")}};
        *at = start + part.text.length;
        return part;
    }
}

/* An option holds no other. */
static const struct part *take_apart(struct arena *arena, const char *pattern)
{
    VECTOR(struct part) parts = {0};
    size_t option = 0;
    for (const char *at = pattern;; at += strspn(at, " ")) {
        char first = *at;
        VECTOR_PUSH(arena, &parts, part_read(&at));
        if (first == '[')
            option = parts.count - 1;
        else if (first == ']')
            parts.items[option].length = (uint32_t)(parts.count - option);
        else if (first == '\0')
            return parts.items;
    }
}

const struct part *pattern_parts(struct model *model, const struct form *form)
{
    const struct part **parts = &patterns_of(model)->parts[form - form_at(0)];
    if (!*parts)
        *parts = take_apart(arena_scratch(model->arena), form->pattern);
    return *parts;
}

/* By its first letter, its last and its length, which hardly two words of a block have in common. */
const struct form *pattern_form(struct model *model, enum block_kind kind, struct text word)
{
    if (!word.length)
        return NULL;
    size_t sum = (unsigned char)word.start[0] * 31u + (unsigned char)word.start[word.length - 1] +
                 word.length * 7 + (size_t)kind * 13;
    struct head *head = &patterns_of(model)->heads[sum % HEADS];
    if (!head->form || head->kind != kind || !text_equal(head->word, word))
        *head = (struct head){kind, word, form_find(kind, word)};
    return head->form;
}
