/* What must lie apart: days between uses of one product (its label), and between applications of a nutrient
 * or of two classes (limits); or not too far apart. No statement says which goes first, so an order is
 * chosen; see season.h. */
#include "compiler/season/separation.h"

#include <stdlib.h>

/* ---- rules ---- */

/* A product's uses stand side by side once its zone is sorted; the interval binds each product by itself. */
static void label_intervals_use(struct waiting *waiting, struct zone_uses *zone_uses, parties_use *use)
{
    const struct model *model = waiting->dating->season->model;
    for (size_t zone = 0; zone < model->zones.count; zone++) {
        struct zone_use *begin = zone_uses->items + zone_uses->start[zone],
                        *end = zone_uses->items + zone_uses->start[zone + 1];
        if (end > begin)
            qsort(begin, (size_t)(end - begin), sizeof *begin, zone_uses_by_product);
        for (const struct zone_use *at = begin; at < end && at->amount; at++) {
            const struct product *product = at->amount->product;
            if (duration_any(product->label.interval))
                party_add(waiting, at, BOTH_CLASSES);
            if (at + 1 < end && at[1].amount && at[1].amount->product == product)
                continue;
            struct wait_rule rule = {WAIT_EITHER, product->label.interval,
                                     waiting->dating->rules->product_cause + product->index,
                                     model->zones.items[zone]};
            use(waiting, &rule);
        }
    }
}

/* Of days between applications of a nutrient both sides are one class, and so they are where both are named
 * alike. */
static void limit_use(struct waiting *waiting, const struct zone_uses *zone_uses, uint32_t number,
                      const struct zone *zone, parties_use *use)
{
    const struct dating *dating = waiting->dating;
    const struct limit *limit = dating->season->model->limits.items[number];
    enum wait_kind kind = limit->kind == LIMIT_FOLLOW ? WAIT_WITHIN
                          : limit->directed           ? WAIT_FROM
                                                      : WAIT_EITHER;
    struct wait_rule rule = {kind, limit->time, dating->rules->limit_cause + number, zone};
    for (uint32_t i = zone_uses->start[zone->index]; i < zone_uses->start[zone->index + 1]; i++) {
        const struct zone_use *zone_use = &zone_uses->items[i];
        unsigned classes = 0;
        if (limit->kind == LIMIT_WAIT) {
            classes = zone_use->amount && amount_brings(zone_use->amount, limit->nutrient->nutrient)
                          ? BOTH_CLASSES
                          : 0;
        } else {
            classes |= zone_use_in_class(dating, zone_use, &limit->first) ? FIRST_CLASS : 0;
            classes |= zone_use_in_class(dating, zone_use, &limit->second) ? SECOND_CLASS : 0;
            if (class_equal(&limit->first, &limit->second))
                classes = classes & FIRST_CLASS ? BOTH_CLASSES : 0;
        }
        if (classes)
            party_add(waiting, zone_use, classes);
    }
    use(waiting, &rule);
}

static void limits_use(struct waiting *waiting, const struct zone_uses *zone_uses, parties_use *use)
{
    const struct model *model = waiting->dating->season->model;
    for (uint32_t number = 0; number < model->limits.count; number++) {
        const struct limit *limit = model->limits.items[number];
        if (!limit_dates(model, limit) ||
            (limit->kind != LIMIT_WAIT && limit->kind != LIMIT_WAIT_BETWEEN && limit->kind != LIMIT_FOLLOW))
            continue;
        for (size_t i = 0; i < limit->set->places.count; i++)
            limit_use(waiting, zone_uses, number, limit->set->places.items[i], use);
        for (size_t i = 0; i < model->zones.count && limit->set->places.count == 0; i++)
            limit_use(waiting, zone_uses, number, model->zones.items[i], use);
    }
}

/* ---- all of it ---- */

/* By edge; of equal edges the longest wait first, then the first zone. */
static int by_edge(const void *a, const void *b)
{
    const struct chosen *first = a, *second = b;
    int order = ascending(first->edge.from, second->edge.from);
    if (order == 0)
        order = ascending(first->edge.to, second->edge.to);
    if (order == 0)
        order = ascending(first->edge.cause, second->edge.cause);
    if (order == 0)
        order = ascending(timetable_edge_days(&second->edge), timetable_edge_days(&first->edge));
    if (order == 0)
        order = ascending(first->wait.zone->index, second->wait.zone->index);
    if (order == 0)
        order = ascending(first->wait.first->index, second->wait.first->index);
    return order ? order : ascending(first->wait.second->index, second->wait.second->index);
}

/* More rounds than this move nothing in any plan a person wrote; the order they would settle is one of
 * several that are all sound. */
enum { SLOT_ROUNDS = 16 };

/* Order stated between nodes of one earliest day counts before the order of the text. Two treatments that
 * meet in many zones wait for each other once. */
void waits_make(struct dating *dating)
{
    VECTOR(struct precedence) ties = {0};
    for (size_t i = 0; i < dating->first_wait; i++) {
        const struct timetable_edge *edge = &dating->edges.items[i];
        struct precedence tie = {edge->from, edge->to};
        if (timetable_edge_days(edge) >= 0 && edge->from != edge->to &&
            dating->own.earliest[edge->from] == dating->own.earliest[edge->to])
            VECTOR_PUSH(dating->scratch, &ties, tie);
    }
    struct waiting waiting = {
        .dating = dating,
        .ranks = precedence_ranks(dating->scratch, dating->node_count, ties.items, ties.count)};
    struct zone_uses zone_uses = zone_uses_gather(dating);
    waiting.slot = ARENA_ARRAY(dating->scratch, dating->node_count, day_number);
    waiting.after = ARENA_ARRAY(dating->scratch, dating->node_count, day_number);
    for (uint32_t node = 0; node < dating->node_count; node++)
        waiting.slot[node] = waiting.after[node] = dating->own.earliest[node];
    waiting.moved = dating->records;
    for (int round = 0; round < SLOT_ROUNDS && waiting.moved; round++) {
        waiting.moved = false;
        limits_use(&waiting, &zone_uses, parties_slot);
        label_intervals_use(&waiting, &zone_uses, parties_slot);
    }
    limits_use(&waiting, &zone_uses, parties_apart);
    label_intervals_use(&waiting, &zone_uses, parties_apart);
    const struct chosen *chosen = waiting.chosen.items;
    size_t count = waiting.chosen.count, kept = 0;
    if (count)
        qsort(waiting.chosen.items, count, sizeof *chosen, by_edge);
    dating->waits = ARENA_ARRAY(dating->arena, count, struct wait);
    for (size_t i = 0; i < count; i++) {
        const struct timetable_edge *edge = &chosen[i].edge, *last = i > 0 ? &chosen[i - 1].edge : NULL;
        if (last && last->from == edge->from && last->to == edge->to && last->cause == edge->cause)
            continue;
        dating->waits[kept++] = chosen[i].wait;
        VECTOR_PUSH(dating->arena, &dating->edges, chosen[i].edge);
    }
}
