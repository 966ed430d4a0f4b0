/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parts of the page's document, its pictures and its writing. */
#include "lib/base/error.h"
#include "lib/record/cautions.h"
#include "lib/record/fields.h"
#include "lib/record/text.h"
#include "tools/drawdock/child.h"
#include "tools/drawdock/handover.h"
#include "tools/drawdock/lists.h"
#include "tools/drawdock/output.h"
#include "tools/drawdock/plot.h"
#include <drawdock/version.h>
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

/* Draws one picture of the tables that stand in the folder. */
static dd_status draw(page *p, xmlNodePtr parent, result_folder *folder, const char *name, const char *title, bool *missing,
                      dd_error *error)
{
    const plot_outcome outcome = plot_draw(folder->staging, name, title, error);
    if (interrupted()) return dd_fail(error, DD_ERROR_CANCELLED, "pictures", "interrupted");
    if (outcome == PLOT_DRAWN) return page_picture(p, parent, folder->staging, name, error);
    if (outcome == PLOT_FAILED) return error->status;
    fprintf(stderr, "drawdock: no pictures: %s: %s; the page is written without them\n", error->place, error->message);
    *error = (dd_error){0};
    *missing = true;
    return DD_OK;
}

dd_status handover_draw_run(page *p, xmlNodePtr parent, result_folder *folder, const dd_result *result, bool *missing, dd_error *error)
{
    dd_string list = {0};
    if (*missing || result->row_count < 2) return DD_OK;
    dd_status status = output_result_tables(folder, ON(run), result, &list, error);
    free(dd_string_take(&list));
    for (int i = 0; i < plot_count && status == DD_OK && !*missing; i++)
        if ((plot_list[i].commands & ON(run)) && strcmp(plot_list[i].name, "side") != 0) /* the views are drawn by the template */
            status = draw(p, parent, folder, plot_list[i].name, result->title, missing, error);
    folder_empty(folder);
    return status;
}

dd_status handover_draw_report(page *p, xmlNodePtr parent, result_folder *folder, unsigned command, const dd_report *report, bool *missing,
                               dd_error *error)
{
    dd_string list = {0};
    if (*missing) return DD_OK;
    dd_status status = output_report_tables(folder, command, report, &list, error);
    free(dd_string_take(&list));
    for (int i = 0; i < plot_count && status == DD_OK && !*missing; i++)
        if ((plot_list[i].commands & command) && !output_report_is_empty(report, plot_list[i].name))
            status = draw(p, parent, folder, plot_list[i].name, report->title, missing, error);
    folder_empty(folder);
    return status;
}

