#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Colour and progress on a terminal, and interrupts. All compared exactly."""
import os
import pty
import shutil
import signal
import subprocess
import sys
import tempfile
import time

tool = os.environ["DRAWDOCK"]
scenario = os.path.join(os.environ["SOURCE_DIR"], "scenarios", "launch.yaml")
passed = failed = 0


def check(what, holds):
    global passed, failed
    if holds:
        passed += 1
    else:
        failed += 1
        print("FAILED:", what)


def read_all(end):
    text = b""
    while True:
        try:
            part = os.read(end, 65536)
        except OSError:  # the terminal is gone
            return text
        if not part:
            return text
        text += part


def on_terminal(arguments, pause=False, **environment):
    """Runs the tool with stdout and stderr on terminals of their own; returns what it wrote to each. pause: it is stopped for
    0.7 s once it computes, so that it takes longer than the half second before the bar; twice, since the first may fall between
    what is waited for and the time from which the half second counts."""
    out, out_child = pty.openpty()
    err, err_child = pty.openpty()
    variables = dict(os.environ, TERM="xterm", **environment)
    variables.pop("NO_COLOR", None) if "NO_COLOR" not in environment else None
    child = subprocess.Popen([tool, *arguments], stdout=out_child, stderr=err_child, env=variables)
    os.close(out_child)
    os.close(err_child)
    if pause:
        wait_for_staging(child)
        for _ in range(2):
            child.send_signal(signal.SIGSTOP)
            time.sleep(0.7)
            child.send_signal(signal.SIGCONT)
            time.sleep(0.02)
    texts = read_all(out), read_all(err)
    child.wait()
    os.close(out)
    os.close(err)
    return texts


def staging():
    return [name for name in os.listdir(".") if name.startswith(".drawdock-")]


def wait_for_staging(child):
    """The folder beside the results appears after the scenario is read and before anything is computed."""
    while not staging() and child.poll() is None:
        time.sleep(0.001)


def tree(folder):
    found = {}
    for name in sorted(os.listdir(folder)):
        with open(os.path.join(folder, name), "rb") as file:
            found[name] = file.read()
    return found


def colours():
    plain = subprocess.run([tool, "settle", scenario], stdout=subprocess.PIPE, stderr=subprocess.PIPE).stdout
    out, _ = on_terminal(["settle", scenario])
    check("colour on a terminal", b"\033[1;3" in out)
    bare = out.replace(b"\033[1;32m", b"").replace(b"\033[1;31m", b"").replace(b"\033[0m", b"").replace(b"\r\n", b"\n")
    check("the same words with colour and without", bare == plain)
    out, _ = on_terminal(["settle", scenario], NO_COLOR="1")
    check("NO_COLOR", b"\033" not in out)
    out, _ = on_terminal(["settle", scenario], NO_COLOR="")
    check("an empty NO_COLOR does not count", b"\033[1;3" in out)


def progress():
    _, err = on_terminal(["run", "-n", "--fine", scenario, "-o", "bar"], pause=True)
    check("a bar after half a second", b"[" in err and b" %" in err)
    check("it is erased at the end", err.endswith(b"\r\033[K"))
    _, err = on_terminal(["run", "-n", "--fine", "--quiet", scenario, "-o", "bar"], pause=True)
    check("quiet shows no bar", err == b"")
    shutil.rmtree("bar")


def interrupts():
    subprocess.run([tool, "settle", "-q", "-n", scenario, "-o", "old"], check=True)
    before = tree("old")
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        for target in ("old", "new"):
            child = subprocess.Popen([tool, "run", "--fine", scenario, "-o", target], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
            wait_for_staging(child)
            child.send_signal(number)
            out, err = child.communicate()
            check(f"{number.name}, {target} results: status 130, found {child.returncode}", child.returncode == 130)
            check(f"{number.name}: says so", b"interrupted; nothing was written" in err)
            check(f"{number.name}: no verdict", out == b"")
            check(f"{number.name}: nothing half-written", not staging() and not os.path.exists("new"))
            check(f"{number.name}: old results untouched", tree("old") == before)
    # While gnuplot draws: this one interrupts the tool and takes its time.
    os.mkdir("bin")
    with open("bin/gnuplot", "w", encoding="ascii") as file:
        file.write('#!/bin/sh\nkill -INT $PPID\nsleep 60 >/dev/null 2>&1\n: >"$0.ended"\n')
    os.chmod("bin/gnuplot", 0o755)
    child = subprocess.run([tool, "run", scenario, "-o", "old"], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                           env=dict(os.environ, PATH=os.path.abspath("bin") + ":/usr/bin:/bin"))
    check("interrupted while drawing", child.returncode == 130)
    check("gnuplot does not hold it up", not os.path.exists("bin/gnuplot.ended"))
    check("nothing half-written", not staging() and tree("old") == before)
    child = subprocess.Popen([tool, "run", "-q", "-n", scenario, "-o", "new"], preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_IGN))
    wait_for_staging(child)
    child.send_signal(signal.SIGINT)
    check("an interrupt that the parent had ignored stays ignored", child.wait() == 0 and os.path.exists("new/result.json"))


def main():
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        colours()
        progress()
        interrupts()
        os.chdir("/")
    print(f"[  PASSED  ] {passed} test(s).")
    if failed:
        print(f"[  FAILED  ] {failed} test(s).")
    return 1 if failed else 0


sys.exit(main())
