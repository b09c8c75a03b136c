/* What statements do to the model: days, waits, lists of zones, records, files, the plan as a whole. */
#include "tests/unit/model_text.h"

#include "compiler/model/include.h"
#include "compiler/model/read.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define SQFT 0.09290304
#define SEASON "season 2027-03-01 to 2027-11-20\n"
#define GROUND "lawn l { zone a square 30 ft, zone b square 20 ft }\n"

/* ---- the reading green: the figures are those of the design, worked out by hand there ---- */

static const char *const green[] = {
    "plan \"Wrenfield reading green\"\nedition 1 on 2027-02-20\n" SEASON "units us\n",
    "lawn reading-green {\n    grass tall-fescue\n    soil loam\n"
    "    zone north rectangle 62 ft by 40 ft, less circle 9 ft across\n    zone south triangle 50 ft by 34 "
    "ft\n"
    "    zone strip offsets every 10 ft: 8 ft, 9.5 ft, 11 ft, 10 ft, 7 ft\n"
    "    zone bank area 640 sqft, 12 ft from water\n}\n",
    "soil-test 2027-02-12 {\n    of north, south, strip\n    method mehlich-3\n    depth 4 in\n"
    "    scale minimum-levels\n    results {\n        spot pH P ppm K ppm Mg ppm Fe ppm Zn ppm\n"
    "        gate 6.4 11 44 52 31 0.9\n        oak 6.3 13 40 49 28 0.8\n        bench 6.5 12 47 55 35 1.1\n  "
    "  }\n}\n",
    "product starter {\n    grade 14-20-10 granular\n    slow 30% of N\n    contains S 4%\n    pack 40 lb at "
    "31.00\n"
    "    label 2 to 6 lb per 1000 sqft, at least 42 days apart, at most 3 a year\n    heat below 85 F\n"
    "    water-in 0.25 in within 1 day\n}\n",
    "product seaweed {\n    grade 6-0-0 liquid, 10.6 lb per gal\n    contains Fe 5%, Mg 1%, Mn 0.5%\n    "
    "pack "
    "2.5 gal at 58.00\n"
    "    label 2 to 4 fl oz per 1000 sqft in 1 to 2 gal of water, at least 21 days apart\n    heat below 88 "
    "F\n    dry 4 h\n}\n",
    "spreader broadcast { width 8 ft, hopper 35 lb, passes 2 }\nsprayer backpack { tank 4 gal, output 1 gal "
    "per 1000 sqft }\n",
    "weather {\n    normals {\n        month high F low F rain in\n        Mar 54 34 3.6\n        Jul 86 66 "
    "4.4\n    }\n}\n",
    "limits {\n    at most 0.9 lb N per 1000 sqft per application\n    at most 0.7 lb soluble N per 1000 "
    "sqft per application\n"
    "    at most 3.2 lb N per 1000 sqft per year\n    at most 1.2 lb N per 1000 sqft in any 30 days\n"
    "    at least 28 days between N applications\n    no N, P2O5 from Nov 16 to Mar 1\n    no P2O5 without "
    "soil-test need\n"
    "    nothing within 10 ft of water\n    only on Sat, Sun\n}\n",
    "apply spring-feed {\n    to north, south, strip\n    when between Apr 10 and Apr 30\n"
    "    supply 0.75 lb N per 1000 sqft from starter\n    with broadcast\n}\n",
    "apply tonic {\n    to north, south, strip\n    when same day after spring-feed\n"
    "    rate 3 fl oz per 1000 sqft of seaweed\n    with backpack\n}\n",
    "apply fall-feed {\n    to north, south, strip\n    when every 6 weeks from Sep 4, 2 times\n"
    "    rate 4 lb per 1000 sqft of starter\n    with broadcast\n}\n",
    "task open-day { when on May 22 }\ntask topdress {\n    to north\n    when at least 7 days after "
    "open-day\n"
    "    lay 0.25 in of 60% compost, 40% sand\n}\ntask second-look { when 30 days after spring-feed }\n",
    "done spring-feed 2027-04-17 {\n    used 13.1 lb of starter on north, 4.6 lb on south, 2.0 lb on "
    "strip\n}\n",
    "allow unused-zone \"the bank is left to the wildflowers\"\n",
};
enum { GREEN_PARTS = sizeof green / sizeof *green };

