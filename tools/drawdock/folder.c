/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* renameat2 */
#include "tools/drawdock/folder.h"
#include "lib/base/error.h"
#include "tools/drawdock/lists.h"
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <jansson.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static dd_status write_error(dd_error *error, const char *path, const char *what)
{
    return dd_fail(error, DD_ERROR_WRITE, path, "%s: %s", what, strerror(errno));
}

/* false: too long. */
static bool join(char path[PATH_MAX], const char *folder, const char *name)
{
    int length = snprintf(path, PATH_MAX, "%s/%s", strcmp(folder, "/") == 0 ? "" : folder, name);
    return length > 0 && length < PATH_MAX;
}

static bool is_own_file(const char *name)
{
    for (int i = 0; i < file_count; i++)
        if (strcmp(file_list[i].name, name) == 0) return true;
    return false;
}

/* Reads result.json: is it ours, and of a complete result? */
static bool is_own_result(const char *path, bool *complete)
{
    json_t *root = json_load_file(path, JSON_REJECT_DUPLICATES, NULL);
    bool own = json_is_integer(json_object_get(root, "drawdock")) && json_is_string(json_object_get(root, "study"));
    *complete = own && json_is_true(json_object_get(root, "complete"));
    json_decref(root);
    return own;
}

/* An existing folder may be replaced when nothing but our own files would be lost. */
static dd_status check_replaceable(result_folder *folder, dd_error *error)
{
    char path[PATH_MAX], here[PATH_MAX];
    if (getcwd(here, sizeof here) && strcmp(here, folder->target) == 0) {
        dd_fail(error, DD_ERROR_WRITE, folder->target, "the folder you are in cannot be replaced in one step");
        return dd_fail_remedy(error, DD_ERROR_WRITE, "name a folder in it, or go one folder up");
    }
    DIR *directory = opendir(folder->target);
    if (!directory) return write_error(error, folder->target, "the folder cannot be read");
    int count = 0;
    bool has_result = false;
    char foreign[NAME_MAX + 1] = "";
    for (struct dirent *entry; (entry = readdir(directory)) != NULL;) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0) continue;
        count++;
        if (strcmp(entry->d_name, "result.json") == 0) has_result = true;
        /* The first by name, so that the message does not depend on the file system's order. */
        if (!is_own_file(entry->d_name) && (!*foreign || strcmp(entry->d_name, foreign) < 0))
            snprintf(foreign, sizeof foreign, "%s", entry->d_name);
    }
    closedir(directory);
    folder->holds_complete = false;
    if (count == 0) return DD_OK;
    if (*foreign)
        dd_fail(error, DD_ERROR_WRITE, folder->target, "the folder holds '%s', which is not a result of drawdock", foreign);
    else if (!has_result || !join(path, folder->target, "result.json") || !is_own_result(path, &folder->holds_complete))
        dd_fail(error, DD_ERROR_WRITE, folder->target, "the folder holds no result of drawdock (result.json)");
    else
        return DD_OK;
    return dd_fail_remedy(error, DD_ERROR_WRITE, "choose another folder with -o, or move its files elsewhere");
}

/* Splits the path into parent (which must exist) and target, both absolute. *exists: something stands there. */
static dd_status resolve(result_folder *folder, const char *path, bool *exists, dd_error *error)
{
    struct stat facts;
    char text[PATH_MAX];
    if (strlen(path) >= sizeof text) return dd_fail(error, DD_ERROR_WRITE, path, "the path is too long");
    snprintf(text, sizeof text, "%s", path);
    for (size_t length = strlen(text); length > 1 && text[length - 1] == '/'; length--) text[length - 1] = '\0';
    *exists = stat(text, &facts) == 0;
    if (*exists && !S_ISDIR(facts.st_mode)) return dd_fail(error, DD_ERROR_WRITE, path, "this is a file, expected a folder");
    if (!*exists && errno != ENOENT) return write_error(error, path, "the folder cannot be reached");
    if (!*exists && lstat(text, &facts) == 0)
        return dd_fail(error, DD_ERROR_WRITE, path, "this is a symbolic link to nothing, expected a folder");
    char *slash = strrchr(text, '/');
    if (*exists) {
        if (!realpath(text, folder->target)) return write_error(error, path, "the folder cannot be reached");
        snprintf(folder->parent, sizeof folder->parent, "%s", folder->target);
        slash = strrchr(folder->parent, '/');
        if (strcmp(folder->parent, "/") == 0) return dd_fail(error, DD_ERROR_WRITE, path, "the root folder cannot be replaced");
        slash[slash == folder->parent] = '\0';
        return DD_OK;
    }
    const char *name = slash ? slash + 1 : text, *above = slash ? (slash == text ? "/" : text) : ".";
    if (slash && slash != text) *slash = '\0';
    if (!realpath(above, folder->parent)) {
        write_error(error, path, "the folder that it should stand in cannot be reached");
        return dd_fail_remedy(error, DD_ERROR_WRITE, "make that folder first, or choose another with -o");
    }
    if (!join(folder->target, folder->parent, name)) return dd_fail(error, DD_ERROR_WRITE, path, "the path is too long");
    return DD_OK;
}

dd_status folder_open(result_folder *folder, const char *path, dd_error *error)
{
    bool exists;
    memset(folder, 0, sizeof *folder);
    dd_status status = resolve(folder, path, &exists, error);
    if (status == DD_OK && exists) status = check_replaceable(folder, error);
    if (status != DD_OK) return status;
    if (!join(folder->staging, folder->parent, ".drawdock-XXXXXX")) {
        folder->staging[0] = '\0';
        return dd_fail(error, DD_ERROR_WRITE, path, "the path is too long");
    }
    if (!mkdtemp(folder->staging)) {
        folder->staging[0] = '\0';
        return write_error(error, path, "no folder can be made beside it");
    }
    mode_t mask = umask(0);
    umask(mask);
    if (chmod(folder->staging, 0777 & ~mask) != 0) {
        status = write_error(error, path, "the folder's permission cannot be set");
        folder_discard(folder);
    }
    return status;
}

