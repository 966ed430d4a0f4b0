/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/plot.h"
#include "lib/base/error.h"
#include "tools/drawdock/child.h"
#include "tools/drawdock/command.h"
#include <limits.h>

plot_outcome plot_draw(const char *folder, const char *name, const char *title, dd_error *error)
{
    char script[PATH_MAX], relative[64], picture[64], line[256];
    snprintf(relative, sizeof relative, "plots/%s.gnuplot", name);
    snprintf(picture, sizeof picture, "%s.svg", name);
    if (!data_find(relative, script, sizeof script)) {
        dd_fail(error, DD_ERROR_NOT_FOUND, relative, "the script is in none of the data folders");
        return PLOT_MISSING;
    }
    char *arguments[] = {"gnuplot", "-d", "-c", script, ".", picture, (char *)title, NULL};
    const child_outcome outcome = child_run(folder, arguments, line, sizeof line);
    if (outcome == CHILD_GOOD) return PLOT_DRAWN;
    if (outcome == CHILD_MISSING) {
        dd_fail(error, DD_ERROR_NOT_FOUND, "gnuplot", "not found in PATH");
        return PLOT_MISSING;
    }
    dd_fail(error, DD_ERROR_WRITE, picture, "gnuplot failed: %s", *line ? line : "it gives no reason");
    dd_fail_remedy(error, DD_ERROR_WRITE, "see %s, or use --no-plots", relative);
    return PLOT_FAILED;
}
