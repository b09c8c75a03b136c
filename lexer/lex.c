#include "lexer/odd_date.h"
#include "lexer/scan.h"
#include "lexer/token.h"

#include <assert.h>
#include <string.h>

enum {
    RULE_CHARACTER,
    RULE_ENCODING,
    RULE_STRING,
    RULE_NUMBER,
    RULE_DATE_FORM,
    RULE_CONFLICT_MARKER,
    RULE_TOO_LONG,
};

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

struct lexer {
    struct scanner scanner;
    const struct source *source;
    struct arena *arena;
    struct reports *reports;
    struct tokens *tokens;
    bool lone_return;         /* one was reported */
    struct report *shortened; /* of a word with a point in this line, to which a second one belongs; NULL */
};

static struct place place_here(const struct lexer *lexer)
{
    return (struct place){lexer->source, (uint32_t)(lexer->scanner.start - lexer->source->bytes),
                          (uint32_t)(lexer->scanner.cursor - lexer->source->bytes)};
}

static void add_token(struct lexer *lexer, enum token_kind kind)
{
    struct place place = place_here(lexer);
    struct token token = {place.start, place.end, kind};
    VECTOR_PUSH(lexer->arena, lexer->tokens, token);
    if (kind == TOKEN_NEWLINE)
        lexer->shortened = NULL;
}

static struct text here_text(const struct lexer *lexer)
{
    return (struct text){(const char *)lexer->scanner.start,
                         (size_t)(lexer->scanner.cursor - lexer->scanner.start)};
}

static const char *here_string(const struct lexer *lexer)
{
    return text_string(lexer->arena, here_text(lexer));
}

static struct report *complain(struct lexer *lexer, int rule, const char *sentence)
{
    return report_add(lexer->reports, &lexer_rules[rule], place_here(lexer), "%s", sentence);
}

static void skip_line(struct lexer *lexer)
{
    struct scanner *scanner = &lexer->scanner;
    while (scanner->cursor < scanner->limit && *scanner->cursor != '\n' && *scanner->cursor != '\r')
        scanner->cursor++;
}

/* The same text with each `from` byte replaced or, where `to` is 0, left out. */
static const char *with_byte(const struct lexer *lexer, char from, char to)
{
    char *copy = (char *)text_string(lexer->arena, here_text(lexer));
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
    report_fix(lexer->reports, report, safe, place_here(lexer), replacement, sentence);
}

static void complain_of_range(struct lexer *lexer)
{
    const char *written = here_string(lexer);
    const char *dash = strchr(written, '-');
    struct report *report =
        complain(lexer, RULE_NUMBER, text_format(lexer->arena, "`%s` is not a number", written));
    struct text low = {written, (size_t)(dash - written)}, high = text_of(dash + 1);
    if (token_number(low) <= token_number(high))
        offer(lexer, report, false,
              text_format(lexer->arena, "%.*s to %s", (int)low.length, low.start, high.start));
    report_note(lexer->reports, report, "a range is written with `to`, a grade with three numbers: 10-0-10");
}

/* A fix is offered only where the number can mean one thing. */
static void complain_of_number(struct lexer *lexer, enum scan scan)
{
    const char *written = here_string(lexer);
    struct report *report;
    if (scan == SCAN_BARE_DECIMAL) {
        report = complain(lexer, RULE_NUMBER,
                          text_format(lexer->arena, "`%s` has no digit before its point", written));
        const char *point = strchr(written, '.');
        offer(lexer, report, true, text_format(lexer->arena, "%s0%s", *written == '-' ? "-" : "", point));
        return;
    }
    report = complain(lexer, RULE_NUMBER,
                      text_format(lexer->arena, "`%s` has a comma inside the number", written));
    report_note(
        lexer->reports, report,
        "a comma can mean thousands or decimals; between two numbers of a list it needs a space after it");
    bool goes_on = lexer->scanner.cursor < lexer->scanner.limit && *lexer->scanner.cursor >= '0' &&
                   *lexer->scanner.cursor <= '9'; /* "1000,500" */
    if (scan == SCAN_GROUPED_NUMBER && strchr(written, ',') == strrchr(written, ',') && !strchr(written, '.'))
        report->help = text_format(lexer->arena, "did you mean `%s` or `%s`?", with_byte(lexer, ',', 0),
                                   with_byte(lexer, ',', '.'));
    else if (scan == SCAN_GROUPED_NUMBER)
        offer(lexer, report, false, with_byte(lexer, ',', 0));
    else if (!goes_on)
        offer(lexer, report, false, with_byte(lexer, ',', '.'));
}