/* The parts in the order that `order` draws; as written for 0. */
static void read_green(struct model_text *read, uint64_t order)
{
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer text = {.arena = &arena};
    size_t place[GREEN_PARTS];
    for (size_t i = 0; i < GREEN_PARTS; i++)
        place[i] = i;
    for (size_t i = GREEN_PARTS; order && i > 1; i--) {
        size_t other = drawn(&order, (uint32_t)i), kept = place[i - 1];
        place[i - 1] = place[other];
        place[other] = kept;
    }
    for (size_t i = 0; i < GREEN_PARTS; i++)
        buffer_add_string(&text, green[place[i]]);
    model_text_read(read, buffer_string(&text));
    arena_free(&arena);
}

static void check_green(const struct model_text *read)
{
    const double pi = 3.14159265358979323846;
    assert_int_equal(read->reports.errors, 0);
    assert_figure(model_text_zone(read, "north")->area_m2, (62 * 40 - pi * 4.5 * 4.5) * SQFT);
    assert_figure(model_text_zone(read, "south")->area_m2, 850 * SQFT);
    assert_figure(model_text_zone(read, "strip")->area_m2, 380 * SQFT);
    assert_figure(model_text_zone(read, "bank")->area_m2, 640 * SQFT);
    assert_figure(model_text_zone(read, "bank")->water_m, 12 * 0.3048);
    const struct product *starter = model_text_product(read, "starter");
    assert_figure(starter->content[NUTRIENT_SLOW_N], 0.042);
    assert_figure(starter->content[NUTRIENT_SOLUBLE_N], 0.098);
    const struct treatment *spring = model_text_treatment(read, "spring-feed");
    assert_int_equal(spring->whens.items[0].first, day_of_date((struct civil_date){2027, 4, 10}));
    assert_int_equal(spring->records.count, 1);
    assert_int_equal(spring->records.items[0]->uses.count, 3);
    assert_ptr_equal(model_text_treatment(read, "tonic")->whens.items[0].other, spring);
    assert_int_equal(read->model->soil_tests.items[0]->results.row_count, 3);
    size_t bound = 0;
    for (size_t i = 0; i < read->model->limits.count; i++)
        bound += read->model->limits.items[i]->set->bound && !read->model->limits.items[i]->set->always;
    assert_int_equal(bound, 9);
}

static void test_the_reading_green(void **state)
{
    struct model_text read;
    read_green(&read, 0);
    check_green(&read);
    model_text_free(&read);
}

static void test_any_order(void **state)
{
    for (uint64_t order = 1; order <= 200; order++) {
        struct model_text read;
        read_green(&read, order * 0x9E3779B97F4A7C15u);
        check_green(&read);
        model_text_free(&read);
    }
}

/* ---- days ---- */

static day_number day(int year, int month, int of_month)
{
    return day_of_date((struct civil_date){year, month, of_month});
}

/* The first day of `when on DAY` in a season; INT32_MIN where it is refused. */
static day_number day_meant(const char *season, const char *written)
{
    struct model_text read;
    struct arena arena;
    arena_init(&arena, NULL);
    model_text_read(&read, text_format(&arena, "season %s\ntask t { when on %s }\n", season, written));
    const struct treatment *treatment = model_text_treatment(&read, "t");
    day_number found = treatment->whens.count ? treatment->whens.items[0].first : INT32_MIN;
    assert_int_equal(found == INT32_MIN, read.reports.errors > 0);
    model_text_free(&read);
    arena_free(&arena);
    return found;
}

