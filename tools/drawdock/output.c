/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/output.h"
#include "lib/base/error.h"
#include "tools/drawdock/lists.h"
#include "tools/drawdock/plot.h"
#include <stdlib.h>

void output_list(dd_string *list, const char *name, const char *ending)
{
    if (list->length) dd_string_add(list, " ");
    dd_string_add(list, name);
    dd_string_add(list, ending);
}

dd_status output_plots(result_folder *folder, unsigned command, const char *title, bool (*is_empty)(const void *result, const char *name),
                       const void *result, dd_string *list, dd_error *error)
{
    char picture[64];
    for (int i = 0; i < plot_count; i++) {
        if (!(plot_list[i].commands & command) || is_empty(result, plot_list[i].name)) continue;
        plot_outcome outcome = plot_draw(folder->staging, plot_list[i].name, title, error);
        if (interrupted()) return dd_fail(error, DD_ERROR_CANCELLED, "plots", "interrupted");
        if (outcome == PLOT_MISSING) {
            fprintf(stderr, "drawdock: no plots: %s: %s; the data are written\n", error->place, error->message);
            *error = (dd_error){0};
            return DD_OK;
        }
        if (outcome == PLOT_FAILED) return error->status;
        snprintf(picture, sizeof picture, "%s.svg", plot_list[i].name);
        dd_status status = folder_keep(folder, picture, "</svg>\n\n", error);
        if (status != DD_OK) return status;
        output_list(list, plot_list[i].name, ".svg");
    }
    return DD_OK;
}

int output_status(const dd_result *result)
{
    switch (result->verdict) {
    case DD_VERDICT_WITHIN:
        return STATUS_WITHIN;
    case DD_VERDICT_BROKEN:
    case DD_VERDICT_FAILED:
        return STATUS_LIMIT;
    default:
        return STATUS_NOT_DONE;
    }
}

int output_text(char *text)
{
    if (!text) {
        fputs("drawdock: out of memory\n", stderr);
        return STATUS_NOT_DONE;
    }
    fputs(text, stdout);
    free(text);
    return STATUS_WITHIN;
}

int output_give_up(const dd_error *error)
{
    if (error->status == DD_ERROR_CANCELLED)
        fputs("drawdock: interrupted; nothing was written\n", stderr);
    else
        tell_error(error);
    return dd_status_exit(error->status);
}