/* The rest of the text, to its closing quote or the end of its line, belongs to the same mistake. */
static void complain_of_string(struct lexer *lexer, enum scan scan)
{
    struct scanner *scanner = &lexer->scanner;
    bool at_end = scanner->cursor >= scanner->limit || *scanner->cursor == '\n' || *scanner->cursor == '\r';
    const char *sentence = "this quoted text is not closed on its line";
    if (scan == SCAN_BAD_ESCAPE)
        sentence = "in quoted text only \\\" and \\\\ may follow a backslash";
    else if (!at_end)
        sentence = "this quoted text has a character that is not allowed in it";
    while (scanner->cursor < scanner->limit && *scanner->cursor != '"' && *scanner->cursor != '\n' &&
           *scanner->cursor != '\r')
        scanner->cursor++;
    if (scanner->cursor < scanner->limit && *scanner->cursor == '"')
        scanner->cursor++;
    complain(lexer, RULE_STRING, sentence);
}

static const char *code_point_name(struct lexer *lexer)
{
    size_t length;
    uint32_t code_point = text_character(here_text(lexer), 0, &length);
    return text_format(lexer->arena, "U+%04X", (unsigned)code_point);
}

/* A run of broken or hidden bytes is one mistake, not one for each byte. Returns true when joined. */
static bool join_previous(struct lexer *lexer, enum scan scan, enum scan previous)
{
    struct tokens *tokens = lexer->tokens;
    if (scan != previous || !tokens->count)
        return false;
    struct token *last = &tokens->items[tokens->count - 1];
    if (last->kind != TOKEN_INVALID || last->end != place_here(lexer).start)
        return false;
    last->end = place_here(lexer).end;
    return true;
}

static const struct token *last_token(const struct tokens *tokens)
{
    return tokens->count ? &tokens->items[tokens->count - 1] : NULL;
}

/* What may not stand in a comment cuts it short; the rest of its line is still comment. */
static bool follows_comment(const struct lexer *lexer)
{
    const struct token *last = last_token(lexer->tokens);
    return last && last->kind == TOKEN_COMMENT && last->end == place_here(lexer).start;
}

static void finish_comment(struct lexer *lexer)
{
    skip_line(lexer);
    lexer->tokens->items[lexer->tokens->count - 1].end = place_here(lexer).end;
}

/* The bytes of a quotation mark, plain or curly, at `at`; 0 where none stands. */
static size_t quote_length(const unsigned char *at, const unsigned char *limit)
{
    static const char *const marks[] = {"\"", "\u201c", "\u201d", "\u201e", "\u00ab", "\u00bb"};
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
        size_t length = strlen(marks[i]);
        if (length <= (size_t)(limit - at) && !memcmp(at, marks[i], length))
            return length;
    }
    return 0;
}

/* Text between curly quotes is one mistake: it reaches to the next quotation mark of its line. */
static void complain_of_quotes(struct lexer *lexer)
{
    struct scanner *scanner = &lexer->scanner;
    struct report *report = complain(lexer, RULE_CHARACTER, "quoted text goes between plain \" marks");
    report_fix(lexer->reports, report, true, place_here(lexer), "\"", "write plain \" marks");
    const unsigned char *at = scanner->cursor;
    size_t length = 0;
    while (at < scanner->limit && *at != '\n' && *at != '\r' && !(length = quote_length(at, scanner->limit)))
        at++;
    if (!length)
        return;
    uint32_t close = (uint32_t)(at - lexer->source->bytes);
    struct place mark = {lexer->source, close, close + (uint32_t)length};
    report_fix(lexer->reports, report, true, mark, "\"", NULL);
    report->place.end = mark.end;
    scanner->cursor = at + length;
}

/* Where one line ends so, every line does: it is said once, and the lines are read as such. */
static void complain_of_return(struct lexer *lexer)
{
    if (!lexer->lone_return)
        complain(lexer, RULE_CHARACTER, "this line ends in a carriage return without a line feed")->help =
            "save the file with Unix or Windows line ends";
    lexer->lone_return = true;
}

static bool is_currency(const char *character)
{
    return *character && strstr("$ \u00A3 \u00A5 \u20AC", character);
}

static bool stands_apart(const struct lexer *lexer)
{
    const struct source *source = lexer->source;
    struct place place = place_here(lexer);
    return place.start > 0 && source->bytes[place.start - 1] == ' ' && place.end < source->length &&
           source->bytes[place.end] == ' ';
}

/* What stands for a dash between two values: `between Apr 10 and Apr 30`, else `to`. */
static void offer_to(struct lexer *lexer, struct report *report)
{
    const struct tokens *tokens = lexer->tokens;
    bool between = false;
    for (size_t i = tokens->count; i > 0 && tokens->items[i - 1].kind != TOKEN_NEWLINE; i--)
        between = between || text_is(token_text(tokens, i - 1), "between");
    report->help = between ? "a range after `between` is written with `and`" : "a range is written with `to`";
    offer(lexer, report, false, between ? "and" : "to");
}

