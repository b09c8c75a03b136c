/* What the formatter has to know of the language: how the blocks of statement.def are laid out. */
#ifndef PRILL_MODEL_LAYOUT_H
#define PRILL_MODEL_LAYOUT_H

#include "parser/format.h"

extern const struct format_language plan_layout;

#endif
