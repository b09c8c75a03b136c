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
    const unsigned char *marker;
    for (;;) {
        scanner->start = scanner->cursor;
        if (scanner->cursor == scanner->limit)
            return SCAN_END;
        /*!re2c
            re2c:api:style = free-form;
            re2c:define:YYCTYPE = "unsigned char";
            re2c:define:YYCURSOR = scanner->cursor;
            re2c:define:YYLIMIT = scanner->limit;
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

            $                    { return SCAN_END; }
            blank+               { continue; }
            line_end             { return SCAN_NEWLINE; }
            "#" in_comment*      { return SCAN_COMMENT; }
            word                 { return SCAN_WORD; }
            number               { return SCAN_NUMBER; }
            fraction             { return SCAN_NUMBER; }
            number " "? "%"      { return SCAN_PERCENT; }
            [0-9]{4} "-" [0-9]{2} "-" [0-9]{2}       { return SCAN_DATE; }
            // before grades, which would take them
            [0-9]{5,} "-" digits "-" digits          { return SCAN_ODD_DATE; }
            [0-9]{4} "-" [0-9] "-" digits            { return SCAN_ODD_DATE; }
            [0-9]{4} "-" [0-9]{2} "-" [0-9]          { return SCAN_ODD_DATE; }
            [0-9]{4} "-" [0-9]{2} "-" [0-9]{3,}      { return SCAN_ODD_DATE; }
            [0-9]{4} "-" [0-9]{3,} "-" digits        { return SCAN_ODD_DATE; }
            decimal "-" decimal "-" decimal          { return SCAN_GRADE; }
            digits dash digits "/" digits            { return SCAN_MIXED_FRACTION; }
            part (dash | apart) part                 { return SCAN_RANGE; }
            [0-9]{1,2} ":" [0-9]{2}                  { return SCAN_CLOCK; }
            ["] (in_quote | "\\" ["\\])* ["]         { return SCAN_STRING; }
            ","                  { return SCAN_COMMA; }
            ":"                  { return SCAN_COLON; }
            "/"                  { return SCAN_SLASH; }
            "<"                  { return SCAN_LESS; }
            ">"                  { return SCAN_MORE; }
            "{"                  { return SCAN_OPEN_BLOCK; }
            "}"                  { return SCAN_CLOSE_BLOCK; }
            "("                  { return SCAN_OPEN_GROUP; }
            ")"                  { return SCAN_CLOSE_GROUP; }

            // Marks of other texts, which mean something here in some places only.
            currency | [=&%;\u00d7]                  { return SCAN_MARK; }

            // What a person writes by habit, each with a report of its own.
            marker7 [^\r\n]*     { return SCAN_CONFLICT_MARKER; }
            "-"? [0-9]{1,3} ("," [0-9]{3})+ ("." digits)?  { return SCAN_GROUPED_NUMBER; }
            "-"? digits "," [0-9]{1,2}               { return SCAN_COMMA_DECIMAL; }
            "-"? "." digits      { return SCAN_BARE_DECIMAL; }
            digits "/" digits "/" digits             { return SCAN_SLASH_DATE; }
            [0-9]{1,2} "." [0-9]{1,2} "." ([0-9]{2} | [0-9]{4})  { return SCAN_SLASH_DATE; }
            decimal (dash | apart) decimal (dash | apart) decimal  { return SCAN_ODD_GRADE; }
            decimal ("-" decimal){3,}                { return SCAN_LONG_GRADE; }
            inner+ "_" (inner | "_")*                { return SCAN_UNDERSCORE; }
            ["] (in_quote | "\\" ["\\])* "\\"        { return SCAN_BAD_ESCAPE; }
            ["] (in_quote | "\\" ["\\])*             { return SCAN_OPEN_STRING; }
            [\u201c\u201d\u201e\u00ab\u00bb]         { return SCAN_CURLY_QUOTE; }
            [\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]  { return SCAN_ODD_BLANK; }
            odd_dash             { return SCAN_ODD_DASH; }
            "\r"                 { return SCAN_LONE_RETURN; }
            hidden | control     { return SCAN_HIDDEN; }
            [^]                  { return SCAN_STRAY; }
            *                    { return SCAN_BROKEN_UTF8; }
        */
    }
}