/* "sq. ft." is one mistake, though each point is in the way: two points are as many as a fix has edits. */
static void complain_of_points(struct lexer *lexer)
{
    struct report *report = lexer->shortened;
    if (!report)
        report = complain(lexer, RULE_CHARACTER, "a word cannot be shortened with a point");
    report_fix(lexer->reports, report, false, place_here(lexer), "",
               lexer->shortened ? NULL : "leave the point out");
    lexer->shortened = lexer->shortened ? NULL : report;
}

/* Marks that other texts use: a currency, the point of a shortened word, a dash for "to". */
static void complain_of_stray(struct lexer *lexer)
{
    const char *written = here_string(lexer);
    const struct token *last = last_token(lexer->tokens);
    if (strcmp(written, ".") == 0 && last && last->kind == TOKEN_WORD &&
        last->end == place_here(lexer).start) {
        complain_of_points(lexer);
        return;
    }
    struct report *report =
        complain(lexer, RULE_CHARACTER, text_format(lexer->arena, "`%s` has no meaning here", written));
    if (is_currency(written))
        report->help = "a price is a number alone, such as: at 31.00";
    if (strcmp(written, "-") == 0 && stands_apart(lexer))
        offer_to(lexer, report);
}

/* What only looks like a mark of the language is replaced by that mark; nothing else is guessed. */
static void complain_of_character(struct lexer *lexer, enum scan scan)
{
    struct report *report;
    switch ((int)scan) {
    case SCAN_CURLY_QUOTE:
        complain_of_quotes(lexer);
        break;
    case SCAN_ODD_BLANK:
        report = complain(lexer, RULE_CHARACTER,
                          text_format(lexer->arena, "%s only looks like a space", code_point_name(lexer)));
        offer(lexer, report, true, " ");
        break;
    case SCAN_ODD_DASH:
        report = complain(lexer, RULE_CHARACTER,
                          text_format(lexer->arena, "%s only looks like a hyphen", code_point_name(lexer)));
        if (stands_apart(lexer))
            offer_to(lexer, report);
        else
            offer(lexer, report, false, "-");
        break;
    case SCAN_UNDERSCORE:
        report = complain(lexer, RULE_CHARACTER, "names have hyphens, not underscores");
        offer(lexer, report, false, with_byte(lexer, '_', '-'));
        break;
    case SCAN_HIDDEN:
        complain(lexer, RULE_CHARACTER,
                 text_format(lexer->arena, "the control character %s is not allowed in a plan",
                             code_point_name(lexer)));
        break;
    default:
        complain_of_stray(lexer);
        break;
    }
}

static void complain_of_date(struct lexer *lexer)
{
    const char *written = here_string(lexer);
    struct report *report =
        complain(lexer, RULE_DATE_FORM, text_format(lexer->arena, "`%s` is not a date", written));
    struct odd_date date = odd_date_read(lexer->arena, text_of(written));
    report->help =
        date.other
            ? text_format(lexer->arena, "write `%s` if the month comes first, `%s` if the day does",
                          date.meant, date.other)
            : "write a date as year-month-day with two digits each for month and day, such as 2027-04-07";
    if (date.meant && !date.other)
        offer(lexer, report, false, date.meant);
}

/* Wrong characters side by side are one mistake. */
static void take_mistake(struct lexer *lexer, enum scan scan, enum scan previous)
{
    bool bytes = scan == SCAN_BROKEN_UTF8 || scan == SCAN_HIDDEN;
    bool in_comment = bytes && follows_comment(lexer);
    if (!in_comment && (bytes || scan == SCAN_STRAY) && join_previous(lexer, scan, previous))
        return;
    if (scan == SCAN_CONFLICT_MARKER)
        complain(lexer, RULE_CONFLICT_MARKER, "a merge was left unfinished here");
    else if (scan == SCAN_GROUPED_NUMBER || scan == SCAN_COMMA_DECIMAL || scan == SCAN_BARE_DECIMAL)
        complain_of_number(lexer, scan);
    else if (scan == SCAN_DASH_RANGE)
        complain_of_range(lexer);
    else if (scan == SCAN_SLASH_DATE || scan == SCAN_ODD_DATE)
        complain_of_date(lexer);
    else if (scan == SCAN_LONE_RETURN)
        complain_of_return(lexer);
    else if (scan == SCAN_LONG_GRADE)
        complain(lexer, RULE_NUMBER, "a grade has three numbers: N-P2O5-K2O")->help =
            "state further nutrients with `contains`, such as `contains S 4%`";
    else if (scan == SCAN_OPEN_STRING || scan == SCAN_BAD_ESCAPE)
        complain_of_string(lexer, scan);
    else if (scan == SCAN_BROKEN_UTF8)
        complain(lexer, RULE_ENCODING, "these bytes are not UTF-8 text");
    else
        complain_of_character(lexer, scan);
    if (in_comment)
        finish_comment(lexer);
    else
        add_token(lexer, scan == SCAN_LONE_RETURN ? TOKEN_NEWLINE : TOKEN_INVALID);
}

