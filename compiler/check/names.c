/* What is declared and never used, and an edition that is not stated. Files that plans share declare more
 * than one plan uses: only what stands in the plan itself is looked at. */
#include "compiler/check/checking.h"

/* ---- ground ---- */

/* After an error in the text the statement that names a zone may be the one that was not read. A lawn of
 * several zones, none of them used, is told of as one. */
void check_unused_ground(struct checking *checking)
{
    const struct model *model = checking->model;
    for (size_t i = 0; i < model->lawns.count && model->treatments.count && checking->sound; i++) {
        const struct lawn *lawn = model->lawns.items[i];
        const struct zone **unused = ARENA_ARRAY(checking->arena, lawn->zones.count + 1, const struct zone *);
        size_t count = 0;
        for (size_t j = 0; j < lawn->zones.count; j++) {
            const struct zone *zone = lawn->zones.items[j];
            if (!zone->named_in_treatment && !checking->season->ledgers[zone->index].applications.count)
                unused[count++] = zone;
        }
        bool whole = count > 1 && count == lawn->zones.count;
        if (!symbol_is_plans(checking, &lawn->symbol) || lawn->symbol.broken)
            continue;
        if (whole)
            finding_add(checking, CHECK_UNUSED_LAWN, ABOUT(&lawn->symbol), lawn->symbol.place,
                        "nothing is done on %s", name_string(lawn->symbol.name));
        for (size_t j = 0; !whole && j < count; j++) {
            const struct zone *zone = unused[j];
            const char *name = name_string(zone->symbol.name);
            struct report *report =
                finding_add(checking, CHECK_UNUSED_ZONE, ABOUT(&zone->symbol, &lawn->symbol),
                            zone->symbol.place, "nothing is done on %s, %s", name,
                            display_area(checking->arena, checking->model, zone->area_m2));
            report_help(model->reports, report,
                        "name it after `to`, or say why it is left: allow unused-zone for %s \"...\"", name);
        }
    }
}

/* ---- things ---- */

static void check_unused(struct checking *checking, enum check_id id, const struct symbol *symbol,
                         const char *what)
{
    if (!symbol->used && !symbol->broken && symbol->name && symbol_is_plans(checking, symbol))
        finding_add(checking, id, ABOUT(symbol), symbol->place, "the %s %s is not used", what,
                    name_string(symbol->name));
}

/* What the plan's own file declares and nothing refers to. */
void check_unused_symbols(struct checking *checking)
{
    const struct model *model = checking->model;
    if (!checking->sound)
        return;
    for (size_t i = 0; i < model->products.count; i++)
        if (!model->products.items[i]->stocked) /* CHECK_STOCK_UNUSED says that */
            check_unused(checking, CHECK_UNUSED_PRODUCT, &model->products.items[i]->symbol, "product");
    for (size_t i = 0; i < model->machines.count; i++)
        check_unused(checking, CHECK_UNUSED_MACHINE, &model->machines.items[i]->symbol,
                     model->machines.items[i]->sprayer ? "sprayer" : "spreader");
    for (size_t i = 0; i < model->limit_sets.count; i++) {
        const struct limit_set *set = model->limit_sets.items[i];
        const char *name = name_string(set->symbol.name);
        if (set->bound || set->symbol.broken || !symbol_is_plans(checking, &set->symbol))
            continue;
        struct report *report =
            finding_add(checking, CHECK_UNUSED_LIMITS, ABOUT(&set->symbol), set->symbol.place,
                        "limits %s has no effect: the plan does not follow it", name);
        report_help(model->reports, report, "write: follow %s", name);
    }
    for (size_t i = 0; i < model->grasses.count; i++)
        check_unused(checking, CHECK_UNUSED_ENTRY, &model->grasses.items[i]->symbol, "grass");
    for (size_t i = 0; i < model->scales.count; i++)
        check_unused(checking, CHECK_UNUSED_ENTRY, &model->scales.items[i]->symbol, "scale");
    for (size_t i = 0; i < model->source_entries.count; i++)
        check_unused(checking, CHECK_UNUSED_ENTRY, &model->source_entries.items[i]->symbol, "source");
}

/* ---- where a law is from ---- */

/* Sets that others follow: of the library, and of files that plans share. */
void check_law_sources(struct checking *checking)
{
    struct reports *reports = checking->model->reports;
    for (size_t i = 0; i < checking->model->limit_sets.count; i++) {
        const struct limit_set *set = checking->model->limit_sets.items[i];
        if (set->basis != BASIS_LAW || !set->symbol.name || set->symbol.broken ||
            symbol_is_plans(checking, &set->symbol))
            continue;
        /* What shows where a law's text is, of which year, and when somebody read it, or that nobody did. */
        const struct source_entry *source = set->source;
        const char *lacking[4];
        size_t count = 0;
        if (source && !source->title)
            lacking[count++] = "`title`";
        if (source && !source->at)
            lacking[count++] = "`at`";
        if (source && !source->year)
            lacking[count++] = "`year`";
        if (source && source->day == DAY_NONE && source->status != STATUS_NOT_READ)
            lacking[count++] = "`read`";
        if (source && !count)
            continue;
        const char *lacks = list_text(checking->arena, lacking, count, " and ");
        const char *name = name_string(set->symbol.name);
        struct report *report =
            finding_add(checking, CHECK_LAW_SOURCE, ABOUT(&set->symbol), set->symbol.place,
                        set->source ? "limits %s state a law whose source has no %s"
                                    : "limits %s state a law without a source",
                        name, lacks);
        if (set->source)
            report_label(reports, report, set->source->symbol.place, "the source");
        report_help(reports, report, "%s",
                    set->source ? "complete the source; if nobody has read the law's text: status not-read"
                                : "name it: from SOURCE, with its title, at, year, and the day it was read");
    }
}

/* ---- the title and the edition ---- */

/* Calendar programs tell events apart by the title, and issues of one by the edition. */
void check_title(struct checking *checking)
{
    const struct model *model = checking->model;
    if (!model->has_season || !checking->sound)
        return;
    if (!model->title && model->treatments.count) {
        struct report *report = finding_add(checking, CHECK_TITLE_MISSING, ABOUT(NULL), model->season_place,
                                            "the plan has no title");
        report_help(
            model->reports, report,
            "without one its calendar events can overwrite those of another untitled plan; write, for "
            "example: plan \"Wrenfield, %d\"",
            date_of_day(model->season_first).year);
    }
    if (!model->edition) {
        struct report *report = finding_add(checking, CHECK_EDITION_MISSING, ABOUT(NULL), model->season_place,
                                            "the plan states no edition");
        report_help(
            model->reports, report,
            "calendar programs need it to tell a new issue from an old one; write, for example: edition "
            "1 on %s",
            day_text(checking->arena, model->season_first));
    }
}
