/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/command.h"

int command_check(const options *given)
{
    int worst = STATUS_WITHIN;
    for (int i = 0; i < given->operand_count; i++) {
        int status;
        dd_case_file *file = read_scenario(given, given->operands[i], &status);
        if (file && !given->quiet) printf("%s: no errors\n", given->operands[i]);
        dd_case_free(file);
        if (status > worst) worst = status;
    }
    return worst;
}
