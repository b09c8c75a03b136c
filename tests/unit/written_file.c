#include "tests/unit/written_file.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

void write_file(const char *path, const char *bytes)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fputs(bytes, file);
    assert_int_equal(fclose(file), 0);
}
