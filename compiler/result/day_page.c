/* One page for each day of work, in the order of work, for a phone or on paper. */
#include "compiler/result/calendar_parts.h"

#include "compiler/model/display.h"
#include "compiler/result/agenda.h"
#include "compiler/result/result.h"
#include "compiler/season/weather_text.h"

#include <string.h>

enum { SHEET = 0, PART = 1, DETAIL = 2 }; /* how far each lies inside the one before it */

enum { RECORD_WIDTH = 76 };         /* of its lines */
static const char BLANK[] = "____"; /* to be filled in by hand */

/* ---- before the start ---- */

static bool page_has(const struct page *page, size_t from, const char *text)
{
    for (size_t i = from; i < page->parts.count; i++)
        if (page->parts.items[i].text && strcmp(page->parts.items[i].text, text) == 0)
            return true;
    return false;
}

/* What the day must be like, each once: the plan knows only what is expected, whoever stands there sees it.
 */
static void describe_start(struct page *page, const struct season *season, const struct work *first,
                           const struct work *end)
{
    struct arena *arena = page->arena;
    uint32_t begin = page->parts.count;
    for (const struct work *work = first; work < end; work++) {
        for (size_t i = 0; i < work->conditions.count; i++)
            if (!page_has(page, begin, work->conditions.items[i]))
                page_add(page, PART_CHECK, DETAIL, work->conditions.items[i]);
        const struct bound *bound;
        for (uint32_t at = 0; (bound = season_weather_bound(season, work->occurrence, &at)) != NULL;) {
            if (bound->product) /* among the conditions already */
                continue;
            struct weather_look look = watch_day(bound->watch, work->occurrence->day);
            const char *text =
                text_format(arena, "Check the weather for `%s`: %s.", place_words(arena, bound->place),
                            weather_text(arena, season->model, watch_condition(bound->watch), &look));
            if (!page_has(page, begin, text))
                page_add(page, PART_CHECK, DETAIL, text);
        }
    }
    if (page->parts.count == begin)
        return;
    /* The heading only where something is below it. */
    struct page checks = {.arena = arena};
    for (size_t i = begin; i < page->parts.count; i++)
        VECTOR_PUSH(arena, &checks.parts, page->parts.items[i]);
    page->parts.count = begin;
    page_heading(page, PART, "Before you start");
    page_append(page, &checks);
}

/* What is for storing only is left out: nobody stores on the lawn. */
void day_care_describe(struct page *page, const struct work *first, const struct work *end)
{
    struct caution_list day = {0};
    for (const struct work *work = first; work < end; work++)
        for (size_t i = 0; i < work->cautions.count; i++) {
            const struct caution *caution = work->cautions.items[i];
            bool listed = !caution_for(caution, STAGES_OF_WORK);
            for (size_t j = 0; j < day.count; j++)
                listed = listed || day.items[j] == caution;
            if (!listed)
                VECTOR_PUSH(page->arena, &day, caution);
        }
    const char *line = cautions_line(page->arena, &day);
    if (line)
        page_say(page, PART, "Take care: %s.", line);
}

/* ---- a piece of work ---- */

/* Rates and settings stand beside the amounts: zones may have different ones. */
static void describe_material(struct page *page, const struct model *model, const struct work *work,
                              const struct material *material)
{
    struct arena *arena = page->arena;
    const struct machine *machine = work->occurrence->treatment->machine;
    bool twice = machine && !machine->sprayer && machine->passes > 1;
    struct shown_rate rate = material_rate(material, work);
    struct page_columns *columns = page_columns(page, twice ? 5 : 4);
    if (work->materials.count > 1) /* else the heading names it */
        page_line(page, DETAIL, name_string(material->product->symbol.name));
    /* What goes into a tank is measured for the tank: the zones have their shares. */
    page_column_names(page, DETAIL, columns,
                      (const char *[]){"zone", "area", "rate",
                                       isnan(work->mix.volume_m3) ? "amount" : "share",
                                       machine && machine->passes == 2 ? "each way" : "each pass"});
    double area = 0;
    for (size_t i = 0; i < material->portions.count; i++) {
        const struct portion *portion = &material->portions.items[i];
        const struct zone *zone = portion->amount->zone;
        area += zone->area_m2;
        rate.rate = portion->amount->rate;
        rate.leeway = portion->amount->leeway;
        page_row(page, DETAIL, columns,
                 (const char *[]){name_string(zone->symbol.name), display_area(arena, model, zone->area_m2),
                                  display_passes(arena, model, &rate, rate.passes, NULL), portion->text,
                                  portion->each});
    }
    if (material->portions.count > 1)
        page_row(page, DETAIL, columns,
                 (const char *[]){"total", display_area(arena, model, area), NULL, material->sum_text, NULL});
}

