/* The season from the model, one pure step after the other. */
#include "compiler/model/tolerance.h"
#include "compiler/season/dating.h"

/* Those with a rate of the plan's, then those left open, as far as `open` says so; into the room for all. */
static struct dressing_list dressings_of(const struct treatment *treatment, bool open,
                                         const struct dressing **room)
{
    struct dressing_list list = {room, 0};
    for (int left_open = 0; left_open <= (int)open; left_open++)
        for (size_t i = 0; i < treatment->dressings.count; i++) {
            const struct dressing *dressing = &treatment->dressings.items[i];
            if (dressing->open == (bool)left_open)
                list.items[list.count++] = dressing;
        }
    return list;
}

const struct slip SLIP_UNASKED;

/* Each step reads what those before it made. */
struct season *season_build(const struct model *model, bool open)
{
    struct season *season = ARENA_NEW(model->arena, struct season);
    season->model = model;
    season->arena = model->arena;
    season->as_of = DAY_NEVER;
    season->dressings = ARENA_ARRAY(season->arena, model->treatments.count, struct dressing_list);
    size_t dressings = 0;
    for (size_t i = 0; i < model->treatments.count; i++)
        dressings += model->treatments.items[i]->dressings.count;
    const struct dressing **room = ARENA_ARRAY(season->arena, dressings, const struct dressing *);
    for (size_t i = 0; i < model->treatments.count; i++) {
        season->dressings[i] = dressings_of(model->treatments.items[i], open, room);
        room += model->treatments.items[i]->dressings.count;
    }
    occurrences_make(season);
    amounts_plan(season);
    season_date(season);
    ledgers_make(season);
    season->order_search = ARENA_NEW(season->arena, struct order_search);
    conflicts_make(season);
    readings_make(season);
    return season;
}

static bool amounts_hold(const struct season *season, uint32_t first, uint32_t end,
                         const struct dressing *dressing)
{
    for (uint32_t i = first; i < end; i++)
        for (size_t j = 0; j < season->occurrences.items[i].amounts.count; j++)
            if (season->occurrences.items[i].amounts.items[j].dressing == dressing)
                return true;
    return false;
}

/* The days stay as they are: rates were chosen for them. */
void season_settle(struct season *season)
{
    size_t kept = 0;
    for (size_t i = 0; i < season->model->treatments.count; i++) {
        const struct treatment *treatment = season->model->treatments.items[i];
        if (!treatment->open)
            continue;
        /* Of the dressings that were to be chosen those stay that some amount is of. */
        const struct dressing **room = season->dressings[i].items; /* for all, those left open too */
        struct dressing_list all = dressings_of(treatment, true, room), used = {room, 0};
        uint32_t at = treatment->index;
        for (size_t j = 0; j < all.count; j++)
            if (!all.items[j]->open ||
                amounts_hold(season, season->first_of[at], season->first_of[at + 1], all.items[j]) ||
                amounts_hold(season, season->added_of[at], season->added_of[at + 1], all.items[j]))
                used.items[used.count++] = all.items[j];
        season->dressings[i] = used;
    }
    for (size_t i = 0; i < season->calendar_count; i++) {
        struct occurrence *occurrence = season->calendar[i];
        occurrence->idle = occurrence->treatment->open && !occurrence->done && !occurrence->amounts.count;
        if (!occurrence->idle)
            season->calendar[kept++] = occurrence;
    }
    season->calendar_count = kept;
    ledgers_make(season);
    season->leeways_known = false;
}

/* Its treatment's name, and which time or part of it. */
const char *occurrence_title(struct arena *arena, const struct occurrence *occurrence)
{
    struct buffer text = {.arena = arena};
    buffer_add(&text, occurrence->treatment->symbol.name->text);
    if (occurrence->times > 1 && occurrence->share != SHARE_BEYOND)
        buffer_format(&text, " %d of %d", occurrence->time, occurrence->times);
    switch (occurrence->share) {
    case SHARE_WHOLE:
        break;
    case SHARE_PART:
        buffer_format(&text, ", part %d", occurrence->part);
        break;
    case SHARE_REST:
        buffer_add_string(&text, ", the rest");
        break;
    case SHARE_BEYOND:
        buffer_add_string(&text, ", beyond the plan");
        break;
    }
    return buffer_string(&text);
}

bool limit_binds(const struct limit *limit, const struct zone *zone)
{
    return limit->set->bound && !limit->set->symbol.broken &&
           !(limit->spared && limit->spared[zone->index]) && limit_names_zone(limit, zone);
}

