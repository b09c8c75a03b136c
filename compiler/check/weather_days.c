/* The weather that treatments wait for and limits ask for, looked at on the day; what was done on a day whose
 * weather was measured; and what such dates rest on. */
#include "compiler/check/checking.h"
#include "compiler/season/weather_text.h"

#include <math.h>

struct weather_rule { /* a condition, and whose it is */
    const struct watch *watch;
    const struct weather_condition *condition;
    struct place place;
    const struct limit *limit;     /* NULL of a `when` or a product */
    const struct product *product; /* NULL of a `when`, and of a limit where it is all the same */
};

/* ---- a day on which it is broken ---- */

/* Once for a statement and day. */
static void report_broken(struct checking *checking, const struct occurrence *occurrence,
                          const struct weather_rule *rule, const struct weather_look *look)
{
    const struct treatment *treatment = occurrence->treatment;
    enum check_id id = occurrence->done ? CHECK_RECORD_WEATHER : CHECK_WEATHER_DAY;
    uint64_t key = (uint64_t)rule->place.start << 32 | (uint32_t)occurrence->day;
    if (!finding_once(checking, id, occurrence_place(occurrence), key))
        return;
    struct report *report = limit_finding(
        checking, rule->limit, id,
        ABOUT(&treatment->symbol, rule->product ? &rule->product->symbol : &treatment->symbol),
        occurrence_place(occurrence), "%s %s on %s; %s", name_string(treatment->symbol.name),
        occurrence->done ? "was done" : "is planned", display_date(checking->arena, occurrence->day),
        weather_text_on(checking->arena, checking->model, rule->condition, look, occurrence->day));
    if (rule->limit)
        limit_label(checking, report, rule->limit);
    else
        report_label(checking->model->reports, report, rule->place, "`%s`",
                     place_words(checking->arena, rule->place));
    struct place place = weather_place(&checking->model->weather, look, occurrence->day);
    report_label(checking->model->reports, report, place, "the weather of that day");
}

/* ---- a day of which nothing is known, or little ---- */

/* A date that rests on monthly means: of degree days, or of a last or first frost. */
static void report_of_normals(struct checking *checking, enum check_id id,
                              const struct occurrence *occurrence, const struct weather_rule *rule,
                              const struct weather_look *look)
{
    bool frost = id == CHECK_FROST_OF_NORMALS;
    if (!finding_once(checking, id, rule->place, 0))
        return;
    const char *name = name_string(occurrence->treatment->symbol.name);
    const char *date = display_date(checking->arena, occurrence->day);
    struct report *report = finding_add(
        checking, id, ABOUT(&occurrence->treatment->symbol), rule->place, "%s",
        frost ? text_format(checking->arena,
                            "%s on %s is based on monthly mean lows; single nights can still freeze", name,
                            date)
              : text_format(checking->arena,
                            "%s is dated by degree days of the normals; most years reach them before %s",
                            name, date));
    struct place place = weather_place(&checking->model->weather, look, occurrence->day);
    if (place.source)
        report_label(checking->model->reports, report, place, "the normals");
    report_help(checking->model->reports, report,
                "name a history%s in the `weather` block: `from \"FILE.csv\"`",
                frost ? " of several years" : "");
}

/* ---- looking ---- */

/* The statements that would settle what is not known. */
static const char NORMALS_HELP[] =
    "state `normals` in a `weather` block, with high and low of every month it goes through";
static const char *const settling[] = {
    [WEATHER_HIGH] = NORMALS_HELP,
    [WEATHER_LOW] = NORMALS_HELP,
    [WEATHER_MEAN] = NORMALS_HELP,
    [WEATHER_DEGREE_DAYS] = NORMALS_HELP,
    [WEATHER_SOIL] =
        "state `normals` in a `weather` block, with high and low, or soil temperature as measured",
    [WEATHER_RAIN] = ("name a forecast with a column of rain, or say in how many years it must hold, for "
                      "example: when dry for 2 days, 7 years in 10")};

/* Rain is known for a few days ahead only: a limit on rain is reported once where no file has rain, and where
 * the forecast ends within the days that the limit looks at. A limit of a set that binds every plan is not
 * reported: it counts where something is known. */
static void report_unknown(struct checking *checking, const struct occurrence *occurrence,
                           const struct weather_rule *rule, bool partly)
{
    const struct weather *weather = &checking->model->weather;
    bool rain = rule->condition->quantity == WEATHER_RAIN;
    if ((rule->limit && rule->limit->set->always) ||
        (rain && rule->limit && weather->forecast.rows.count && !partly) ||
        !finding_once(checking, CHECK_NO_NORMALS, rule->place, 0))
        return;
    struct report *report = finding_add(
        checking, CHECK_NO_NORMALS, ABOUT(&occurrence->treatment->symbol), rule->place,
        "%s weather data to check `%s` for %s on %s", partly ? "too little" : "no",
        place_words(checking->arena, rule->place), name_string(occurrence->treatment->symbol.name),
        display_date(checking->arena, occurrence->day));
    if (weather->stated)
        report_label(checking->model->reports, report, weather->place, "the weather the plan states");
    report->help = partly ? "name weather files that cover all the days it looks at"
                   : rain && (rule->limit || rule->condition->years)
                       ? "name a forecast with a column of rain: `forecast from \"FILE.csv\"`"
                       : settling[rule->condition->quantity];
}

