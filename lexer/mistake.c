/* What is no token is reported by its look: habits of other texts, with what to write instead. */
#include "lexer/lexer.h"
#include "lexer/odd_date.h"

#include <string.h>

const struct rule lexer_rules[] = {
    [RULE_CHARACTER] =
        {"character", SEVERITY_ERROR, "a character plans do not use",
         "Plans are made of words, numbers, quoted text and the marks , : / < ( ) { } #. Text pasted "
         "from elsewhere often has curly quotes, long dashes or blanks that only look like one.",
         NULL},
    [RULE_ENCODING] = {"encoding", SEVERITY_ERROR, "bytes that are not UTF-8 text",
                       "A plan is UTF-8 text. Save the file as UTF-8 without control characters.", NULL},
    [RULE_STRING] = {"string", SEVERITY_ERROR, "a quote not closed on its line, or a bad escape in it",
                     "Quoted text is on one line between two \" marks. Inside it \\\" is a quote and \\\\ a "
                     "backslash; there are no other escapes.",
                     NULL},
    [RULE_NUMBER] = {"number", SEVERITY_ERROR, "a number written in a way that could mean two things",
                     "A number has one form: digits, and a point before decimals. A comma in it would make a "
                     "thousandfold difference to somebody, so it is never accepted.",
                     NULL},
    [RULE_DATE_FORM] = {"date-form", SEVERITY_ERROR, "a date written in a way that could mean two things",
                        "Dates are written 2027-04-17, or Apr 17 and 17 Apr within the season's year.", NULL},
    [RULE_CONFLICT_MARKER] =
        {"conflict-marker", SEVERITY_ERROR, "a merge conflict marker left in the file",
         "Version control left both versions of a passage in the file. Keep one of them and "
         "delete the three marking lines.",
         NULL},
    [RULE_TOO_LONG] = {"too-long", SEVERITY_ERROR, "a word or number too long to keep exactly",
                       "Words have at most 200 bytes and numbers at most 15 digits.", NULL},
};
const size_t lexer_rule_count = sizeof lexer_rules / sizeof *lexer_rules;

static const char *here_string(const struct lexer *lexer)
{
    return text_string(lexer->arena, lexer_text(lexer));
}

/* The same text with each `from` byte replaced or, where `to` is 0, left out. */
static const char *with_byte(const struct lexer *lexer, char from, char to)
{
    char *copy = (char *)text_string(lexer->arena, lexer_text(lexer));
    char *end = copy;
    for (const char *at = copy; *at; at++)
        if (*at != from)
            *end++ = *at;
        else if (to)
            *end++ = to;
    *end = '\0';
    return copy;
}

static void offer(struct lexer *lexer, struct report *report, bool safe, const char *replacement)
{
    const char *sentence = text_format(lexer->arena, *replacement ? "write `%s`" : "delete it", replacement);
    report_fix(lexer->reports, report, safe, lexer_place(lexer), replacement, sentence);
}

/* ---- numbers and dates ---- */

/* A fix is offered only where the number can mean one thing. In a row of a spreadsheet the comma separates,
 * and the table has more to say of the row than this. Returns the kind of token it is, or TOKEN_INVALID. */
