/* Statements of a block: each is read by its forms; what is said of one that fits none is in
 * statement_reports.c. */
#include "compiler/model/read.h"
#include "compiler/model/slot.h"
#include "compiler/model/statement_reports.h"

#include <assert.h>
#include <stddef.h>
#include <string.h>

/* ---- what is left of a statement that does not fit ---- */

/* The clause at `at` would have given a name. Nobody is told that it is unknown, since the statement was
 * complained of. Returns its form; NULL where its first word is of none. */
static const struct form *lose_name(struct matcher *matcher, uint32_t at, struct text continued,
                                    bool carries_block)
{
    struct model *model = matcher->model;
    const struct form *form = form_find(matcher->block, statement_head(matcher, at));
    for (int other = BLOCK_PLAN; !form && other < BLOCK_KIND_COUNT; other++) /* meant for another block */
        form = form_find((enum block_kind)other, statement_head(matcher, at));
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
    struct matcher whole = {
        .model = model, .tree = tree, .block = kind, .first = statement->first, .end = statement->end};
    struct matcher *matcher = &whole;
    const struct form *form = lose_name(matcher, at, continued, statement->block != NULL);
    if (kind == BLOCK_PLAN && form && form_begins(form, TEXT("season")))
        model->building->season_lost = true;
    for (; match_kind(matcher, at) != TOKEN_END; at = match_next(matcher, at))
        if (match_kind(matcher, at) == TOKEN_COMMA &&
            form_find(kind, statement_head(matcher, match_next(matcher, at))))
            lose_name(matcher, match_next(matcher, at), (struct text){0}, false);
    if (!statement->block)
        return;
    enum block_kind inside = form ? form->opens : BLOCK_NONE;
    for (const struct statement *inner = statement->block->first; inner; inner = statement_next(inner))
        lose_names(model, tree, inside, inner, inner->first, (struct text){0});
}

/* ---- statements ---- */

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
    struct stated stated;
    struct seen seen;
    enum block_kind
        unopened; /* the kind of the block that the statement before lacks; BLOCK_NONE: it lacks none */
    struct clause clause;   /* being read, */
    struct matcher matcher; /* and how far; its failure is left as it is: a quiet one has none */
    struct value values[SLOT_LIMIT], room[LIST_ROOM];
};

/* A name in a clause of the plan, for what is checked of all: each once, by its id, at its first place. */
static inline void note_name(struct model *model, const struct value *value)
{
    struct building *building = model->building;
    const struct name *name = value->name;
    if (!name || (name->id < building->written_count && building->written[name->id]))
        return;
    building->written = names_reaching(arena_scratch(model->arena), building->written,
                                       &building->written_count, name, sizeof(bool));
    building->written[name->id] = true;
    VECTOR_PUSH(model->arena, &model->written_names, ((struct written_name){name, value->place}));
}

const struct value *slot_look(const struct stated *stated, const char *slot, size_t length)
{
    const struct value *values = stated->clause->values;
    for (size_t i = 0; i < stated->clause->value_count; i++)
        if (values[i].slot_length == length && bytes_equal(values[i].slot, slot, length))
            return &values[i];
    return NULL;
}

static bool read_statements(struct block_reader *reader, const struct block *block);

/* `plan "..." { season ... }`: the block has what could stand beside the statement, and is read so that
 * nothing in it is said to be missing. */
static void complain_of_block(struct block_reader *reader, const struct block *block)
{
    const struct matcher *matcher = &reader->matcher;
    struct reports *reports = matcher->model->reports;
    struct text head = form_head(reader->clause.form);
    struct report *report =
        report_add(reports, &model_rules[RULE_BLOCK], token_place(&matcher->tree->tokens, block->open),
                   "`%.*s` cannot have a block", (int)head.length, head.start);
    if (block->first && form_find(matcher->block, token_text(&matcher->tree->tokens, block->first->first))) {
        report_help(reports, report, "leave out the two braces and keep what is between them");
        read_statements(reader, block);
    }
}

/* The statements behind it that belong in its block are looked for, up to the last of them. */
static void complain_of_no_block(const struct block_reader *reader)
{
    const struct clause *clause = &reader->clause;
    const struct form *form = clause->form;
    struct reports *reports = reader->matcher.model->reports;
    struct text head = form_head(form);
    struct report *report = report_add(reports, &model_rules[RULE_BLOCK], clause->place,
                                       "`%.*s` needs a block", (int)head.length, head.start);
    const struct statement *inside = NULL;
    for (const struct statement *next = statement_next(clause->statement);
         next && form_find(form->opens, token_text(&clause->tree->tokens, next->first));
         next = statement_next(next))
        inside = next;
    if (inside) {
        struct place open = clause->place, close = statement_place(clause->tree, inside);
        open.start = open.end;
        close.start = close.end;
        report->sentence = text_format(reports->arena, "the statements of `%.*s` go between { and }",
                                       (int)head.length, head.start);
        report_fix(reports, report, false, open, " {", "put { and } around them");
        report_fix(reports, report, false, close, "\n}", NULL);
    } else if (!strchr(form->example, '\n')) {
        report_help(reports, report, "for example: %s", form->example);
    }
}

/* Whether the clause is the first of those that may stand once. What was seen is remembered by what it is
 * read into: two forms of it are one. */
