/* Which files a plan may bring in, and what is said when one may not come.
 *
 * A plan can come from anywhere, so a `use` reaches only regular files in the plan's folder and below it: no
 * absolute path, no way up, no symbolic link, whatever happens to the folder between two system calls. */
#include "compiler/model/source_files.h"

#include "compiler/model/file.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

enum {
    RULE_MISSING,
    RULE_OUTSIDE,
    RULE_CYCLE,
    RULE_DEPTH,
    RULE_TOO_MANY,
    RULE_UNREADABLE,
};

const struct rule include_rules[] = {
    [RULE_MISSING] =
        {"use-missing", SEVERITY_ERROR, "a used file that does not exist",
         "`use \"FILE\"` looks for the file in the folder of the file it is in. Names of files are "
         "written as the folder has them, capitals included.",
         NULL},
    [RULE_OUTSIDE] =
        {"use-outside", SEVERITY_ERROR, "a used file outside the plan's folder",
         "A plan uses files in its own folder and in folders below it, so that it can be handed on whole "
         "and cannot read what is not its business. Absolute paths, `..` above the plan's folder and "
         "symbolic links are refused. Copy the file into the plan's folder.",
         NULL},
    [RULE_CYCLE] =
        {"use-cycle", SEVERITY_ERROR, "a file that uses itself, directly or through others",
         "A file is read once, at the first `use` that names it. When files use each other in a circle, "
         "one of the `use` statements is one too many.",
         NULL},
    [RULE_DEPTH] = {"use-depth", SEVERITY_ERROR, "files that use each other too deeply",
                    "A file that is used may use further ones, up to 16 deep.", NULL},
    [RULE_TOO_MANY] = {"use-too-many", SEVERITY_ERROR, "too many files, or too many bytes",
                       "A plan may be made of 1000 files of at most 120 MiB each, 256 MiB in total.", NULL},
    [RULE_UNREADABLE] =
        {"use-unreadable", SEVERITY_ERROR, "a used file that cannot be read",
         "What a plan uses is a regular file with permission to read it. Folders, pipes and devices "
         "are refused.",
         NULL},
};
const size_t include_rule_count = sizeof include_rules / sizeof *include_rules;

/* A `use` while it is looked into. */
struct use {
    struct sources *sources;
    struct reports *reports;
    const struct file *user;
    struct text path; /* as written */
    struct place at;
};

static struct report *complain(const struct use *use, int rule, const char *sentence)
{
    return report_add(use->reports, &include_rules[rule], use->at, "%s", sentence);
}

static const char *sentence(const struct use *use, const char *rest)
{
    return text_format(use->sources->arena, "\"%.*s\" %s", (int)use->path.length, use->path.start, rest);
}

/* Where the file should lie, below the plan's folder; NULL after a report that it can lie nowhere. */
static const char *wanted(const struct use *use)
{
    const char *user = use->user->within;
    struct text path = use->path;
    bool library = use->user->source.library;
    if (path.length == 0) {
        complain(use, RULE_MISSING, "the name of the file to use is empty");
        return NULL;
    }
    if (library || (use->sources->sealed && !use->sources->read)) {
        complain(use, RULE_MISSING,
                 sentence(use, library ? "cannot be used from the library"
                                       : "is not read: this plan may use no other file"));
        return NULL;
    }
    /* The names of the path go behind those of the folder, without "." and "..". */
    size_t folder = path_folder_length(user), length = folder ? folder - 1 : 0;
    char *names = arena_array(use->sources->arena, folder + path.length + 2, 1);
    memcpy(names, user, folder);
    bool outside = path.start[0] == '/';
    for (size_t at = 0; at < path.length && !outside;) {
        const char *start = path.start + at;
        const char *slash = memchr(start, '/', path.length - at);
        struct text name = {start, slash ? (size_t)(slash - start) : path.length - at};
        at += name.length + 1;
        if (name.length == 0 || text_is(name, "."))
            continue;
        if (text_is(name, "..")) {
            outside = length == 0; /* above the plan's folder */
            while (length > 0 && names[--length] != '/')
                continue;
        } else {
            if (length > 0)
                names[length++] = '/';
            memcpy(names + length, name.start, name.length);
            length += name.length;
        }
    }
    names[length] = '\0';
    if (!outside)
        return names;
    complain(use, RULE_OUTSIDE, sentence(use, "lies outside the plan's folder"))->help =
        "copy the file into the plan's folder, or into a folder below it";
    return NULL;
}

