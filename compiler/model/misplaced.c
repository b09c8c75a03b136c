/* What is said of a statement that belongs in another block, or on the line of another statement. */
#include "compiler/model/form_match.h"
#include "compiler/model/read.h"

#include <string.h>

/* It must fit one kind of block alone, as written or in other texts' words for what that block has. */
bool statement_elsewhere(const struct matcher *matcher, uint32_t at, struct report *report)
{
    struct model *model = matcher->model;
    struct place whole = match_place(matcher, at, matcher->end), start = whole;
    struct meaning meant[MEANT_LIMIT];
    enum block_kind home = BLOCK_NONE;
    size_t count = 0, homes = 0;
    if (model->building->complaints > MEANT_REPORTS)
        return false;
    start.end = start.start;
    for (int kind = BLOCK_PLAN + 1; kind < BLOCK_KIND_COUNT; kind++) {
        struct matcher inside = *matcher;
        if (kind == (int)matcher->block)
            continue;
        inside.block = (enum block_kind)kind;
        inside.first = at;
        inside.failure = (struct failure){0};
        struct meaning found[MEANT_LIMIT] = {{.place = start, .written = ""}};
        found->clause = clause_with(&inside, whole, (struct text){0}, start, "", false);
        size_t found_count = found->clause ? 1 : clause_by_notation(&inside, at, (struct text){0}, found);
        if (!found_count)
            continue;
        homes++;
        home = inside.block;
        count = found_count;
        memcpy(meant, found, sizeof meant);
    }

    /* The shortest beginning of such a block, from the example of the statement that has it, unless that is
     * on several lines. */
    const struct form *best = NULL;
    for (int outer = BLOCK_PLAN; homes == 1 && outer < BLOCK_KIND_COUNT; outer++)
        for (const struct form *form = form_first((enum block_kind)outer); form; form = form_next(form))
            if (form->opens == home && (!best || strlen(form->pattern) < strlen(best->pattern)))
                best = form;
    size_t length = best ? strcspn(best->example, "{\n") : 0;
    if (!best || best->example[length] != '{')
        return false;

    struct buffer list = {.arena = model->arena};
    for (size_t i = 0; i < count; i++)
        buffer_format(&list, "%s`%.*s{ %s }`", i ? " or " : "", (int)length, best->example, meant[i].clause);
    report->place = meant->place.end > meant->place.start ? meant->place : whole;
    report->sentence = text_format(model->arena, "`%s` belongs in `%s`",
                                   place_words(model->arena, report->place), block_kind_name(home));
    report_help(model->reports, report, "write, for example: %s", buffer_string(&list));
    if (home == BLOCK_LIMITS)
        report_note(model->reports, report, "it then holds for every application of the plan");
    return true;
}

/* "liquid", which a grade may have behind it: the example with this one of the words. */
bool word_of_a_form(const struct matcher *matcher, struct text word, struct report *report)
{
    struct model *model = matcher->model;
    for (const struct form *form = form_first(matcher->block); form; form = form_next(form))
        for (const char *choice = strchr(form->pattern, '|'); choice; choice = strchr(choice + 1, '|')) {
            const char *list = choice;
            while (*list != ':')
                list--;
            struct text words = {list + 1, strcspn(list + 1, ">")};
            bool found = false;
            struct text shown = {0};
            for (size_t start = 0; start < words.length;) {
                struct text one = {words.start + start, strcspn(words.start + start, "|>")};
                const char *in_example = strstr(form->example, text_string(model->arena, one));
                found = found || text_equal(one, word);
                if (in_example)
                    shown = (struct text){in_example, one.length};
                start += one.length + 1;
            }
            if (!found || !shown.length)
                continue;
            struct text head = form_head(form),
                        before = {form->example, (size_t)(shown.start - form->example)};
            report->sentence = text_format(model->arena, "`%.*s` goes on the line of `%.*s`",
                                           (int)word.length, word.start, (int)head.length, head.start);
            report_help(model->reports, report, "for example: %s%s", text_string(model->arena, before),
                        text_string(model->arena, word));
            return true;
        }
    return false;
}
