#include "compiler/form/report_sarif.h"

#include "compiler/form/report_text.h"
#include "compiler/form/data.h"
#include "compiler/form/sarif.h"

#include <inttypes.h>

enum { RESULTS_DEPTH = 3 }; /* of the list of results: the root, its runs, the run */

static void related_put(struct data *related, struct place place, const char *message)
{
    long long id = (long long)related->count + 1;
    struct data *location = sarif_location_put(related, NULL, place);
    data_integer(location, "id", id);
    if (message)
        sarif_message_put(location, "message", message);
}

/* One change for each file that the fix touches (3.55.3). */
static void fix_put(struct data *result, const struct fix *fix)
{
    struct data *object = data_object(data_list(result, "fixes"), NULL);
    sarif_message_put(object, "description", fix->sentence);
    struct data *changes = data_list(object, "artifactChanges");
    struct data *replacements = NULL;
    for (size_t i = 0; i < fix->edit_count; i++) {
        struct place place = fix->edits[i].place;
        if (i == 0 || place.source != fix->edits[i - 1].place.source) {
            struct data *change = data_object(changes, NULL);
            sarif_artifact_put(change, place.source);
            replacements = data_list(change, "replacements");
        }
        struct data *replacement = data_object(replacements, NULL);
        sarif_region_put(replacement, "deletedRegion", place);
        struct data *content = data_object(replacement, "insertedContent");
        data_string(content, "text", fix->edits[i].replacement);
    }
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

static struct line_count *line_at(const struct sarif_log *log, uint64_t hash)
{
    size_t at = hash & (log->line_room - 1);
    while (log->lines[at].count && log->lines[at].hash != hash)
        at = (at + 1) & (log->line_room - 1);
    return &log->lines[at];
}

/* How many have the fingerprint, this one included; of many plans there may be hundreds of thousands. */
static size_t line_counted(struct sarif_log *log, uint64_t hash)
{
    if (2 * log->line_used >= log->line_room) {
        const struct line_count *old = log->lines;
        size_t count = log->line_room;
        log->line_room = count ? 4 * count : 64;
        log->lines = ARENA_ARRAY(log->arena, log->line_room, struct line_count);
        for (size_t i = 0; i < count; i++)
            if (old[i].count)
                *line_at(log, old[i].hash) = old[i];
    }
    struct line_count *line = line_at(log, hash);
    log->line_used += line->count == 0;
    line->hash = hash;
    return ++line->count;
}

/* Equal fingerprints are counted, so that two reports of one line stay two. */
static void result_add(struct sarif_log *log, struct data *results, const struct report *report)
{
    struct arena *scratch = results->arena;
    struct data *result = data_object(results, NULL);
    size_t index = 0;
    while (index < log->rules.count && log->rules.items[index] != report->rule)
        index++;
    if (index == log->rules.count)
        VECTOR_PUSH(log->arena, &log->rules, report->rule);
    data_string(result, "ruleId", report->rule->name);
    data_integer(result, "ruleIndex", (long long)index);
    data_string(result, "level", severity_name(report->severity));
    /* The sentence, then a paragraph for each remark. */
    struct buffer text = {.arena = scratch};
    buffer_add_string(&text, report->sentence);
    for (size_t i = 0; i < report->notes.count; i++)
        buffer_format(&text, "\nnote: %s", report->notes.items[i]);
    if (report->help)
        buffer_format(&text, "\nhelp: %s", report->help);
    if (report->fix)
        buffer_format(&text, "\n%s: %s", fix_word(report->fix), report->fix->sentence);
    sarif_message_put(result, "message", buffer_string(&text));
    const struct source *source = report->place.source;
    struct data *locations = data_list(result, "locations");
    struct data *location = source ? sarif_location_put(locations, NULL, report->place) : NULL;
    if (location && report->place_label)
        sarif_message_put(location, "message", report->place_label);
    /* What a report says of other places is beside its own, and so is the chain of `use` that leads to it. */
    struct data *related = data_list(result, "relatedLocations");
    for (size_t i = 0; i < report->labels.count; i++)
        if (report->labels.items[i].place.source)
            related_put(related, report->labels.items[i].place, report->labels.items[i].text);
    for (const struct source *user = source; user && user->used_at.source; user = user->used_at.source)
        related_put(related, user->used_at, "used from here");
    if (report->fix && report->fix->safe)
        fix_put(result, report->fix);
    /* All results say whether they are suppressed, or none may (3.27.23). */
    struct data *suppressions = data_list(result, "suppressions");
    struct data *suppression = report->allowed_because ? data_object(suppressions, NULL) : NULL;
    if (suppression) {
        data_string(suppression, "kind", "inSource");
        data_string(suppression, "justification", report->allowed_because);
    }
    if (suppression && report->allowed_at.source)
        sarif_location_put(suppression, "location", report->allowed_at);
    /* The check and the line, not its number: what stands above may change. */
    struct text line =
        source ? source_line(source, source_position(source, report->place.start).line) : (struct text){0};
    uint64_t hash = hash_add(UINT64_C(0xCBF29CE484222325), text_of(report->rule->name));
    hash = hash_add(hash, text_of(source ? source->path : report->sentence));
    hash = source ? hash_add(hash, line) : hash;
    /* Equal lines are told apart by their number, so that both stay results of their own. */
    size_t ordinal = line_counted(log, hash);
    struct data *fingerprints = data_object(result, "partialFingerprints");
    data_string(fingerprints, "primaryLocationLineHash",
                text_format(scratch, "%016" PRIx64 ":%zu", hash, ordinal));
}

void sarif_log_add(struct sarif_log *log, struct arena *scratch, const struct reports *reports)
{
    log->flooded = log->flooded || reports->flooded;
    struct data *results = data_part_begin(scratch, &log->results, RESULTS_DEPTH);
    for (size_t i = 0; i < reports->all.count; i++)
        result_add(log, results, reports->all.items[i]);
    data_end(results);
}

/* Only the rules that occur are listed: a reader looks them up by their index. */
void sarif_log_print(struct buffer *out, const struct sarif_log *log, const char *version)
{
    struct data *root = data_begin(out, true);
    data_string(root, "$schema", "https://json.schemastore.org/sarif-2.1.0.json");
    data_string(root, "version", "2.1.0");
    struct data *run = data_object(data_list(root, "runs"), NULL);
    /* The tool and the rules that it speaks of. */
    struct data *driver = data_object(data_object(run, "tool"), "driver");
    data_string(driver, "name", "prill");
    data_string(driver, "version", version);
    struct data *array = data_list(driver, "rules");
    for (size_t i = 0; i < log->rules.count; i++) {
        const struct rule *rule = log->rules.items[i];
        struct data *object = data_object(array, NULL);
        const char *explanation = rule->explanation ? rule->explanation : rule->sentence;
        data_string(object, "id", rule->name);
        sarif_message_put(object, "shortDescription", rule->sentence);
        sarif_message_put(object, "fullDescription", explanation);
        struct data *configuration = data_object(object, "defaultConfiguration");
        data_string(configuration, "level", severity_name(rule->severity));
        const char *source = rule->source ? text_format(array->arena, "\nSource: %s", rule->source) : "";
        sarif_message_put(
            object, "help",
            text_format(array->arena, "%s%s\nMore: prill explain %s", explanation, source, rule->name));
    }
    /* The program did its work also where the plan has errors (3.20.14). */
    struct data *invocation = data_object(data_list(run, "invocations"), NULL);
    data_boolean(invocation, "executionSuccessful", true);
    if (log->flooded) {
        struct data *notices = data_list(invocation, "toolExecutionNotifications");
        struct data *notice = data_object(notices, NULL);
        data_string(notice, "level", "warning");
        sarif_message_put(notice, "message", "not every report is given here");
    }
    struct data *bases = data_object(run, "originalUriBaseIds");
    sarif_message_put(data_object(bases, sarif_plan_base), "description", "the folder where prill was run");
    sarif_message_put(data_object(bases, sarif_library_base), "description", "the library built into prill");
    data_string(run, "columnKind", "utf16CodeUnits");
    data_string(run, "defaultEncoding", "UTF-8");
    data_printed(run, "results", (struct text){log->results.string, log->results.length});
    data_end(root);
}
