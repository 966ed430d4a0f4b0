/* SPDX-License-Identifier: GPL-3.0-or-later */
/* run and settle: read, compute, write the folder, print the verdict. */
#include "lib/base/error.h"
#include "lib/record/text.h"
#include "lib/record/us_units.h"
#include "tools/drawdock/command.h"
#include "tools/drawdock/output.h"
#include <drawdock/study.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    unsigned commands;
    const char *name;
    char *(*writer)(const dd_result *);
} files[] = {
#define DRAWDOCK_FILE(commands, name, writer, help) {commands, name, writer},
#include "tools/drawdock/files.def"
#undef DRAWDOCK_FILE
};

/* Tables that have nothing in them are not written, and their pictures not drawn. */
static bool is_empty(const void *of, const char *name)
{
    const dd_result *result = of;
    if (strncmp(name, "side", 4) == 0) return result->shape_count == 0;
    if (strncmp(name, "bands", 5) == 0) return result->band_count == 0;
    return strchr(name, '.') == NULL && result->row_count < 2; /* a curve needs two points */
}

dd_status output_result_tables(result_folder *folder, unsigned command, const dd_result *result, dd_string *list, dd_error *error)
{
    dd_status status = DD_OK;
    for (size_t i = 0; i < sizeof files / sizeof files[0] && status == DD_OK; i++) {
        if (!(files[i].commands & command) || is_empty(result, files[i].name)) continue;
        char *text = files[i].writer(result);
        status = folder_write(folder, files[i].name, text, error);
        free(text);
        output_list(list, files[i].name, "");
    }
    return status;
}

static dd_status draw_plots(result_folder *folder, unsigned command, const dd_result *result, dd_string *list, dd_error *error)
{
    char title[256];
    snprintf(title, sizeof title, "%s%s", result->title, result->verdict == DD_VERDICT_INCOMPLETE ? " (incomplete)" : "");
    return output_plots(folder, command, title, is_empty, result, list, error);
}

static dd_status write_folder(const options *given, result_folder *folder, const dd_result *result, dd_string *list,
                              dd_error *error)
{
    unsigned command = 1u << given->command;
    dd_status status = DD_OK;
    if (result->verdict == DD_VERDICT_INCOMPLETE && folder->holds_complete) {
        status = folder_rename(folder, ".incomplete", error);
        if (status == DD_OK)
            fprintf(stderr, "drawdock: %s holds a complete result and is left alone; what was computed is in %s\n",
                    given->output, folder->target);
    }
    if (status == DD_OK) status = output_result_tables(folder, command, result, list, error);
    if (status == DD_OK && !given->no_plots) status = draw_plots(folder, command, result, list, error);
    if (status == DD_OK && interrupted()) status = dd_fail(error, DD_ERROR_CANCELLED, "results", "interrupted");
    if (status == DD_OK) status = folder_commit(folder, error);
    return status;
}

/* Results are on the disk, or none were wanted: tell. */
static int tell(const options *given, const result_folder *folder, dd_result *result, const char *list)
{
    if (given->json) {
        const int printed = output_text(dd_result_json(result));
        if (printed != STATUS_WITHIN) return printed;
    } else if (!given->quiet) {
        if (units_of(given) == DD_REPORT_US && !dd_result_to_us(result)) return output_text(NULL);
        screen_print(result, units_of(given), given->output ? folder->target : NULL, list, stdout);
        if (given->figures) figures_print(result, stdout);
    }
    if (result->verdict == DD_VERDICT_INCOMPLETE) tell_error(&result->failure);
    return output_status(result);
}

static int compute_and_write(const options *given, study_function *study, const dd_case *scenario, result_folder *folder)
{
    dd_error error = {0};
    dd_result *result = NULL;
    progress bar;
    progress_begin(&bar, !given->quiet);
    dd_status status = given->bands ? dd_study_bands(scenario, study, progress_step, &bar, &result, &error)
                                    : study(scenario, progress_step, &bar, &result, &error);
    progress_end(&bar);
    if (status == DD_ERROR_CANCELLED || interrupted()) {
        dd_result_free(result);
        error.status = DD_ERROR_CANCELLED;
        return output_give_up(&error);
    }
    if (!result) {
        if (error.status == DD_OK) error.status = status;
        return output_give_up(&error);
    }
    dd_string list = {0};
    int exit_status;
    status = given->output ? write_folder(given, folder, result, &list, &error) : DD_OK;
    char *names = dd_string_take(&list);
    exit_status = status == DD_OK ? tell(given, folder, result, names ? names : "") : output_give_up(&error);
    free(names);
    dd_result_free(result);
    return exit_status;
}

int study_command(const options *given, study_function *study)
{
    int exit_status;
    dd_error error = {0};
    dd_case_file *file = read_scenario(given, given->operands[0], &exit_status);
    if (!file) return exit_status;
    dd_case *scenario = malloc(sizeof *scenario);
    result_folder folder = {0};
    if (!scenario) {
        dd_fail(&error, DD_ERROR_MEMORY, given->operands[0], "no memory for the scenario");
        exit_status = output_give_up(&error);
    } else if (given->output && folder_open(&folder, given->output, &error) != DD_OK) {
        exit_status = output_give_up(&error);
    } else {
        *scenario = *dd_case_of(file);
        if (given->fine) scenario->tolerance = DD_TOLERANCE_FINE;
        exit_status = compute_and_write(given, study, scenario, &folder);
    }
    folder_discard(&folder);
    free(scenario);
    dd_case_free(file);
    return exit_status;
}
