/* The formatter's conscience: shares nothing with the code that lays the lines out. */
#include "parser/format.h"

struct reader {
    const struct tokens *tokens;
    size_t at;
};

static enum token_kind kind_at(const struct tokens *tokens, size_t index)
{
    return (enum token_kind)tokens->items[index].kind;
}

/* The last token before `index` that is neither a comment nor a line end. The end of the source stands for
 * none. */
static enum token_kind kind_before(const struct tokens *tokens, size_t index)
{
    while (index-- > 0)
        if (kind_at(tokens, index) != TOKEN_NEWLINE && kind_at(tokens, index) != TOKEN_COMMENT)
            return kind_at(tokens, index);
    return TOKEN_END;
}

/* Steps over line ends; returns whether one of them ended something. */
static bool skip_line_ends(struct reader *reader)
{
    size_t start = reader->at;
    while (kind_at(reader->tokens, reader->at) == TOKEN_NEWLINE)
        reader->at++;
    if (reader->at == start)
        return false;
    enum token_kind before = kind_before(reader->tokens, start), after = kind_at(reader->tokens, reader->at);
    return before != TOKEN_OPEN_BLOCK && before != TOKEN_COMMA && before != TOKEN_END &&
           after != TOKEN_CLOSE_BLOCK && after != TOKEN_END;
}

bool format_keeps_tokens(const struct tokens *before, const struct tokens *after)
{
    struct reader a = {before, 0}, b = {after, 0};
    for (;; a.at++, b.at++) {
        if (skip_line_ends(&a) != skip_line_ends(&b))
            return false;
        if (kind_at(before, a.at) != kind_at(after, b.at) ||
            !text_equal(token_text(before, a.at), token_text(after, b.at)))
            return false;
        if (kind_at(before, a.at) == TOKEN_END)
            return true;
    }
}
