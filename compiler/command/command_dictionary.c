/* A dictionary for fuzzing: the words of the language, from the tables that declare and explain them. */
#include "compiler/command/print.h"
#include "compiler/model/form.h"

#include <stdlib.h>
#include <string.h>

struct words {
    struct arena *arena;
    struct text *items;
    size_t count, capacity;
};

/* The words that begin with a letter, wherever they stand in `string`. */
static void add_words(struct words *words, const char *string)
{
    for (const char *at = string; *at;) {
        const char *start = at;
        while ((*at >= 'a' && *at <= 'z') || (*at >= 'A' && *at <= 'Z') || (*at >= '0' && *at <= '9') ||
               *at == '-' || (*at & 0x80))
            at++;
        bool letter = (*start >= 'a' && *start <= 'z') || (*start >= 'A' && *start <= 'Z');
        struct text word = {start, (size_t)(at - start)};
        if (letter)
            VECTOR_PUSH(words->arena, words, word);
        at += at == start;
    }
}

static int compare(const void *a, const void *b)
{
    return text_compare(*(const struct text *)a, *(const struct text *)b);
}

/* The words of forms and their examples, units, nutrients, months and days, sorted and each once, as
 * libFuzzer reads its dictionaries: one quoted word of printable ASCII a line. */
static void dictionary_write(struct buffer *out, const void *subject)
{
    (void)subject;
    struct words words = {.arena = out->arena};
    for (size_t i = 0; i < form_count(); i++) {
        /* A pattern's own words and those of its choices, `<form:granular|liquid>`; not the names of its
         * slots and types. */
        struct buffer own = {.arena = out->arena};
        for (const char *at = form_at(i)->pattern; *at;) {
            size_t length = strcspn(at, "<");
            buffer_add(&own, (struct text){at, length});
            at += length;
            const char *type = strchr(at, ':'), *end = strchr(at, '>');
            if (!type || !end)
                break;
            if (memchr(type, '|', (size_t)(end - type)))
                buffer_add(&own, (struct text){type + 1, (size_t)(end - type - 1)});
            at = end + 1;
        }
        add_words(&words, text_string(out->arena, (struct text){buffer_string(&own), own.length}));
        add_words(&words, form_at(i)->example);
    }
    for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit)) {
        for (int i = 0; i < UNIT_SYMBOLS && unit->symbols[i]; i++)
            VECTOR_PUSH(words.arena, &words, text_of(unit->symbols[i]));
        for (int i = 0; i < UNIT_WORDS && unit->words[i]; i++)
            VECTOR_PUSH(words.arena, &words, text_of(unit->words[i]));
    }
    for (size_t i = 0; nutrient_form_at(i); i++)
        VECTOR_PUSH(words.arena, &words, text_of(nutrient_form_at(i)->name));
    for (int month = 1; month <= 12; month++)
        VECTOR_PUSH(words.arena, &words, ((struct text){month_name(month), 3}));
    for (int day = MONDAY; day <= SUNDAY; day++)
        VECTOR_PUSH(words.arena, &words, ((struct text){weekday_name((enum weekday)day), 3}));
    qsort(words.items, words.count, sizeof *words.items, compare);
    for (size_t i = 0; i < words.count; i++)
        if (i == 0 || !text_equal(words.items[i], words.items[i - 1])) {
            buffer_add_string(out, "\"");
            for (size_t j = 0; j < words.items[i].length; j++) {
                char byte = words.items[i].start[j];
                buffer_format(out, byte & 0x80 || byte == '"' ? "\\x%02X" : "%c", (unsigned char)byte);
            }
            buffer_add_string(out, "\"\n");
        }
}

enum prill_status command_dictionary(const struct call *call)
{
    return print_filled(dictionary_write, call);
}
