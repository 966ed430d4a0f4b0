/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the shipped plots and scenarios lie: $DRAWDOCK_DATA, the user's data folder, the source tree that the program was built
   in, the folder it was installed to, the system's data folders. */
#include "tools/drawdock/command.h"
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { FOLDERS = 32 };

typedef struct folder_list {
    int count;
    char path[FOLDERS][PATH_MAX];
} folder_list;

static void add(folder_list *list, const char *base, const char *below)
{
    if (list->count == FOLDERS || !base || base[0] != '/') return; /* a relative path in XDG variables is to be ignored */
    int length = snprintf(list->path[list->count], PATH_MAX, "%s%s", base, below);
    if (length > 0 && length < PATH_MAX) list->count++;
}

/* The program's own place: the tree it was built in has configure.ac above it; installed, share/ stands beside bin/. */
static void add_beside_program(folder_list *list)
{
    char program[PATH_MAX], above[PATH_MAX + 32];
    ssize_t length = readlink("/proc/self/exe", program, sizeof program - 1);
    if (length <= 0) return;
    program[length] = '\0';
    for (int level = 0; level < 4; level++) {
        char *slash = strrchr(program, '/');
        if (!slash || slash == program) return;
        *slash = '\0';
        snprintf(above, sizeof above, "%s/configure.ac", program);
        if (access(above, R_OK) == 0) {
            add(list, program, "");
            return;
        }
        if (level == 1) add(list, program, "/share/drawdock");
    }
}

static void fill(folder_list *list)
{
    char home[PATH_MAX];
    const char *data = getenv("DRAWDOCK_DATA");
    if (data && *data && realpath(data, home)) add(list, home, "");
    const char *own = getenv("XDG_DATA_HOME"), *user = getenv("HOME");
    if (own && *own)
        add(list, own, "/drawdock");
    else
        add(list, user, "/.local/share/drawdock");
    add_beside_program(list);
    add(list, DATA_DIR, "");
    const char *system_folders = getenv("XDG_DATA_DIRS");
    if (!system_folders || !*system_folders) system_folders = "/usr/local/share:/usr/share";
    while (*system_folders) {
        size_t length = strcspn(system_folders, ":");
        char one[PATH_MAX];
        if (length < sizeof one) {
            memcpy(one, system_folders, length);
            one[length] = '\0';
            add(list, one, "/drawdock");
        }
        system_folders += length + (system_folders[length] == ':');
    }
}

bool data_folder(int index, char *path, size_t size)
{
    folder_list *list = calloc(1, sizeof *list);
    if (!list) return false;
    fill(list);
    bool found = index < list->count && snprintf(path, size, "%s", list->path[index]) < (int)size;
    free(list);
    return found;
}

bool data_find(const char *name, char *path, size_t size)
{
    char folder[PATH_MAX];
    for (int i = 0; data_folder(i, folder, sizeof folder); i++) {
        int length = snprintf(path, size, "%s/%s", folder, name);
        if (length > 0 && (size_t)length < size && access(path, R_OK) == 0) return true;
    }
    return false;
}
