/* What goes behind what was done: all that does not fit before it.
 *
 * A record stays on its day. What is still to come goes before it where all waits between the two leave its
 * earliest day room for that, and behind it otherwise; then those waits move its earliest day, and it may no
 * longer fit before a later record. This grows to one answer, in whatever order the rules are looked at. */
#include "compiler/season/separation.h"

/* What is to come where a rule's waits to what was done of a class are these. */
struct past_class {
    unsigned own, other;            /* the class of what is to come, and of what was done */
    struct duration before, behind; /* what must lie between */
};

static int by_fixed_day(const void *a, const void *b)
{
    const struct party *first = a, *second = b;
    int order = ascending(second->fixed, first->fixed);
    return order ? order : ascending(first->day, second->day);
}

/* What is pinned to its day has its place already. Of the fixed ones, which come first, it is noted for each
 * number of them how many end in the last one of each class. */
void parties_slot(struct waiting *waiting, const struct wait_rule *rule)
{
    struct party_list *parties = &waiting->parties;
    struct duration back = rule->kind == WAIT_EITHER ? rule->days : (struct duration){.days = 1};
    const struct past_class pasts[] = {{FIRST_CLASS, SECOND_CLASS, rule->days, back},
                                       {SECOND_CLASS, FIRST_CLASS, back, rule->days}};
    size_t fixed = 0;
    if (rule->kind != WAIT_WITHIN)
        sort_items(parties->items, parties->count, sizeof *parties->items, by_fixed_day);
    while (fixed < parties->count && parties->items[fixed].fixed)
        fixed++;
    for (unsigned class = FIRST_CLASS; class <= SECOND_CLASS; class ++) {
        size_t last = 0;
        waiting->done_of[class - 1].count = 0;
        for (size_t i = 0; i <= fixed; i++) {
            last = i > 0 && (parties->items[i - 1].classes & class) ? i : last;
            VECTOR_PUSH(waiting->dating->scratch, &waiting->done_of[class - 1], last);
        }
    }
    for (size_t i = 2 * fixed; i < 2 * parties->count && rule->kind != WAIT_WITHIN; i++) {
        const struct party *party = &parties->items[i / 2];
        const struct past_class *past = &pasts[i % 2]; /* a party may be of both classes */
        bool moves = !party->pinned && (party->classes & past->own);
        day_number *after = &waiting->after[party->node], *slot = &waiting->slot[party->node];

        /* Until no record moves it: one that pushes the party on may bring it behind the next. */
        while (moves) {
            /* The last party done before the day that is of the class: the fixed ones come first, in the
             * order of their days. */
            day_number day = day_after(*after, past->before);
            size_t low = 0, high = fixed;
            while (low < high) {
                size_t middle = low + (high - low) / 2;
                if (parties->items[middle].day < day)
                    low = middle + 1;
                else
                    high = middle;
            }
            size_t end = waiting->done_of[past->other - 1].items[low];
            const struct party *done = end > 0 ? &parties->items[end - 1] : NULL;
            day_number behind = done ? day_after(done->day, past->behind) : 0;
            if (!done || (done->day <= *slot && behind <= *after))
                break;
            *slot = done->day > *slot ? done->day : *slot;
            *after = behind > *after ? behind : *after;
            waiting->moved = true;
        }
    }
    parties->count = 0;
}
