/* Prints the terminal cells of every code point, one a line, for width.check. */
#include "lexer/source.h"

#include <stdio.h>

int main(void)
{
    for (uint32_t point = 0; point <= 0x10FFFF; point++)
        printf("%d\n", character_width(point));
    return ferror(stdout) != 0;
}