/* ---- the record ---- */

/* As the plan writes the name: with its quotes, where it has them. */
static const char *written(struct arena *arena, const struct symbol *symbol)
{
    const char *name = name_string(symbol->name);
    const char *words = symbol->place.source ? place_words(arena, symbol->place) : name;
    struct buffer quoted = {.arena = arena};
    if (*words == '"' || strcmp(words, name) == 0)
        return words;
    buffer_add_string(&quoted, "\"");
    for (; *name; name++)
        buffer_format(&quoted, *name == '"' || *name == '\\' ? "\\%c" : "%c", *name);
    buffer_add_string(&quoted, "\"");
    return quoted.string;
}

/* `done june-iron 2027-06-05 {`, `    used ____ fl oz of iron on north, ____ fl oz on south`, `}`: it reads
 * as a record once the blanks are filled in. One for all lawns, which share their time. A product's zones
 * share a line as long as a page is wide. */
static void describe_record(struct page *page, const struct work *first, const struct work *end)
{
    struct arena *arena = page->arena;
    const struct occurrence *occurrence = first->occurrence;
    struct buffer head = {.arena = arena}, block = {.arena = arena};
    buffer_format(&head, "done %s %s", written(arena, &occurrence->treatment->symbol),
                  day_text(arena, occurrence->day));
    if (occurrence->times > 1)
        buffer_format(&block, "    time %d", occurrence->time);
    for (const struct work *work = first; work < end && work->occurrence == occurrence; work++)
        for (size_t i = 0; i < work->materials.count; i++) {
            const struct material *material = &work->materials.items[i];
            const char *product = written(arena, &material->product->symbol);
            size_t line = 0; /* where it begins */
            for (size_t j = 0; j < material->portions.count; j++) {
                const char *zone = written(arena, &material->portions.items[j].amount->zone->symbol);
                const char *more = text_format(arena, ", %s %s on %s", BLANK, material->unit->name, zone);
                if (j > 0 && block.length - line + strlen(more) <= RECORD_WIDTH) {
                    buffer_add_string(&block, more);
                    continue;
                }
                buffer_add_string(&block, block.length ? "\n" : "");
                line = block.length;
                buffer_format(&block, "    used %s %s of ", BLANK, material->unit->name);
                buffer_format(&block, "%s on %s", product, zone);
            }
        }
    if (block.length)
        buffer_format(&head, " {\n%s\n}", block.string);
    page_verbatim(page, DETAIL, (struct text){head.string, head.length});
}

static void describe_records(struct page *page, const struct work *first, const struct work *end)
{
    bool any = false;
    for (const struct work *work = first; work < end; work++) {
        if (work->occurrence->done || (work > first && work[-1].occurrence == work->occurrence))
            continue;
        page_gap(page);
        if (!any)
            page_heading(page, PART, "When it is done, copy into the plan, with what you used:");
        any = true;
        describe_record(page, work, end);
    }
}

