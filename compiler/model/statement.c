/* Statements of a block: each is read by its forms, or it is told what it should have been. */
#include "compiler/model/pattern.h"
#include "compiler/model/read.h"
#include "compiler/model/slot.h"

#include <assert.h>
#include <stddef.h>
#include <string.h>

/* What its failure expected is left as it is: most statements fit, and nothing is said of it. */
static void matcher_begin(struct matcher *matcher, struct model *model, const struct tree *tree,
                          enum block_kind kind, const struct statement *statement)
{
    memset(matcher, 0, offsetof(struct matcher, failure.expected));
    matcher->model = model;
    matcher->tree = tree;
    matcher->block = kind;
    matcher->first = statement->first;
    matcher->end = statement->end;
}

/* The word that a statement begins with; empty where it begins with something else. */
static struct text head_at(const struct matcher *matcher, uint32_t at)
{
    return match_kind(matcher, at) == TOKEN_WORD ? token_text(&matcher->tree->tokens, at) : (struct text){0};
}

/* ---- what is said of a first word ---- */

/* *certain: no other first word is as near. */
static struct text nearest_head(enum block_kind kind, struct text word, bool *certain)
{
    struct text best = {0};
    size_t least = (word.length > 3 ? word.length : 3) / 3 + 1;
    if (word.length < 3 || text_is(word, "not")) /* which is no misspelt `note` */
        return best;
    for (const struct form *form = form_first(kind); form; form = form_next(form)) {
        size_t distance = text_distance(word, form_head(form));
        if (distance < least) {
            least = distance;
            best = form_head(form);
            *certain = true;
        } else if (distance == least && !text_equal(best, form_head(form))) {
            *certain = false;
        }
    }
    return best;
}

/* Of a plan those that a person writes; the rest are for what the library has. */
static const char *heads_of(struct arena *arena, enum block_kind kind)
{
    struct buffer list = {.arena = arena};
    const struct form *last = NULL;
    for (const struct form *form = form_first(kind); form; form = form_next(form)) {
        struct text head = form_head(form);
        if (kind == BLOCK_PLAN && text_is(head, "mix"))
            break;
        if (!last || !text_equal(head, form_head(last)))
            buffer_format(&list, "%s%.*s", last ? ", " : "", (int)head.length, head.start);
        last = form;
    }
    return buffer_string(&list);
}

/* The kinds of block in which a word is a statement; "" for a word that is none anywhere. */
static const char *homes_of(struct arena *arena, struct text word)
{
    struct buffer list = {.arena = arena};
    for (int kind = BLOCK_PLAN; kind < BLOCK_KIND_COUNT; kind++)
        if (block_has_head((enum block_kind)kind, word))
            buffer_format(&list, kind == BLOCK_PLAN ? "%sthe plan itself" : "%s`%s`",
                          list.length ? " or " : "", block_kind_name((enum block_kind)kind));
    return buffer_string(&list);
}

/* Returns the word that was probably meant, empty without one: reading then goes on as if it stood there. A
 * word that is a statement elsewhere was not misspelt but misplaced. */
