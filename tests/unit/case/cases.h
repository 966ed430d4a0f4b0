/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the reader share. */
#ifndef DD_TESTS_CASE_HELPERS_H
#define DD_TESTS_CASE_HELPERS_H
#include <drawdock/case.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

/* The messages of a read, a line each as "place: message"; "" when the file was read. malloc'ed. Also checks what every
   failed read promises: no file, and a place, a message and a remedy in each error. */
char *read_messages(const char *path, const char *const *overrides, const char *const *search);
/* Reads a file that must have no error. */
dd_case_file *must_read(const char *path, const char *const *overrides);
/* A folder of this run's own; its name ends without '/'. Removed by remove_folder. */
void make_folder(char folder[64]);
void remove_folder(const char *folder);
/* Writes size bytes to folder/name; path: where. */
void write_file(const char *folder, const char *name, const char *bytes, size_t size, char path[256]);
/* Whole file, NUL-terminated, malloc'ed. */
char *file_text(const char *path, size_t *size);
#endif
