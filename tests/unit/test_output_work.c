/* What a person does on a day. The amounts were worked out by hand in the design of the example: 0.75 / 0.14
 * lb of starter and 3 fl oz of seaweed per 1000 sqft on 2416.38, 850 and 380 sqft. */
#include "compiler/result/work.h"
#include "tests/unit/output_season.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static struct output_season made;

static int season_setup(void **state)
{
    output_season_make(&made);
    *state = &made;
    return 0;
}

static int season_teardown(void **state)
{
    output_season_free(&made);
    return 0;
}

static struct occurrence *occurrence(size_t index)
{
    return &made.season.occurrences.items[index];
}

static bool says(const struct work *work, const char *sentence)
{
    for (size_t i = 0; i < work->sentences.count; i++)
        if (strcmp(work->sentences.items[i], sentence) == 0)
            return true;
    return false;
}

static void test_order_and_headlines(void **state)
{
    struct work_list list = work_list_of(&made.season);
    const char *const wanted[] = {
        "spring-feed on reading-green: starter 19.5 lb", "tonic on reading-green: seaweed 10.9 fl oz",
        "topdress on reading-green: north", "fall-feed 1 of 2 on reading-green: starter 14.58 lb",
        "fall-feed 2 of 2 on reading-green: starter 14.58 lb"};
    assert_int_equal(list.count, 5);
    for (size_t i = 0; i < 5; i++)
        assert_string_equal(list.items[i].headline, wanted[i]);
}

/* Of two passes: 12.9449 lb are 6.47 each, 4.5536 lb 2.27 and 2.0357 lb 1.01; what is weighed is twice that.
 */
static void test_portions(void **state)
{
    struct work_list list = work_list_of(&made.season);
    const struct material *starter = &list.items[0].materials.items[0];
    assert_int_equal(starter->portions.count, 3);
    assert_string_equal(starter->portions.items[0].text, "12.94 lb");
    assert_string_equal(starter->portions.items[0].each, "6.47 lb");
    assert_string_equal(starter->portions.items[1].text, "4.54 lb");
    assert_string_equal(starter->portions.items[1].each, "2.27 lb");
    assert_string_equal(starter->portions.items[2].text, "2.02 lb");
    assert_string_equal(starter->sum_text, "19.5 lb");
    assert_true(starter->portions.items[0].spreading->once);
    assert_string_equal(starter->portions.items[0].spreading->load, "12.94 lb");
    /* 10.939 fl oz in one tank is 10.9 to three digits; the zones share it as 7.2232, 2.5409 and 1.1359. */
    const struct material *seaweed = &list.items[1].materials.items[0];
    assert_string_equal(seaweed->portions.items[0].text, "7.23 fl oz");
    assert_null(seaweed->portions.items[0].each);
    assert_string_equal(seaweed->sum_text, "10.9 fl oz");
}

/* The largest portion decides for all: of 1.7 gal (1.70923 gal in one tank) 1.1266 on the north and 0.1772 on
 * the strip. */
static void test_one_unit_for_a_column(void **state)
{
    for (size_t i = 0; i < 3; i++)
        occurrence(1)->amounts.items[i].total *= 20;
    struct work_list list = work_list_of(&made.season);
    const struct material *seaweed = &list.items[1].materials.items[0];
    assert_string_equal(seaweed->portions.items[0].text, "1.127 gal");
    assert_string_equal(seaweed->portions.items[2].text, "0.177 gal");
}

static void test_one_tank(void **state)
{
    struct work_list list = work_list_of(&made.season);
    assert_int_equal(list.items[1].mix.full, 0);
    assert_true(fabs(list.items[1].mix.rest_m3 / GALLON - 3.64638) < 1e-5);
    assert_true(says(&list.items[1], "Mix 3.65 gal with 10.9 fl oz of seaweed, filled up with water."));
    assert_true(isnan(list.items[0].mix.volume_m3));
}

/* 3646.38 sqft at 2.5 gal per 1000 sqft: 9.116 gal. After two tanks of 4 gal only 1.116 gal would be left, so
 * the last two take 2.558 gal each; with 3 / 2.5 fl oz per gal 4.8 and 3.0696 fl oz, which is 3.06 to three
 * digits. */
static void test_several_tanks(void **state)
{
    made.backpack->output *= 2.5;
    struct work_list list = work_list_of(&made.season);
    assert_int_equal(list.items[1].mix.full, 1);
    assert_int_equal(list.items[1].mix.rest, 2);
    assert_true(says(&list.items[1],
                     "Mix 9.12 gal: 1 tank of 4 gal with 4.8 fl oz of seaweed; then 2 tanks of "
                     "2.56 gal, each with 3.06 fl oz of seaweed, filled up with water."));
}

/* A mix of exactly two tanks is not three. */
static void test_whole_tanks(void **state)
{
    made.backpack->tank_m3 =
        made.backpack->output * (made.north->area_m2 + made.south->area_m2 + made.strip->area_m2) / 2;
    struct work_list list = work_list_of(&made.season);
    assert_int_equal(list.items[1].mix.full, 2);
    assert_int_equal(list.items[1].mix.rest, 0);
}

