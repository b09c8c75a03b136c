/* The library as text: what is an entry, where it ends, and that all that is listed can be shown. */
#include "compiler/model/library.h"
#include "compiler/form/page_text.h"
#include "compiler/result/library_page.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static int setup(void **state)
{
    static struct arena arena;
    arena_init(&arena, NULL);
    *state = &arena;
    return 0;
}

static int teardown(void **state)
{
    arena_free(*state);
    return 0;
}

static void test_where_a_statement_ends(void **state)
{
    static const struct {
        const char *file, *statement;
    } trials[] = {
        {"use a\nuse b\n", "use a"},
        {"mix a with b  # never }\nmix", "mix a with b  # never }"},
        {"a {\n    b { c }\n}\nd\n", "a {\n    b { c }\n}"},
        {"a { note \"a brace } in \\\" quotes {\" }\nd", "a { note \"a brace } in \\\" quotes {\" }"},
        {"a { # }\n}\nd", "a { # }\n}"},
        {"a { b", "a { b"}, /* never closed */
        {"a", "a"},
    };
    for (size_t i = 0; i < sizeof trials / sizeof *trials; i++) {
        struct text text = statement_text(text_of(trials[i].file), 0);
        assert_true(text_is(text, trials[i].statement));
    }
}

static void test_entries(void **state)
{
    struct library_entries entries = library_entries(*state);
    const struct library_entry *grass = library_entry_find(&entries, "grass", TEXT("tall-fescue"));
    size_t blocks = 0;
    assert_non_null(grass);
    assert_string_equal(grass->path, "library/grasses.prill");
    assert_memory_equal(grass->text.start, "grass tall-fescue {\n", 20);
    assert_int_equal(grass->text.start[grass->text.length - 1], '}');
    assert_memory_equal(grass->comment.start, "# ", 2);
    assert_null(library_entry_find(&entries, "grass", TEXT("maryland-home")));
    for (size_t i = 0; i < entries.count; i++) { /* lines are counted from the file's start */
        const struct library_entry *entry = &entries.items[i];
        if (i && strcmp(entries.items[i - 1].path, entry->path) == 0)
            assert_true(entry->line > entries.items[i - 1].line);
        blocks += entry->text.start[entry->text.length - 1] == '}';
    }
    assert_true(blocks > 200 && blocks < entries.count);
}

static void test_sources(void **state)
{
    struct text_list names = sources_named(
        *state, TEXT("pH 6 to 7 from a-1  # from b\nnote \"from c\"\nuses 1 from a-1, x from d"));
    assert_int_equal(names.count, 2);
    assert_true(text_is(names.items[0], "a-1") && text_is(names.items[1], "d"));
}

static void test_regions(void **state)
{
    static const char *const some[] = {"indiana", "georgia-coastal", "washington-west", "pennsylvania"};
    struct library_entries entries = library_entries(*state);
    struct text_list regions = library_regions(*state, &entries);
    for (size_t i = 0; i < sizeof some / sizeof *some; i++) {
        bool found = false;
        for (size_t j = 0; j < regions.count; j++)
            found = found || text_is(regions.items[j], some[i]);
        assert_true(found);
    }
    assert_true(regions.count > 15 && regions.count < 60);
}

/* Each name of the list, and what is shown of it holds the name. */
static void test_all_that_is_listed_is_shown(void **state)
{
    struct arena *arena = *state;
    struct buffer list = {.arena = arena};
    struct page page = {.arena = arena};
    size_t count = 0;
    library_list_page(&page);
    page_text_print(&list, &page);
    for (char *line = strtok(list.string, "\n"); line; line = strtok(NULL, "\n")) {
        if (memcmp(line, "  ", 2) != 0)
            continue;
        for (const char *at = line; *(at += strspn(at, " ,"));) {
            const char *name = text_string(arena, (struct text){at, strcspn(at, " ,")});
            struct buffer entry = {.arena = arena};
            struct page of_name = {.arena = arena};
            assert_true(library_entry_page(&of_name, name));
            page_text_print(&entry, &of_name);
            assert_non_null(strstr(entry.string, name));
            at += strlen(name);
            count++;
        }
    }
    assert_true(count > 150);
}

static void test_what_is_not_there(void **state)
{
    struct page page = {.arena = *state};
    assert_false(library_entry_page(&page, "seaweed"));
    assert_false(library_entry_page(&page, "at")); /* of `sample at least` */
    assert_int_equal(page.parts.count, 0);
    assert_string_equal(library_name_nearest(*state, "talfescue"), "tall-fescue");
    assert_string_equal(library_name_nearest(*state, "indianna"), "indiana");
    assert_null(library_name_nearest(*state, "seaweed"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_where_a_statement_ends),
        cmocka_unit_test(test_entries),
        cmocka_unit_test(test_sources),
        cmocka_unit_test(test_regions),
        cmocka_unit_test(test_all_that_is_listed_is_shown),
        cmocka_unit_test(test_what_is_not_there),
    };
    return cmocka_run_group_tests(tests, setup, teardown);
}
