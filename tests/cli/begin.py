#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# `begin` at a terminal, in a pipe and by flags: questions, wrong answers, ?, interrupt, end of input; in both systems of units. All
# compared exactly, but quantities converted between units: to the digit written.
import os, pty, re, select, signal, subprocess, sys, tempfile, time
import yaml

tool = os.environ["DRAWDOCK"]
names = [m.group(1) for m in re.finditer(r'^DD_BEGIN\(\w+, "([^"]+)"', open(os.environ["SOURCE_DIR"] + "/lib/study/begin.def").read(), re.M)]
passed = failed = 0


def check(what, holds, *why):
    global passed, failed
    passed, failed = passed + bool(holds), failed + (not holds)
    if not holds: print("FAILED:", what, *why)


class Terminal:
    """The tool on a pseudo-terminal; said: what it wrote."""
    def __init__(self, *words, locale="C.UTF-8"):
        self.said = ""
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            signal.signal(signal.SIGINT, signal.SIG_DFL)
            os.environ["LC_ALL"] = locale
            os.execv(tool, [tool, "begin", *words])

    def wait_for(self, pattern, seconds=60):
        """Text up to and with the pattern; past: what came before is not looked at again."""
        end, start = time.monotonic() + seconds, len(self.seen)
        while not re.search(pattern, self.said[start:]):
            if time.monotonic() > end or not self.more(): return None
        text = self.said[start:]
        self.seen = self.said[:start + re.search(pattern, text).end()]
        return text

    seen = ""

    def more(self):
        if not select.select([self.fd], [], [], 1)[0]: return True
        try:
            data = os.read(self.fd, 65536)
        except OSError:
            data = b""
        self.said += data.decode(errors="replace")
        return data != b""

    def type(self, text): os.write(self.fd, text.encode())

    def end(self):
        while self.more(): pass
        os.close(self.fd)
        return os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])


def answer_at_terminal(folder, *words, locale="C.UTF-8", answers={}, wrong={}):
    t = Terminal(folder, *words, locale=locale)
    for number, name in enumerate(names, 1):
        check(f"question {number}, {name}", t.wait_for(rf"(?s)\b{number}/{len(names)} .*?\[[^]]*\] > "), t.said[-400:])
        for said, expected in wrong.get(name, []):
            t.type(said + "\n")
            text = t.wait_for(rf"(?s)\b{number}/{len(names)} .*?\[[^]]*\] > ") or ""
            check(f"{name}: '{said}' is explained and asked again", re.search(expected, text), text)
        t.type(answers.get(name, "") + "\n")
    return t.end(), t.said


os.chdir(tempfile.mkdtemp())
status, said = answer_at_terminal("metric", answers={"length": "5.4", "beam": "2200 mm", "trailer kind": "2", "ramp slope": "7 deg"}, wrong={
    "length": [("?", "stem head to transom"), ("fifty", "expected"), ("50", "found 50 m, expected 3.5 m to 8.5 m"), ("5 kg", "expected"), ("x" * 400, "too long")],
    "trailer kind": [("r2", "expected one of: 1 cradles, 2 keel rollers"), ("7", "expected one of")], "ramp slope": [("1:1", "expected 4 % to 25 %"), ("8", "without a unit; expected a slope")]})
check("a first scenario", status == 0, said[-500:])
check("what to type next", "drawdock run metric/launch.yaml" in said)
boat = yaml.safe_load(open("metric/boat.yaml"))
check("bare numbers have the unit, others stay as typed", (boat["length"], boat["beam"]) == ("5.4 m", "2200 mm"), boat)
check("choice by number", "keel roller" in open("metric/trailer.yaml").read())
check("slope as typed", "slope: 7 deg" in open("metric/ramp.yaml").read())
check("no question twice but after a wrong answer", said.count("> ") == len(names) + 9, said.count("> "))

