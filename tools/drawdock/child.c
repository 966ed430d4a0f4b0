/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/child.h"
#include "tools/drawdock/command.h"
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { EXEC_FAILED = 126, EXEC_MISSING = 127 };

/* In the child: it tells its troubles into the pipe. Never returns. */
static void become(const char *folder, char **arguments, int pipe_end)
{
    int nothing = open("/dev/null", O_RDWR);
    if (nothing < 0 || chdir(folder) != 0 || dup2(nothing, STDIN_FILENO) < 0 || dup2(nothing, STDOUT_FILENO) < 0 ||
        dup2(pipe_end, STDERR_FILENO) < 0 || setenv("LC_ALL", "C", 1) != 0)
        _exit(EXEC_FAILED);
    execvp(arguments[0], arguments);
    _exit(errno == ENOENT ? EXEC_MISSING : EXEC_FAILED);
}

/* Reads what the child says, keeping the first line that tells something; an interrupt is passed on to it. */
static void listen(int pipe_end, pid_t child, char *line, size_t size)
{
    char text[4096], more[4096];
    size_t length = 0;
    bool told = false;
    for (;;) {
        bool full = length == sizeof text - 1;
        ssize_t count = read(pipe_end, full ? more : text + length, full ? sizeof more : sizeof text - 1 - length);
        if (interrupted() && !told) {
            kill(child, SIGTERM);
            told = true;
        }
        if (count < 0 && errno == EINTR) continue;
        if (count <= 0) break;
        if (!full) length += (size_t)count;
    }
    text[length] = '\0';
    /* gnuplot shows the offending line and a caret first; the message is the last line with a text. */
    line[0] = '\0';
    for (char *at = text; *at;) {
        size_t span = strcspn(at, "\n");
        if (strspn(at, " \t^") < span) snprintf(line, size, "%.*s", (int)span, at);
        at += span + (at[span] == '\n');
    }
}

child_outcome child_run(const char *folder, char **arguments, char *line, size_t size)
{
    int ends[2];
    line[0] = '\0';
    if (pipe(ends) != 0) {
        snprintf(line, size, "it cannot be started: %s", strerror(errno));
        return CHILD_FAILED;
    }
    /* What the child starts is not to hold the pipe's end open, but as its standard error. */
    (void)fcntl(ends[1], F_SETFD, FD_CLOEXEC);
    pid_t child = fork();
    if (child == 0) {
        close(ends[0]);
        become(folder, arguments, ends[1]);
    }
    close(ends[1]);
    int outcome = 0;
    if (child > 0) {
        listen(ends[0], child, line, size);
        while (waitpid(child, &outcome, 0) < 0 && errno == EINTR) continue;
    }
    close(ends[0]);
    if (child > 0 && WIFEXITED(outcome) && WEXITSTATUS(outcome) == 0) return CHILD_GOOD;
    return child > 0 && WIFEXITED(outcome) && WEXITSTATUS(outcome) == EXEC_MISSING ? CHILD_MISSING : CHILD_FAILED;
}
