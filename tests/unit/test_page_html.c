/* Pages as HTML: each part as the element that says what it is, and text of a plan as text. Sources: HTML
 * Living Standard, sections 13.1.2.3, 13.1.3 (text), 4.3.6 (headings), 4.9 (tables). */
#include "compiler/form/html_text.h"
#include "compiler/form/page_html.h"
#include "tests/unit/one_arena.h"

static const char *html(const struct page *page)
{
    return page_printed(page_html_print, page);
}

static const char *body(const struct page *page)
{
    return text_between(html(page), "<main id=\"content\">\n", "</main>");
}

static const char *escaped(const char *text)
{
    struct buffer out = {.arena = &arena};
    html_escape(&out, text_of(text));
    return buffer_string(&out);
}

static const char *sentence(const char *text)
{
    struct buffer out = {.arena = &arena};
    html_sentence(&out, text);
    return buffer_string(&out);
}

/* All 255 bytes: none that could begin markup or drive anything is left. */
static void test_inert(void **state)
{
    char all[256];
    for (int i = 0; i < 255; i++)
        all[i] = (char)(i + 1);
    all[255] = '\0';
    for (const char *c = escaped(all); *c; c++) {
        assert_true((unsigned char)*c >= ' ' && *c != '<' && *c != '>' && *c != '"' && *c != '\'' &&
                    *c != 0x7F);
        if (*c == '&')
            assert_true(strncmp(c, "&amp;", 5) == 0 || strncmp(c, "&lt;", 4) == 0 ||
                        strncmp(c, "&gt;", 4) == 0 || strncmp(c, "&quot;", 6) == 0 ||
                        strncmp(c, "&#39;", 5) == 0);
    }
    assert_string_equal(escaped("</title><script>alert('\"1&2')</script>"),
                        "&lt;/title&gt;&lt;script&gt;alert(&#39;&quot;1&amp;2&#39;)&lt;/script&gt;");
    assert_string_equal(escaped("a\tb\033[2J\xE2\x80\xAE\xC3\xBC\xFF"),
                        "a b\\u{1b}[2J\\u{202e}\xC3\xBC\\x{ff}");
}

