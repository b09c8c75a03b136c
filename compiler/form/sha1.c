#include "compiler/form/sha1.h"

#include <string.h>

enum { BLOCK = 64, LENGTH_BYTES = 8, ROUNDS = 80 };

static uint32_t rotated(uint32_t word, int bits)
{
    return word << bits | word >> (32 - bits);
}

/* f(t) and K(t) of RFC 3174, section 5. */
static uint32_t round_term(int t, uint32_t b, uint32_t c, uint32_t d)
{
    if (t < 20)
        return ((b & c) | (~b & d)) + 0x5A827999u;
    if (t < 40)
        return (b ^ c ^ d) + 0x6ED9EBA1u;
    if (t < 60)
        return ((b & c) | (b & d) | (c & d)) + 0x8F1BBCDCu;
    return (b ^ c ^ d) + 0xCA62C1D6u;
}

static void block_schedule(const uint8_t block[BLOCK], uint32_t words[ROUNDS])
{
    for (int t = 0; t < 16; t++, block += 4)
        words[t] = (uint32_t)block[0] << 24 | (uint32_t)block[1] << 16 | (uint32_t)block[2] << 8 | block[3];
    for (int t = 16; t < ROUNDS; t++)
        words[t] = rotated(words[t - 3] ^ words[t - 8] ^ words[t - 14] ^ words[t - 16], 1);
}

/* RFC 3174, section 6.1. */
static void block_add(uint32_t state[5], const uint8_t block[BLOCK])
{
    uint32_t words[ROUNDS];
    block_schedule(block, words);
    uint32_t a = state[0], b = state[1], c = state[2], d = state[3], e = state[4];
    for (int t = 0; t < ROUNDS; t++) {
        uint32_t sum = rotated(a, 5) + round_term(t, b, c, d) + e + words[t];
        e = d;
        d = c;
        c = rotated(b, 30);
        b = a;
        a = sum;
    }
    state[0] += a;
    state[1] += b;
    state[2] += c;
    state[3] += d;
    state[4] += e;
}

/* What is left below a block, a one bit, zeros and the length in bits: RFC 3174, section 4. */
static void tail_add(uint32_t state[5], const uint8_t *rest, size_t rest_length, uint64_t length)
{
    uint8_t tail[2 * BLOCK] = {0};
    if (rest_length)
        memcpy(tail, rest, rest_length);
    tail[rest_length] = 0x80;
    size_t end = rest_length + 1 + LENGTH_BYTES <= BLOCK ? BLOCK : 2 * BLOCK;
    for (int i = 0; i < LENGTH_BYTES; i++)
        tail[end - 1 - (size_t)i] = (uint8_t)(length * 8 >> 8 * i);
    for (size_t at = 0; at < end; at += BLOCK)
        block_add(state, tail + at);
}

void sha1_digest(const void *bytes, size_t length, uint8_t digest[SHA1_SIZE])
{
    uint32_t state[5] = {0x67452301, 0xEFCDAB89, 0x98BADCFE, 0x10325476, 0xC3D2E1F0};
    const uint8_t *at = bytes;
    size_t left = length;
    for (; left >= BLOCK; at += BLOCK, left -= BLOCK)
        block_add(state, at);
    tail_add(state, at, left, length);
    for (size_t i = 0; i < SHA1_SIZE; i++)
        digest[i] = (uint8_t)(state[i / 4] >> (24 - 8 * (i % 4)));
}
