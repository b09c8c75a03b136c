#include "compiler/form/report_json.h"

#include "compiler/form/data.h"
#include "compiler/form/report_text.h"

static void put_end(struct data *parent, const char *key, struct place place, uint32_t offset)
{
    struct position position = source_position(place.source, offset);
    struct data *object = data_object(parent, key);
    data_integer(object, "line", position.line);
    data_integer(object, "column", position.column);
    data_integer(object, "byte", offset);
    data_integer(object, "byte_column", position.byte_column);
    data_integer(object, "utf16_column", position.utf16_column);
}

/* The members that every place of a report has. */
static void fill_place(struct data *object, struct place place)
{
    data_place_members(object, place);
    data_boolean(object, "library", place.source->library);
    put_end(object, "from", place, place.start);
    put_end(object, "to", place, place.end);
}

static void put_place(struct data *places, struct place place, bool main, const char *words)
{
    if (!place.source)
        return;
    struct data *object = data_object(places, NULL);
    fill_place(object, place);
    data_boolean(object, "main", main);
    data_string(object, "words", words);
    struct data *used_from = data_list(object, "used_from");
    struct place used_at = place.source->used_at;
    for (; used_at.source; used_at = used_at.source->used_at)
        fill_place(data_object(used_from, NULL), used_at);
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
    put_place(places, report->place, true, report->place_label);
    for (size_t i = 0; i < report->labels.count; i++)
        put_place(places, report->labels.items[i].place, false, report->labels.items[i].text);
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
        struct data *edit = data_object(edits, NULL);
        fill_place(edit, fix->edits[i].place);
        data_string(edit, "replacement", fix->edits[i].replacement);
    }
    if (report->allowed_because) {
        struct data *allowed = data_object(root, "allowed");
        data_string(allowed, "because", report->allowed_because);
        if (report->allowed_at.source)
            fill_place(data_object(allowed, "place"), report->allowed_at);
        else
            data_null(allowed, "place");
    } else {
        data_null(root, "allowed");
    }
    struct buffer text = {.arena = root->arena};
    report_text_print(&text, report, false);
    data_string(root, "as_text", buffer_string(&text));
    data_end(root);
}

void reports_json_print(struct buffer *out, const struct reports *reports)
{
    for (size_t i = 0; i < reports->all.count; i++)
        report_json_print(out, reports->all.items[i]);
}
