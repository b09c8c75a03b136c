/* Days of weather out of a CSV file, by the columns that the plan names. */
#ifndef PRILL_MODEL_WEATHER_FILE_H
#define PRILL_MODEL_WEATHER_FILE_H

#include "compiler/model/data_file.h"

enum date_order { DATE_YEAR_MONTH_DAY, DATE_MONTH_DAY_YEAR, DATE_DAY_MONTH_YEAR };

struct weather_column {
    struct named_column named;
    double factor, offset; /* SI = written * factor + offset */
};

struct weather_file { /* as a block describes it */
    struct data_file data;
    struct named_column date;
    struct weather_column columns[WEATHER_QUANTITY_COUNT];
    enum date_order order;
    double soil_depth_m;
};

/* Adds the days of the file to the series. False after a report. */
bool weather_file_read(struct weather_file *file, const struct source *source, struct weather_series *series);

/* Puts the days of all its files in order. False after a report of a day that is in them twice. */
bool weather_series_finish(struct model *model, struct weather_series *series);

#endif