static bool within_limits(const struct use *use)
{
    if (use->user->depth + 1 >= INCLUDE_DEPTH_LIMIT) {
        complain(use, RULE_DEPTH,
                 text_format(use->sources->arena, "files are used more than %d deep", INCLUDE_DEPTH_LIMIT));
        return false;
    }
    if (use->sources->used >= INCLUDE_FILE_LIMIT) {
        complain(use, RULE_TOO_MANY,
                 text_format(use->sources->arena, "the plan uses more than %d files", INCLUDE_FILE_LIMIT));
        return false;
    }
    return true;
}

/* One file more of the plan; NULL when it was reported that this is too much. */
static struct file *take(const struct use *use, const char *path, const char *within,
                         const unsigned char *bytes, uint32_t length)
{
    struct sources *sources = use->sources;
    sources->used++;
    sources->bytes += length;
    if (sources->bytes > INCLUDE_BYTE_LIMIT) {
        complain(use, RULE_TOO_MANY,
                 text_format(sources->arena, "the files of the plan total more than %d MiB",
                             INCLUDE_BYTE_LIMIT / 1024 / 1024));
        return NULL;
    }
    const struct source source = {.path = path, .bytes = bytes, .length = length};
    struct file *file = file_add(sources, &source, within);
    file->depth = use->user->depth + 1;
    file->source.used_at = use->at;
    return file;
}

/* A regular file not read before. `*known` is the file where it was, NULL otherwise. NULL then, and after a
 * report, which says why the system did not open it. */
static struct file *take_from_disk(const struct use *use, const char *path, const char *within,
                                   const struct file **known)
{
    struct sources *sources = use->sources;
    struct arena *arena = sources->arena;
    struct stat status;
    int descriptor = file_open_within(sources->folder, within, &status), error = errno;
    if (descriptor < 0 && error == ENOENT) {
        struct report *report =
            complain(use, RULE_MISSING,
                     text_format(arena, "there is no file \"%.*s\"", (int)use->path.length, use->path.start));
        size_t folder = path_folder_length(within);
        const char *folder_name = text_format(arena, "%s%.*s", sources->folder, (int)folder, within);
        const char *nearest = file_nearest(arena, folder_name, text_of(within + folder));
        if (nearest)
            report_help(use->reports, report, "the folder has \"%s\"", nearest);
        else
            report_help(use->reports, report,
                        "files are looked for in the folder of the file that uses them: %s",
                        *folder_name ? folder_name : "the current folder");
        return NULL;
    }
    if (descriptor < 0) {
        bool link = error == ELOOP;
        const char *rest = link ? "is a symbolic link, or its path leads through one"
                                : text_format(arena, "cannot be read: %s", file_reason(error));
        complain(use, link ? RULE_OUTSIDE : RULE_UNREADABLE, sentence(use, rest))->help =
            link ? "a link can lead out of the plan's folder: put the file itself there" : NULL;
        return NULL;
    }
    bool regular = S_ISREG(status.st_mode);
    if (regular)
        *known = file_identified(sources, &status);
    else
        complain(use, RULE_UNREADABLE,
                 sentence(use, S_ISDIR(status.st_mode) ? "is a folder, not a file"
                                                       : "is a pipe or device, not a file"));
    const unsigned char *bytes = NULL;
    uint32_t length = 0;
    bool wanted = regular && !*known && within_limits(use);
    const char *reason = wanted ? file_read(arena, descriptor, true, &status, &bytes, &length) : NULL;
    close(descriptor);
    if (reason)
        complain(use, RULE_UNREADABLE, sentence(use, text_format(arena, "cannot be read: %s", reason)));
    struct file *file = wanted && !reason ? take(use, path, within, bytes, length) : NULL;
    if (file)
        file_identify(sources, file, &status);
    return file;
}

