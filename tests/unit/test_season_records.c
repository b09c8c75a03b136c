/* Which time a record speaks of, what a part leaves, and what is beyond the plan. Two zones of 100 m2; 2 kg
 * of meal (10 % N) on each are 0.002 kg N per m2. */
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define GROUND                                                                                               \
    "season 2027-03-01 to 2027-11-20\n"                                                                      \
    "lawn green { zone north area 100 m2\n zone south area 100 m2 }\n"                                       \
    "product meal { grade 10-0-0 granular }\n"                                                               \
    "product chalk { contains Ca 30% }\n"
#define FEED(when) GROUND "apply feed {\n to north, south\n rate 2 kg per 100 m2 of meal\n " when "\n}\n"
#define APRIL "when between Apr 1 and Apr 30"

static size_t added_count(const struct season_text *read)
{
    return read->season->occurrences.count - read->season->first_of[read->model->treatments.count];
}

static const struct occurrence *added(const struct season_text *read, size_t index)
{
    assert_true(index < added_count(read));
    return &read->season->occurrences.items[read->season->first_of[read->model->treatments.count] + index];
}

/* "north 2, south 1.5": the zones and kg of an occurrence. */
static void assert_amounts(struct season_text *read, const struct occurrence *occurrence,
                           const char *expected)
{
    struct buffer text = {.arena = &read->arena};
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        buffer_format(&text, "%s%.*s %s %s", i ? ", " : "", (int)amount->zone->symbol.name->text.length,
                      amount->zone->symbol.name->text.start, amount->product->symbol.name->text.start,
                      number_short(&read->arena, amount->total));
    }
    assert_string_equal(buffer_string(&text), expected);
}

static void assert_share(const struct occurrence *occurrence, enum occurrence_share share, int time, int part)
{
    assert_int_equal(occurrence->share, share);
    assert_int_equal(occurrence->time, time);
    assert_int_equal(occurrence->part, part);
}

static void test_beyond_counts(void **state)
{
    struct season_text read;
    season_text_read(&read, FEED("when on Apr 1") "done feed 2027-04-05\n"
                                                  "done feed 2027-04-09 { used 3 kg of chalk on south }\n"
                                                  "done feed 2027-04-02 { time 2 }\n");
    assert_day(&read, "feed", 1, "2027-04-05");
    assert_int_equal(added_count(&read), 2);
    assert_share(added(&read, 0), SHARE_BEYOND, 2, 0);
    assert_share(added(&read, 1), SHARE_BEYOND, 3, 0);
    assert_int_equal(added(&read, 0)->day, text_day("2027-04-02"));
    assert_int_equal(added(&read, 1)->day, text_day("2027-04-09"));
    assert_amounts(&read, added(&read, 0), "north meal 2, south meal 2");
    assert_amounts(&read, added(&read, 1), "south chalk 3");
    const struct ledger *south = &read.season->ledgers[1];
    assert_int_equal(south->applications.count, 3);
    assert_float_equal(south->applications.items[0].supplied[NUTRIENT_N], 0.002, 1e-12);
    assert_float_equal(south->applications.items[2].supplied[NUTRIENT_CA], 0.009, 1e-12);
    assert_int_equal(read.season->unplaced.count, 0);
    season_text_free(&read);
}

static void test_twice_the_same_time(void **state)
{
    struct season_text read;
    season_text_read(&read,
                     FEED("when every 20 days from Apr 1, 2 times") "done feed 2027-04-09 { time 1 }\ndone "
                                                                    "feed 2027-04-03 { time 1 }\n");
    assert_day(&read, "feed", 1, "2027-04-03");
    assert_share(added(&read, 0), SHARE_BEYOND, 3, 0);
    assert_day(&read, "feed", 2, "2027-04-23");
    season_text_free(&read);
}

static void test_skipped_too_often(void **state)
{
    struct season_text read;
    season_text_read(&read, FEED("when on Apr 1") "skipped feed\nskipped feed\n");
    assert_true(season_text_find(&read, "feed", 1)->skipped);
    assert_int_equal(added_count(&read), 0);
    assert_int_equal(read.season->unplaced.count, 1);
    season_text_free(&read);
}