static enum token_kind complain_of_comma(struct lexer *lexer, unsigned scan)
{
    char separator = lexer_row_separator(lexer);
    if (separator == ',') {
        lexer->cursor = memchr(lexer->start, ',', lexer_text(lexer).length);
        return lexer_exact(lexer, TOKEN_NUMBER);
    }
    if (separator == ';')
        return TOKEN_MARK;
    const char *written = here_string(lexer);
    struct report *report = lexer_complain(
        lexer, RULE_NUMBER, text_format(lexer->arena, "`%s` has a comma inside the number", written));
    const struct token *last = lexer_last(lexer);
    struct text before = last ? token_text(lexer->tokens, lexer->tokens->count - 1) : (struct text){"", 0};
    bool area =
        text_is(before, "per") || text_is(before, "/"); /* per 1,000 sq ft: nobody means one with decimals */
    if (!area)
        report_note(lexer->reports, report,
                    "a comma can mean thousands or decimals; between two numbers of a list it needs a space "
                    "after it");
    bool goes_on =
        lexer->cursor < lexer->limit && *lexer->cursor >= '0' && *lexer->cursor <= '9'; /* "1000,500" */
    if (scan == SCAN_GROUPED_NUMBER && !area && strchr(written, ',') == strrchr(written, ',') &&
        !strchr(written, '.'))
        report_help(lexer->reports, report, "did you mean `%s` or `%s`?", with_byte(lexer, ',', 0),
                    with_byte(lexer, ',', '.'));
    else if (scan == SCAN_GROUPED_NUMBER)
        offer(lexer, report, false, with_byte(lexer, ',', 0));
    else if (!goes_on)
        offer(lexer, report, false, with_byte(lexer, ',', '.'));
    return TOKEN_INVALID;
}

/* "2-1/2": two and a half, as many write it; "0-1/2" is a range, whose first number is the lower one. */
static void complain_of_mixed_fraction(struct lexer *lexer)
{
    struct text text = lexer_text(lexer), whole = text, part;
    whole.length = strspn(text.start, "0123456789");
    part = (struct text){text.start + whole.length, text.length - whole.length};
    while (*part.start < '0' || *part.start > '9') {
        part.start++;
        part.length--;
    }
    struct report *report =
        lexer_complain(lexer, RULE_NUMBER,
                       text_format(lexer->arena, "`%s` has a hyphen inside the number", here_string(lexer)));
    const char *first = text_string(lexer->arena, whole), *second = text_string(lexer->arena, part);
    bool range = strcmp(first, "0") == 0;
    offer(lexer, report, false, text_format(lexer->arena, range ? "%s to %s" : "%s %s", first, second));
}

/* Its three numbers with plain hyphens between them: "14–20–10", "14 - 20 - 10", and "14/20/10" behind
 * `grade`. */
static void complain_of_grade(struct lexer *lexer, const char *sentence)
{
    struct text text = lexer_text(lexer);
    struct buffer grade = {.arena = lexer->arena};
    for (size_t i = 0; i < text.length; i++) {
        bool number = (text.start[i] >= '0' && text.start[i] <= '9') || text.start[i] == '.';
        bool before = grade.length && grade.string[grade.length - 1] != '-';
        if (number)
            buffer_add(&grade, (struct text){&text.start[i], 1});
        else if (before)
            buffer_add_string(&grade, "-");
    }
    struct report *report =
        lexer_complain(lexer, RULE_NUMBER, text_format(lexer->arena, sentence, here_string(lexer)));
    offer(lexer, report, false, buffer_string(&grade));
}

/* Three numbers are a date, but behind a word that a grade follows, or where they can be none. */
static void complain_of_three_numbers(struct lexer *lexer, unsigned scan)
{
    const char *written = here_string(lexer);
    const struct token *last = lexer_last(lexer);
    struct text before = last ? token_text(lexer->tokens, lexer->tokens->count - 1) : (struct text){"", 0};
    struct odd_date date = odd_date_read(lexer->arena, text_of(written));
    bool year = strspn(written, "0123456789") == 4;
    if (scan == SCAN_ODD_GRADE && !year) {
        complain_of_grade(lexer,
                          "`%s` is not a grade: write plain hyphens and no spaces between its numbers");
        return;
    }
    if (scan == SCAN_SLASH_DATE && (text_is(before, "grade") || text_is(before, "match"))) {
        complain_of_grade(lexer, "`%s` is not a grade: write hyphens between its numbers");
        return;
    }
    struct report *report =
        lexer_complain(lexer, RULE_DATE_FORM, text_format(lexer->arena, "`%s` is not a date", written));
    if (date.meant && date.other && !lexer->ordered) {
        struct text all = {(const char *)lexer->source->bytes, lexer->source->length};
        lexer->order = odd_dates_order(all);
        lexer->ordered = true;
    }
    if (date.meant && date.other && lexer->order) {
        bool day_first = lexer->order == DATE_ORDER_DAY_FIRST;
        report_help(lexer->reports, report, "other dates here have the %s first, so write `%s`",
                    day_first ? "day" : "month", day_first ? date.other : date.meant);
        offer(lexer, report, false, day_first ? date.other : date.meant);
        return;
    }
    if (date.meant && date.other)
        report_help(lexer->reports, report, "write `%s` if the month comes first, `%s` if the day does",
                    date.meant, date.other);
    else
        report_help(lexer->reports, report,
                    "write a date as year-month-day with two digits each for month and day, such as %s",
                    date.meant ? date.meant : "2027-04-07");
    if (date.meant && !date.other)
        offer(lexer, report, false, date.meant);
}

