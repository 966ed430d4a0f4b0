/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/page.h"
#include "lib/base/numbers.h"
#include "lib/record/text.h"
#include "lib/record/us_units.h"
#include <libxml/chvalid.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { QUANTITY = DD_US_NUMBER + 16, DIGITS = 3 };

bool page_begin(page *p)
{
    p->document = xmlNewDoc(BAD_CAST "1.0");
    p->root = p->document ? xmlNewDocNode(p->document, NULL, BAD_CAST "page", NULL) : NULL;
    if (p->root) xmlDocSetRootElement(p->document, p->root);
    p->failed = p->root == NULL;
    return !p->failed;
}

void page_end(page *p)
{
    if (p->document) xmlFreeDoc(p->document);
    page_free_template(p);
    *p = (page){.document = NULL};
}

xmlNodePtr page_add(page *p, xmlNodePtr parent, const char *name)
{
    xmlNodePtr node = p->failed || !parent ? NULL : xmlNewChild(parent, NULL, BAD_CAST name, NULL);
    if (!node) p->failed = true;
    return node;
}

/* XML knows no control characters, and bytes that are no UTF-8 would end the document early. */
static char *clean(const char *text)
{
    char *copy = strdup(text);
    if (!copy) return NULL;
    for (unsigned char *at = (unsigned char *)copy; *at;) {
        int length = 4, character = xmlGetUTF8Char(at, &length);
        const bool good = character >= 0 && length > 0 && xmlIsCharQ((unsigned)character);
        if (!good) *at = ' ';
        at += good ? length : 1;
    }
    return copy;
}

static void put_text(page *p, xmlNodePtr node, const char *text)
{
    char *copy = p->failed || !node ? NULL : clean(text);
    xmlNodePtr child = copy ? xmlNewDocText(p->document, BAD_CAST copy) : NULL;
    if (!child || !xmlAddChild(node, child)) p->failed = true;
    free(copy);
}

void page_put(page *p, xmlNodePtr node, const char *name, const char *format, ...)
{
    char text[512];
    va_list arguments;
    va_start(arguments, format);
    const int length = vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    if (length >= (int)sizeof text) dd_text_end(text);
    char *copy = p->failed || !node ? NULL : clean(text);
    if (!copy || !xmlSetProp(node, BAD_CAST name, BAD_CAST copy)) p->failed = true;
    free(copy);
}

xmlNodePtr page_text(page *p, xmlNodePtr parent, const char *name, const char *text)
{
    xmlNodePtr node = page_add(p, parent, name);
    put_text(p, node, text);
    return node;
}

static xmlNodePtr pair(page *p, xmlNodePtr parent, const char *name, const char *metric, const char *us)
{
    if (strcmp(metric, us) == 0) return page_text(p, parent, name, metric);
    xmlNodePtr node = page_add(p, parent, name);
    page_text(p, node, "metric", metric);
    page_text(p, node, "us", us);
    return node;
}

static void number(double value, int decimals, const char *unit, char text[QUANTITY])
{
    const bool fewest = decimals == PAGE_THREE_DIGITS;
    if (fewest) {
        decimals = fabs(value) < 1e-9 ? 0 : DIGITS - 1 - (int)floor(log10(fabs(value)));
        decimals = decimals < 0 ? 0 : decimals > DIGITS ? DIGITS : decimals;
    }
    dd_us_number(value, decimals, text);
    if (fewest && strchr(text, '.')) {
        size_t length = strlen(text);
        while (text[length - 1] == '0') length--;
        text[length - (text[length - 1] == '.')] = '\0';
    }
    const size_t length = strlen(text);
    dd_text(text + length, QUANTITY - length, "%s%s", *unit ? " " : "", unit);
}

void page_figure(page *p, xmlNodePtr parent, const char *name, double value, double largest, const char *unit, int decimals)
{
    char metric[QUANTITY] = "", us[QUANTITY] = "";
    if (isfinite(value)) {
        int decimals_us = decimals;
        const char *unit_us = unit;
        const double converted = dd_us_value(unit, largest, value, &unit_us, &decimals_us);
        number(value, decimals, unit, metric);
        number(converted, decimals == PAGE_THREE_DIGITS ? decimals : decimals_us, unit_us, us);
    }
    xmlNodePtr node = pair(p, parent, name, metric, us);
    if (isfinite(value)) page_put(p, node, "value", "%.9g", value); /* the tool sets no locale */
}

void page_quantity(page *p, xmlNodePtr parent, const char *name, double value, const char *unit, int decimals)
{
    page_figure(p, parent, name, value, value, unit, decimals);
}

void page_sentence(page *p, xmlNodePtr parent, const char *name, const char *metric, const dd_report *report)
{
    char *us = dd_us_sentence(metric, report);
    if (us)
        pair(p, parent, name, metric, us);
    else
        p->failed = true;
    free(us);
}

void page_json(page *p, xmlNodePtr parent, const char *name, const char *json)
{
    dd_string out = {0};
    for (const char *at = json; *at;) {
        const size_t span = strcspn(at, "<");
        dd_string_add_bytes(&out, at, span);
        at += span;
        if (*at == '<') {
            dd_string_add(&out, "\\u003c");
            at++;
        }
    }
    char *text = dd_string_take(&out);
    if (text)
        page_text(p, parent, name, text);
    else
        p->failed = true;
    free(text);
}