/* Of an unknown high NAN: it is neither above nor below. */
bool limit_in_force(const struct season *season, const struct limit *limit, day_number day)
{
    double high = season_reading(season, WEATHER_HIGH, day).value;
    return (!limit->in_window || limit_window_holds(limit, day)) &&
           (isnan(limit->above) || exceeds(high, limit->above)) &&
           (isnan(limit->unless_below) || !exceeds(limit->unless_below, high));
}

bool limit_counts(const struct limit *limit, const struct product *product)
{
    bool sprayed = product->form == FORM_LIQUID || product->form == FORM_SOLUBLE;
    bool so = limit->means == MEANS_ANY || sprayed == (limit->means == MEANS_SPRAY);
    return so && limit_concerns_product(limit, product);
}

double limit_dose(const struct limit *limit, const struct application *application)
{
    double dose = 0;
    for (size_t i = 0; i < application->amounts.count; i++)
        if (limit_counts(limit, application->amounts.items[i]->product))
            dose += supplied_as(application->amounts.items[i]->supplied, limit->nutrient);
    bool slow = !isnan(limit->unless_slow) && !exceeds(limit->unless_slow * application->supplied[NUTRIENT_N],
                                                       application->supplied[NUTRIENT_SLOW_N]);
    return slow ? 0 : dose;
}

bool limit_concerns(const struct limit *limit, const double supplied[NUTRIENT_COUNT])
{
    for (size_t i = 0; i < limit->nutrients.count; i++)
        if (supplied[limit->nutrients.items[i]->nutrient] > 0)
            return true;
    return limit->nutrients.count == 0;
}

/* By the treatment's own kinds, by what a task lays, or by what is put down: a rule on a kind holds however
 * the kind comes. */
bool occurrence_in_class(const struct occurrence *occurrence, const struct treatment_class *class)
{
    const struct treatment *treatment = occurrence->treatment;
    if (class->kind && kind_among(treatment->kinds.items, treatment->kinds.count, class->kind))
        return true;
    const struct layer *layer = treatment->task && class->kind ? treatment->layer : NULL;
    for (size_t i = 0; layer && i < layer->mix.count; i++) {
        const struct product *laid = layer->mix.items[i].product;
        if (laid && product_has_kind(laid, class->kind))
            return true;
    }
    for (size_t i = 0; i < occurrence->dressings->count; i++)
        if (product_in_class(occurrence->dressings->items[i]->product, class))
            return true;
    return false;
}

bool limit_concerns_product(const struct limit *limit, const struct product *product)
{
    return !limit->product_kind || product_has_kind(product, limit->product_kind);
}

bool limit_binds_product(const struct limit *limit, const struct product *product)
{
    for (size_t i = 0; i < limit->excepted.count; i++)
        if (product_has_kind(product, limit->excepted.items[i]))
            return false;
    return true;
}

bool limit_concerns_content(const struct limit *limit, const struct product *product)
{
    const struct nutrient_form *form = limit->nutrient;
    return limit_binds_product(limit, product) &&
           (!form || exceeds(product_share(product, form), limit->content));
}

/* By what an application puts on the zone; by what other work is or lays. */
static bool occurrence_reaches(const struct occurrence *occurrence, const struct zone *zone,
                               const struct treatment_class *class)
{
    bool all = occurrence->zones.count == 0, here = false;
    for (size_t i = 0; i < occurrence->amounts.count && !here; i++)
        here = occurrence->amounts.items[i].zone == zone &&
               product_in_class(occurrence->amounts.items[i].product, class);
    for (size_t i = 0; i < occurrence->zones.count && !all; i++)
        all = occurrence->zones.items[i] == zone;
    return here || (occurrence->treatment->task && all && occurrence_in_class(occurrence, class));
}

bool limit_spares_new(const struct season *season, const struct limit *limit, const struct zone *zone,
                      day_number day)
{
    for (size_t i = 0; limit->classes.count && i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        if (occurrence->day > day)
            break;
        arena_work(season->arena, 1);
        for (size_t j = 0; j < limit->classes.count && day_after(occurrence->day, limit->new_for) >= day; j++)
            if (!occurrence->skipped && occurrence_reaches(occurrence, zone, &limit->classes.items[j]))
                return true;
    }
    return false;
}

struct reading season_reading(const struct season *season, enum weather_quantity quantity, day_number day)
{
    if (!season->climate)
        return (struct reading){.value = NAN};
    return climate_reading(season->climate, quantity, day);
}
