/* What is declared and never used, and an edition that is not stated. Files that plans share declare more
 * than one plan uses: only what stands in the plan itself is looked at. */
#include "compiler/check/checking.h"
#include "compiler/model/identifier.h"
#include "compiler/model/symbol.h"

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

/* ---- kinds ---- */

struct kind_use {
    const struct name *kind;
    const struct limit *limit; /* that names it; NULL where a product or treatment is of it */
    const struct symbol *holder;
};
struct kind_uses {
    struct kind_use *items;
    size_t count, capacity;
};

/* A plan of more kinds than this is not looked through: each is compared with each. */
enum { KINDS_COMPARED = 200 };

/* Each kind once for all limits, and once for all that is of it. */
static void kind_add(struct arena *arena, struct kind_uses *uses, const struct name *kind,
                     const struct limit *limit, const struct symbol *holder)
{
    if (!kind || uses->count > KINDS_COMPARED)
        return;
    for (size_t i = 0; i < uses->count; i++)
        if (uses->items[i].kind == kind && !uses->items[i].limit == !limit)
            return;
    VECTOR_PUSH(arena, uses, ((struct kind_use){kind, limit, holder}));
}

/* The same kind among those of limits, or among the others; or else one that is this but for capitals and a
 * letter or two. `line` is not `lime`, nor `feed` `seed`: a short one has a letter more or less. */
static const struct kind_use *kind_near(const struct kind_uses *uses, const struct name *kind, bool limits)
{
    const struct kind_use *near = NULL;
    for (size_t i = 0; i < uses->count; i++) {
        const struct kind_use *use = &uses->items[i];
        size_t length = kind->text.length;
        bool ascii = text_is_ascii(kind->text) && text_is_ascii(use->kind->text); /* else names-alike */
        if (!use->limit == limits)
            continue;
        if (use->kind == kind)
            return use;
        bool same_initial = ((*kind->text.start ^ *use->kind->text.start) & ~0x20) == 0;
        size_t letters = length > 5 ? 2 : length > 3 && length != use->kind->text.length;
        if (same_initial && ascii && text_distance(kind->text, use->kind->text) <= letters)
            near = use;
    }
    return near;
}

/* What the author means by a kind nobody can know. But a limit that spells it otherwise does not bind what is
 * of it, and one of the plan that names a treatment or product in place of a kind binds nothing. */
void check_kinds(struct checking *checking)
{
    const struct model *model = checking->model;
    struct kind_uses uses = {0};
    for (size_t i = 0; i < model->products.count; i++)
        for (size_t j = 0; j < model->products.items[i]->kinds.count; j++)
            kind_add(checking->arena, &uses, model->products.items[i]->kinds.items[j], NULL,
                     &model->products.items[i]->symbol);
    for (size_t i = 0; i < model->treatments.count; i++)
        for (size_t j = 0; j < model->treatments.items[i]->kinds.count; j++)
            kind_add(checking->arena, &uses, model->treatments.items[i]->kinds.items[j], NULL,
                     &model->treatments.items[i]->symbol);
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        if (!limit->set->bound || limit->set->of_lime_table)
            continue;
        kind_add(checking->arena, &uses, limit->product_kind, limit, NULL);
        kind_add(checking->arena, &uses, limit->first.kind, limit, NULL);
        kind_add(checking->arena, &uses, limit->second.kind, limit, NULL);
        for (size_t j = 0; j < limit->classes.count; j++)
            kind_add(checking->arena, &uses, limit->classes.items[j].kind, limit, NULL);
    }
    bool compared = checking->sound && uses.count <= KINDS_COMPARED;
    for (size_t i = 0; i < uses.count && compared; i++) {
        const struct kind_use *use = &uses.items[i], *near = kind_near(&uses, use->kind, !use->limit);
        const char *kind = name_string(use->kind);
        struct symbol about = {.name = use->kind}, *named = NULL;
        struct report *report;
        if (near && near->kind == use->kind)
            continue;
        if (use->limit) {
            if (!near)
                named = symbol_look(model, SYMBOL_TREATMENT, use->kind);
            if (!near && !named)
                named = symbol_look(model, SYMBOL_PRODUCT, use->kind);
            if ((!near && !named) || use->limit->set->symbol.library)
                continue;
            report = finding_add(checking, CHECK_KIND_UNKNOWN, ABOUT(&about), use->limit->place,
                                 "nothing is of the kind %s, so this %s has no effect", kind,
                                 use->limit->kind == LIMIT_NEED ? "exception" : "limit");
            report_label(model->reports, report, (near ? near->holder : named)->place, "%s",
                         near ? "this is of another kind" : "this is a name, and limits bind kinds");
        } else {
            /* A limit of the plan is told of itself, unless something else is of its kind. */
            const struct kind_use *other = near ? kind_near(&uses, near->kind, false) : NULL;
            if (!near || (!near->limit->set->symbol.library && !(other && other->kind == near->kind)))
                continue;
            struct place place = use->holder->place;
            for (size_t j = 0; j < model->written_names.count; j++) {
                struct place written = model->written_names.items[j].place;
                if (model->written_names.items[j].name == use->kind && written.source == place.source &&
                    written.start > place.start)
                    place = written;
            }
            report = finding_add(checking, CHECK_KIND_UNKNOWN, ABOUT(&about), place,
                                 "no limit names the kind %s", kind);
            report_label(model->reports, report, near->limit->place, "this names another");
        }
        report_help(model->reports, report, named ? "state it there: kind %s" : "did you mean the kind %s?",
                    name_string(named ? use->kind : near->kind));
    }
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
