/* Small random plans, dated by the season and by trying every day for every occurrence. */
#include "tests/unit/season_trial.h"
#include "tests/unit/tiny_season.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { PLANS = 2400, SEASON_DAYS = 10, DAYS_BEFORE = 12, DAYS_AFTER = 18 };

/* How often each outcome came up: many plans of one kind would test little. */
struct tally {
    int dated, contradictory, unordered, recorded, moved, kept_apart, slipping, parts, beyond;
};

static const char *pick(uint64_t *seed, const char *const *choices, int32_t count)
{
    return choices[tiny_between(seed, 0, count - 1)];
}

static void write_limits(struct buffer *plan, uint64_t *seed)
{
    static const char *const closing[] = {
        "only on Sat, Sun, Tue, Wed", "no N from Mar 3 to Mar 4", "nothing from Mar 6 to Mar 6",
        "for south\n no K2O from Mar 2 to Mar 5", "only on Mon, Tue, Wed, Thu, Fri"};
    static const char *const first[] = {"lime", "K2O"}, *const second[] = {"N", "dig", "lime"};
    if (tiny_between(seed, 0, 2) == 0)
        buffer_format(plan, "limits {\n %s\n}\n", pick(seed, closing, 5));
    static const char *const orders[] = {"lime, N", "N, dig", "dig, K2O, lime", "K2O, N"};
    int wait = tiny_between(seed, 1, 4), other_wait = tiny_between(seed, 1, 4);
    const char *one = pick(seed, first, 2), *other = pick(seed, second, 3);
    if (tiny_between(seed, 0, 1) == 0)
        buffer_format(plan, "limits {\n at least %d days between N applications\n}\n", wait);
    if (tiny_between(seed, 0, 1) == 0)
        buffer_format(plan, "limits {\n at least %d days between %s and %s\n}\n", other_wait, one, other);
    one = pick(seed, first, 2), other = pick(seed, second, 3);
    if (tiny_between(seed, 0, 4) == 0)
        buffer_format(plan, "limits {\n at least %d days from %s to %s\n}\n", wait, one, other);
    one = pick(seed, second, 3), other = pick(seed, first, 2);
    if (tiny_between(seed, 0, 4) == 0)
        buffer_format(plan, "limits {\n within %d days from %s to %s\n}\n", other_wait, one, other);
    if (tiny_between(seed, 0, 5) == 0)
        buffer_format(plan, "limits {\n order %s\n}\n", pick(seed, orders, 4));
}

static void write_window(struct buffer *plan, uint64_t *seed)
{
    int first = tiny_between(seed, 1, SEASON_DAYS), last = tiny_between(seed, first, SEASON_DAYS + 1);
    int kind = tiny_between(seed, 0, 4);
    if (kind == 0)
        buffer_format(plan, "when on Mar %d\n", first);
    else if (kind <= 2)
        buffer_format(plan, "when between Mar %d and Mar %d\n", first, last);
    else if (kind == 3)
        buffer_format(plan, "when from Mar %d\n", first);
    else
        buffer_format(plan, "when by Mar %d\n", last);
}

static void write_relation(struct buffer *plan, uint64_t *seed, int other)
{
    static const char *const plain[] = {"same day after", "same day after", "after", "before"};
    static const char *const before[] = {"at least ", "at least ", "within ", "", ""};
    static const char *const after[] = {"after", "before", "after", "after", "before"};
    int kind = tiny_between(seed, 0, 8), wait = tiny_between(seed, 1, 4);
    if (kind < 4)
        buffer_format(plan, "when %s t%d\n", plain[kind], other);
    else
        buffer_format(plan, "when %s%d days %s t%d\n", before[kind - 4], wait, after[kind - 4], other);
}

static const char *const zones[] = {"north", "south", "north, south"};

