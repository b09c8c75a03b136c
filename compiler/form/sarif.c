#include "compiler/form/sarif.h"

#include <string.h>

enum { SNIPPET_LIMIT = 4096 }; /* bytes; a snippet is the whole region (3.30.13), and a block can be long */

const char sarif_plan_base[] = "%SRCROOT%", sarif_library_base[] = "PRILL-LIBRARY";

void sarif_message_put(struct data *parent, const char *key, const char *string)
{
    struct buffer text = {.arena = parent->arena};
    for (const char *c = string; *c; c++) {
        buffer_repeat(&text, *c, *c == '{' || *c == '}' ? 2 : 1);
        if (c[0] == ']' && c[1] == '(')
            buffer_add_string(&text, " ");
    }
    struct data *message = data_row(parent, key);
    data_string(message, "text", buffer_string(&text));
}

/* A path below the plan's folder is relative to it, so that the log fits another checkout. */
void sarif_artifact_put(struct data *parent, const struct source *source)
{
    struct data *artifact = data_row(parent, "artifactLocation");
    /* All but the unreserved characters is percent-encoded, so that a colon starts no scheme. */
    const char *path = source->path;
    static const char unreserved[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~/";
    struct buffer uri = {.arena = parent->arena};
    if (path[0] == '/')
        buffer_add_string(&uri, "file://");
    if (strncmp(path, "./", 2) == 0)
        path += 2;
    for (; *path; path++)
        if (strchr(unreserved, *path))
            buffer_repeat(&uri, *path, 1);
        else
            buffer_format(&uri, "%%%02X", (unsigned)(unsigned char)*path);
    data_string(artifact, "uri", buffer_string(&uri));
    if (source->library || source->path[0] != '/')
        data_string(artifact, "uriBaseId", source->library ? sarif_library_base : sarif_plan_base);
}

/* Text columns do not depend on a byte order mark (3.30.2): on the first line it takes one, but from a place
 * that begins before it. */
struct data *sarif_region_put(struct data *parent, const char *key, struct place place)
{
    static const char mark[] = "\xEF\xBB\xBF";
    const struct source *source = place.source;
    bool marked = source->length >= 3 && memcmp(source->bytes, mark, 3) == 0;
    struct position start = source_position(source, place.start), end = source_position(source, place.end);
    struct data *region = data_object(parent, key);
    data_integer(region, "startLine", start.line);
    data_integer(region, "startColumn",
                 start.utf16_column - (marked && start.line == 1 && start.utf16_column > 1));
    data_integer(region, "endLine", end.line);
    data_integer(region, "endColumn", end.utf16_column - (marked && end.line == 1 && end.utf16_column > 1));
    return region;
}

struct data *sarif_location_put(struct data *parent, const char *key, struct place place)
{
    struct data *location = data_object(parent, key);
    struct data *physical = data_object(location, "physicalLocation");
    sarif_artifact_put(physical, place.source);
    struct data *region = sarif_region_put(physical, "region", place);
    data_integer(region, "byteOffset", place.start);
    data_integer(region, "byteLength", place.end - place.start);
    if (place.end - place.start <= SNIPPET_LIMIT)
        data_text(data_row(region, "snippet"), "text", place_text(place));
    return location;
}
