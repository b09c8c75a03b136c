#include "tests/unit/client_calls.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

const char client_plan[] = "plan \"Test\"\n"
                           "edition 1 on 2027-02-20\n"
                           "season 2027-03-01 to 2027-11-20\n"
                           "lawn green { zone north area 1000 sqft }\n"
                           "product starter {\n"
                           "    grade  14-20-10 granular\n"
                           "    label  2 to 6 lb per 1000 sqft\n"
                           "}\n"
                           "apply feed {\n"
                           "    to    north\n"
                           "    when  on Apr 17\n"
                           "    rate  4 lb per 1000 sqft of starter\n"
                           "}\n";

struct prill_options client_options(const char *text)
{
    return (struct prill_options){
        .size = sizeof(struct prill_options), .text = text, .text_length = strlen(text), .sealed = true};
}

struct prill_compilation *client_compiled(const char *text, enum prill_status wanted)
{
    struct prill_compilation *compilation;
    struct prill_options options = client_options(text);
    assert_int_equal(prill_compile("lawn.prill", &options, &compilation), wanted);
    assert_non_null(compilation);
    assert_int_equal(prill_status(compilation), wanted);
    return compilation;
}

void assert_text(const char *text, size_t length, const char *words)
{
    assert_non_null(text);
    assert_int_equal(strlen(text), length);
    if (!strstr(text, words))
        fail_msg("\"%s\" is not in:\n%s", words, text);
}

const char *client_subject(const char *result)
{
    return strcmp(result, "day") == 0 ? "2027-04-17" : "feed";
}

const char *assert_result(struct prill_compilation *compilation, const char *result, const char *form,
                          const char *words)
{
    size_t length;
    const char *text = prill_result(compilation, result, form, client_subject(result), &length);
    assert_text(text, length, words);
    return text;
}

void assert_reports(struct prill_compilation *compilation, const char *words)
{
    size_t length;
    const char *text = prill_reports(&compilation, 1, "text", false, &length);
    assert_text(text, length, words);
}
