/* The years that figures of a year are held against, such as what a grass asks for: whole years counted from
 * the season's first day. A season of up to a year stands for one; what a longer one has left over behind its
 * last whole year is none. */
#ifndef PRILL_SEASON_SEASON_YEAR_H
#define PRILL_SEASON_SEASON_YEAR_H

#include "compiler/model/model.h"

struct season_year { /* both included */
    day_number first, last;
};

/* Whether the season is longer than a year, so that it must be said which one is meant. */
bool season_is_long(const struct model *model);

size_t season_year_count(const struct model *model); /* 0 without a season */
struct season_year season_year_at(const struct model *model, size_t index);

#endif
