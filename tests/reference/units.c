/* Prints conversions for units.check, one a line: what GNU units calls the quantity, the unit to convert it
 * into, and the value the program gives, separated by tabs. */
#include "compiler/model/unit.h"

#include <stdio.h>
#include <string.h>

static void print_power(const char *base, int exponent)
{
    if (exponent)
        printf(" %s^%d", base, exponent);
}

/* The SI unit of a dimension; a plain number is "1". */
static void print_si(struct dimension dimension)
{
    putchar('1');
    print_power("kg", dimension.mass);
    print_power("m", dimension.length);
    print_power("s", dimension.time);
    print_power("month", dimension.month);
    print_power("K", dimension.temperature);
    print_power("mol", dimension.charge);
}

static void print_unit(const struct unit *unit)
{
    printf("%s\t", unit->gnu_name);
    print_si(measure_rows[unit->measure].dimension);
    printf("\t%.17g\n", unit_to_si(unit, 1));
    print_si(measure_rows[unit->measure].dimension);
    printf("\t%s\t%.17g\n", unit->gnu_name, unit_from_si(unit, 1));
}

/* GNU units reads a thermometer as the function tempF and measures a difference in degF. */
static void print_thermometer(const struct unit *unit)
{
    static const double readings[] = {-40, 0, 32, 50, 85.5, 212};
    for (size_t i = 0; i < sizeof readings / sizeof *readings; i++) {
        double si = unit_to_si(unit, readings[i]);
        printf("%s(%g)\tK\t%.17g\n", unit->gnu_name, readings[i], si);
        printf("%.17g K\t%s\t%.17g\n", si + 7, unit->gnu_name, unit_from_si(unit, si + 7));
    }
    const char *scale = unit->gnu_name + strlen("temp");
    printf("9 deg%s\tK\t%.17g\n", scale, unit_difference_to_si(unit, 9));
    printf("5 K\tdeg%s\t%.17g\n", scale, unit_difference_from_si(unit, 5));
}

int main(void)
{
    for (const struct unit *unit = unit_next(NULL); unit; unit = unit_next(unit)) {
        if (unit->zero > 0)
            print_thermometer(unit);
        else
            print_unit(unit);
    }
    return ferror(stdout) != 0;
}
