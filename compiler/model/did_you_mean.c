/* What a clause that does not fit was probably meant to be: a word of its forms is put in before the place
 * where they failed, or in place of what stands there, and the clause is read again. */
#include "compiler/model/form_match.h"

#include <string.h>

enum { WAYS_ON = 8 };

/* The changed text is scanned and matched anew, in silence: what fits is certain to be accepted. */
const char *clause_with(const struct matcher *failed, struct place whole, struct text continued,
                        struct place place, const char *words, bool chain)
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
    if (unheard.errors)
        return NULL;
    if (!match_clause(&matcher, &at, continued, &clause)) {
        struct meaning other[MEANT_LIMIT];
        uint32_t end = (uint32_t)(from + strlen(words));
        if (!chain || token_place(&tree.tokens, matcher.failure.token).start < end)
            return NULL; /* the change alone did not help */
        matcher.chained = true;
        size_t count = clause_by_notation(&matcher, 0, continued, other);
        return count == 1 && !other->lacks ? other->clause : NULL;
    }
    /* What was changed may lie in a later clause of the statement, or begin one. */
    while (match_kind(&matcher, at) == TOKEN_COMMA &&
           token_place(&tree.tokens, at).start < from + strlen(words)) {
        uint32_t next = match_next(&matcher, at);
        const struct form *form = clause.form;
        bool fits = *words == ',' && match_clause(&matcher, &next, (struct text){0}, &clause);
        if (!fits && !(*words == ',' && form->once)) /* two grasses are not one list of them */
            fits = match_clause(&matcher, &next, form_head(form), &clause);
        if (!fits)
            return NULL;
        at = next;
    }
    return place_words(arena, (struct place){source, 0, source->length});
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
    const char *clause = clause_with(matcher, whole, continued, place, " lb", false);
    *meant = (struct meaning){.place = place, .written = " lb", .clause = clause};
    if (!clause) { /* "3.5#/M of feed" */
        clause = clause_with(matcher, whole, continued, place, " lb", true);
        *meant = (struct meaning){.place = whole, .written = clause, .clause = clause};
    }
    return clause != NULL;
}

/* Two statements on a line have a comma between them. Of the words that were expected some fit anything: what
 * follows a shape may be a part of it, its sum or a slip, and any word is the name of a kind; only its author
 * can tell. */
size_t clause_meant(const struct matcher *matcher, uint32_t at, struct text continued,
                    struct meaning meant[MEANT_LIMIT])
{
    struct arena *arena = matcher->model->arena;
    const struct failure *failure = &matcher->failure;
    const struct tokens *tokens = &matcher->tree->tokens;
    struct place whole = match_place(matcher, at, matcher->end);
    uint32_t token = failure->token;
    bool at_end = token >= matcher->end, is_word = match_kind(matcher, token) == TOKEN_WORD;
    struct text word = is_word ? token_text(tokens, token) : (struct text){0};
    size_t count = 0, kind = strlen("kind");
    if (is_word && token > at && form_find(matcher->block, word)) {
        struct place place = token_place(tokens, token - 1);
        place.start = place.end;
        const char *clause = clause_with(matcher, whole, continued, place, ",", false);
        if (clause)
            meant[count++] = (struct meaning){.place = place, .written = ",", .clause = clause};
    }
    /* A statement that ends where it could go on in many ways is not one of the few that need no more. */
    if (at_end && failure->expected_count > WAYS_ON)
        return count;

    /* Each is put in before the place of failure, then in place of what stands there: a word is taken for
     * another where that alone could stand there, or where it was misspelt, since of several choices none is
     * more likely than the next. The last word of a clause joins nothing and says something of its own: `no N
     * on Sunday` does not mean `no N on frozen ground`. */
    enum token_kind next = is_word ? match_kind(matcher, match_next(matcher, token)) : TOKEN_END;
    bool alone = failure->expected_count == 1 && next != TOKEN_END && next != TOKEN_COMMA;
    struct place found =
        at_end ? (struct place){whole.source, whole.end, whole.end} : token_place(tokens, token);
    for (size_t i = 0; i < failure->expected_count && count <= MEANT_LIMIT; i++) {
        struct text words = failure->expected[i].words;
        bool of_kind = words.length >= kind && memcmp(words.start + words.length - kind, "kind", kind) == 0;
        if (!failure->expected[i].quoted || of_kind || text_is(words, "plus") || text_is(words, "less"))
            continue;
        bool replaces = is_word && (alone || text_distance(word, words) <= word.length / 3);
        for (int replace = 0; replace <= replaces; replace++) {
            const char *format = replace ? "%.*s" : at_end ? " %.*s" : "%.*s ";
            struct place place = {found.source, found.start, replace ? found.end : found.start};
            const char *written = text_format(arena, format, (int)words.length, words.start);
            const char *clause = clause_with(matcher, whole, continued, place, written, false);
            if (clause && count < MEANT_LIMIT)
                meant[count] = (struct meaning){.place = place, .written = written, .clause = clause};
            count += clause != NULL;
        }
    }
    return count <= MEANT_LIMIT ? count : 0;
}

enum { EXAMPLES_SHOWN = 2 };

static bool is_digit(char byte)
{
    return byte >= '0' && byte <= '9';
}

/* "when on May 22" and "when on Jun 1": one is enough. */
static bool alike(const char *a, const char *b)
{
    for (; *a && *b; a++, b++) {
        bool blank = strchr(" ,%", *a) || strchr(" ,%", *b);
        while (is_digit(a[0]) && is_digit(a[1]))
            a++;
        while (is_digit(b[0]) && is_digit(b[1]))
            b++;
        if (*a != *b && (blank || is_digit(*a) != is_digit(*b)))
            return false;
    }
    return *a == *b;
}

/* The shortest end of a form's example with which the clause fits has the values that are missing: as little
 * as possible is made up. */
const char *clause_examples(const struct matcher *matcher, uint32_t at, struct text continued)
{
    struct arena *arena = matcher->model->arena;
    struct buffer list = {.arena = arena};
    struct place whole = match_place(matcher, at, matcher->end);
    struct place end = {whole.source, whole.end, whole.end};
    const char *before = "";
    int count = 0;
    struct text head = continued.length ? continued : token_text(&matcher->tree->tokens, at);
    if (matcher->failure.expected_count > WAYS_ON)
        return NULL;
    for (const struct form *form = form_find(matcher->block, head);
         form && form_begins(form, head) && count < EXAMPLES_SHOWN; form = form_next(form)) {
        const char *clause = NULL;
        bool line = !form->stands_for && !strchr(form->example, '\n');
        for (const char *rest = form->example + strlen(form->example);
             rest > form->example && line && !clause; rest--)
            if (*rest && (*rest == ',' || rest[-1] == ' '))
                clause = clause_with(matcher, whole, continued, end,
                                     *rest == ',' ? rest : text_format(arena, " %s", rest), false);
        if (!clause || alike(clause, before))
            continue;
        buffer_format(&list, "%s`%s`", count++ ? " or " : "", clause);
        before = clause;
    }
    return count ? buffer_string(&list) : NULL;
}
