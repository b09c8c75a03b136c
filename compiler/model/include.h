/* The files of a compilation: the plan, what it uses, and the library built into the program. */
#ifndef PRILL_MODEL_INCLUDE_H
#define PRILL_MODEL_INCLUDE_H

#include "compiler/model/replacement.h"

#include "lexer/report.h"

enum {
    INCLUDE_DEPTH_LIMIT = 16,
    INCLUDE_FILE_LIMIT = 1000,
    INCLUDE_BYTE_LIMIT = 256 * 1024 * 1024 /* of all files together */
};

struct sources;

/* Bytes and steps of work (arena.h) that a plan may take to be worked out, and how many more of both for each
 * byte of its files. */
enum { PLAN_MEMORY = 128 << 20, PLAN_MEMORY_PER_BYTE = 256 };
enum { PLAN_WORK = 150000000, PLAN_WORK_PER_BYTE = 300 };

/* How the first file came to be read, or why not: the system's refusals are no reports about a plan. */
enum source_status_read {
    SOURCE_READ,
    SOURCE_FAILED, /* `*reason` says why: missing, a directory, unreadable, too large, read error */
};

/* Text in place of a file on the disk, such as an editor has unsaved; NULL to read the disk. `path` is the
 * folder of the plan and the way below it, as reports print it. The text is copied at once. */
typedef const char *source_reader(void *reader, const char *path, size_t *length);

/* Files are asked of `read` first (NULL: never). */
struct sources *sources_new(struct arena *arena, source_reader *read, void *reader);

/* The plan itself, from a file ("-": standard input, shown as `stdin_name` or "<stdin>"; the folder of
 * stdin_name is where `use` looks). Only a regular file or a pipe is read; a failed read is never an empty
 * plan. */
enum source_status_read sources_open_plan(struct sources *sources, const char *path, const char *stdin_name,
                                          struct source **source, const char **reason);

/* A plan already in memory (tests, editors, fuzzing): `path` decides the folder for `use`; with `sealed` no
 * file is opened at all and every `use` that no reader answers is reported as missing. `bytes` is copied. */
struct source *sources_add_text(struct sources *sources, const char *path, struct text bytes, bool sealed);

/* The file a `use` names, as written between the quotes. Relative to the folder of the file that uses it,
 * inside the folder of the plan, no absolute path, no way out by `..` or a symbolic link, a regular file.
 * What is wrong is reported at `used_at`. NULL when it was, or when the file was read already (each file
 * counts once; a file that uses itself, through others or not, is reported). */
struct source *sources_use(struct sources *sources, struct reports *reports, const struct source *user,
                           struct text path, struct place used_at);

/* From now on another file stands in for one that the plan's own `use` statements name: "FILE" for the only
 * one, "OLD=FILE" for the one they name OLD, both as written between the quotes, and by the same rules. */
void sources_replace(struct sources *sources, const char *replacement);

/* Why the replacement was no such one, once the plan is read: a sentence; NULL when it was, or none was
 * asked. */
const char *sources_replace_lack(const struct sources *sources);

/* What stood in for what; NULL without. */
const struct replacement *sources_replacement(const struct sources *sources);

/* A file of data that a statement names, by the same rules; it is no part of the plan's text, and may be
 * named any number of times. NULL when something was reported. */
const struct source *sources_read(struct sources *sources, struct reports *reports, const struct source *user,
                                  struct text path, struct place named_at);

/* A file of the library, in order of name. */
struct source *sources_library(struct sources *sources, size_t index);

/* Every file read so far, for dependency output and for refusing to overwrite an input: device and inode
 * compared. */
bool sources_holds_file(const struct sources *sources, const char *path);

extern const struct rule include_rules[];
extern const size_t include_rule_count;

#endif