static bool is_first(struct seen *seen, const struct clause *clause, struct reports *reports)
{
    const struct form *form = clause->form;
    for (size_t i = 0; i < seen->count; i++) {
        const struct form *other = seen->items[i].form;
        if (other->read != form->read || other->which != form->which ||
            other->field.offset != form->field.offset)
            continue;
        struct text head = form_head(form);
        struct report *report = report_add(reports, &model_rules[RULE_REPEATED], clause->place,
                                           "`%.*s` is here twice", (int)head.length, head.start);
        report_label(reports, report, seen->items[i].place, "first stated here");
        return false;
    }
    assert(seen->count < SEEN_LIMIT);
    seen->items[seen->count].form = form;
    seen->items[seen->count++].place = clause->place;
    return true;
}

/* Whether the clause was read. A block hangs on the last clause of a statement; a record may do without one.
 */
static bool take_clause(struct block_reader *reader, bool last)
{
    struct model *model = reader->matcher.model;
    const struct clause *clause = &reader->clause;
    const struct form *form = clause->form;
    const struct block *block = last ? clause->statement->block : NULL;
    if (last && !block && form->opens != BLOCK_DONE)
        reader->unopened = form->opens;
    if (block && form->opens == BLOCK_NONE) {
        complain_of_block(reader, block);
        return false;
    }
    if (!block && form->opens != BLOCK_NONE && form->opens != BLOCK_DONE) {
        complain_of_no_block(reader);
        return false;
    }
    if (form->once && !is_first(&reader->seen, clause, model->reports))
        return false;
    for (size_t i = 0; i < clause->value_count && !model->building->library; i++) {
        const struct value *value = &clause->values[i];
        note_name(model, value);
        for (size_t j = 0; j < value->count; j++)
            note_name(model, &value->items[j]);
    }
    form->read(&reader->stated);
    return true;
}

/* Clause by clause. A misspelt first word is read as what it probably means, for the names it declares.
 * Nothing more is said of a statement in which a mistake was reported: what does not fit may come of it. */
static bool read_statement(struct block_reader *reader, const struct statement *statement)
{
    struct matcher *matcher = &reader->matcher;
    struct clause *clause = &reader->clause;
    struct model *model = matcher->model;
    const struct tree *tree = matcher->tree;
    clause->statement = statement;
    matcher->first = statement->first;
    matcher->end = statement->end;
    matcher->quiet = true;
    matcher->guessed = false;
    matcher->spellings.count = 0;
    if (statement->broken) { /* it is read up to the first token in which the lexer found a mistake */
        while (match_kind(matcher, matcher->first) == TOKEN_INVALID)
            matcher->first++; /* the mark of a list before it */
        for (matcher->end = matcher->first; matcher->end < statement->end; matcher->end++)
            if (tree->tokens.items[matcher->end].kind == TOKEN_INVALID)
                break;
    }
    uint32_t at = match_skip(matcher, matcher->first), first = at;
    struct text head = {0}; /* what the clause goes on with, where it lacks a first word of its own */
    bool silent = statement->broken, sound = !silent, fits = match_clause(matcher, &at, head, clause);
    if (!fits && !form_find(matcher->block, statement_head(matcher, at))) {
        bool inside =
            reader->unopened != BLOCK_NONE && form_find(reader->unopened, statement_head(matcher, at));
        if (!inside && !silent)
            head = complain_of_head(matcher, at);
        if (!head.length) { /* `inside`: of the block that the statement above lacks, which was reported */
            enum block_kind kind = inside ? reader->unopened : matcher->block;
            lose_names(model, tree, kind, statement, at, head);
            reader->unopened = inside ? reader->unopened : BLOCK_NONE;
            return false;
        }
        matcher->guessed = silent = true;
        sound = false;
        first = at = match_next(matcher, at);
        fits = match_clause(matcher, &at, head, clause);
    }
    reader->unopened = BLOCK_NONE;
    for (;;) {
        sound = sound && fits;
        if (!fits && !silent)
            complain_of_clause(matcher, at, head);
        if (!fits && statement->block && matcher->failure.token > at) {
            /* What carries a block is read as far as it fits, so that the block is read. */
            if (matcher->failure.token < matcher->end)
                matcher->end = matcher->failure.token;
            fits = match_clause(matcher, &at, head, clause) && clause->form->opens != BLOCK_NONE;
        }
        bool last = match_kind(matcher, at) == TOKEN_END;
        model->building->faulty = !sound;
        const struct form *form = fits ? NULL : form_find(matcher->block, statement_head(matcher, first));
        if (!fits || !take_clause(reader, last)) {
            if (form && !statement->block)
                reader->unopened = form->opens; /* "lawn: green" */
            lose_names(model, tree, matcher->block, statement, first, head);
            return false;
        }
        if (last)
            return sound;
        matcher->guessed = false;
        head = form_head(clause->form);
        first = at = match_next(matcher, at);
        fits = match_clause(matcher, &at, head, clause);
    }
}

static bool read_statements(struct block_reader *reader, const struct block *block)
{
    bool sound = true;
    for (const struct statement *statement = block->first; statement; statement = statement_next(statement)) {
        bool fine = read_statement(reader, statement);
        sound = sound && fine;
    }
    return sound;
}

bool block_read(struct model *model, const struct tree *tree, const struct block *block, enum block_kind kind,
                void *subject)
{
    struct block_reader reader;
    memset(&reader.matcher, 0, offsetof(struct matcher, failure));
    reader.matcher.model = model;
    reader.matcher.tree = tree;
    reader.matcher.block = kind;
    reader.matcher.room = reader.room;
    reader.clause = (struct clause){.tree = tree, .values = reader.values};
    reader.stated = (struct stated){model, &reader.clause, subject};
    reader.unopened = BLOCK_NONE;
    reader.seen.count = 0;
    return read_statements(&reader, block);
}
