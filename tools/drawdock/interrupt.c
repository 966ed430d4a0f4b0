/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ctrl-C, a closed terminal or a polite kill ask the program to stop; it then leaves no half-written file. */
#include "tools/drawdock/command.h"
#include <signal.h>
#include <sys/select.h>

static volatile sig_atomic_t asked;
static const int signals[] = {SIGINT, SIGTERM, SIGHUP};

static void note(int signal_number)
{
    (void)signal_number;
    asked = 1;
}

void interrupt_watch(void)
{
    for (size_t i = 0; i < sizeof signals / sizeof signals[0]; i++) {
        struct sigaction before, action = {.sa_handler = note};
        sigemptyset(&action.sa_mask);
        /* A parent that had a signal ignored (nohup) wants it to stay so. */
        if (sigaction(signals[i], NULL, &before) == 0 && before.sa_handler != SIG_IGN) sigaction(signals[i], &action, NULL);
    }
}

bool interrupted(void) { return asked != 0; }

bool interrupt_wait(int descriptor)
{
    sigset_t held, before;
    fd_set reading;
    sigemptyset(&held);
    for (size_t i = 0; i < sizeof signals / sizeof signals[0]; i++)
        sigaddset(&held, signals[i]);
    /* Held back until pselect waits, so that a signal that comes just before it is not slept over. */
    if (sigprocmask(SIG_BLOCK, &held, &before) != 0) return !interrupted();
    while (!interrupted()) {
        FD_ZERO(&reading);
        FD_SET(descriptor, &reading);
        if (pselect(descriptor + 1, &reading, NULL, NULL, NULL, &before) >= 0) break;
    }
    sigprocmask(SIG_SETMASK, &before, NULL);
    return !interrupted();
}
