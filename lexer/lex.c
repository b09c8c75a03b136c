/* Drives the scanner over a source, and makes tokens of what it finds. */
#include "lexer/lexer.h"

#include <assert.h>
#include <string.h>

struct place lexer_place(const struct lexer *lexer)
{
    return (struct place){lexer->source, (uint32_t)(lexer->scanner.start - lexer->source->bytes),
                          (uint32_t)(lexer->scanner.cursor - lexer->source->bytes)};
}

struct text lexer_text(const struct lexer *lexer)
{
    return (struct text){(const char *)lexer->scanner.start,
                         (size_t)(lexer->scanner.cursor - lexer->scanner.start)};
}

struct report *lexer_complain(struct lexer *lexer, enum lexer_rule rule, const char *sentence)
{
    return report_add(lexer->reports, &lexer_rules[rule], lexer_place(lexer), "%s", sentence);
}

const struct token *lexer_last(const struct lexer *lexer)
{
    return lexer->tokens->count ? &lexer->tokens->items[lexer->tokens->count - 1] : NULL;
}

bool lexer_begins_line(const struct lexer *lexer)
{
    const struct token *last = lexer_last(lexer);
    return !last || last->kind == TOKEN_NEWLINE;
}

static bool is_digit(unsigned char byte)
{
    return byte >= '0' && byte <= '9';
}

static bool is_blank(unsigned char byte)
{
    return byte == ' ' || byte == '\t';
}

/* ---- rows of a spreadsheet ---- */

/* Two commas or more with no blank beside them, the first behind a name: in any other line `11,44` is a
 * number with a comma in it. Semicolons separate nothing here, so two of them are enough. */
