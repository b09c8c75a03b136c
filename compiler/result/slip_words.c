#include "compiler/result/slip_words.h"

#include "compiler/model/display.h"

#include <string.h>

enum { WORDS_SHOWN = 100 }; /* bytes; of a longer statement the check's name is shown */

/* "closed until Thu 2027-09-16", "later breaks `at most 1 lb N per 1000 sqft in any 30 days`"; "" where its
 * own days are over. */
static const char *slip_reason(struct arena *arena, const struct slip *slip)
{
    if (slip->end == SLIP_CLOSED && slip->opens != DAY_NEVER)
        return text_format(arena, "then closed until %s", display_date(arena, slip->opens));
    if (slip->end == SLIP_CLOSED)
        return "then closed";
    if (slip->end != SLIP_BROKEN)
        return "";
    const char *words = slip->at.source ? place_words(arena, slip->at) : "";
    bool shown = words[0] && strlen(words) <= WORDS_SHOWN;
    return text_format(arena, shown ? "later breaks `%s`" : "later is an error: %s",
                       shown ? words : slip->check);
}

const char *slip_sentence(struct arena *arena, const struct occurrence *occurrence)
{
    const struct slip *slip = &occurrence->slip;
    const char *reason = slip_reason(arena, slip), *stop = reason[0] ? "; " : "";
    const char *alone = display_date(arena, slip->alone), *latest = display_date(arena, slip->latest);
    if (slip->end == SLIP_NOT_ASKED)
        return NULL;
    if (slip->end == SLIP_UNKNOWN)
        return "How far this day may slip is not known.";
    bool by_dates = slip->end == SLIP_WINDOW || (slip->check && strcmp(slip->check, "no-day") == 0);
    if (slip->latest <= occurrence->day && by_dates && occurrence_day_given(occurrence))
        return "Fixed day.";
    if (slip->latest <= occurrence->day)
        return text_format(arena, "No later day fits%s%s.", stop, reason);
    if (slip->alone >= slip->latest)
        return text_format(arena, "Latest %s%s%s.", latest, stop, reason);
    if (slip->alone > occurrence->day)
        return text_format(arena, "Latest %s, or %s if later work moves too%s%s.", alone, latest, stop,
                           reason);
    return text_format(arena, "Latest %s, if later work moves too%s%s.", latest, stop, reason);
}
