/* Scales and lime tables against the lawns they are to read: region, grass, texture. */
#include "compiler/check/checking.h"
#include "compiler/season/scale_class.h"

/* One test on one of its lawns. */
struct fit {
    struct checking *checking;
    const struct soil_test *test;
    const struct lawn *lawn;
};

static struct report *fit_report(const struct fit *fit, enum check_id id, const struct symbol *scale,
                                 struct place named_at, const char *sentence)
{
    struct report *report =
        finding_add(fit->checking, id, ABOUT(&fit->lawn->symbol, scale), named_at, "%s", sentence);
    report_label(fit->checking->model->reports, report, scale->place, "declared here");
    report_label(fit->checking->model->reports, report, fit->lawn->symbol.place, "the lawn");
    return report;
}

static const char *word(const struct fit *fit, const struct name *name)
{
    return text_string(fit->checking->arena, name->text);
}

static void check_region(const struct fit *fit, const struct symbol *scale, const struct name *region,
                         struct place named_at)
{
    struct arena *arena = fit->checking->arena;
    const char *what = name_string(scale->name), *lawn = name_string(fit->lawn->symbol.name);
    if (!region || region == fit->lawn->region)
        return;
    if (fit->lawn->region) {
        fit_report(fit, CHECK_SOIL_SCALE_UNFIT, scale, named_at,
                   text_format(arena, "%s is made for %s; %s lies in %s", what, word(fit, region), lawn,
                               word(fit, fit->lawn->region)));
        return;
    }
    struct report *report = fit_report(
        fit, CHECK_SOIL_SCALE_REGION, scale, named_at,
        text_format(arena, "%s is made for %s; %s states no region", what, word(fit, region), lawn));
    report_help(fit->checking->model->reports, report,
                "if that is where it lies, write in the lawn: region %s", word(fit, region));
}

static void check_grass(const struct fit *fit, const struct scale *scale, struct place named_at)
{
    bool fits = !scale->grasses.count || !fit->lawn->grass;
    for (size_t i = 0; i < scale->grasses.count && !fits; i++)
        fits = scale->grasses.items[i] == fit->lawn->grass;
    if (!fits)
        fit_report(fit, CHECK_SOIL_SCALE_UNFIT, &scale->symbol, named_at,
                   text_format(fit->checking->arena, "%s is made for other grasses than %s of %s",
                               name_string(scale->symbol.name), name_string(fit->lawn->grass->symbol.name),
                               name_string(fit->lawn->symbol.name)));
}

static void check_soil(const struct fit *fit, const struct scale *scale, struct place named_at)
{
    bool fits = !scale->soils.count || !fit->lawn->soil;
    for (size_t i = 0; i < scale->soils.count && !fits; i++)
        fits = scale->soils.items[i] == fit->lawn->soil;
    if (!fits)
        fit_report(fit, CHECK_SOIL_SCALE_UNFIT, &scale->symbol, named_at,
                   text_format(fit->checking->arena, "%s is made for %s; the soil of %s is %s",
                               name_string(scale->symbol.name), word(fit, scale->soils.items[0]),
                               name_string(fit->lawn->symbol.name), word(fit, fit->lawn->soil)));
}

static void check_fit(const struct fit *fit)
{
    const struct lime_table *lime = fit->test->lime;
    for (size_t i = 0; i < fit->test->scales.count; i++) {
        const struct scale *scale = fit->test->scales.items[i].scale;
        struct place named_at = fit->test->scales.items[i].place;
        if (scale->symbol.broken || test_scale_repeated(fit->test, i))
            continue;
        check_region(fit, &scale->symbol, scale->region, named_at);
        check_grass(fit, scale, named_at);
        check_soil(fit, scale, named_at);
    }
    if (lime && !lime->symbol.broken)
        check_region(fit, &lime->symbol, lime->region, fit->test->lime_place);
}

/* Zones of one lawn stand together mostly; a lawn that comes again is not told again. */
static bool lawn_seen(const struct soil_test *test, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (test->zones.items[i]->lawn == test->zones.items[index]->lawn)
            return true;
    return false;
}

void check_scales_fit(struct checking *checking)
{
    for (size_t i = 0; i < checking->model->soil_tests.count; i++) {
        const struct soil_test *test = checking->model->soil_tests.items[i];
        for (size_t j = 0; j < test->zones.count && !test->symbol.broken; j++)
            if (!lawn_seen(test, j))
                check_fit(&(struct fit){checking, test, test->zones.items[j]->lawn});
    }
}
