#include "tests/unit/lexed_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const char *const letters[TOKEN_KIND_COUNT] = {
    [TOKEN_END] = "end",     [TOKEN_WORD] = "w",       [TOKEN_STRING] = "s",    [TOKEN_NUMBER] = "n",
    [TOKEN_PERCENT] = "p",   [TOKEN_DATE] = "d",       [TOKEN_GRADE] = "g",     [TOKEN_CLOCK] = "c",
    [TOKEN_COMMA] = "",      [TOKEN_COLON] = "",       [TOKEN_SLASH] = "",      [TOKEN_LESS] = "",
    [TOKEN_OPEN_BLOCK] = "", [TOKEN_CLOSE_BLOCK] = "", [TOKEN_OPEN_GROUP] = "", [TOKEN_CLOSE_GROUP] = "",
    [TOKEN_MORE] = "",       [TOKEN_NEWLINE] = "nl",   [TOKEN_COMMENT] = "#",   [TOKEN_INVALID] = "!",
    [TOKEN_RANGE] = "r",     [TOKEN_MARK] = "m",
};

/* Every token but the end as LETTER[TEXT], a mark as itself: "w[zone] w[a] nl". */
static const char *shown(struct lexed *lexed)
{
    struct buffer line = {.arena = &lexed->arena};
    for (size_t i = 0; i + 1 < lexed->tokens.count; i++) {
        enum token_kind kind = (enum token_kind)lexed->tokens.items[i].kind;
        struct text text = token_text(&lexed->tokens, i);
        buffer_add_string(&line, i ? " " : "");
        buffer_add_string(&line, letters[kind]);
        if (kind == TOKEN_NEWLINE)
            continue;
        bool mark = letters[kind][0] == '\0';
        buffer_add_string(&line, mark ? "" : "[");
        buffer_add(&line, text);
        buffer_add_string(&line, mark ? "" : "]");
    }
    assert_int_equal(lexed->tokens.items[lexed->tokens.count - 1].kind, TOKEN_END);
    return buffer_string(&line);
}

/* "COLUMN RULE" of each report, with the text that its fix would write: "6 number 4500". */
static const char *complaints(struct lexed *lexed)
{
    struct buffer line = {.arena = &lexed->arena};
    for (size_t i = 0; i < lexed->reports.all.count; i++) {
        const struct report *report = lexed->reports.all.items[i];
        buffer_format(&line, "%s%u %s", i ? ", " : "", report->place.start + 1, report->rule->name);
        for (size_t at = 0; report->fix && at < report->fix->edit_count; at++)
            buffer_format(&line, " %s", report->fix->edits[at].replacement);
    }
    return buffer_string(&line);
}

struct sample {
    const char *text, *tokens, *reports;
};

static void check_samples(const struct sample *samples, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct lexed lexed;
        lex_bytes(&lexed, text_of(samples[i].text));
        assert_string_equal(shown(&lexed), samples[i].tokens);
        assert_string_equal(complaints(&lexed), samples[i].reports);
        assert_int_equal(lexed.reports.errors, lexed.reports.all.count);
        lexed_free(&lexed);
    }
}
#define CHECK(samples) check_samples(samples, sizeof(samples) / sizeof *(samples))