static void test_sentence(void **state)
{
    static const struct {
        const char *text, *html;
    } rows[] = {
        {"at https://a.example/b?c=1&d=2.",
         "at <a href=\"https://a.example/b?c=1&amp;d=2\">https://a.example/b?c=1&amp;d=2</a>."},
        {"(http://a.example) hat", "(<a href=\"http://a.example\">http://a.example</a>) hat"},
        {"https://\"onclick=x", "<a href=\"https://\">https://</a>&quot;onclick=x"},
        {"javascript:alert(1) https: http:/x", "javascript:alert(1) https: http:/x"},
        {"run `prill checks <x>` now", "run <code>prill checks &lt;x&gt;</code> now"},
        {"one ` only", "one ` only"},
        {"Sat 2027-04-17, 2027-04-18.", "Sat <time>2027-04-17</time>, <time>2027-04-18</time>."},
        {"2027-02-30, a2027-04-17, 12027-04-17, 2027-04-171, 2027-04-17-x, x-2027-04-17, 2027-04-17th",
         "2027-02-30, a2027-04-17, 12027-04-17, 2027-04-171, 2027-04-17-x, x-2027-04-17, 2027-04-17th"},
        {"`2027-04-17` at http://a.example/2027-04-17",
         "<code>2027-04-17</code> at <a "
         "href=\"http://a.example/2027-04-17\">http://a.example/2027-04-17</a>"},
        {"", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_string_equal(sentence(rows[i].text), rows[i].html);
}

/* No level of heading is left out, however deep a part lies; the first heading is the document's. */
static void test_headings(void **state)
{
    struct page page = {.arena = &arena};
    page_heading(&page, 0, "A <b>lawn</b>");
    page_heading(&page, 2, "deep");
    page_heading(&page, 3, "deeper:");
    page_add(&page, PART_HEADING, 0, "of its own")->sheet = true;
    page_heading(&page, 1, "below");
    const char *text = html(&page);
    assert_string_equal(text_between(text, "<title>", "</title>"), "A &lt;b&gt;lawn&lt;/b&gt;");
    assert_string_equal(text_between(text, "<h1>", "</h1>"), "A &lt;b&gt;lawn&lt;/b&gt;");
    assert_string_equal(body(&page), "<h2 id=\"s1\">deep</h2>\n"
                                     "<h3>deeper</h3>\n"
                                     "<h2 class=\"sheet\" id=\"s2\">of its own</h2>\n"
                                     "<h3>below</h3>\n");
    assert_null(strstr(text, "<nav"));
}

/* A page that begins with something else keeps its first heading where it is. */
static void test_title(void **state)
{
    struct page page = {.arena = &arena, .title = "What <changes>"};
    page_entry(&page, 0, "From", "a");
    page_heading(&page, 0, "Sat, added");
    const char *text = html(&page);
    assert_string_equal(text_between(text, "<h1>", "</h1>"), "What &lt;changes&gt;");
    assert_string_equal(text_between(text, "<title>", "</title>"), "What &lt;changes&gt;");
    assert_non_null(strstr(text, "</dl>\n<h2 id=\"s1\">Sat, added</h2>\n"));
}

static void test_contents(void **state)
{
    struct page page = {.arena = &arena};
    page_plan(&page, &(struct model){.title = "t"});
    for (int i = 0; i < 4; i++) {
        page_heading(&page, 0, text_format(&arena, "part %d & more", i));
        page_heading(&page, 1, "below");
    }
    assert_string_equal(text_between(html(&page), "<nav aria-label=\"Contents\">\n", "</nav>"),
                        "<ul>\n<li><a href=\"#s1\">part 0 &amp; more</a></li>\n"
                        "<li><a href=\"#s2\">part 1 &amp; more</a></li>\n"
                        "<li><a href=\"#s3\">part 2 &amp; more</a></li>\n"
                        "<li><a href=\"#s4\">part 3 &amp; more</a></li>\n</ul>\n");
}

/* A head where the table has one, names of rows, numbers point below point, bars that are not read out; lines
 * that lie deeper than the rows are about the row before them. */
static void test_table(void **state)
{
    struct page page = {.arena = &arena};
    struct page_columns *columns = page_columns(&page, 3);
    columns->headed = columns->items[1].by_point = columns->items[2].bar = true;
    page_row(&page, 0, columns, (const char *[]){NULL, "N", NULL});
    page_row(&page, 0, columns, (const char *[]){"a", "12.9 lb", "##.."});
    page_gap(&page);
    page_line(&page, 1, "about a");
    page_row(&page, 0, columns, (const char *[]){"b", "3 lb", NULL});
    page_item(&page, 1, "about b");
    page_gap(&page);
    page_line(&page, 0, "behind");
    assert_string_equal(
        body(&page), "<table class=\"in0\">\n<thead>\n"
                     "<tr><td></td><th scope=\"col\" class=\"figure\">\xE2\x80\x87N</th><td></td></tr>\n"
                     "</thead>\n<tbody>\n"
                     "<tr><th scope=\"row\">a</th><td class=\"figure\">12.9 lb</td>"
                     "<td class=\"bar\" aria-hidden=\"true\">##..</td></tr>\n"
                     "<tr class=\"about\"><td colspan=\"3\">\n<p class=\"in1\">about a</p>\n</td></tr>\n"
                     "<tr><th scope=\"row\">b</th><td class=\"figure\">\xE2\x80\x87"
                     "3 lb</td><td></td></tr>\n"
                     "<tr class=\"about\"><td colspan=\"3\">\n<ul class=\"in1\">\n<li>about b</li>\n</ul>\n"
                     "</td></tr>\n"
                     "</tbody>\n</table>\n"
                     "<p class=\"in0\">behind</p>\n");
}

static void test_lists(void **state)
{
    struct page page = {.arena = &arena};
    page_add(&page, PART_CHECK, 9, "sweep");
    page_add(&page, PART_CHECK, 9, "rinse");
    page_entry(&page, 0, "[1]", "title");
    page_add(&page, PART_BAR, 1, "##");
    page_entry(&page, 0, "[2]", "other");
    page_verbatim(&page, 1, text_of("done feed {\n    used 1 lb of \"a<b\"\n"));
    page_add(&page, PART_CLOSING, 0, "last");
    assert_string_equal(
        body(&page),
        "<ul class=\"checks in5\">\n"
        "<li><label><input type=\"checkbox\"> <span>sweep</span></label></li>\n"
        "<li><label><input type=\"checkbox\"> <span>rinse</span></label></li>\n"
        "</ul>\n"
        "<dl class=\"in0\">\n"
        "<div><dt>[1]</dt>\n<dd>title<pre class=\"bar\" aria-hidden=\"true\">##</pre>\n</dd></div>\n"
        "<div><dt>[2]</dt>\n<dd>other</dd></div>\n"
        "</dl>\n"
        "<pre class=\"copy in1\"><code>done feed {\n    used 1 lb of &quot;a&lt;b&quot;</code></pre>\n");
    assert_string_equal(text_between(html(&page), "<footer>\n", "</footer>"), "<p>last</p>\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_inert),    TEST(test_sentence), TEST(test_headings), TEST(test_title),
        TEST(test_contents), TEST(test_table),    TEST(test_lists),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
