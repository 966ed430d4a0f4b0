/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text, remedy and exit status of each status code, and the library's version. */
#include <drawdock/status.h>
#include <drawdock/version.h>
#ifndef PACKAGE_VERSION
#define PACKAGE_VERSION "0.1.0"
#endif

typedef struct status_row {
    const char *text, *remedy;
    int exit_status;
} status_row;

static const status_row rows[] = {
#define DD_STATUS(code, text, remedy, exit_status) [code] = {text, remedy, exit_status},
#include <drawdock/status.def>
#undef DD_STATUS
};

static const status_row unknown = {"unknown status code", "report the program and this message", 3};

static const status_row *row_of(dd_status status)
{
    unsigned long index = (unsigned long)status;
    return index < sizeof rows / sizeof rows[0] ? &rows[index] : &unknown;
}

const char *dd_status_text(dd_status status) { return row_of(status)->text; }
const char *dd_status_remedy(dd_status status) { return row_of(status)->remedy; }
int dd_status_exit(dd_status status) { return row_of(status)->exit_status; }
const char *dd_version(void) { return PACKAGE_VERSION; }
