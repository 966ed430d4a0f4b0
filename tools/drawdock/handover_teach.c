/* SPDX-License-Identifier: GPL-3.0-or-later */
/* handover --teach: every case of a folder whose head names a remedy, with that remedy, as a lesson. */
#include "lib/base/error.h"
#include "lib/record/text.h"
#include "tools/drawdock/handover.h"
#include "tools/drawdock/output.h"
#include <dirent.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_LESSONS = 64 };
enum { WRONG, RIGHT, RUNS };

typedef struct lesson {
    char path[RUNS][PATH_MAX];
    char *said[RUNS], *keys[RUNS]; /* the head's own words, and the keys that the file gives */
    handover_run runs[RUNS];
} lesson;

static const char remedy_mark[] = "# Remedy: ";

/* The head of a case without licence, expectations and remedy; the file's own keys; and the remedy's name. false: out of memory, or no such file. */
static bool read_head(const char *path, char **said, char **keys, char *remedy, size_t size)
{
    static const char *const not_said[] = {"SPDX", "Expected", "Remedy"}, *const not_keys[] = {"drawdock:", "based on:", "title:"};
    char line[1024];
    dd_string head = {0}, body = {0};
    *remedy = '\0';
    FILE *file = fopen(path, "r");
    if (!file) return false;
    while (fgets(line, sizeof line, file)) {
        line[strcspn(line, "\n")] = '\0';
        bool skip = *line == '\0';
        const char *text = line + (*line == '#') + strspn(line + (*line == '#'), " ");
        if (strncmp(line, remedy_mark, strlen(remedy_mark)) == 0) dd_text_copy(remedy, size, line + strlen(remedy_mark));
        for (size_t i = 0; i < 3; i++)
            skip = skip || strncmp(*line == '#' ? text : line, *line == '#' ? not_said[i] : not_keys[i], strlen(*line == '#' ? not_said[i] : not_keys[i])) == 0;
        if (skip) continue;
        dd_string *to = *line == '#' ? &head : &body;
        if (to->length) dd_string_add(to, *line == '#' ? " " : "\n");
        dd_string_add(to, *line == '#' ? text : line);
    }
    fclose(file);
    *said = dd_string_take(&head);
    *keys = dd_string_take(&body);
    return *said && *keys;
}

/* The lines of one text that the other has not; NULL: out of memory. */
static char *lines_beyond(const char *text, const char *other)
{
    dd_string out = {0};
    for (const char *at = text; *at;) {
        const size_t length = strcspn(at, "\n");
        bool there = false;
        for (const char *k = other; *k && !there; k += strcspn(k, "\n"), k += *k == '\n')
            there = strcspn(k, "\n") == length && strncmp(k, at, length) == 0;
        if (!there && out.length) dd_string_add(&out, "\n");
        if (!there) dd_string_add_bytes(&out, at + strspn(at, " "), length - strspn(at, " "));
        at += length + (at[length] == '\n');
    }
    return dd_string_take(&out);
}

static int by_name(const void *a, const void *b) { return strcmp(((const lesson *)a)->path[WRONG], ((const lesson *)b)->path[WRONG]); }

static void free_lessons(lesson *lessons, int count)
{
    for (int i = 0; i < count; i++)
        for (int r = 0; r < RUNS; r++) {
            free(lessons[i].said[r]);
            free(lessons[i].keys[r]);
            handover_free(&lessons[i].runs[r]);
        }
    free(lessons);
}

/* The cases of the folder that name a remedy, by name. */
static int find_lessons(const char *folder, lesson *lessons, int *count, dd_error *error)
{
    DIR *directory = opendir(folder);
    char remedy[NAME_MAX + 1], other[NAME_MAX + 1];
    *count = 0;
    if (!directory) {
        dd_fail(error, DD_ERROR_NOT_FOUND, folder, "the folder of teaching cases cannot be read");
        return output_give_up(error);
    }
    for (struct dirent *entry; (entry = readdir(directory)) != NULL && *count < MOST_LESSONS;) {
        lesson *l = &lessons[*count];
        const char *dot = strrchr(entry->d_name, '.');
        if (!dot || strcmp(dot, ".yaml") != 0 || snprintf(l->path[WRONG], PATH_MAX, "%s/%s", folder, entry->d_name) >= PATH_MAX) continue;
        bool good = read_head(l->path[WRONG], &l->said[WRONG], &l->keys[WRONG], remedy, sizeof remedy) && *remedy &&
                    snprintf(l->path[RIGHT], PATH_MAX, "%s/%s", folder, remedy) < PATH_MAX &&
                    read_head(l->path[RIGHT], &l->said[RIGHT], &l->keys[RIGHT], other, sizeof other);
        if (good) {
            (*count)++;
            continue;
        }
        for (int r = 0; r < RUNS; r++) {
            free(l->said[r]);
            free(l->keys[r]);
            l->said[r] = l->keys[r] = NULL;
        }
    }
    closedir(directory);
    qsort(lessons, (size_t)*count, sizeof *lessons, by_name);
    if (*count > 0) return STATUS_WITHIN;
    dd_fail(error, DD_ERROR_NOT_FOUND, folder, "no case in it has a line '%sFILE' at its head", remedy_mark);
    dd_fail_remedy(error, DD_ERROR_NOT_FOUND, "name the shipped folder scenarios/teaching, or one of yours");
    return output_give_up(error);
}

