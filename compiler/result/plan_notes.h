/* What goes with the work in every output for a person: what was skipped, accepted or left open, notes and
 * sources. */
#ifndef PRILL_RESULT_PLAN_NOTES_H
#define PRILL_RESULT_PLAN_NOTES_H

#include "compiler/season/season.h"

/* "Note on maryland-home: ...", what the plan or the library remarks on a thing; NULL without. */
const char *note_sentence(struct arena *arena, const struct symbol *symbol);

/* "Liming Turfgrass Areas, by a university extension, 2014, second-hand"; "no source stated" for NULL. */
const char *source_text(struct arena *arena, const struct source_entry *source);

/* "second-hand"; NULL of what was confirmed. */
const char *source_status_text(enum source_status status);

/* "1 warning and 2 notes not shown here: run `prill check`." NULL where none is. */
const char *open_sentence(struct arena *arena, const struct reports *reports);

/* "plan.prill:84" */
const char *place_line(struct arena *arena, struct place place);

#endif
