/* Sources: the test vectors of RFC 3174, section 7.3 (TEST1 to TEST4), and of RFC 9562, appendix A.4. */
#include "compiler/form/sha1.h"
#include "compiler/form/uuid.h"
#include "tests/unit/one_arena.h"

#include <stdio.h>

/* `text` written `times` times gives the digest `wanted`, in hexadecimal. */
static void expect_digest(const char *text, size_t times, const char *wanted)
{
    struct buffer input = {.arena = &arena};
    for (size_t i = 0; i < times; i++)
        buffer_add_string(&input, text);
    uint8_t digest[SHA1_SIZE];
    sha1_digest(buffer_string(&input), input.length, digest);
    char written[2 * SHA1_SIZE + 1];
    for (size_t i = 0; i < SHA1_SIZE; i++)
        snprintf(written + 2 * i, 3, "%02x", digest[i]);
    assert_string_equal(written, wanted);
}

static void test_digest_of_the_rfc(void **state)
{
    expect_digest("abc", 1, "a9993e364706816aba3e25717850c26c9cd0d89d");
    expect_digest("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", 1,
                  "84983e441c3bd26ebaae4aa1f95129e5e54670f1");
    expect_digest("a", 1000000, "34aa973cd4c4daa4f61eeb2bdbad27316534016f");
    expect_digest("0123456701234567012345670123456701234567012345670123456701234567", 10,
                  "dea356a2cddd90c7a7ecedc5ebb563934f460452");
}

/* Around the lengths where the padding takes a further block: 55, 56, 63, 64 bytes. The digests are those of
 * GNU coreutils' sha1sum 9.1. */
static void test_digest_at_block_ends(void **state)
{
    expect_digest("", 1, "da39a3ee5e6b4b0d3255bfef95601890afd80709");
    expect_digest("a", 55, "c1c8bbdc22796e28c0e15163d20899b65621d65a");
    expect_digest("a", 56, "c2db330f6083854c99d4b5bfb6e8f29f201be699");
    expect_digest("a", 63, "03f09f5b158a7a8cdad920bddc29b81c18a551f5");
    expect_digest("a", 64, "0098ba824b5c16427bd7a1122a5a442a25ec644d");
}

/* RFC 9562, section 6.6: the name space of domain names. */
static const uint8_t DOMAIN_NAMES[UUID_SIZE] = {0x6b, 0xa7, 0xb8, 0x10, 0x9d, 0xad, 0x11, 0xd1,
                                                0x80, 0xb4, 0x00, 0xc0, 0x4f, 0xd4, 0x30, 0xc8};

static void test_uuid_of_the_rfc(void **state)
{
    assert_string_equal(uuid_of_name(&arena, DOMAIN_NAMES, TEXT("www.example.com")),
                        "2ed6657d-e927-568b-95e1-2665a8aea6a2");
}

static void test_uuid_of_an_empty_name(void **state)
{
    assert_string_equal(uuid_of_name(&arena, DOMAIN_NAMES, (struct text){0}),
                        "4ebd0208-8328-5d69-8c44-ec50939c0967");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_digest_of_the_rfc),
        TEST(test_digest_at_block_ends),
        TEST(test_uuid_of_the_rfc),
        TEST(test_uuid_of_an_empty_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
