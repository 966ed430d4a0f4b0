/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/command.h"
#include <drawdock/study.h>

int command_run(const options *given) { return study_command(given, dd_study_run); }
