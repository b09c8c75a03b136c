/* What a clause that does not fit was probably meant to be: a word of its forms is put in before the place
 * where they failed, or in place of what stands there, and the clause is read again. */
#include "compiler/model/form_match.h"

#include <string.h>

/* A clause longer than this is not repeated in a report. */
enum { CLAUSE_LIMIT = 120 };
enum { WAYS_ON = 8 };

struct trial {
    const struct matcher *failed;
    uint32_t first;        /* token the clause begins with */
    struct text continued; /* as for match_clause */
};

/* The changed text is scanned and matched anew, in silence: what fits is certain to be accepted. `whole`: of
 * the text before the change. */
static const char *text_with(const struct matcher *failed, struct place whole, struct text continued,
                             struct place place, const char *words)
{
    struct arena *arena = failed->model->arena;
    struct text text = place_text(whole);
    if (text.length > CLAUSE_LIMIT)
        return NULL;
    size_t from = place.start - whole.start, to = place.end - whole.start;
    const char *mended =
        text_format(arena, "%s%s%s", text_string(arena, (struct text){text.start, from}), words,
                    text_string(arena, (struct text){text.start + to, text.length - to}));
    struct source *source = ARENA_NEW(arena, struct source);
    source_init(source, arena, "", (const unsigned char *)mended, (uint32_t)strlen(mended));
    struct reports unheard = {.arena = arena};
    struct tree tree = {.source = source};
    lex_source(source, arena, &unheard, &tree.tokens);
    struct matcher matcher = {.model = failed->model,
                              .tree = &tree,
                              .block = failed->block,
                              .end = (uint32_t)tree.tokens.count - 1,
                              .plain = failed->plain,
                              .guessed = failed->guessed};
    struct value values[SLOT_LIMIT];
    struct clause clause = {.tree = &tree, .values = values};
    uint32_t at = 0;
    if (unheard.errors || !match_clause(&matcher, &at, continued, &clause))
        return NULL;
    /* What was changed may lie in a later clause of the statement, or begin one. */
    while (match_kind(&matcher, at) == TOKEN_COMMA &&
           token_place(&tree.tokens, at).start < from + strlen(words)) {
        uint32_t next = match_next(&matcher, at);
        struct text head = *words == ',' ? (struct text){0} : form_head(clause.form);
        if (!match_clause(&matcher, &next, head, &clause))
            return NULL;
        at = next;
    }
    return place_words(arena, (struct place){source, 0, source->length});
}

const char *clause_with(const struct matcher *failed, uint32_t first, struct text continued,
                        struct place place, const char *words)
{
    return text_with(failed, match_place(failed, first, failed->end), continued, place, words);
}

/* "4# of starter": the sign of a comment right behind a number is most often a pound. */
bool clause_by_pound_sign(const struct matcher *matcher, uint32_t at, struct text continued,
                          struct meaning *meant)
{
    const struct tokens *tokens = &matcher->tree->tokens;
    uint32_t sign = matcher->end;
    if (sign == 0 || sign >= tokens->count || tokens->items[sign].kind != TOKEN_COMMENT ||
        tokens->items[sign - 1].kind != TOKEN_NUMBER ||
        tokens->items[sign - 1].end != tokens->items[sign].start)
        return false;
    struct place whole = match_place(matcher, at, matcher->end), place = token_place(tokens, sign);
    whole.end = place.end;
    place.end = place.start + 1;
    const char *clause = text_with(matcher, whole, continued, place, " lb");
    *meant = (struct meaning){place, " lb", clause, false};
    return clause != NULL;
}

/* A word is taken for another where that alone could stand there, or where it was misspelt: of several
 * choices none is more likely than the next. */
static bool may_replace(const struct trial *trial, struct text words)
{
    const struct matcher *matcher = trial->failed;
    const struct failure *failure = &matcher->failure;
    if (match_kind(matcher, failure->token) != TOKEN_WORD)
        return false;
    struct text found = token_text(&matcher->tree->tokens, failure->token);
    return failure->expected_count == 1 || text_distance(found, words) <= found.length / 3;
}

/* What follows a shape may be a part of it, its sum or a slip, and any word is the name of a kind: only its
 * author can tell. */
static bool fits_anything(struct text words)
{
    return text_is(words, "plus") || text_is(words, "less") || text_is(words, "kind") ||
           text_is(words, "of kind");
}

/* Put in before the place of failure, then in place of what stands there. */
static size_t try_words(const struct trial *trial, struct text words, struct meaning *meant, size_t count)
{
    const struct matcher *matcher = trial->failed;
    struct arena *arena = matcher->model->arena;
    struct place whole = match_place(matcher, trial->first, matcher->end);
    bool at_end = matcher->failure.token >= matcher->end;
    struct place found = at_end ? (struct place){whole.source, whole.end, whole.end}
                                : token_place(&matcher->tree->tokens, matcher->failure.token);
    for (int replace = 0; replace <= may_replace(trial, words); replace++) {
        const char *format = replace ? "%.*s" : at_end ? " %.*s" : "%.*s ";
        struct place place = {found.source, found.start, replace ? found.end : found.start};
        const char *written = text_format(arena, format, (int)words.length, words.start);
        const char *clause = clause_with(matcher, trial->first, trial->continued, place, written);
        if (!clause)
            continue;
        if (count < MEANT_LIMIT)
            meant[count] = (struct meaning){place, written, clause, false};
        count++;
    }
    return count;
}

/* Two statements on a line have a comma between them. */
static size_t try_comma(const struct trial *trial, struct meaning *meant)
{
    const struct matcher *matcher = trial->failed;
    uint32_t before = matcher->failure.token;
    if (match_kind(matcher, before) != TOKEN_WORD || before == trial->first ||
        !block_has_head(matcher->block, token_text(&matcher->tree->tokens, before)))
        return 0;
    struct place place = token_place(&matcher->tree->tokens, before - 1);
    place.start = place.end;
    const char *clause = clause_with(matcher, trial->first, trial->continued, place, ",");
    if (clause)
        *meant = (struct meaning){place, ",", clause, false};
    return clause != NULL;
}

size_t clause_meant(const struct matcher *matcher, uint32_t at, struct text continued,
                    struct meaning meant[MEANT_LIMIT])
{
    const struct trial trial = {matcher, at, continued};
    const struct failure *failure = &matcher->failure;
    size_t count = try_comma(&trial, meant);
    /* A statement that ends where it could go on in many ways is not one of the few that need no more. */
    if (failure->token >= matcher->end && failure->expected_count > WAYS_ON)
        return count;
    for (size_t i = 0; i < failure->expected_count && count <= MEANT_LIMIT; i++)
        if (failure->expected[i].quoted && !fits_anything(failure->expected[i].words))
            count = try_words(&trial, failure->expected[i].words, meant, count);
    return count <= MEANT_LIMIT ? count : 0;
}
