/* What must lie apart: days between uses of one product (its label), and between applications of a nutrient
 * or of two classes (limits); or not too far apart. No statement says which goes first, so an order is
 * chosen; see season.h. */
#include "compiler/season/separation.h"

/* ---- rules ---- */

static int by_product(const void *a, const void *b)
{
    const struct zone_use *first = a, *second = b;
    int product = ascending(first->amount->product->index, second->amount->product->index);
    return product ? product : ascending(first->occurrence, second->occurrence);
}

/* Of days between applications of a nutrient, or of two named alike, both sides are one class. */
static void rules_use(struct waiting *waiting, const struct zone_uses *zone_uses, parties_use *use)
{
    const struct dating *dating = waiting->dating;
    const struct model *model = dating->season->model;
    for (uint32_t number = 0; number < model->limits.count; number++) {
        const struct limit *limit = model->limits.items[number];
        const struct limit_set *set = limit->set;
        enum wait_kind kind = limit->kind == LIMIT_FOLLOW ? WAIT_WITHIN
                              : limit->directed           ? WAIT_FROM
                                                          : WAIT_EITHER;
        if (!limit_dates(model, limit) ||
            (limit->kind != LIMIT_WAIT && limit->kind != LIMIT_WAIT_BETWEEN && limit->kind != LIMIT_FOLLOW))
            continue;
        for (size_t i = 0; i < (set->places.count ? set->places.count : model->zones.count); i++) {
            const struct zone *zone = set->places.count ? set->places.items[i] : model->zones.items[i];
            struct wait_rule rule = {kind, limit->time, dating->rules->limit_cause + number, zone};
            for (uint32_t j = zone_uses->start[zone->index]; j < zone_uses->start[zone->index + 1]; j++) {
                const struct zone_use *zone_use = &zone_uses->items[j];
                bool first, second;
                if (limit->kind == LIMIT_WAIT)
                    first = second =
                        zone_use->amount && amount_brings(zone_use->amount, limit->nutrient->nutrient);
                else {
                    first = zone_use_in_class(dating, zone_use, &limit->first);
                    second = class_equal(&limit->first, &limit->second)
                                 ? first
                                 : zone_use_in_class(dating, zone_use, &limit->second);
                }
                if (first || second)
                    party_add(waiting, zone_use, (first ? FIRST_CLASS : 0U) | (second ? SECOND_CLASS : 0U));
            }
            use(waiting, &rule);
        }
    }

    /* A label's interval binds each product by itself. */
    VECTOR(struct zone_use) bound = {0};
    for (size_t zone = 0; zone < model->zones.count; zone++) {
        bound.count = 0;
        for (uint32_t i = zone_uses->start[zone]; i < zone_uses->start[zone + 1]; i++) {
            const struct amount *amount = zone_uses->items[i].amount;
            if (amount && duration_any(amount->product->label.interval))
                VECTOR_PUSH(dating->scratch, &bound, zone_uses->items[i]);
        }
        sort_items(bound.items, bound.count, sizeof *bound.items, by_product);
        for (size_t i = 0; i < bound.count; i++) {
            const struct product *product = bound.items[i].amount->product;
            party_add(waiting, &bound.items[i], BOTH_CLASSES);
            if (i + 1 < bound.count && bound.items[i + 1].amount->product == product)
                continue;
            struct wait_rule rule = {WAIT_EITHER, product->label.interval,
                                     dating->rules->product_cause + product->index, model->zones.items[zone]};
            use(waiting, &rule);
        }
    }
}

/* ---- all of it ---- */

/* Of the edges from one node: by edge; of equal ones the longest wait first, then the first zone. */
static int by_edge(const void *a, const void *b)
{
    const struct chosen *first = a, *second = b;
    int order = ascending(first->edge.to, second->edge.to);
    if (order == 0)
        order = ascending(first->edge.cause, second->edge.cause);
    if (order == 0)
        order = ascending(timetable_edge_days(&second->edge), timetable_edge_days(&first->edge));
    if (order == 0)
        order = ascending(first->wait.zone, second->wait.zone);
    if (order == 0)
        order = ascending(first->wait.first, second->wait.first);
    return order ? order : ascending(first->wait.second, second->wait.second);
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
            dating->earliest[edge->from] == dating->earliest[edge->to])
            VECTOR_PUSH(dating->scratch, &ties, tie);
    }
    struct waiting waiting = {
        .dating = dating,
        .ranks = precedence_ranks(dating->scratch, dating->node_count, ties.items, ties.count)};
    struct zone_uses zone_uses = zone_uses_gather(dating);
    waiting.slot = ARENA_ARRAY(dating->scratch, dating->node_count, day_number);
    waiting.after = ARENA_ARRAY(dating->scratch, dating->node_count, day_number);
    for (uint32_t node = 0; node < dating->node_count; node++)
        waiting.slot[node] = waiting.after[node] = dating->earliest[node];
    waiting.moved = dating->records;
    for (int round = 0; round < SLOT_ROUNDS && waiting.moved; round++) {
        waiting.moved = false;
        rules_use(&waiting, &zone_uses, parties_slot);
    }
    rules_use(&waiting, &zone_uses, parties_apart);
    const struct chosen *chosen = waiting.chosen.items;
    uint32_t *from = ARENA_ARRAY(dating->scratch, waiting.chosen.count, uint32_t);
    for (size_t i = 0; i < waiting.chosen.count; i++)
        from[i] = chosen[i].edge.from;
    struct keyed sorted = sort_by_key(dating->scratch, from, waiting.chosen.count, dating->node_count);
    VECTOR(struct chosen) leaving = {0}; /* from the node at hand */
    for (uint32_t node = 0; node < dating->node_count; node++) {
        leaving.count = 0;
        for (uint32_t i = sorted.start[node]; i < sorted.start[node + 1]; i++)
            VECTOR_PUSH(dating->scratch, &leaving, chosen[sorted.items[i]]);
        sort_items(leaving.items, leaving.count, sizeof *leaving.items, by_edge);
        for (size_t i = 0; i < leaving.count; i++) {
            const struct chosen *one = &leaving.items[i], *last = i ? one - 1 : NULL;
            if (last && last->edge.to == one->edge.to && last->edge.cause == one->edge.cause)
                continue;
            VECTOR_PUSH(dating->arena, &dating->edges, one->edge);
            VECTOR_PUSH(dating->arena, &dating->waits, one->wait);
        }
    }
}
