/* A piece of work in sentences: how it is done, what it brings, when it may slip; or what came of it. */
#include "compiler/result/slip_words.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/work.h"

void work_say(struct work *work, struct arena *arena, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *sentence = text_vformat(arena, format, arguments);
    va_end(arguments);
    VECTOR_PUSH(arena, &work->sentences, sentence);
}

/* ---- what the day must be like, and what follows ---- */

static void say_day(struct work *work, const struct model *model, const struct product *product)
{
    const char *name = name_string(product->symbol.name);
    if (!isnan(product->heat_below))
        work_say(work, model->arena, "For %s the day must stay below %s.", name,
                 display_temperature(model->arena, model, product->heat_below));
    if (!isnan(product->cold_above))
        work_say(work, model->arena, "For %s the day must stay above %s.", name,
                 display_temperature(model->arena, model, product->cold_above));
}

static bool work_concerned(const struct limit *limit, const struct work *work)
{
    for (size_t i = 0; i < work->materials.count; i++)
        if (limit_concerns(limit, work->materials.items[i].product->content))
            return true;
    return false;
}

/* The widest strip along water that a limit keeps free of this work's products on the zone; 0 without, and
 * where the zone is so far off that no spreader on it reaches the strip. */
static double strip_along_water(const struct model *model, const struct work *work, const struct zone *zone)
{
    double strip = 0;
    for (size_t i = 0; i < model->limits.count && isfinite(zone->water_m); i++) {
        const struct limit *limit = model->limits.items[i];
        if (limit->kind == LIMIT_WATER && limit->set->basis != BASIS_ADVICE && limit_binds(limit, zone) &&
            work_concerned(limit, work))
            strip = fmax(strip, limit->most);
    }
    return zone->water_m < 2 * strip ? strip : 0;
}

static void say_water_strip(struct work *work, const struct model *model)
{
    for (size_t i = 0; i < work->zones.count; i++) {
        double strip = strip_along_water(model, work, work->zones.items[i].zone);
        if (strip > 0)
            work_say(work, model->arena, "On %s, stay %s away from the water.",
                     name_string(work->zones.items[i].zone->symbol.name),
                     display_length(model->arena, model, strip));
    }
}

static void say_conditions(struct work *work, const struct model *model)
{
    for (size_t i = 0; i < work->materials.count; i++)
        say_day(work, model, work->materials.items[i].product);
    if (work->materials.count)
        say_water_strip(work, model);
    for (size_t i = 0; i < work->duties.count; i++)
        if (!work->duties.items[i].caution) /* those are printed once for the whole season */
            work_say(work, model->arena, "%s", work->duties.items[i].text);
}

static void say_duties_in_force(struct work *work, const struct season *season)
{
    for (size_t i = 0; i < work->duties.count; i++)
        if (duty_in_force(&work->duties.items[i], work, season))
            work_say(work, season->arena, "%s", duty_sentence(season->arena, &work->duties.items[i]));
}

/* ---- when ---- */

static void say_order(struct work *work, const struct model *model)
{
    const struct treatment *treatment = work->occurrence->treatment;
    for (size_t i = 0; i < treatment->whens.count; i++)
        if (treatment->whens.items[i].kind == WHEN_SAME_DAY && treatment->whens.items[i].other)
            work_say(work, model->arena, "Same day as %s, and after it.",
                     name_string(treatment->whens.items[i].other->symbol.name));
}

static void say_record(struct work *work, const struct model *model)
{
    const struct occurrence *occurrence = work->occurrence;
    const char *done = occurrence->share == SHARE_PART ? "Done in part" : "Done";
    if (occurrence->share == SHARE_BEYOND)
        work_say(work, model->arena, "Done, and more than was planned.");
    else if (occurrence->planned != occurrence->day)
        work_say(work, model->arena, "%s; planned for %s.", done,
                 display_date(model->arena, occurrence->planned));
    else if (occurrence->share == SHARE_PART)
        work_say(work, model->arena, "Done in part, on the day planned.");
    else if (occurrence->record &&
             occurrence->record->uses.count) /* may be more, less or other than planned */
        work_say(work, model->arena, "Done on the day planned.");
    else
        work_say(work, model->arena, "Done as planned.");
}

/* The days of the parts that left this. */
static void say_parts(struct work *work, const struct season *season)
{
    const struct occurrence *rest = work->occurrence;
    if (rest->share != SHARE_REST)
        return;
    uint32_t first = season->added_of[rest->treatment->index],
             end = season->added_of[rest->treatment->index + 1];
    struct buffer days = {.arena = season->arena};
    for (uint32_t i = first; i < end; i++) {
        const struct occurrence *part = &season->occurrences.items[i];
        if (part->share == SHARE_PART && part->time == rest->time)
            buffer_format(&days, "%s%s", days.length ? " and " : "", display_date(season->arena, part->day));
    }
    if (days.length)
        work_say(work, season->arena, "This is what is left; a part was done on %s.", buffer_string(&days));
}

/* ---- all of it ---- */

static void say_note(struct work *work, const struct model *model, const struct symbol *symbol)
{
    const char *note = note_sentence(model->arena, symbol);
    if (note)
        work_say(work, model->arena, "%s", note);
}

static void say_notes(struct work *work, const struct model *model)
{
    const struct occurrence *occurrence = work->occurrence;
    say_note(work, model, &occurrence->treatment->symbol);
    for (size_t i = 0; i < work->materials.count && !occurrence->done; i++)
        say_note(work, model, &work->materials.items[i].product->symbol);
    if (occurrence->record && occurrence->record->symbol.note)
        work_say(work, model->arena, "Noted when done: %s", occurrence->record->symbol.note);
}

void work_sentences(struct work *work, const struct season *season)
{
    const struct model *model = season->model;
    bool done = work->occurrence->done;
    if (done)
        say_record(work, model);
    say_parts(work, season);
    if (!done)
        say_order(work, model);
    if (!done) {
        work_layer(work, model);
        work_machine(work, model);
    }
    work_supply(work, model);
    if (done)
        say_duties_in_force(work, season);
    if (!done) {
        say_conditions(work, model);
        const char *slip = slip_sentence(model->arena, work->occurrence);
        if (slip)
            work_say(work, model->arena, "%s", slip);
    }
    say_notes(work, model);
}