/* One zone was done; the other is still to come, and not before. */
static void test_part_by_zone(void **state)
{
    struct season_text read;
    season_text_read(&read, FEED(APRIL) "done feed 2027-04-07 { part\n used 1.9 kg of meal on north }\n");
    const struct occurrence *rest = season_text_find(&read, "feed", 1);
    assert_false(rest->done);
    assert_share(rest, SHARE_REST, 1, 0);
    assert_day(&read, "feed", 1, "2027-04-07");
    assert_int_equal(rest->planned, text_day("2027-04-01"));
    assert_amounts(&read, rest, "south meal 2");
    assert_int_equal(rest->zones.count, 1);
    assert_share(added(&read, 0), SHARE_PART, 1, 1);
    assert_true(added(&read, 0)->done);
    assert_int_equal(added(&read, 0)->planned, text_day("2027-04-01"));
    assert_amounts(&read, added(&read, 0), "north meal 1.9");
    season_text_free(&read);
}

static void test_part_as_planned(void **state)
{
    struct season_text read;
    season_text_read(&read, FEED(APRIL) "done feed 2027-04-07 { part on south }\n");
    assert_amounts(&read, season_text_find(&read, "feed", 1), "north meal 2");
    assert_amounts(&read, added(&read, 0), "south meal 2");
    season_text_free(&read);
}

/* A zone taken as planned, and a figure for one of its products. */
static void test_part_by_product(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND
                     "apply feed {\n to north, south\n rate 2 kg per 100 m2 of meal\n"
                     " rate 5 kg per 100 m2 of chalk\n " APRIL "\n}\n"
                     "done feed 2027-04-07 { part on north\n used 1 kg of meal on north, 3 kg on south }\n");
    assert_amounts(&read, added(&read, 0), "north chalk 5, north meal 1, south meal 3");
    assert_amounts(&read, season_text_find(&read, "feed", 1), "south chalk 5");
    season_text_free(&read);
}

static void test_parts_that_make_a_whole(void **state)
{
    struct season_text read;
    season_text_read(&read, FEED(APRIL) "done feed 2027-04-09 { part on north }\n"
                                        "done feed 2027-04-07 { part\n used 3 kg of meal on south }\n"
                                        "done feed 2027-05-01\n");
    const struct occurrence *whole = season_text_find(&read, "feed", 1);
    assert_true(whole->done);
    assert_share(whole, SHARE_REST, 1, 0);
    assert_int_equal(whole->day, text_day("2027-04-09"));
    assert_amounts(&read, whole, "north meal 2");
    assert_share(added(&read, 0), SHARE_PART, 1, 1);
    assert_amounts(&read, added(&read, 0), "south meal 3");
    assert_share(added(&read, 1), SHARE_BEYOND, 2, 0);
    season_text_free(&read);
}

/* A record without `part` ends its time: without amounts it took all that was left. */
static void test_rest_done(void **state)
{
    struct season_text read;
    season_text_read(&read, FEED(APRIL) "done feed 2027-04-07 { part on north }\ndone feed 2027-04-20\n");
    assert_true(season_text_find(&read, "feed", 1)->done);
    assert_amounts(&read, season_text_find(&read, "feed", 1), "south meal 2");
    assert_int_equal(added_count(&read), 1);
    season_text_free(&read);
    season_text_read(&read, FEED(APRIL) "done feed 2027-04-07 { part on north }\nskipped feed\n");
    assert_true(season_text_find(&read, "feed", 1)->skipped);
    assert_amounts(&read, season_text_find(&read, "feed", 1), "");
    assert_int_equal(read.season->ledgers[0].applications.count, 1);
    assert_int_equal(read.season->ledgers[1].applications.count, 0);
    season_text_free(&read);
}

