/* The formatter's conscience: shares nothing with the code that lays the lines out. */
#include "parser/format.h"

struct reader {
    const struct tokens *tokens;
    size_t at;
    enum token_kind
        before; /* the newest token that is neither comment nor line end; the end where there is none */
};

static enum token_kind kind_here(const struct reader *reader)
{
    return (enum token_kind)reader->tokens->items[reader->at].kind;
}

/* Steps over line ends; returns whether they ended something. */
static bool skip_line_ends(struct reader *reader)
{
    bool any = false;
    for (; kind_here(reader) == TOKEN_NEWLINE; reader->at++)
        any = true;
    return any && reader->before != TOKEN_OPEN_BLOCK && reader->before != TOKEN_COMMA &&
           reader->before != TOKEN_END && kind_here(reader) != TOKEN_CLOSE_BLOCK &&
           kind_here(reader) != TOKEN_END;
}

static void step(struct reader *reader)
{
    if (kind_here(reader) != TOKEN_COMMENT)
        reader->before = kind_here(reader);
    reader->at++;
}

bool format_keeps_tokens(const struct tokens *before, const struct tokens *after)
{
    struct reader a = {before, 0, TOKEN_END}, b = {after, 0, TOKEN_END};
    for (;;) {
        if (skip_line_ends(&a) != skip_line_ends(&b))
            return false;
        if (kind_here(&a) != kind_here(&b) || !text_equal(token_text(before, a.at), token_text(after, b.at)))
            return false;
        if (kind_here(&a) == TOKEN_END)
            return true;
        step(&a);
        step(&b);
    }
}
