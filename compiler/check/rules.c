/* The table of checks, every rule of every room by name, and their documentation. */
#include "compiler/check/checking.h"
#include "compiler/model/include.h"
#include "compiler/model/rule.h"

#include <assert.h>

#define PRACTICE "common practice, no source"
#define LAWS_ON_TESTS "the laws behind the limit sets of plans/library/limits-*.prill, each cited there"

#define OVER_NEED                                                                                            \
    "10 lb per acre: North Carolina Department of Agriculture, circular no. 1; a tenth: common practice, "   \
    "no source"
#define USUAL_ENTRIES "the entries `usual` of plans/library/usual.prill, each with its source"

#define LIMITS "Limits"
#define LABELS "Labels"
#define DAYS "Days"
#define GROUND "Ground and soil"
#define GRASS "Grass"
#define PRODUCTS "Products and machines"
#define NAMES "What is declared"
#define RECORDS "Records"
#define ALLOWING "What is allowed"

#define PLAN(function) .plan = function,
#define DRESSINGS(function) .dressing = function,
#define TESTS(function) .test = function,
#define LEDGERS(first_kind, last_kind, function, teller)                                                     \
    .ledger = function, .tell = teller, .first = first_kind, .last = last_kind,
#define CHECK(id, severity, family, days, function, name, sentence, explanation, source)                     \
    {{name, SEVERITY_##severity, sentence, explanation, source}, family, days, function},
#define FINDING(id, severity, family, name, sentence, explanation, source)                                   \
    {{name, SEVERITY_##severity, sentence, explanation, source}, family, ANY_DAY, .plan = NULL},
const struct check CHECKS[CHECK_COUNT] = {
#include "compiler/check/check.def"
};

/* In the order in which a plan meets them; the checks follow. */
static const struct room {
    const char *title;
    const struct rule *rules;
    const size_t *count;
} ROOMS[] = {
    {"Reading the text", lexer_rules, &lexer_rule_count},
    {"Statements and blocks", parser_rules, &parser_rule_count},
    {"Files", include_rules, &include_rule_count},
    {"What statements say", model_rules, &model_rule_count},
    {"Rates left to the compiler", rates_rules, &rates_rule_count},
};
enum { ROOM_COUNT = sizeof ROOMS / sizeof *ROOMS };

size_t rule_count(void)
{
    size_t count = CHECK_COUNT;
    for (size_t i = 0; i < ROOM_COUNT; i++)
        count += *ROOMS[i].count;
    return count;
}

const struct rule *rule_at(size_t index)
{
    for (size_t i = 0; i < ROOM_COUNT; i++) {
        if (index < *ROOMS[i].count)
            return &ROOMS[i].rules[index];
        index -= *ROOMS[i].count;
    }
    assert(index < CHECK_COUNT);
    return &CHECKS[index].rule;
}

const struct rule *rule_find(struct text name)
{
    for (size_t i = 0; i < rule_count(); i++)
        if (text_is(name, rule_at(i)->name))
            return rule_at(i);
    return NULL;
}

const struct rule *rule_nearest(struct text name)
{
    const struct rule *nearest = NULL;
    size_t least = 1 + name.length / 4; /* one slip, and one more for every four letters */
    for (size_t i = 0; i < rule_count(); i++) {
        size_t distance = text_distance(name, text_of(rule_at(i)->name));
        if (distance <= least && name.length > 2) {
            nearest = rule_at(i);
            least = distance - (distance > 0);
        }
    }
    return nearest;
}

/* ---- documentation ---- */

static void markdown_rule(struct buffer *buffer, const struct rule *rule)
{
    buffer_format(buffer, "### %s\n\n**%s**: %s.\n\n%s\n\n", rule->name, severity_name(rule->severity),
                  rule->sentence, rule->explanation);
    if (rule->source)
        buffer_format(buffer, "Source: %s.\n\n", rule->source);
}

/* Room by room, the checks by family. */
void checks_markdown(struct buffer *buffer)
{
    buffer_add_string(
        buffer,
        "# What Prill reports\n\n"
        "This page is made by `make docs` from the program's own tables; change it there.\n\n"
        "An **error** leaves the plan without an answer. A **warning** or a **note** can be accepted: "
        "`allow NAME \"why\"`, or `allow NAME for THING \"why\"`. A name keeps its meaning for ever. "
        "`prill explain NAME` prints what is here.\n\n"
        "Where no source is given, the authority is the plan, a label in it or an entry of the library, "
        "and the report points at it.\n\n");
    for (size_t i = 0; i < ROOM_COUNT; i++) {
        buffer_format(buffer, "## %s\n\n", ROOMS[i].title);
        for (size_t j = 0; j < *ROOMS[i].count; j++)
            markdown_rule(buffer, &ROOMS[i].rules[j]);
    }
    const char *family = "";
    for (size_t i = 0; i < CHECK_COUNT; i++) {
        if (!text_is(text_of(family), CHECKS[i].family))
            buffer_format(buffer, "## %s\n\n", CHECKS[i].family);
        family = CHECKS[i].family;
        markdown_rule(buffer, &CHECKS[i].rule);
    }
    buffer->string[--buffer->length] = '\0'; /* one line end at the end is enough */
}

void checks_list(struct buffer *buffer)
{
    size_t width = 0;
    for (size_t i = 0; i < rule_count(); i++) {
        size_t length = text_of(rule_at(i)->name).length;
        width = length > width ? length : width;
    }
    for (size_t i = 0; i < rule_count(); i++) {
        const struct rule *rule = rule_at(i);
        buffer_format(buffer, "%-*s  %-7s  %s\n", (int)width, rule->name, severity_name(rule->severity),
                      rule->sentence);
    }
}
