/* SPDX-License-Identifier: GPL-3.0-or-later */
/* begin: asks a brochure's figures, sets a trailer up for the boat and writes a scenario folder that can be asked at once. */
#include "lib/base/error.h"
#include "lib/study/begin.h"
#include "tools/drawdock/command.h"
#include "tools/drawdock/output.h"
#include <ctype.h>
#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { LINE_ROOM = 256 };

/* Countries whose people measure in feet and pounds, by the locale that the user set for measures. */
static int us_by_locale(void)
{
    static const char *const names[] = {"LC_ALL", "LC_MEASUREMENT", "LANG"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const char *locale = getenv(names[i]);
        if (locale && *locale) return strstr(locale, "_US") != NULL;
    }
    return 0;
}

/* A folder that stands already may only be an empty one. */
static int check_empty(const char *path)
{
    DIR *directory = opendir(path);
    int count = 0;
    if (!directory) return STATUS_WITHIN; /* it is not there, or folder_open() says why not */
    for (struct dirent *entry; (entry = readdir(directory)) != NULL;)
        if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0) count++;
    closedir(directory);
    if (count == 0) return STATUS_WITHIN;
    fprintf(stderr, "%s: the folder is not empty, and begin never overwrites\n  to mend it: name a folder that does not exist yet\n", path);
    return STATUS_INPUT;
}

/* The value of --answer NAME=VALUE for a question; NULL: none. The last one counts. */
static const char *flag_for(const options *given, const char *name)
{
    const size_t length = strlen(name);
    const char *found = NULL;
    for (int i = 0; i < given->answer_count; i++)
        if (strncmp(given->answer[i], name, length) == 0 && given->answer[i][length] == '=') found = given->answer[i] + length + 1;
    return found;
}

static int check_flags(const options *given)
{
    for (int i = 0; i < given->answer_count; i++) {
        char name[64];
        snprintf(name, sizeof name, "%.*s", (int)strcspn(given->answer[i], "="), given->answer[i]);
        if (strchr(given->answer[i], '=') && dd_begin_find(name) >= 0) continue;
        fprintf(stderr, "drawdock: --answer: found '%s', expected NAME=VALUE with a name of these:", given->answer[i]);
        for (int j = 0; j < DD_BEGIN_COUNT; j++) fprintf(stderr, "%s %s", j ? "," : "", dd_begin_row_at(j)->name);
        fputc('\n', stderr);
        return STATUS_INPUT;
    }
    return STATUS_WITHIN;
}

static void explain(const dd_begin_row *row) { fprintf(stderr, "  %s.\n", row->help); }

static void prompt(const dd_begin *answers, int index)
{
    const dd_begin_row *row = dd_begin_row_at(index);
    char usual[DD_QUANTITY_TEXT];
    dd_begin_usual(answers, index, usual);
    fprintf(stderr, "%2d/%d %s", index + 1, DD_BEGIN_COUNT, row->question);
    if (row->choices) {
        fputs(": ", stderr);
        for (const char *c = row->choices; *c; c++) *c == '|' ? fputs(", ", stderr) : fputc(*c, stderr);
    }
    fprintf(stderr, "\n      [%s%s%s] > ", *usual ? usual : "not given", *row->source ? "; " : "", row->source);
    fflush(stderr);
}

/* A line without its end and the blanks around it; false: the input has ended, or was interrupted. */
static bool read_line(char line[LINE_ROOM], bool *whole)
{
    if (!interrupt_wait(STDIN_FILENO) || !fgets(line, LINE_ROOM, stdin)) return false;
    size_t length = strlen(line);
    *whole = length + 1 < LINE_ROOM || line[length - 1] == '\n';
    for (int c = *whole ? '\n' : getchar(); c != '\n' && c != EOF;) c = getchar();
    while (length > 0 && isspace((unsigned char)line[length - 1])) line[--length] = '\0';
    const size_t blanks = strspn(line, " \t");
    memmove(line, line + blanks, length - blanks + 1);
    return true;
}

/* Asks until the answer will do. On a terminal what will not do is explained and asked again; in a pipe it ends, so that the lines
   after it are not taken for something else. */
