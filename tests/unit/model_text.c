#include "tests/unit/model_text.h"

#include "compiler/model/include.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

void model_text_read_bytes(struct model_text *read, struct text plan)
{
    memset(read, 0, sizeof *read);
    arena_init(&read->arena, NULL);
    names_init(&read->names, &read->arena);
    reports_init(&read->reports, &read->arena);
    struct sources *sources = sources_new(&read->arena, NULL, NULL);
    struct source *source = sources_add_text(sources, "test.prill", plan, true);
    read->model = model_build(&read->arena, &read->names, &read->reports, sources, source);
    reports_sort(&read->reports);
}

void model_text_read(struct model_text *read, const char *plan)
{
    model_text_read_bytes(read, text_of(plan));
}

void model_text_free(struct model_text *read)
{
    arena_free(&read->arena);
}

const char *model_text_errors(struct model_text *read)
{
    struct buffer lines = {.arena = &read->arena};
    for (size_t i = 0; i < read->reports.all.count; i++) {
        const struct report *report = read->reports.all.items[i];
        if (report->severity != SEVERITY_ERROR)
            continue;
        struct position at = source_position(report->place.source, report->place.start);
        buffer_format(&lines, "%s%u:%u %s", lines.length ? "\n" : "", at.line, at.column, report->rule->name);
    }
    return buffer_string(&lines);
}

const struct report *model_text_error(const struct model_text *read)
{
    for (size_t i = 0; i < read->reports.all.count; i++)
        if (read->reports.all.items[i]->severity == SEVERITY_ERROR)
            return read->reports.all.items[i];
    fail_msg("the plan has no error");
    return NULL;
}

void check_errors(const char *file, int line, const char *plan, const char *errors)
{
    struct model_text read;
    model_text_read(&read, plan);
    const char *found = model_text_errors(&read);
    if (strcmp(found, errors) != 0) {
        print_error("%s\n-- is to have these errors:\n%s\n-- and has these:\n%s\n", plan, errors, found);
        for (size_t i = 0; i < read.reports.all.count; i++)
            print_error("%s\n", read.reports.all.items[i]->sentence);
        _fail(file, line);
    }
    model_text_free(&read);
}

static bool is_named(const struct symbol *symbol, const char *name)
{
    return text_is(symbol->name->text, name);
}

const struct zone *model_text_zone(const struct model_text *read, const char *name)
{
    for (size_t i = 0; i < read->model->zones.count; i++)
        if (is_named(&read->model->zones.items[i]->symbol, name))
            return read->model->zones.items[i];
    fail_msg("there is no zone %s", name);
    return NULL;
}

const struct product *model_text_product(const struct model_text *read, const char *name)
{
    for (size_t i = 0; i < read->model->products.count; i++)
        if (is_named(&read->model->products.items[i]->symbol, name))
            return read->model->products.items[i];
    fail_msg("there is no product %s", name);
    return NULL;
}

const struct treatment *model_text_treatment(const struct model_text *read, const char *name)
{
    for (size_t i = 0; i < read->model->treatments.count; i++)
        if (is_named(&read->model->treatments.items[i]->symbol, name))
            return read->model->treatments.items[i];
    fail_msg("there is no treatment %s", name);
    return NULL;
}

void check_figure(const char *file, int line, const char *what, double value, double expected)
{
    if (fabs(value - expected) <= 1e-12 * fabs(expected))
        return;
    print_error("%s is %.17g and is to be %.17g\n", what, value, expected);
    _fail(file, line);
}

uint32_t drawn(uint64_t *seed, uint32_t below)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return (uint32_t)((*seed >> 16) % below);
}
