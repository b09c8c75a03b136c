/* Runs during the build: writes C that holds the bytes of the library's plan files, and the first two words
 * of each statement that begins a line, so that an entry need not be read before it is sought.
 *
 *     embed OUTPUT.c [FILE.prill...]
 *     embed --text NAME OUTPUT.c FILE        the bytes of one file, as a string of that name
 *
 * Numbers and not string literals: C17 promises no literal longer than 4095 bytes. */
#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BYTES_A_LINE = 24 };

static _Noreturn void fail(const char *path)
{
    fprintf(stderr, "embed: %s: %s\n", path, strerror(errno));
    exit(1);
}

struct file {
    const char *name; /* without its folder */
    unsigned char *bytes;
    size_t length;
};

/* A NUL follows the bytes, which is not counted. */
static struct file file_read(const char *path)
{
    FILE *input = fopen(path, "rb");
    if (!input)
        fail(path);
    const char *slash = strrchr(path, '/');
    size_t capacity = 4096;
    struct file file = {.name = slash ? slash + 1 : path, .bytes = malloc(capacity)};
    if (!file.bytes)
        fail(path);
    for (int byte; (byte = getc(input)) != EOF;) {
        file.bytes[file.length++] = (unsigned char)byte;
        if (file.length == capacity)
            file.bytes = realloc(file.bytes, capacity *= 2);
        if (!file.bytes)
            fail(path);
    }
    if (ferror(input) || fclose(input) != 0)
        fail(path);
    file.bytes[file.length] = '\0';
    return file;
}

/* The array ends in a NUL, which is not counted. */
static void write_bytes(FILE *output, const struct file *file)
{
    for (size_t i = 0; i < file->length; i++)
        fprintf(output, "%s%d,", i % BYTES_A_LINE == 0 ? "\n    " : "", file->bytes[i]);
    fprintf(output, "\n    0};\n\n");
}

/* Blanks in front of it, and the bytes of a word behind them. */
static void find_word(const unsigned char *at, size_t *blanks, size_t *word)
{
    static const char in_word[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-";
    *blanks = strspn((const char *)at, " ");
    *word = strspn((const char *)at + *blanks, in_word);
}

/* The files first: entries say where in them they are. */
static void write_library(FILE *output, const struct file *files, size_t count)
{
    size_t entries = 0;
    fprintf(output, "#include \"compiler/model/embedded.h\"\n\n");
    for (size_t i = 0; i < count; i++) {
        fprintf(output, "/* %s */\nstatic const unsigned char file_%zu[] = {", files[i].name, i);
        write_bytes(output, &files[i]);
    }
    fprintf(output, "const struct embedded_file embedded_files[] = {\n");
    for (size_t i = 0; i < count; i++) {
        fprintf(output, "    {\"library/%s\", file_%zu, %zu},\n", files[i].name, i, files[i].length);
    }
    fprintf(output, "    {0, 0, 0},\n};\nconst size_t embedded_file_count = %zu;\n\n", count);
    fprintf(output, "const struct embedded_entry embedded_entries[] = {\n");
    for (size_t i = 0; i < count; i++) {
        /* An entry from each line that begins with a word to the next such line. */
        const struct file *file = &files[i];
        bool begun = false;
        for (size_t start = 0; start < file->length;
             start += strcspn((char *)file->bytes + start, "\n") + 1) {
            const unsigned char *at = file->bytes + start;
            size_t blanks, word, name;
            find_word(at, &blanks, &word);
            if (blanks || !word) /* comments, blanks and braces begin other lines */
                continue;
            if (begun)
                fprintf(output, "%zu},\n", start);
            begun = true;
            entries++;
            fprintf(output, "    {\"%.*s\", ", (int)word, at);
            at += word;
            find_word(at, &blanks, &name);
            if (name == 2 && memcmp(at + blanks, "of", 2) == 0) { /* "acidity of urea" */
                at += blanks + name;
                find_word(at, &blanks, &name);
            }
            fprintf(output, "\"%.*s\", %zu, %zu, ", (int)name, at + blanks, i, start);
        }
        if (begun)
            fprintf(output, "%zu},\n", file->length);
    }
    fprintf(output, "    {0, 0, 0, 0, 0},\n};\nconst size_t embedded_entry_count = %zu;\n", entries);
}

/* Files go in as bytes, so that what is built does not depend on where it was built. */
int main(int argc, char *argv[])
{
    bool text = argc == 5 && strcmp(argv[1], "--text") == 0;
    if (!text && (argc < 2 || strncmp(argv[1], "--", 2) == 0)) {
        fprintf(stderr, "usage: embed OUTPUT.c [FILE.prill...]\n       embed --text NAME OUTPUT.c FILE\n");
        return 2;
    }
    const char *path = argv[text ? 3 : 1];
    size_t first = text ? 4 : 2, count = (size_t)argc - first;
    struct file *files = calloc(count + 1, sizeof *files);
    FILE *output = fopen(path, "w");
    if (!files || !output)
        fail(path);
    for (size_t i = 0; i < count; i++)
        files[i] = file_read(argv[first + i]);
    if (text) {
        fprintf(output, "extern const char %s[];\nconst char %s[] = {", argv[2], argv[2]);
        write_bytes(output, &files[0]);
    } else {
        write_library(output, files, count);
    }
    if (ferror(output) || fclose(output) != 0)
        fail(path);
    for (size_t i = 0; i < count; i++)
        free(files[i].bytes);
    free(files);
    return 0;
}
