/* What a day finds to do: overdue, due within a week, and what comes next. The day is told to the program; no
 * clock is read. */
#ifndef PRILL_RESULT_AGENDA_H
#define PRILL_RESULT_AGENDA_H

#include "compiler/result/work.h"

/* A day to look from, and by occurrence the earliest days from then on (season_days_from). */
struct look {
    day_number day;
    const day_number *from;
};

struct errand {
    const struct work *work;
    day_number day; /* the earliest from the day looked from; DAY_NEVER where none is left */
};

struct errands {
    struct errand *items;
    size_t count, capacity;
};

struct obligation {
    const struct work *work;
    const struct duty *duty;
};

struct obligations {
    struct obligation *items;
    size_t count, capacity;
};

/* What is done and not over yet, on the day that the season is looked at from; in the order of the work. */
struct obligations obligations_of(const struct season *season, const struct work_list *list);

struct agenda {
    day_number day, week_end; /* the seventh day, that one included */
    struct errands overdue;   /* planned for an earlier day, and neither done nor skipped; by planned day */
    struct errands due;       /* from that day to week_end, by day */
    struct errands next;      /* on the first day after it that has any */
    struct obligations in_force;
    struct errands held; /* no day is left while what is overdue is not settled; by planned day */
};

struct agenda agenda_of(const struct season *season, const struct work_list *list, const struct look *look);

/* An errand in a sentence, with its day. */
const char *overdue_sentence(struct arena *arena, const struct errand *errand);
const char *errand_sentence(struct arena *arena, const struct errand *errand);

#endif