static void test_parts_of_several_times(void **state)
{
    struct season_text read;
    season_text_read(
        &read,
        FEED("when every 20 days from Apr 1, 3 times") "done feed 2027-04-02\ndone feed 2027-04-23 { part on "
                                                       "north }\n"
                                                       "done feed 2027-05-15 { time 3\n part on south }\n");
    assert_day(&read, "feed", 1, "2027-04-02");
    assert_day(&read, "feed", 2, "2027-04-23");
    assert_day(&read, "feed", 3, "2027-05-15");
    assert_amounts(&read, season_text_find(&read, "feed", 2), "south meal 2");
    assert_amounts(&read, season_text_find(&read, "feed", 3), "north meal 2");
    assert_share(added(&read, 0), SHARE_PART, 2, 1);
    assert_share(added(&read, 1), SHARE_PART, 3, 1);
    season_text_free(&read);
}

static void test_part_of_work(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND "task dig { to north, south\n when from Apr 1 }\n"
                                   "done dig 2027-04-05 { part on north }\n");
    const struct occurrence *rest = season_text_find(&read, "dig", 1);
    assert_int_equal(rest->zones.count, 1);
    assert_ptr_equal(rest->zones.items[0], read.model->zones.items[1]);
    assert_ptr_equal(added(&read, 0)->zones.items[0], read.model->zones.items[0]);
    assert_day(&read, "dig", 1, "2027-04-05");
    season_text_free(&read);
}

/* What comes after it waits for the rest; when nothing is to come, for the last that was done. */
static void test_what_follows(void **state)
{
    struct season_text read;
#define LOOK "task look { when 30 days after feed }\n"
    season_text_read(&read,
                     FEED("when between Apr 10 and Apr 30") LOOK "done feed 2027-04-07 { part on north }\n");
    assert_day(&read, "look", 1, "2027-05-10");
    season_text_free(&read);
    season_text_read(&read, FEED(APRIL) LOOK "done feed 2027-04-07 { part on north }\nskipped feed\n");
    assert_day(&read, "look", 1, "2027-05-07");
    assert_null(read.season->moot);
    season_text_free(&read);
    season_text_read(&read, FEED(APRIL) LOOK "done feed 2027-04-07\ndone feed 2027-04-17\n");
    assert_day(&read, "look", 1, "2027-05-17");
    season_text_free(&read);
#undef LOOK
}

/* The second application of N waits for what was put down beyond the plan. */
static void test_waits_for_what_is_beyond(void **state)
{
    struct season_text read;
    season_text_read(&read, FEED("when on Apr 1") "limits { at least 28 days between N applications }\n"
                                                  "apply more {\n to south\n rate 1 kg per 100 m2 of meal\n"
                                                  " when from May 1\n}\n"
                                                  "done feed 2027-04-01\ndone feed 2027-04-20\n");
    assert_day(&read, "more", 1, "2027-05-18");
    assert_int_equal(season_text_find(&read, "more", 1)->planned, text_day("2027-05-01"));
    season_text_free(&read);
}

/* A part that no zone tells, or of a zone that is none of the treatment's. */
static void test_parts_that_cannot_be(void **state)
{
    static const char *const plans[] = {
        FEED(APRIL) "done feed 2027-04-07 { part }\n",
        GROUND "task dig { when from Apr 1 }\ndone dig 2027-04-07 { part on north }\n",
        GROUND "task dig { to south }\ndone dig 2027-04-07 { part on north }\n",
        FEED(APRIL) "done feed 2027-04-07 { part on west }\n"};
    for (size_t i = 0; i < sizeof plans / sizeof *plans; i++) {
        struct season_text read;
        season_text_read_faulty(&read, plans[i]);
        assert_int_equal(read.reports.errors, 1);
        season_text_free(&read);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_beyond_counts),
        cmocka_unit_test(test_twice_the_same_time),
        cmocka_unit_test(test_skipped_too_often),
        cmocka_unit_test(test_part_by_zone),
        cmocka_unit_test(test_part_as_planned),
        cmocka_unit_test(test_part_by_product),
        cmocka_unit_test(test_parts_that_make_a_whole),
        cmocka_unit_test(test_rest_done),
        cmocka_unit_test(test_parts_of_several_times),
        cmocka_unit_test(test_part_of_work),
        cmocka_unit_test(test_what_follows),
        cmocka_unit_test(test_waits_for_what_is_beyond),
        cmocka_unit_test(test_parts_that_cannot_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
