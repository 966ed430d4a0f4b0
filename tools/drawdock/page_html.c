/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures into the document, the document through its template. Nothing is ever fetched: no network, no entity of a file. */
#include "lib/base/numbers.h"
#include "lib/record/text.h"
#include "tools/drawdock/command.h"
#include "tools/drawdock/page.h"
#include <ctype.h>
#include <errno.h>
#include <libxml/parser.h>
#include <libxml/xmlerror.h>
#include <libxslt/security.h>
#include <libxslt/transform.h>
#include <libxslt/xsltutils.h>
#include <limits.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { READ = XML_PARSE_NONET | XML_PARSE_NOBLANKS | XML_PARSE_NOERROR | XML_PARSE_NOWARNING };

static char *read_file(const char *path, const char *name, dd_error *error)
{
    dd_string text = {0};
    char part[16384];
    errno = 0;
    FILE *file = fopen(path, "r");
    if (!file) {
        dd_fail(error, DD_ERROR_NOT_FOUND, name, "it cannot be read: %s", strerror(errno));
        return NULL;
    }
    for (size_t count; (count = fread(part, 1, sizeof part, file)) > 0;) dd_string_add_bytes(&text, part, count);
    const bool failed = ferror(file) != 0;
    fclose(file);
    char *all = dd_string_take(&text);
    if (!all)
        dd_fail(error, DD_ERROR_MEMORY, name, "no memory for this file");
    else if (failed) {
        dd_fail(error, DD_ERROR_NOT_FOUND, name, "it cannot be read to its end");
        free(all);
        return NULL;
    }
    return all;
}

char *page_data(const char *name, dd_error *error)
{
    char path[PATH_MAX];
    if (data_find(name, path, sizeof path)) return read_file(path, name, error);
    dd_fail(error, DD_ERROR_NOT_FOUND, name, "it is in none of the data folders");
    dd_fail_remedy(error, DD_ERROR_NOT_FOUND, "install drawdock whole, or set DRAWDOCK_DATA to the folder that holds tools/report");
    return NULL;
}

/* Coordinates to a tenth of a pixel, separators single: a third less to carry. */
static void shorten(char *text)
{
    char *to = text;
    bool space = false;
    for (const char *at = text; *at;) {
        if (isspace((unsigned char)*at)) {
            space = to != text;
            at++;
            continue;
        }
        if (space) *to++ = ' ';
        space = false;
        size_t length = strspn(at, "-0123456789");
        if (length == 0 || at[length] != '.') {
            *to++ = *at++;
            continue;
        }
        char number[32];
        length += 1 + strspn(at + length + 1, "0123456789");
        dd_text(number, sizeof number, "%.1f", strtod(at, NULL));
        if (length >= sizeof number || strlen(number) > length) {
            memmove(to, at, length);
            to += length;
        } else {
            size_t end = strlen(number);
            if (strcmp(number + end - 2, ".0") == 0) end -= 2;
            memcpy(to, number, end);
            to += end;
        }
        at += length;
    }
    *to = '\0';
}

static void shorten_all(xmlNodePtr node, page *p)
{
    static const char *const names[] = {"d", "points"};
    for (; node; node = node->next) {
        for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
            xmlChar *text = node->type == XML_ELEMENT_NODE ? xmlGetNoNsProp(node, BAD_CAST names[i]) : NULL;
            if (!text) continue;
            shorten((char *)text);
            if (!xmlSetProp(node, BAD_CAST names[i], text)) p->failed = true;
            xmlFree(text);
        }
        shorten_all(node->children, p);
    }
}

dd_status page_picture(page *p, xmlNodePtr parent, const char *folder, const char *name, dd_error *error)
{
    char path[PATH_MAX];
    if (snprintf(path, sizeof path, "%s/%s.svg", folder, name) >= (int)sizeof path)
        return dd_fail(error, DD_ERROR_WRITE, name, "the path is too long");
    xmlDocPtr picture = xmlReadFile(path, NULL, READ);
    if (!picture) return dd_fail(error, DD_ERROR_WRITE, name, "gnuplot's picture cannot be read");
    unlink(path);
    xmlNodePtr node = page_add(p, parent, "picture");
    page_put(p, node, "name", "%s", name);
    xmlNodePtr copy = node ? xmlDocCopyNode(xmlDocGetRootElement(picture), p->document, 1) : NULL;
    if (!copy || !xmlAddChild(node, copy)) p->failed = true;
    if (copy) shorten_all(copy->children, p);
    xmlFreeDoc(picture);
    return p->failed ? dd_fail(error, DD_ERROR_MEMORY, name, "no memory for this picture") : DD_OK;
}

