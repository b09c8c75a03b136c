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
        size_t plain = plain_length(text, at), length = 0; /* what stays as it is, in one piece */
        while (length < plain && !entities[(unsigned char)text.start[at + length]])
            length++;
        buffer_add(out, (struct text){text.start + at, length});
        at += length;
        if (at == text.length)
            break;
        struct shown_character shown = character_shown(text, at, 0);
        unsigned char byte = (unsigned char)text.start[at];
        const char *entity = byte < sizeof entities / sizeof *entities ? entities[byte] : NULL;
        buffer_add_string(out, entity ? entity : shown.string);
        at += shown.taken;
    }
}

/* An address is a link, without the marks of the sentence around it; what is between two backticks is code,
 * and a backtick without a second one is a backtick. A day that is not part of a word, "2027-04-17", is an
 * element of its own, so that it stays on one line. */
void html_sentence(struct buffer *out, const char *text)
{
    enum { DAY_LENGTH = 10 };
    for (const char *start = text; *text;) {
        const char *end = *text == '`' ? strchr(text + 1, '`') : NULL, *element = NULL;
        struct civil_date date;
        struct text shown = {text, 1 + strcspn(text + 1, "`h0123456789")}; /* one of them may begin there */
        struct text day = {text, strspn(text, "0123456789-")};
        size_t taken = shown.length;
        if (strncmp(text, "https://", 8) == 0 || strncmp(text, "http://", 7) == 0) {
            for (taken = strcspn(text, " \t\r\n\"'<>`"); strchr(".,;:)", text[taken - 1]);)
                taken--;
            shown.length = taken;
            element = "a";
            buffer_add_string(out, "<a href=\"");
            html_escape(out, shown);
            buffer_add_string(out, "\">");
        } else if (end) {
            shown = (struct text){text + 1, (size_t)(end - text) - 1};
            taken = shown.length + 2;
            element = "code";
        } else if (day.length == DAY_LENGTH && (text == start || strchr(" (", text[-1])) &&
                   strchr(" ,.;:)", text[DAY_LENGTH]) && /* the end, too */
                   date_of_text(day, &date)) {
            shown = day;
            taken = DAY_LENGTH;
            element = "time";
        }
        if (element && *element != 'a')
            buffer_format(out, "<%s>", element);
        html_escape(out, shown);
        if (element)
            buffer_format(out, "</%s>", element);
        text += taken;
    }
}