/* Of a record only what was measured is held against it; of what is planned also what its day rests on. */
static void look(struct checking *checking, const struct occurrence *occurrence,
                 const struct weather_rule *rule)
{
    struct weather_look look = watch_day(rule->watch, occurrence->day);
    const struct weather_condition *condition = rule->condition;
    const struct weather *weather = &checking->model->weather;
    bool expected = !look.by_years && look.origin == READING_EXPECTED;
    bool counts = !occurrence->done || (look.origin == READING_MEASURED && !look.by_years);
    if (look.verdict == VERDICT_BROKEN && counts)
        report_broken(checking, occurrence, rule, &look);
    if (occurrence->done || look.verdict == VERDICT_BROKEN)
        return;
    if (look.verdict == VERDICT_UNKNOWN)
        report_unknown(checking, occurrence, rule, look.origin != READING_NONE);
    else if (look.by_years && look.odds.known < condition->of) {
        if (!finding_once(checking, CHECK_FEW_YEARS, rule->place, 0))
            return;
        struct report *report =
            finding_add(checking, CHECK_FEW_YEARS, ABOUT(&occurrence->treatment->symbol), rule->place,
                        "`%d years in %d` needs more history: only %d years cover %s", condition->years,
                        condition->of, look.odds.known, display_date(checking->arena, occurrence->day));
        report_label(checking->model->reports, report, weather->history.place, "the history");
        report_note(checking->model->reports, report, "it held %s",
                    years_text(checking->arena, look.odds.kept, look.odds.known));
    } else if (condition->frost && expected)
        report_of_normals(checking, CHECK_FROST_OF_NORMALS, occurrence, rule, &look);
    else if (condition->quantity == WEATHER_DEGREE_DAYS && expected && !weather->history.rows.count)
        report_of_normals(checking, CHECK_DEGREE_DAYS_OF_NORMALS, occurrence, rule, &look);
}

/* Of a limit on heat heat.c has told what is planned. */
static void check_limits(struct checking *checking, enum limit_kind kind, const struct climate *climate)
{
    const struct season *season = checking->season;
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, kind, &at)) != NULL;) {
        struct weather_rule rule = {.watch = watch_make(checking->arena, climate, limit->weather),
                                    .condition = limit->weather,
                                    .place = limit->place,
                                    .limit = limit};
        for (size_t i = 0; i < season->calendar_count; i++) {
            const struct occurrence *occurrence = season->calendar[i];
            bool concerned = false;
            if ((kind != LIMIT_WEATHER && !occurrence->done) || occurrence->treatment->symbol.broken)
                continue;
            arena_work(checking->arena, occurrence->amounts.count);
            for (size_t j = 0; j < occurrence->amounts.count && !concerned; j++) {
                const struct amount *amount = &occurrence->amounts.items[j];
                concerned = limit_binds(limit, amount->zone) && limit_concerns(limit, amount->supplied) &&
                            limit_concerns_product(limit, amount->product);
            }
            if (concerned)
                look(checking, occurrence, &rule);
        }
    }
}

/* What is done or planned, against its own conditions and those of limits. */
void check_weather(struct checking *checking)
{
    const struct season *season = checking->season;
    const struct climate *climate = season->climate;
    if (!checking->model->has_season || checking->model->weather.broken)
        return;
    if (!climate)
        climate = climate_make(checking->arena, &checking->model->weather, checking->model->season_first,
                               checking->model->season_first);
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        if (occurrence->treatment->symbol.broken)
            continue;
        /* A `when` by the weather; what was never dated has no watch yet. */
        const struct treatment *treatment = occurrence->treatment;
        for (size_t j = 0; j < treatment->whens.count; j++) {
            const struct when *when = &treatment->whens.items[j];
            if (!when->weather)
                continue;
            struct weather_rule rule = {.condition = when->weather, .place = when->place};
            if (season->when_cause)
                rule.watch = season_bound(season, season->when_cause[treatment->index] + (uint32_t)j)->watch;
            if (!rule.watch)
                rule.watch = watch_make(checking->arena, climate, when->weather);
            look(checking, occurrence, &rule);
        }
        /* The treatment's own day was looked at by heat.c, unless it is over. */
        for (size_t k = 0; k < occurrence->amounts.count && occurrence->done; k++) {
            const struct product *product = occurrence->amounts.items[k].product;
            struct weather_condition heat = {
                .quantity = WEATHER_HIGH, .side = SIDE_BELOW, .limit = product->heat_below};
            struct weather_condition cold = {
                .quantity = WEATHER_LOW, .side = SIDE_ABOVE, .limit = product->cold_above};
            struct weather_rule rule[] = {
                {.condition = &heat, .place = product->heat_place, .product = product},
                {.condition = &cold, .place = product->cold_place, .product = product}};
            for (int j = 0; j < 2; j++) {
                rule[j].watch = watch_make(checking->arena, climate, rule[j].condition);
                if (!isnan(rule[j].condition->limit))
                    look(checking, occurrence, &rule[j]);
            }
        }
    }
    check_limits(checking, LIMIT_WEATHER, climate);
    check_limits(checking, LIMIT_HEAT, climate);
}
