#include "compiler/season/season_year.h"

enum { MONTHS_A_YEAR = 12 };

static day_number year_begin(const struct model *model, size_t index)
{
    return day_add_months(model->season_first, (int)index * MONTHS_A_YEAR);
}

bool season_is_long(const struct model *model)
{
    return model->has_season && year_begin(model, 1) <= model->season_last;
}

size_t season_year_count(const struct model *model)
{
    size_t count = 0;
    while (season_is_long(model) && year_begin(model, count + 1) - 1 <= model->season_last)
        count++;
    return count ? count : model->has_season;
}

struct season_year season_year_at(const struct model *model, size_t index)
{
    if (!season_is_long(model))
        return (struct season_year){model->season_first, model->season_last};
    return (struct season_year){year_begin(model, index), year_begin(model, index + 1) - 1};
}
