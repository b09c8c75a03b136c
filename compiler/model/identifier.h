/* What Unicode says of names: which characters they may hold, and which names look alike.
 *
 * Unicode Technical Standards 31 and 39, as ICU implements them: identifiers are of XID_Start and
 * XID_Continue, in the General Security Profile (Identifier_Status "Allowed"), of the restriction level
 * "Highly Restrictive"; two names look alike when their skeletons are equal. ICU's data is only loaded when
 * one of these is called: a plan of ASCII names asks for none. */
#ifndef PRILL_MODEL_IDENTIFIER_H
#define PRILL_MODEL_IDENTIFIER_H

#include "lexer/text.h"

struct identifier {
    struct text text;
    bool quoted; /* may hold anything that is seen; each of its words is of one script */

    enum identifier_fault {
        IDENTIFIER_SOUND,
        IDENTIFIER_CHARACTER, /* not allowed in identifiers */
        IDENTIFIER_INVISIBLE, /* of a quoted name: nothing is seen of it */
        IDENTIFIER_MIXED      /* letters of scripts that no language writes together */
    } fault;
    size_t offset, length; /* where at fault: the bytes of the character, */
    uint32_t code_point;   /* and which it is */
    uint64_t skeleton;     /* equal for names that look alike; a hash of 64 bits */
};

bool text_is_ascii(struct text text);

/* Fills in what is known of each. `arena` is only used to tell that ICU had no memory. */
void identifiers_judge(struct arena *arena, struct identifier *identifiers, size_t count);

/* The skeleton of an ASCII name, without ICU: by UTS 39, 0 looks like O, 1 and I like l, m like rn. False
 * where it is not of ASCII. */
bool identifier_ascii_skeleton(struct text text, uint64_t *skeleton);

/* "U+043E CYRILLIC SMALL LETTER O" */
const char *code_point_text(struct arena *arena, uint32_t code_point);

#endif