/* ---- quoted text ---- */

/* Bytes of another character set: what is said once holds for all of the file. */
static void complain_of_bytes(struct lexer *lexer)
{
    unsigned char first = *lexer->start;
    if (lexer->broken_bytes)
        return;
    lexer->broken_bytes = true;
    bool latin = first >= 0xa0; /* of Latin-1 the character has the byte's own number */
    char character[3] = {(char)(0xc0 | first >> 6), (char)(0x80 | (first & 0x3f)), '\0'};
    const char *sentence =
        latin ? text_format(lexer->arena, "this looks like `%s` in an older encoding (Latin-1)", character)
              : "these bytes are not UTF-8 text";
    struct report *report = lexer_complain(lexer, RULE_ENCODING, sentence);
    report_help(lexer->reports, report, "save the file again as plain text, with the encoding UTF-8");
}

/* The rest of the text, to its closing quote or the end of its line, belongs to the same mistake. */
static void complain_of_string(struct lexer *lexer, unsigned scan)
{
    const unsigned char *start = lexer->start, *at = lexer->cursor;
    bool at_end = at >= lexer->limit || *at == '\n' || *at == '\r';
    size_t length = 0;
    struct text rest = {(const char *)at, (size_t)(lexer->limit - at)};
    bool bytes = !at_end && scan == SCAN_OPEN_STRING && *at >= 0x80 &&
                 text_character(rest, 0, &length) == 0xFFFD && length == 1;
    while (at < lexer->limit && *at != '"' && *at != '\n' && *at != '\r')
        at++;
    at += at < lexer->limit && *at == '"';
    if (bytes) { /* the place is the byte, the token all of the text */
        lexer->start = lexer->cursor++;
        complain_of_bytes(lexer);
        lexer->start = start;
    }
    lexer->cursor = at;
    if (bytes)
        return;
    lexer_complain(lexer, RULE_STRING,
                   scan == SCAN_BAD_ESCAPE ? "in quoted text only \\\" and \\\\ may follow a backslash"
                   : at_end                ? "this quoted text is not closed on its line"
                                           : "this quoted text has a character that is not allowed in it");
}

/* Text between curly quotes is one mistake: it reaches to the next quotation mark of its line. */
static void complain_of_quotes(struct lexer *lexer)
{
    static const char *const marks[] = {"\"", "\u201c", "\u201d", "\u201e", "\u00ab", "\u00bb"};
    struct report *report = lexer_complain(lexer, RULE_CHARACTER, "quoted text goes between plain \" marks");
    report_fix(lexer->reports, report, true, lexer_place(lexer), "\"", "write plain \" marks");
    for (const unsigned char *at = lexer->cursor; at < lexer->limit && *at != '\n' && *at != '\r'; at++)
        for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
            size_t length = strlen(marks[i]);
            if (length > (size_t)(lexer->limit - at) || memcmp(at, marks[i], length) != 0)
                continue;
            uint32_t close = (uint32_t)(at - lexer->source->bytes);
            struct place mark = {lexer->source, close, close + (uint32_t)length};
            report_fix(lexer->reports, report, true, mark, "\"", NULL);
            report->place.end = mark.end;
            lexer->cursor = at + length;
            return;
        }
}

/* ---- characters ---- */

