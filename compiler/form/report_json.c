#include "compiler/form/report_json.h"

#include "compiler/form/json_values.h"
#include "compiler/form/report_text.h"

static void put_end(struct json_writer *writer, json_t *parent, const char *key, struct place place,
                    uint32_t offset)
{
    struct position position = source_position(place.source, offset);
    json_t *object = json_put_object(writer, parent, key);
    json_put_integer(writer, object, "line", position.line);
    json_put_integer(writer, object, "column", position.column);
    json_put_integer(writer, object, "byte", offset);
    json_put_integer(writer, object, "byte_column", position.byte_column);
    json_put_integer(writer, object, "utf16_column", position.utf16_column);
}

/* The members that every place of a report has. */
static void fill_place(struct json_writer *writer, json_t *object, struct place place)
{
    json_fill_place(writer, object, place);
    json_put_boolean(writer, object, "library", place.source->library);
    put_end(writer, object, "from", place, place.start);
    put_end(writer, object, "to", place, place.end);
}

static void put_place(struct json_writer *writer, json_t *places, struct place place, bool main,
                      const char *words)
{
    if (!place.source)
        return;
    json_t *object = json_put_object(writer, places, NULL);
    fill_place(writer, object, place);
    json_put_boolean(writer, object, "main", main);
    json_put_string(writer, object, "words", words);
    json_t *used_from = json_put_array(writer, object, "used_from");
    struct place used_at = place.source->used_at;
    for (; used_at.source; used_at = used_at.source->used_at)
        fill_place(writer, json_put_object(writer, used_from, NULL), used_at);
}

static void put_places(struct json_writer *writer, json_t *root, const struct report *report)
{
    json_t *places = json_put_array(writer, root, "places");
    put_place(writer, places, report->place, true, report->place_label);
    for (size_t i = 0; i < report->labels.count; i++)
        put_place(writer, places, report->labels.items[i].place, false, report->labels.items[i].text);
}

static void put_fix(struct json_writer *writer, json_t *root, const struct fix *fix)
{
    if (!fix) {
        json_put_null(writer, root, "fix");
        return;
    }
    json_t *object = json_put_object(writer, root, "fix");
    json_put_string(writer, object, "sentence", fix->sentence);
    json_put_boolean(writer, object, "safe", fix->safe);
    json_t *edits = json_put_array(writer, object, "edits");
    for (size_t i = 0; i < fix->edit_count; i++) {
        json_t *edit = json_put_object(writer, edits, NULL);
        fill_place(writer, edit, fix->edits[i].place);
        json_put_string(writer, edit, "replacement", fix->edits[i].replacement);
    }
}

static void put_allowed(struct json_writer *writer, json_t *root, const struct report *report)
{
    if (!report->allowed_because) {
        json_put_null(writer, root, "allowed");
        return;
    }
    json_t *allowed = json_put_object(writer, root, "allowed");
    json_put_string(writer, allowed, "because", report->allowed_because);
    if (report->allowed_at.source)
        fill_place(writer, json_put_object(writer, allowed, "place"), report->allowed_at);
    else
        json_put_null(writer, allowed, "place");
}

static void fill(struct json_writer *writer, json_t *root, const void *subject)
{
    const struct report *report = subject;
    json_put_string(writer, root, "format", "prill report 1");
    json_put_string(writer, root, "check", report->rule->name);
    json_put_string(writer, root, "severity", severity_name(report->severity));
    json_put_string(writer, root, "sentence", report->sentence);
    put_places(writer, root, report);
    json_t *notes = json_put_array(writer, root, "notes");
    for (size_t i = 0; i < report->notes.count; i++)
        json_put_string(writer, notes, NULL, report->notes.items[i]);
    json_put_string(writer, root, "help", report->help);
    put_fix(writer, root, report->fix);
    put_allowed(writer, root, report);
    struct buffer text = {.arena = writer->arena};
    report_text_print(&text, report, false);
    json_put_string(writer, root, "as_text", buffer_string(&text));
}

void report_json_print(struct buffer *out, const struct report *report)
{
    json_print(out, false, fill, report);
}

void reports_json_print(struct buffer *out, const struct reports *reports)
{
    for (size_t i = 0; i < reports->all.count; i++)
        report_json_print(out, reports->all.items[i]);
}