/* Returns where it goes, an index into `zones`; -1: everywhere. */
static int write_treatment(struct buffer *plan, uint64_t *seed, int index, int count, bool every)
{
    static const char *const products[] = {"rate 1 kg per 100 m2 of meal", "rate 1 kg per 100 m2 of chalk",
                                           "rate 1 kg per 100 m2 of blend",
                                           "rate 1 kg per 100 m2 of meal\nrate 1 kg per 100 m2 of chalk"};
    bool task = tiny_between(seed, 0, 3) == 0;
    int where = !task || tiny_between(seed, 0, 1) ? tiny_between(seed, 0, 2) : -1;
    buffer_format(plan, "%s t%d {\n", task ? "task" : "apply", index);
    if (where >= 0)
        buffer_format(plan, "to %s\n", zones[where]);
    if (!task)
        buffer_format(plan, "%s\n", pick(seed, products, 4));
    else if (tiny_between(seed, 0, 1))
        buffer_add_string(plan, "kind dig\n");
    int period = tiny_between(seed, 1, 4), first = tiny_between(seed, 1, 6);
    if (every)
        buffer_format(plan, "when every %d days from Mar %d, 2 times\n", period, first);
    else if (tiny_between(seed, 0, 2))
        write_window(plan, seed);
    int other = tiny_between(seed, 0, count - 1);
    if (other != index && tiny_between(seed, 0, 2) == 0)
        write_relation(plan, seed, other);
    buffer_add_string(plan, "}\n");
    return where;
}

/* What the record of treatment `index` tells: nothing, a part by zone, or what was used. */
static void write_done(struct buffer *plan, uint64_t *seed, int index, int where)
{
    static const char *const tells[] = {"used 1 kg of meal on north", "used 1 kg of chalk on south",
                                        "used 1 kg of blend on north, 1 kg on south"};
    int kind = tiny_between(seed, 0, 5), day = tiny_between(seed, 1, SEASON_DAYS);
    const char *use = pick(seed, tells, 3);
    buffer_format(plan, "done t%d 2027-03-%02d", index, day);
    if (kind == 0)
        buffer_format(plan, " {\n %s\n}", use);
    else if (kind == 1 && where >= 0)
        buffer_format(plan, " {\n part on %s\n}", zones[where == 2 ? tiny_between(seed, 0, 1) : where]);
    else if (kind == 2 && where >= 0)
        buffer_format(plan, " {\n part\n %s\n}", use);
    buffer_add_string(plan, "\n");
}

static void write_records(struct buffer *plan, uint64_t *seed, int count, const int *where)
{
    for (int i = 0; i < count; i++) {
        int times = tiny_between(seed, 0, 4) ? 0 : tiny_between(seed, 1, 2);
        for (int j = 0; j < times; j++)
            write_done(plan, seed, i, where[i]);
        if (tiny_between(seed, 0, 11) == 0)
            buffer_format(plan, "skipped t%d\n", i);
    }
}

static const char *write_plan(struct arena *arena, uint64_t *seed)
{
    struct buffer plan = {.arena = arena};
    int count = tiny_between(seed, 2, 4), every = tiny_between(seed, 0, 7);
    buffer_format(&plan,
                  "season 2027-03-01 to 2027-03-%d\n"
                  "lawn green {\n zone north area 100 m2\n zone south area 100 m2\n}\n"
                  "product meal {\n grade 10-0-0 granular\n}\n"
                  "product chalk {\n kind lime\n contains Ca 30%%\n label at least 3 days apart\n}\n"
                  "product blend {\n grade 5-0-5 granular\n kind lime\n}\n",
                  SEASON_DAYS);
    write_limits(&plan, seed);
    int where[4];
    for (int i = 0; i < count; i++)
        where[i] = write_treatment(&plan, seed, i, count, i == every);
    if (tiny_between(seed, 0, 1))
        write_records(&plan, seed, count, where);
    return buffer_string(&plan);
}

/* ---- comparing ---- */

static day_number capped(const struct season *season, day_number day, day_number latest)
{
    day_number end = season->model->season_last > day ? season->model->season_last : day;
    return latest < end ? latest : end;
}

