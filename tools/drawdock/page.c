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

/* Length of a number at the beginning of text, its value and digits behind the point; 0: there is none. */
static size_t find_number(const char *text, double *value, int *decimals)
{
    size_t length = (size_t)(text[0] == '-'), digits = 0, point = 0;
    for (; isdigit((unsigned char)text[length]) || (text[length] == '.' && !point && isdigit((unsigned char)text[length + 1])); length++)
        if (text[length] == '.')
            point = length;
        else
            digits++;
    if (digits == 0) return 0;
    *decimals = point ? (int)(length - point) - 1 : 0;
    *value = strtod(text, NULL); /* the tool sets no locale */
    return length;
}

/* Length of a space and a word that may be a unit; 0: there is none. */
static size_t find_unit(const char *text, char unit[16])
{
    size_t end = 1;
    if (text[0] != ' ') return 0;
    while (isalpha((unsigned char)text[end]) || (end > 1 && (isdigit((unsigned char)text[end]) || (text[end] == '/' && isalpha((unsigned char)text[end + 1]))))) end++;
    if (text[end - 1] == 'N' && strncmp(text + end, " m", 2) == 0 && !isalnum((unsigned char)text[end + 2])) end += 2; /* a moment */
    if (end == 1 || end > 16 || text[end] == '/') return 0;
    memcpy(unit, text + 1, end - 1);
    unit[end - 1] = '\0';
    return end;
}

/* The number in US units, with or without its unit; false: they have none for it. */
static bool add_converted(dd_string *out, double value, int decimals, const char *unit, bool with_unit)
{
    char shown[QUANTITY];
    const char *unit_us = unit;
    const double converted = dd_reporter_in_us(unit, value, &unit_us, &decimals);
    if (unit_us == unit) return false;
    number(converted, decimals, with_unit ? unit_us : "", shown);
    dd_string_add(out, shown);
    return true;
}

/* "456 mm", "11.0 to 16.3 m", or, behind a quantity and in brackets, "(342 to 592)": its length when it was converted. last: unit of the
   quantity before. */
static size_t convert(dd_string *out, const char *text, char last[16])
{
    static const char to[] = " to ";
    double value, second;
    int decimals, decimals_second;
    char unit[16];
    const size_t length = find_number(text, &value, &decimals), of_unit = length ? find_unit(text + length, unit) : 0;
    if (length == 0) return 0;
    if (of_unit > 0 && add_converted(out, value, decimals, unit, true)) {
        memcpy(last, unit, sizeof unit);
        return length + of_unit;
    }
    if (strncmp(text + length, to, 4) != 0) return 0;
    const size_t length_second = find_number(text + length + 4, &second, &decimals_second), end = length + 4 + length_second;
    if (length_second == 0) return 0;
    const size_t unit_second = find_unit(text + end, unit);
    const bool bare = unit_second == 0 && text[end] == ')' && *last;
    if (bare) memcpy(unit, last, sizeof unit);
    if ((unit_second == 0 && !bare) || !add_converted(out, value, decimals, unit, false)) return 0;
    dd_string_add(out, to);
    add_converted(out, second, decimals_second, unit, !bare);
    return end + unit_second;
}

/* The sentence with its quantities in US units; NULL: out of memory. */
static char *in_us(const char *text)
{
    dd_string out = {0};
    char last[16] = "";
    bool inside = false; /* a number begins after a space or a bracket only */
    while (*text) {
        const size_t length = inside ? 0 : convert(&out, text, last);
        if (length > 0) {
            text += length;
            inside = true;
            continue;
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