static void test_days_without_a_year(void **state)
{
    assert_int_equal(day_meant("2027-03-01 to 2027-11-20", "Apr 17"), day(2027, 4, 17));
    assert_int_equal(day_meant("2027-03-01 to 2027-11-20", "Mar 1"), day(2027, 3, 1));
    assert_int_equal(day_meant("2027-03-01 to 2027-11-20", "Nov 20"), day(2027, 11, 20));
    /* outside the season: the year it begins in */
    assert_int_equal(day_meant("2027-03-01 to 2027-11-20", "Jan 5"), day(2027, 1, 5));
    assert_int_equal(day_meant("2027-03-01 to 2027-11-20", "Dec 5"), day(2027, 12, 5));
    /* over the turn of the year */
    assert_int_equal(day_meant("2027-10-01 to 2028-05-31", "Nov 5"), day(2027, 11, 5));
    assert_int_equal(day_meant("2027-10-01 to 2028-05-31", "Jan 5"), day(2028, 1, 5));
    assert_int_equal(day_meant("2027-10-01 to 2028-05-31", "Feb 29"), day(2028, 2, 29));
    assert_int_equal(day_meant("2027-10-01 to 2028-05-31", "Jul 4"), day(2027, 7, 4));
    assert_int_equal(day_meant("2027-03-01 to 2027-11-20", "Feb 29"), INT32_MIN);
    /* a season of more than a year: the first such day */
    assert_int_equal(day_meant("2027-03-01 to 2029-11-20", "Apr 17"), day(2027, 4, 17));
    assert_int_equal(day_meant("2027-06-01 to 2029-11-20", "Apr 17"), day(2028, 4, 17));
    assert_int_equal(day_meant("2027-03-01 to 2027-11-20", "2030-01-01"), day(2030, 1, 1));
}

static void test_windows(void **state)
{
    assert_errors(SEASON "task t { when between Apr 30 and Apr 10 }\n", "2:10 value");
    assert_errors(SEASON "task t { when between Apr 10 and Apr 10 }\n", "");
    assert_errors("season 2027-10-01 to 2028-05-31\ntask t { when between Nov 10 and Jan 10 }\n", "");
    assert_errors(SEASON "task t { when every 2 weeks from Sep 4 until Sep 3 }\n", "2:10 value");
    assert_errors(SEASON
                  "task t { when every 2 weeks from Sep 4, 2 times\n when every 3 weeks from Apr 4, 2 times\n"
                  " when every 4 weeks from Apr 4, 2 times }\n"
                  "task u { when every 2 weeks from Sep 4, 2 times }\n",
                  "3:2 repeated\n4:2 repeated");
    assert_errors("season 2027-11-20 to 2027-03-01\n", "1:1 value");
    assert_errors("season 2027-01-01 to 2031-01-01\n", "1:1 value");
    assert_errors("season 2027-01-01 to 2027-01-01\n", "");
    assert_errors(SEASON "limits { no N from 2027-11-16 to Mar 1 }\n", "2:10 date");
    assert_errors(SEASON "limits { no N from Nov 16 to Mar 1, nothing from 2027-07-01 to 2027-07-09 }\n", "");
}

/* A wait is never too short, a bound never too late. */
static void test_whole_days(void **state)
{
    static const struct {
        double number;
        bool calendar;
        int least, most, months;
    } samples[] = {
        {86400, false, 1, 1, 0},
        {4 * 3600.0, false, 1, 0, 0},
        {36 * 3600.0, false, 2, 1, 0},
        {42 * 86400.0, false, 42, 42, 0},
        {86400 * (1 + 1e-12), false, 1, 1, 0},
        {2, true, 0, 0, 2},
        {12, true, 0, 0, 12},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct value value = {.number = samples[i].number, .calendar = samples[i].calendar};
        struct duration least = duration_of_time(&value, false), most = duration_of_time(&value, true);
        assert_int_equal(least.days, samples[i].least);
        assert_int_equal(most.days, samples[i].most);
        assert_int_equal(least.months, samples[i].months);
        assert_int_equal(most.months, samples[i].months);
        assert_int_equal(days_of_time(&value), samples[i].least + 31 * samples[i].months);
    }
}