/* The north takes 6.47 lb each way: 3 lb, and what is left in two alike but for the last digit. */
static void test_hopper_fills(void **state)
{
    made.broadcast->hopper_kg = 3 * LB;
    struct work_list list = work_list_of(&made.season);
    const struct portion *north = &list.items[0].materials.items[0].portions.items[0];
    assert_false(north->spreading->once);
    assert_int_equal(north->spreading->fills.full + north->spreading->fills.rest, 3);
    assert_string_equal(north->spreading->load, "a fill of 3 lb, then fills of 1.73 and 1.74 lb");
}

/* Half of 5.35714 lb, 2.67857, rounded down to the three digits that a dial can be set to. */
static void test_spreader(void **state)
{
    struct work_list list = work_list_of(&made.season);
    assert_true(says(&list.items[0],
                     "Set the spreader broadcast to 2.67 lb of starter per 1000 sqft, half the rate."));
    assert_true(
        says(&list.items[0], "Walk each zone twice, the second pass across the first, in lanes 8 ft apart."));
}

static void test_supply(void **state)
{
    struct work_list list = work_list_of(&made.season);
    assert_true(says(&list.items[0],
                     "Supplies 0.75 lb N (0.52 lb soluble), 1.07 lb P2O5, 0.53 lb K2O per 1000 sqft."));
}

static void slip_to(struct occurrence *occurrence, int alone, int latest, enum slip_end end)
{
    static struct slip slip;
    slip = (struct slip){.alone = occurrence->day + alone,
                         .latest = occurrence->day + latest,
                         .end = end,
                         .opens = occurrence->day + 100,
                         .check = "limit-per-period"};
    occurrence->slip = &slip;
}

static void assert_slip(int alone, int latest, enum slip_end end, const char *sentence)
{
    slip_to(occurrence(0), alone, latest, end);
    struct work_list list = work_list_of(&made.season);
    assert_true(says(&list.items[0], sentence));
}

static void test_slip(void **state)
{
    assert_slip(0, 7, SLIP_WINDOW, "Latest Sat 2027-04-17, if later work moves too.");
    assert_slip(1, 7, SLIP_SEASON, "Latest Sun 2027-04-11, or Sat 2027-04-17 if later work moves too.");
    assert_slip(1, 1, SLIP_CLOSED, "Latest Sun 2027-04-11; then closed until Mon 2027-07-19.");
    assert_slip(1, 1, SLIP_BROKEN, "Latest Sun 2027-04-11; a later day is an error: limit-per-period.");
    assert_slip(0, 0, SLIP_BROKEN, "No later day is possible; a later day is an error: limit-per-period.");
    assert_slip(0, 0, SLIP_WINDOW, "No later day is possible.");
    assert_slip(0, 0, SLIP_UNKNOWN, "The latest day is not known.");
    /* tonic is on the same day as spring-feed, whichever that is */
    slip_to(occurrence(1), 0, 0, SLIP_WINDOW);
    struct work_list list = work_list_of(&made.season);
    assert_true(says(&list.items[1], "Fixed day."));
}

/* used 13.1 lb of starter on north, 4.6 lb on south, 2.0 lb on strip: shown as written, not rounded down. */
static void record_spring_feed(void)
{
    static const double used[] = {13.1, 4.6, 2.0};
    struct occurrence *spring = occurrence(0);
    spring->done = true;
    spring->day = output_day(2027, 4, 17);
    for (size_t i = 0; i < 3; i++) {
        struct amount *amount = &spring->amounts.items[i];
        amount->recorded = true;
        amount->total = used[i] * LB;
        amount->rate = amount->mass_rate = amount->total / amount->zone->area_m2;
        double *supplied = ARENA_ARRAY(&made.arena, NUTRIENT_COUNT, double);
        for (size_t n = 0; n < NUTRIENT_COUNT; n++)
            supplied[n] = amount->rate * amount->product->content[n];
        amount->supplied = supplied;
    }
    output_season_order(&made);
}

/* By hand: 13.1 lb on 2416.38 sqft at 14 %: 0.759 lb N per 1000 sqft; 4.6 on 850: 0.7576; 2.0 on 380: 0.7368.
 */
static void test_record(void **state)
{
    record_spring_feed();
    struct work_list list = work_list_of(&made.season);
    const struct work *work = &list.items[1]; /* after tonic, which keeps its day here */
    assert_string_equal(work->headline, "spring-feed on reading-green: starter 19.7 lb, done");
    assert_string_equal(work->materials.items[0].portions.items[2].text, "2 lb");
    assert_true(isnan(work->materials.items[0].rate));
    assert_true(says(work, "Done; planned for Sat 2027-04-10."));
    assert_true(says(work, "Supplied 0.74 to 0.76 lb N (0.52 to 0.53 lb soluble), 1.05 to 1.08 lb P2O5, "
                           "0.53 to 0.54 lb K2O per 1000 sqft."));
    for (size_t i = 0; i < work->sentences.count; i++)
        assert_null(strstr(work->sentences.items[i], "Latest"));
}

