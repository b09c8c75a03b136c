/* The second look at what the scanner found. */
#include "lexer/lexer.h"

#include <string.h>

struct place lexer_place(const struct lexer *lexer)
{
    return (struct place){lexer->source, (uint32_t)(lexer->start - lexer->source->bytes),
                          (uint32_t)(lexer->cursor - lexer->source->bytes)};
}

struct text lexer_text(const struct lexer *lexer)
{
    return (struct text){(const char *)lexer->start, (size_t)(lexer->cursor - lexer->start)};
}

struct report *lexer_complain(struct lexer *lexer, enum lexer_rule rule, const char *sentence)
{
    return report_add(lexer->reports, &lexer_rules[rule], lexer_place(lexer), "%s", sentence);
}

const struct token *lexer_last(const struct lexer *lexer)
{
    return lexer->tokens->count ? &lexer->tokens->items[lexer->tokens->count - 1] : NULL;
}

bool lexer_touches(const struct lexer *lexer)
{
    const struct token *last = lexer_last(lexer);
    return last && last->end == lexer_place(lexer).start;
}

static bool is_digit(unsigned char byte)
{
    return byte >= '0' && byte <= '9';
}

static bool is_blank(unsigned char byte)
{
    return byte == ' ' || byte == '\t';
}

/* No token but a comment ends in blanks: those behind a quote that was never closed are left to the line. */
void lexer_add(struct lexer *lexer, enum token_kind kind)
{
    const unsigned char *end = lexer->cursor;
    while (kind != TOKEN_COMMENT && end > lexer->start && is_blank(end[-1]))
        end--;
    struct token token = token_of(lexer->source->bytes, lexer->start, end, kind);
    VECTOR_PUSH(lexer->tokens_arena, lexer->tokens, token);
}

/* ---- rows of a spreadsheet ---- */

/* Two commas or more with no blank beside them, the first behind a name: in any other line `11,44` is a
 * number with a comma in it. Semicolons separate nothing here, so two of them are enough. */
char lexer_row_separator(struct lexer *lexer)
{
    const unsigned char *bytes = lexer->source->bytes, *end = lexer->limit;
    const unsigned char *start = lexer->start;
    if (lexer->row.end > (uint32_t)(start - bytes))
        return lexer->row.separator;
    while (start > bytes && start[-1] != '\n')
        start--;
    while (start < end && is_blank(*start))
        start++;
    uint32_t commas = 0, semicolons = 0;
    bool tight = true, named = true, digits = true;
    const unsigned char *at = start;
    for (; at < end && *at != '\n' && *at != '\r' && *at != '#'; at++) {
        semicolons += *at == ';';
        bool comma = *at == ',' && at > start;
        tight = tight && !(comma && (is_blank(at[-1]) || at + 1 == end || is_blank(at[1])));
        named = named && !(comma && !commas && is_digit(at[-1]) && !digits);
        digits = digits && is_digit(*at);
        commas += comma;
    }
    lexer->row.separator = semicolons > 1 ? ';' : commas > 1 && tight && named ? ',' : '\0';
    lexer->row.end = (uint32_t)(at - bytes) + 1;
    return lexer->row.separator;
}

/* ---- tokens ---- */

/* A text that cannot be kept exactly is not a token: a number cut off would be another number. All digits
 * count but zeros at the head of the whole part. */
enum token_kind lexer_exact(struct lexer *lexer, enum token_kind kind)
{
    struct text text = lexer_text(lexer);
    if (kind == TOKEN_WORD && text.length > WORD_LIMIT) {
        lexer_complain(lexer, RULE_TOO_LONG, "this word is longer than 200 bytes");
        return TOKEN_INVALID;
    }
    size_t digits = 0, zeros = strspn(text.start, "-0");
    if (kind == TOKEN_NUMBER || kind == TOKEN_PERCENT || kind == TOKEN_GRADE || kind == TOKEN_RANGE)
        for (size_t i = zeros; i < text.length; i++)
            digits += is_digit(lexer->start[i]);
    if (digits <= DIGIT_LIMIT)
        return kind;
    lexer_complain(lexer, RULE_TOO_LONG, "this number has more than 15 digits");
    return TOKEN_INVALID;
}

/* Of one kind only in its place: by the token that it touches, or by its length. */
void lexer_look_again(struct lexer *lexer, unsigned kind)
{
    static const char *const marks[] = {"''", "'", "\"", "\u2019", "\u2032", "\u201d", "\u2033"};
    const struct token *last = lexer_last(lexer);
    bool touches = lexer_touches(lexer);
    bool behind_number = touches && (last->kind == TOKEN_NUMBER || last->kind == TOKEN_RANGE);
    /* The marks of feet and inches, straight, curly or primes. Anywhere else `"` opens a text. */
    for (size_t i = 0; i < sizeof marks / sizeof *marks && behind_number; i++) {
        size_t length = strlen(marks[i]);
        if (length > (size_t)(lexer->limit - lexer->start) || memcmp(lexer->start, marks[i], length) != 0)
            continue;
        lexer->cursor = lexer->start + length;
        lexer_add(lexer, TOKEN_MARK);
        return;
    }
    if (kind == SCAN_QUOTED)
        kind = TOKEN_STRING;
    if (kind == SCAN_CROSSING) {
        kind = TOKEN_WORD;
        if (behind_number || (touches && last->kind == TOKEN_MARK)) /* "20x15 ft" */
            lexer->cursor = lexer->start + 1;
    }
    if (kind >= TOKEN_KIND_COUNT) {
        lexer_take_mistake(lexer, kind);
        return;
    }
    lexer_add(lexer, lexer_exact(lexer, (enum token_kind)kind));
}

/* ---- files of another kind ---- */

/* How they begin. In the text of any of them nearly every character would be a mistake of its own. */
static const struct {
    const char *bytes;
    size_t length;
    const char *what, *help;
} foreign_files[] = {
    {"\xff\xfe", 2, "UTF-16 text", "save it again as plain text, with the encoding UTF-8"},
    {"\xfe\xff", 2, "UTF-16 text", "save it again as plain text, with the encoding UTF-8"},
    {"{\\rtf", 5, "a word processor's file (RTF)", "save it as plain text, in UTF-8"},
    {"PK\x03\x04", 4, "a word processor's file or a spreadsheet", "save it as plain text, in UTF-8"},
    {"\xd0\xcf\x11\xe0", 4, "an old word processor's file", "save it as plain text, in UTF-8"},
    {"%PDF-", 5, "a PDF", "copy its text into a file of plain text, in UTF-8"},
    {"<!DOCTYPE", 9, "a web page", "copy its text into a file of plain text, in UTF-8"},
    {"<!doctype", 9, "a web page", "copy its text into a file of plain text, in UTF-8"},
    {"<html", 5, "a web page", "copy its text into a file of plain text, in UTF-8"},
};

void lexer_take_foreign_file(struct lexer *lexer)
{
    const struct source *source = lexer->source;
    for (size_t i = 0; i < sizeof foreign_files / sizeof *foreign_files; i++) {
        if (source->length < foreign_files[i].length ||
            memcmp(source->bytes, foreign_files[i].bytes, foreign_files[i].length) != 0)
            continue;
        lexer->cursor = source->bytes + foreign_files[i].length;
        lexer_complain(lexer, RULE_ENCODING,
                       text_format(lexer->arena, "this file is %s", foreign_files[i].what))
            ->help = foreign_files[i].help;
        lexer->cursor = lexer->limit;
        lexer_add(lexer, TOKEN_INVALID);
        return;
    }
}