static const char *code_point_name(struct lexer *lexer)
{
    size_t length;
    uint32_t code_point = text_character(lexer_text(lexer), 0, &length);
    return text_format(lexer->arena, "U+%04X", (unsigned)code_point);
}

/* "sq. ft." is one mistake, though each point is in the way: two points are as many as a fix has edits. */
static void complain_of_points(struct lexer *lexer)
{
    struct report *report = lexer->shortened;
    for (size_t i = lexer->shortened_at; i < lexer->tokens->count; i++)
        if (lexer->tokens->items[i].kind == TOKEN_NEWLINE)
            report = NULL;
    bool second = report;
    if (!second)
        report = lexer_complain(lexer, RULE_CHARACTER, "an abbreviation has no period here");
    report_fix(lexer->reports, report, false, lexer_place(lexer), "", second ? NULL : "leave the point out");
    lexer->shortened = second ? NULL : report;
    lexer->shortened_at = lexer->tokens->count;
}

/* "12.4." is a day and a month without a year; any other number has no point at its end. */
static void complain_of_last_point(struct lexer *lexer, const struct token *number)
{
    struct text text = token_text(lexer->tokens, (size_t)(number - lexer->tokens->items));
    const char *written = text_string(lexer->arena, text), *day = odd_day_read(lexer->arena, text);
    bool date = strchr(written, '.') != NULL;
    struct report *report = lexer_complain(
        lexer, date ? RULE_DATE_FORM : RULE_NUMBER,
        text_format(lexer->arena, date ? "`%s.` is not a date" : "`%s.` has a point at its end", written));
    report->place.start = number->start;
    if (date)
        report_help(lexer->reports, report, "write the day and the name of the month, such as %s",
                    day ? day : "17 Apr");
    if (day)
        report_fix(lexer->reports, report, false, report->place, day,
                   text_format(lexer->arena, "write `%s`", day));
    else if (!date)
        report_fix(lexer->reports, report, false, lexer_place(lexer), "", "leave the point out");
}

/* A name is letters, digits and hyphens; one with an apostrophe in it goes between quotation marks. */
static void complain_of_apostrophe(struct lexer *lexer, const struct token *before)
{
    struct place place = lexer_place(lexer);
    const unsigned char *bytes = lexer->source->bytes;
    while (place.end < lexer->source->length &&
           ((bytes[place.end] >= 'a' && bytes[place.end] <= 'z') ||
            (bytes[place.end] >= 'A' && bytes[place.end] <= 'Z') || bytes[place.end] == '-'))
        place.end++;
    struct report *report =
        lexer_complain(lexer, RULE_CHARACTER, "a name with an apostrophe goes between \" marks");
    place.start = before->start;
    report->place = place;
    const char *quoted = text_format(lexer->arena, "\"%s\"", text_string(lexer->arena, place_text(place)));
    report_fix(lexer->reports, report, false, place, quoted, text_format(lexer->arena, "write `%s`", quoted));
    lexer->cursor = bytes + place.end;
}