static struct text complain_of_head(struct matcher *matcher, uint32_t at)
{
    struct model *model = matcher->model;
    struct place place = token_place(&matcher->tree->tokens, at);
    struct text word = head_at(matcher, at);
    struct meaning meant[MEANT_LIMIT];
    model->building->complaints += model->building->complaints <= MEANT_REPORTS;
    if (!word.length) {
        struct report *report = report_add(model->reports, &model_rules[RULE_STATEMENT], place,
                                           "a statement begins with a word, not with %s",
                                           token_description(match_kind(matcher, at)));
        bool remark = match_kind(matcher, at) == TOKEN_SLASH && match_kind(matcher, at + 1) == TOKEN_SLASH;
        if (remark) {
            report_help(model->reports, report, "a comment begins with `#`");
            report_fix(model->reports, report, false, match_place(matcher, at, at + 2), "#", "write `#`");
        } else {
            size_t count = clause_by_habit(matcher, at, (struct text){0}, meant);
            count = count ? count : clause_by_head(matcher, at, meant);
            if (count)
                meaning_suggest(model, report, meant, count);
        }
        return word;
    }
    const char *block = block_kind_name(matcher->block), *where = "a plan";
    if (matcher->block != BLOCK_PLAN)
        where = text_format(model->arena, "%s `%s` block", strchr("aeiou", *block) ? "an" : "a", block);
    struct report *report = report_add(model->reports, &model_rules[RULE_STATEMENT], place,
                                       "%s has no `%.*s` statement", where, (int)word.length, word.start);
    size_t count = clause_by_habit(matcher, at, (struct text){0}, meant);
    if (count) {
        if (meant->lacks) {
            report->place = meant->place;
            report->sentence =
                text_format(model->arena, "`%s` %s", place_words(model->arena, meant->place), meant->lacks);
        }
        meaning_suggest(model, report, meant, count);
        symbol_lose(model, name_intern(model->names, word)); /* "front 2000 sqft" */
        return (struct text){0};
    }
    if (statement_elsewhere(matcher, at, report) || word_of_a_form(matcher, word, report))
        return (struct text){0};
    const char *homes = homes_of(model->arena, word);
    bool certain = false;
    struct text near = *homes ? (struct text){0} : nearest_head(matcher->block, word, &certain);
    if (near.length) {
        if (text_distance(word, near) == 0) /* but for its capitals */
            report->sentence = text_format(model->arena, "`%.*s` is written `%.*s` here, in small letters",
                                           (int)word.length, word.start, (int)near.length, near.start);
        else
            report_help(model->reports, report, "did you mean `%.*s`?", (int)near.length, near.start);
        if (certain && clause_with(matcher, at, (struct text){0}, place, text_string(model->arena, near)))
            report_fix(model->reports, report, false, place, text_string(model->arena, near),
                       text_format(model->arena, "write `%.*s`", (int)near.length, near.start));
        return near;
    }
    const char *belongs =
        text_format(model->arena, "`%.*s` belongs in %s", (int)word.length, word.start, homes);
    if (*homes && matcher->block == BLOCK_PLAN) { /* whose own statements are many */
        report_help(model->reports, report, "%s", belongs);
        return near;
    }
    if (*homes)
        report_note(model->reports, report, "%s", belongs);
    report_help(model->reports, report, "%s has: %s", where, heads_of(model->arena, matcher->block));
    return near;
}

/* ---- what is said of the rest ---- */

/* What could go on, as a sentence; where it is more than anyone reads, the first forms instead. */
static const char *expected_text(struct arena *arena, const struct failure *failure, bool missing)
{
    enum { READABLE = 10, FORMS_SHOWN = 3 };
    struct buffer list = {.arena = arena};
    const struct form *form = failure->form;
    struct text head = form ? form_head(form) : (struct text){0};
    const char *forms[FORMS_SHOWN];
    size_t count = 0;
    for (; form && form_begins(form, head) && count < FORMS_SHOWN; form = form_next(form))
        if (!strchr(form->example, '\n'))
            forms[count++] = text_format(arena, "`%s`", form->example);
    if (failure->expected_count > READABLE && count)
        return text_format(arena, "for example %s", list_text(arena, forms, count, " or "));
    for (size_t i = 0; i < failure->expected_count; i++) {
        const struct expected *expected = &failure->expected[i];
        const char *between = i == 0 ? "" : i + 1 == failure->expected_count ? " or " : ", ";
        const char *quote = expected->quoted ? "`" : "";
        buffer_format(&list, "%s%s%.*s%s", between, quote, (int)expected->words.length, expected->words.start,
                      quote);
    }
    return text_format(arena, missing ? "%s is missing" : "expected %s", buffer_string(&list));
}

/* A comma at a line's end carries the statement on; when the next line does not fit, that is the likely
 * cause. */
static void note_line_break(struct matcher *matcher, struct report *report, uint32_t at)
{
    const struct token *tokens = matcher->tree->tokens.items;
    uint32_t before = at;
    bool broken = false;
    for (;
         before > 0 && (tokens[before - 1].kind == TOKEN_NEWLINE || tokens[before - 1].kind == TOKEN_COMMENT);
         before--)
        broken = broken || tokens[before - 1].kind == TOKEN_NEWLINE;
    if (broken && before > 0 && tokens[before - 1].kind == TOKEN_COMMA)
        report_label(matcher->model->reports, report, token_place(&matcher->tree->tokens, before - 1),
                     "the comma at the end of this line continues the statement");
}