status, said = answer_at_terminal("us", locale="en_US.UTF-8", answers={"length": "18 ft 4 in", "engine power": "115"})
check("US units by the country", status == 0 and "ft" in open("us/boat.yaml").read(), said[-500:])
texts = {name: open("us/" + name).read() for name in sorted(os.listdir("us"))}
check("six files", list(texts) == ["boat.yaml", "launch.yaml", "ramp.yaml", "retrieve.yaml", "trailer.yaml", "vehicle.yaml"])
check("as typed in feet and horsepower", "length: 18 ft 4 in" in texts["boat.yaml"] and "engine power: 115 hp" in texts["boat.yaml"])
check("no metric unit in US files", not re.search(r"\d (m|mm|kg|kN|N|kW|L|m/s)\b", "".join(texts.values())))
check("figures say where they come from", "as you said" in texts["boat.yaml"] and "from memory" in texts["boat.yaml"])
for folder in "metric", "us":
    for command in "check", "weigh", "seat", "brake", "depth":
        for action in "launch", "retrieve":
            if action == "retrieve" and command in ("weigh", "seat", "brake"): continue
            found = subprocess.run([tool, command, f"{folder}/{action}.yaml"], capture_output=True, text=True)
            check(f"{folder}: {command} of {action}", found.returncode == 0 and not found.stderr, found.stdout[:600], found.stderr)

t = Terminal("stopped")
t.wait_for("> "), t.type("5\n"), t.wait_for("> "), t.type("\x03")
check("interrupt", t.end() == 130 and "interrupted; nothing was written" in t.said, t.said)
t = Terminal("ended")
t.wait_for("> "), t.type("5\n"), t.wait_for("> "), t.type("\x04")
check("end of input", t.end() == 2 and "the answers ended at 'beam'" in t.said, t.said)
check("nothing is left behind", sorted(os.listdir(".")) == ["metric", "us"], os.listdir("."))


def begin(*words, text=""):
    return subprocess.run([tool, "begin", *words], input=text, capture_output=True, text=True)


lines = "5.4\n2.2\n" + "\n" * (len(names) - 2)
piped = begin("piped", text=lines)
check("answers in a pipe, without prompts", piped.returncode == 0 and piped.stderr == "", piped.stderr)
flags = begin("flags", "--usual", "-A", "length=5.4", "-A", "beam=2.2 m", "-q")
check("answers as flags", flags.returncode == 0 and flags.stdout == flags.stderr == "", flags.stderr)
same = subprocess.run(["diff", "-r", "piped", "flags"], capture_output=True, text=True)
check("the same files", same.returncode == 0, same.stdout)
check("left to ask", begin("asked", "-A", "length=5.4", text="\n" * (len(names) - 1)).returncode == 0)
check("never overwrites", (r := begin("flags", "--usual")).returncode == 2 and "never overwrites" in r.stderr)
os.mkdir("empty")
check("an empty folder will do", begin("empty", "--usual").returncode == 0 and len(os.listdir("empty")) == 6)
before = sorted(os.listdir("."))
for words, text, expected in [(["x"], "5.4\n", "ended at 'beam'"), (["x"], "5.4\n22\n", "beam: found 22 m"), (["x", "--usual", "-A", "width=2 m"], "", "with a name of these"),
                              (["x", "--usual", "-A", "length=50 m"], "", "expected 3.5 m to 8.5 m"), (["x", "--usual", "--units", "imperial"], "", "expected metric or us"),
                              (["x", "--usual", "-A", "boat mass=4500 kg", "-A", "length=3.5 m"], "", "does not float")]:
    found = begin(*words, text=text)
    check(f"refused: {words}", found.returncode in (2, 3) and expected in found.stderr and found.stdout == "", found.returncode, found.stderr)
check("and nothing is left", sorted(os.listdir(".")) == before, os.listdir("."))
print(f"[  PASSED  ] {passed} test(s).")
if failed: print(f"[  FAILED  ] {failed} test(s).")
sys.exit(failed > 0)
