/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/command.h"
#include <time.h>
#include <unistd.h>

static double now(void)
{
    struct timespec moment;
    if (clock_gettime(CLOCK_MONOTONIC, &moment) != 0) return 0;
    return (double)moment.tv_sec + 1e-9 * (double)moment.tv_nsec;
}

void progress_begin(progress *bar, bool allowed)
{
    *bar = (progress){.allowed = allowed && isatty(STDERR_FILENO), .started = now()};
}

int progress_step(double share, double time, void *context)
{
    enum { WIDTH = 40 };
    progress *bar = context;
    if (bar->allowed) {
        double moment = now();
        if (moment - bar->started >= 0.5 && moment - bar->drawn >= 0.1) {
            int full = share > 1 ? WIDTH : share > 0 ? (int)(share * WIDTH) : 0;
            fputs("\r[", stderr);
            for (int i = 0; i < WIDTH; i++) fputc(i < full ? '#' : '.', stderr);
            fprintf(stderr, "] %3d %%", full * 100 / WIDTH);
            if (time > 0) fprintf(stderr, "  %.1f s", time); /* statics have none */
            fflush(stderr);
            bar->drawn = moment;
            bar->shown = true;
        }
    }
    return interrupted();
}

void progress_end(progress *bar)
{
    if (bar->shown) fputs("\r\033[K", stderr);
    bar->shown = false;
}