static void compare_occurrence(struct trial *trial, int index, struct tally *tally)
{
    const struct season *season = trial->season;
    const struct occurrence *occurrence = &season->occurrences.items[index];
    if (!trial->live[index]) {
        assert_false(occurrence->dated);
        return;
    }
    assert_true(occurrence->dated);
    assert_int_equal(occurrence->day, trial->first + trial->least[index]);
    assert_int_equal(occurrence->latest_by_dates,
                     capped(season, occurrence->day, trial->first + trial->greatest[index]));
    tally->moved += occurrence->planned != occurrence->day;
    tally->parts += occurrence->share == SHARE_PART;
    tally->beyond += occurrence->share == SHARE_BEYOND;
    tally->slipping += occurrence->latest_by_dates != occurrence->day;
}

static bool any_record(const struct season *season)
{
    for (size_t i = 0; i < season->occurrences.count; i++)
        if (season->occurrences.items[i].record)
            return true;
    return false;
}

static void compare_planned(const struct season *season, const struct trial *plan)
{
    for (int i = 0; i < plan->count; i++)
        if (plan->live[i])
            assert_int_equal(season->occurrences.items[i].planned, plan->first + plan->least[i]);
}

/* Where not everything has a day, what has one has it as if the rest were not there. */
static void compare_rest(struct trial *trial)
{
    for (int i = 0; i < trial->count; i++)
        trial->left_out[i] = !trial->season->occurrences.items[i].dated;
    trial_again(trial);
    assert_true(trial->found);
    for (int i = 0; i < trial->count; i++)
        if (!trial->left_out[i])
            assert_int_equal(trial->season->occurrences.items[i].day, trial->first + trial->least[i]);
}

static void compare(const struct season *season, struct tally *tally)
{
    day_number first = season->model->season_first - DAYS_BEFORE;
    int days = DAYS_BEFORE + SEASON_DAYS + DAYS_AFTER;
    static struct trial trial, plan;
    bool ordered = trial_run(&trial, season, true, first, days);
    if (trial_run(&plan, season, false, first, days) && plan.found)
        compare_planned(season, &plan);
    tally->recorded += any_record(season);
    tally->unordered += !ordered;
    tally->contradictory += ordered && !trial.found;
    if (!trial.found) {
        assert_false(season->dated);
        if (ordered)
            compare_rest(&trial);
        return;
    }
    tally->dated++;
    tally->kept_apart += trial.constraint_count > trial.own_count;
    assert_true(season->dated);
    for (int i = 0; i < trial.count; i++)
        compare_occurrence(&trial, i, tally);
}

/* Printed when a comparison fails: cmocka leaves the test by a jump. */
static const char *plan_at_hand;

static int tell_plan(void **state)
{
    if (plan_at_hand)
        print_error("the plan at hand:\n%s", plan_at_hand);
    return 0;
}

static void test_random_plans(void **state)
{
    uint64_t seed = 20270410;
    struct tally tally = {0};
    for (int i = 0; i < PLANS; i++) {
        struct season_text read;
        struct arena arena;
        arena_init(&arena, NULL);
        const char *plan = write_plan(&arena, &seed);
        season_text_read(&read, plan);
        plan_at_hand = plan;
        compare(read.season, &tally);
        season_text_free(&read);
        plan_at_hand = NULL;
        arena_free(&arena);
    }
    print_message(
        "%d dated, %d contradictory, %d of which no order is known; %d with records, %d moved by them; "
        "%d with waits; %d can slip; %d parts, %d beyond the plan\n",
        tally.dated, tally.contradictory + tally.unordered, tally.unordered, tally.recorded, tally.moved,
        tally.kept_apart, tally.slipping, tally.parts, tally.beyond);
    assert_true(tally.parts > PLANS / 50 && tally.beyond > PLANS / 50);
    assert_true(tally.dated > PLANS / 3 && tally.contradictory > PLANS / 50 && tally.moved > PLANS / 50);
    assert_true(tally.recorded > PLANS / 5 && tally.kept_apart > PLANS / 5 && tally.slipping > PLANS / 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test_teardown(test_random_plans, tell_plan)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