/* What libxml2 and libxslt have to say goes into the error, not to stderr. */
static void keep_first(void *context, const char *format, ...)
{
    char *line = context;
    va_list arguments;
    if (*line) return;
    va_start(arguments, format);
    vsnprintf(line, 200, format, arguments);
    va_end(arguments);
    line[strcspn(line, "\n")] = '\0';
}

struct page_template {
    char name[64]; /* "tools/report/handover.xsl" */
    xsltStylesheetPtr sheet;
};

void page_free_template(page *p)
{
    if (!p->template) return;
    if (p->template->sheet) xsltFreeStylesheet(p->template->sheet);
    free(p->template);
    p->template = NULL;
}

static void listen(char *line)
{
    xmlSetGenericErrorFunc(line, line ? keep_first : NULL);
    xsltSetGenericErrorFunc(line, line ? keep_first : NULL);
}

static dd_status template_fault(const char *name, const char *line, dd_error *error)
{
    dd_fail(error, DD_ERROR_WRITE, name, "no page comes out of the template: %s", *line ? line : "it gives no reason");
    return dd_fail_remedy(error, DD_ERROR_WRITE, "see %s", name);
}

dd_status page_read_template(page *p, const char *name, dd_error *error)
{
    char path[PATH_MAX], line[200] = "";
    p->template = calloc(1, sizeof *p->template);
    if (!p->template) return dd_fail(error, DD_ERROR_MEMORY, name, "no memory for the template");
    snprintf(p->template->name, sizeof p->template->name, "tools/report/%s.xsl", name);
    if (!data_find(p->template->name, path, sizeof path)) {
        dd_fail(error, DD_ERROR_NOT_FOUND, p->template->name, "the template is in none of the data folders");
        return dd_fail_remedy(error, DD_ERROR_NOT_FOUND, "install drawdock whole, or set DRAWDOCK_DATA to the folder that holds tools/report");
    }
    listen(line);
    p->template->sheet = xsltParseStylesheetFile(BAD_CAST path);
    listen(NULL);
    return p->template->sheet && p->template->sheet->errors == 0 ? DD_OK : template_fault(p->template->name, line, error);
}

/* The text with the line that makes it HTML before it. */
static char *with_doctype(const xmlChar *bytes, int length)
{
    static const char doctype[] = "<!DOCTYPE html>\n";
    char *html = malloc(sizeof doctype + (size_t)length);
    if (!html) return NULL;
    memcpy(html, doctype, sizeof doctype - 1);
    memcpy(html + sizeof doctype - 1, bytes, (size_t)length + 1);
    return html;
}

static char *transform(page *p)
{
    char *html = NULL;
    xsltStylesheetPtr sheet = p->template->sheet;
    xsltTransformContextPtr context = xsltNewTransformContext(sheet, p->document);
    xsltSecurityPrefsPtr security = xsltNewSecurityPrefs();
    xmlDocPtr result = NULL;
    if (context && security && xsltSetSecurityPrefs(security, XSLT_SECPREF_READ_NETWORK, xsltSecurityForbid) == 0 &&
        xsltSetSecurityPrefs(security, XSLT_SECPREF_WRITE_FILE, xsltSecurityForbid) == 0 && xsltSetCtxtSecurityPrefs(security, context) == 0)
        result = xsltApplyStylesheetUser(sheet, p->document, NULL, NULL, NULL, context);
    xmlChar *bytes = NULL;
    int length = 0;
    if (result && context->state == XSLT_STATE_OK && xsltSaveResultToString(&bytes, &length, result, sheet) == 0 && bytes)
        html = with_doctype(bytes, length);
    if (bytes) xmlFree(bytes);
    if (result) xmlFreeDoc(result);
    if (context) xsltFreeTransformContext(context);
    if (security) xsltFreeSecurityPrefs(security);
    return html;
}

char *page_html(page *p, dd_error *error)
{
    char line[200] = "";
    if (p->failed) {
        dd_fail(error, DD_ERROR_MEMORY, "page", "no memory for the page");
        return NULL;
    }
    listen(line);
    char *html = transform(p);
    listen(NULL);
    if (!html) template_fault(p->template->name, line, error);
    return html;
}
