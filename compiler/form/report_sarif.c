#include "compiler/form/report_sarif.h"

#include "compiler/form/report_text.h"
#include "compiler/form/sarif.h"

#include <inttypes.h>

/* The rules that occur, in the order of their first report. */
struct rule_list {
    const struct rule **items;
    size_t count, capacity;
};

struct log {
    const struct reports *reports;
    const char *version;
};

static size_t rule_index(const struct rule_list *rules, const struct rule *rule)
{
    size_t index = 0;
    while (index < rules->count && rules->items[index] != rule)
        index++;
    return index;
}

static struct rule_list rules_of(const struct reports *reports, struct arena *arena)
{
    struct rule_list rules = {0};
    for (size_t i = 0; i < reports->all.count; i++) {
        const struct rule *rule = reports->all.items[i]->rule;
        if (rule_index(&rules, rule) == rules.count)
            VECTOR_PUSH(arena, &rules, rule);
    }
    return rules;
}

static void rule_put(struct json_writer *writer, json_t *parent, const struct rule *rule)
{
    json_t *object = json_put_object(writer, parent, NULL);
    const char *explanation = rule->explanation ? rule->explanation : rule->sentence;
    json_put_string(writer, object, "id", rule->name);
    sarif_message_put(writer, object, "shortDescription", rule->sentence);
    sarif_message_put(writer, object, "fullDescription", explanation);
    json_t *configuration = json_put_object(writer, object, "defaultConfiguration");
    json_put_string(writer, configuration, "level", severity_name(rule->severity));
    const char *source = rule->source ? text_format(writer->arena, "\nSource: %s", rule->source) : "";
    sarif_message_put(
        writer, object, "help",
        text_format(writer->arena, "%s%s\nMore: prill explain %s", explanation, source, rule->name));
}

static void tool_put(struct json_writer *writer, json_t *run, const struct rule_list *rules,
                     const char *version)
{
    json_t *driver = json_put_object(writer, json_put_object(writer, run, "tool"), "driver");
    json_put_string(writer, driver, "name", "prill");
    json_put_string(writer, driver, "version", version);
    json_t *array = json_put_array(writer, driver, "rules");
    for (size_t i = 0; i < rules->count; i++)
        rule_put(writer, array, rules->items[i]);
}

/* The program did its work also where the plan has errors (3.20.14). */
static void invocation_put(struct json_writer *writer, json_t *run, const struct reports *reports)
{
    json_t *invocation = json_put_object(writer, json_put_array(writer, run, "invocations"), NULL);
    json_put_boolean(writer, invocation, "executionSuccessful", true);
    if (!reports->flooded)
        return;
    json_t *notifications = json_put_array(writer, invocation, "toolExecutionNotifications");
    json_t *notification = json_put_object(writer, notifications, NULL);
    json_put_string(writer, notification, "level", "warning");
    sarif_message_put(writer, notification, "message", "more was found than is given here");
}

static void base_put(struct json_writer *writer, json_t *bases, const char *name, const char *description)
{
    sarif_message_put(writer, json_put_object(writer, bases, name), "description", description);
}

/* The sentence, then a paragraph for each remark. */
static void result_message_put(struct json_writer *writer, json_t *result, const struct report *report)
{
    struct buffer text = {.arena = writer->arena};
    buffer_add_string(&text, report->sentence);
    for (size_t i = 0; i < report->notes.count; i++)
        buffer_format(&text, "\nnote: %s", report->notes.items[i]);
    if (report->help)
        buffer_format(&text, "\nhelp: %s", report->help);
    if (report->fix)
        buffer_format(&text, "\n%s: %s", fix_word(report->fix), report->fix->sentence);
    sarif_message_put(writer, result, "message", buffer_string(&text));
}

static void related_put(struct json_writer *writer, json_t *related, struct place place, const char *message)
{
    json_int_t id = (json_int_t)json_array_size(related) + 1;
    json_t *location = sarif_location_put(writer, related, NULL, place);
    json_put_integer(writer, location, "id", id);
    if (message)
        sarif_message_put(writer, location, "message", message);
}

static void locations_put(struct json_writer *writer, json_t *result, const struct report *report)
{
    json_t *locations = json_put_array(writer, result, "locations");
    if (report->place.source) {
        json_t *location = sarif_location_put(writer, locations, NULL, report->place);
        if (report->place_label)
            sarif_message_put(writer, location, "message", report->place_label);
    }
    json_t *related = json_put_array(writer, result, "relatedLocations");
    for (size_t i = 0; i < report->labels.count; i++)
        if (report->labels.items[i].place.source)
            related_put(writer, related, report->labels.items[i].place, report->labels.items[i].text);
    const struct source *source = report->place.source;
    for (; source && source->used_at.source; source = source->used_at.source)
        related_put(writer, related, source->used_at, "used from here");
}

