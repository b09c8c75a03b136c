/* A piece of work in sentences: how it is done, what it supplies, when it may slip; or what came of it. */
#include "compiler/model/always.h"
#include "compiler/result/nutrient_text.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/shopping.h"
#include "compiler/result/work.h"
#include "compiler/solve/solution.h"

#include <string.h>

void work_say(struct work *work, struct arena *arena, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *sentence = text_vformat(arena, format, arguments);
    va_end(arguments);
    VECTOR_PUSH(arena, &work->sentences, sentence);
}

/* ---- the record ---- */

/* "Done as planned." only where the record leaves the amounts to the plan. */
static void say_record(struct work *work, struct arena *arena)
{
    const struct occurrence *occurrence = work->occurrence;
    const char *done = occurrence->share == SHARE_PART ? "Partly done" : "Done";
    if (occurrence->share == SHARE_BEYOND)
        work_say(work, arena, "Done, beyond the plan.");
    else if (occurrence->planned != occurrence->day)
        work_say(work, arena, "%s; planned for %s.", done, display_date(arena, occurrence->planned));
    else if (occurrence->share == SHARE_PART)
        work_say(work, arena, "Partly done, on the day planned.");
    else if (occurrence->record && occurrence->record->uses.count)
        work_say(work, arena, "Done on the day planned.");
    else
        work_say(work, arena, "Done as planned.");
}

/* ---- what is laid and supplied ---- */

/* "Lay 0.25 in of 60% compost and 40% sand: 1.12 cu yd of compost and 0.75 cu yd of sand for 2416 sqft." */
static void say_layer(struct work *work, const struct model *model)
{
    const struct treatment *treatment = work->occurrence->treatment;
    struct arena *arena = model->arena;
    size_t count = treatment->layer->mix.count;
    const char **parts = ARENA_ARRAY(arena, count, const char *);
    for (size_t i = 0; i < count; i++) {
        const struct mix_part *part = &treatment->layer->mix.items[i];
        const char *material = name_string(part->material);
        parts[i] =
            count > 1 ? text_format(arena, "%s %s", display_share(arena, part->share), material) : material;
    }
    const char *layer =
        text_format(arena, "Lay %s%s%s", display_depth(arena, model, treatment->layer->depth_m),
                    count ? " of " : "", list_text(arena, parts, count, " and "));
    for (size_t i = 0; i < work->heaps.count; i++) /* as many as there are parts of the mix */
        parts[i] = count > 1 ? text_format(arena, "%s of %s", work->heaps.items[i].text,
                                           name_string(work->heaps.items[i].material))
                             : work->heaps.items[i].text;
    if (work->heaps.count)
        work_say(work, arena, "%s: %s for %s.", layer, list_text(arena, parts, work->heaps.count, " and "),
                 display_area(arena, model, work->area_m2));
    else
        work_say(work, arena, "%s.", layer);
}

/* "Tines 0.5 in across, 3 in deep: 36 holes per sqft, 4.91% of the surface. The holes hold 0.91 cu yd.": as
 * much sand fills them. Each hole is a cylinder. */
static void say_tines(struct work *work, const struct model *model)
{
    struct arena *arena = model->arena;
    const struct tines *tines = work->occurrence->treatment->tines;
    const double pi = 3.14159265358979323846;
    const struct unit *area = unit_named(model->metric ? "sq m" : "sq ft");
    double share = pi * tines->across_m * tines->across_m / 4 / tines->m2_per_hole;
    struct buffer text = {.arena = arena};
    buffer_format(&text, "Tines %s across, %s deep", display_depth(arena, model, tines->across_m),
                  display_depth(arena, model, tines->deep_m));
    buffer_format(&text, ": %s holes per %s, %s of the surface.",
                  number_short(arena, unit_to_si(area, 1) / tines->m2_per_hole),
                  model->metric ? "m2" : "sqft", display_share(arena, share));
    work_say(work, arena, "%s", text.string);
    if (work->area_m2 > 0)
        work_say(work, arena, "The holes hold %s; as much sand fills them.",
                 bulk_text(arena, model, share * tines->deep_m * work->area_m2));
}

/* From the zone that gets least of a nutrient to the one that gets most. What is planned is rounded within
 * the leeway of its products, of which one may be a little less where another is more. */
static void say_supply(struct work *work, const struct model *model)
{
    double least[NUTRIENT_COUNT], most[NUTRIENT_COUNT];
    for (size_t n = 0; n < NUTRIENT_COUNT; n++) {
        least[n] = work->zones.count ? INFINITY : 0;
        most[n] = 0;
        for (size_t i = 0; i < work->zones.count; i++) {
            least[n] = fmin(least[n], work->zones.items[i].supplied[n]);
            most[n] = fmax(most[n], work->zones.items[i].supplied[n]);
        }
    }
    struct leeway leeway = {1, INFINITY};
    for (size_t i = 0; i < work->materials.count; i++)
        leeway = leeway_both(leeway, work->materials.items[i].leeway);
    leeway.rise = fmax(leeway.rise, 0);
    bool done = work->occurrence->done;
    const char *text = nutrients_text(model->arena, model, least, most, done ? NULL : &leeway, true);
    work->supply = text;
    work->supply_at = work->sentences.count;
    if (text)
        work_say(work, model->arena, "%s %s.", done ? "Supplied" : "Supplies", text);
}

