/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/page.h"
#include "lib/base/numbers.h"
#include "lib/record/reporter.h"
#include "lib/record/text.h"
#include <ctype.h>
#include <libxml/chvalid.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { QUANTITY = 64, DIGITS = 3 };

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
    const bool fewest = decimals < 0;
    if (fewest) decimals = fabs(value) < 1e-9 ? 0 : DIGITS - 1 - (int)floor(log10(fabs(value)));
    decimals = decimals < 0 ? 0 : decimals > DIGITS ? DIGITS : decimals;
    if (fabs(value) < 0.5 * pow(10, -decimals)) value = 0.0; /* no "-0" */
    dd_text(text, QUANTITY, "%.*f", decimals, value);
    if (fewest && strchr(text, '.')) {
        size_t length = strlen(text);
        while (text[length - 1] == '0') length--;
        text[length - (text[length - 1] == '.')] = '\0';
    }
    const size_t length = strlen(text);
    dd_text(text + length, QUANTITY - length, "%s%s", *unit ? " " : "", unit);
}

void page_quantity(page *p, xmlNodePtr parent, const char *name, double value, const char *unit, int decimals)
{
    char metric[QUANTITY] = "", us[QUANTITY] = "";
    if (isfinite(value)) {
        int decimals_us = decimals;
        const char *unit_us = unit;
        const double converted = dd_reporter_in_us(unit, value, &unit_us, &decimals_us);
        number(value, decimals, unit, metric);
        number(converted, decimals < 0 ? decimals : decimals_us, unit_us, us);
    }
    xmlNodePtr node = pair(p, parent, name, metric, us);
    if (isfinite(value)) page_put(p, node, "value", "%.9g", value); /* the tool sets no locale */
}

/* A number and a unit that is known at the beginning of text: its length, the value and the unit; 0: there is none. */
static size_t find_quantity(const char *text, double *value, int *decimals, char unit[16])
{
    size_t length = (size_t)(text[0] == '-'), digits = 0;
    const char *point = NULL;
    for (; isdigit((unsigned char)text[length]) || (text[length] == '.' && !point && isdigit((unsigned char)text[length + 1])); length++)
        if (text[length] == '.')
            point = text + length;
        else
            digits++;
    if (digits == 0 || text[length] != ' ') return 0;
    size_t end = length + 1;
    while (isalpha((unsigned char)text[end]) || text[end] == '/' || (end > length + 1 && isdigit((unsigned char)text[end]))) end++;
    if ((text[end - 1] == 'N') && strncmp(text + end, " m", 2) == 0 && !isalnum((unsigned char)text[end + 2])) end += 2; /* a moment */
    if (end == length + 1 || end - length - 1 >= 16 || text[end] == '/') return 0;
    memcpy(unit, text + length + 1, end - length - 1);
    unit[end - length - 1] = '\0';
    *decimals = point ? (int)(text + length - point) - 1 : 0;
    *value = strtod(text, NULL); /* the program sets no locale */
    return end;
}

/* The sentence with its quantities in US units; NULL: out of memory. */
static char *in_us(const char *text)
{
    dd_string out = {0};
    char unit[16], shown[QUANTITY];
    bool inside = false; /* a number begins after a space or a bracket only */
    while (*text) {
        double value;
        int decimals;
        const size_t length = inside ? 0 : find_quantity(text, &value, &decimals, unit);
        const char *unit_us = unit;
        if (length > 0) {
            const double converted = dd_reporter_in_us(unit, value, &unit_us, &decimals);
            if (unit_us != unit) {
                number(converted, decimals, unit_us, shown);
                dd_string_add(&out, shown);
                text += length;
                inside = true;
                continue;
            }
        }
        inside = *text != ' ' && *text != '(';
        dd_string_add_bytes(&out, text++, 1);
    }
    return dd_string_take(&out);
}

void page_sentence(page *p, xmlNodePtr parent, const char *name, const char *metric, const char *us)
{
    char *converted = us ? NULL : in_us(metric);
    if (!us && !converted)
        p->failed = true;
    else
        pair(p, parent, name, metric, us ? us : converted);
    free(converted);
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
