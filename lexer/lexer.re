/* The scanner: one re2c block over a whole source in memory, and the loop that makes tokens of what it finds.
 *
 * The source ends in a NUL that is not part of it and of no token: nothing needs to look for the end but where a
 * token begins. A NUL inside the text is an invalid character like any other. A part of a source may end with a
 * line instead, which no token goes beyond. */
#include "lexer/lexer.h"

#include <string.h>

/*!include:re2c "unicode_categories.re" */

/* Plans have a token for four or five of their bytes, so that the vector hardly ever grows. */
enum { BYTES_PER_TOKEN = 4 };

/* A byte order mark is passed over; every other byte is part of a token, a blank or a report. What has a second
 * look taken at it is rare, since most tokens are short words and numbers; so is a vector that is full. */
void lex_source(const struct source *source, struct arena *arena, struct reports *reports,
                struct tokens *tokens)
{
    const unsigned char *bytes = source->bytes;
    uint32_t skip = source->length >= 3 && !memcmp(bytes, "\xef\xbb\xbf", 3) ? 3 : source->from;
    struct lexer lexer = {
        .start = bytes + skip,
        .cursor = bytes + skip,
        .limit = bytes + source->length,
        .source = source,
        .arena = reports->arena,
        .reports = reports,
        .tokens_arena = arena,
        .tokens = tokens,
    };
    *tokens = (struct tokens){.source = source};
    tokens->capacity = (source->length - skip) / BYTES_PER_TOKEN + 16;
    tokens->items = arena_uncleared(arena, tokens->capacity * sizeof *tokens->items);
    lexer_take_foreign_file(&lexer);
    const unsigned char *cursor = lexer.cursor, *marker;
    struct token *next = tokens->items + tokens->count, *full = tokens->items + tokens->capacity;
    for (;;) {
        while (*cursor == ' ' || *cursor == '\t')
            cursor++;
        if (cursor >= lexer.limit)
            break;
        const unsigned char *start = cursor;
        unsigned kind; /* enum token_kind; enum scan where the pattern alone does not make a token */
        do {
            /*!re2c
                re2c:api:style = free-form;
                re2c:define:YYCTYPE = unsigned;
                re2c:define:YYCURSOR = cursor;
                re2c:define:YYMARKER = marker;
                re2c:yyfill:enable = 0;
                re2c:encoding:utf8 = 1;
                re2c:encoding-policy = fail;

                line_end = "\r\n" | "\n";
                digits   = [0-9]+;
                decimal  = digits ("." digits)?;
                number   = "-"? decimal;
                fraction = "-"? (digits " "+)? digits "/" digits;
                letter   = L;
                inner    = L | Mn | Mc | [0-9] | [\u00b2\u00b3];
                word     = letter inner* ("-" inner+)* | "\u00b0" [CFcf];
                currency = [$\u00a3\u00a5\u20ac];
                control  = [\x00-\x08\x0b\x0c\x0e-\x1f\x7f] | [\u0080-\u009f];
                reorder  = [\u2028-\u202e\u2066-\u2069];  // shows a line as something else than it is
                hidden   = reorder | [\u061c\u200b-\u200f\u2060-\u2065\ufeff];
                in_quote = [^"\\\n\r] \ (control | hidden);
                in_comment = [^\n\r] \ (control | reorder);
                odd_dash = [\u2010-\u2015\u2212];
                dash     = "-" | odd_dash;
                apart    = " "+ dash " "+;
                part     = decimal | (digits " "+)? digits "/" digits;
                marker7  = ("<<<<<<<" | ">>>>>>>" | "|||||||" | "=======");

                line_end             { kind = TOKEN_NEWLINE; break; }
                "#" in_comment*      { kind = TOKEN_COMMENT; break; }
                [xX] [0-9] inner* ("-" inner+)*          { kind = SCAN_CROSSING; break; }
                word                 { kind = TOKEN_WORD; break; }
                number               { kind = TOKEN_NUMBER; break; }
                fraction             { kind = TOKEN_NUMBER; break; }
                number " "? "%"      { kind = TOKEN_PERCENT; break; }
                [0-9]{4} "-" [0-9]{2} "-" [0-9]{2}       { kind = TOKEN_DATE; break; }
                // before grades, which would take them
                [0-9]{5,} "-" digits "-" digits          { kind = SCAN_ODD_DATE; break; }
                [0-9]{4} "-" [0-9] "-" digits            { kind = SCAN_ODD_DATE; break; }
                [0-9]{4} "-" [0-9]{2} "-" [0-9]          { kind = SCAN_ODD_DATE; break; }
                [0-9]{4} "-" [0-9]{2} "-" [0-9]{3,}      { kind = SCAN_ODD_DATE; break; }
                [0-9]{4} "-" [0-9]{3,} "-" digits        { kind = SCAN_ODD_DATE; break; }
                decimal "-" decimal "-" decimal          { kind = TOKEN_GRADE; break; }
                digits dash digits "/" digits            { kind = SCAN_MIXED_FRACTION; break; }
                part (dash | apart) part                 { kind = TOKEN_RANGE; break; }
                [0-9]{1,2} ":" [0-9]{2}                  { kind = TOKEN_CLOCK; break; }
                ["] (in_quote | "\\" ["\\])* ["]         { kind = SCAN_QUOTED; break; }
                ","                  { kind = TOKEN_COMMA; break; }
                ":"                  { kind = TOKEN_COLON; break; }
                "/"                  { kind = TOKEN_SLASH; break; }
                "<"                  { kind = TOKEN_LESS; break; }
                ">"                  { kind = TOKEN_MORE; break; }
                "{"                  { kind = TOKEN_OPEN_BLOCK; break; }
                "}"                  { kind = TOKEN_CLOSE_BLOCK; break; }
                "("                  { kind = TOKEN_OPEN_GROUP; break; }
                ")"                  { kind = TOKEN_CLOSE_GROUP; break; }

                // Marks of other texts, which mean something here in some places only.
                currency | [=&%;\u00d7]                  { kind = TOKEN_MARK; break; }

                // What a person writes by habit, each with a report of its own.
                marker7              { kind = SCAN_CONFLICT_MARKER; break; }
                "-"? [0-9]{1,3} ("," [0-9]{3})+ ("." digits)?  { kind = SCAN_GROUPED_NUMBER; break; }
                "-"? digits "," [0-9]{1,2}               { kind = SCAN_COMMA_DECIMAL; break; }
                "-"? "." digits      { kind = SCAN_BARE_DECIMAL; break; }
                digits "/" digits "/" digits             { kind = SCAN_SLASH_DATE; break; }
                [0-9]{1,2} "." [0-9]{1,2} "." ([0-9]{2} | [0-9]{4})  { kind = SCAN_SLASH_DATE; break; }
                decimal (dash | apart) decimal (dash | apart) decimal  { kind = SCAN_ODD_GRADE; break; }
                decimal ("-" decimal){3,}                { kind = SCAN_LONG_GRADE; break; }
                inner+ "_" (inner | "_")*                { kind = SCAN_UNDERSCORE; break; }
                ["] (in_quote | "\\" ["\\])* "\\"        { kind = SCAN_BAD_ESCAPE; break; }
                ["] (in_quote | "\\" ["\\])*             { kind = SCAN_OPEN_STRING; break; }
                [\u201c\u201d\u201e\u00ab\u00bb]         { kind = SCAN_CURLY_QUOTE; break; }
                [\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]  { kind = SCAN_ODD_BLANK; break; }
                odd_dash             { kind = SCAN_ODD_DASH; break; }
                "\r"                 { kind = SCAN_LONE_RETURN; break; }
                hidden | control     { kind = SCAN_HIDDEN; break; }
                [^]                  { kind = SCAN_STRAY; break; }
                *                    { kind = SCAN_BROKEN_UTF8; break; }
            */
        } while (false);
        if (kind < TOKEN_KIND_COUNT && cursor - start <= DIGIT_LIMIT && next < full) {
            *next++ = token_of(bytes, start, cursor, kind);
        } else {
            lexer.start = start;
            lexer.cursor = cursor;
            tokens->count = (size_t)(next - tokens->items);
            lexer_look_again(&lexer, kind);
            lexer.previous = kind;
            cursor = lexer.cursor;
            next = tokens->items + tokens->count;
            full = tokens->items + tokens->capacity;
        }
    }
    tokens->count = (size_t)(next - tokens->items);
    lexer.start = lexer.limit;
    lexer.cursor = lexer.limit;
    lexer_add(&lexer, TOKEN_END);
}