/* One change for each file that the fix touches (3.55.3). */
static void fix_put(struct json_writer *writer, json_t *result, const struct fix *fix)
{
    json_t *object = json_put_object(writer, json_put_array(writer, result, "fixes"), NULL);
    sarif_message_put(writer, object, "description", fix->sentence);
    json_t *changes = json_put_array(writer, object, "artifactChanges");
    json_t *replacements = NULL;
    for (size_t i = 0; i < fix->edit_count; i++) {
        struct place place = fix->edits[i].place;
        if (i == 0 || place.source != fix->edits[i - 1].place.source) {
            json_t *change = json_put_object(writer, changes, NULL);
            sarif_artifact_put(writer, change, place.source);
            replacements = json_put_array(writer, change, "replacements");
        }
        json_t *replacement = json_put_object(writer, replacements, NULL);
        sarif_region_put(writer, replacement, "deletedRegion", place);
        json_t *content = json_put_object(writer, replacement, "insertedContent");
        json_put_string(writer, content, "text", fix->edits[i].replacement);
    }
}

/* All results say whether they are suppressed, or none may (3.27.23). */
static void suppressions_put(struct json_writer *writer, json_t *result, const struct report *report)
{
    json_t *suppressions = json_put_array(writer, result, "suppressions");
    if (!report->allowed_because)
        return;
    json_t *suppression = json_put_object(writer, suppressions, NULL);
    json_put_string(writer, suppression, "kind", "inSource");
    json_put_string(writer, suppression, "justification", report->allowed_because);
    if (report->allowed_at.source)
        sarif_location_put(writer, suppression, "location", report->allowed_at);
}

/* FNV-1a of 64 bits, constants from memory; blanks do not count, so that formatting a plan leaves its results
 * the same. */
static uint64_t hash_add(uint64_t hash, struct text text)
{
    for (size_t i = 0; i < text.length; i++)
        if (text.start[i] != ' ' && text.start[i] != '\t')
            hash = (hash ^ (unsigned char)text.start[i]) * UINT64_C(0x100000001B3);
    return hash * UINT64_C(0x100000001B3); /* a zero byte between the parts */
}

static uint64_t report_hash(const struct report *report)
{
    uint64_t hash = hash_add(UINT64_C(0xCBF29CE484222325), text_of(report->rule->name));
    const struct source *source = report->place.source;
    if (!source)
        return hash_add(hash, text_of(report->sentence));
    hash = hash_add(hash, text_of(source->path));
    return hash_add(hash, source_line(source, source_position(source, report->place.start).line));
}

static void fingerprint_put(struct json_writer *writer, json_t *result, const uint64_t *hashes, size_t index)
{
    size_t ordinal = 1;
    for (size_t i = 0; i < index; i++)
        ordinal += hashes[i] == hashes[index];
    json_t *fingerprints = json_put_object(writer, result, "partialFingerprints");
    json_put_string(writer, fingerprints, "primaryLocationLineHash",
                    text_format(writer->arena, "%016" PRIx64 ":%zu", hashes[index], ordinal));
}

static void results_put(struct json_writer *writer, json_t *run, const struct reports *reports,
                        const struct rule_list *rules)
{
    json_t *results = json_put_array(writer, run, "results");
    uint64_t *hashes = ARENA_ARRAY(writer->arena, reports->all.count, uint64_t);
    for (size_t i = 0; i < reports->all.count; i++) {
        const struct report *report = reports->all.items[i];
        json_t *result = json_put_object(writer, results, NULL);
        json_put_string(writer, result, "ruleId", report->rule->name);
        json_put_integer(writer, result, "ruleIndex", (json_int_t)rule_index(rules, report->rule));
        json_put_string(writer, result, "level", severity_name(report->severity));
        result_message_put(writer, result, report);
        locations_put(writer, result, report);
        if (report->fix && report->fix->safe)
            fix_put(writer, result, report->fix);
        suppressions_put(writer, result, report);
        hashes[i] = report_hash(report);
        fingerprint_put(writer, result, hashes, i);
    }
}

static void log_fill(struct json_writer *writer, json_t *root, const void *subject)
{
    const struct log *log = subject;
    struct rule_list rules = rules_of(log->reports, writer->arena);
    json_put_string(writer, root, "$schema", "https://json.schemastore.org/sarif-2.1.0.json");
    json_put_string(writer, root, "version", "2.1.0");
    json_t *run = json_put_object(writer, json_put_array(writer, root, "runs"), NULL);
    tool_put(writer, run, &rules, log->version);
    invocation_put(writer, run, log->reports);
    json_t *bases = json_put_object(writer, run, "originalUriBaseIds");
    base_put(writer, bases, sarif_plan_base, "the folder where prill was run");
    base_put(writer, bases, sarif_library_base, "the library built into prill");
    json_put_string(writer, run, "columnKind", "utf16CodeUnits");
    json_put_string(writer, run, "defaultEncoding", "UTF-8");
    results_put(writer, run, log->reports, &rules);
}

void reports_sarif_print(struct buffer *out, const struct reports *reports, const char *version)
{
    struct log log = {reports, version};
    json_print(out, true, log_fill, &log);
}
