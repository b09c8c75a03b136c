#include "compiler/output/report_json.h"

#include "compiler/output/json.h"
#include "compiler/output/report_text.h"

static void position_put(struct json_writer *writer, json_t *parent, const char *key, struct place place,
                         uint32_t offset)
{
    struct position position = source_position(place.source, offset);
    json_t *object = json_put_object(writer, parent, key);
    json_put_integer(writer, object, "line", position.line);
    json_put_integer(writer, object, "byte_column", position.byte_column);
    json_put_integer(writer, object, "column", position.column);
    json_put_integer(writer, object, "utf16_column", position.utf16_column);
}

/* The members that every place has. */
static void place_put(struct json_writer *writer, json_t *object, struct place place)
{
    json_put_string(writer, object, "path", place.source->path);
    json_put_boolean(writer, object, "library", place.source->library);
    json_put_integer(writer, object, "byte_start", place.start);
    json_put_integer(writer, object, "byte_end", place.end);
    position_put(writer, object, "start", place, place.start);
    position_put(writer, object, "end", place, place.end);
}

static void span_put(struct json_writer *writer, json_t *spans, struct place place, bool primary,
                     const char *label)
{
    if (!place.source)
        return;
    json_t *span = json_put_object(writer, spans, NULL);
    place_put(writer, span, place);
    json_put_boolean(writer, span, "primary", primary);
    json_put_string(writer, span, "label", label);
    json_t *used_from = json_put_array(writer, span, "used_from");
    struct place used_at = place.source->used_at;
    for (; used_at.source; used_at = used_at.source->used_at)
        place_put(writer, json_put_object(writer, used_from, NULL), used_at);
}

static void spans_put(struct json_writer *writer, json_t *root, const struct report *report)
{
    json_t *spans = json_put_array(writer, root, "spans");
    span_put(writer, spans, report->place, true, report->place_label);
    for (size_t i = 0; i < report->labels.count; i++)
        span_put(writer, spans, report->labels.items[i].place, false, report->labels.items[i].text);
}

static void fix_put(struct json_writer *writer, json_t *root, const struct fix *fix)
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
        place_put(writer, edit, fix->edits[i].place);
        json_put_string(writer, edit, "replacement", fix->edits[i].replacement);
    }
}

static void allowed_put(struct json_writer *writer, json_t *root, const struct report *report)
{
    if (!report->allowed_because) {
        json_put_null(writer, root, "allowed");
        return;
    }
    json_t *allowed = json_put_object(writer, root, "allowed");
    json_put_string(writer, allowed, "because", report->allowed_because);
    if (report->allowed_at.source)
        place_put(writer, json_put_object(writer, allowed, "place"), report->allowed_at);
    else
        json_put_null(writer, allowed, "place");
}

static void report_fill(struct json_writer *writer, json_t *root, const void *subject)
{
    const struct report *report = subject;
    json_put_string(writer, root, "rule", report->rule->name);
    json_put_string(writer, root, "severity", severity_name(report->severity));
    json_put_string(writer, root, "sentence", report->sentence);
    spans_put(writer, root, report);
    json_t *notes = json_put_array(writer, root, "notes");
    for (size_t i = 0; i < report->notes.count; i++)
        json_put_string(writer, notes, NULL, report->notes.items[i]);
    json_put_string(writer, root, "help", report->help);
    fix_put(writer, root, report->fix);
    allowed_put(writer, root, report);
    struct buffer rendered = {.arena = writer->arena};
    report_text_print(&rendered, report, false);
    json_put_string(writer, root, "rendered", buffer_string(&rendered));
}

void report_json_print(struct buffer *out, const struct report *report)
{
    json_print(out, false, report_fill, report);
}

void reports_json_print(struct buffer *out, const struct reports *reports)
{
    for (size_t i = 0; i < reports->all.count; i++)
        report_json_print(out, reports->all.items[i]);
}
