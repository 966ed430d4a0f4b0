/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/command.h"
#include "tools/drawdock/output.h"

int command_keys(const options *given) { return output_text(dd_case_keys(given->schema)); }
