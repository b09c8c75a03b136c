/* The formatter's conscience: shares nothing with the code that lays the lines out. */
#include "parser/format.h"

/* Both texts are read side by side. Line ends count only where they end something. */
bool format_keeps_tokens(const struct tokens *before, const struct tokens *after)
{
    const struct tokens *texts[] = {before, after};
    size_t at[] = {0, 0};
    enum token_kind behind = TOKEN_END,
                    kinds[2] = {TOKEN_END}; /* the newest token that is neither comment nor line end */
    for (;; at[0]++, at[1]++) {
        bool ended[2] = {false};
        for (int i = 0; i < 2; i++) {
            size_t first = at[i];
            while ((kinds[i] = (enum token_kind)texts[i]->items[at[i]].kind) == TOKEN_NEWLINE)
                at[i]++;
            ended[i] = at[i] > first && behind != TOKEN_OPEN_BLOCK && behind != TOKEN_COMMA &&
                       behind != TOKEN_END && kinds[i] != TOKEN_CLOSE_BLOCK && kinds[i] != TOKEN_END;
        }
        if (ended[0] != ended[1] || kinds[0] != kinds[1] ||
            !text_equal(token_text(before, at[0]), token_text(after, at[1])))
            return false;
        if (kinds[0] == TOKEN_END)
            return true;
        if (kinds[0] != TOKEN_COMMENT)
            behind = kinds[0];
    }
}
