#include "compiler/model/identifier.h"
#include "compiler/model/late.h"
#include "lexer/source.h"

#include <string.h>
#include <unicode/uchar.h>
#include <unicode/uscript.h>
#include <unicode/uspoof.h>

/* ---- ICU ---- */

#define ICU_LIBRARY "libicui18n.so." U_ICU_VERSION_SHORT
#define ICU(each)                                                                                            \
    each(u_charName) each(u_hasBinaryProperty) each(uscript_getScript) each(uset_contains)                   \
        each(uspoof_checkUTF8) each(uspoof_close) each(uspoof_getRecommendedSet)                             \
            each(uspoof_getSkeletonUTF8) each(uspoof_open) each(uspoof_setChecks)                            \
                each(uspoof_setRestrictionLevel)

struct icu {
    ICU(LATE_MEMBER)
};

bool text_is_ascii(struct text text)
{
    for (size_t i = 0; i < text.length; i++)
        if ((unsigned char)text.start[i] >= 0x80)
            return false;
    return true;
}

/* ---- skeletons ---- */

/* FNV-1a. */
static const uint64_t HASH_START = 14695981039346656037U, HASH_STEP = 1099511628211U;

static uint64_t hash_byte(uint64_t hash, char byte)
{
    return (hash ^ (unsigned char)byte) * HASH_STEP;
}

/* What an ASCII character looks like where that is not itself: confusables.txt of UTS 39. */
static const char *const LIKE[128] = {
    ['0'] = "O", ['1'] = "l",  ['I'] = "l", ['m'] = "rn",
    ['|'] = "l", ['"'] = "''", ['`'] = "'", ['%'] = "\xc2\xba/\xe2\x82\x80",
};

bool identifier_ascii_skeleton(struct text text, uint64_t *skeleton)
{
    uint64_t hash = HASH_START;
    unsigned char high = 0;
    for (size_t i = 0; i < text.length; i++) {
        high |= (unsigned char)text.start[i];
        const char *like = LIKE[(unsigned char)text.start[i] & 0x7f];
        if (!like)
            hash = hash_byte(hash, text.start[i]);
        for (; like && *like; like++)
            hash = hash_byte(hash, *like);
    }
    *skeleton = hash;
    return high < 0x80;
}

enum {
    SKELETON_BYTES = 4096
}; /* a word has at most 200 bytes; beyond it, quoted text looks like itself only */

/* ---- characters ---- */

/* Whether the word at `at` is of scripts that no language writes together. */
static bool word_mixed(const struct icu *icu, const USpoofChecker *checker, struct text text, size_t at)
{
    UErrorCode status = U_ZERO_ERROR;
    const char *start = text.start + at, *blank = memchr(start, ' ', text.length - at);
    size_t length = blank ? (size_t)(blank - start) : text.length - at;
    return icu->uspoof_checkUTF8(checker, start, (int32_t)length, NULL, &status) != 0;
}

/* Marks the first character at fault. Of mixed scripts that is the first letter of another script than the
 * word's first one; in quotes, each word may have its own. */
static void find_fault(const struct icu *icu, struct identifier *identifier, const USpoofChecker *checker,
                       const USet *allowed)
{
    struct text text = identifier->text;
    UScriptCode before = USCRIPT_COMMON;
    bool mixed = word_mixed(icu, checker, text, 0);
    for (size_t at = 0, length = 0; at < text.length && !identifier->fault; at += length) {
        UErrorCode status = U_ZERO_ERROR;
        UChar32 c = (UChar32)text_character(text, at, &length);
        UScriptCode script = icu->uscript_getScript(c, &status);
        bool known = icu->u_hasBinaryProperty(c, at == 0 ? UCHAR_XID_START : UCHAR_XID_CONTINUE) &&
                     icu->uset_contains(allowed, c);
        if (icu->u_hasBinaryProperty(c, UCHAR_DEFAULT_IGNORABLE_CODE_POINT))
            identifier->fault = identifier->quoted ? IDENTIFIER_INVISIBLE : IDENTIFIER_CHARACTER;
        else if (!identifier->quoted && c >= 0x80 && !known)
            identifier->fault = IDENTIFIER_CHARACTER;
        /* Marks without a script of their own go with any. */
        bool own = script != USCRIPT_COMMON && script != USCRIPT_INHERITED;
        if (!identifier->fault && mixed && own && before != USCRIPT_COMMON && script != before)
            identifier->fault = IDENTIFIER_MIXED;
        if (c == ' ' && at + 1 < text.length) {
            mixed = word_mixed(icu, checker, text, at + 1);
            before = USCRIPT_COMMON;
        } else if (own && before == USCRIPT_COMMON) {
            before = script;
        }
        identifier->offset = at;
        identifier->length = length;
        identifier->code_point = (uint32_t)c;
    }
}

/* Nothing is taken from an arena while the checker is open: that might jump, and it would stay open. */
void identifiers_judge(struct arena *arena, struct identifier *identifiers, size_t count)
{
    struct icu functions;
    const struct icu *icu = &functions;
    LATE_OPEN(arena, ICU_LIBRARY, ICU, functions);
    UErrorCode status = U_ZERO_ERROR;
    USpoofChecker *checker = icu->uspoof_open(&status);
    const USet *allowed = icu->uspoof_getRecommendedSet(&status);
    if (U_FAILURE(status)) {
        icu->uspoof_close(checker);
        arena_exhausted(arena);
    }
    icu->uspoof_setRestrictionLevel(checker, USPOOF_HIGHLY_RESTRICTIVE);
    icu->uspoof_setChecks(checker, USPOOF_RESTRICTION_LEVEL, &status);
    for (size_t i = 0; i < count; i++) {
        struct identifier *identifier = &identifiers[i];
        struct text text = identifier->text;
        if (identifier_ascii_skeleton(text, &identifier->skeleton))
            continue;
        find_fault(icu, identifier, checker, allowed);
        /* Names too long for the buffer are compared by their bytes alone. */
        char skeleton[SKELETON_BYTES];
        UErrorCode fault = U_ZERO_ERROR;
        int32_t length = text.length < SKELETON_BYTES
                             ? icu->uspoof_getSkeletonUTF8(checker, 0, text.start, (int32_t)text.length,
                                                           skeleton, SKELETON_BYTES, &fault)
                             : SKELETON_BYTES;
        if (U_SUCCESS(fault) && length >= 0 && length < SKELETON_BYTES)
            text = (struct text){skeleton, (size_t)length};
        identifier->skeleton = HASH_START;
        for (size_t at = 0; at < text.length; at++)
            identifier->skeleton = hash_byte(identifier->skeleton, text.start[at]);
    }
    icu->uspoof_close(checker);
}

const char *code_point_text(struct arena *arena, uint32_t code_point)
{
    char name[128] = "";
    UErrorCode status = U_ZERO_ERROR;
    struct icu icu;
    LATE_OPEN(arena, ICU_LIBRARY, ICU, icu);
    icu.u_charName((UChar32)code_point, U_UNICODE_CHAR_NAME, name, sizeof name, &status);
    return text_format(arena, "U+%04X%s%s", code_point, U_SUCCESS(status) && *name ? " " : "",
                       U_SUCCESS(status) ? name : "");
}