/* In the order of doing: what to look at, the work, what to write down. */
void day_describe(struct page *page, const struct season *season, const struct work *first,
                  const struct work *end)
{
    page_gap(page);
    page_add(page, PART_HEADING, SHEET, display_date(page->arena, first->occurrence->day))->sheet = true;
    describe_start(page, season, first, end);
    day_care_describe(page, first, end);
    for (const struct work *work = first; work < end; work++) {
        /* Each step has a box to tick; what it supplies, its latest day and its notes are plain lines. The
         * notes of work without a product say what to do, so its box comes after them. */
        if (page->parts.items[page->parts.count - 1].kind != PART_HEADING)
            page_gap(page);
        page_heading(page, PART, work->headline);
        for (size_t i = 0; i < work->materials.count && !work->occurrence->done; i++)
            describe_material(page, season->model, work, &work->materials.items[i]);
        for (size_t i = 0; i < work->sentences.count; i++) {
            const char *sentence = work->sentences.items[i];
            bool condition = false;
            for (size_t j = 0; j < work->conditions.count; j++)
                condition = condition || work->conditions.items[j] == sentence;
            if (!condition && i < work->supply_at && !work->occurrence->done)
                page_add(page, PART_CHECK, DETAIL, sentence);
            else if (!condition)
                page_line(page, DETAIL, sentence);
        }
        if (work->materials.count == 0 && work->heaps.count == 0 && !work->occurrence->done)
            page_add(page, PART_CHECK, DETAIL, "Work finished.");
    }
    describe_records(page, first, end);
}

/* ---- the pages of a season ---- */

/* A day without work says when the next one is. */
static void describe_date(struct page *page, const struct season *season, const struct work_list *list,
                          day_number day)
{
    size_t first = 0, end;
    while (first < list->count && list->items[first].occurrence->day < day)
        first++;
    for (end = first; end < list->count && list->items[end].occurrence->day == day;)
        end++;
    if (first < end) {
        day_describe(page, season, &list->items[first], &list->items[end]);
        return;
    }
    page_gap(page);
    page_say(page, SHEET, "%s: nothing is planned.", display_date(page->arena, day));
    /* "Next: Wed 2027-09-01, late-summer-feed on reading-green: feed 18.22 lb." */
    while (end < list->count && list->items[end].occurrence->done)
        end++;
    if (end < list->count)
        page_say(page, PART, "Next: %s, %s.", display_date(page->arena, list->items[end].occurrence->day),
                 list->items[end].headline);
    else
        page_line(page, PART, "Nothing comes later.");
}

/* Without a day, every day of work still to come; looked at from a day, only the next. */
void day_page(struct page *page, const struct result_input *input)
{
    const struct season *season = input->season;
    struct work_list list = work_list_of(season);
    struct civil_date date;
    bool given = *input->subject != '\0', any = false;
    if (given && !date_of_text(text_of(input->subject), &date))
        return;
    page_plan(page, season->model);
    if (given) {
        describe_date(page, season, &list, day_of_date(date));
        return;
    }
    if (input->look) {
        /* What should have been done before the day looked from: its page would be wrong about the soil and
         * the limits, and the calendar says more. */
        struct agenda agenda = agenda_of(season, &list, input->look);
        if (agenda.overdue.count != 0) {
            page_gap(page);
            page_heading(page, SHEET, "Overdue, with no record that says done or skipped:");
            for (size_t i = 0; i < agenda.overdue.count; i++)
                page_item(page, PART, overdue_sentence(page->arena, &agenda.overdue.items[i]));
        }
    }
    for (size_t first = 0, end; first < list.count && !(any && input->look); first = end) {
        day_number day = list.items[first].occurrence->day;
        bool wanted = false;
        for (end = first; end < list.count && list.items[end].occurrence->day == day; end++)
            wanted = wanted || !list.items[end].occurrence->done;
        if (!wanted || (input->look && day < input->look->day))
            continue;
        day_describe(page, season, &list.items[first], &list.items[end]);
        any = true;
    }
    if (any)
        return;
    page_gap(page);
    page_line(page, SHEET, list.count ? "Nothing more is planned." : "Nothing is planned.");
}
