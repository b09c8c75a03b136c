/* The text of the plan that `prill start` fills in; the build writes it from start_plan.text. */
#ifndef PRILL_COMMAND_START_PLAN_H
#define PRILL_COMMAND_START_PLAN_H

extern const char start_plan_text[];

#endif
