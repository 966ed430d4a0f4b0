/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/command.h"
#include <stdlib.h>

int command_keys(const options *given)
{
    char *text = dd_case_keys(given->schema);
    if (!text) {
        fputs("drawdock: out of memory\n", stderr);
        return STATUS_NOT_DONE;
    }
    fputs(text, stdout);
    free(text);
    return STATUS_WITHIN;
}