static void test_tokens(void **state)
{
    static const struct sample samples[] = {
        {"", "", ""},
        {"zone north", "w[zone] w[north]", ""},
        {"  zone\tnorth \n", "w[zone] w[north] nl", ""},
        {"mehlich-3 P2O5 tall-fescue m2 ft\xc2\xb2",
         "w[mehlich-3] w[P2O5] w[tall-fescue] w[m2] w[ft\xc2\xb2]", ""},
        {"caf\xc3\xa9 \xd0\xbb\xd1\x83\xd0\xb3", "w[caf\xc3\xa9] w[\xd0\xbb\xd1\x83\xd0\xb3]", ""},
        {"85 \u00b0F 30\u00b0C", "n[85] w[\u00b0F] n[30] w[\u00b0C]", ""},
        {"\"the bank\" \"a \\\"b\\\" \\\\\"", "s[\"the bank\"] s[\"a \\\"b\\\" \\\\\"]", ""},
        {"4 0.25 -3, 1/4 1 1/2 -1/2 -1 1/2", "n[4] n[0.25] n[-3] , n[1/4] n[1 1/2] n[-1/2] n[-1 1/2]", ""},
        {"4lb 4 lb/1000 sqft", "n[4] w[lb] n[4] w[lb] / n[1000] w[sqft]", ""},
        {"30% 30 % 4.5%", "p[30%] p[30 %] p[4.5%]", ""},
        {"2027-04-17 14-20-10 0-0-0.5 18:00 6:30", "d[2027-04-17] g[14-20-10] g[0-0-0.5] c[18:00] c[6:30]",
         ""},
        {"a,b:c/d<e{f}(g)", "w[a] , w[b] : w[c] / w[d] < w[e] { w[f] } ( w[g] )", ""},
        {"a # rest \"of, the { line\nb#c", "w[a] #[# rest \"of, the { line] nl w[b] #[#c]", ""},
        {"every 10 ft: 8 ft", "w[every] n[10] w[ft] : n[8] w[ft]", ""},
        {"< 0.5", "< n[0.5]", ""},
        {"9999-99-99", "d[9999-99-99]", ""},
        {"2-6 lb 0.5-1, 1/4 - 1/2, 1 1/2-2", "r[2-6] w[lb] r[0.5-1] , r[1/4 - 1/2] , r[1 1/2-2]", ""},
        {"2\u20136 2 \u2013 6", "r[2\u20136] r[2 \u2013 6]", ""},
        {"2 -6", "n[2] n[-6]", ""},
        {"48' 6\" by 20'", "n[48] m['] n[6] m[\"] w[by] n[20] m[']", ""},
        {"62'6'' 48\u2019 6\u201d", "n[62] m['] n[6] m[''] n[48] m[\u2019] n[6] m[\u201d]", ""},
        {"20x15 ft 20'X15 x15", "n[20] w[x] n[15] w[ft] n[20] m['] w[X] n[15] w[x15]", ""},
        {"6 \u00d7 4 $31.00 \u00a3 5 a = b & c;",
         "n[6] m[\u00d7] n[4] m[$] n[31.00] m[\u00a3] n[5] w[a] m[=] w[b] m[&] w[c] m[;]", ""},
        {"Apr 10 - Apr 30 \u2014 x", "w[Apr] n[10] m[-] w[Apr] n[30] m[\u2014] w[x]", ""},
        {"gate,6.4,11,44", "w[gate] , n[6.4] , n[11] , n[44]", ""},
        {"1,6.4,1,100,5", "n[1] , n[6.4] , n[1] , n[100] , n[5]", ""},
        {"gate;6,4;11", "w[gate] m[;] m[6,4] m[;] n[11]", ""},
    };
    CHECK(samples);
}

static void test_line_ends(void **state)
{
    static const struct sample samples[] = {
        {"a\r\nb\r\n", "w[a] nl w[b] nl", ""},
        {"a\nb", "w[a] nl w[b]", ""},
        {"a # x\r\nb", "w[a] #[# x] nl w[b]", ""},
        {"\"a\r\nb", "![\"a] nl w[b]", "1 string"},
        {"a\rb # c\rd", "w[a] nl w[b] #[# c] nl w[d]", "2 character"},
        {"\n\n", "nl nl", ""},
    };
    CHECK(samples);
}

static void test_byte_order_mark(void **state)
{
    static const struct sample samples[] = {
        {"\xef\xbb\xbfplan", "w[plan]", ""},
        {"\xef\xbb\xbf", "", ""},
        {"plan \xef\xbb\xbf"
         "a",
         "w[plan] ![\xef\xbb\xbf] w[a]", "6 character"},
        {"\xef\xbb\xbf\xef\xbb\xbf"
         "a",
         "![\xef\xbb\xbf] w[a]", "4 character"},
    };
    CHECK(samples);
}

static void test_numbers_of_habit(void **state)
{
    static const struct sample samples[] = {
        {"4,500", "![4,500]", "1 number"},
        {"-1,234,567.5", "![-1,234,567.5]", "1 number -1234567.5"},
        {"3,5", "![3,5]", "1 number 3.5"},
        {"4, 500", "n[4] , n[500]", ""},
        {".5", "![.5]", "1 number 0.5"},
        {"-.5", "![-.5]", "1 number -0.5"},
        {"2-1/2", "![2-1/2]", "1 number 2 1/2"}, /* two and a half */
        {"used 1,500 lb, 2,500 lb", "w[used] ![1,500] w[lb] , ![2,500] w[lb]", "6 number, 16 number"},
        {"14-20-10-5", "![14-20-10-5]", "1 number"},
        {"1e400", "n[1] w[e400]", ""},
        {"1/0", "n[1/0]", ""},
        {"1.5.2", "n[1.5] ![.2]", "4 number 0.2"},
        {"5.", "n[5] ![.]", "1 number "},
    };
    CHECK(samples);
}

