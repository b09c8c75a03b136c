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

static const char *base_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

struct extent {
    size_t bytes, lines;
};

/* The array ends in a NUL, which is not counted. */
static struct extent write_bytes(FILE *output, const char *path)
{
    FILE *input = fopen(path, "rb");
    if (!input)
        fail(path);
    struct extent extent = {0, 1};
    int byte;
    for (; (byte = getc(input)) != EOF; extent.bytes++) {
        fprintf(output, "%s%d,", extent.bytes % BYTES_A_LINE == 0 ? "\n    " : "", byte);
        extent.lines += byte == '\n';
    }
    if (ferror(input) || fclose(input) != 0)
        fail(path);
    fprintf(output, "\n    0};\n\n");
    return extent;
}

/* The byte that each line begins with. */
static void write_lines(FILE *output, const char *path)
{
    FILE *input = fopen(path, "rb");
    if (!input)
        fail(path);
    size_t at = 0;
    fprintf(output, "0,");
    for (int byte; (byte = getc(input)) != EOF;) {
        at++;
        if (byte == '\n')
            fprintf(output, "%zu,", at);
    }
    if (ferror(input) || fclose(input) != 0)
        fail(path);
    fprintf(output, "};\n\n");
}

static bool in_word(int byte)
{
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || (byte >= '0' && byte <= '9') ||
           byte == '-';
}

enum { WORD_BYTES = 200 }; /* more than any name has */

/* The word that begins with `byte`, or with what is behind blanks there; returns the byte behind it. */
static int read_word(FILE *input, int byte, char word[WORD_BYTES])
{
    size_t length = 0;
    while (byte == ' ')
        byte = getc(input);
    for (; in_word(byte) && length + 1 < WORD_BYTES; byte = getc(input))
        word[length++] = (char)byte;
    word[length] = '\0';
    return byte;
}

/* Comments, blanks and braces begin other lines. Returns the count of entries. */
static size_t write_entries(FILE *output, const char *path, int number, size_t length)
{
    FILE *input = fopen(path, "rb");
    if (!input)
        fail(path);
    char word[WORD_BYTES], name[WORD_BYTES];
    size_t count = 0;
    for (int byte = getc(input); byte != EOF; byte = getc(input)) {
        if (in_word(byte)) {
            long start = ftell(input) - 1;
            if (count++)
                fprintf(output, "%ld},\n", start);
            byte = read_word(input, read_word(input, byte, word), name);
            if (strcmp(name, "of") == 0) /* "acidity of urea" */
                byte = read_word(input, byte, name);
            fprintf(output, "    {\"%s\", \"%s\", %d, %ld, ", word, name, number, start);
        }
        while (byte != '\n' && byte != EOF)
            byte = getc(input);
    }
    if (ferror(input) || fclose(input) != 0)
        fail(path);
    if (count)
        fprintf(output, "%zu},\n", length);
    return count;
}

/* The files first: entries say where in them they are. */
static void write_library(FILE *output, int count, char *const paths[], struct extent extents[])
{
    size_t entries = 0;
    fprintf(output, "#include \"compiler/model/embedded.h\"\n\n");
    for (int i = 0; i < count; i++) {
        fprintf(output, "/* %s */\nstatic const unsigned char file_%d[] = {", base_name(paths[i]), i);
        extents[i] = write_bytes(output, paths[i]);
        fprintf(output, "static const uint32_t lines_%d[] = {", i);
        write_lines(output, paths[i]);
    }
    fprintf(output, "const struct embedded_file embedded_files[] = {\n");
    for (int i = 0; i < count; i++) {
        fprintf(output, "    {\"library/%s\", file_%d, %zu, ", base_name(paths[i]), i, extents[i].bytes);
        fprintf(output, "lines_%d, %zu},\n", i, extents[i].lines);
    }
    fprintf(output, "    {0, 0, 0, 0, 0},\n};\nconst size_t embedded_file_count = %d;\n\n", count);
    fprintf(output, "const struct embedded_entry embedded_entries[] = {\n");
    for (int i = 0; i < count; i++)
        entries += write_entries(output, paths[i], i, extents[i].bytes);
    fprintf(output, "    {0, 0, 0, 0, 0},\n};\nconst size_t embedded_entry_count = %zu;\n", entries);
}

static int write_text(const char *name, const char *path, const char *file)
{
    FILE *output = fopen(path, "w");
    if (!output)
        fail(path);
    fprintf(output, "extern const char %s[];\nconst char %s[] = {", name, name);
    write_bytes(output, file);
    if (ferror(output) || fclose(output) != 0)
        fail(path);
    return 0;
}

/* Files go in as bytes, so that what is built does not depend on where it was built. */
int main(int argc, char *argv[])
{
    if (argc == 5 && strcmp(argv[1], "--text") == 0)
        return write_text(argv[2], argv[3], argv[4]);
    if (argc < 2 || strncmp(argv[1], "--", 2) == 0) {
        fprintf(stderr, "usage: embed OUTPUT.c [FILE.prill...]\n       embed --text NAME OUTPUT.c FILE\n");
        return 2;
    }
    int count = argc - 2;
    struct extent *extents = calloc((size_t)count + 1, sizeof *extents);
    FILE *output = fopen(argv[1], "w");
    if (!extents || !output)
        fail(argv[1]);
    write_library(output, count, argv + 2, extents);
    if (ferror(output) || fclose(output) != 0)
        fail(argv[1]);
    free(extents);
    return 0;
}
