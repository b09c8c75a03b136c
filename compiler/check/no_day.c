/* Why there is no day: the timetable's contradictions as reports. */
#include "compiler/check/no_day.h"

/* What the last step comes to, after "no day is left for ...: ". Months have no fixed number of days: of a
 * ring with some, it is told what it asks for at the least. */
static const char *end_text(struct checking *checking, const struct timetable_contradiction *contradiction)
{
    const struct timetable_step *last = &contradiction->steps[contradiction->step_count - 1];
    bool one = node_members(checking->season, last->node) == 1, months = false;
    for (uint32_t i = 0; i < contradiction->step_count; i++)
        months = months || contradiction->steps[i].wait.months;
    if (contradiction->ring_days > 0)
        return text_format(checking->arena, "the order rules make %s wait %s%s for %s", one ? "it" : "them",
                           months ? "at least " : "", display_days(checking->arena, contradiction->ring_days),
                           one ? "itself" : "themselves");
    const char *they = one ? "it" : "they";
    const char *before = display_date(checking->arena, last->before);
    if (last->after == DAY_NEVER && last->before <= checking->season->question.first)
        return "every day is closed";
    if (last->after == DAY_NEVER)
        return text_format(checking->arena, "%s must be on or after %s, and no later day is open", they,
                           before);
    if (last->kind == TIMETABLE_HORIZON_END)
        return text_format(checking->arena, "%s must be on or after %s, later than this plan is dated", they,
                           before);
    const char *verb = last->kind != TIMETABLE_RECORD ? "and on or before"
                       : one                          ? "but was done on"
                                                      : "but were done on";
    return text_format(checking->arena, "%s must be on or after %s, %s %s", they, before, verb,
                       display_date(checking->arena, last->after));
}

/* *rest_holds: set where the way out is enough for all that is not reported by itself. Further contradictions
 * with the same reason are told with this one. */
static struct report *report_conflict(struct checking *checking, uint32_t index, bool *rest_holds)
{
    struct reports *reports = checking->model->reports;
    const struct season *season = checking->season;
    const struct conflict *conflict = &season->conflicts[index];
    const struct timetable_contradiction *contradiction = conflict->contradiction;
    uint32_t node = contradiction->steps[contradiction->step_count - 1].node;
    const struct treatment *treatment = node_member(season, node, 0)->treatment;
    struct report *report =
        finding_add(checking, CHECK_NO_DAY, ABOUT(&treatment->symbol), treatment->symbol.place,
                    "%s %s no possible day: %s", node_text(checking, node),
                    node_members(season, node) == 1 ? "has" : "have", end_text(checking, contradiction));
    tell_steps(checking, report, contradiction);
    for (size_t i = 0; i < conflict->orders.count; i++)
        report_note(
            reports, report,
            "no order is stated between %s and %s, so the one with the earlier first day was put first",
            conflict_occurrence_text(checking, &season->occurrences.items[conflict->orders.items[i]->first]),
            conflict_occurrence_text(checking,
                                     &season->occurrences.items[conflict->orders.items[i]->second]));
    if (!contradiction->minimal)
        report_note(reports, report, "the conflict may not need all of these statements");
    const char *others[TIMETABLE_CONTRADICTIONS];
    uint32_t count = 0;
    for (uint32_t i = index + 1; i < season->timetable.contradiction_count; i++)
        if (same_reason(season, index, i))
            others[count++] = node_text(checking, season->node_of[last_occurrence(season, i)->index]);
    if (count)
        report_note(reports, report, "the same conflict blocks %s",
                    list_text(checking->arena, others, count, " and "));
    struct way way = way_out(checking, index, count);
    if (way.text)
        report_help(reports, report, "%s", way.text);
    *rest_holds |= way.rest_holds;
    return report;
}

/* One report for all contradictions of one reason; the last one says whether there are more. */
void check_contradictions(struct checking *checking)
{
    const struct timetable_result *timetable = &checking->season->timetable;
    struct report *report = NULL;
    bool rest_holds = false;
    for (uint32_t i = 0; i < timetable->contradiction_count; i++) {
        bool reported = false;
        for (uint32_t j = 0; j < i && !reported; j++)
            reported = same_reason(checking->season, j, i);
        if (!reported)
            report = report_conflict(checking, i, &rest_holds);
    }
    if (report && timetable->more && !rest_holds)
        report_note(checking->model->reports, report, "there are more contradictions besides");
}

/* What memory or work would not hold is said before dating, as the count that is too great. */
void check_crowded(struct checking *checking)
{
    const struct treatment *treatment = checking->season->crowded;
    if (!treatment)
        return;
    bool amounts = checking->season->crowded_by_amounts;
    size_t most = amounts ? checking->season->amount_room : checking->season->date_room;
    struct report *report =
        finding_add(checking, CHECK_TOO_MANY_TIMES, ABOUT(&treatment->symbol), treatment->symbol.place,
                    "%s takes the plan over %zu %s", name_string(treatment->symbol.name), most,
                    amounts ? "amounts (each product on each zone, each time)" : "dates");
    report_help(checking->model->reports, report, "%s",
                amounts ? "name fewer zones or products, or repeat it less often"
                        : "repeat it less often, or end it earlier");
}