static int ask(dd_begin *answers, int index, bool terminal)
{
    char line[LINE_ROOM], message[512] = "";
    for (;;) {
        bool whole = true;
        if (terminal) prompt(answers, index);
        const bool came = read_line(line, &whole);
        if (interrupted()) {
            fputs(terminal ? "\ndrawdock: interrupted; nothing was written\n" : "drawdock: interrupted; nothing was written\n", stderr);
            return STATUS_INTERRUPTED;
        }
        if (!came) {
            fprintf(stderr, "%sdrawdock: the answers ended at '%s'; nothing was written\n  to mend it: answer every question, or take the usual answers with --usual\n",
                    terminal ? "\n" : "", dd_begin_row_at(index)->name);
            return STATUS_INPUT;
        }
        if (strcmp(line, "?") == 0) {
            explain(dd_begin_row_at(index));
            continue;
        }
        if (!whole) snprintf(message, sizeof message, "that line is too long");
        if (whole && dd_begin_answer(answers, index, line, message, sizeof message)) return STATUS_WITHIN;
        fprintf(stderr, "%s%s: %s%s\n", terminal ? "      " : "drawdock: ", dd_begin_row_at(index)->name, message, terminal ? "; ? explains" : "");
        if (!terminal) return STATUS_INPUT;
    }
}

static int ask_all(const options *given, dd_begin *answers)
{
    const bool terminal = isatty(STDIN_FILENO);
    bool asked = false;
    setvbuf(stdin, NULL, _IONBF, 0); /* nothing read ahead that interrupt_wait() would wait for */
    for (int i = 0; i < DD_BEGIN_COUNT; i++) {
        char message[512];
        const char *flag = flag_for(given, dd_begin_row_at(i)->name);
        if (!flag && !given->usual) {
            if (!asked && terminal) fputs("Enter takes the answer in brackets, ? explains, Ctrl-C leaves without writing.\n", stderr);
            asked = true;
            int status = ask(answers, i, terminal);
            if (status != STATUS_WITHIN) return status;
        } else if (!dd_begin_answer(answers, i, flag ? flag : "", message, sizeof message)) {
            fprintf(stderr, "drawdock: --answer %s: %s\n", dd_begin_row_at(i)->name, message);
            return STATUS_INPUT;
        }
    }
    return STATUS_WITHIN;
}

static dd_status write_files(result_folder *folder, const dd_begin *answers, const dd_begin_found *found, dd_error *error)
{
    dd_begin_file files[DD_BEGIN_FILES] = {{0}};
    dd_status status = dd_begin_files(answers, found, files, error);
    for (int i = 0; i < DD_BEGIN_FILES && status == DD_OK; i++) status = folder_write(folder, files[i].name, files[i].text, error);
    dd_begin_files_free(files);
    return status;
}

/* Reads a scenario that was just written. */
static dd_status read_back(const result_folder *folder, const char *name, dd_case_file **file, dd_error *error)
{
    char path[PATH_MAX + 32];
    dd_error_list list = {0};
    snprintf(path, sizeof path, "%s/%s", folder->staging, name);
    dd_status status = dd_case_read(path, NULL, NULL, file, &list);
    if (status != DD_OK && list.count > 0) *error = list.errors[0];
    dd_error_list_free(&list);
    return status;
}

/* Looks where the rig belongs. */
static dd_status find_depth(const result_folder *folder, const char *name, double *depth, double *room, bool *works, double *coupling_most, dd_error *error)
{
    dd_case_file *file = NULL;
    dd_status status = read_back(folder, name, &file, error);
    if (status == DD_OK) status = dd_begin_best_depth(dd_case_of(file), depth, room, works, coupling_most, error);
    dd_case_free(file);
    return status;
}

/* Sets the trailer up for the boat of what was written, and writes it again. */
static dd_status set_up(result_folder *folder, const dd_begin *answers, dd_begin_found *found, dd_error *error)
{
    dd_case_file *file = NULL;
    dd_status status = read_back(folder, "launch.yaml", &file, error);
    if (status == DD_OK) status = dd_begin_set_up(dd_case_of(file), answers, found, error);
    dd_case_free(file);
    folder_empty(folder);
    return status == DD_OK ? write_files(folder, answers, found, error) : status;
}

#define SHALLOWER 0.1 /* m: that boats are wound on than let off, in practice (launch deep, load shallow) */

static dd_status look_for_launch(result_folder *folder, dd_begin_found *found, dd_error *error)
{
    return find_depth(folder, "launch.yaml", &found->launch, &found->launch_room, &found->launch_works, &found->coupling_most, error);
}