/* What a value in its slot complained of. */
static void complain_of_value(struct matcher *matcher)
{
    struct model *model = matcher->model;
    const struct failure *failure = &matcher->failure;
    struct report *report =
        report_add(model->reports, failure->rule, failure->place, "%s", failure->sentence);
    if (failure->help)
        report_help(model->reports, report, "%s", failure->help);
    if (failure->meant.length)
        report_fix(
            model->reports, report, false, failure->place, text_string(model->arena, failure->meant),
            text_format(model->arena, "write `%.*s`", (int)failure->meant.length, failure->meant.start));
}

enum { FOUND_LIMIT = 60 }; /* bytes of the plan in a sentence */

/* The clause at `at` fits no form: said at the furthest place that any of them reached, with the form that
 * did. */
static void complain_of_form(struct matcher *matcher, uint32_t at, struct text continued)
{
    struct model *model = matcher->model;
    struct failure *failure = &matcher->failure;
    struct report *report;
    model->building->complaints += model->building->complaints <= MEANT_REPORTS;
    struct meaning meant[MEANT_LIMIT];
    size_t count = clause_by_habit(matcher, at, continued, meant);
    if (!count && clause_by_pound_sign(matcher, at, continued, meant)) {
        struct place sign = token_place(&matcher->tree->tokens, matcher->end);
        sign.end = sign.start + 1;
        report = report_add(model->reports, &model_rules[RULE_FORM], sign,
                            "`#` begins a comment: what follows is not read");
        meaning_suggest(model, report, meant, 1);
        return;
    }
    if (failure->rule && !count) {
        complain_of_value(matcher);
        return;
    }
    if (!count)
        count = clause_meant(matcher, at, continued, meant);
    if (!count && continued.length && failure->token == at && match_kind(matcher, at) == TOKEN_WORD) {
        complain_of_head(matcher, at); /* nor does it go on with the statement before */
        return;
    }
    bool at_end = failure->token >= matcher->end;
    const char *expected = expected_text(model->arena, failure, at_end),
               *example = count || !at_end ? NULL : clause_examples(matcher, at, continued);
    struct place place = at_end ? match_place(matcher, matcher->end - 1, matcher->end)
                                : token_place(&matcher->tree->tokens, failure->token);
    if (count) {
        report = meaning_report(matcher, meant, count);
    } else if (at_end) {
        place.start = place.end;
        report = report_add(model->reports, &model_rules[RULE_FORM], place, "this statement is incomplete");
        if (example)
            report_help(model->reports, report, "for example %s", example);
        else
            report_help(model->reports, report, "%s", expected);
    } else {
        struct text found = place_text(place);
        found.length = found.length < FOUND_LIMIT ? found.length : FOUND_LIMIT;
        const char *before =
            failure->token > at ? place_words(model->arena, match_place(matcher, at, failure->token)) : "";
        bool shown = *before && strlen(before) < FOUND_LIMIT;
        report = report_add(model->reports, &model_rules[RULE_FORM], place,
                            shown ? "`%.*s` cannot come after `%s`" : "`%.*s` was not expected here%s",
                            (int)found.length, found.start, shown ? before : "");
        report_help(model->reports, report, "%s", expected);
    }
    if (at_end) {
        const struct tokens *tokens = &matcher->tree->tokens;
        struct place comment = token_place(tokens, matcher->end); /* `zone green #4 area 90 m2` */
        struct text words = place_text(comment);
        if (tokens->items[matcher->end].kind == TOKEN_COMMENT && words.length > 1 && words.start[1] != ' ' &&
            words.start[1] != '#')
            report_label(model->reports, report, comment, "`#` begins a comment: this is not read");
    } else if (!failure->rule) {
        note_line_break(matcher, report, failure->token);
    }
    const struct form *form = failure->form;
    if (!count && !example && form && !strchr(form->example, '\n') &&
        strncmp(expected, "for example", 11) != 0) {
        const struct form *first = form_find(matcher->block, form_head(form)), *next = form_next(first);
        bool more = next && form_begins(next, form_head(form));
        report_note(model->reports, report, "%s: %s", more ? "one of its forms" : "its form", form->example);
    }
}

