#include "tests/cases/catalogue.h"

#include "tests/cases/command.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* What an expected file may be called, and the command whose words it holds. */
static const struct kind kinds[] = {
    {"session", FORM_SESSION, NULL},
    {"report", FORM_REPORT, "check"},
    {"calendar", FORM_OUTPUT, "calendar"},
    {"day", FORM_OUTPUT, "day"},
    {"ics", FORM_OUTPUT, "calendar --as ics"},
    {"csv", FORM_OUTPUT, "calendar --as csv"},
    {"json", FORM_OUTPUT, "calendar --as json"},
    {"needs", FORM_OUTPUT, "needs"},
    {"rates", FORM_OUTPUT, "rates"},
    {"weather", FORM_OUTPUT, "weather"},
    {"shopping", FORM_OUTPUT, "shopping"},
    {"budget", FORM_OUTPUT, "budget"},
    {"explain", FORM_OUTPUT, "explain"},
    {"format", FORM_OUTPUT, "format -"},
};

static const char name_letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_";

static char *joined(const char *a, const char *between, const char *b)
{
    struct bytes text = {0};
    bytes_format(&text, "%s%s%s", a, between, b);
    return text.start;
}

static bool is_folder(const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 && S_ISDIR(status.st_mode);
}

static bool is_file(const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 && S_ISREG(status.st_mode);
}

static const struct kind *kind_of(const char *ending)
{
    size_t length = strcspn(ending, "-");
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (strlen(kinds[i].name) == length && memcmp(kinds[i].name, ending, length) == 0)
            return &kinds[i];
    return NULL;
}

static void add(struct catalogue *catalogue, struct item item)
{
    if (catalogue->count == catalogue->capacity) {
        catalogue->capacity = catalogue->capacity ? catalogue->capacity * 2 : 64;
        catalogue->items = realloc(catalogue->items, catalogue->capacity * sizeof *catalogue->items);
        if (!catalogue->items)
            abort();
    }
    catalogue->items[catalogue->count++] = item;
}

/* A plan that no expected file names would look tested and is not. */
static bool has_expectation(struct dirent *const *entries, int count, const char *name)
{
    size_t length = strlen(name);
    for (int i = 0; i < count; i++) {
        const char *other = entries[i]->d_name;
        if (strncmp(other, name, length) == 0 && other[length] == '.' && kind_of(other + length + 1))
            return true;
    }
    return false;
}

static const char *fault_of(const struct item *item, const char *ending)
{
    if (!item->kind)
        return "an ending that tests/cases/README.md does not know";
    if (item->name[strspn(item->name, name_letters)] || ending[strspn(ending, name_letters)])
        return "a name may have letters, digits, - and _ only";
    char *plan = joined(item->folder, "/", joined(item->name, "", ".prill"));
    if (item->kind->form != FORM_SESSION && !is_file(plan))
        return "no plan of this name stands beside it";
    return NULL;
}

static void add_file(struct catalogue *catalogue, const char *group, const char *folder,
                     struct dirent *const *entries, int count, const char *file)
{
    const char *dot = strchr(file, '.');
    const char *ending = dot ? dot + 1 : "";
    char *name = joined(file, "", "");
    name[strcspn(name, ".")] = '\0';
    struct item item = {
        .folder = folder, .label = joined(group, "/", file), .name = name, .kind = kind_of(ending)};
    const char *dash = strchr(ending, '-');
    item.argument = joined(dash ? dash + 1 : "", "", "");
    if (strcmp(ending, "prill") == 0) {
        if (has_expectation(entries, count, name))
            return;
        item.fault = "nothing is expected of this plan; tests/cases/add writes a first expectation";
    } else {
        item.fault = fault_of(&item, ending);
    }
    add(catalogue, item);
}

static void add_group(struct catalogue *catalogue, const char *cases_folder, const char *group)
{
    char *folder = joined(cases_folder, "/", group);
    struct dirent **entries;
    int count = is_folder(folder) ? scandir(folder, &entries, NULL, alphasort) : 0;
    for (int i = 0; i < count; i++) {
        const char *file = entries[i]->d_name;
        if (file[0] != '.' && strcmp(file, "README.md") != 0 && !is_folder(joined(folder, "/", file)))
            add_file(catalogue, group, folder, entries, count, file);
    }
}

struct catalogue catalogue_of(const char *cases_folder)
{
    struct catalogue catalogue = {0};
    struct dirent **groups;
    int count = scandir(cases_folder, &groups, NULL, alphasort);
    for (int i = 0; i < count; i++)
        if (groups[i]->d_name[0] != '.')
            add_group(&catalogue, cases_folder, groups[i]->d_name);
    return catalogue;
}
