/* The calendar of an earlier edition, as its JSON tells it: what stood in people's calendars, and may have to
 * be taken off them. */
#ifndef PRILL_RESULT_EARLIER_EDITION_H
#define PRILL_RESULT_EARLIER_EDITION_H

#include "compiler/result/work.h"

struct earlier_work {
    const char *uid, *headline;
    const char *kind; /* "application", "task" */
    day_number day;
};

struct earlier {
    const char *title;                 /* NULL without */
    int edition;                       /* 0 where it states none, which counts as the first */
    VECTOR(struct earlier_work) works; /* with what it had itself taken off */
};

/* Reads what `prill calendar --as json` printed. NULL where the text is no such document; *why then says in
 * what way. Everything lives in the arena. */
struct earlier *earlier_read(struct arena *arena, struct text json, const char **why);

/* Those of the earlier edition whose UID is neither among the works nor among what was skipped. */
struct earlier_works {
    const struct earlier_work **items;
    size_t count, capacity;
};
struct earlier_works earlier_gone(struct arena *arena, const struct earlier *earlier,
                                  const struct work_list *list, const struct work_list *skipped);

/* Whether there was something and nothing of it is left: it may be the calendar of another plan. */
bool earlier_all_gone(struct arena *arena, const struct earlier *earlier, const struct season *season);

#endif