static void test_whens(void **state)
{
    struct model_text read;
    model_text_read(
        &read, SEASON
        "task other { when on Apr 3 }\n"
        "task t {\n when at least 2 weeks after other\n when within 1 month after other\n"
        " when after other\n when before other\n when 3 days before other\n when same day after other\n"
        " when every 2 months from Apr 4 until Oct 1\n}\n");
    assert_string_equal(model_text_errors(&read), "");
    const struct treatment *treatment = model_text_treatment(&read, "t");
    static const struct {
        enum when_kind kind;
        int days, months;
    } wanted[] = {
        {WHEN_AT_LEAST_AFTER, 14, 0}, {WHEN_WITHIN, 0, 1},         {WHEN_AT_LEAST_AFTER, 1, 0},
        {WHEN_AT_LEAST_BEFORE, 1, 0}, {WHEN_EXACTLY_BEFORE, 3, 0}, {WHEN_SAME_DAY, 0, 0},
        {WHEN_EVERY, 0, 2},
    };
    assert_int_equal(treatment->whens.count, sizeof wanted / sizeof *wanted);
    for (size_t i = 0; i < treatment->whens.count; i++) {
        const struct when *when = &treatment->whens.items[i];
        assert_int_equal(when->kind, wanted[i].kind);
        assert_int_equal(when->wait.days, wanted[i].days);
        assert_int_equal(when->wait.months, wanted[i].months);
    }
    model_text_free(&read);
    assert_errors(SEASON "task t { when after t }\n", "2:21 value");
}

/* ---- lists of zones ---- */

static void test_zones(void **state)
{
    struct model_text read;
    model_text_read(
        &read, SEASON
        "lawn l { zone a square 3 m, zone b square 3 m }\nlawn m { zone c square 3 m, zone l square 3 m }\n"
        "task t { to b, m, b, a, c\n when on Apr 3 }\n"
        "soil-test 2027-02-02 { of m, a, m\n method x\n results {\n spot pH\n s 6\n}\n}\n");
    assert_string_equal(model_text_errors(&read), "");
    const struct treatment *treatment = model_text_treatment(&read, "t");
    static const char *const wanted[] = {"b", "c", "l", "a"}; /* each once, a lawn for all of its zones */
    assert_int_equal(treatment->zones.count, 4);
    for (size_t i = 0; i < 4; i++)
        assert_true(text_is(treatment->zones.items[i]->symbol.name->text, wanted[i]));
    assert_int_equal(read.model->soil_tests.items[0]->zones.count, 3);
    model_text_free(&read);
    assert_errors(SEASON "lawn l { grass tall-fescue }\n", "2:1 missing");
    /* a zone and a lawn of one name are two readings, but where the zone is all of the lawn */
    assert_errors(SEASON "lawn l { zone a square 3 m, zone l square 3 m }\ntask u { to l\n when on Apr 3 }\n",
                  "3:13 name-of-two");
    assert_errors(SEASON "lawn l { zone l square 3 m }\ntask u { to l\n when on Apr 3 }\n", "");
}

/* ---- what is missing, misplaced, too much ---- */

static void test_missing(void **state)
{
    assert_errors("", "1:1 empty-plan");
    assert_errors("# nothing but a comment\n", "1:1 empty-plan");
    assert_errors("\xef\xbb\xbf\n", "1:1 empty-plan");
    assert_errors("@\n", "1:1 character");
    assert_errors("task t { when on Apr 3 }\n", "1:1 missing");
    assert_errors("product p { }\n", "");
    assert_errors(GROUND "soil-test 2027-02-02 { of a }\n", "2:1 missing\n2:1 missing");
    assert_errors(GROUND "soil-test 2027-02-02 { of a\n method x\n results {\n spot pH\n gate 6\n }\n }\n",
                  "");
}

static void test_records(void **state)
{
    struct model_text read;
    model_text_read(
        &read, SEASON GROUND
        "product p { grade 14-0-0 granular }\n"
        "apply x { to a, b\n when every 2 weeks from Apr 3, 3 times\n rate 4 lb per 1000 sqft of p }\n"
        "done x 2027-04-03 {\n used 3 lb of p on a, 2 lb on b\n note \"a light shower after\"\n}\n"
        "skipped x 2 \"too dry\"\ndone x 2027-05-01 { time 3 }\n");
    assert_string_equal(model_text_errors(&read), "");
    const struct treatment *treatment = model_text_treatment(&read, "x");
    assert_int_equal(treatment->records.count, 3);
    const struct record *first = treatment->records.items[0], *second = treatment->records.items[1];
    assert_figure(first->uses.items[0].amount, 3 * 0.45359237);
    assert_ptr_equal(first->uses.items[1].product, model_text_product(&read, "p"));
    assert_ptr_equal(first->uses.items[1].zone, model_text_zone(&read, "b"));
    assert_true(second->skipped);
    assert_int_equal(second->time, 2);
    assert_string_equal(second->why, "too dry");
    assert_int_equal(treatment->records.items[2]->time, 3);
    model_text_free(&read);
    assert_errors(SEASON GROUND "apply x { to a\n when on Apr 3 }\ndone x 2027-04-03 { used 3 lb on a }\n",
                  "5:21 form");
    assert_errors(SEASON GROUND
                  "apply x { to a\n when on Apr 3 }\ndone x 2027-04-03 { used 3 lb of q on a, 2 lb on b }\n",
                  "5:34 unknown-name"); /* said once, not for each further zone */
    assert_errors(SEASON "done x 2027-04-03\nskipped y\n", "2:6 unknown-name\n3:9 unknown-name");
}

