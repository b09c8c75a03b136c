/* Names that a reader cannot tell apart, and characters that no name should hold: a `kind` with a Cyrillic o
 * is not the kind that a limit speaks of, and nothing shows it. */
#include "compiler/check/checking.h"
#include "compiler/model/identifier.h"

#include <string.h>

/* The names that the plan writes, in the order of reading; behind them, where one of those is not of ASCII,
 * all others that were read: the library's, which have no place here. */
struct names_judged {
    const struct name **names;
    uint64_t *skeletons;
    struct identifier *items; /* NULL where all are of ASCII: none is at fault */
    size_t written, count;
};

/* An ordinary plan is of ASCII alone; then ICU is not asked, and its data not loaded. */
static struct names_judged names_judge(struct checking *checking)
{
    const struct model *model = checking->model;
    size_t written = model->written_names.count;
    uint32_t all = model->names->all.count;
    bool ascii = true;
    struct arena *scratch = arena_scratch(checking->arena);
    struct names_judged judged = {.names = ARENA_ARRAY(scratch, all + 1, const struct name *),
                                  .skeletons = ARENA_ARRAY(scratch, all + 1, uint64_t),
                                  .written = written,
                                  .count = written};
    for (size_t i = 0; i < written; i++) {
        judged.names[i] = model->written_names.items[i].name;
        ascii = identifier_ascii_skeleton(judged.names[i]->text, &judged.skeletons[i]) && ascii;
    }
    if (ascii)
        return judged;

    bool *known = ARENA_ARRAY(scratch, all, bool);
    for (size_t i = 0; i < written; i++)
        known[judged.names[i]->id] = true;
    for (uint32_t id = 0; id < all; id++)
        if (!known[id])
            judged.names[judged.count++] = model->names->all.items[id];
    judged.items = ARENA_ARRAY(scratch, judged.count, struct identifier);
    for (size_t i = 0; i < judged.count; i++) {
        struct place place = i < written ? model->written_names.items[i].place : (struct place){.start = 0};
        judged.items[i].text = judged.names[i]->text;
        judged.items[i].quoted = place.source && place.source->bytes[place.start] == '"';
    }
    identifiers_judge(checking->arena, judged.items, judged.count);
    for (size_t i = 0; i < judged.count; i++)
        judged.skeletons[i] = judged.items[i].skeleton;
    return judged;
}

/* ---- characters ---- */

/* At the character's own place: in quotes, that of its first like. */
static void report_character(struct checking *checking, const struct identifier *identifier,
                             const struct written_name *written)
{
    static const char *const words[] = {
        [IDENTIFIER_CHARACTER] = "which Unicode does not allow in identifiers",
        [IDENTIFIER_INVISIBLE] = "which is invisible",
        [IDENTIFIER_MIXED] = "a letter of another script than those before it",
    };
    static const char *const helps[] = {
        [IDENTIFIER_CHARACTER] = "write another character, or delete it",
        [IDENTIFIER_INVISIBLE] = "delete the character",
        [IDENTIFIER_MIXED] = "write the word in one script; a letter that looks the same is not the same",
    };
    struct symbol about = {.name = written->name};
    struct place place = written->place;
    const char *character = identifier->text.start + identifier->offset;
    for (uint32_t at = place.start; at + identifier->length <= written->place.end; at++)
        if (memcmp(place.source->bytes + at, character, identifier->length) == 0) {
            place = (struct place){place.source, at, at + (uint32_t)identifier->length};
            break;
        }
    struct report *report =
        finding_add(checking, CHECK_NAME_CHARACTER, ABOUT(&about), place, "%s has a %s, %s",
                    identifier->quoted ? "this quoted name" : "this name",
                    code_point_text(checking->arena, identifier->code_point), words[identifier->fault]);
    report_help(checking->model->reports, report, "%s", helps[identifier->fault]);
}

/* ---- names that look alike ---- */

/* At the name that is rather at fault: of the plan, not of ASCII. */
static void report_alike(struct checking *checking, const struct names_judged *judged, size_t first,
                         size_t second)
{
    const struct model *model = checking->model;
    bool first_ascii = text_is_ascii(judged->names[first]->text);
    bool second_ascii = text_is_ascii(judged->names[second]->text);
    /* The one at fault is rather that which is not of ASCII, and has a place. */
    bool swap = second >= judged->written || (second_ascii && !first_ascii);
    size_t at = swap ? first : second, other = swap ? second : first;
    struct symbol about = {.name = judged->names[at]}, about_other = {.name = judged->names[other]};
    const char *text = text_string(checking->arena, judged->names[at]->text);
    const char *other_text = text_string(checking->arena, judged->names[other]->text);
    struct report *report =
        finding_add(checking, first_ascii && second_ascii ? CHECK_NAMES_EASILY_CONFUSED : CHECK_NAMES_ALIKE,
                    ABOUT(&about, &about_other), model->written_names.items[at].place,
                    "%s and %s are two names that look alike%s", text, other_text,
                    other < judged->written ? "" : "; the other is the library's");
    if (other < judged->written)
        report_label(model->reports, report, model->written_names.items[other].place, "the other");
    report_help(model->reports, report,
                "write both the same where one thing is meant, or give one of them another name");
}

/* Names of one skeleton look alike, by an open hash of skeletons to the first name of each. Two names of the
 * library, and names that are at fault by themselves, are not told of. */
void check_names_alike(struct checking *checking)
{
    struct arena *scratch = arena_scratch(checking->arena);
    struct names_judged judged = names_judge(checking);
    for (size_t i = 0; judged.items && i < judged.written; i++)
        if (judged.items[i].fault)
            report_character(checking, &judged.items[i], &checking->model->written_names.items[i]);
    size_t slots = 16;
    while (slots < judged.count * 2)
        slots *= 2;
    uint32_t *first = ARENA_ARRAY(scratch, slots, uint32_t); /* 1 + its index */
    for (size_t i = 0; i < judged.count; i++) {
        size_t at = judged.skeletons[i] & (slots - 1);
        while (first[at] && judged.skeletons[first[at] - 1] != judged.skeletons[i])
            at = (at + 1) & (slots - 1);
        size_t other = first[at] - 1;
        if (!first[at])
            first[at] = (uint32_t)i + 1;
        else if ((other < judged.written || i < judged.written) &&
                 (!judged.items || (!judged.items[other].fault && !judged.items[i].fault)))
            report_alike(checking, &judged, other, i);
    }
}