/* Why rates that the compiler chose are a little lower than the need: with the first work of the product. */
static void say_spared(struct work *work, const struct season *season)
{
    for (size_t i = 0; season->solution && i < season->solution->choices.count; i++) {
        const struct rates_answer *choice = &season->solution->choices.items[i];
        for (size_t j = 0; j < choice->bought.count; j++) {
            const struct product *product = choice->bought.items[j].product;
            const struct occurrence *first = NULL; /* that puts it down */
            for (size_t k = 0; k < choice->slots.count && !first; k++) {
                const struct occurrence *occurrence = choice->slots.items[k].occurrence;
                for (size_t m = 0; m < occurrence->amounts.count; m++)
                    if (occurrence->amounts.items[m].product == product)
                        first = occurrence;
            }
            if (choice->bought.items[j].spared > 0 && first == work->occurrence)
                work_say(work, season->arena, "The season's rates of %s are lowered to need one pack less.",
                         name_string(product->symbol.name));
        }
    }
}

/* ---- what the day must be like, and where nothing goes ---- */

/* K, that the day must stay below or above; NAN where the label says nothing. */
static double stays_within(const struct material *material, bool cold)
{
    return cold ? material->product->cold_above : material->product->heat_below;
}

/* Cautions are left out: they are printed once for the whole season. */
static void say_conditions(struct work *work, const struct model *model)
{
    struct arena *arena = model->arena;
    size_t count = work->materials.count;
    const char **names = ARENA_ARRAY(arena, count, const char *);
    for (size_t i = 0; i < 2 * count; i++) {
        /* First heat, then cold. Products of one bound share a sentence, that of the first of them. */
        bool cold = i >= count, first = true;
        double bound = stays_within(&work->materials.items[cold ? i - count : i], cold);
        size_t alike = 0;
        for (size_t j = 0; j < count; j++)
            if (stays_within(&work->materials.items[j], cold) == bound) { /* NAN is equal to nothing */
                first = first && j >= i % count;
                names[alike++] = name_string(work->materials.items[j].product->symbol.name);
            }
        if (alike == 0 || !first)
            continue;
        work_say(work, arena, "Use %s only on a day that stays %s %s.",
                 list_text(arena, names, alike, " and "), cold ? "above" : "below",
                 display_of(arena, model, QUANTITY_TEMPERATURE, bound, NULL));
        VECTOR_PUSH(arena, &work->conditions, work->sentences.items[work->sentences.count - 1]);
    }
    for (size_t i = 0; i < work->zones.count && work->materials.count; i++) {
        /* The widest strip along water that a limit keeps free of this work's products on the zone, unless
         * the zone is so far off that no spreader on it reaches the strip. */
        const struct zone *zone = work->zones.items[i].zone;
        double strip = 0;
        for (size_t k = 0; k < model->limits.count && isfinite(zone->water_m); k++) {
            const struct limit *limit = model->limits.items[k];
            bool concerned = false;
            for (size_t j = 0; j < work->materials.count; j++)
                concerned = concerned || limit_concerns(limit, work->materials.items[j].product->content);
            /* Advice is news where the zone reaches into its strip, and nothing lifts it there. */
            const struct symbol *const about[] = {&zone->symbol, &zone->lawn->symbol,
                                                  &work->occurrence->treatment->symbol, NULL};
            bool said = limit->set->basis != BASIS_ADVICE ||
                        (zone->water_m < limit->distance_m && !limit_allowance(model, limit, about));
            if (limit->kind == LIMIT_WATER && said && limit_binds(limit, zone) && concerned)
                strip = fmax(strip, limit->distance_m);
        }
        if (strip > 0 && zone->water_m < 2 * strip)
            work_say(work, arena, "On %s, keep %s away from the water.",
                     name_string(work->zones.items[i].zone->symbol.name),
                     display_distance(arena, model, strip));
    }
}

/* ---- how far the day may slip ---- */

/* "; then closed until Thu 2027-09-16", "; a later day breaks `at most 1 lb N per 1000 sqft in any 30 days`";
 * "" where its own days are over. */
static const char *slip_reason(struct arena *arena, const struct slip *slip)
{
    enum { WORDS_SHOWN = 100 }; /* bytes; of a longer statement the check's name is shown */
    if (slip->end == SLIP_CLOSED && slip->opens != DAY_NEVER)
        return text_format(arena, "; then closed until %s", display_date(arena, slip->opens));
    if (slip->end == SLIP_CLOSED)
        return "; then closed";
    if (slip->end != SLIP_BROKEN)
        return "";
    const char *words = slip->at.source ? place_words(arena, slip->at) : "";
    bool shown = words[0] && strlen(words) <= WORDS_SHOWN;
    return shown ? text_format(arena, "; a later day breaks `%s`", words)
                 : text_format(arena, "; a later day is an error: %s", slip->check);
}

