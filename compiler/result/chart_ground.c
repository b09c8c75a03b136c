/* The zones from above. A plan says how long and wide a zone is, not where it lies: they stand side by side,
 * a part that is added beside the one before it, one that is taken away in the middle of it. */
#include "compiler/result/charts.h"

#include "compiler/model/display.h"
#include "compiler/model/shape.h"

#include <string.h>

/* Outlines in m, from 0 to width and height. */
struct sketch {
    VECTOR(struct chart_outline) outlines;
    double width, height;
    double last_x, last_width; /* of the part that was added last */
};

static void corner(struct arena *arena, struct chart_outline *outline, double x, double y)
{
    struct chart_point point = {x, y};
    VECTOR_PUSH(arena, &outline->points, point);
}

/* One part, from 0 on both axes: y grows downwards, so that a polygon's north is up. */
static struct chart_outline outline_of(struct arena *arena, const struct shape_part *part, double *width,
                                       double *height)
{
    const double *size = part->sizes;
    struct chart_outline outline = {.less = part->less};
    double twice = part->kind == SHAPE_RADIUS ? 2 : 1, lowest_x = INFINITY, lowest_y = INFINITY;
    *width = twice * size[0];
    *height = *width;
    switch (part->kind) {
    case SHAPE_RECTANGLE:
    case SHAPE_SQUARE:
        *height = part->kind == SHAPE_SQUARE ? size[0] : size[1];
        corner(arena, &outline, 0, 0);
        corner(arena, &outline, *width, 0);
        corner(arena, &outline, *width, *height);
        corner(arena, &outline, 0, *height);
        break;
    case SHAPE_CIRCLE:
    case SHAPE_RADIUS:
    case SHAPE_ELLIPSE:
        *height = part->kind == SHAPE_ELLIPSE ? size[1] : *width;
        outline.round = true;
        corner(arena, &outline, *width / 2, *height / 2);
        corner(arena, &outline, *width / 2, *height / 2);
        break;
    case SHAPE_TRIANGLE: /* base and height leave open where the tip is: above the middle */
        *height = size[1];
        corner(arena, &outline, *width / 2, 0);
        corner(arena, &outline, *width, *height);
        corner(arena, &outline, 0, *height);
        break;
    case SHAPE_SIDES: { /* the tip by the law of cosines; it may lie beside the base */
        double tip = (size[0] * size[0] + size[2] * size[2] - size[1] * size[1]) / (2 * size[0]);
        double left = fmin(tip, 0);
        *height = sqrt(fmax(size[2] * size[2] - tip * tip, 0));
        *width = fmax(tip, size[0]) - left;
        corner(arena, &outline, tip - left, 0);
        corner(arena, &outline, size[0] - left, *height);
        corner(arena, &outline, -left, *height);
        break;
    }
    case SHAPE_TRAPEZOID:
        *width = fmax(size[0], size[1]);
        *height = size[2];
        corner(arena, &outline, (*width - size[0]) / 2, 0);
        corner(arena, &outline, (*width + size[0]) / 2, 0);
        corner(arena, &outline, (*width + size[1]) / 2, *height);
        corner(arena, &outline, (*width - size[1]) / 2, *height);
        break;
    case SHAPE_POLYGON:
        *width = *height = 0;
        for (size_t i = 0; i + 1 < part->size_count; i += 2) {
            lowest_x = fmin(lowest_x, size[i]);
            lowest_y = fmin(lowest_y, size[i + 1]);
        }
        for (size_t i = 0; i + 1 < part->size_count; i += 2) {
            *width = fmax(*width, size[i] - lowest_x);
            *height = fmax(*height, size[i + 1] - lowest_y);
        }
        for (size_t i = 0; i + 1 < part->size_count; i += 2)
            corner(arena, &outline, size[i] - lowest_x, *height - (size[i + 1] - lowest_y));
        break;
    case SHAPE_OFFSETS: /* half of each width on either side of the line it was measured from */
        *width = size[0] * (double)(part->size_count - 2);
        *height = 0;
        for (size_t i = 1; i < part->size_count; i++)
            *height = fmax(*height, size[i]);
        for (size_t i = 1; i < part->size_count; i++)
            corner(arena, &outline, size[0] * (double)(i - 1), (*height - size[i]) / 2);
        for (size_t i = part->size_count; i-- > 1;)
            corner(arena, &outline, size[0] * (double)(i - 1), (*height + size[i]) / 2);
        break;
    case SHAPE_AREA:
    case SHAPE_GROUP:
        break;
    }
    return outline;
}

/* False where some part of it is an area without a shape. */
static bool has_shape(const struct shape *shape)
{
    bool all = shape != NULL && shape->part_count > 0;
    for (size_t i = 0; all && i < shape->part_count; i++)
        all = shape->parts[i].group ? has_shape(shape->parts[i].group) : shape->parts[i].kind != SHAPE_AREA;
    return all;
}

