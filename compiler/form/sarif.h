/* The parts that SARIF results are made of: messages, files and places in them. Section numbers are of
 * SARIF 2.1.0. */
#ifndef PRILL_FORM_SARIF_H
#define PRILL_FORM_SARIF_H

#include "compiler/form/data.h"

#include "lexer/source.h"

/* What paths are relative to: the folder where prill was run, or the library built into it. */
extern const char sarif_plan_base[], sarif_library_base[];

/* A message object under `key`. Its text stays plain whatever a plan says: braces are doubled, so that none
 * is a placeholder (3.11.5), and "](" is parted, so that none becomes a link (3.11.6). */
void sarif_message_put(struct data *parent, const char *key, const char *string);

/* `artifactLocation` (3.4): a relative reference (RFC 3986, 4.2), or a file URI for an absolute path. */
void sarif_artifact_put(struct data *parent, const struct source *source);

/* The text of a place as a region (3.30), columns in UTF-16 units and without a byte order mark. */
struct data *sarif_region_put(struct data *parent, const char *key, struct place place);

/* A location (3.28) with text and byte region and snippet. `place` has a source. */
struct data *sarif_location_put(struct data *parent, const char *key, struct place place);

#endif