/* A day that the statements give (`on` a day) is fixed only where dates alone hold it: where a limit does,
 * that is said. */
const char *slip_sentence(struct arena *arena, const struct occurrence *occurrence)
{
    const struct slip *slip = occurrence->slip;
    if (slip->end == SLIP_NOT_ASKED)
        return NULL;
    if (slip->end == SLIP_UNKNOWN)
        return "The latest day is not known.";
    const char *reason = slip_reason(arena, slip);
    const char *alone = display_date(arena, slip->alone), *latest = display_date(arena, slip->latest);
    bool by_dates = slip->end == SLIP_WINDOW || (slip->check && strcmp(slip->check, "no-day") == 0);
    /* Whether the plan leaves it no choice of day: `on` a day, exactly so many days from another, or on
     * another's. */
    bool given = false;
    for (size_t i = 0; i < occurrence->treatment->whens.count && !given; i++) {
        const struct when *when = &occurrence->treatment->whens.items[i];
        given = when->kind == WHEN_ON || when->kind == WHEN_EXACTLY_AFTER ||
                when->kind == WHEN_EXACTLY_BEFORE || when->kind == WHEN_SAME_DAY ||
                (when->kind == WHEN_BETWEEN && when->first == when->last);
    }
    if (slip->latest <= occurrence->day && by_dates && given)
        return "Fixed day.";
    if (slip->latest <= occurrence->day)
        return text_format(arena, "No later day is possible%s.", reason);
    if (slip->alone >= slip->latest)
        return text_format(arena, "Latest %s%s.", latest, reason);
    if (slip->alone > occurrence->day)
        return text_format(arena, "Latest %s, or %s if later work moves too%s.", alone, latest, reason);
    return text_format(arena, "Latest %s, if later work moves too%s.", latest, reason);
}

/* ---- all of it ---- */

static void say_note(struct work *work, struct arena *arena, const struct symbol *symbol)
{
    const char *note = note_sentence(arena, symbol);
    if (note)
        work_say(work, arena, "%s", note);
}

/* In the order of doing. What is done says what came of it, what is still in force after it, and no more. */
void work_sentences(struct work *work, const struct season *season)
{
    const struct model *model = season->model;
    const struct occurrence *occurrence = work->occurrence;
    const struct treatment *treatment = occurrence->treatment;
    struct arena *arena = season->arena;
    bool done = occurrence->done;
    if (done)
        say_record(work, arena);
    /* Of what is left of a time: the days of its parts. */
    const struct occurrence *rest = work->occurrence;
    if (rest->share == SHARE_REST) {
        uint32_t first = season->added_of[rest->treatment->index],
                 end = season->added_of[rest->treatment->index + 1];
        struct buffer days = {.arena = season->arena};
        for (uint32_t j = first; j < end; j++) {
            const struct occurrence *part = &season->occurrences.items[j];
            if (part->share == SHARE_PART && part->time == rest->time)
                buffer_format(&days, "%s%s", days.length ? " and " : "",
                              display_date(season->arena, part->day));
        }
        if (days.length)
            work_say(work, season->arena, "The rest; part was done on %s.", days.string);
    }
    for (size_t i = 0; i < treatment->whens.count && !done; i++)
        if (treatment->whens.items[i].kind == WHEN_SAME_DAY && treatment->whens.items[i].other)
            work_say(work, arena, "Begin after %s, on the same day.",
                     name_string(treatment->whens.items[i].other->symbol.name));
    if (!done && treatment->layer)
        say_layer(work, model);
    if (!done && treatment->tines)
        say_tines(work, model);
    if (!done) {
        say_conditions(work, model);
        work_machine(work, model);
    }
    for (size_t i = 0; i < work->duties.count && !done; i++)
        if (!work->duties.items[i].caution)
            work_say(work, arena, "%s", work->duties.items[i].text);
    say_supply(work, model);
    for (size_t i = 0; i < work->duties.count && done; i++)
        if (duty_in_force(&work->duties.items[i], work, season))
            work_say(work, arena, "%s", duty_sentence(arena, &work->duties.items[i]));
    if (!done)
        say_spared(work, season);
    const char *slip = done ? NULL : slip_sentence(arena, occurrence);
    if (slip)
        work_say(work, arena, "%s", slip);
    say_note(work, arena, &treatment->symbol);
    for (size_t i = 0; i < work->materials.count && !done; i++)
        say_note(work, arena, &work->materials.items[i].product->symbol);
    if (occurrence->record && occurrence->record->symbol.note)
        work_say(work, arena, "Note on the record: %s", occurrence->record->symbol.note);
}
