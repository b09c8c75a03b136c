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

/* A region that the lawn does not state is asked for; one that differs does not fit. */
static void check_region(const struct fit *fit, const struct symbol *scale, const struct name *region,
                         struct place named_at)
{
    struct arena *arena = fit->checking->arena;
    const char *made_for =
        text_format(arena, "%s is made for %s", name_string(scale->name), name_string(region));
    const char *lawn = name_string(fit->lawn->symbol.name);
    if (!region || region == fit->lawn->region)
        return;
    if (fit->lawn->region) {
        fit_report(fit, CHECK_SOIL_SCALE_UNFIT, scale, named_at,
                   text_format(arena, "%s; %s lies in %s", made_for, lawn, name_string(fit->lawn->region)));
        return;
    }
    struct report *report = fit_report(fit, CHECK_SOIL_SCALE_REGION, scale, named_at,
                                       text_format(arena, "%s; %s states no region", made_for, lawn));
    report_help(fit->checking->model->reports, report,
                "if that is where it lies, write in the lawn: region %s", name_string(region));
}

/* The test's scales and lime table on each of its lawns: region, grass, texture. Each lawn is looked at
 * once. */
void check_scales_fit(struct checking *checking, const struct soil_test *test)
{
    struct arena *arena = checking->arena;
    const struct lime_table *lime = test->lime;
    for (size_t i = 0; i < test->zones.count; i++) {
        const struct lawn *lawn = test->zones.items[i]->lawn;
        const struct fit fit = {checking, test, lawn};
        const char *name = name_string(lawn->symbol.name);
        bool seen = false;
        for (size_t j = 0; j < i && !seen; j++)
            seen = test->zones.items[j]->lawn == lawn;
        for (size_t j = 0; j < test->scales.count && !seen; j++) {
            const struct scale *scale = test->scales.items[j].scale;
            const char *scale_name = name_string(scale->symbol.name);
            struct place named_at = test->scales.items[j].place;
            if (scale->symbol.broken || test_scale_repeated(test, j))
                continue;
            check_region(&fit, &scale->symbol, scale->region, named_at);
            bool grass = !scale->grasses.count || !lawn->grass, soil = !scale->soils.count || !lawn->soil;
            for (size_t k = 0; k < scale->grasses.count; k++)
                grass = grass || scale->grasses.items[k] == lawn->grass;
            for (size_t k = 0; k < scale->soils.count; k++)
                soil = soil || scale->soils.items[k] == lawn->soil;
            if (!grass)
                fit_report(&fit, CHECK_SOIL_SCALE_UNFIT, &scale->symbol, named_at,
                           text_format(arena, "%s is made for other grasses than %s of %s", scale_name,
                                       name_string(lawn->grass->symbol.name), name));
            if (!soil)
                fit_report(&fit, CHECK_SOIL_SCALE_UNFIT, &scale->symbol, named_at,
                           text_format(arena, "%s is made for %s; the soil of %s is %s", scale_name,
                                       name_string(scale->soils.items[0]), name, name_string(lawn->soil)));
        }
        if (!seen && lime && !lime->symbol.broken)
            check_region(&fit, &lime->symbol, lime->region, test->lime_place);
    }
}