/* ---- what is left of a statement that does not fit ---- */

/* The clause at `at` would have given a name. Nobody is told that it is unknown, since the statement was
 * complained of. Returns its form; NULL where its first word is of none. */
static const struct form *lose_name(struct matcher *matcher, uint32_t at, struct text continued,
                                    bool carries_block)
{
    struct model *model = matcher->model;
    const struct form *form = form_find(matcher->block, head_at(matcher, at));
    for (int other = BLOCK_PLAN; !form && other < BLOCK_KIND_COUNT; other++) /* meant for another block */
        form = form_find((enum block_kind)other, head_at(matcher, at));
    bool goes_on = !form && continued.length;
    if (goes_on)
        form = form_find(matcher->block, continued);
    uint32_t name_at = goes_on ? at : match_next(matcher, at);
    while (match_kind(matcher, name_at) != TOKEN_WORD && match_kind(matcher, name_at) != TOKEN_STRING &&
           match_kind(matcher, name_at) != TOKEN_END)
        name_at = match_next(matcher, name_at);
    bool declares = form ? form_declares(form) : carries_block;
    if (declares && match_kind(matcher, name_at) != TOKEN_END) {
        struct text first = slot_name(matcher, name_at);
        symbol_lose(model, name_intern(model->names, first));
        uint32_t next = match_next(matcher, name_at);
        if (match_kind(matcher, next) == TOKEN_WORD) { /* `apply spring feed`, by the name it should have */
            const char *rest = text_string(model->arena, slot_name(matcher, next));
            const char *joined = text_format(model->arena, "%.*s-%s", (int)first.length, first.start, rest);
            symbol_lose(model, name_intern(model->names, text_of(joined)));
        }
    }
    return form;
}

/* The names that the statement from `at` on and its block would have given: of the clause, and of further
 * ones that declare something. */
static void lose_names(struct model *model, const struct tree *tree, enum block_kind kind,
                       const struct statement *statement, uint32_t at, struct text continued)
{
    struct matcher whole, *matcher = &whole;
    matcher_begin(matcher, model, tree, kind, statement);
    const struct form *form = lose_name(matcher, at, continued, statement->block != NULL);
    if (kind == BLOCK_PLAN && form && form_begins(form, TEXT("season")))
        model->building->season_lost = true;
    for (; match_kind(matcher, at) != TOKEN_END; at = match_next(matcher, at))
        if (match_kind(matcher, at) == TOKEN_COMMA &&
            block_has_head(kind, head_at(matcher, match_next(matcher, at))))
            lose_name(matcher, match_next(matcher, at), (struct text){0}, false);
    if (!statement->block)
        return;
    enum block_kind inside = form ? form->opens : BLOCK_NONE;
    for (const struct statement *inner = statement->block->first; inner; inner = inner->next)
        lose_names(model, tree, inside, inner, inner->first, (struct text){0});
}

/* What carries a block is read as far as it fits, so that the block is read. */
static bool match_beginning(struct matcher *matcher, uint32_t *at, struct text head, struct clause *clause)
{
    if (!clause->statement->block || matcher->failure.token <= *at)
        return false;
    if (matcher->failure.token < matcher->end)
        matcher->end = matcher->failure.token;
    return match_clause(matcher, at, head, clause) && clause->form->opens != BLOCK_NONE;
}

/* ---- statements ---- */

/* `plan "..." { season ... }`: the block has what could stand beside the statement. */
static bool holds_neighbours(const struct matcher *matcher, const struct block *block)
{
    const struct statement *first = block->first;
    return first && block_has_head(matcher->block, token_text(&matcher->tree->tokens, first->first));
}

