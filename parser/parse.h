/* Between the grammar's actions and the driver that feeds it tokens. */
#ifndef PRILL_PARSER_PARSE_H
#define PRILL_PARSER_PARSE_H

#include "parser/grammar.h"

struct parse_expectation {
    bool term, comma, open_block, close_block, close_group, line_end;
};

struct block *parse_block(struct parse *parse);
struct block *parse_add(struct parse *parse, struct block *block, struct statement *statement);
struct block *parse_close(struct parse *parse, struct block *block, struct span open, struct span close);
struct statement *parse_statement(struct parse *parse, struct span terms, struct block *block);
struct statement *parse_broken(struct parse *parse, struct span terms, struct block *block);
void parse_plan(struct parse *parse, struct block *block);

void parse_complain(struct parse *parse, struct span found, const struct parse_expectation *expected);
void parse_complain_of_stack(struct parse *parse, struct span found, const char *sentence);

#endif