/* The file, read now, or NULL; `*known` is the file where it was read before, NULL otherwise. */
static struct file *obtain(const struct use *use, const struct file **known)
{
    struct sources *sources = use->sources;
    const char *within = wanted(use);
    *known = NULL;
    if (!within)
        return NULL;
    const char *path = text_format(sources->arena, "%s%s", sources->folder, within);
    for (size_t i = 0; i < sources->files.count && sources->read; i++)
        if (sources->files.items[i]->within && strcmp(sources->files.items[i]->source.path, path) == 0) {
            *known = sources->files.items[i];
            return NULL;
        }
    struct text text = {0};
    if (sources->read)
        text.start = sources->read(sources->reader, path, &text.length);
    if (!text.start && !sources->sealed)
        return take_from_disk(use, path, within, known);

    /* What a client has of the file goes by its path, and by what lies there, if anything does: a `use` of
     * the same file under another name is no second reading. */
    struct file *file = NULL;
    if (!text.start)
        complain(use, RULE_MISSING, sentence(use, "is not read: this plan may use no other file"));
    else if (text.length > SOURCE_LIMIT)
        complain(use, RULE_UNREADABLE, sentence(use, "cannot be read: it is too large"));
    else if (within_limits(use))
        file = take(use, path, within, (const unsigned char *)text_string(sources->arena, text),
                    (uint32_t)text.length);
    if (file && !sources->sealed)
        file_identify(sources, file, NULL);
    return file;
}

/* ---- another file in place of one ---- */

void sources_replace(struct sources *sources, const char *replacement)
{
    struct text text = text_of(text_string(sources->arena, text_of(replacement)));
    const char *equals = memchr(text.start, '=', text.length);
    size_t wanted = equals ? (size_t)(equals - text.start) : 0;
    sources->replacement =
        (struct replacement){.wanted = {text.start, wanted}, .by = equals ? text_of(equals + 1) : text};
}

/* A name of its own is looked for, or else one file alone: which of several is meant is not guessed. */
const char *sources_replace_lack(const struct sources *sources)
{
    const struct replacement *replacement = &sources->replacement;
    struct arena *arena = sources->arena;
    struct text by = replacement->by, wanted = replacement->wanted;
    if (!by.start || replacement->count == 1 || (wanted.length && replacement->count))
        return NULL;
    if (replacement->count)
        return text_format(arena, "the plan uses %zu files; say which one to replace: --use OLD=%.*s",
                           replacement->count, (int)by.length, by.start);
    if (wanted.length)
        return text_format(arena, "the plan uses no \"%.*s\" for \"%.*s\" to replace", (int)wanted.length,
                           wanted.start, (int)by.length, by.start);
    return text_format(arena, "the plan uses no file for \"%.*s\" to replace", (int)by.length, by.start);
}

const struct replacement *sources_replacement(const struct sources *sources)
{
    return sources->replacement.count ? &sources->replacement : NULL;
}

/* A file that uses itself is reported with the statements that lead from it to where it is named again. */
struct source *sources_use(struct sources *sources, struct reports *reports, const struct source *user,
                           struct text path, struct place used_at)
{
    const struct file *file = sources->files.items[user->index], *known;
    /* Another file may stand in for one that the plan names. */
    struct replacement *replacement = &sources->replacement;
    if (file->depth == 0 && !user->library && replacement->by.start &&
        (!replacement->wanted.length || text_equal(replacement->wanted, path))) {
        replacement->replaced = path;
        replacement->count++;
        path = replacement->by;
    }
    struct use use = {sources, reports, file, path, used_at};
    struct file *taken = obtain(&use, &known);
    const struct source *above = user;
    while (known && above && above != &known->source)
        above = above->used_at.source;
    if (known && above) {
        struct report *report =
            complain(&use, RULE_CYCLE,
                     sentence(&use, file == known ? "is the file that this statement is in"
                                                  : "uses this file, directly or through others"));
        for (const struct source *link = user; link != above; link = link->used_at.source)
            report_label(reports, report, link->used_at, "%s is used here", link->path);
    }
    return taken ? &taken->source : NULL;
}

const struct source *sources_read(struct sources *sources, struct reports *reports, const struct source *user,
                                  struct text path, struct place named_at)
{
    struct use use = {sources, reports, sources->files.items[user->index], path, named_at};
    const struct file *known, *taken = obtain(&use, &known);
    return known ? &known->source : taken ? &taken->source : NULL;
}
