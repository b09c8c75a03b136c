/* The files of a compilation: the plan, from a file or memory, and the library. For `use` see used_file.c. */
#include "compiler/model/source_files.h"

#include "compiler/model/embedded.h"
#include "compiler/model/file.h"

#include <assert.h>
#include <errno.h>
#include <string.h>
#include <unistd.h>

struct sources *sources_new(struct arena *arena, source_reader *read, void *reader)
{
    struct sources *sources = ARENA_NEW(arena, struct sources);
    sources->arena = arena;
    sources->folder = "";
    sources->read = read;
    sources->reader = reader;
    sources->library = ARENA_ARRAY(arena, embedded_file_count + 1, struct file *);
    return sources;
}

/* A longer plan may take more, and what finds its lines counts there already. */
struct file *file_add(struct sources *sources, const struct source *source, const char *within)
{
    struct file *file = ARENA_NEW(sources->arena, struct file);
    uint32_t length = source->length;
    if (sources->arena->most < SIZE_MAX)
        sources->arena->most += (size_t)length * PLAN_MEMORY_PER_BYTE;
    if (sources->arena->steps_most < UINT64_MAX)
        sources->arena->steps_most += (uint64_t)length * PLAN_WORK_PER_BYTE;
    source_init(&file->source, sources->arena, source->path, source->bytes, length);
    file->source.library = source->library;
    file->source.index = (uint32_t)sources->files.count;
    file->within = within;
    VECTOR_PUSH(sources->arena, &sources->files, file);
    return file;
}

/* An editor's unsaved text stands for the file of its name: a `use` of that one is a cycle. */
void file_identify(struct sources *sources, const struct file *file, const struct stat *opened)
{
    struct stat status;
    if (!opened && stat(file->source.path, &status) == 0)
        opened = &status;
    if (!opened || !S_ISREG(opened->st_mode))
        return;
    struct identity identity = {opened->st_dev, opened->st_ino, file};
    VECTOR_PUSH(sources->arena, &sources->identities, identity);
}

const struct file *file_identified(const struct sources *sources, const struct stat *status)
{
    for (size_t i = 0; i < sources->identities.count; i++) {
        const struct identity *identity = &sources->identities.items[i];
        if (identity->device == status->st_dev && identity->inode == status->st_ino)
            return identity->file;
    }
    return NULL;
}

bool sources_holds_file(const struct sources *sources, const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 && file_identified(sources, &status);
}

/* ---- the plan ---- */

size_t path_folder_length(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? (size_t)(slash + 1 - path) : 0;
}

static struct file *add_plan(struct sources *sources, const char *path, const unsigned char *bytes,
                             uint32_t length)
{
    assert(sources->files.count == 0);
    const char *kept = text_string(sources->arena, text_of(path));
    size_t folder = path_folder_length(kept);
    sources->folder = text_string(sources->arena, (struct text){kept, folder});
    sources->bytes = length;
    const struct source source = {.path = kept, .bytes = bytes, .length = length};
    return file_add(sources, &source, kept + folder);
}

/* Standard input may have a name of its own, so that what it uses is found from an editor. */
enum source_status_read sources_open_plan(struct sources *sources, const char *path, const char *stdin_name,
                                          struct source **source, const char **reason)
{
    bool is_stdin = strcmp(path, "-") == 0;
    struct stat status;
    const unsigned char *bytes = NULL;
    uint32_t length = 0;
    int descriptor = is_stdin ? STDIN_FILENO : file_open(path, &status);
    *source = NULL;
    if (descriptor < 0 || (is_stdin && fstat(descriptor, &status) != 0)) {
        bool missing = !is_stdin && errno == ENOENT;
        *reason = file_reason(errno); /* before what follows may change it */
        size_t folder = path_folder_length(path);
        const char *folder_name = text_string(sources->arena, (struct text){path, folder});
        const char *nearest =
            missing ? file_nearest(sources->arena, folder_name, text_of(path + folder)) : NULL;
        if (nearest)
            *reason = text_format(sources->arena, "%s; the nearest is %s%s", *reason, folder_name, nearest);
        return SOURCE_FAILED;
    }
    mode_t mode = status.st_mode;
    *reason = S_ISDIR(mode) ? "it is a folder, not a file"
              : S_ISREG(mode) || S_ISFIFO(mode) || S_ISCHR(mode) || S_ISSOCK(mode)
                  ? NULL
                  : "it is neither a file nor a pipe";
    if (!*reason)
        *reason = file_read(sources->arena, descriptor, !is_stdin, &status, &bytes, &length);
    if (!is_stdin)
        close(descriptor);
    if (*reason)
        return SOURCE_FAILED;
    const char *shown = !is_stdin ? path : stdin_name ? stdin_name : "<stdin>";
    struct file *file = add_plan(sources, shown, bytes, length);
    file_identify(sources, file, &status);
    if (is_stdin && stdin_name)
        file_identify(sources, file, NULL);
    *source = &file->source;
    return SOURCE_READ;
}

struct source *sources_add_text(struct sources *sources, const char *path, struct text bytes, bool sealed)
{
    const unsigned char *copy = (const unsigned char *)text_string(sources->arena, bytes);
    struct file *file = add_plan(sources, path, copy, (uint32_t)bytes.length);
    sources->sealed = sealed;
    if (!sealed)
        file_identify(sources, file, NULL);
    return &file->source;
}

/* ---- the library ---- */

/* Where it lies in the program: it is not copied. */
struct source *sources_library(struct sources *sources, size_t index)
{
    assert(index < embedded_file_count);
    const struct embedded_file *embedded = &embedded_files[index];
    struct file **file = &sources->library[index];
    if (!*file) {
        const struct source source = {.path = embedded->path,
                                      .bytes = embedded->bytes,
                                      .length = (uint32_t)embedded->length,
                                      .library = true};
        *file = file_add(sources, &source, NULL);
    }
    return &(*file)->source;
}