static void test_skipped(void **state)
{
    const char *uid = work_list_of(&made.season).items[1].uid;
    occurrence(1)->skipped = true;
    assert_int_equal(work_list_of(&made.season).count, 4);
    struct work_list skipped = work_list_skipped(&made.season);
    assert_int_equal(skipped.count, 1);
    assert_string_equal(skipped.items[0].headline, "tonic on reading-green: north, south, strip, skipped");
    assert_string_equal(skipped.items[0].uid, uid);
}

static void test_uid_keeps_over_dates_and_editions(void **state)
{
    struct work_list before = work_list_of(&made.season);
    const char *spring = before.items[0].uid, *fall = before.items[3].uid;
    assert_string_not_equal(fall, before.items[4].uid);
    occurrence(0)->day += 1;
    made.model.edition = 7;
    output_season_order(&made);
    struct work_list after = work_list_of(&made.season);
    assert_string_equal(after.items[1].uid, spring);
    assert_string_equal(after.items[3].uid, fall);
    made.model.season_first = output_day(2028, 3, 1); /* next year's plan of the same title */
    struct work_list next = work_list_of(&made.season);
    assert_string_not_equal(next.items[3].uid, fall);
}

/* A second lawn's zone in the same treatment makes a second piece of work. */
static void test_work_by_lawn(void **state)
{
    struct lawn *verge = ARENA_NEW(&made.arena, struct lawn);
    verge->symbol = (struct symbol){.name = output_name(&made, "verge")};
    made.strip->lawn = verge;
    VECTOR_PUSH(&made.arena, &verge->zones, made.strip);
    struct work_list list = work_list_of(&made.season);
    assert_int_equal(list.count, 9);
    assert_string_equal(list.items[0].headline, "spring-feed on reading-green: starter 17.48 lb");
    assert_string_equal(list.items[1].headline, "spring-feed on verge: starter 2.02 lb");
    assert_string_not_equal(list.items[0].uid, list.items[1].uid);
}

static struct caution *caution_make(const char *name, const char *kind)
{
    struct caution *caution = ARENA_NEW(&made.arena, struct caution);
    caution->symbol = (struct symbol){.name = output_name(&made, name)};
    caution->text = name;
    if (kind)
        VECTOR_PUSH(&made.arena, &caution->kinds, output_name(&made, kind));
    VECTOR_PUSH(&made.arena, &made.model.cautions, caution);
    return caution;
}

static void test_cautions_by_kind(void **state)
{
    caution_make("sweep", "granular");
    caution_make("dry", "liquid");
    caution_make("lime", "lime");
    struct caution *stains = caution_make("stains", NULL);
    VECTOR_PUSH(&made.arena, &made.seaweed->cautions, stains);
    struct work_list list = work_list_of(&made.season);
    assert_int_equal(list.items[0].cautions.count, 1);
    assert_string_equal(list.items[0].cautions.items[0]->text, "sweep");
    assert_int_equal(list.items[1].cautions.count, 2);
    assert_string_equal(list.items[1].cautions.items[1]->text, "stains");
    assert_int_equal(list.items[2].cautions.count, 0);
    assert_int_equal(list.cautions.count, 3);
    caution_make("rust", "Fe"); /* a nutrient: whatever brings it */
    list = work_list_of(&made.season);
    assert_int_equal(list.items[0].cautions.count, 1);
    assert_string_equal(list.items[1].cautions.items[2]->text, "rust");
}

/* 2416.38 sqft at 0.25 in: 50.34 cu ft, of which 70 % are 1.3052 and 30 % 0.5594 cu yd; rounded up. */
static void test_layer(void **state)
{
    struct work_list list = work_list_of(&made.season);
    assert_true(says(&list.items[2],
                     "Lay 0.25 in of 60% compost and 40% sand: 1.12 cu yd of compost and 0.75 "
                     "cu yd of sand for 2416 sqft."));
}

int main(void)
{
#define TEST_OF(name) cmocka_unit_test_setup_teardown(name, season_setup, season_teardown)
    const struct CMUnitTest tests[] = {
        TEST_OF(test_order_and_headlines),
        TEST_OF(test_portions),
        TEST_OF(test_one_unit_for_a_column),
        TEST_OF(test_one_tank),
        TEST_OF(test_several_tanks),
        TEST_OF(test_whole_tanks),
        TEST_OF(test_hopper_fills),
        TEST_OF(test_spreader),
        TEST_OF(test_supply),
        TEST_OF(test_slip),
        TEST_OF(test_record),
        TEST_OF(test_skipped),
        TEST_OF(test_uid_keeps_over_dates_and_editions),
        TEST_OF(test_work_by_lawn),
        TEST_OF(test_cautions_by_kind),
        TEST_OF(test_layer),
    };
    return cmocka_run_group_tests_name("output_work", tests, NULL, NULL);
}
