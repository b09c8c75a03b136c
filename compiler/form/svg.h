/* Charts drawn as SVG inside an HTML document; document.css has their lines and patterns. */
#ifndef PRILL_FORM_SVG_H
#define PRILL_FORM_SVG_H

#include "compiler/form/chart.h"

/* `number` is the chart's among those of the document: names in it are made of it. */
void svg_add(struct buffer *out, const struct chart *chart, size_t number);

#endif
