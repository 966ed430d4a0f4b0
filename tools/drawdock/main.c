/* SPDX-License-Identifier: GPL-3.0-or-later */
/* drawdock: trailer boats on the ramp. */
#include "tools/drawdock/command.h"
#include <drawdock/version.h>
#include <errno.h>
#include <string.h>

static int run_command(const options *given)
{
    switch (given->command) {
#define DRAWDOCK_COMMAND(name, operands, least, most, help)                                                                    \
    case COMMAND_##name:                                                                                                       \
        return command_##name(given);
#include "tools/drawdock/options.def"
#undef DRAWDOCK_COMMAND
    default:
        return STATUS_INPUT;
    }
}

/* What is still in the buffer may not reach a full disk; the caller must hear of it. */
static int close_output(int status)
{
    bool failed = ferror(stdout) != 0;
    errno = 0;
    if (fclose(stdout) != 0) failed = true;
    if (!failed) return status;
    fprintf(stderr, "drawdock: standard output could not be written%s%s\n", errno ? ": " : "", errno ? strerror(errno) : "");
    return status > STATUS_NOT_DONE ? status : STATUS_NOT_DONE;
}

int main(int argc, char **argv)
{
    options given;
    int status = options_read(argc, argv, &given);
    if (status != STATUS_WITHIN) return status;
    if (given.version) {
        printf("drawdock %s\n", dd_version());
    } else if (given.help) {
        options_help(given.command);
    } else {
        interrupt_watch();
        status = run_command(&given);
    }
    return close_output(status);
}