static void test_dates_of_habit(void **state)
{
    static const struct sample samples[] = {
        {"4/17/2027", "![4/17/2027]", "1 date-form 2027-04-17"},
        {"17/4/2027", "![17/4/2027]", "1 date-form 2027-04-17"},
        {"4/4/2027", "![4/4/2027]", "1 date-form 2027-04-04"},
        {"4/5/2027", "![4/5/2027]", "1 date-form"}, /* April or May */
        {"2027/4/17", "![2027/4/17]", "1 date-form 2027-04-17"},
        {"17/13/2027", "![17/13/2027]", "1 date-form"},
        {"4/32/2027", "![4/32/2027]", "1 date-form"},
        {"0/4/2027", "![0/4/2027]", "1 date-form"},
        {"4/17/27", "![4/17/27]", "1 date-form 2027-04-17"},
        {"4/5/27", "![4/5/27]", "1 date-form"},
        {"17.4.27", "![17.4.27]", "1 date-form 2027-04-17"},
        {"2027\u201304\u201317", "![2027\u201304\u201317]", "1 date-form 2027-04-17"},
        {"grade 14/20/10", "w[grade] ![14/20/10]", "7 number 14-20-10"},
        {"grade 14 - 20 - 10", "w[grade] ![14 - 20 - 10]", "7 number 14-20-10"},
        {"16\u20134\u20138", "![16\u20134\u20138]", "1 number 16-4-8"},
        {"2027-4-17", "![2027-4-17]", "1 date-form 2027-04-17"},
        {"2027-04-7", "![2027-04-7]", "1 date-form 2027-04-07"},
        {"2027-04-175", "![2027-04-175]", "1 date-form"},
        {"20270-04-17", "![20270-04-17]", "1 date-form"},
        {"2027-004-17", "![2027-004-17]", "1 date-form"},
        {"2027-4-170", "![2027-4-170]", "1 date-form"},
        {"100-4-17", "g[100-4-17]", ""},
        {"17.04.2027", "![17.04.2027]", "1 date-form 2027-04-17"},
        {"Apr 17", "w[Apr] n[17]", ""},
        {"17 Apr", "n[17] w[Apr]", ""},
    };
    CHECK(samples);
}

static void test_characters_of_habit(void **state)
{
    static const struct sample samples[] = {
        {"a \xe2\x80\x9cthe bank\xe2\x80\x9d b", "w[a] ![\xe2\x80\x9cthe bank\xe2\x80\x9d] w[b]",
         "3 character \" \""},
        {"\xc2\xabx\xc2\xbb\n\xe2\x80\x9ey\xe2\x80\x9c",
         "![\xc2\xabx\xc2\xbb] nl ![\xe2\x80\x9ey\xe2\x80\x9c]", "1 character \" \", 7 character \" \""},
        {"\xe2\x80\x9cthe\"", "![\xe2\x80\x9cthe\"]", "1 character \" \""},
        {"\xe2\x80\x9cthe bank\n", "![\xe2\x80\x9c] w[the] w[bank] nl", "1 character \""},
        {"4\xc2\xa0lb", "n[4] ![\xc2\xa0] w[lb]", "2 character  "},
        {"a\u2013b", "w[a] ![\u2013] w[b]", "2 character -"},
        {"- zone a\n\u2022 zone b", "![-] w[zone] w[a] nl ![\u2022] w[zone] w[b]",
         "1 character , 10 character "},
        {"reading_green", "![reading_green]", "1 character reading-green"},
        {"a-", "w[a] ![-]", "2 character"},
        {"@@@ ~", "![@@@] ![~]", "1 character, 5 character"},
        {"a\xe2\x80\x8b"
         "b",
         "w[a] ![\xe2\x80\x8b] w[b]", "2 character"},
    };
    CHECK(samples);
}

