#include "compiler/model/shape.h"
#include "compiler/model/area.h"
#include "compiler/model/display.h"

#include <math.h>

enum { PARTS_SHOWN = 8 }; /* where nothing is left of a shape */

static void complain(struct model *model, const struct shape_part *part, const char *sentence,
                     const char *help)
{
    struct report *report = report_add(model->reports, &model_rules[RULE_SHAPE], part->place, "%s", sentence);
    report->help = help;
}

/* Every part is measured, for its own mistakes; what is taken away must leave something. */
bool shape_measure(struct shape *shape, struct model *model)
{
    bool sound = true;
    shape->area = 0;
    for (size_t i = 0; i < shape->part_count; i++) {
        struct shape_part *part = &shape->parts[i];
        bool fine = part->kind != SHAPE_GROUP || shape_measure(part->group, model);
        if (part->kind == SHAPE_GROUP) {
            part->area = part->group->area;
        } else if (part->kind == SHAPE_POLYGON) {
            struct polygon polygon = area_polygon(part->sizes, part->size_count / 2);
            size_t first = polygon.first + 1, second = polygon.second + 1;
            part->area = polygon.area;
            switch (polygon.status) {
            case POLYGON_SIMPLE:
                break;
            case POLYGON_FEW:
                complain(model, part, "a polygon needs three corners or more", NULL);
                break;
            case POLYGON_MANY:
                complain(model, part,
                         text_format(model->arena, "a polygon has at most %d corners", POLYGON_LIMIT), NULL);
                break;
            case POLYGON_REPEATS:
                complain(model, part,
                         text_format(model->arena, "corners %zu and %zu of this polygon are the same point",
                                     first, second),
                         NULL);
                break;
            case POLYGON_CROSSES:
                complain(model, part,
                         text_format(model->arena, "sides %zu and %zu of this polygon cross or touch", first,
                                     second),
                         "list the corners in order, walking around the zone");
                break;
            }
        } else {
            part->area = area_of(part->kind, part->sizes, part->size_count);
            if (isnan(part->area) && part->kind == SHAPE_SIDES)
                complain(model, part, "these three sides cannot meet in a triangle",
                         "the longest side must be shorter than the other two together");
            else if (isnan(part->area))
                complain(model, part, "offsets need two widths or more", NULL);
        }
        /* Larger than 1e12 m2 (a tenth of a continent) is a slip of the unit. */
        if (part->kind != SHAPE_GROUP) {
            fine = part->area > 0 && part->area < 1e12;
            if (part->area == 0 || part->area >= 1e12)
                complain(model, part,
                         part->area > 0 ? "this area is implausibly large" : "this shape has no area", NULL);
        }
        sound = sound && fine;
        if (fine)
            shape->area += part->less ? -part->area : part->area;
    }
    if (sound && shape->area <= 0) {
        struct report *report = report_add(model->reports, &model_rules[RULE_SHAPE], shape->place,
                                           "nothing is left of this area");
        for (size_t i = 0; i < shape->part_count && i < PARTS_SHOWN; i++)
            report_label(model->reports, report, shape->parts[i].place, "%s %s",
                         shape->parts[i].less ? "less" : "plus",
                         display_area(model->arena, model, shape->parts[i].area));
        return false;
    }
    return sound;
}
