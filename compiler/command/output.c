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

/* The file that is to be replaced, and not the link that leads to it. NULL with errno set; a path that cannot
 * be followed is left as it is: who opens it is told why. */
static char *path_resolved(const char *path)
{
    char *current = strdup(path), target[LINK_LENGTH];
    for (int links = 0; current; links++) {
        ssize_t length = readlink(current, target, sizeof target);
        if (length < 0)
            return current;
        int error = links == LINKS_FOLLOWED ? ELOOP : (size_t)length == sizeof target ? ENAMETOOLONG : 0;
        const char *slash = target[0] == '/' ? NULL : strrchr(current, '/');
        int folder = slash ? (int)(slash + 1 - current) : 0;
        size_t size = (size_t)folder + (size_t)length + 1;
        char *next = error ? NULL : malloc(size);
        if (next)
            snprintf(next, size, "%.*s%.*s", folder, current, (int)length, target);
        free(current);
        current = next;
        if (error)
            errno = error;
    }
    return NULL;
}

/* False with errno set, and nothing left beside. */
static bool write_resolved(const char *path, const char *text, size_t length)
{
    struct stat old;
    bool existed = stat(path, &old) == 0, device = existed && !S_ISREG(old.st_mode);
    if (!existed && errno != ENOENT)
        return false;
    if (existed && S_ISDIR(old.st_mode)) {
        errno = EISDIR;
        return false;
    }
    /* Written under another name in the same folder, ".NAME.XXXXXX", and renamed: one step of one file
     * system, so that no one ever sees half a file. A device or a pipe takes the bytes as they come. */
    const char *slash = strrchr(path, '/');
    int folder = slash ? (int)(slash + 1 - path) : 0;
    size_t size = strlen(path) + sizeof "..XXXXXX";
    char *beside = malloc(size);
    if (!beside)
        return false;
    snprintf(beside, size, "%.*s.%s.XXXXXX", folder, path, path + folder);
    int descriptor = device ? open(path, O_WRONLY | O_CLOEXEC | O_NOCTTY) : mkstemp(beside);
    bool opened = descriptor >= 0, written = opened;
    if (opened && !device) {
        mode_t mask = umask(0);
        umask(mask);
        /* Few have the right to keep the owner; without it the new owner is whoever runs the program. */
        if (existed && fchown(descriptor, old.st_uid, old.st_gid) != 0)
            errno = 0;
        written = fchmod(descriptor, existed ? old.st_mode & 07777 : 0666 & ~mask) == 0;
    }
    /* The bytes are on the disk before the name is theirs: a machine that stops leaves no half either. */
    written = written && write_all(descriptor, text, length) && (device || fsync(descriptor) == 0);
    int error = errno;
    if (opened && close(descriptor) != 0 && written) {
        error = errno;
        written = false;
    }
    if (written && !device && rename(beside, path) != 0) {
        error = errno;
        written = false;
    }
    if (opened && !device && !written)
        unlink(beside);
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
