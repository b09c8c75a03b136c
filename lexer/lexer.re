/* The scanner: one re2c block over a whole source in memory.
 *
 * The source ends in a NUL that is not part of it; re2c:eof compares the cursor with the limit there, so a NUL
 * inside the text is an invalid character like any other and the end is only the end. A part of a source may
 * end with a line instead, which no token goes beyond. */
#include "lexer/scan.h"

#include <stddef.h>

/*!include:re2c "unicode_categories.re" */

enum scan scan_token(struct scanner *scanner)
{
    const unsigned char *cursor = scanner->cursor, *limit = scanner->limit, *marker;
    enum scan scan;
    for (;;) {
        scanner->start = cursor;
        scan = SCAN_END;
        if (cursor == limit)
            break;
        /*!re2c
            re2c:api:style = free-form;
            re2c:define:YYCTYPE = "unsigned char";
            re2c:define:YYCURSOR = cursor;
            re2c:define:YYLIMIT = limit;
            re2c:define:YYMARKER = marker;
            re2c:yyfill:enable = 0;
            re2c:eof = 0;
            re2c:encoding:utf8 = 1;
            re2c:encoding-policy = fail;

            blank    = [ \t];
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

            $                    { scan = SCAN_END; break; }
            blank+               { continue; }
            line_end             { scan = SCAN_NEWLINE; break; }
            "#" in_comment*      { scan = SCAN_COMMENT; break; }
            word                 { scan = SCAN_WORD; break; }
            number               { scan = SCAN_NUMBER; break; }
            fraction             { scan = SCAN_NUMBER; break; }
            number " "? "%"      { scan = SCAN_PERCENT; break; }
            [0-9]{4} "-" [0-9]{2} "-" [0-9]{2}       { scan = SCAN_DATE; break; }
            // before grades, which would take them
            [0-9]{5,} "-" digits "-" digits          { scan = SCAN_ODD_DATE; break; }
            [0-9]{4} "-" [0-9] "-" digits            { scan = SCAN_ODD_DATE; break; }
            [0-9]{4} "-" [0-9]{2} "-" [0-9]          { scan = SCAN_ODD_DATE; break; }
            [0-9]{4} "-" [0-9]{2} "-" [0-9]{3,}      { scan = SCAN_ODD_DATE; break; }
            [0-9]{4} "-" [0-9]{3,} "-" digits        { scan = SCAN_ODD_DATE; break; }
            decimal "-" decimal "-" decimal          { scan = SCAN_GRADE; break; }
            digits dash digits "/" digits            { scan = SCAN_MIXED_FRACTION; break; }
            part (dash | apart) part                 { scan = SCAN_RANGE; break; }
            [0-9]{1,2} ":" [0-9]{2}                  { scan = SCAN_CLOCK; break; }
            ["] (in_quote | "\\" ["\\])* ["]         { scan = SCAN_STRING; break; }
            ","                  { scan = SCAN_COMMA; break; }
            ":"                  { scan = SCAN_COLON; break; }
            "/"                  { scan = SCAN_SLASH; break; }
            "<"                  { scan = SCAN_LESS; break; }
            ">"                  { scan = SCAN_MORE; break; }
            "{"                  { scan = SCAN_OPEN_BLOCK; break; }
            "}"                  { scan = SCAN_CLOSE_BLOCK; break; }
            "("                  { scan = SCAN_OPEN_GROUP; break; }
            ")"                  { scan = SCAN_CLOSE_GROUP; break; }

            // Marks of other texts, which mean something here in some places only.
            currency | [=&%;\u00d7]                  { scan = SCAN_MARK; break; }

            // What a person writes by habit, each with a report of its own.
            marker7 [^\r\n]*     { scan = SCAN_CONFLICT_MARKER; break; }
            "-"? [0-9]{1,3} ("," [0-9]{3})+ ("." digits)?  { scan = SCAN_GROUPED_NUMBER; break; }
            "-"? digits "," [0-9]{1,2}               { scan = SCAN_COMMA_DECIMAL; break; }
            "-"? "." digits      { scan = SCAN_BARE_DECIMAL; break; }
            digits "/" digits "/" digits             { scan = SCAN_SLASH_DATE; break; }
            [0-9]{1,2} "." [0-9]{1,2} "." ([0-9]{2} | [0-9]{4})  { scan = SCAN_SLASH_DATE; break; }
            decimal (dash | apart) decimal (dash | apart) decimal  { scan = SCAN_ODD_GRADE; break; }
            decimal ("-" decimal){3,}                { scan = SCAN_LONG_GRADE; break; }
            inner+ "_" (inner | "_")*                { scan = SCAN_UNDERSCORE; break; }
            ["] (in_quote | "\\" ["\\])* "\\"        { scan = SCAN_BAD_ESCAPE; break; }
            ["] (in_quote | "\\" ["\\])*             { scan = SCAN_OPEN_STRING; break; }
            [\u201c\u201d\u201e\u00ab\u00bb]         { scan = SCAN_CURLY_QUOTE; break; }
            [\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]  { scan = SCAN_ODD_BLANK; break; }
            odd_dash             { scan = SCAN_ODD_DASH; break; }
            "\r"                 { scan = SCAN_LONE_RETURN; break; }
            hidden | control     { scan = SCAN_HIDDEN; break; }
            [^]                  { scan = SCAN_STRAY; break; }
            *                    { scan = SCAN_BROKEN_UTF8; break; }
        */
    }
    scanner->cursor = cursor;
    return scan;
}
