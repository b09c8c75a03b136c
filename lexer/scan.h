/* The re2c scanner's door; only lex.c goes through it. */
#ifndef PRILL_LEXER_SCAN_H
#define PRILL_LEXER_SCAN_H

struct scanner {
    const unsigned char *start;  /* of the newest token */
    const unsigned char *cursor; /* its end */
    const unsigned char *limit;  /* end of the source, where a NUL stands */
};

enum scan {
    SCAN_END,
    SCAN_WORD,
    SCAN_STRING,
    SCAN_NUMBER,
    SCAN_PERCENT,
    SCAN_DATE,
    SCAN_GRADE,
    SCAN_RANGE,
    SCAN_CLOCK,
    SCAN_COMMA,
    SCAN_COLON,
    SCAN_SLASH,
    SCAN_LESS,
    SCAN_MORE,
    SCAN_MARK,
    SCAN_OPEN_BLOCK,
    SCAN_CLOSE_BLOCK,
    SCAN_OPEN_GROUP,
    SCAN_CLOSE_GROUP,
    SCAN_NEWLINE,
    SCAN_COMMENT,
    /* from here on: no token, but a mistake known by its look */
    SCAN_CONFLICT_MARKER,
    SCAN_GROUPED_NUMBER,
    SCAN_COMMA_DECIMAL,
    SCAN_BARE_DECIMAL,
    SCAN_MIXED_FRACTION,
    SCAN_SLASH_DATE,
    SCAN_ODD_GRADE,
    SCAN_ODD_DATE,
    SCAN_LONG_GRADE,
    SCAN_UNDERSCORE,
    SCAN_BAD_ESCAPE,
    SCAN_OPEN_STRING,
    SCAN_CURLY_QUOTE,
    SCAN_ODD_BLANK,
    SCAN_ODD_DASH,
    SCAN_LONE_RETURN,
    SCAN_HIDDEN,
    SCAN_STRAY,
    SCAN_BROKEN_UTF8,
    SCAN_COUNT
};

enum scan scan_token(struct scanner *scanner);

#endif
