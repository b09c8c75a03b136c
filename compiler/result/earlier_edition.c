#include "compiler/result/earlier_edition.h"

#include "compiler/model/late.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

/* With the number of its interface. */
#define JANSSON_LIBRARY "libjansson.so.4"
#define JANSSON(each)                                                                                        \
    each(json_array_get) each(json_array_size) each(json_delete) each(json_integer_value) each(json_loadb)   \
        each(json_object_get) each(json_string_length) each(json_string_value)

struct jansson {
    JANSSON(LATE_MEMBER)
};

struct earlier_reading {
    struct jansson json;
    struct arena *arena;
    struct earlier *earlier;
    const char *why; /* NULL: nothing was wrong so far */
};

static bool fail(struct earlier_reading *reading, const char *why)
{
    if (!reading->why)
        reading->why = why;
    return false;
}

/* ---- members ---- */

static const char *string_at(struct earlier_reading *reading, const json_t *object, const char *key)
{
    const struct jansson *json = &reading->json;
    const json_t *value = json->json_object_get(object, key);
    const char *string = json->json_string_value(value);
    if (!string || json->json_string_length(value) != strlen(string))
        return NULL;
    return text_string(reading->arena, text_of(string));
}

/* As work_uid makes them: a text of another kind might be more than a UID. */
static bool uid_sound(const char *uid)
{
    static const char PATTERN[] = "xxxxxxxx-xxxx-xxxx-xxxx-xxxxxxxxxxxx";
    if (!uid || strlen(uid) != sizeof PATTERN - 1)
        return false;
    for (size_t i = 0; PATTERN[i]; i++)
        if (PATTERN[i] == 'x' ? !strchr("0123456789abcdef", uid[i]) : uid[i] != '-')
            return false;
    return true;
}

/* ---- works ---- */

/* What was skipped has no day, and nothing of it has to be taken off a calendar. */
static bool work_read(struct earlier_reading *reading, const json_t *object, const char *day_key)
{
    const struct jansson *json = &reading->json;
    const char *kind = json->json_string_value(json->json_object_get(object, "kind"));
    struct earlier_work work = {.uid = string_at(reading, object, "uid"),
                                .headline = string_at(reading, object, "headline"),
                                .kind = kind && strcmp(kind, "task") == 0 ? "task" : "application"};
    if (!uid_sound(work.uid) || !work.headline)
        return fail(reading, "an entry has no UID or no headline");
    const char *day = string_at(reading, object, day_key);
    struct civil_date date;
    if (day && date_of_text(text_of(day), &date)) {
        work.day = day_of_date(date);
        VECTOR_PUSH(reading->arena, &reading->earlier->works, work);
    } else if (!json_is_null(json->json_object_get(object, day_key)))
        return fail(reading, "an entry has no date");
    return true;
}

/* An edition that knew nothing of the list has none. */
static bool works_read(struct earlier_reading *reading, const json_t *root, const char *key,
                       const char *day_key, bool needed)
{
    const struct jansson *json = &reading->json;
    const json_t *array = json->json_object_get(root, key);
    if (!array && !needed)
        return true;
    if (!json_is_array(array))
        return fail(reading, "it is not a calendar of prill");
    for (size_t i = 0; i < json->json_array_size(array); i++)
        if (!work_read(reading, json->json_array_get(array, i), day_key))
            return false;
    return true;
}

/* What is read here is the same in both versions. Of another nothing is guessed: its members may mean
 * something else. */
static bool document_read(struct earlier_reading *reading, const json_t *root)
{
    const struct jansson *json = &reading->json;
    const char *format = string_at(reading, root, "format");
    const json_t *plan = json->json_object_get(root, "plan");
    const json_t *edition = json->json_object_get(plan, "edition");
    if (!format || strncmp(format, "prill calendar ", 15) != 0)
        return fail(reading, "it is not a calendar of prill; `prill calendar --as json` writes one");
    if (strcmp(format, "prill calendar 1") != 0 && strcmp(format, "prill calendar 2") != 0)
        return fail(reading, "it is a calendar of another version of prill");
    json_int_t number = json_is_integer(edition) ? json->json_integer_value(edition) : -1;
    if (number < 0 || number > INT32_MAX)
        return fail(reading, "it has no edition");
    reading->earlier->edition = (int)number;
    reading->earlier->title = string_at(reading, plan, "title");
    return works_read(reading, root, "work", "date", true) &&
           works_read(reading, root, "skipped", "planned", false) &&
           works_read(reading, root, "gone", "date", false);
}

/* False when memory was refused on the way. Apart from earlier_read because of what setjmp does to locals. */
static bool document_copied(struct earlier_reading *reading, const json_t *root)
{
    jmp_buf refused;
    if (setjmp(refused))
        return false;
    reading->arena->exhausted = &refused;
    document_read(reading, root);
    return true;
}

static const char *no_json_text(struct arena *arena, struct text json, const json_error_t *error)
{
    if (json.length == 0)
        return "it is empty";
    if (json_error_code(error) == json_error_premature_end_of_input && json.start[0] == '{')
        return text_format(arena, "it is cut off after line %d", error->line);
    return text_format(arena, "it is not JSON: line %d, %s", error->line, error->text);
}

/* jansson knows nothing of the arena: what is needed is copied and its tree given back, whatever happens. */
struct earlier *earlier_read(struct arena *arena, struct text json, const char **why)
{
    struct earlier_reading reading = {.arena = arena, .earlier = ARENA_NEW(arena, struct earlier)};
    LATE_OPEN(arena, JANSSON_LIBRARY, JANSSON, reading.json);
    json_error_t error;
    json_t *root = reading.json.json_loadb(json.start, json.length, JSON_REJECT_DUPLICATES, &error);
    if (!root && json_error_code(&error) == json_error_out_of_memory)
        arena_exhausted(arena);
    if (!root) {
        *why = no_json_text(arena, json, &error);
        return NULL;
    }
    jmp_buf *exhausted = arena->exhausted;
    bool copied = document_copied(&reading, root);
    arena->exhausted = exhausted;
    reading.json.json_delete(root); /* nobody else has it: json_decref would do the same */
    if (!copied)
        arena_exhausted(arena);
    *why = reading.why;
    return reading.why ? NULL : reading.earlier;
}

/* ---- what is gone ---- */

static int by_text(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* By UID alone: a piece of work that moved or was renamed in its headline is the same one. */
struct earlier_works earlier_gone(struct arena *arena, const struct earlier *earlier,
                                  const struct work_list *list, const struct work_list *skipped)
{
    size_t count = list->count + skipped->count, known = 0;
    const char **uids = ARENA_ARRAY(arena, count + 1, const char *);
    struct earlier_works gone = {0};
    for (size_t i = 0; i < list->count; i++)
        uids[known++] = list->items[i].uid;
    for (size_t i = 0; i < skipped->count; i++)
        uids[known++] = skipped->items[i].uid;
    if (known)
        qsort(uids, known, sizeof *uids, by_text);
    for (size_t i = 0; i < earlier->works.count; i++) {
        const struct earlier_work *work = &earlier->works.items[i];
        if (!known || !bsearch(&work->uid, uids, known, sizeof *uids, by_text))
            VECTOR_PUSH(arena, &gone, work);
    }
    return gone;
}

bool earlier_all_gone(struct arena *arena, const struct earlier *earlier, const struct season *season)
{
    struct work_list list = work_list_of(season), skipped = work_list_skipped(season);
    struct earlier_works gone = earlier_gone(arena, earlier, &list, &skipped);
    return gone.count > 0 && gone.count == earlier->works.count;
}