static int compute_lessons(const options *given, lesson *lessons, int count)
{
    handover_work work = {.own = 0.5 / count};
    int worst = STATUS_WITHIN;
    progress_begin(&work.bar, !given->quiet);
    for (int i = 0; i < RUNS * count && worst <= STATUS_LIMIT; i++, work.done += work.own) {
        lesson *l = &lessons[i / RUNS];
        const int found = handover_compute(given, l->path[i % RUNS], true, &work, &l->runs[i % RUNS]);
        /* What goes wrong is meant to; only a remedy that breaks a limit is one broken. */
        if (found > STATUS_LIMIT || (found == STATUS_LIMIT && i % RUNS == RIGHT)) worst = found > worst ? found : worst;
    }
    progress_end(&work.bar);
    return worst;
}

/* Two more words to choose from in the quiz: those of the next lessons that end otherwise. */
static void add_choices(page *p, xmlNodePtr node, const lesson *lessons, int count, int own)
{
    const char *chosen[3] = {lessons[own].runs[WRONG].result->word, NULL, NULL};
    int found = 1;
    for (int i = 1; i < count && found < 3; i++) {
        const char *word = lessons[(own + i) % count].runs[WRONG].result->word;
        bool there = false;
        for (int k = 0; k < found; k++) there = there || strcmp(chosen[k], word) == 0;
        if (!there) chosen[found++] = word;
    }
    for (int k = 0; k < found; k++) page_text(p, node, "choice", chosen[(k + own) % found]); /* the right one at no fixed place */
}

static dd_status add_lessons(page *p, const lesson *lessons, int count, dd_error *error)
{
    for (int i = 0; i < count && error->status == DD_OK; i++) {
        xmlNodePtr node = page_add(p, p->root, "lesson");
        page_put(p, node, "number", "%d", i + 1);
        for (int r = 0; r < RUNS && error->status == DD_OK; r++) {
            xmlNodePtr run = handover_add_run(p, &lessons[i].runs[r], RUNS * i + r + 1, error);
            if (error->status != DD_OK) break;
            page_text(p, run, "said", lessons[i].said[r]);
            page_text(p, run, "keys", lessons[i].keys[r]);
            char *differs = lines_beyond(lessons[i].keys[r], lessons[i].keys[r == WRONG ? RIGHT : WRONG]);
            if (!differs) p->failed = true;
            page_text(p, run, "differs", differs ? differs : "");
            free(differs);
            xmlUnlinkNode(run);
            xmlAddChild(node, run);
        }
        if (error->status == DD_OK) add_choices(p, node, lessons, count, i);
    }
    return error->status;
}

static char *json_of(const lesson *lessons, int count)
{
    handover_run *runs = calloc((size_t)(RUNS * count), sizeof *runs);
    for (int i = 0; runs && i < RUNS * count; i++) runs[i] = lessons[i / RUNS].runs[i % RUNS];
    char *json = runs ? handover_json(runs, RUNS * count, true) : NULL;
    free(runs);
    return json;
}

static int make_page(const options *given, page *p, const lesson *lessons, int count, result_folder *folder, int exit_status)
{
    dd_error error = {0};
    dd_status status = DD_OK;
    for (int i = 0; i < count && status == DD_OK; i++)
        for (int r = 0; r < RUNS; r++)
            if (!lessons[i].runs[r].result) status = dd_fail(&error, DD_ERROR_UNSET, lessons[i].path[r], "a lesson needs a launch or a retrieve: %s", lessons[i].runs[r].why_no_run);
    if (status == DD_OK) status = add_lessons(p, lessons, count, &error);
    if (status == DD_OK) status = handover_write(given, p, json_of(lessons, count), folder, &error);
    if (status != DD_OK) return output_give_up(&error);
    if (!given->quiet) printf("Written: %s: handover.html result.json%s (%d lessons)\n", folder->target, given->pdf ? " handover.pdf" : "", count);
    return exit_status;
}

int handover_teach(const options *given)
{
    dd_error error = {0};
    result_folder folder = {0};
    lesson *lessons = calloc(MOST_LESSONS, sizeof *lessons);
    int count = 0, exit_status;
    if (!lessons) {
        dd_fail(&error, DD_ERROR_MEMORY, given->teach, "no memory for the lessons");
        return output_give_up(&error);
    }
    exit_status = find_lessons(given->teach, lessons, &count, &error);
    page p = {0};
    if (exit_status == STATUS_WITHIN && (folder_open(&folder, given->output, &error) != DD_OK || handover_begin(&p, "teach", given, &error) != DD_OK))
        exit_status = output_give_up(&error);
    if (exit_status == STATUS_WITHIN) exit_status = compute_lessons(given, lessons, count);
    if (exit_status <= STATUS_LIMIT) exit_status = make_page(given, &p, lessons, count, &folder, exit_status);
    page_end(&p);
    folder_discard(&folder);
    free_lessons(lessons, count);
    return exit_status;
}
