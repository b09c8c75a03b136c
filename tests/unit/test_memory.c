/* Memory that runs out at any moment of reading a plan: always a clean return, and nothing stays behind.
 *
 * The Makefile links this program so that every malloc, calloc, realloc and free of the library comes by
 * here. */
#include "compiler/model/include.h"
#include "compiler/model/model.h"

#include <fcntl.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

static struct {
    bool counting;
    long calls, failing; /* the call that fails, from 1; 0: none */
    long held;           /* pieces taken and not given back */
    bool hit;
} memory;

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *piece, size_t size);
void __real_free(void *piece);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *piece, size_t size);
void __wrap_free(void *piece);

static bool refused(void)
{
    if (!memory.counting || ++memory.calls != memory.failing)
        return false;
    memory.hit = true;
    return true;
}

void *__wrap_malloc(size_t size)
{
    void *piece = refused() ? NULL : __real_malloc(size);
    memory.held += memory.counting && piece;
    return piece;
}

void *__wrap_calloc(size_t count, size_t size)
{
    void *piece = refused() ? NULL : __real_calloc(count, size);
    memory.held += memory.counting && piece;
    return piece;
}

/* Refused, it leaves the old piece as it is. */
void *__wrap_realloc(void *piece, size_t size)
{
    void *larger = refused() ? NULL : __real_realloc(piece, size);
    memory.held += memory.counting && larger && !piece;
    return larger;
}

void __wrap_free(void *piece)
{
    memory.held -= memory.counting && piece;
    __real_free(piece);
}

/* Deep enough for the parser to ask for a larger stack, long enough for the arena to ask several times, and
 * with mistakes, so that reports are made. */
static void make_plan(struct buffer *text)
{
    buffer_add_string(text,
                      "plan \"x\"\nseason 2027-03-01 to 2027-11-20\nuse \"shop.prill\"\nlawn l { zone a ");
    for (int i = 0; i < DEPTH_LIMIT; i++)
        buffer_add_string(text, "(square 3 m, plus ");
    buffer_add_string(text, "square 3 m");
    for (int i = 0; i < DEPTH_LIMIT; i++)
        buffer_add_string(text, ")");
    buffer_add_string(text, " }\n");
    for (int i = 0; i < 400; i++)
        buffer_format(
            text,
            "task t%d { to a\n when on Apr %d\n note \"number %d\" }\ntask u%d { to b, c, 4\n suply 3 @ }\n",
            i, 1 + i % 30, i, i);
    for (int i = 0; i < 30; i++)
        buffer_add_string(text, "a {\n");
}

/* Reads the plan at `path`; false when memory ran out. Every malloc in between counts. */
static bool read_plan(const char *path, size_t *errors)
{
    struct arena arena;
    jmp_buf exhausted;
    volatile bool done = false; /* set between setjmp and longjmp */
    memory.calls = memory.held = 0;
    memory.hit = false;
    memory.counting = true;
    arena_init(&arena, &exhausted);
    if (!setjmp(exhausted)) {
        struct names names;
        struct reports reports;
        names_init(&names, &arena);
        reports_init(&reports, &arena);
        struct sources *sources = sources_new(&arena, NULL, NULL);
        struct source *source;
        const char *reason;
        if (sources_open_plan(sources, path, NULL, &source, &reason) != SOURCE_READ)
            abort();
        model_build(&arena, &names, &reports, sources, source);
        reports_sort(&reports);
        *errors = reports.errors;
        done = true;
    }
    arena_free(&arena);
    memory.counting = false;
    return done;
}

static void write_file(const char *path, const char *text, size_t length)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, length, file), length);
    assert_int_equal(fclose(file), 0);
}

static int lowest_descriptor(void)
{
    int descriptor = open("/dev/null", O_RDONLY);
    close(descriptor);
    return descriptor;
}

static void test_every_refusal(void **state)
{
    char folder[] = "/tmp/prill-memory.XXXXXX", path[64], shop[64];
    assert_non_null(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/plan.prill", folder);
    snprintf(shop, sizeof shop, "%s/shop.prill", folder);
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer text = {.arena = &arena};
    make_plan(&text);
    write_file(path, buffer_string(&text), text.length);
    text.length = 0;
    for (int i = 0; i < 5000; i++)
        buffer_format(&text, "product p%d { grade 14-0-0 granular }\n", i);
    write_file(shop, buffer_string(&text), text.length);

    int descriptor = lowest_descriptor();
    size_t errors = 0, found;
    memory.failing = 0;
    assert_true(read_plan(path, &errors));
    assert_int_equal(memory.held, 0);
    assert_true(errors > 800);
    long calls = memory.calls;
    assert_true(calls > 10); /* the arena's blocks, the parser's state and its stacks */
    for (memory.failing = 1;; memory.failing++) {
        bool done = read_plan(path, &found);
        assert_int_equal(memory.held, 0);
        assert_int_equal(lowest_descriptor(), descriptor);
        if (!memory.hit) {
            assert_true(done);
            assert_int_equal(found, errors);
            break;
        }
        assert_false(done);
    }
    assert_int_equal(memory.failing, calls + 1); /* each of them was refused once */
    arena_free(&arena);
    remove(path);
    remove(shop);
    remove(folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_every_refusal)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
