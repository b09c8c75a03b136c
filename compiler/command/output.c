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

/* Writes under the name `beside`, a template for mkstemp in the same folder, and renames to `path`: one step
 * of one file system, so that no one ever sees a half of it. `old` is what is there; NULL: nothing. False
 * with errno set, and nothing left beside. */
static bool write_and_rename(const char *path, char *beside, const struct stat *old, const char *text,
                             size_t length)
{
    int descriptor = mkstemp(beside);
    if (descriptor < 0)
        return false;
    mode_t mask = umask(0);
    umask(mask);
    /* To keep the owner takes rights that few have; without them the new owner is whoever runs the program.
     */
    if (old && fchown(descriptor, old->st_uid, old->st_gid) != 0)
        errno = 0;
    bool written = fchmod(descriptor, old ? old->st_mode & 07777 : 0666 & ~mask) == 0 &&
                   write_all(descriptor, text, length) && fsync(descriptor) == 0;
    int error = errno;
    if (close(descriptor) != 0 && written) {
        error = errno;
        written = false;
    }
    if (!written || rename(beside, path) != 0) {
        error = written ? errno : error;
        unlink(beside);
        errno = error;
        return false;
    }
    /* The name becomes lasting with its folder; a system that cannot do that has done what it can. */
    const char *slash = strrchr(path, '/');
    char *folder = slash ? strndup(path, slash == path ? 1 : (size_t)(slash - path)) : strdup(".");
    int opened = folder ? open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC) : -1;
    if (opened >= 0) {
        fsync(opened);
        close(opened);
    }
    free(folder);
    return true;
}

/* A device or a pipe cannot be replaced: it takes the bytes as they come. */
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

/* False with errno set. */
static bool write_resolved(const char *path, const char *text, size_t length)
{
    struct stat old;
    bool existed = stat(path, &old) == 0;
    if (!existed && errno != ENOENT)
        return false;
    if (existed && S_ISDIR(old.st_mode)) {
        errno = EISDIR;
        return false;
    }
    if (existed && !S_ISREG(old.st_mode))
        return write_device(path, text, length);
    /* ".NAME.XXXXXX" */
    const char *slash = strrchr(path, '/');
    int folder = slash ? (int)(slash + 1 - path) : 0;
    size_t size = strlen(path) + sizeof "..XXXXXX";
    char *beside = malloc(size);
    if (!beside)
        return false;
    snprintf(beside, size, "%.*s.%s.XXXXXX", folder, path, path + folder);
    bool written = write_and_rename(path, beside, existed ? &old : NULL, text, length);
    int error = errno;
    free(beside);
    errno = error;
    return written;
}

enum prill_status output_write(const char *path, const char *text, size_t length)
{
    char *resolved = path_resolved(path);
    bool written = resolved && write_resolved(resolved, text, length);
    int error = errno;
    free(resolved);
    if (written)
        return PRILL_FINE;
    message_print("%s: not written: %s", path,
                  error == ENOENT ? "there is no such folder" : file_reason(error));
    return PRILL_SYSTEM_FAILED;
}