/* Marks that other texts use. A dash or a sign of arithmetic between blanks is for the statement it is in. */
static enum token_kind complain_of_stray(struct lexer *lexer, unsigned scan)
{
    static const char *const bullets[] = {"-",      "*",      "+",      "\u2022", "\u00b7",
                                          "\u2013", "\u2014", "\u2010", "\u25e6", "\u25aa"};
    const char *written = here_string(lexer);
    const struct token *last = lexer_last(lexer);
    struct place place = lexer_place(lexer);
    const unsigned char *bytes = lexer->source->bytes;
    bool dash = scan == SCAN_ODD_DASH || strcmp(written, "-") == 0;
    bool apart = place.start > 0 && strchr(" \t", bytes[place.start - 1]) && bytes[place.end] &&
                 strchr(" \t", bytes[place.end]);
    bool touches = lexer_touches(lexer);
    bool word = touches && last->kind == TOKEN_WORD;
    bool block = last && (last->kind == TOKEN_WORD || last->kind == TOKEN_STRING); /* may begin here */
    const unsigned char *close = strcmp(written, "[") == 0 ? lexer->cursor : lexer->limit;
    while (close < lexer->limit && *close != ']' && *close != '\n')
        close++;
    if (block && close < lexer->limit && *close == ']') { /* "to [front, back]" */
        uint32_t end = (uint32_t)(close - bytes);
        struct place other = {lexer->source, end, end + 1};
        struct report *report = lexer_complain(lexer, RULE_CHARACTER, "a list has no brackets");
        report_fix(lexer->reports, report, false, place, "", "leave them out");
        report_fix(lexer->reports, report, false, other, "", NULL);
        report->place.end = other.end;
        lexer->cursor = close + 1;
        return TOKEN_INVALID;
    }
    bool opens = strcmp(written, "[") == 0 && block;
    if (opens || (strcmp(written, "]") == 0 && lexer->bracket)) {
        /* Brackets of the other kind open and close a block: one mistake, though each is in the way. */
        struct report *report = opens ? NULL : lexer->bracket;
        if (!report)
            report = lexer_complain(lexer, RULE_CHARACTER, "a block goes between { and }");
        report_fix(lexer->reports, report, false, place, opens ? "{" : "}", "write { and }");
        lexer->bracket = opens ? report : NULL;
        return opens ? TOKEN_OPEN_BLOCK : TOKEN_CLOSE_BLOCK;
    }
    bool begins = !last || last->kind == TOKEN_NEWLINE || last->kind == TOKEN_OPEN_BLOCK;
    bool bullet = false; /* a point before a statement, as lists have it, in whatever shape */
    for (size_t i = 0; i < sizeof bullets / sizeof *bullets && begins; i++)
        bullet = bullet || strcmp(bullets[i], written) == 0;
    if (bullet) {
        struct report *report =
            lexer_complain(lexer, RULE_CHARACTER, "a statement cannot begin with a bullet");
        const unsigned char *next = lexer->cursor;
        while (next < lexer->limit && (*next == ' ' || *next == '\t'))
            next++;
        place.end = (uint32_t)(next - bytes);
        report_fix(lexer->reports, report, false, place, "", "leave the mark out");
    } else if ((dash && (apart || (touches && last->kind == TOKEN_NUMBER))) || strcmp(written, "*") == 0 ||
               strcmp(written, "+") == 0 ||
               (last && (last->kind == TOKEN_WORD || last->kind == TOKEN_NUMBER) &&
                (strcmp(written, "@") == 0 || strcmp(written, "~") == 0))) {
        return TOKEN_MARK;
    } else if (strcmp(written, ".") == 0 && word) {
        complain_of_points(lexer);
    } else if (strcmp(written, ".") == 0 && touches && last->kind == TOKEN_NUMBER) {
        complain_of_last_point(lexer, last);
    } else if ((strcmp(written, "'") == 0 || strcmp(written, "\u2019") == 0) && word) {
        complain_of_apostrophe(lexer, last);
    } else if (strcmp(written, "^") == 0 && word) { /* "ft^2" */
        struct report *report = lexer_complain(lexer, RULE_CHARACTER, "units have no `^`");
        report_fix(lexer->reports, report, false, place, "", "leave it out");
    } else if (scan == SCAN_ODD_DASH) {
        struct report *report =
            lexer_complain(lexer, RULE_CHARACTER,
                           text_format(lexer->arena, "%s only looks like a hyphen", code_point_name(lexer)));
        offer(lexer, report, false, "-");
    } else {
        lexer_complain(lexer, RULE_CHARACTER, text_format(lexer->arena, "`%s` has no meaning here", written));
    }
    return TOKEN_INVALID;
}

/* ---- the mistakes ---- */

