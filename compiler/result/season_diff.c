#include "compiler/result/season_diff.h"

#include "compiler/model/tolerance.h"

#include <stdlib.h>
#include <string.h>

/* ---- which belongs to which ---- */

struct keyed {
    const char *key;
    const struct work *work;
    bool skipped, taken;
};

struct keyed_list {
    struct keyed *items;
    size_t count, capacity;
};

static const char *work_key(struct arena *arena, const struct work *work)
{
    const struct occurrence *occurrence = work->occurrence;
    return text_format(arena, "%s\n%s\n%d\n%d", name_string(occurrence->treatment->symbol.name),
                       work->lawn ? name_string(work->lawn->symbol.name) : "", occurrence->time,
                       occurrence->share == SHARE_PART ? occurrence->part : 0);
}

static int by_key(const void *a, const void *b)
{
    return strcmp(((const struct keyed *)a)->key, ((const struct keyed *)b)->key);
}

static void keys_add(struct arena *arena, struct keyed_list *keys, const struct work_list *list, bool skipped)
{
    for (size_t i = 0; i < list->count; i++) {
        struct keyed keyed = {work_key(arena, &list->items[i]), &list->items[i], skipped, false};
        VECTOR_PUSH(arena, keys, keyed);
    }
}

static struct keyed *key_find(const struct keyed_list *keys, const char *key)
{
    struct keyed wanted = {.key = key};
    if (keys->count == 0)
        return NULL;
    return bsearch(&wanted, keys->items, keys->count, sizeof *keys->items, by_key);
}

/* ---- what differs ---- */

struct placed_portion {
    const struct material *material;
    const struct portion *portion;
    size_t position; /* in its work */
};

struct placed_portions {
    struct placed_portion *items;
    size_t count, capacity;
};

static int by_what(const struct placed_portion *a, const struct placed_portion *b)
{
    const struct amount *first = a->portion->amount, *second = b->portion->amount;
    int order = strcmp(name_string(first->product->symbol.name), name_string(second->product->symbol.name));
    return order ? order
                 : strcmp(name_string(first->zone->symbol.name), name_string(second->zone->symbol.name));
}

static int by_what_then_place(const void *a, const void *b)
{
    const struct placed_portion *first = a, *second = b;
    int order = by_what(first, second);
    return order ? order : (first->position > second->position) - (first->position < second->position);
}

static struct placed_portions portions_of(struct arena *arena, const struct work *work)
{
    struct placed_portions portions = {0};
    for (size_t i = 0; i < work->materials.count; i++)
        for (size_t j = 0; j < work->materials.items[i].portions.count; j++) {
            const struct material *material = &work->materials.items[i];
            struct placed_portion portion = {material, &material->portions.items[j], portions.count};
            VECTOR_PUSH(arena, &portions, portion);
        }
    if (portions.count)
        qsort(portions.items, portions.count, sizeof *portions.items, by_what_then_place);
    return portions;
}

static bool amounts_differ(const struct portion *old, const struct portion *new)
{
    if (old->amount->volume != new->amount->volume)
        return true;
    return exceeds(old->amount->total, new->amount->total) || exceeds(new->amount->total, old->amount->total);
}

static int by_position(const void *a, const void *b)
{
    const struct portion_change *first = a, *second = b;
    return (first->position > second->position) - (first->position < second->position);
}

/* Several dressings may bring one product to one zone: the first belongs to the first, and so on. */
static void amounts_compare(struct arena *arena, struct pairing *pairing)
{
    struct placed_portions old = portions_of(arena, pairing->old), new = portions_of(arena, pairing->new);
    for (size_t i = 0, j = 0; i < old.count || j < new.count;) {
        int order = i == old.count ? 1 : j == new.count ? -1 : by_what(&old.items[i], &new.items[j]);
        struct portion_change change = {.position = new.count};
        if (order <= 0) {
            change.old_material = old.items[i].material;
            change.position += old.items[i].position;
            change.old = old.items[i++].portion;
        }
        if (order >= 0) {
            change.new_material = new.items[j].material;
            change.position = new.items[j].position;
            change.new = new.items[j++].portion;
        }
        if (order != 0 || amounts_differ(change.old, change.new))
            VECTOR_PUSH(arena, &pairing->amounts, change);
    }
    if (pairing->amounts.count)
        qsort(pairing->amounts.items, pairing->amounts.count, sizeof *pairing->amounts.items, by_position);
}

static bool says(const struct work *work, const char *sentence)
{
    for (size_t i = 0; i < work->sentences.count; i++)
        if (strcmp(work->sentences.items[i], sentence) == 0)
            return true;
    return false;
}

static bool duty_kept(const struct work *work, const struct duty *duty)
{
    for (size_t i = 0; i < work->duties.count; i++)
        if (strcmp(work->duties.items[i].text, duty->text) == 0)
            return true;
    return false;
}

/* Of what is done nothing is compared: its record says what came of it. */
static void sentences_compare(struct arena *arena, struct pairing *pairing)
{
    const struct work *old = pairing->old, *new = pairing->new;
    for (size_t i = 0; i < new->sentences.count && !new->occurrence->done; i++) {
        const char *sentence = new->sentences.items[i];
        if (says(old, sentence))
            continue;
        bool supply = new->supply && old->supply &&i == new->supply_at;
        if (supply && strcmp(new->supply, old->supply) == 0) /* a record is gone: it was `Supplied` */
            continue;
        if (supply)
            sentence = text_format(arena, "Supplies %s; was %s.", new->supply, old->supply);
        VECTOR_PUSH(arena, &pairing->sentences, sentence);
    }
    for (size_t i = 0; i < new->duties.count && !new->occurrence->done; i++)
        if (new->duties.items[i].caution &&
            !duty_kept(old, &new->duties.items[i])) /* no sentence of its own */
            VECTOR_PUSH(arena, &pairing->sentences, new->duties.items[i].text);
    for (size_t i = 0; i < old->duties.count && !new->occurrence->done; i++)
        if (!duty_kept(new, &old->duties.items[i]))
            VECTOR_PUSH(arena, &pairing->gone, old->duties.items[i].text);
}