/* A block hangs on the last clause of a statement; a record may do without one. */
static bool fits_block(struct matcher *matcher, const struct clause *clause, bool last)
{
    struct model *model = matcher->model;
    const struct block *block = clause->statement->block;
    enum block_kind opens = clause->form->opens;
    struct text head = form_head(clause->form);
    if (last && block && opens == BLOCK_NONE) {
        struct report *report = report_add(model->reports, &model_rules[RULE_BLOCK],
                                           token_place(&matcher->tree->tokens, block->open),
                                           "`%.*s` cannot have a block", (int)head.length, head.start);
        if (holds_neighbours(matcher, block))
            report_help(model->reports, report, "leave out the two braces and keep what is between them");
        return false;
    }
    if ((!last || !block) && opens != BLOCK_NONE && opens != BLOCK_DONE) {
        struct report *report = report_add(model->reports, &model_rules[RULE_BLOCK], clause->place,
                                           "`%.*s` needs a block", (int)head.length, head.start);
        const struct statement *last_inside = NULL;
        for (const struct statement *next = clause->statement->next; next; next = next->next) {
            if (!block_has_head(opens, token_text(&matcher->tree->tokens, next->first)))
                break;
            last_inside = next;
        }
        if (last_inside) {
            struct place open = clause->place, close = statement_place(matcher->tree, last_inside);
            open.start = open.end;
            close.start = close.end;
            report->sentence = text_format(model->arena, "the statements of `%.*s` go between { and }",
                                           (int)head.length, head.start);
            report_fix(model->reports, report, false, open, " {", "put { and } around them");
            report_fix(model->reports, report, false, close, "\n}", NULL);
        } else if (!strchr(clause->form->example, '\n')) {
            report_help(model->reports, report, "for example: %s", clause->form->example);
        }
        return false;
    }
    return true;
}

/* What may stand once in a block and was seen in it; hardly a block has more kinds of statements. */
enum { SEEN_LIMIT = 32 };
struct seen {
    size_t count;
    struct {
        const struct form *form;
        struct place place;
    } items[SEEN_LIMIT];
};

struct block_reader {
    struct model *model;
    const struct tree *tree;
    enum block_kind kind;
    void *subject;
    struct seen *seen;
    enum block_kind
        unopened; /* the kind of the block that the statement before lacks; BLOCK_NONE: it lacks none */
};

/* A statement that may stand once is remembered by what it is read into: two forms of it are one. */
static bool seen_before(struct model *model, const struct clause *clause, struct seen *seen)
{
    const struct form *form = clause->form;
    for (size_t i = 0; i < seen->count && form->once; i++) {
        const struct form *other = seen->items[i].form;
        if (other->read != form->read || other->which != form->which ||
            other->field.offset != form->field.offset)
            continue;
        struct text head = form_head(form);
        struct report *report = report_add(model->reports, &model_rules[RULE_REPEATED], clause->place,
                                           "`%.*s` is here twice", (int)head.length, head.start);
        report_label(model->reports, report, seen->items[i].place, "first stated here");
        return true;
    }
    if (form->once) {
        assert(seen->count < SEEN_LIMIT);
        seen->items[seen->count].form = form;
        seen->items[seen->count++].place = clause->place;
    }
    return false;
}

/* Each name once, by its id, at its first place. */
static void note_name(struct model *model, const struct name *name, struct place place)
{
    struct building *building = model->building;
    if (name->id >= building->written_count) {
        size_t wanted = ((size_t)name->id + 1) * 2;
        bool *moved = ARENA_ARRAY(arena_scratch(model->arena), wanted, bool);
        if (building->written_count)
            memcpy(moved, building->written, building->written_count * sizeof *moved);
        building->written = moved;
        building->written_count = wanted;
    }
    if (building->written[name->id])
        return;
    building->written[name->id] = true;
    VECTOR_PUSH(model->arena, &model->written_names, ((struct written_name){name, place}));
}

/* The names in a clause of the plan, for what is checked of all of them. */
static void note_names(struct model *model, const struct clause *clause)
{
    for (size_t i = 0; i < clause->value_count && !model->building->library; i++) {
        const struct value *value = &clause->values[i];
        if (value->name)
            note_name(model, value->name, value->place);
        for (size_t j = 0; j < value->count; j++)
            if (value->items[j].name)
                note_name(model, value->items[j].name,
                          value->items[j].place.source ? value->items[j].place : value->place);
    }
}

static bool read_statements(struct block_reader *reader, const struct block *block);

