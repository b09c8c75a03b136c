#include "compiler/command/output.h"

#include "compiler/command/message.h"
#include "compiler/model/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { LINKS_FOLLOWED = 40, LINK_LENGTH = 4096 };

/* False with errno set. */
static bool write_all(int descriptor, const char *text, size_t length)
{
    while (length > 0) {
        ssize_t count = write(descriptor, text, length);
        if (count < 0 && errno != EINTR)
            return false;
        if (count > 0) {
            text += count;
            length -= (size_t)count;
        }
    }
    return true;
}

enum prill_status output_print(const char *text, size_t length)
{
    if (write_all(STDOUT_FILENO, text, length))
        return PRILL_FINE;
    if (errno != EPIPE)
        message_print("standard output: %s", file_reason(errno));
    return PRILL_SYSTEM_FAILED;
}

enum prill_status status_worst(enum prill_status a, enum prill_status b)
{
    return a > b ? a : b;
}

/* https://no-color.org and the habits around CLICOLOR_FORCE: what the user says to this program, then
 * NO_COLOR, then a wish for colour everywhere, then whether it is a terminal at all. */
bool output_coloured(int descriptor, const char *option)
{
    if (option && strcmp(option, "auto") != 0)
        return strcmp(option, "always") == 0;
    const char *no_color = getenv("NO_COLOR"), *force = getenv("CLICOLOR_FORCE"), *terminal = getenv("TERM");
    if (no_color && *no_color)
        return false;
    if (force && *force && strcmp(force, "0") != 0)
        return true;
    return isatty(descriptor) && terminal && *terminal && strcmp(terminal, "dumb") != 0;
}

/* ---- files ---- */

/* A file on its way: `path` is what the bytes will be called, `beside` what they are called until then. */
struct draft {
    const char *path;
    char *beside;
    int descriptor;
    bool existed;
    struct stat old;
};

/* ".NAME.XXXXXX" in the same folder, so that renaming is one step of one file system. */
static char *name_beside(const char *path)
{
    const char *slash = strrchr(path, '/');
    int folder = slash ? (int)(slash + 1 - path) : 0;
    size_t size = strlen(path) + sizeof "..XXXXXX";
    char *name = malloc(size);
    if (name)
        snprintf(name, size, "%.*s.%s.XXXXXX", folder, path, path + folder);
    return name;
}

static mode_t default_mode(void)
{
    mode_t mask = umask(0);
    umask(mask);
    return 0666 & ~mask;
}

/* Where a link at `path` leads; NULL with errno 0 when there is no link. */
static char *link_target(const char *path)
{
    char target[LINK_LENGTH];
    struct stat status;
    errno = 0;
    if (lstat(path, &status) != 0 || !S_ISLNK(status.st_mode)) {
        errno = 0;
        return NULL;
    }
    ssize_t length = readlink(path, target, sizeof target);
    if (length < 0 || (size_t)length == sizeof target) {
        errno = length < 0 ? errno : ENAMETOOLONG;
        return NULL;
    }
    const char *slash = target[0] == '/' ? NULL : strrchr(path, '/');
    int folder = slash ? (int)(slash + 1 - path) : 0;
    size_t size = (size_t)folder + (size_t)length + 1;
    char *joined = malloc(size);
    if (joined)
        snprintf(joined, size, "%.*s%.*s", folder, path, (int)length, target);
    return joined;
}

/* The file that is to be replaced, and not the link that leads to it. NULL with errno set. */
static char *path_resolved(const char *path)
{
    char *current = strdup(path);
    for (int links = 0; current; links++) {
        char *next = link_target(current);
        if (!next && errno == 0)
            return current;
        free(current);
        current = next;
        if (links == LINKS_FOLLOWED) {
            free(current);
            errno = ELOOP;
            return NULL;
        }
    }
    return NULL;
}

/* What is there already. */
static bool draft_look(struct draft *draft)
{
    draft->existed = stat(draft->path, &draft->old) == 0;
    return draft->existed || errno == ENOENT;
}

static bool draft_open(struct draft *draft)
{
    draft->descriptor = mkstemp(draft->beside);
    if (draft->descriptor < 0)
        return false;
    /* To keep the owner takes rights that few have; without them the new owner is whoever runs the program.
     */
    if (draft->existed && fchown(draft->descriptor, draft->old.st_uid, draft->old.st_gid) != 0)
        errno = 0;
    return fchmod(draft->descriptor, draft->existed ? draft->old.st_mode & 07777 : default_mode()) == 0;
}

/* The name becomes lasting with its folder; a system that cannot do that has done what it can. */
static void folder_sync(const char *path)
{
    const char *slash = strrchr(path, '/');
    char *folder = slash ? strndup(path, slash == path ? 1 : (size_t)(slash - path)) : strdup(".");
    int descriptor = folder ? open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC) : -1;
    if (descriptor >= 0) {
        fsync(descriptor);
        close(descriptor);
    }
    free(folder);
}

static bool draft_finish(struct draft *draft)
{
    int descriptor = draft->descriptor;
    if (fsync(descriptor) != 0)
        return false;
    draft->descriptor = -1;
    if (close(descriptor) != 0 || rename(draft->beside, draft->path) != 0) {
        int error = errno;
        unlink(draft->beside);
        errno = error;
        return false;
    }
    folder_sync(draft->path);
    return true;
}

static bool write_device(const char *path, const char *text, size_t length)
{
    int descriptor = open(path, O_WRONLY | O_CLOEXEC | O_NOCTTY);
    if (descriptor < 0)
        return false;
    bool written = write_all(descriptor, text, length);
    int error = errno;
    bool closed = close(descriptor) == 0;
    if (!written)
        errno = error;
    return written && closed;
}

static bool draft_write(struct draft *draft, const char *text, size_t length)
{
    if (!draft_look(draft))
        return false;
    if (draft->existed && S_ISDIR(draft->old.st_mode)) {
        errno = EISDIR;
        return false;
    }
    if (draft->existed && !S_ISREG(draft->old.st_mode))
        return write_device(draft->path, text, length);
    return draft_open(draft) && write_all(draft->descriptor, text, length) && draft_finish(draft);
}

static bool write_whole(const char *path, const char *text, size_t length)
{
    char *resolved = path_resolved(path), *beside = resolved ? name_beside(resolved) : NULL;
    struct draft draft = {.path = resolved, .beside = beside, .descriptor = -1};
    bool written = beside && draft_write(&draft, text, length);
    int error = errno;
    if (draft.descriptor >= 0) {
        close(draft.descriptor);
        unlink(beside);
    }
    free(resolved);
    free(beside);
    errno = error;
    return written;
}

enum prill_status output_write(const char *path, const char *text, size_t length)
{
    if (write_whole(path, text, length))
        return PRILL_FINE;
    message_print("%s: not written: %s", path,
                  errno == ENOENT ? "there is no such folder" : file_reason(errno));
    return PRILL_SYSTEM_FAILED;
}