char lexer_row_separator(struct lexer *lexer)
{
    const unsigned char *bytes = lexer->source->bytes, *end = lexer->scanner.limit;
    const unsigned char *start = lexer->scanner.start;
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

/* Zeros before the first other digit of the whole part say nothing; every other digit counts. */
static bool has_too_many_digits(struct text text)
{
    size_t count = 0;
    bool leading = true;
    for (size_t i = 0; i < text.length && text.length > DIGIT_LIMIT; i++) {
        char character = text.start[i];
        leading = leading && (character == '0' || character == '-');
        count += !leading && is_digit((unsigned char)character);
    }
    return count > DIGIT_LIMIT;
}

/* The newest token is a number, and what comes next touches it. */
static bool touches_number(const struct lexer *lexer, const unsigned char *next)
{
    const struct token *last = lexer_last(lexer);
    return last && last->end == (uint32_t)(next - lexer->source->bytes) &&
           (last->kind == TOKEN_NUMBER || last->kind == TOKEN_RANGE || last->kind == TOKEN_MARK);
}

/* The marks of feet and inches behind the number that was taken last, straight, curly or primes. Anywhere
 * else `"` opens a text. */
static void take_length_mark(struct lexer *lexer)
{
    static const char *const marks[] = {"''", "'", "\"", "\u2019", "\u2032", "\u201d", "\u2033"};
    struct scanner *scanner = &lexer->scanner;
    bool begins = *scanner->cursor == '\'' || *scanner->cursor == '"' || *scanner->cursor == 0xE2;
    for (size_t i = 0; i < sizeof marks / sizeof *marks && begins; i++) {
        size_t length = strlen(marks[i]);
        if (length > (size_t)(scanner->limit - scanner->cursor) ||
            memcmp(scanner->cursor, marks[i], length) != 0)
            continue;
        scanner->start = scanner->cursor;
        scanner->cursor += length;
        lexer_add(lexer, TOKEN_MARK);
        return;
    }
}

/* What could not be kept exactly is no token: a number cut off would be another number. */
static void take_token(struct lexer *lexer, enum scan scan)
{
    static const uint8_t kinds[SCAN_CONFLICT_MARKER] = {
        [SCAN_END] = TOKEN_END,
        [SCAN_WORD] = TOKEN_WORD,
        [SCAN_STRING] = TOKEN_STRING,
        [SCAN_NUMBER] = TOKEN_NUMBER,
        [SCAN_PERCENT] = TOKEN_PERCENT,
        [SCAN_DATE] = TOKEN_DATE,
        [SCAN_GRADE] = TOKEN_GRADE,
        [SCAN_RANGE] = TOKEN_RANGE,
        [SCAN_CLOCK] = TOKEN_CLOCK,
        [SCAN_COMMA] = TOKEN_COMMA,
        [SCAN_COLON] = TOKEN_COLON,
        [SCAN_SLASH] = TOKEN_SLASH,
        [SCAN_LESS] = TOKEN_LESS,
        [SCAN_MORE] = TOKEN_MORE,
        [SCAN_MARK] = TOKEN_MARK,
        [SCAN_OPEN_BLOCK] = TOKEN_OPEN_BLOCK,
        [SCAN_CLOSE_BLOCK] = TOKEN_CLOSE_BLOCK,
        [SCAN_OPEN_GROUP] = TOKEN_OPEN_GROUP,
        [SCAN_CLOSE_GROUP] = TOKEN_CLOSE_GROUP,
        [SCAN_NEWLINE] = TOKEN_NEWLINE,
        [SCAN_COMMENT] = TOKEN_COMMENT,
    };
    struct text text = lexer_text(lexer);
    enum token_kind kind = kinds[scan];
    if (scan == SCAN_WORD) {
        bool crossing = (*text.start == 'x' || *text.start == 'X') && text.length > 1 &&
                        is_digit((unsigned char)text.start[1]);
        if (crossing && touches_number(lexer, lexer->scanner.start)) /* "20x15 ft" */
            lexer->scanner.cursor = lexer->scanner.start + 1;
        if (text.length > WORD_LIMIT) {
            lexer_complain(lexer, RULE_TOO_LONG, "this word is longer than 200 bytes");
            kind = TOKEN_INVALID;
        }
    } else if ((scan == SCAN_NUMBER || scan == SCAN_PERCENT || scan == SCAN_GRADE || scan == SCAN_RANGE) &&
               has_too_many_digits(text)) {
        lexer_complain(lexer, RULE_TOO_LONG, "this number has more than 15 digits");
        kind = TOKEN_INVALID;
    }
    lexer_add(lexer, kind);
    if (kind == TOKEN_NUMBER || kind == TOKEN_RANGE)
        take_length_mark(lexer);
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

/* One token for all of such a file; false where it is none. */
static bool take_foreign_file(struct lexer *lexer)
{
    const struct source *source = lexer->source;
    for (size_t i = 0; i < sizeof foreign_files / sizeof *foreign_files; i++) {
        if (source->length < foreign_files[i].length ||
            memcmp(source->bytes, foreign_files[i].bytes, foreign_files[i].length) != 0)
            continue;
        lexer->scanner.cursor = source->bytes + foreign_files[i].length;
        lexer_complain(lexer, RULE_ENCODING,
                       text_format(lexer->arena, "this file is %s", foreign_files[i].what))
            ->help = foreign_files[i].help;
        lexer->scanner.cursor = lexer->scanner.limit;
        lexer_add(lexer, TOKEN_INVALID);
        return true;
    }
    return false;
}

/* ---- the whole ---- */

/* Plans have a token for four or five of their bytes, so that the vector hardly ever grows. */
enum { BYTES_PER_TOKEN = 3 };

/* From where reading the source begins. A byte order mark is passed over; every other byte is part of a
 * token, a blank or a report. */
void lex_source(const struct source *source, struct arena *arena, struct reports *reports,
                struct tokens *tokens)
{
    const unsigned char *bytes = source->bytes;
    uint32_t skip = source->length >= 3 && !memcmp(bytes, "\xef\xbb\xbf", 3) ? 3 : source->from;
    struct lexer lexer = {
        .scanner = {bytes + skip, bytes + skip, bytes + source->length},
        .source = source,
        .arena = reports->arena,
        .reports = reports,
        .tokens_arena = arena,
        .tokens = tokens,
    };
    size_t capacity = (source->length - skip) / BYTES_PER_TOKEN + 16;
    *tokens = (struct tokens){
        .source = source, .items = ARENA_ARRAY(arena, capacity, struct token), .capacity = capacity};
    take_foreign_file(&lexer);
    enum scan scan = SCAN_MARK, previous;
    do {
        previous = scan;
        scan = scan_token(&lexer.scanner);
        assert(scan == SCAN_END || lexer.scanner.cursor > lexer.scanner.start);
        if (scan >= SCAN_CONFLICT_MARKER)
            lexer_take_mistake(&lexer, scan, previous);
        else
            take_token(&lexer, scan);
    } while (scan != SCAN_END);
}