/* Where to launch; where there is no place on this ramp, with the coupling that it asks for; then driven off instead of pushed, if that helps.
   Skids hold a boat that is not wholly afloat by their friction: from these she is driven off anyway. */
static dd_status find_launch(result_folder *folder, const dd_begin *answers, dd_begin_found *found, dd_error *error)
{
    dd_status status = look_for_launch(folder, found, error);
    for (int i = 0; i < 2 && status == DD_OK && !found->launch_works; i++) {
        dd_begin_found other = *found;
        other.driven |= i == 1;
        folder_empty(folder);
        status = write_files(folder, answers, &other, error);
        if (status == DD_OK) status = look_for_launch(folder, &other, error);
        if (status == DD_OK && other.launch_works) *found = other;
    }
    return status;
}

/* Where one way has no place on this ramp the other's is written, so that the run shows what stands in the way there, rather than where the
   water is out of reach. */
static void take_other(dd_begin_found *found)
{
    if (found->launch_works && !found->retrieve_works) found->retrieve = found->launch - SHALLOWER;
    if (found->retrieve_works && !found->launch_works) found->launch = found->retrieve + SHALLOWER, found->launch_room = 0;
}

static dd_status make_folder(result_folder *folder, const char *path, const dd_begin *answers, dd_begin_found *found, dd_error *error)
{
    *found = (dd_begin_found){.launch = 0.4, .retrieve = 0.4, .driven = answers->value[DD_BEGIN_KIND] == DD_BEGIN_SKIDS};
    dd_status status = folder_open(folder, path, error);
    if (status == DD_OK) status = write_files(folder, answers, found, error);
    if (status == DD_OK) status = set_up(folder, answers, found, error);
    if (status == DD_OK) status = find_launch(folder, answers, found, error);
    double room;
    if (status == DD_OK) status = find_depth(folder, "retrieve.yaml", &found->retrieve, &room, &found->retrieve_works, &found->coupling_most, error);
    take_other(found);
    folder_empty(folder);
    if (status == DD_OK) status = write_files(folder, answers, found, error);
    if (status == DD_OK && interrupted()) status = dd_fail(error, DD_ERROR_CANCELLED, "begin", "interrupted");
    if (status == DD_OK) status = folder_place(folder, error);
    return status;
}

/* Whoever answered in US units is asked on in them. */
static void tell_next(const char *dir, bool us, const dd_begin_found *found)
{
    const char *units = us ? " --units us" : "";
    printf("Written to %s: boat, trailer, vehicle, ramp, launch and retrieve.\n", dir);
    if (!found->launch_works || !found->retrieve_works)
        printf("On this ramp there is no place for the %s that keeps every limit; depth says why.\n",
               found->launch_works ? "retrieve" : found->retrieve_works ? "launch" : "launch nor for the retrieve");
    printf("\nAsk next:\n");
    printf("  drawdock run %s/launch.yaml%s       # the launch as a motion in time; verdict\n", dir, units);
    printf("  drawdock run %s/retrieve.yaml%s     # and the way back\n", dir, units);
    printf("  drawdock depth %s/launch.yaml %s/retrieve.yaml%s   # where to stand, and the least water\n", dir, dir, units);
    printf("  drawdock weigh %s/launch.yaml%s     # loads against ratings\n", dir, units);
    printf("  drawdock seat %s/launch.yaml%s      # the load on every support\n", dir, units);
    printf("  drawdock brake %s/launch.yaml%s     # stopping and holding\n", dir, units);
    printf("  drawdock handover %s/launch.yaml %s/retrieve.yaml%s -o page --pdf   # all of it on one page, to print (--pdf needs chromium)\n", dir, dir, units);
    printf("\nThe figures are yours and usual ones; each file says which. Put measured ones in their place.\n");
}

int command_begin(const options *given)
{
    const char *dir = given->operands[0];
    dd_begin answers = {.us = given->units ? units_of(given) == DD_REPORT_US : us_by_locale()};
    dd_begin_found found;
    dd_error error = {0};
    result_folder folder = {0};
    int status = check_flags(given);
    if (status == STATUS_WITHIN) status = check_empty(dir);
    if (status == STATUS_WITHIN) status = ask_all(given, &answers);
    if (status != STATUS_WITHIN) return status;
    if (make_folder(&folder, dir, &answers, &found, &error) != DD_OK)
        status = output_give_up(&error);
    else if (!given->quiet)
        tell_next(dir, answers.us != 0, &found);
    folder_discard(&folder);
    return status;
}
