#include "compiler/result/soil_bar.h"

#include <math.h>

const char soil_bar_legend[] =
    "Bars: # soil level, | enough. pH from 4 to 9: = good range for the grass, # soil.";

enum { BAR_HALF = 12, BAR_WHOLE = 2 * BAR_HALF };

/* "#######.....|............": the mark is where it is enough, the whole bar twice that. Reads without
 * colour. */
const char *bar_of(struct arena *arena, double mean, double enough)
{
    double share = enough > 0 ? mean / enough : 2;
    size_t filled = (size_t)(fmax(fmin(share, 2), 0) * BAR_HALF + 0.5);
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < BAR_WHOLE; i++) {
        if (i == BAR_HALF)
            buffer_add_string(&text, "|");
        buffer_add_string(&text, i < filled ? "#" : ".");
    }
    if (share > 2)
        buffer_add_string(&text, ">");
    return text.string;
}

const char soil_change_legend[] =
    "Bars: o then, # now, * both, | enough. pH from 4 to 9: = good range for the grass.";

static size_t share_cell(double share)
{
    return (size_t)fmin(fmax(share, 0) * BAR_HALF, BAR_WHOLE - 1);
}

const char *bar_of_two(struct arena *arena, double was, double is, double enough)
{
    size_t then = share_cell(enough > 0 ? was / enough : 2), now = share_cell(enough > 0 ? is / enough : 2);
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < BAR_WHOLE; i++) {
        if (i == BAR_HALF)
            buffer_add_string(&text, "|");
        buffer_add_string(&text, i == now ? (i == then ? "*" : "#") : i == then ? "o" : ".");
    }
    return text.string;
}

static const double PH_FIRST = 4, PH_STEP = 0.2;

static size_t ph_cell(double ph)
{
    double cell = floor((ph - PH_FIRST) / PH_STEP + 1e-9);
    return (size_t)fmax(fmin(cell, BAR_WHOLE), 0);
}

/* "..........=====#===.......": from pH 4 to 9, `=` where the grass does well, `#` the soil. */
const char *ph_bar_of(struct arena *arena, double ph, const struct grass_range *range)
{
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i <= BAR_WHOLE; i++) {
        bool within = range && i >= ph_cell(range->low) && i <= ph_cell(range->high);
        buffer_add_string(&text, i == ph_cell(ph) ? "#" : within ? "=" : ".");
    }
    return text.string;
}

const char *ph_bar_of_two(struct arena *arena, double was, double is, const struct grass_range *range)
{
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i <= BAR_WHOLE; i++) {
        bool within = range && i >= ph_cell(range->low) && i <= ph_cell(range->high);
        bool then = i == ph_cell(was), now = i == ph_cell(is);
        buffer_add_string(&text, now ? (then ? "*" : "#") : then ? "o" : within ? "=" : ".");
    }
    return text.string;
}
