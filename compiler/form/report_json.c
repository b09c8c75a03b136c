#include "compiler/form/report_json.h"

#include "compiler/form/data.h"
#include "compiler/form/report_text.h"

/* The members that every place of a report has; null, and NULL, without a source. */
static struct data *put_place(struct data *parent, const char *key, struct place place)
{
    const struct {
        const char *key;
        uint32_t offset;
    } ends[] = {{"from", place.start}, {"to", place.end}};
    struct data *object = data_place(parent, key, place);
    if (object)
        data_boolean(object, "library", place.source->library);
    for (size_t i = 0; object && i < sizeof ends / sizeof *ends; i++) {
        struct position position = source_position(place.source, ends[i].offset);
        struct data *end = data_object(object, ends[i].key);
        data_integer(end, "line", position.line);
        data_integer(end, "column", position.column);
        data_integer(end, "byte", ends[i].offset);
        data_integer(end, "byte_column", position.byte_column);
        data_integer(end, "utf16_column", position.utf16_column);
    }
    return object;
}

/* One document on one line: a reader of lines can begin before the last report is known. */
void report_json_print(struct buffer *out, const struct report *report)
{
    struct data *root = data_begin(out, false);
    data_string(root, "format", "prill report 1");
    data_string(root, "check", report->rule->name);
    data_string(root, "severity", severity_name(report->severity));
    data_string(root, "sentence", report->sentence);
    struct data *places = data_list(root, "places");
    /* The report's own place first, then its labels; what is about no text has none. */
    for (size_t i = 0; i < 1 + report->labels.count; i++) {
        struct place place = i ? report->labels.items[i - 1].place : report->place;
        if (!place.source)
            continue;
        struct data *mark = put_place(places, NULL, place);
        data_boolean(mark, "main", i == 0);
        data_string(mark, "words", i ? report->labels.items[i - 1].text : report->place_label);
        struct data *used_from = data_list(mark, "used_from");
        struct place used_at = place.source->used_at;
        for (; used_at.source; used_at = used_at.source->used_at)
            put_place(used_from, NULL, used_at);
    }
    struct data *notes = data_list(root, "notes");
    for (size_t i = 0; i < report->notes.count; i++)
        data_string(notes, NULL, report->notes.items[i]);
    data_string(root, "help", report->help);
    /* Without a fix the member is null: each report has the same members. */
    const struct fix *fix = report->fix;
    struct data *object = fix ? data_object(root, "fix") : NULL;
    if (fix) {
        data_string(object, "sentence", fix->sentence);
        data_boolean(object, "safe", fix->safe);
    } else {
        data_null(root, "fix");
    }
    struct data *edits = fix ? data_list(object, "edits") : NULL;
    for (size_t i = 0; fix && i < fix->edit_count; i++) {
        struct data *edit = put_place(edits, NULL, fix->edits[i].place);
        data_string(edit, "replacement", fix->edits[i].replacement);
    }
    if (report->allowed_because) {
        struct data *allowed = data_object(root, "allowed");
        data_string(allowed, "because", report->allowed_because);
        put_place(allowed, "place", report->allowed_at);
    } else {
        data_null(root, "allowed");
    }
    struct buffer text = {.arena = root->arena};
    report_text_print(&text, report, false);
    data_string(root, "as_text", buffer_string(&text));
    data_end(root);
}