static bool write_all(int file, const char *text, size_t length)
{
    while (length > 0) {
        ssize_t written = write(file, text, length);
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        text += written;
        length -= (size_t)written;
    }
    return true;
}

dd_status folder_write(result_folder *folder, const char *name, const char *text, dd_error *error)
{
    char path[PATH_MAX];
    if (!text) return dd_fail(error, DD_ERROR_MEMORY, name, "no memory for the text of this file");
    if (!join(path, folder->staging, name)) return dd_fail(error, DD_ERROR_WRITE, name, "the path is too long");
    int file = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (file < 0) return write_error(error, name, "the file cannot be made");
    bool written = write_all(file, text, strlen(text)) && fsync(file) == 0;
    int reason = errno;
    if (close(file) != 0 && written) {
        written = false;
        reason = errno;
    }
    errno = reason;
    return written ? DD_OK : write_error(error, name, "the file cannot be written");
}

dd_status folder_keep(result_folder *folder, const char *name, const char *ending, dd_error *error)
{
    char path[PATH_MAX], tail[64];
    size_t length = strlen(ending);
    if (!join(path, folder->staging, name)) return dd_fail(error, DD_ERROR_WRITE, name, "the path is too long");
    int file = open(path, O_RDWR | O_CLOEXEC);
    if (file < 0) return write_error(error, name, "the file was not made");
    errno = 0;
    struct stat facts;
    bool whole = fstat(file, &facts) == 0 && length < sizeof tail && facts.st_size >= (off_t)length &&
                 pread(file, tail, length, facts.st_size - (off_t)length) == (ssize_t)length &&
                 memcmp(tail, ending, length) == 0 && fsync(file) == 0;
    int reason = errno;
    close(file);
    errno = reason;
    if (whole) return DD_OK;
    return reason ? write_error(error, name, "the file cannot be written")
                  : dd_fail(error, DD_ERROR_WRITE, name, "the file is cut short");
}

dd_status folder_rename(result_folder *folder, const char *suffix, dd_error *error)
{
    size_t length = strlen(folder->target);
    if (length + strlen(suffix) >= sizeof folder->target)
        return dd_fail(error, DD_ERROR_WRITE, folder->target, "the path is too long");
    memcpy(folder->target + length, suffix, strlen(suffix) + 1);
    struct stat facts;
    return stat(folder->target, &facts) == 0 ? check_replaceable(folder, error) : DD_OK;
}

/* A file system without the exchange: the old folder steps aside first and comes back if the new one cannot take its place. */
static bool replace_in_two_steps(result_folder *folder)
{
    char aside[PATH_MAX];
    if (!join(aside, folder->parent, ".drawdock-XXXXXX") || !mkdtemp(aside)) return false;
    if (rename(folder->target, aside) != 0) {
        int reason = errno;
        rmdir(aside);
        errno = reason;
        return false;
    }
    if (rename(folder->staging, folder->target) != 0) {
        int reason = errno;
        rename(aside, folder->target);
        errno = reason;
        return false;
    }
    snprintf(folder->staging, sizeof folder->staging, "%s", aside);
    return true;
}

static void sync_folder(const char *path)
{
    int file = open(path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file < 0) return;
    fsync(file);
    close(file);
}

dd_status folder_commit(result_folder *folder, dd_error *error)
{
    struct stat facts;
    sync_folder(folder->staging);
    if (lstat(folder->target, &facts) != 0) {
        if (rename(folder->staging, folder->target) != 0)
            return write_error(error, folder->target, "the folder cannot be given its name");
        folder->staging[0] = '\0';
        sync_folder(folder->parent);
        return DD_OK;
    }
    dd_status status = check_replaceable(folder, error); /* it may have changed while we computed */
    if (status != DD_OK) return status;
    bool done = renameat2(AT_FDCWD, folder->staging, AT_FDCWD, folder->target, RENAME_EXCHANGE) == 0;
    if (!done && (errno == EINVAL || errno == ENOSYS)) done = replace_in_two_steps(folder);
    if (!done) return write_error(error, folder->target, "the folder cannot be replaced");
    sync_folder(folder->parent);
    folder_discard(folder); /* the sibling's name now belongs to the old results */
    return DD_OK;
}

dd_status folder_place(result_folder *folder, dd_error *error)
{
    sync_folder(folder->staging);
    if (rename(folder->staging, folder->target) != 0) { /* POSIX: of folders only an empty one gives way */
        write_error(error, folder->target, "the folder cannot be given its name");
        return dd_fail_remedy(error, DD_ERROR_WRITE, "name a folder that does not exist yet");
    }
    folder->staging[0] = '\0';
    sync_folder(folder->parent);
    return DD_OK;
}

void folder_empty(result_folder *folder)
{
    if (!folder->staging[0]) return;
    DIR *directory = opendir(folder->staging);
    if (directory) {
        char path[PATH_MAX];
        for (struct dirent *entry; (entry = readdir(directory)) != NULL;)
            if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0 &&
                join(path, folder->staging, entry->d_name))
                unlink(path);
        closedir(directory);
    }
}

void folder_discard(result_folder *folder)
{
    if (!folder->staging[0]) return;
    folder_empty(folder);
    rmdir(folder->staging);
    folder->staging[0] = '\0';
}
