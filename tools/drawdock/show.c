/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/command.h"
#include "tools/drawdock/output.h"

int command_show(const options *given)
{
    int status;
    dd_case_file *file = read_scenario(given, given->operands[0], &status);
    if (!file) return status;
    char *text = dd_case_show(file, given->json);
    dd_case_free(file);
    return output_text(text);
}