static bool take_clause(struct block_reader *reader, struct matcher *matcher, const struct clause *clause,
                        bool last)
{
    if (last && !clause->statement->block && clause->form->opens != BLOCK_DONE)
        reader->unopened = clause->form->opens;
    bool fits = fits_block(matcher, clause, last);
    const struct block *block = clause->statement->block;
    if (!fits && last && block && clause->form->opens == BLOCK_NONE && holds_neighbours(matcher, block))
        read_statements(reader, block); /* so that nothing in it is said to be missing */
    if (!fits || seen_before(reader->model, clause, reader->seen))
        return false;
    note_names(reader->model, clause);
    clause->form->read(&(struct stated){reader->model, clause, reader->subject});
    return true;
}

/* The clauses from `at` on; `head` is what a misspelt first word stands for, empty otherwise. Nothing is said
 * of what does not fit where `silent`: a mistake was reported in the statement, and this may come of it. */
static bool read_clauses(struct block_reader *reader, struct matcher *matcher,
                         const struct statement *statement, uint32_t at, struct text head, bool silent)
{
    struct value values[SLOT_LIMIT];
    bool sound = !silent;
    for (;;) {
        struct clause clause = {.statement = statement, .tree = reader->tree, .values = values};
        uint32_t first = at;
        bool fits = match_clause(matcher, &at, head, &clause);
        if (!fits) {
            sound = false;
            if (!silent)
                complain_of_form(matcher, at, head);
            fits = match_beginning(matcher, &at, head, &clause);
        }
        bool last = match_kind(matcher, at) == TOKEN_END;
        reader->model->building->faulty = !sound;
        if (!fits || !take_clause(reader, matcher, &clause, last)) {
            const struct form *form = form_find(reader->kind, head_at(matcher, first));
            if (!fits && form && !statement->block)
                reader->unopened = form->opens; /* "lawn: green" */
            lose_names(reader->model, reader->tree, reader->kind, statement, first, head);
            return false;
        }
        if (last)
            return sound;
        matcher->guessed = false;
        head = form_head(clause.form);
        at = match_next(matcher, at);
    }
}

/* A misspelt first word is read as what it probably means, for the names it declares; nothing more is said.
 */
static bool read_statement(struct block_reader *reader, const struct statement *statement)
{
    struct matcher matcher;
    matcher_begin(&matcher, reader->model, reader->tree, reader->kind, statement);
    while (matcher.first < statement->end && reader->tree->tokens.items[matcher.first].kind == TOKEN_INVALID)
        matcher.first++;   /* the mark of a list before it */
    if (statement->broken) /* it is read up to the first token in which the lexer found a mistake */
        for (matcher.end = matcher.first; matcher.end < statement->end; matcher.end++)
            if (reader->tree->tokens.items[matcher.end].kind == TOKEN_INVALID)
                break;
    uint32_t at = match_skip(&matcher, matcher.first);
    struct text head = {0};
    bool known = pattern_form(reader->model, reader->kind, head_at(&matcher, at)) != NULL;
    if (!known && reader->unopened != BLOCK_NONE && block_has_head(reader->unopened, head_at(&matcher, at))) {
        /* of the block that the statement above lacks, which was reported */
        lose_names(reader->model, reader->tree, reader->unopened, statement, at, head);
        return false;
    }
    reader->unopened = BLOCK_NONE;
    if (!known && !statement->broken)
        head = complain_of_head(&matcher, at);
    matcher.guessed = head.length > 0;
    if (known || head.length)
        return read_clauses(reader, &matcher, statement, known ? at : match_next(&matcher, at), head,
                            !known || statement->broken);
    lose_names(reader->model, reader->tree, reader->kind, statement, at, head);
    return false;
}

static bool read_statements(struct block_reader *reader, const struct block *block)
{
    bool sound = true;
    for (const struct statement *statement = block->first; statement; statement = statement->next) {
        bool fine = read_statement(reader, statement);
        sound = sound && fine;
    }
    return sound;
}

bool block_read(struct model *model, const struct tree *tree, const struct block *block, enum block_kind kind,
                void *subject)
{
    struct seen seen;
    struct block_reader reader = {
        .model = model, .tree = tree, .kind = kind, .subject = subject, .seen = &seen};
    seen.count = 0;
    return read_statements(&reader, block);
}
