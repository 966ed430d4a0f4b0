/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a scenario and telling what is wrong with it. */
#include "tools/drawdock/command.h"
#include <limits.h>
#include <stdlib.h>
#include <string.h>

void tell_error(const dd_error *error)
{
    fprintf(stderr, "%s%s%s\n", *error->place ? error->place : "drawdock", ": ",
            *error->message ? error->message : dd_status_text(error->status));
    if (*error->remedy) fprintf(stderr, "  to mend it: %s\n", error->remedy);
}

/* In a list only a remedy of its own is worth a line; the usual one stands at the end, once. */
static void print_list(const dd_error_list *list)
{
    for (int i = 0; i < list->count; i++) {
        dd_error error = list->errors[i];
        if (strcmp(error.remedy, dd_status_remedy(error.status)) == 0) error.remedy[0] = '\0';
        tell_error(&error);
    }
    fprintf(stderr, "drawdock: %d %s; nothing was computed or written\n", list->count, list->count == 1 ? "error" : "errors");
}

/* Folders in which named files are looked up after the scenario's own. */
enum { SEARCH_FOLDERS = 33 };

static void fill_search(char (*room)[PATH_MAX], const char **search, bool from_stream)
{
    int count = 0;
    char folder[PATH_MAX];
    if (from_stream) {
        strcpy(room[count], ".");
        search[count] = room[count];
        count++;
    }
    for (int i = 0; count < SEARCH_FOLDERS && data_folder(i, folder, sizeof folder - sizeof "/scenarios"); i++) {
        snprintf(room[count], PATH_MAX, "%.*s/scenarios", (int)(PATH_MAX - sizeof "/scenarios"), folder);
        search[count] = room[count];
        count++;
    }
    search[count] = NULL;
}

dd_case_file *read_scenario(const options *given, const char *path, int *status)
{
    const char *search[SEARCH_FOLDERS + 1];
    char(*room)[PATH_MAX] = calloc(SEARCH_FOLDERS, sizeof *room);
    dd_case_file *file = NULL;
    dd_error_list list = {0};
    *status = STATUS_NOT_DONE;
    if (!room) {
        fputs("drawdock: out of memory\n", stderr);
        return NULL;
    }
    bool from_stream = strcmp(path, "-") == 0;
    fill_search(room, search, from_stream);
    dd_status found = dd_case_read(from_stream ? "/dev/stdin" : path, given->with, search, &file, &list);
    *status = dd_status_exit(found);
    if (found != DD_OK) {
        print_list(&list);
        dd_case_free(file);
        file = NULL;
    }
    dd_error_list_free(&list);
    free(room);
    return file;
}

int units_of(const options *given) { return given->units && strcmp(given->units, "us") == 0 ? DD_REPORT_US : DD_REPORT_METRIC; }

dd_case *copy_scenario(const options *given, const dd_case_file *file)
{
    dd_case *scenario = malloc(sizeof *scenario);
    if (!scenario) {
        fputs("drawdock: out of memory\n", stderr);
        return NULL;
    }
    *scenario = *dd_case_of(file);
    if (given->units) scenario->rules.units = DD_REPORT_METRIC;
    return scenario;
}
