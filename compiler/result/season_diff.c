#include "compiler/result/season_diff.h"

#include "compiler/model/display.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/plan_facts.h"

#include <stdlib.h>
#include <string.h>

/* ---- which belongs to which ---- */

struct keyed {
    const char *key;
    const struct work *work;
    bool taken;
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

static void keys_add(struct arena *arena, struct keyed_list *keys, const struct work_list *list)
{
    for (size_t i = 0; i < list->count; i++) {
        struct keyed keyed = {work_key(arena, &list->items[i]), &list->items[i], false};
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
        const struct amount *was = change.old ? change.old->amount : NULL;
        const struct amount *is = change.new ? change.new->amount : NULL;
        if (order != 0 || was->volume != is->volume || differs(was->total, is->total) ||
            differs(was->rate, is->rate))
            VECTOR_PUSH(arena, &pairing->amounts, change);
    }
    if (pairing->amounts.count)
        qsort(pairing->amounts.items, pairing->amounts.count, sizeof *pairing->amounts.items, by_position);
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

bool pairing_differs(const struct pairing *pairing)
{
    return !pairing->old || !pairing->new || pairing->moved || pairing->done || pairing->undone ||
           pairing->skipped || pairing->amounts.count || pairing->sentences.count;
}

bool comparison_differs(const struct comparison *comparison)
{
    const struct shopping *old = &comparison->old_shopping, *new = &comparison->new_shopping;
    return comparison->same < comparison->pairings.count || comparison->areas.count ||
           comparison->ground.count || comparison->limits.count || comparison->products.count ||
           comparison->new_cautions.count || comparison->old_cautions.count ||
           differs(old->cost, new->cost) || old->unpriced != new->unpriced;
}

/* Of work that is done nothing but amounts is compared: its record says what came of it. What is added,
 * recorded only now, or no longer recorded, brings duties of which the old plan says nothing. */
static void pairing_add(struct arena *arena, struct comparison *comparison, struct pairing pairing)
{
    const struct work *old = pairing.old, *new = pairing.new;
    bool both = old && new && !pairing.skipped;
    pairing.moved = both && old->occurrence->day != new->occurrence->day;
    pairing.done = both && new->occurrence->done && !old->occurrence->done;
    pairing.undone = both && !new->occurrence->done && old->occurrence->done;
    if (both)
        amounts_compare(arena, &pairing);
    if (both && !new->occurrence->done && !pairing.undone) {
        struct facts old_facts = facts_of_work(arena, old), new_facts = facts_of_work(arena, new);
        pairing.sentences = facts_compare(arena, &old_facts, &new_facts);
    }
    if (new && !pairing.skipped && (!old || pairing.done || pairing.undone)) {
        struct facts *duties = ARENA_NEW(arena, struct facts);
        *duties = (struct facts){0};
        for (size_t i = 0; i < new->duties.count; i++) {
            const struct duty *duty = &new->duties.items[i];
            struct fact fact = {.words = duty->text, .si = NAN};
            if (duty_in_force(duty, new, comparison->new))
                fact.words = duty_sentence(arena, duty);
            else if (new->occurrence->done)
                continue;
            VECTOR_PUSH(arena, duties, fact);
        }
        pairing.sentences = facts_compare(arena, &(struct facts){0}, duties);
    }
    comparison->same += !pairing_differs(&pairing);
    VECTOR_PUSH(arena, &comparison->pairings, pairing);
}

/* The contents and labels of the products in use in both: of one that comes or goes each amount says so. */
static struct fact_changes products_compare(struct arena *arena, const struct comparison *comparison)
{
    const struct model *models[] = {comparison->old->model, comparison->new->model};
    const bool *used[] = {products_in_use(models[0], &comparison->old_list),
                          products_in_use(models[1], &comparison->new_list)};
    struct facts *facts = ARENA_ARRAY(arena, 2, struct facts);
    for (int side = 0; side < 2; side++)
        facts[side] = facts_of_products(models[side], used[side]);
    struct fact_changes all = facts_compare(arena, &facts[0], &facts[1]), kept = {0};
    for (size_t i = 0; i < all.count; i++) {
        const struct fact *fact = all.items[i].new ? all.items[i].new : all.items[i].old;
        bool both = true;
        for (int side = 0; side < 2; side++) {
            const struct name *name = name_intern(models[side]->names, text_of(fact->subject));
            const struct symbol *product = symbol_look(models[side], SYMBOL_PRODUCT, name);
            both = both && product && used[side][((const struct product *)product)->index];
        }
        if (both)
            VECTOR_PUSH(arena, &kept, all.items[i]);
    }
    return kept;
}

static day_number pairing_day(const struct pairing *pairing)
{
    return (pairing->new && !pairing->skipped ? pairing->new : pairing->old)->occurrence->day;
}

/* In the order of the season; on one day as the new plan has it, then what only the old one has. */
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
    keys_add(arena, &keys, &comparison->old_list);
    keys_add(arena, &skipped, &comparison->new_skipped);
    if (keys.count)
        qsort(keys.items, keys.count, sizeof *keys.items, by_key);
    if (skipped.count)
        qsort(skipped.items, skipped.count, sizeof *skipped.items, by_key);
    struct comparison own = {.new = new}, gone = {.new = new}; /* both by day */
    for (size_t i = 0; i < comparison->new_list.count; i++) {
        const struct work *work = &comparison->new_list.items[i];
        struct keyed *found = key_find(&keys, work_key(arena, work));
        if (found)
            found->taken = true;
        pairing_add(arena, &own, (struct pairing){.old = found ? found->work : NULL, .new = work});
    }
    for (size_t i = 0; i < comparison->old_list.count; i++) {
        const struct work *work = &comparison->old_list.items[i];
        const char *key = work_key(arena, work);
        const struct keyed *kept = key_find(&keys, key);
        if (kept && kept->taken)
            continue;
        const struct keyed *left = key_find(&skipped, key);
        pairing_add(arena, &gone,
                    (struct pairing){.old = work, .new = left ? left->work : NULL, .skipped = left != NULL});
    }
    comparison->same = own.same;
    for (size_t i = 0, j = 0; i < own.pairings.count || j < gone.pairings.count;) {
        bool first = j == gone.pairings.count ||
                     (i < own.pairings.count &&
                      pairing_day(&own.pairings.items[i]) <= pairing_day(&gone.pairings.items[j]));
        struct pairing pairing = first ? own.pairings.items[i++] : gone.pairings.items[j++];
        VECTOR_PUSH(arena, &comparison->pairings, pairing);
    }
    static struct facts (*const facts_of[])(const struct model *) = {facts_of_areas, facts_of_ground,
                                                                     facts_of_limits};
    struct fact_changes *changes[] = {&comparison->areas, &comparison->ground, &comparison->limits};
    struct facts *facts = ARENA_ARRAY(arena, 6, struct facts); /* the changes point into them */
    for (size_t i = 0; i < 3; i++) {
        facts[2 * i] = facts_of[i](old->model);
        facts[2 * i + 1] = facts_of[i](new->model);
        *changes[i] = facts_compare(arena, &facts[2 * i], &facts[2 * i + 1]);
    }
    comparison->products = products_compare(arena, comparison);
    const struct work_list *before = &comparison->old_list, *after = &comparison->new_list;
    for (size_t i = 0; i < after->cautions.count; i++)
        if (!caution_listed(before, after->cautions.items[i]))
            VECTOR_PUSH(arena, &comparison->new_cautions, after->cautions.items[i]);
    for (size_t i = 0; i < before->cautions.count; i++)
        if (!caution_listed(after, before->cautions.items[i]))
            VECTOR_PUSH(arena, &comparison->old_cautions, before->cautions.items[i]);
    return comparison;
}

const char *shift_words(struct arena *arena, day_number from, day_number to)
{
    return text_format(arena, "%s %s", display_days(arena, to > from ? to - from : from - to),
                       to > from ? "later" : "earlier");
}