/* Reports it and returns the kind of token that stands for it. */
static enum token_kind complain(struct lexer *lexer, unsigned scan)
{
    struct report *report;
    switch (scan) {
    case SCAN_CONFLICT_MARKER:
        /* all of its line, or up to a byte that is none of a character */
        for (size_t length;
             lexer->cursor < lexer->limit && *lexer->cursor != '\r' && *lexer->cursor != '\n';) {
            struct text rest = {(const char *)lexer->cursor, (size_t)(lexer->limit - lexer->cursor)};
            if (text_character(rest, 0, &length) == 0xFFFD && length == 1)
                break;
            lexer->cursor += length;
        }
        lexer_complain(lexer, RULE_CONFLICT_MARKER, "a merge was left unfinished here");
        break;
    case SCAN_GROUPED_NUMBER:
    case SCAN_COMMA_DECIMAL:
        return complain_of_comma(lexer, scan);
    case SCAN_BARE_DECIMAL: {
        const char *written = here_string(lexer);
        report = lexer_complain(lexer, RULE_NUMBER,
                                text_format(lexer->arena, "`%s` has no digit before its point", written));
        offer(lexer, report, true,
              text_format(lexer->arena, "%s0%s", *written == '-' ? "-" : "", strchr(written, '.')));
        break;
    }
    case SCAN_MIXED_FRACTION:
        complain_of_mixed_fraction(lexer);
        break;
    case SCAN_SLASH_DATE:
    case SCAN_ODD_DATE:
    case SCAN_ODD_GRADE:
        complain_of_three_numbers(lexer, scan);
        break;
    case SCAN_LONG_GRADE:
        lexer_complain(lexer, RULE_NUMBER, "a grade has three numbers: N-P2O5-K2O")->help =
            "state further nutrients with `contains`, such as `contains S 4%`";
        break;
    case SCAN_UNDERSCORE:
        offer(lexer, lexer_complain(lexer, RULE_CHARACTER, "names have hyphens, not underscores"), false,
              with_byte(lexer, '_', '-'));
        break;
    case SCAN_BAD_ESCAPE:
    case SCAN_OPEN_STRING:
        complain_of_string(lexer, scan);
        break;
    case SCAN_CURLY_QUOTE:
        complain_of_quotes(lexer);
        break;
    case SCAN_ODD_BLANK:
        offer(lexer,
              lexer_complain(lexer, RULE_CHARACTER,
                             text_format(lexer->arena, "%s only looks like a space", code_point_name(lexer))),
              true, " ");
        break;
    case SCAN_LONE_RETURN: /* where one line ends so, every line does: it is said once, and they are read as
                              such */
        if (!lexer->lone_return)
            lexer_complain(lexer, RULE_CHARACTER, "this line ends in a carriage return without a line feed")
                ->help = "save the file with Unix or Windows line ends";
        lexer->lone_return = true;
        return TOKEN_NEWLINE;
    case SCAN_HIDDEN:
        lexer_complain(lexer, RULE_CHARACTER,
                       text_format(lexer->arena, "the control character %s is not allowed in a plan",
                                   code_point_name(lexer)));
        break;
    case SCAN_BROKEN_UTF8:
        complain_of_bytes(lexer);
        break;
    default: /* SCAN_ODD_DASH, SCAN_STRAY */
        return complain_of_stray(lexer, scan);
    }
    return TOKEN_INVALID;
}

/* Wrong characters side by side are one mistake; what may not be in a comment cuts it short, and the rest of
 * its line is still comment. */
void lexer_take_mistake(struct lexer *lexer, unsigned scan)
{
    bool bytes = scan == SCAN_BROKEN_UTF8 || scan == SCAN_HIDDEN, again = scan == lexer->previous;
    enum token_kind before = lexer_touches(lexer) ? (enum token_kind)lexer_last(lexer)->kind : TOKEN_END;
    if (bytes && before == TOKEN_COMMENT) {
        complain(lexer, scan);
        while (lexer->cursor < lexer->limit && *lexer->cursor != '\n' && *lexer->cursor != '\r')
            lexer->cursor++;
    } else if (!((bytes || scan == SCAN_STRAY) && again && before == TOKEN_INVALID)) {
        lexer_add(lexer, complain(lexer, scan));
        return;
    }
    lexer->tokens->items[lexer->tokens->count - 1].end =
        lexer_place(lexer).end & ((1u << TOKEN_END_BITS) - 1);
}