/* ---- files ---- */

static void write_file(const char *path, const char *text)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

/* Errors of a plan that uses `shop`, each with the file it is in. */
static void check_files(const char *plan, const char *shop, const char *errors)
{
    char folder[] = "/tmp/prill-read.XXXXXX", path[64], shop_path[64];
    assert_non_null(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/plan.prill", folder);
    snprintf(shop_path, sizeof shop_path, "%s/shop.prill", folder);
    write_file(path, plan);
    write_file(shop_path, shop);
    struct model_text read = {0};
    arena_init(&read.arena, NULL);
    names_init(&read.names, &read.arena);
    reports_init(&read.reports, &read.arena);
    struct sources *sources = sources_new(&read.arena, NULL, NULL);
    struct source *source;
    const char *reason;
    assert_int_equal(sources_open_plan(sources, path, NULL, &source, &reason), SOURCE_READ);
    read.model = model_build(&read.arena, &read.names, &read.reports, sources, source);
    reports_sort(&read.reports);
    remove(path);
    remove(shop_path);
    remove(folder);
    struct buffer found = {.arena = &read.arena};
    for (size_t i = 0; i < read.reports.all.count; i++) {
        const struct report *report = read.reports.all.items[i];
        struct position at = source_position(report->place.source, report->place.start);
        buffer_format(&found, "%s%s:%u %s", i ? ", " : "", strrchr(report->place.source->path, '/') + 1,
                      at.line, report->rule->name);
    }
    assert_string_equal(buffer_string(&found), errors);
    model_text_free(&read);
}

static void test_use(void **state)
{
    static const char shop[] = "product p { grade 14-0-0 granular }\n";
    static const char apply[] = GROUND "apply x { to a\n when on Apr 3\n rate 4 lb per 1000 sqft of p }\n";
    struct arena arena;
    arena_init(&arena, NULL);
    check_files(text_format(&arena, SEASON "use \"shop.prill\"\n%s", apply), shop, "");
    check_files(text_format(&arena, SEASON "%suse \"shop.prill\"\nuse \"shop.prill\"\n", apply), shop, "");
    check_files(text_format(&arena, SEASON "use \"shop.prill\"\n%sproduct p { }\n", apply), shop,
                "plan.prill:7 duplicate-name");
    /* what describes the season stands in the plan itself */
    check_files(
        SEASON "use \"shop.prill\"\n",
        "units us\nplan \"y\"\n" SEASON "edition 1 on 2027-02-20\nuse \"plan.prill\"\n",
        "shop.prill:1 misplaced, shop.prill:2 misplaced, shop.prill:3 misplaced, shop.prill:4 misplaced, "
        "shop.prill:5 use-cycle");
    check_files(SEASON "use \"shop.prill\"\n" GROUND, "product p {\n grade 14\n}\n@\n",
                "shop.prill:2 form, shop.prill:4 character");
    assert_errors("use \"shop.prill\"\n" SEASON, "1:5 use-missing"); /* nothing is opened for a sealed text */
    arena_free(&arena);
}

static void test_head(void **state)
{
    struct model_text read;
    model_text_read(
        &read,
        "plan \"x\"\nedition 3 on 2027-02-20\n" SEASON "units metric\ncurrency \"crowns\"\n"
        "remind 2 days before at 18:30\nallow unused-zone for bank \"left\"\nallow few-spots \"so be it\"\n");
    assert_string_equal(model_text_errors(&read), "");
    const struct model *model = read.model;
    assert_string_equal(model->title, "x");
    assert_int_equal(model->edition, 3);
    assert_int_equal(model->edition_day, day(2027, 2, 20));
    assert_true(model->metric && model->has_reminder);
    assert_int_equal(model->reminder_days, 2);
    assert_int_equal(model->reminder_minutes, 18 * 60 + 30);
    assert_string_equal(model->currency, "crowns");
    assert_int_equal(model->allowances.count, 2);
    assert_true(text_is(model->allowances.items[0]->subject->text, "bank"));
    assert_null(model->allowances.items[1]->subject);
    model_text_free(&read);
}

static void test_limits(void **state)
{
    struct model_text read;
    model_text_read(
        &read, SEASON GROUND
        "limits { for a\n at most 2 lb P per 1000 sqft per year\n at least 14 days between lime and N }\n"
        "limits by-law { nothing within 15 ft of water\n basis law }\nlimits other { nothing within 1 ft of "
        "water }\n"
        "follow by-law\n");
    assert_string_equal(model_text_errors(&read), "");
    size_t count = read.model->limits.count;
    struct limit *const *own = &read.model->limits.items[count - 4];
    assert_int_equal(own[0]->kind, LIMIT_PER_YEAR);
    assert_string_equal(own[0]->nutrient->name, "P");
    assert_true(own[0]->set->bound && own[0]->set->places.count == 1);
    assert_int_equal(own[1]->kind, LIMIT_WAIT_BETWEEN);
    assert_null(own[1]->first.nutrient);
    assert_true(text_is(own[1]->first.kind->text, "lime"));
    assert_int_equal(own[1]->second.nutrient->nutrient, NUTRIENT_N);
    assert_true(own[2]->set->bound && own[2]->set->basis == BASIS_LAW);
    assert_false(own[3]->set->bound);
    model_text_free(&read);
}

/* ---- plans that have gone through a mill ---- */

/* Changed by a few bytes or lines, a plan is read to its end, and its reports lie within it. */
static void test_mutated(void **state)
{
    uint64_t seed = 0x2545F4914F6CDD1Du;
    for (int round = 0; round < 1500; round++) {
        struct arena arena;
        arena_init(&arena, NULL);
        struct buffer text = {.arena = &arena};
        for (size_t i = 0; i < GREEN_PARTS; i++)
            if (drawn(&seed, 20))
                buffer_add_string(&text, green[i]);
        for (uint32_t i = drawn(&seed, 6); text.length && i > 0; i--) {
            size_t at = drawn(&seed, (uint32_t)text.length);
            static const char bytes[] = " \n{}(),:\"#4-./%<@xN\xff\x01\xc2";
            size_t length = drawn(&seed, 30);
            length = length < text.length - at ? length : text.length - at;
            if (drawn(&seed, 2)) {
                text.string[at] = bytes[drawn(&seed, sizeof bytes)]; /* the NUL at its end included */
            } else {
                memmove(text.string + at, text.string + at + length, text.length - at - length);
                text.length -= length;
            }
        }
        struct model_text read;
        model_text_read_bytes(&read, (struct text){buffer_string(&text), text.length});
        for (size_t i = 0; i < read.reports.all.count; i++) {
            const struct report *report = read.reports.all.items[i];
            place_text(report->place);
            for (size_t k = 0; k < report->labels.count; k++)
                place_text(report->labels.items[k].place);
            for (size_t k = 0; report->fix && k < report->fix->edit_count; k++)
                place_text(report->fix->edits[k].place);
            assert_true(report->sentence[0] != '\0');
        }
        model_text_free(&read);
        arena_free(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_reading_green),
        cmocka_unit_test(test_any_order),
        cmocka_unit_test(test_days_without_a_year),
        cmocka_unit_test(test_windows),
        cmocka_unit_test(test_whole_days),
        cmocka_unit_test(test_whens),
        cmocka_unit_test(test_zones),
        cmocka_unit_test(test_missing),
        cmocka_unit_test(test_records),
        cmocka_unit_test(test_use),
        cmocka_unit_test(test_head),
        cmocka_unit_test(test_limits),
        cmocka_unit_test(test_mutated),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
