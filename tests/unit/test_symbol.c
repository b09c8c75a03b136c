#include "tests/unit/model_text.h"

#include "compiler/model/embedded.h"
#include "compiler/model/symbol.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define SEASON "season 2027-03-01 to 2027-11-20\n"

/* A model with nothing in it. */
struct fixture {
    struct arena arena;
    struct names names;
    struct reports reports;
    struct model model;
};

static int setup(void **state)
{
    static struct fixture fixture;
    arena_init(&fixture.arena, NULL);
    names_init(&fixture.names, &fixture.arena);
    reports_init(&fixture.reports, &fixture.arena);
    fixture.model = (struct model){.arena = &fixture.arena,
                                   .names = &fixture.names,
                                   .reports = &fixture.reports,
                                   .symbols = symbols_new(&fixture.arena)};
    *state = &fixture;
    return 0;
}

static int teardown(void **state)
{
    arena_free(&((struct fixture *)*state)->arena);
    return 0;
}

static struct symbol *declare(struct fixture *fixture, enum symbol_kind kind, const char *name, bool library)
{
    struct symbol *symbol = ARENA_NEW(&fixture->arena, struct symbol);
    symbol->name = name_intern(&fixture->names, text_of(name));
    symbol->library = library;
    symbol_declare(&fixture->model, kind, symbol);
    return symbol;
}

static struct symbol *find(struct fixture *fixture, enum symbol_kind kind, const char *name)
{
    struct value value = {.name = name_intern(&fixture->names, text_of(name))};
    return symbol_find(&fixture->model, kind, &value);
}

static const struct report *last_report(const struct fixture *fixture)
{
    return fixture->reports.all.items[fixture->reports.all.count - 1];
}

static void test_find(void **state)
{
    struct fixture *fixture = *state;
    struct symbol *zone = declare(fixture, SYMBOL_ZONE, "north", false);
    struct symbol *product = declare(fixture, SYMBOL_PRODUCT, "north", false);
    assert_ptr_equal(symbol_look(&fixture->model, SYMBOL_ZONE, zone->name), zone);
    assert_false(zone->used);
    assert_ptr_equal(find(fixture, SYMBOL_ZONE, "north"), zone);
    assert_true(zone->used);
    assert_ptr_equal(find(fixture, SYMBOL_PRODUCT, "north"), product);
    assert_null(symbol_look(&fixture->model, SYMBOL_LAWN, zone->name));
    assert_int_equal(fixture->reports.errors, 0);
}

static void test_library_gives_way(void **state)
{
    struct fixture *fixture = *state;
    declare(fixture, SYMBOL_GRASS, "tall-fescue", true);
    struct symbol *own = declare(fixture, SYMBOL_GRASS, "tall-fescue", false);
    assert_int_equal(fixture->reports.errors, 0);
    assert_ptr_equal(find(fixture, SYMBOL_GRASS, "tall-fescue"), own);
    assert_true(declare(fixture, SYMBOL_GRASS, "tall-fescue", false)->broken);
    assert_int_equal(fixture->reports.errors, 1);
    assert_string_equal(last_report(fixture)->rule->name, "duplicate-name");
    /* and where the library is read later */
    assert_false(declare(fixture, SYMBOL_GRASS, "tall-fescue", true)->broken);
    assert_int_equal(fixture->reports.errors, 1);
    assert_ptr_equal(find(fixture, SYMBOL_GRASS, "tall-fescue"), own);
}

static void test_library_names_once(void **state)
{
    struct fixture *fixture = *state;
    declare(fixture, SYMBOL_GRASS, "tall-fescue", true);
    assert_true(declare(fixture, SYMBOL_GRASS, "tall-fescue", true)->broken);
    assert_string_equal(last_report(fixture)->rule->name, "duplicate-name");
}

static void test_suggestion(void **state)
{
    struct fixture *fixture = *state;
    declare(fixture, SYMBOL_ZONE, "north", false);
    declare(fixture, SYMBOL_ZONE, "south", false);
    declare(fixture, SYMBOL_PRODUCT, "starter", false);
    assert_null(find(fixture, SYMBOL_ZONE, "nroth"));
    assert_string_equal(last_report(fixture)->sentence, "`nroth` is not a zone");
    assert_string_equal(last_report(fixture)->help, "did you mean `north`?");
    assert_string_equal(last_report(fixture)->fix->edits[0].replacement, "north");
    assert_false(last_report(fixture)->fix->safe);
    /* two letters of five may be wrong where the first is right */
    assert_null(find(fixture, SYMBOL_ZONE, "nxxth"));
    assert_string_equal(last_report(fixture)->help, "did you mean `north`?");
    assert_null(find(fixture, SYMBOL_ZONE, "worxx"));
    assert_string_equal(last_report(fixture)->help, "there are north and south");
    assert_null(find(fixture, SYMBOL_ZONE, "nxxxh"));
    assert_string_equal(last_report(fixture)->help, "there are north and south");
    assert_null(find(fixture, SYMBOL_ZONE, "starter"));
    assert_string_equal(last_report(fixture)->help, "there are north and south");
    assert_string_equal(last_report(fixture)->labels.items[0].text, "this is a product of that name");
    assert_null(find(fixture, SYMBOL_ZONE, "x"));
    assert_string_equal(last_report(fixture)->help, "there are north and south");
}

