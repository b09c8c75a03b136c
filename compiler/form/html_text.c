#include "compiler/form/html_text.h"

#include "compiler/form/terminal_text.h"
#include "compiler/model/date.h"

#include <string.h>

/* Sources: HTML Living Standard, section 13.1.2.3 (what may not stand in an attribute between double quotes)
 * and 13.1.3 (in text); all five are written out everywhere, so that no context can be mistaken. */
void html_escape(struct buffer *out, struct text text)
{
    static const char *const entities[128] = {
        ['&'] = "&amp;", ['<'] = "&lt;", ['>'] = "&gt;", ['"'] = "&quot;", ['\''] = "&#39;", ['\t'] = " "};
    for (size_t at = 0; at < text.length;) {
        struct shown_character shown = character_shown(text, at, 0);
        unsigned char byte = (unsigned char)text.start[at];
        const char *entity = byte < sizeof entities / sizeof *entities ? entities[byte] : NULL;
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

/* Bytes of the day that begins at `at`, "2027-04-17": 0 where none does, or where it is part of a word. */
static size_t day_length(const char *text, const char *at)
{
    enum { LENGTH = 10 };
    struct civil_date date;
    struct text day = {at, strspn(at, "0123456789-")};
    bool alone = day.length == LENGTH && (at == text || strchr(" (", at[-1])) && strchr(" ,.;:)", at[LENGTH]);
    return alone && date_of_text(day, &date) ? LENGTH : 0; /* strchr finds the end, too */
}

/* A backtick without a second one is a backtick. A day is an element of its own, so that it stays on one
 * line. */
void html_sentence(struct buffer *out, const char *text)
{
    for (const char *start = text; *text;) {
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
        } else if ((length = day_length(start, text)) != 0) {
            buffer_add_string(out, "<time>");
            html_escape(out, (struct text){text, length});
            buffer_add_string(out, "</time>");
        } else {
            length = 1 + strcspn(text + 1, "`h0123456789"); /* an address, code or a day may begin there */
            html_escape(out, (struct text){text, length});
        }
        text += length;
    }
}