/* What a shell would read otherwise stands in single quotes. */
static void add_word(dd_string *line, const char *before, const char *word)
{
    static const char plain[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_./=:@%+,-";
    dd_string_add(line, before);
    if (*word && strspn(word, plain) == strlen(word)) {
        dd_string_add(line, word);
        return;
    }
    dd_string_add(line, "'");
    for (const char *quote; (quote = strchr(word, '\'')); word = quote + 1) {
        dd_string_add_bytes(line, word, (size_t)(quote - word));
        dd_string_add(line, "'\\''");
    }
    dd_string_add(line, word);
    dd_string_add(line, "'");
}

/* Word by word as it was typed. */
static void add_command(page *p, const options *given)
{
    dd_string line = {0};
    dd_string_add(&line, "drawdock handover");
    const struct {
        const char *before, *text;
    } named[] = {{" --teach ", given->teach}, {" --date ", given->date}, {" --year ", given->year}, {" --units ", given->units}};
    for (int i = 0; i < given->operand_count; i++)
        add_word(&line, " ", given->operands[i]);
    for (int i = 0; i < given->with_count; i++)
        add_word(&line, " --with ", given->with[i]);
    for (size_t i = 0; i < sizeof named / sizeof named[0]; i++)
        if (named[i].text) add_word(&line, named[i].before, named[i].text);
    dd_string_add(&line, " -o DIR");
    char *text = dd_string_take(&line);
    page_text(p, p->root, "command", text ? text : "");
    free(text);
}

static dd_status add_file(page *p, const char *element, const char *name, dd_error *error)
{
    char *text = page_data(name, error);
    if (!text) return error->status;
    page_text(p, p->root, element, text);
    free(text);
    return DD_OK;
}

dd_status handover_begin(page *p, const char *template, const options *given, dd_error *error)
{
    static const char *const files[][2] = {{"style", "tools/report/page.css"}, {"style", "tools/report/player.css"},
                                           {"script", "tools/report/page.js"}, {"script", "tools/report/player.js"}};
    dd_status status = page_read_template(p, template, error);
    if (status != DD_OK) return status;
    if (!page_begin(p)) return dd_fail(error, DD_ERROR_MEMORY, "page", "no memory for the page");
    page_put(p, p->root, "version", "%s", dd_version());
    page_put(p, p->root, "units", "%s", units_of(given) == DD_REPORT_US ? "us" : "metric");
    if (given->no_plots) page_put(p, p->root, "pictures", "no");
    for (size_t i = 0; i < sizeof files / sizeof files[0] && status == DD_OK; i++) status = add_file(p, files[i][0], files[i][1], error);
    add_command(p, given);
    for (int i = 0; dd_caution_at(i); i++) {
        xmlNodePtr node = page_text(p, p->root, "caution", dd_caution_at(i)->text);
        page_put(p, node, "brief", "%s", dd_caution_at(i)->brief);
        page_put(p, node, "where", "%s%s", dd_caution_at(i)->where & DD_CAUTION_RAMP ? "ramp " : "", dd_caution_at(i)->where & DD_CAUTION_ROAD ? "road" : "");
    }
    return status;
}

/* Where to stand, as depth's table has it: the places with their figures. */
static void add_marks(page *p, xmlNodePtr node, const dd_report *report)
{
    for (int t = 0; t < report->table_count; t++) {
        const dd_report_table *table = &report->tables[t];
        if (strcmp(table->key, "band") != 0) continue;
        for (int r = 0; r < table->row_count; r++) {
            xmlNodePtr place = page_add(p, node, "place");
            for (int c = 0; c < table->column_count; c++) {
                const dd_report_cell *cell = &table->cells[r * table->column_count + c];
                if (cell->text) {
                    page_put(p, place, c == 0 ? "name" : "ends", "%s", cell->text);
                    continue;
                }
                page_quantity(p, place, table->columns[c].name, cell->value, table->columns[c].unit, table->columns[c].decimals);
            }
        }
    }
}

static void add_trailer(page *p, xmlNodePtr run, const dd_case *scenario)
{
    page_put(p, run, "ties", scenario->start.ties == DD_START_ON ? "on" : "off");
    bool uncoupled = false;
    for (int i = 0; i < scenario->step_count; i++) uncoupled = uncoupled || scenario->steps[i].kind == DD_STEP_UNCOUPLE;
    page_put(p, run, "uncoupled", uncoupled ? "yes" : "no");
}

xmlNodePtr handover_add_run(page *p, const handover_run *run, int number, dd_error *error)
{
    const dd_case *scenario = dd_case_of(run->file);
    xmlNodePtr node = page_add(p, p->root, "run");
    page_put(p, node, "number", "%d", number);
    page_put(p, node, "name", "%s", run->name);
    page_put(p, node, "file", "%s", run->path);
    page_put(p, node, "title", "%s", scenario->title);
    if (run->result) {
        page_put(p, node, "action", scenario->action == DD_ACTION_RETRIEVE ? "retrieve" : "launch");
        add_trailer(p, node, scenario);
        page_result(p, node, run->result);
        page_steps(p, page_add(p, node, "drill"), scenario, run->result);
        dd_result bare = *run->result;
        bare.row_count = 0; /* the histories are in the pictures and in the drawing */
        char *json = dd_result_json(&bare);
        if (json) page_json(p, node, "result", json);
        if (!json) p->failed = true;
        free(json);
        if (run->result->drawing) { /* a run has one */
            char *drawing = dd_result_drawing_json(run->result);
            if (drawing) page_json(p, node, "drawing", drawing);
            if (!drawing) p->failed = true;
            free(drawing);
        }
    } else
        page_text(p, node, "missing", run->why_no_run);
    if (run->reports[HANDOVER_DEPTH])
        add_marks(p, page_add(p, node, "marks"), run->reports[HANDOVER_DEPTH]);
    char *shown = dd_case_show(run->file, 0);
    if (shown) page_text(p, node, "input", shown);
    if (!shown || p->failed) dd_fail(error, DD_ERROR_MEMORY, run->path, "no memory for its part of the page");
    free(shown);
    return node;
}

static void add_string(dd_string *out, const char *text)
{
    json_t *value = json_string(text);
    char *quoted = value ? json_dumps(value, JSON_ENCODE_ANY) : NULL;
    dd_string_add(out, quoted ? quoted : "\"\"");
    free(quoted);
    json_decref(value);
}

static void add_taken(dd_string *out, char *json)
{
    if (!json) out->failed = true;
    dd_string_add(out, json ? json : "null");
    free(json);
}

char *handover_json(const handover_run *runs, int count, bool complete)
{
    dd_string out = {0};
    dd_string_add(&out, "{\"drawdock\": 1, \"version\": ");
    add_string(&out, dd_version());
    dd_string_add(&out, complete ? ", \"study\": \"handover\", \"complete\": true, \"runs\": [" : ", \"study\": \"handover\", \"complete\": false, \"runs\": [");
    for (int i = 0; i < count; i++) {
        dd_string_add(&out, i ? ",\n{\"name\": " : "\n{\"name\": ");
        add_string(&out, runs[i].name);
        if (runs[i].result) {
            dd_string_add(&out, ",\n\"run\": ");
            add_taken(&out, dd_result_json(runs[i].result));
        }
        for (int study = 0; study < HANDOVER_STUDIES; study++) {
            if (!runs[i].reports[study]) continue;
            dd_string_add(&out, ",\n\"");
            dd_string_add(&out, handover_studies[study]);
            dd_string_add(&out, "\": ");
            add_taken(&out, dd_report_json(runs[i].reports[study]));
        }
        dd_string_add(&out, "}");
    }
    dd_string_add(&out, "]}\n");
    return dd_string_take(&out);
}

/* A browser without a window prints the page; the first of these that is installed. */
static dd_status print_page(const options *given, const result_folder *folder, dd_error *error)
{
    static const char *const browsers[] = {"chromium", "chromium-browser", "chromium-headless-shell"};
    char line[256], out[] = "--print-to-pdf=handover.pdf", address[PATH_MAX + 48];
    snprintf(address, sizeof address, "file://%s/handover.html#paper=%s", folder->staging, units_of(given) == DD_REPORT_US ? "letter" : "A4");
    for (size_t i = 0; i < sizeof browsers / sizeof browsers[0]; i++) {
        char *arguments[] = {(char *)browsers[i], "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", out, address, NULL};
        const child_outcome outcome = child_run(folder->staging, arguments, line, sizeof line);
        if (outcome == CHILD_GOOD) return DD_OK;
        if (outcome == CHILD_FAILED) return dd_fail(error, DD_ERROR_WRITE, "handover.pdf", "%s failed: %s", browsers[i], *line ? line : "it gives no reason");
    }
    fputs("drawdock: no PDF: no browser (chromium) is in PATH; print handover.html from any other\n", stderr);
    return DD_OK;
}

/* What is left out where a page would get too big to send, first to last. */
enum { MOST_BYTES = 1900000 };
static const char *const dispensable[] = {"supports", "alignment", "carried", "brake", "weigh", "seat", "wheels", "depth", "strap"};

static void drop_pictures(page *p, xmlNodePtr parent, const char *name)
{
    for (xmlNodePtr node = parent->children, next; node; node = next) {
        next = node->next;
        if (node->type != XML_ELEMENT_NODE) continue;
        xmlChar *own = xmlStrcmp(node->name, BAD_CAST "picture") == 0 ? xmlGetProp(node, BAD_CAST "name") : NULL;
        const bool drop = own && strcmp((const char *)own, name) == 0;
        xmlFree(own);
        if (drop) {
            page_put(p, p->root, "dropped", "yes");
            xmlUnlinkNode(node);
            xmlFreeNode(node);
        } else if (node->type == XML_ELEMENT_NODE)
            drop_pictures(p, node, name);
    }
}

static char *html_of(page *p, dd_error *error)
{
    char *html = page_html(p, error);
    for (size_t i = 0; html && strlen(html) > MOST_BYTES && i < sizeof dispensable / sizeof dispensable[0]; i++) {
        free(html);
        drop_pictures(p, p->root, dispensable[i]);
        html = page_html(p, error);
    }
    return html;
}

dd_status handover_write(const options *given, page *p, char *json, result_folder *folder, dd_error *error)
{
    char *html = html_of(p, error);
    dd_status status = html ? folder_write(folder, "handover.html", html, error) : error->status;
    free(html);
    if (status == DD_OK) status = folder_write(folder, "result.json", json, error);
    free(json);
    if (status == DD_OK && given->pdf) {
        status = print_page(given, folder, error);
        if (status == DD_OK && interrupted()) status = dd_fail(error, DD_ERROR_CANCELLED, "page", "interrupted");
    }
    return status == DD_OK ? folder_commit(folder, error) : status;
}
