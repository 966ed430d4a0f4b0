/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The XML document that a page is made from: numbers in both systems of units, words as they are. libxml2 escapes everything. */
#ifndef DRAWDOCK_PAGE_H
#define DRAWDOCK_PAGE_H
#include "lib/base/error.h"
#include <drawdock/case.h>
#include <drawdock/report.h>
#include <drawdock/result.h>
#include <libxml/tree.h>
#include <stdbool.h>

typedef struct page {
    struct page_template *template; /* NULL: none yet */
    xmlDocPtr document;
    xmlNodePtr root;
    bool failed; /* out of memory: everything after is dropped */
} page;

/* false: out of memory. */
bool page_begin(page *p);
void page_end(page *p);

/* A child element; NULL (allowed as a parent) when memory ran out. */
xmlNodePtr page_add(page *p, xmlNodePtr parent, const char *name);
/* An attribute. Bytes that no page may hold become spaces, here and below. */
void page_put(page *p, xmlNodePtr node, const char *name, const char *format, ...) DD_PRINTF(4, 5);
/* A child with a text. */
xmlNodePtr page_text(page *p, xmlNodePtr parent, const char *name, const char *text);
/* A child with <metric> and <us> in it (us_units.h), or the one text where both are the same. value in the metric unit; not finite: empty. */
enum { PAGE_THREE_DIGITS = -100 }; /* for decimals */
void page_quantity(page *p, xmlNodePtr parent, const char *name, double value, const char *unit, int decimals);
/* The same for one of several that share a unit: largest is their largest's size. */
void page_figure(page *p, xmlNodePtr parent, const char *name, double value, double largest, const char *unit, int decimals);
/* The same for a sentence. report: it stands in; NULL: in none. */
void page_sentence(page *p, xmlNodePtr parent, const char *name, const char *metric, const dd_report *report);
/* JSON for a script element: nothing in it can end the element. */
void page_json(page *p, xmlNodePtr parent, const char *name, const char *json);

/* A report in metric units. */
void page_report(page *p, xmlNodePtr parent, const dd_report *report);
/* Verdict, margins, events, figures, side views, what was assumed and not checked. */
void page_result(page *p, xmlNodePtr run, const dd_result *result);
/* The steps of the procedure with their figures. */
void page_steps(page *p, xmlNodePtr parent, const dd_case *scenario, const dd_result *result);
/* A picture of gnuplot's from the folder, made part of the document, and removed from the folder. */
dd_status page_picture(page *p, xmlNodePtr parent, const char *folder, const char *name, dd_error *error);
/* Reads the template NAME.xsl of the data folders, so that a faulty one is known before anything is computed. */
dd_status page_read_template(page *p, const char *name, dd_error *error);
void page_free_template(page *p);
/* Text of a file of the data folders ("tools/report/page.css"); NULL: not there, the error tells. free() it. */
char *page_data(const char *name, dd_error *error);
/* The document through its template: HTML, malloc'ed; NULL: the error tells. */
char *page_html(page *p, dd_error *error);
#endif