static void test_strings_of_habit(void **state)
{
    static const struct sample samples[] = {
        {"\"open", "![\"open]", "1 string"},
        {"\"open\nzone", "![\"open] nl w[zone]", "1 string"},
        {"\"", "![\"]", "1 string"},
        {"\"a\\n\" b", "![\"a\\n\"] w[b]", "1 string"},
        {"\"a\\", "![\"a\\]", "1 string"},
        {"\"a\x01"
         "b\" c",
         "![\"a\x01"
         "b\"] w[c]",
         "1 string"},
        {"\"a\xff"
         "b\" c",
         "![\"a\xff"
         "b\"] w[c]",
         "3 encoding"},
        {"\"a\tb\"", "s[\"a\tb\"]", ""},
    };
    CHECK(samples);
}

static void test_conflict_markers(void **state)
{
    static const struct sample samples[] = {
        {"<<<<<<< mine\na\n=======\nb\n>>>>>>> theirs\n",
         "![<<<<<<< mine] nl w[a] nl ![=======] nl w[b] nl ![>>>>>>> theirs] nl",
         "1 conflict-marker, 16 conflict-marker, 26 conflict-marker"},
        {"||||||| base", "![||||||| base]", "1 conflict-marker"},
        {"<<<<<< six", "< < < < < < w[six]", ""},
    };
    CHECK(samples);
}

static void test_bytes(void **state)
{
    static const struct sample samples[] = {
        {"a \xff\xfe\x80 b", "w[a] ![\xff\xfe\x80] w[b]", "3 encoding"},
        {"a \xff b \xff", "w[a] ![\xff] w[b] ![\xff]", "3 encoding"}, /* once for the file */
        {"{\\rtf1\\ansi x}", "![{\\rtf1\\ansi x}]", "1 encoding"},
        {"PK\x03\x04x", "![PK\x03\x04x]", "1 encoding"},
        {"%PDF-1.4", "![%PDF-1.4]", "1 encoding"},
        {"<html>", "![<html>]", "1 encoding"},
        {"caf\xe9", "w[caf] ![\xe9]", "4 encoding"},
        {"\xed\xa0\x80", "![\xed\xa0\x80]", "1 encoding"},         /* half of a pair of surrogates */
        {"\xc0\xaf", "![\xc0\xaf]", "1 encoding"},                 /* `/`, longer than need be */
        {"\xf4\x90\x80\x80", "![\xf4\x90\x80\x80]", "1 encoding"}, /* beyond U+10FFFF */
        {"a\x1b[31m", "w[a] ![\x1b] ![[] n[31] w[m]", "2 character, 3 character"},
        {"# caf\xe9 \xe9 } x\na", "#[# caf\xe9 \xe9 } x] nl w[a]", "6 encoding"},
        {"# a\x1b[31m\nb", "#[# a\x1b[31m] nl w[b]", "4 character"},
        {"# \xe2\x80\xae"
         "x\nb",
         "#[# \xe2\x80\xae"
         "x] nl w[b]",
         "3 character"}, /* turns the line around */
        {"# \xf0\x9f\x91\xa8\xe2\x80\x8d\xf0\x9f\x8c\xbe ok",
         "#[# \xf0\x9f\x91\xa8\xe2\x80\x8d\xf0\x9f\x8c\xbe ok]", ""},
        {"\xff\xfep", "![\xff\xfep]", "1 encoding"}, /* UTF-16 */
        {"\xfe\xff", "![\xfe\xff]", "1 encoding"},
        {"\xfe"
         " a",
         "![\xfe] w[a]", "1 encoding"},
        {"a\xff"
         " b",
         "w[a] ![\xff] w[b]", "2 encoding"},
    };
    CHECK(samples);
}

static void test_nul(void **state)
{
    static const struct {
        struct text text;
        const char *reports;
    } samples[] = {
        {{"zo\0ne", 5}, "3 character"},
        {{"a\0", 2}, "2 character"},
        {{"\0", 1}, "1 character"},
        {{"\"a\0b\"", 5}, "1 string"},
        {{"# a\0b\nc", 7}, "4 character"},
        {{"a \0\0\0 b", 7}, "3 character"},
        {{"4,\0"
          "500",
          6},
         "3 character"},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct lexed lexed;
        lex_bytes(&lexed, samples[i].text);
        assert_string_equal(complaints(&lexed), samples[i].reports);
        assert_int_equal(lexed.tokens.items[lexed.tokens.count - 1].start, samples[i].text.length);
        lexed_free(&lexed);
    }
}

