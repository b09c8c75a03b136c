/* A day that a treatment is taken to fall on, beside what the plan says: "what if this comes so late?" */
#ifndef PRILL_MODEL_SUPPOSE_H
#define PRILL_MODEL_SUPPOSE_H

#include "compiler/model/model.h"

struct supposition {
    const struct treatment *treatment;
    int time; /* from 1; 0: the first that is still to come */
    day_number day;
    struct place place; /* of the words on the command line */
};

/* Adds to the model that `what` ("spring-feed", "fall-feed:2") falls on `day` ("2027-05-01"). NULL, or why
 * that cannot be supposed. */
const char *model_suppose(struct model *model, const char *what, const char *day);

#endif
