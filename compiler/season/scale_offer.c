#include "compiler/season/scale_offer.h"
#include "compiler/season/scale_class.h"
#include "compiler/season/need.h"

const char *nutrients_of_bits(struct arena *arena, unsigned nutrients)
{
    struct buffer text = {.arena = arena};
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++)
        if (nutrients & 1U << n)
            buffer_format(&text, "%s%s", text.length ? ", " : "", nutrient_element(n));
    return buffer_string(&text);
}

/* Scales of the lawn's own region, grass and soil first; others only where there are none of these. */
struct unread unread_of(struct arena *arena, const struct season *season, const struct soil_test *test)
{
    const struct model *model = season->model;
    struct unread unread = {.offers = {0}};
    unsigned indices = 0;
    /* What the test lacks, by the first of its zones on which it is in force. */
    for (enum nutrient n = NUTRIENT_P; n < NUTRIENT_SOLUBLE_N; n++)
        for (size_t i = 0; i < test->zones.count; i++) {
            struct zone_need need;
            need_on(season, test->zones.items[i], n, test->day, &need);
            if (!need.read || need.reading.test != test)
                continue;
            if (need.lack == LACK_LEVEL || need.lack == LACK_SCALE || need.lack == LACK_INDEX)
                unread.unread |= 1U << n;
            if (need.lack == LACK_AMOUNT)
                unread.unmeasured |= 1U << n;
            indices |= (need.reading.index ? 1U : 0U) << n;
            break;
        }
    for (int elsewhere = 0; elsewhere < 2 && !unread.offers.count; elsewhere++)
        for (size_t i = 0; i < model->scales.count; i++) {
            const struct scale *scale = model->scales.items[i];
            if (scale->symbol.broken || scale->method != test->method || !test->zones.count)
                continue;
            const struct lawn *lawn = test->zones.items[0]->lawn;
            bool grass = !scale->grasses.count || !lawn->grass, soil = !scale->soils.count || !lawn->soil;
            for (size_t j = 0; j < scale->grasses.count; j++)
                grass = grass || scale->grasses.items[j] == lawn->grass;
            for (size_t j = 0; j < scale->soils.count; j++)
                soil = soil || scale->soils.items[j] == lawn->soil;
            bool region = !scale->region || scale->region == lawn->region;
            if ((grass && soil && region) == (bool)elsewhere)
                continue;
            /* What the scale would add to what the test's own scales say. */
            struct scale_offer offer = {.scale = scale};
            for (enum nutrient n = NUTRIENT_P; n < NUTRIENT_SOLUBLE_N; n++) {
                const struct test_scale *own = test_scale_of(test, n);
                bool index = indices & 1U << n;
                if (own && own->scale == scale)
                    continue;
                if (unread.unread & 1U << n && scale_speaks_so(scale, n, index))
                    offer.reads |= 1U << n;
                bool asked = unread.unmeasured & 1U << n, measures = false;
                for (size_t j = 0; j < scale->levels.count && asked; j++) {
                    const struct level *level = &scale->levels.items[j];
                    bool amount = level->minimum ? scale->sum != SUM_NONE : level->need_high > 0;
                    measures |=
                        level->nutrient && level->nutrient->nutrient == n && level->index == index && amount;
                }
                for (size_t j = 0; j < scale->equations.count && asked; j++)
                    measures |= scale->equations.items[j].nutrient->nutrient == n &&
                                scale->equations.items[j].operand.index == index;
                if (measures)
                    offer.amounts |= 1U << n;
            }
            if (offer.reads || offer.amounts)
                VECTOR_PUSH(arena, &unread.offers, offer);
        }
    return unread;
}

/* Each with what it is made for and would give, then how to write the first. */
const char *unread_offers(struct arena *arena, const struct unread *unread)
{
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < unread->offers.count; i++) {
        const struct scale_offer *offer = &unread->offers.items[i];
        /* "bray (made for new-jersey, kentucky-bluegrass)" */
        const struct scale *scale = offer->scale;
        struct buffer made_for = {.arena = arena};
        if (scale->region)
            buffer_add_string(&made_for, name_string(scale->region));
        for (size_t j = 0; j < scale->grasses.count; j++) {
            buffer_separate(&made_for, ", ");
            buffer_add_string(&made_for, name_string(scale->grasses.items[j]->symbol.name));
        }
        for (size_t j = 0; j < scale->soils.count; j++) {
            buffer_separate(&made_for, ", ");
            buffer_add_string(&made_for, scale->soils.items[j]->text.start);
        }
        buffer_format(&text, "%s%s", i ? "; " : "", name_string(scale->symbol.name));
        if (made_for.length)
            buffer_format(&text, " (made for %s)", made_for.string);
        if (offer->reads)
            buffer_format(&text, " reads %s", nutrients_of_bits(arena, offer->reads));
        if (offer->amounts)
            buffer_format(&text, "%s gives an amount of %s", offer->reads ? " and" : "",
                          nutrients_of_bits(arena, offer->amounts));
    }
    if (!unread->offers.count)
        return "";
    const struct scale_offer *first = &unread->offers.items[0];
    buffer_format(&text, "; write, for example: scale %s for %s", name_string(first->scale->symbol.name),
                  nutrients_of_bits(arena, first->reads | first->amounts));
    return text.string;
}
