#include "compiler/model/file.h"

#include "lexer/source.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum {
    READ_AT_ONCE = 64 * 1024,
    NAMES_LOOKED_AT = 10000, /* of a folder, for a suggestion */
    READ_FLAGS = O_RDONLY | O_CLOEXEC | O_NOCTTY
};

static int described(int descriptor, struct stat *status)
{
    if (descriptor >= 0 && fstat(descriptor, status) != 0) {
        int error = errno; /* which the caller is to see */
        close(descriptor);
        errno = error;
        return -1;
    }
    return descriptor;
}

int file_open(const char *path, struct stat *status)
{
    return described(open(path, READ_FLAGS), status);
}

/* Name by name; each gives up the folder it lies in. */
int file_open_within(const char *folder, const char *within, struct stat *status)
{
    int descriptor = open(*folder ? folder : ".", READ_FLAGS | O_DIRECTORY);
    for (const char *name = *within ? within : NULL; descriptor >= 0 && name;) {
        const char *slash = strchr(name, '/');
        size_t length = slash ? (size_t)(slash - name) : strlen(name);
        char string[FILE_NAME_LIMIT + 1];
        if (length > FILE_NAME_LIMIT) {
            close(descriptor);
            errno = ENAMETOOLONG;
            return -1;
        }
        memcpy(string, name, length);
        string[length] = '\0';
        int next = openat(descriptor, string, READ_FLAGS | O_NOFOLLOW | (slash ? O_DIRECTORY : O_NONBLOCK));
        struct stat link;
        int error = errno;
        /* With O_DIRECTORY the system calls a link "no folder"; the user is to hear of the link. */
        if (next < 0 && error == ENOTDIR && fstatat(descriptor, string, &link, AT_SYMLINK_NOFOLLOW) == 0 &&
            S_ISLNK(link.st_mode))
            error = ELOOP;
        close(descriptor);
        errno = error;
        descriptor = next;
        name = slash ? slash + 1 : NULL;
    }
    return described(descriptor, status);
}

static const char *too_large(struct arena *arena)
{
    return text_format(arena, "it is larger than %d MiB", SOURCE_LIMIT / 1024 / 1024);
}

/* The size that the system gives is a first guess: a file may grow while it is read, and a pipe has none. */
static const char *read_all(struct arena *arena, int descriptor, size_t expected, const unsigned char **bytes,
                            uint32_t *length)
{
    size_t capacity = expected + 2, count = 0; /* one for the NUL, one to see the end without growing */
    unsigned char *start = arena_alloc(arena, capacity);
    for (;;) {
        if (count > SOURCE_LIMIT)
            return too_large(arena);
        if (count + 1 == capacity)
            start = arena_grow(arena, start, count, &capacity, 1);
        ssize_t more = read(descriptor, start + count, capacity - count - 1);
        /* A signal or an empty non-blocking pipe may come between. */
        bool again = more < 0 && (errno == EINTR || errno == EAGAIN);
        if (again && errno == EAGAIN)
            again = poll(&(struct pollfd){descriptor, POLLIN, 0}, 1, -1) >= 0 || errno == EINTR;
        if (again)
            continue;
        if (more < 0)
            return file_reason(errno);
        if (more == 0)
            break;
        count += (size_t)more;
    }
    start[count] = '\0';
    *bytes = start;
    *length = (uint32_t)count;
    return NULL;
}

/* Where memory runs out on the way, the descriptor is closed before the arena jumps on. The bytes themselves
 * are beside what a plan may take, which grows with them once it is known how many there are. */
const char *file_read(struct arena *arena, int descriptor, bool owned, const struct stat *status,
                      const unsigned char **bytes, uint32_t *length)
{
    if (S_ISREG(status->st_mode) && status->st_size > SOURCE_LIMIT)
        return too_large(arena);
    jmp_buf *outer = arena->exhausted, here;
    size_t most = arena->most, held = arena_total(arena);
    if (setjmp(here)) {
        if (owned)
            close(descriptor);
        arena->exhausted = outer;
        arena->most = most;
        arena_exhausted(arena);
    }
    arena->exhausted = &here;
    arena->most = SIZE_MAX;
    const char *reason = read_all(
        arena, descriptor, S_ISREG(status->st_mode) ? (size_t)status->st_size : READ_AT_ONCE, bytes, length);
    arena->exhausted = outer;
    arena->most = most < SIZE_MAX ? most + arena_total(arena) - held : most;
    return reason;
}

/* In the words of one who has the file before them; never with a number. */
const char *file_reason(int error)
{
    switch (error) {
    case ENOENT:
        return "there is no such file";
    case ENOTDIR:
        return "a part of its path is not a folder";
    case EISDIR:
        return "it is a folder, not a file";
    case EACCES:
    case EPERM:
        return "the system does not permit it";
    case ELOOP:
        return "it is a symbolic link, or its path leads through one";
    case ENAMETOOLONG:
        return "its name is too long";
    case EMFILE:
    case ENFILE:
        return "too many files are open";
    case ENOSPC:
        return "the disk is full";
    case EIO:
        return "the disk or device failed";
    case EFBIG:
        return "it would be larger than a file may be";
    case EROFS:
        return "the disk can only be read";
    case EBADF:
        return "it is closed";
    default:
        return strerror(error); /* a constant for every error that has a name */
    }
}

/* Looks at the first names of the folder only: one of a million files is not read for a suggestion. */
const char *file_nearest(struct arena *arena, const char *folder, struct text name)
{
    char nearest[FILE_NAME_LIMIT + 1] = "";
    size_t least = (name.length < 6 ? 1 : name.length / 3) + 1; /* a third of the letters may be wrong */
    DIR *directory = opendir(*folder ? folder : ".");
    if (!directory)
        return NULL;
    struct dirent *entry;
    for (int i = 0; i < NAMES_LOOKED_AT && (entry = readdir(directory)); i++) {
        size_t distance = text_distance(name, text_of(entry->d_name));
        if (entry->d_name[0] == '.' || strlen(entry->d_name) > FILE_NAME_LIMIT || distance > least)
            continue;
        /* Of equally near names the first by bytes, whatever order the system lists them in. */
        if (distance < least || (*nearest && strcmp(entry->d_name, nearest) < 0)) {
            snprintf(nearest, sizeof nearest, "%s", entry->d_name);
            least = distance;
        }
    }
    closedir(directory);
    return *nearest ? text_string(arena, text_of(nearest)) : NULL;
}