/* Zeros before the first other digit of the whole part say nothing; every other digit counts. */
static size_t digit_count(struct text text)
{
    size_t count = 0;
    bool leading = true;
    for (size_t i = 0; i < text.length; i++) {
        char character = text.start[i];
        leading = leading && (character == '0' || character == '-');
        count += !leading && character >= '0' && character <= '9';
    }
    return count;
}

/* What could not be kept exactly is no token: a number cut off would be another number. */
static void take_token(struct lexer *lexer, enum scan scan)
{
    static const uint8_t kinds[SCAN_CONFLICT_MARKER] = {
        [SCAN_END] = TOKEN_END,
        [SCAN_WORD] = TOKEN_WORD,
        [SCAN_STRING] = TOKEN_STRING,
        [SCAN_NUMBER] = TOKEN_NUMBER,
        [SCAN_PERCENT] = TOKEN_PERCENT,
        [SCAN_DATE] = TOKEN_DATE,
        [SCAN_GRADE] = TOKEN_GRADE,
        [SCAN_CLOCK] = TOKEN_CLOCK,
        [SCAN_COMMA] = TOKEN_COMMA,
        [SCAN_COLON] = TOKEN_COLON,
        [SCAN_SLASH] = TOKEN_SLASH,
        [SCAN_LESS] = TOKEN_LESS,
        [SCAN_MORE] = TOKEN_MORE,
        [SCAN_OPEN_BLOCK] = TOKEN_OPEN_BLOCK,
        [SCAN_CLOSE_BLOCK] = TOKEN_CLOSE_BLOCK,
        [SCAN_OPEN_GROUP] = TOKEN_OPEN_GROUP,
        [SCAN_CLOSE_GROUP] = TOKEN_CLOSE_GROUP,
        [SCAN_NEWLINE] = TOKEN_NEWLINE,
        [SCAN_COMMENT] = TOKEN_COMMENT,
    };
    struct text text = here_text(lexer);
    if (scan == SCAN_WORD && text.length > WORD_LIMIT) {
        complain(lexer, RULE_TOO_LONG, "this word is longer than 200 bytes");
        add_token(lexer, TOKEN_INVALID);
    } else if ((scan == SCAN_NUMBER || scan == SCAN_PERCENT || scan == SCAN_GRADE) &&
               digit_count(text) > DIGIT_LIMIT) {
        complain(lexer, RULE_TOO_LONG, "this number has more than 15 digits");
        add_token(lexer, TOKEN_INVALID);
    } else {
        add_token(lexer, kinds[scan]);
    }
}

/* A mark at the start tells UTF-16, in which every second byte would be a mistake of its own. */
static bool is_utf16(const struct source *source)
{
    const unsigned char *bytes = source->bytes;
    return source->length >= 2 &&
           ((bytes[0] == 0xff && bytes[1] == 0xfe) || (bytes[0] == 0xfe && bytes[1] == 0xff));
}

static void take_utf16(struct lexer *lexer)
{
    complain(lexer, RULE_ENCODING, "this file is UTF-16 text")->help = "save it as UTF-8";
    lexer->scanner.cursor = lexer->scanner.limit;
    add_token(lexer, TOKEN_INVALID);
}

/* Plans have a token for four or five of their bytes, so that the vector hardly ever grows. */
enum { BYTES_PER_TOKEN = 3 };

/* A byte order mark is passed over; every other byte is part of a token, a blank or a report. */
void lex_source(const struct source *source, struct arena *arena, struct reports *reports,
                struct tokens *tokens)
{
    const unsigned char *bytes = source->bytes;
    uint32_t skip = source->length >= 3 && !memcmp(bytes, "\xef\xbb\xbf", 3) ? 3 : 0;
    struct lexer lexer = {
        .scanner = {bytes + skip, bytes + skip, bytes + source->length},
        .source = source,
        .arena = arena,
        .reports = reports,
        .tokens = tokens,
    };
    size_t capacity = source->length / BYTES_PER_TOKEN + 16;
    *tokens = (struct tokens){
        .source = source, .items = ARENA_ARRAY(arena, capacity, struct token), .capacity = capacity};
    if (is_utf16(source))
        take_utf16(&lexer);
    enum scan scan, previous = SCAN_END;
    do {
        scan = scan_token(&lexer.scanner);
        assert(scan == SCAN_END || lexer.scanner.cursor > lexer.scanner.start);
        if (scan >= SCAN_CONFLICT_MARKER)
            take_mistake(&lexer, scan, previous);
        else
            take_token(&lexer, scan);
        previous = scan;
    } while (scan != SCAN_END);
}
