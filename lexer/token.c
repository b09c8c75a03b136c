#include "lexer/token.h"

static const char *const descriptions[TOKEN_KIND_COUNT] = {
    [TOKEN_END] = "the end of the file",
    [TOKEN_WORD] = "a word",
    [TOKEN_STRING] = "quoted text",
    [TOKEN_NUMBER] = "a number",
    [TOKEN_PERCENT] = "a percentage",
    [TOKEN_DATE] = "a date",
    [TOKEN_GRADE] = "a grade",
    [TOKEN_CLOCK] = "a time of day",
    [TOKEN_RANGE] = "a range",
    [TOKEN_COMMA] = "`,`",
    [TOKEN_COLON] = "`:`",
    [TOKEN_SLASH] = "`/`",
    [TOKEN_LESS] = "`<`",
    [TOKEN_MORE] = "`>`",
    [TOKEN_MARK] = "a mark",
    [TOKEN_OPEN_BLOCK] = "`{`",
    [TOKEN_CLOSE_BLOCK] = "`}`",
    [TOKEN_OPEN_GROUP] = "`(`",
    [TOKEN_CLOSE_GROUP] = "`)`",
    [TOKEN_NEWLINE] = "the end of the line",
    [TOKEN_COMMENT] = "a comment",
    [TOKEN_INVALID] = "something that is not part of the language",
};

const char *token_description(enum token_kind kind)
{
    return descriptions[kind];
}
