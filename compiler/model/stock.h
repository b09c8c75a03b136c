/* What is in the shed: counted on a day, or bought. */
#ifndef PRILL_MODEL_STOCK_H
#define PRILL_MODEL_STOCK_H

#include "compiler/model/symbol.h"

struct product;

struct stock {                     /* what is in the shed: counted on a day, or bought */
    struct symbol symbol;          /* no name */
    const struct product *product; /* NULL after a report */
    day_number day;                /* counted as it ends; bought before any of it is used */
    bool bought;
    double amount; /* kg or m3; 0 where there is none */
    bool volume;
    double price; /* of all of it; NAN without */
};

#endif