/* `count` times the same character, with something around it. */
static void check_run(const char *before, char character, size_t count, const char *after,
                      const char *reports)
{
    struct lexed lexed;
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer text = {.arena = &arena};
    buffer_add_string(&text, before);
    buffer_repeat(&text, character, count);
    buffer_add_string(&text, after);
    lex_bytes(&lexed, text_of(buffer_string(&text)));
    assert_string_equal(complaints(&lexed), reports);
    assert_int_equal(lexed.tokens.count, 2);
    lexed_free(&lexed);
    arena_free(&arena);
}

static void test_limits(void **state)
{
    check_run("", '7', 15, "", "");
    check_run("", '7', 16, "", "1 too-long");
    check_run("", '7', 400, "", "1 too-long");
    check_run("1", '0', 14, "", "");
    check_run("1", '0', 15, "", "1 too-long");
    check_run("0.", '1', 400, "", "1 too-long");
    check_run("", '7', 400, "%", "1 too-long");
    check_run("1-2-", '7', 400, "", "1 too-long");
    check_run("1/", '7', 400, "", "1 too-long");
    check_run("", '0', 400, "7", ""); /* zeros before a number say nothing */
    check_run("", 'a', 200, "", "");
    check_run("", 'a', 201, "", "1 too-long");
    check_run("\"", 'a', 100000, "\"", "");
}

/* Decimals of at most 15 digits, against the C library's reading in the C locale. */
static void test_number_values(void **state)
{
    static const struct {
        const char *text;
        double value;
    } samples[] = {
        {"4", 4},
        {"0.25", 0.25},
        {"-3", -3},
        {"1/4", 0.25},
        {"1 1/2", 1.5},
        {"-1/2", -0.5},
        {"-1 1/2", -1.5},
        {"1   3/4", 1.75},
        {"30%", 30},
        {"4.5 %", 4.5},
        {"0.1", 0.1},
        {"123456789012345", 123456789012345.0},
        {"0.000000000000001", 1e-15},
        {"007", 7},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++)
        assert_true(token_number(text_of(samples[i].text)) == samples[i].value);
    assert_true(token_number(TEXT("1/0")) > 1e300);
    uint64_t seed = 7;
    for (int i = 0; i < 100000; i++) {
        char text[32];
        seed = seed * 6364136223846793005u + 1442695040888963407u;
        unsigned decimals = (unsigned)(seed >> 60) % 15;
        unsigned long long digits = seed % 1000000000000000;
        unsigned long long power = 1;
        for (unsigned k = 0; k < decimals; k++)
            power *= 10;
        snprintf(text, sizeof text, "%llu.%0*llu", digits / power, (int)decimals, digits % power);
        if (decimals)
            assert_true(token_number(text_of(text)) == strtod(text, NULL));
    }
}

static void test_string_values(void **state)
{
    struct arena arena;
    arena_init(&arena, NULL);
    assert_true(text_is(token_string(&arena, TEXT("\"the bank\"")), "the bank"));
    assert_true(text_is(token_string(&arena, TEXT("\"\"")), ""));
    assert_true(text_is(token_string(&arena, TEXT("\"a \\\"b\\\" \\\\\"")), "a \"b\" \\"));
    arena_free(&arena);
}

static void test_descriptions(void **state)
{
    for (int kind = 0; kind < TOKEN_KIND_COUNT; kind++)
        assert_true(strlen(token_description((enum token_kind)kind)) > 2);
    for (size_t i = 0; i < lexer_rule_count; i++)
        assert_true(lexer_rules[i].name && lexer_rules[i].sentence && lexer_rules[i].explanation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_tokens),
        cmocka_unit_test(test_line_ends),
        cmocka_unit_test(test_byte_order_mark),
        cmocka_unit_test(test_numbers_of_habit),
        cmocka_unit_test(test_dates_of_habit),
        cmocka_unit_test(test_characters_of_habit),
        cmocka_unit_test(test_strings_of_habit),
        cmocka_unit_test(test_conflict_markers),
        cmocka_unit_test(test_bytes),
        cmocka_unit_test(test_nul),
        cmocka_unit_test(test_limits),
        cmocka_unit_test(test_number_values),
        cmocka_unit_test(test_string_values),
        cmocka_unit_test(test_descriptions),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