static void sketch_put(struct arena *arena, struct sketch *sketch, struct chart_outline outline, double x,
                       double y)
{
    for (size_t i = 0; i < outline.points.count; i++) {
        if (outline.round && i == 1) /* half axes, not a place */
            continue;
        outline.points.items[i].x += x;
        outline.points.items[i].y += y;
    }
    VECTOR_PUSH(arena, &sketch->outlines, outline);
}

/* Parts are side by side, since nothing says how they lie; what is taken away lies in the middle of the one
 * before it. */
static struct sketch sketch_of(struct arena *arena, const struct shape *shape)
{
    struct sketch sketch = {.width = 0};
    for (size_t i = 0; i < shape->part_count; i++) {
        const struct shape_part *part = &shape->parts[i];
        struct sketch inner = {.width = 0};
        if (part->group) {
            inner = sketch_of(arena, part->group);
        } else {
            struct chart_outline outline = outline_of(arena, part, &inner.width, &inner.height);
            VECTOR_PUSH(arena, &inner.outlines, outline);
        }
        double x = part->less ? sketch.last_x + (sketch.last_width - inner.width) / 2 : sketch.width;
        double y = part->less ? (sketch.height - inner.height) / 2 : 0;
        for (size_t j = 0; j < inner.outlines.count; j++) {
            struct chart_outline outline = inner.outlines.items[j];
            outline.less = outline.less || part->less;
            sketch_put(arena, &sketch, outline, x, y);
        }
        if (part->less)
            continue;
        sketch.last_x = sketch.width;
        sketch.last_width = inner.width;
        sketch.width += inner.width;
        sketch.height = fmax(sketch.height, inner.height);
    }
    return sketch;
}

/* Side by side in rows, about half as wide again as high; a name takes room above its zone. A strip that is
 * long the other way would be drawn higher than a screen: it sets the scale, too. */
static void lay_out(struct arena *arena, struct chart *chart, const struct model *model)
{
    const double highest = 400;
    double widest = 0, tallest = 0, ground = 0, x = 0, y = 0, row = 0;
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct zone *zone = model->zones.items[i];
        if (!has_shape(zone->shape))
            continue;
        struct sketch sketch = sketch_of(arena, zone->shape);
        widest = fmax(widest, sketch.width);
        tallest = fmax(tallest, sketch.height);
        ground += sketch.width * sketch.height;
    }
    chart->width = fmax(fmax(widest, sqrt(ground) * 1.5), tallest * CHART_ACROSS / highest);
    double unit = chart->width / CHART_ACROSS; /* m of one unit of the drawing */
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct zone *zone = model->zones.items[i];
        if (!has_shape(zone->shape))
            continue;
        struct sketch sketch = sketch_of(arena, zone->shape);
        const char *label = text_format(arena, "%s %s", name_string(zone->symbol.name),
                                        display_area(arena, model, zone->area_m2));
        double cell =
            fmax(sketch.width, unit * CHART_LETTER * (double)strlen(label)) + 2 * CHART_LETTER * unit;
        if (x > 0 && x + sketch.width > chart->width) {
            x = 0;
            y += row + (CHART_LINE + 4) * unit;
            row = 0;
        }
        for (size_t j = 0; j < sketch.outlines.count; j++) {
            struct chart_outline outline = sketch.outlines.items[j];
            struct sketch on_page = {.width = 0};
            outline.label = j == 0 ? label : NULL;
            sketch_put(arena, &on_page, outline, x, y);
            VECTOR_PUSH(arena, &chart->outlines, on_page.outlines.items[0]);
        }
        x += cell;
        row = fmax(row, sketch.height);
    }
    chart->height = y + row;
}

/* Drawn to scale only where the plan gives a shape; the others are named. */
void ground_chart_describe(struct page *page, const struct model *model)
{
    struct arena *arena = page->arena;
    struct chart *chart = ARENA_NEW(arena, struct chart);
    chart->kind = CHART_PLAN;
    struct buffer without = {.arena = arena};
    lay_out(arena, chart, model);
    for (size_t i = 0; i < model->zones.count; i++)
        if (!has_shape(model->zones.items[i]->shape)) {
            buffer_separate(&without, ", ");
            buffer_add_string(&without, name_string(model->zones.items[i]->symbol.name));
        }
    if (chart->outlines.count == 0)
        return;
    /* From m to the unit that lengths are shown in. */
    double per_m = display_parts(model, QUANTITY_LENGTH, 1).value;
    chart->unit = display_unit(arena, model, QUANTITY_LENGTH, 1);
    chart->width *= per_m;
    chart->height *= per_m;
    for (size_t i = 0; i < chart->outlines.count; i++)
        for (size_t j = 0; j < chart->outlines.items[i].points.count; j++) {
            chart->outlines.items[i].points.items[j].x *= per_m;
            chart->outlines.items[i].points.items[j].y *= per_m;
        }
    chart->title = "The zones, to one scale";
    chart->description = "The outline of each zone that has a shape. The lines below have their areas.";
    page_add(page, PART_CHART, 0, NULL)->chart = chart;
    page_line(page, 1, "Where the zones lie is not stated, nor where in a zone a part is taken away.");
    if (without.length)
        page_say(page, 1, "Not drawn, since only the area is stated: %s.", without.string);
}
