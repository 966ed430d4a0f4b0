/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A result folder that appears all at once: everything is written to a sibling folder, which then takes its name. */
#ifndef DRAWDOCK_FOLDER_H
#define DRAWDOCK_FOLDER_H
#include <drawdock/status.h>
#include <limits.h>
#include <stdbool.h>

typedef struct result_folder {
    char target[PATH_MAX]; /* where it will stand */
    char parent[PATH_MAX];
    char staging[PATH_MAX]; /* where it is written; empty: none */
    bool holds_complete;    /* the target holds a complete result now */
} result_folder;

/* Looks whether `path` may become a result folder (it does not exist, is empty, or holds a result of this program and nothing
   else) and makes the sibling. Nothing in `path` is touched. */
dd_status folder_open(result_folder *folder, const char *path, dd_error *error);
/* Writes a file of the folder and brings it to the disk. */
dd_status folder_write(result_folder *folder, const char *name, const char *text, dd_error *error);
/* The same for a file that another program wrote; its text must end with `ending`. */
dd_status folder_keep(result_folder *folder, const char *name, const char *ending, dd_error *error);
/* Removes every file written so far. */
void folder_empty(result_folder *folder);
/* Lets the target's name end with `suffix`. */
dd_status folder_rename(result_folder *folder, const char *suffix, dd_error *error);
/* Gives the sibling the target's name, in one step, and removes what stood there. */
dd_status folder_commit(result_folder *folder, dd_error *error);
/* The same where nothing may be lost: the target must not be there, or be an empty folder. */
dd_status folder_place(result_folder *folder, dd_error *error);
/* Removes the sibling; also after a commit, or when it was never opened. */
void folder_discard(result_folder *folder);
#endif
