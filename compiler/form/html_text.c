#include "compiler/form/html_text.h"

#include "compiler/form/terminal_text.h"

#include <string.h>

/* Sources: HTML Living Standard, section 13.1.2.3 (what may not stand in an attribute between double quotes)
 * and 13.1.3 (in text); all five are written out everywhere, so that no context can be mistaken. */
static const char *entity_of(char character)
{
    switch (character) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    }
    return NULL;
}

void html_escape(struct buffer *out, struct text text)
{
    for (size_t at = 0; at < text.length;) {
        struct shown_character shown = character_shown(text, at, 0);
        const char *entity = text.start[at] == '\t' ? " " : entity_of(text.start[at]);
        buffer_add_string(out, entity ? entity : shown.string);
        at += shown.taken;
    }
}

/* Bytes of the address that `text` begins with; 0 where it begins with none. The marks of the sentence around
 * it are not part of it. */
static size_t address_length(const char *text)
{
    if (strncmp(text, "https://", 8) != 0 && strncmp(text, "http://", 7) != 0)
        return 0;
    size_t length = strcspn(text, " \t\r\n\"'<>`");
    while (strchr(".,;:)", text[length - 1]))
        length--;
    return length;
}

/* A backtick without a second one is a backtick. */
void html_sentence(struct buffer *out, const char *text)
{
    while (*text) {
        size_t length = address_length(text);
        const char *end = *text == '`' ? strchr(text + 1, '`') : NULL;
        struct text code = {text + 1, end ? (size_t)(end - text) - 1 : 0};
        if (length) {
            buffer_add_string(out, "<a href=\"");
            html_escape(out, (struct text){text, length});
            buffer_add_string(out, "\">");
            html_escape(out, (struct text){text, length});
            buffer_add_string(out, "</a>");
        } else if (end) {
            length = code.length + 2;
            buffer_add_string(out, "<code>");
            html_escape(out, code);
            buffer_add_string(out, "</code>");
        } else {
            length = 1 + strcspn(text + 1, "`h"); /* an address or code may begin there */
            html_escape(out, (struct text){text, length});
        }
        text += length;
    }
}