/* By what is left of a grass's name without `grass` or what goes before its last part. */
static void test_short_names(void **state)
{
    struct fixture *fixture = *state;
    struct symbol *bermuda = declare(fixture, SYMBOL_GRASS, "bermudagrass", true),
                  *rye = declare(fixture, SYMBOL_GRASS, "perennial-ryegrass", true),
                  *augustine = declare(fixture, SYMBOL_GRASS, "st-augustinegrass", true);
    declare(fixture, SYMBOL_GRASS, "tall-fescue", true);
    declare(fixture, SYMBOL_GRASS, "fine-fescue", true);
    declare(fixture, SYMBOL_ZONE, "back-lawn", false);
    assert_ptr_equal(find(fixture, SYMBOL_GRASS, "bermuda"), bermuda);
    assert_ptr_equal(find(fixture, SYMBOL_GRASS, "Bermudagrass"), bermuda);
    assert_ptr_equal(find(fixture, SYMBOL_GRASS, "rye"), rye);
    assert_ptr_equal(find(fixture, SYMBOL_GRASS, "ryegrass"), rye);
    assert_ptr_equal(find(fixture, SYMBOL_GRASS, "St-Augustine"), augustine);
    assert_int_equal(fixture->reports.errors, 0);
    assert_null(find(fixture, SYMBOL_GRASS, "fescue"));
    assert_string_equal(last_report(fixture)->sentence, "`fescue` could be `tall-fescue` or `fine-fescue`");
    assert_null(find(fixture, SYMBOL_GRASS, "perennial"));
    assert_null(find(fixture, SYMBOL_GRASS, "grass"));
    assert_null(find(fixture, SYMBOL_ZONE, "lawn")); /* only of grasses */
    struct symbol *own = declare(fixture, SYMBOL_GRASS, "fescue", false);
    assert_ptr_equal(find(fixture, SYMBOL_GRASS, "fescue"), own);
}

static void test_lost(void **state)
{
    struct fixture *fixture = *state;
    symbol_lose(&fixture->model, name_intern(&fixture->names, TEXT("north")));
    assert_null(find(fixture, SYMBOL_ZONE, "north"));
    assert_int_equal(fixture->reports.errors, 0);
    assert_null(find(fixture, SYMBOL_ZONE, "south"));
    assert_int_equal(fixture->reports.errors, 1);
    for (int i = 0; i < 1000; i++)
        symbol_lose(&fixture->model,
                    name_intern(&fixture->names, text_of(text_format(&fixture->arena, "n%d", i))));
    assert_null(find(fixture, SYMBOL_ZONE, "n999"));
    assert_null(find(fixture, SYMBOL_ZONE, "north"));
    assert_int_equal(fixture->reports.errors, 1);
    struct symbol *zone = declare(fixture, SYMBOL_ZONE, "north", false); /* lost once, declared elsewhere */
    assert_ptr_equal(find(fixture, SYMBOL_ZONE, "north"), zone);
}

/* Many names, known and unknown, take time by their number; the reports beyond the first thousand are
 * counted. */
static void test_many(void **state)
{
    struct fixture *fixture = *state;
    enum { COUNT = 20000 };
    for (int i = 0; i < COUNT; i++)
        declare(fixture, SYMBOL_ZONE, text_format(&fixture->arena, "zone-%d", i), false);
    for (int i = 0; i < COUNT; i++)
        assert_non_null(find(fixture, SYMBOL_ZONE, text_format(&fixture->arena, "zone-%d", i)));
    for (int i = 0; i < COUNT; i++)
        assert_null(find(fixture, SYMBOL_ZONE, text_format(&fixture->arena, "zon-%d", i)));
    assert_int_equal(fixture->reports.errors, COUNT);
    assert_string_equal(fixture->reports.all.items[0]->help, "did you mean `zone-0`?");
}

/* Statements may stand in any order; one name may belong to things of several kinds. */
static void test_in_a_plan(void **state)
{
    assert_errors("apply starter { to starter\n when on Apr 3\n supply 1 lb N per 1000 sqft from starter\n "
                  "with starter }\n"
                  "spreader starter { width 8 ft }\nproduct starter { grade 14-0-0 granular }\n"
                  "lawn starter { zone starter square 3 ft }\n" SEASON,
                  "");
    assert_errors(SEASON "lawn l { zone a square 3 ft, zone a square 4 ft }\nlawn m { zone a square 3 ft }\n"
                         "sprayer x { tank 4 gal }\nspreader x { width 3 ft }\n"
                         "apply t { to a\n when on Apr 3 }\ntask t { when on Apr 3 }\n",
                  "2:35 duplicate-name\n3:15 duplicate-name\n5:10 duplicate-name\n8:6 duplicate-name");
}

