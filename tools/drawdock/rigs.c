/* SPDX-License-Identifier: GPL-3.0-or-later */
/* weigh, seat and depth: one rig's report, or several side by side. */
#include "lib/base/error.h"
#include "lib/record/text.h"
#include "lib/record/us_units.h"
#include "tools/drawdock/command.h"
#include "tools/drawdock/output.h"
#include "tools/drawdock/report.h"
#include "tools/drawdock/zone.h"
#include <drawdock/study.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_RIGS = 8 };

static const struct {
    unsigned commands;
    const char *name, *key;
} tables[] = {
#define DRAWDOCK_TABLE(commands, name, key, help) {commands, name, key},
#include "tools/drawdock/files.def"
#undef DRAWDOCK_TABLE
};

dd_status output_report_tables(result_folder *folder, unsigned command, const dd_report *report, dd_string *list, dd_error *error)
{
    dd_status status = DD_OK;
    for (size_t i = 0; i < sizeof tables / sizeof tables[0] && status == DD_OK; i++) {
        if (!(tables[i].commands & command)) continue;
        bool there = tables[i].key == NULL || strcmp(tables[i].key, "checks") == 0;
        for (int t = 0; t < report->table_count && !there; t++)
            there = strcmp(report->tables[t].key, tables[i].key) == 0 && report->tables[t].row_count > 0;
        if (!there) continue;
        char *text = tables[i].key ? dd_report_csv(report, tables[i].key) : dd_report_json(report);
        status = folder_write(folder, tables[i].name, text, error);
        free(text);
        output_list(list, tables[i].name, "");
    }
    return status;
}

bool output_report_is_empty(const void *report, const char *name)
{
    /* Pictures of one of a command's reports, by the table that they draw. */
    static const struct {
        const char *picture, *table;
    } drawn[] = {{"depth", "side"}, {"tide", "tide_curve"}, {"day", "course"}, {"year", "days"}, {"fleet", "shares"}, {"reach", "ground"}};
    const dd_report *r = report;
    for (size_t i = 0; i < sizeof drawn / sizeof drawn[0]; i++) {
        if (strcmp(name, drawn[i].picture) != 0) continue;
        for (int t = 0; t < r->table_count; t++)
            if (strcmp(r->tables[t].key, drawn[i].table) == 0 && r->tables[t].row_count > 0) return false;
        return true;
    }
    return r->check_count == 0;
}

static int tell(const options *given, const result_folder *folder, dd_report *report, const char *files)
{
    if (given->json) {
        const int printed = output_text(dd_report_json(report));
        if (printed != STATUS_WITHIN) return printed;
    } else if (!given->quiet) {
        if (units_of(given) == DD_REPORT_US && !dd_report_to_us(report)) return output_text(NULL);
        report_print(report, given->output ? folder->target : NULL, files, stdout);
        if (given->figures) report_print_tables(report, stdout);
    }
    return report->verdict == DD_VERDICT_BROKEN ? STATUS_LIMIT : STATUS_WITHIN;
}

int report_command(const options *given, dd_report *report, const char *name, const char *text)
{
    unsigned command = 1u << given->command;
    dd_error error = {0};
    dd_string list = {0};
    result_folder folder = {0};
    dd_status status = given->output ? folder_open(&folder, given->output, &error) : DD_OK;
    if (status == DD_OK && given->output) {
        status = output_report_tables(&folder, command, report, &list, &error);
        if (status == DD_OK && text) {
            status = folder_write(&folder, name, text, &error);
            output_list(&list, name, "");
        }
        if (status == DD_OK && !given->no_plots) status = output_plots(&folder, command, report->title, output_report_is_empty, report, &list, &error);
        if (status == DD_OK && interrupted()) status = dd_fail(&error, DD_ERROR_CANCELLED, "results", "interrupted");
        if (status == DD_OK) status = folder_commit(&folder, &error);
    }
    char *names = dd_string_take(&list);
    int exit_status = status == DD_OK ? tell(given, &folder, report, names ? names : "") : output_give_up(&error);
    free(names);
    folder_discard(&folder);
    return exit_status;
}

/* Name of a rig among others: its file's, without folders and ending, in words. */
static void name_of(const char *path, char *name, size_t size)
{
    const char *slash = strrchr(path, '/');
    snprintf(name, size, "%s", slash ? slash + 1 : path);
    char *dot = strrchr(name, '.');
    if (dot && dot != name) *dot = '\0';
    for (char *c = name; *c; c++)
        if (*c == '-' || *c == '_') *c = ' ';
}

/* One report, or several side by side. */
static int study_rigs(const options *given, dd_status (*study)(const dd_case *, dd_report **, dd_error *))
{
    dd_report *reports[MOST_RIGS] = {NULL}, *together = NULL;
    char names[MOST_RIGS][48];
    const char *listed[MOST_RIGS];
    dd_error error = {0};
    int count = 0, exit_status = STATUS_WITHIN;
    for (; count < given->operand_count && exit_status == STATUS_WITHIN; count++) {
        dd_case_file *file = read_scenario(given, given->operands[count], &exit_status);
        if (!file) break;
        dd_case *scenario = copy_scenario(given, file);
        if (!scenario)
            exit_status = STATUS_NOT_DONE;
        else if (study(scenario, &reports[count], &error) != DD_OK)
            exit_status = output_give_up(&error);
        free(scenario);
        name_of(given->operands[count], names[count], sizeof names[count]);
        listed[count] = names[count];
        dd_case_free(file);
    }
    if (exit_status == STATUS_WITHIN && count == 1)
        exit_status = report_command(given, reports[0], NULL, NULL);
    else if (exit_status == STATUS_WITHIN) {
        if (dd_report_compare((const dd_report *const *)reports, listed, count, &together, &error) == DD_OK)
            exit_status = report_command(given, together, NULL, NULL);
        else
            exit_status = output_give_up(&error);
    }
    dd_report_free(together);
    for (int i = 0; i < MOST_RIGS; i++) dd_report_free(reports[i]);
    return exit_status;
}

int command_weigh(const options *given) { return given->trailers ? which_trailer(given) : study_rigs(given, dd_study_weigh); }

int command_brake(const options *given) { return study_rigs(given, dd_study_brake); }

int command_seat(const options *given) { return given->adjust ? adjust_rig(given) : study_rigs(given, dd_study_seat); }

/* Bands against level and slope take their time: only for who reads them. */
enum { LEVELS = 7 };
static int levels_wanted;
static dd_status ramp_depth(const dd_case *scenario, dd_report **report, dd_error *error)
{
    local_zone place;
    dd_status status = zone_of(scenario, &place, error);
    if (status == DD_OK) status = dd_study_ramp_depth(scenario, levels_wanted, &place.clock, report, error);
    return status;
}

int command_depth(const options *given)
{
    if (given->date || given->year) return ramp_windows(given);
    if (given->launch_at || given->back_at) {
        fputs("drawdock: --launch-at and --back-at need the day: --date 2026-07-14, or today; see drawdock depth --help\n", stderr);
        return STATUS_INPUT;
    }
    levels_wanted = given->output || given->figures || given->json ? LEVELS : 0;
    return study_rigs(given, ramp_depth);
}