/* Of work that is in the new season only, or recorded only there: the old one says nothing like them. */
static void duties_add(const struct season *season, struct arena *arena, struct pairing *pairing)
{
    const struct work *work = pairing->new;
    for (size_t i = 0; i < work->duties.count; i++) {
        const struct duty *duty = &work->duties.items[i];
        if (duty_in_force(duty, work, season))
            VECTOR_PUSH(arena, &pairing->sentences, duty_sentence(arena, duty));
        else if (!work->occurrence->done)
            VECTOR_PUSH(arena, &pairing->sentences, duty->text);
    }
}

static bool caution_listed(const struct work_list *list, const struct caution *caution)
{
    for (size_t i = 0; i < list->cautions.count; i++) {
        const struct caution *other = list->cautions.items[i];
        if (text_equal(other->symbol.name->text, caution->symbol.name->text) &&
            strcmp(other->text ? other->text : "", caution->text ? caution->text : "") == 0)
            return true;
    }
    return false;
}

static void cautions_compare(struct arena *arena, struct comparison *comparison)
{
    const struct work_list *old = &comparison->old_list, *new = &comparison->new_list;
    for (size_t i = 0; i < new->cautions.count; i++)
        if (!caution_listed(old, new->cautions.items[i]))
            VECTOR_PUSH(arena, &comparison->new_cautions, new->cautions.items[i]);
    for (size_t i = 0; i < old->cautions.count; i++)
        if (!caution_listed(new, old->cautions.items[i]))
            VECTOR_PUSH(arena, &comparison->old_cautions, old->cautions.items[i]);
}

bool pairing_differs(const struct pairing *pairing)
{
    return !pairing->old || !pairing->new || pairing->moved || pairing->done || pairing->skipped ||
           pairing->amounts.count || pairing->sentences.count || pairing->gone.count;
}

static void pairing_add(struct arena *arena, struct comparison *comparison, struct pairing pairing)
{
    bool both = pairing.old && pairing.new && !pairing.skipped;
    pairing.moved = both && pairing.old->occurrence->day != pairing.new->occurrence->day;
    pairing.done = both && pairing.new->occurrence->done && !pairing.old->occurrence->done;
    if (both) {
        amounts_compare(arena, &pairing);
        sentences_compare(arena, &pairing);
    }
    if (pairing.new && !pairing.skipped && (!pairing.old || pairing.done))
        duties_add(comparison->new, arena, &pairing);
    comparison->same += !pairing_differs(&pairing);
    VECTOR_PUSH(arena, &comparison->pairings, pairing);
}

/* In the order of the new season, then what only the old one has: who reads it has the new plan before him.
 */
struct comparison *comparison_of(struct arena *arena, const struct season *old, const struct season *new,
                                 const struct replacement *replacement)
{
    struct comparison *comparison = ARENA_NEW(arena, struct comparison);
    *comparison = (struct comparison){.old = old,
                                      .new = new,
                                      .old_list = work_list_of(old),
                                      .new_list = work_list_of(new),
                                      .new_skipped = work_list_skipped(new),
                                      .replacement = replacement,
                                      .old_shopping = shopping_of(old),
                                      .new_shopping = shopping_of(new)};
    struct keyed_list keys = {0}, skipped = {0};
    keys_add(arena, &keys, &comparison->old_list, false);
    keys_add(arena, &skipped, &comparison->new_skipped, true);
    if (keys.count)
        qsort(keys.items, keys.count, sizeof *keys.items, by_key);
    if (skipped.count)
        qsort(skipped.items, skipped.count, sizeof *skipped.items, by_key);
    for (size_t i = 0; i < comparison->new_list.count; i++) {
        const struct work *work = &comparison->new_list.items[i];
        struct keyed *found = key_find(&keys, work_key(arena, work));
        if (found)
            found->taken = true;
        pairing_add(arena, comparison, (struct pairing){.old = found ? found->work : NULL, .new = work});
    }
    for (size_t i = 0; i < comparison->old_list.count; i++) {
        const struct work *work = &comparison->old_list.items[i];
        const char *key = work_key(arena, work);
        if (key_find(&keys, key)->taken)
            continue;
        const struct keyed *left = key_find(&skipped, key);
        pairing_add(arena, comparison,
                    (struct pairing){.old = work, .new = left ? left->work : NULL, .skipped = left != NULL});
    }
    cautions_compare(arena, comparison);
    return comparison;
}

const char *portion_change_sentence(struct arena *arena, const struct portion_change *change)
{
    const struct portion *either = change->new ? change->new : change->old;
    const char *what = text_format(arena, "%s on %s", name_string(either->amount->product->symbol.name),
                                   name_string(either->amount->zone->symbol.name));
    if (!change->old)
        return text_format(arena, "%s: %s, added", what, change->new->text);
    if (!change->new)
        return text_format(arena, "%s: removed, was %s", what, change->old->text);
    return text_format(arena, "%s: %s, was %s", what, change->new->text, change->old->text);
}
