#include "compiler/form/sha1.h"

#include <string.h>

enum { BLOCK = 64, LENGTH_BYTES = 8, ROUNDS = 80 };

static uint32_t rotated(uint32_t word, int bits)
{
    return word << bits | word >> (32 - bits);
}

/* RFC 3174, section 6.1. */
static void block_add(uint32_t state[5], const uint8_t block[BLOCK])
{
    uint32_t words[ROUNDS];
    for (size_t t = 0; t < 16; t++)
        words[t] = (uint32_t)block[4 * t] << 24 | (uint32_t)block[4 * t + 1] << 16 |
                   (uint32_t)block[4 * t + 2] << 8 | block[4 * t + 3];
    for (int t = 16; t < ROUNDS; t++)
        words[t] = rotated(words[t - 3] ^ words[t - 8] ^ words[t - 14] ^ words[t - 16], 1);
    uint32_t a = state[0], b = state[1], c = state[2], d = state[3], e = state[4];
    /* f(t) and K(t) of section 5, for twenty rounds at a time. */
#define TWENTY(first, f, k)                                                                                  \
    for (int t = first; t < (first) + 20; t++) {                                                             \
        uint32_t sum = rotated(a, 5) + (f) + e + k + words[t];                                               \
        e = d;                                                                                               \
        d = c;                                                                                               \
        c = rotated(b, 30);                                                                                  \
        b = a;                                                                                               \
        a = sum;                                                                                             \
    }
    TWENTY(0, (b & c) | (~b & d), 0x5A827999u)
    TWENTY(20, b ^ c ^ d, 0x6ED9EBA1u)
    TWENTY(40, (b & c) | (b & d) | (c & d), 0x8F1BBCDCu)
    TWENTY(60, b ^ c ^ d, 0xCA62C1D6u)
#undef TWENTY
    state[0] += a;
    state[1] += b;
    state[2] += c;
    state[3] += d;
    state[4] += e;
}

/* Whole blocks where they lie, then what is left: RFC 3174, section 4. */
void sha1_digest(const void *bytes, size_t length, uint8_t digest[SHA1_SIZE])
{
    uint32_t state[5] = {0x67452301, 0xEFCDAB89, 0x98BADCFE, 0x10325476, 0xC3D2E1F0};
    const uint8_t *at = bytes;
    size_t left = length;
    for (; left >= BLOCK; at += BLOCK, left -= BLOCK)
        block_add(state, at);
    /* What is left below a block, a one bit, zeros and the length in bits. */
    uint8_t tail[2 * BLOCK] = {0};
    if (left)
        memcpy(tail, at, left);
    tail[left] = 0x80;
    size_t end = left + 1 + LENGTH_BYTES <= BLOCK ? BLOCK : 2 * BLOCK;
    for (int i = 0; i < LENGTH_BYTES; i++)
        tail[end - 1 - (size_t)i] = (uint8_t)((uint64_t)length * 8 >> 8 * i);
    for (size_t done = 0; done < end; done += BLOCK)
        block_add(state, tail + done);
    for (size_t i = 0; i < SHA1_SIZE; i++)
        digest[i] = (uint8_t)(state[i / 4] >> (24 - 8 * (i % 4)));
}
