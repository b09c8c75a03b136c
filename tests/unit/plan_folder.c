#include "tests/unit/plan_folder.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

int plan_folder_setup(void **state)
{
    static struct fixture fixture;
    arena_init(&fixture.arena, NULL);
    reports_init(&fixture.reports, &fixture.arena);
    fixture.sources = sources_new(&fixture.arena, NULL, NULL);
    fixture.saved_stdin = dup(STDIN_FILENO);
    strcpy(fixture.folder, "/tmp/prill-include.XXXXXX");
    *state = &fixture;
    return mkdtemp(fixture.folder) && chdir(fixture.folder) == 0 ? 0 : -1;
}

int plan_folder_teardown(void **state)
{
    struct fixture *fixture = *state;
    char command[200];
    snprintf(command, sizeof command, "chmod -R u+rwx %s && rm -r %s", fixture->folder, fixture->folder);
    dup2(fixture->saved_stdin, STDIN_FILENO);
    close(fixture->saved_stdin);
    arena_free(&fixture->arena);
    return chdir("/") == 0 ? system(command) : -1;
}

struct source *open_plan(struct fixture *fixture, const char *path, const char *stdin_name)
{
    struct source *source;
    const char *reason = "not set";
    enum source_status_read status = sources_open_plan(fixture->sources, path, stdin_name, &source, &reason);
    assert_int_equal(status, SOURCE_READ);
    assert_null(reason);
    assert_non_null(source);
    return source;
}

void assert_refused(struct fixture *fixture, const char *path, const char *wanted)
{
    struct source *source;
    const char *reason = NULL;
    assert_int_equal(sources_open_plan(fixture->sources, path, NULL, &source, &reason), SOURCE_FAILED);
    assert_null(source);
    assert_non_null(reason);
    if (!strstr(reason, wanted))
        fail_msg("%s: \"%s\" does not say \"%s\"", path, reason, wanted);
}

void assert_bytes(const struct source *source, const char *bytes)
{
    assert_int_equal(source->length, strlen(bytes));
    assert_memory_equal(source->bytes, bytes, source->length + 1);
}

struct source *use(struct fixture *fixture, const struct source *user, const char *path)
{
    struct place at = {user, user->length ? user->length - 1 : 0, user->length};
    return sources_use(fixture->sources, &fixture->reports, user, text_of(path), at);
}

void assert_newest(const struct fixture *fixture, const char *rule, const char *wanted)
{
    assert_true(fixture->reports.all.count > 0);
    const struct report *report = fixture->reports.all.items[fixture->reports.all.count - 1];
    assert_string_equal(report->rule->name, rule);
    assert_int_equal(report->severity, SEVERITY_ERROR);
    if (!strstr(report->sentence, wanted))
        fail_msg("\"%s\" does not say \"%s\"", report->sentence, wanted);
}
