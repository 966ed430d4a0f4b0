/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dd_case_read: files, overrides, values, rules, in that order. */
#include "lib/base/numbers.h"
#include "lib/case/reader.h"
#include "lib/force/force.h"
#include "lib/rig/rig.h"
#include <stdlib.h>
#include <string.h>

/* Every part that is a file name, and `based on`. */
static void load_parts(dd_reading *reading, const dd_key *rows, dd_node *root)
{
    for (const dd_key *row = rows; row->name != NULL; row++) {
        dd_entry *entry = row->file ? dd_entry_of(root, row->name) : NULL;
        if (entry != NULL) dd_load_part(reading, entry, row->name);
    }
}

/* `without` holds names of forces. */
static void check_without(dd_case_file *file)
{
    const char *names[64];
    int count = 0;
    for (int i = 0; i < dd_force_count() && i < 64; i++) names[count++] = dd_force_at(i)->name;
    for (int k = 0; k < file->scenario.without_count; k++) {
        bool known = false;
        const char *name = file->scenario.without[k];
        for (int i = 0; i < count; i++) known = known || strcmp(name, names[i]) == 0;
        if (known || name[0] == '\0') continue;
        char path[DD_PATH], list[360] = "";
        dd_text(path, sizeof path, "without[%d]", k + 1);
        for (int i = 0; i < count; i++) {
            size_t used = strlen(list);
            dd_text(list + used, sizeof list - used, "%s%s", i == 0 ? "" : ", ", names[i]);
        }
        const char *near = dd_nearest(name, names, count);
        dd_place place = {-1, 0, 0};
        for (int i = 0; i < file->reading.origin_count; i++)
            if (file->reading.origins[i].path != NULL && strcmp(file->reading.origins[i].path, path) == 0)
                place = file->reading.origins[i].place;
        if (near != NULL)
            dd_complain(&file->reading, place, path, "found '%s', which is not a force; nearest: '%s'", name, near);
        else
            dd_complain(&file->reading, place, path, "found '%s', which is not a force; expected one of: %s", name, list);
    }
}

/* Place of the key that a rule names: its own, or that of the nearest block above it that was given. */
static dd_place place_of_key(const dd_reading *reading, const char *path, dd_place otherwise)
{
    char at[DD_PATH];
    dd_text(at, sizeof at, "%s", path);
    for (;;) {
        for (int i = reading->origin_count - 1; i >= 0; i--) /* of two of a name, the second */
            if (reading->origins[i].path != NULL && strcmp(reading->origins[i].path, at) == 0) return reading->origins[i].place;
        char *dot = strrchr(at, '.'), *bracket = strrchr(at, '[');
        char *cut = dot == NULL || (bracket != NULL && bracket > dot) ? bracket : dot;
        if (cut == NULL) return otherwise;
        *cut = '\0';
    }
}

static void check_rules(dd_case_file *file, dd_place root)
{
    for (const dd_rule_set *set = dd_rule_sets; set->rules != NULL; set++) {
        if (!file->scenario.on_ramp && set->on_ramp) continue;
        for (const dd_key_rule *rule = set->rules; rule->holds != NULL; rule++) {
            char message[400] = "", path[DD_PATH];
            const char *key = "";
            if (rule->holds((const char *)&file->scenario + set->offset, message, sizeof message, &key)) continue;
            dd_join_path(set->block, key == NULL ? "" : key, path);
            if (strcmp(path, "boat.items") == 0) dd_text(path, sizeof path, "aboard"); /* as the file has them */
            dd_complain(&file->reading, place_of_key(&file->reading, path, root), path, "%s", message);
        }
    }
}

/* Reports and messages speak of supports by name: one without is called by its kind and its place in the list. */
static void name_supports(dd_trailer_parameters *t)
{
    for (int i = 0; i < t->support_count; i++) {
        dd_support *s = &t->supports[i];
        if (s->name[0] == '\0') dd_text(s->name, sizeof s->name, "%s %d", dd_support_kind_at(s->kind)->name, i + 1);
    }
}

static void read_all(dd_case_file *file, const char *path, const char *const *overrides)
{
    dd_reading *reading = &file->reading;
    dd_node *root = dd_load_scenario(reading, path);
    if (root == NULL) return;
    bool full = false;
    for (int i = 0; overrides != NULL && overrides[i] != NULL && !full; i++) {
        full = reading->file_count >= DD_READ_FILES;
        dd_apply_override(reading, file->table.rows, root, overrides[i]);
    }
    load_parts(reading, file->table.rows, root);
    dd_load_tide_file(reading, &file->scenario, root);
    if (reading->out_of_memory) return;
    file->scenario.on_ramp = dd_is_on_ramp(file->table.rows, root);
    dd_read_mapping(reading, file->table.rows, NULL, &file->scenario, 0, root, "");
    name_supports(&file->scenario.trailer);
    check_without(file);
    /* Rules are about values that were all read: with a value missing they would speak of it a second time. */
    if (reading->message_count == 0) check_rules(file, root->place);
}

static dd_status no_memory(dd_error_list *list)
{
    dd_reading empty = {.out_of_memory = true};
    return dd_messages_give(&empty, list);
}

dd_status dd_case_read(const char *path, const char *const *overrides, const char *const *search, dd_case_file **file,
                       dd_error_list *list)
{
    *file = NULL;
    if (list != NULL) *list = (dd_error_list){0, NULL};
    dd_case_file *new = calloc(1, sizeof *new);
    if (new == NULL || !dd_case_table_create(&new->table)) {
        free(new);
        return no_memory(list);
    }
    new->reading.search = search;
    new->reading.table = new->table.rows;
    dd_case_defaults(&new->scenario);
    read_all(new, path, overrides);
    dd_status status = dd_messages_give(&new->reading, list);
    if (status != DD_OK) {
        dd_case_free(new);
        return status;
    }
    new->reading.search = NULL;
    *file = new;
    return DD_OK;
}

void dd_case_free(dd_case_file *file)
{
    if (file == NULL) return;
    dd_case_table_free(&file->table);
    dd_reading_free(&file->reading);
    free(file);
}

const dd_case *dd_case_of(const dd_case_file *file) { return &file->scenario; }