/* The library's own entries may be declared again, each once. */
static void test_library_in_a_plan(void **state)
{
    assert_errors(SEASON "grass tall-fescue { season warm }\n"
                         "lawn l { grass tall-fescue\n zone a square 3 ft }\n",
                  "");
    struct model_text read;
    model_text_read(&read,
                    "grass tall-fescue { season warm }\nlawn l { grass tall-fescue\n zone a square 3 ft }\n");
    assert_true(read.model->lawns.items[0]->grass->warm_season);
    model_text_free(&read);
    model_text_read(&read, "lawn l { grass tall-fescue\n zone a square 3 ft }\n");
    assert_false(read.model->lawns.items[0]->grass->warm_season);
    model_text_free(&read);
}

static size_t count_of_kind(const struct model *model, enum symbol_kind kind)
{
    switch (kind) {
    case SYMBOL_GRASS:
        return model->grasses.count;
    case SYMBOL_SCALE:
        return model->scales.count;
    case SYMBOL_CONVERSION:
        return model->conversions.count;
    case SYMBOL_LIME:
        return model->lime_tables.count;
    case SYMBOL_SOURCE:
        return model->source_entries.count;
    default:
        return model->limit_sets.count;
    }
}

/* Entries of the library wait until they are sought. What was noted of them is what they declare.
 */
static void test_library_waits(void **state)
{
    static const struct {
        const char *word;
        enum symbol_kind kind;
    } words[] = {{"grass", SYMBOL_GRASS}, {"scale", SYMBOL_SCALE},   {"conversion", SYMBOL_CONVERSION},
                 {"lime", SYMBOL_LIME},   {"source", SYMBOL_SOURCE}, {"limits", SYMBOL_LIMIT_SET}};
    struct model_text read;
    model_text_read(&read, "");
    assert_int_equal(read.model->grasses.count, 0);
    assert_int_equal(read.model->limit_sets.count, 0);
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        size_t count = 0;
        symbols_read(read.model, words[i].kind);
        for (size_t j = 0; j < embedded_entry_count; j++) {
            const struct name *name = name_intern(&read.names, text_of(embedded_entries[j].name));
            if (strcmp(embedded_entries[j].word, words[i].word) != 0)
                continue;
            count++;
            assert_non_null(symbol_look(read.model, words[i].kind, name));
        }
        assert_true(count > 0);
        assert_int_equal(count_of_kind(read.model, words[i].kind), count);
    }
    assert_int_equal(read.reports.errors, 1); /* that the plan is empty */
    model_text_free(&read);
}

/* A name in the library that nobody asked for is still suggested, and says where it stands. */
static void test_library_is_suggested(void **state)
{
    struct model_text read;
    model_text_read(&read, SEASON "lawn l { grass tall-fescu\n zone a square 3 ft }\n");
    assert_int_equal(read.reports.errors, 1);
    assert_string_equal(read.reports.all.items[0]->help, "did you mean `tall-fescue`?");
    model_text_free(&read);
    model_text_read(&read, SEASON "lawn l { grass minimum-levels\n zone a square 3 ft }\n");
    assert_int_equal(read.reports.errors, 1);
    assert_string_equal(read.reports.all.items[0]->labels.items[0].text, "this is a scale of that name");
    model_text_free(&read);
}

/* The waits of a set that is followed bind as if it had stood in the plan; what the set cites is read too. */
static void test_library_in_the_middle(void **state)
{
    struct model_text read;
    model_text_read(&read, SEASON "lawn l { zone a square 3 ft }\nfollow minnesota\n"
                                  "limits { at most 1 lb N per 1000 sqft per application }\n");
    assert_int_equal(read.reports.errors, 0);
    size_t bound = 0, cited = 0;
    for (size_t i = 0; i < read.model->limits.count; i++) {
        bound += read.model->limits.items[i]->set->bound && read.model->limits.items[i]->set->symbol.library;
        cited += read.model->limits.items[i]->set->bound && read.model->limits.items[i]->set->source;
    }
    assert_true(bound > 0);
    assert_int_equal(cited, bound);
    model_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_find, setup, teardown),
        cmocka_unit_test_setup_teardown(test_library_gives_way, setup, teardown),
        cmocka_unit_test_setup_teardown(test_library_names_once, setup, teardown),
        cmocka_unit_test_setup_teardown(test_suggestion, setup, teardown),
        cmocka_unit_test_setup_teardown(test_short_names, setup, teardown),
        cmocka_unit_test_setup_teardown(test_lost, setup, teardown),
        cmocka_unit_test_setup_teardown(test_many, setup, teardown),
        cmocka_unit_test(test_in_a_plan),
        cmocka_unit_test(test_library_in_a_plan),
        cmocka_unit_test(test_library_waits),
        cmocka_unit_test(test_library_is_suggested),
        cmocka_unit_test(test_library_in_the_middle),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
