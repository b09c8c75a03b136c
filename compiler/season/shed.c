#include "compiler/season/shed.h"

#include "compiler/model/product.h"
#include "compiler/model/tolerance.h"
#include "compiler/season/layer.h"

#include <assert.h>
#include <stdlib.h>

/* In the order in which they count on one day. */
enum event_kind { EVENT_BOUGHT, EVENT_USED, EVENT_COUNTED };

struct event {
    size_t shelf;
    day_number day;
    enum event_kind kind;
    size_t position;           /* of the statement, or of the occurrence */
    double amount;             /* as the shelf measures it; NAN where that takes a density nobody stated */
    const struct stock *stock; /* of bought and counted */
    const struct occurrence *occurrence; /* of used */
};

struct events {
    struct event *items;
    size_t count, capacity;
};

static int by_shelf_and_day(const void *a, const void *b)
{
    const struct event *first = a, *second = b;
    int shelf = ascending((int64_t)first->shelf, (int64_t)second->shelf);
    int day = ascending(first->day, second->day), kind = ascending(first->kind, second->kind);
    int position = ascending((int64_t)first->position, (int64_t)second->position);
    return shelf ? shelf : day ? day : kind ? kind : position;
}

/* What records used, one event for each product of an occurrence. Of what is planned only the measure is
 * looked at. */
static void uses_gather(const struct season *season, const struct shed *shed, struct events *events)
{
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        size_t before = events->count;
        struct draw_list draws = draws_of(season->arena, occurrence);
        for (size_t j = 0; j < draws.count; j++) {
            const struct amount *amount = &draws.items[j].amount;
            size_t at = amount->product ? shed->shelf_of[amount->product->index] : 0, same = before;
            if (!at)
                continue;
            struct shelf *shelf = &shed->shelves.items[at - 1];
            assert(shelf);
            if (!(shelf->first->amount > 0)) /* that there is none is measured as whatever is used */
                shelf->volume = amount->volume;
            double used = product_measure(amount->product, amount->total, amount->volume, shelf->volume);
            if (isnan(used))
                shelf->unmeasured = shelf->first;
            if (isnan(used) || !occurrence->done)
                continue;
            while (same < events->count && events->items[same].shelf != at - 1)
                same++;
            if (same < events->count)
                events->items[same].amount += used;
            else
                VECTOR_PUSH(season->arena, events,
                            ((struct event){.shelf = at - 1,
                                            .day = occurrence->day,
                                            .kind = EVENT_USED,
                                            .position = occurrence->index,
                                            .amount = used,
                                            .occurrence = occurrence}));
        }
    }
}

/* The events of one shelf, by day. Nothing is known of the time before the first statement: what was used
 * then is not missed. */
static void shelf_keep(const struct season *season, struct shelf *shelf, const struct event *events,
                       size_t count)
{
    assert(shelf);
    const struct stock *stated = NULL;
    double carried = 0, unit_worth = 0; /* of what was there before a day's counts and is not counted yet */
    for (size_t i = 0; i < count; i++) {
        const struct event *event = &events[i];
        if (isnan(event->amount)) {
            shelf->unmeasured = event->stock;
            continue;
        }
        switch (event->kind) {
        case EVENT_BOUGHT:
            shelf->bought += event->amount;
            shelf->left += event->amount;
            shelf->worth += isnan(event->stock->price) ? 0 : event->stock->price;
            break;
        case EVENT_USED:
            if (!stated)
                continue;
            if (exceeds(event->amount, shelf->left))
                VECTOR_PUSH(season->arena, &shelf->lacks,
                            ((struct shelf_lack){event->occurrence, stated, event->amount, shelf->left}));
            shelf->used += event->amount;
            shelf->worth *= shelf->left > event->amount ? 1 - event->amount / shelf->left : 0;
            shelf->left = fmax(shelf->left - event->amount, 0);
            break;
        case EVENT_COUNTED: {
            bool again = shelf->last && shelf->last->day == event->day;
            if (!again && stated)
                VECTOR_PUSH(season->arena, &shelf->counts,
                            ((struct shelf_count){.stock = event->stock, .expected = shelf->left}));
            if (!again) {
                carried = shelf->left;
                unit_worth = carried > 0 ? shelf->worth / carried : 0;
                shelf->counted = shelf->left = shelf->worth = shelf->bought = shelf->used = 0;
                shelf->last = event->stock;
            }
            shelf->counted += event->amount;
            shelf->left += event->amount;
            /* Counted without a price, what was there before keeps what it cost. */
            bool priced = !isnan(event->stock->price);
            double same = priced ? 0 : fmin(event->amount, carried);
            shelf->worth += priced ? event->stock->price : same * unit_worth;
            carried -= same;
            if (shelf->counts.count && shelf->counts.items[shelf->counts.count - 1].stock == shelf->last)
                shelf->counts.items[shelf->counts.count - 1].counted = shelf->counted;
            break;
        }
        }
        stated = event->stock ? event->stock : stated;
    }
}

/* What is stated and what records used, in the order of shelves and days; then each shelf by itself. */
struct shed shed_of(const struct season *season)
{
    struct shed shed = {0};
    struct events events = {0};
    shed.shelf_of = ARENA_ARRAY(season->arena, season->model->products.count + 1, size_t);
    const struct model *model = season->model;
    for (size_t i = 0; i < model->stocks.count; i++) {
        /* What is stated, as each product's first statement measures it. */
        const struct stock *stock = model->stocks.items[i];
        if (!stock->product)
            continue;
        size_t *at = &shed.shelf_of[stock->product->index];
        if (!*at) {
            VECTOR_PUSH(season->arena, &shed.shelves,
                        ((struct shelf){.product = stock->product, .volume = stock->volume, .first = stock}));
            *at = shed.shelves.count;
        }
        struct shelf *shelf = &shed.shelves.items[*at - 1];
        /* That there is none says nothing of how it is measured. */
        if (!(shelf->first->amount > 0) && stock->amount > 0) {
            shelf->first = stock;
            shelf->volume = stock->volume;
        }
        VECTOR_PUSH(season->arena, &events,
                    ((struct event){.shelf = *at - 1,
                                    .day = stock->day,
                                    .kind = stock->bought ? EVENT_BOUGHT : EVENT_COUNTED,
                                    .position = i,
                                    .amount = stock->amount,
                                    .stock = stock}));
    }
    for (size_t i = 0; i < events.count; i++) {
        struct event *event = &events.items[i];
        const struct shelf *shelf = &shed.shelves.items[event->shelf];
        assert(shelf);
        if (event->amount > 0)
            event->amount =
                product_measure(shelf->product, event->amount, event->stock->volume, shelf->volume);
    }
    if (!events.count)
        return shed;
    uses_gather(season, &shed, &events);
    qsort(events.items, events.count, sizeof *events.items, by_shelf_and_day);
    for (size_t first = 0, end; first < events.count; first = end) {
        size_t at = events.items[first].shelf;
        for (end = first; end < events.count && events.items[end].shelf == at;)
            end++;
        shelf_keep(season, &shed.shelves.items[at], &events.items[first], end - first);
    }
    return shed;
}

const struct shelf *shed_find(const struct shed *shed, const struct product *product)
{
    size_t at = shed->shelf_of[product->index];
    return at ? &shed->shelves.items[at - 1] : NULL;
}
