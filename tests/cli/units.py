#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""--units: every reporting command says the same in US customary units. Each number of the US screen is turned back by the definitions of 1959
(grade: published) and compared with the metric screen's number in its place; tolerance: half a unit of the last digit of both. No metric unit
is left outside quoted words and sources. Files and --json are the same bytes in either."""
import json
import os
import re
import subprocess
import sys
import tempfile

tool, source = os.environ["DRAWDOCK"], os.environ["SOURCE_DIR"]
LB, INCH, FOOT, LBF, GALLON = 0.45359237, 0.0254, 0.3048, 4.4482216152605, 3.785411784
PSI = LBF / INCH**2
# metric unit: (its SI value, {US unit: its SI value})
UNITS = {"kg": (1, {"lb": LB}), "t": (1000, {"lb": LB}), "mm": (1e-3, {"in": INCH}), "m": (1, {"in": INCH, "ft": FOOT}), "km": (1000, {"ft": FOOT}),
         "N": (1, {"lbf": LBF}), "kN": (1000, {"lbf": LBF}), "kPa": (1000, {"psi": PSI}), "MPa": (1e6, {"psi": PSI}), "L": (1, {"US gal": GALLON}),
         "km/h": (1 / 3.6, {"mph": 1609.344 / 3600}), "m/s": (1, {"ft/s": FOOT}), "m/s2": (1, {"ft/s2": FOOT}), "N m": (1, {"lbf ft": LBF * FOOT}),
         "kN m": (1000, {"lbf ft": LBF * FOOT}), "kJ": (1000, {"ft lbf": LBF * FOOT}), "N m/rad": (1, {"lbf ft/rad": LBF * FOOT})}
METRIC = "|".join(sorted(map(re.escape, UNITS), key=len, reverse=True))
US = "|".join(sorted({re.escape(u) for _, us in UNITS.values() for u in us}, key=len, reverse=True))
NUMBER = r"[-+]?\d+(?:\.\d+)?(?:e[-+]?\d+)?"
passed = failed = 0


def check(what, good):
    global passed, failed
    passed, failed = passed + bool(good), failed + (not good)
    if not good:
        print("FAILED:", what)


def run(*arguments, status=(0, 1)):
    done = subprocess.run([tool, *arguments], capture_output=True, text=True, cwd=source, stdin=subprocess.DEVNULL,
                          env={**os.environ, "SOURCE_DATE_EPOCH": "1780000000"})
    check(f"{' '.join(arguments)}: status {done.returncode} {done.stderr}", done.returncode in status)
    return done.stdout


def last_digit(text):
    """What one of its last digit is worth."""
    mantissa, _, power = text.partition("e")
    point = len(mantissa.partition(".")[2])
    zeros = len(mantissa) - len(mantissa.rstrip("0")) if point == 0 and "e" not in text else 0
    return 10.0 ** (int(power or 0) - point + (min(zeros, 2) if float(text) else 0))


def agree(metric, unit, us, us_unit):
    si, others = UNITS[unit]
    if us_unit not in others:
        return False
    apart = abs(float(metric) * si - float(us) * others[us_unit])
    return apart <= 0.5001 * (last_digit(metric) * si + last_digit(us) * others[us_unit])


def quantities(text, units):
    return re.findall(r"(?<![\w.])(%s) (%s)(?![\w/])(?! m\b)" % (NUMBER, units), text)


def plain(screen):
    """Sentences and checks, without tables, lines that were cut, a rule's own words, events and sources."""
    head, _, rest = screen.partition("\nEvery check\n")
    first = re.split(r"\n(?=\S.*\n {2,}(?:place|state|trailer brakes|support|action|part) )", head)[0]
    text = first + "\n" + rest.partition("\nSources\n")[0] if rest else screen.partition("\nloads as the rig")[0]
    return re.sub(r"\s+", " ", "\n".join(line for line in text.split("\n") if "..." not in line and not re.match(r" +[\d.]+ (s|m|ft)  ", line))).replace("to 4500 kg", "")


def compare_sentences(name, metric, us):
    """Quantities with their unit behind them, in the order in which they stand."""
    ours, theirs = quantities(plain(metric), METRIC), quantities(plain(us), US)
    check(f"{name}: as many quantities, {len(ours)} and {len(theirs)}", len(ours) == len(theirs) and ours)
    wrong = [(m, u) for m, u in zip(ours, theirs) if not agree(m[0], m[1], u[0], u[1])]
    check(f"{name}: sentences agree: {wrong[:3]}", not wrong)
    left = quantities(plain(us), METRIC + "|kgf")
    check(f"{name}: no metric unit is left: {left[:3]}", not left)


def figures_of(report, screen):
    """Tables of the screen, title: rows of numbers; a table broken into parts has its rows one after another."""
    found = {}
    for block in screen.partition("\nEvery check\n")[0].split("\n\n"):
        lines = block.split("\n")
        for table in report["tables"]:
            heading = table["title"] + ("; levels above " + table["datum"] if table["datum"] else "")
            for height in (1, 2):  # a long one stands in two lines
                if " ".join(lines[:height]) == heading:
                    found[table["title"]] = [re.findall(r"(?<!\S)%s(?!\S)" % NUMBER, line) for line in lines[height:]]
    return found


def compare_json(name, arguments, us):
    """Each cell with a unit, from --json, stands turned on the US screen under the table's title."""
    report = json.loads(run(*arguments, "--json"))
    shown = figures_of(report, us)
    compared = wrong = 0
    for table in report["tables"]:
        if table["title"] not in shown or len(table["rows"]) > 60:
            continue
        numbers = [n for row in shown[table["title"]] for n in row]
        for c, column in enumerate(table["columns"]):
            if column["unit"] not in UNITS:
                continue
            si, others = UNITS[column["unit"]]
            for row in table["rows"]:
                if isinstance(row[c], (int, float)):
                    compared += 1
                    wrong += not any(abs(row[c] * si - float(n) * f) <= 0.5001 * f * last_digit(n) + 1e-9 for n in numbers for f in others.values())
    check(f"{name}: {compared} cells compared, {wrong} wrong", compared > 4 and wrong == 0)


def same_files(name, arguments, work):
    folders = [os.path.join(work, name + end) for end in ("-metric", "-us")]
    for folder, more in zip(folders, ([], ["--units", "us"])):
        run(*arguments, "-o", folder, "-n", "-q", *more)
    names = sorted(os.listdir(folders[0]))
    check(f"{name}: the same files: {names}", names and names == sorted(os.listdir(folders[1])))
    check(f"{name}: with the same bytes", all(open(os.path.join(folders[0], n), "rb").read() == open(os.path.join(folders[1], n), "rb").read() for n in names))


road, launch = "scenarios/on-the-road.yaml", "scenarios/launch.yaml"
tide = "scenarios/ramp-from-a-drawing.yaml"
REPORTS = {"weigh": ["weigh", road], "brake": ["brake", road], "seat": ["seat", road], "depth": ["depth", launch],
           "windows": ["depth", tide, "--date", "2026-07-14", "--launch-at", "08:00"], "trailers": ["weigh", road, "--trailers", "scenarios/trailers"],
           "fleet": ["fleet", "scenarios/fleet.yaml", "--with", "fleet.variants=[{name: lower toe, toe lower by: 0.3 m}]"]}
with tempfile.TemporaryDirectory() as work:
    for name, arguments in REPORTS.items():
        metric, us = run(*arguments, "--figures"), run(*arguments, "--figures", "--units", "us")
        if name != "trailers":
            compare_sentences(name, metric, us)
        compare_json(name, arguments, us)
        lines = [len(run(*arguments, *more).split("\n")) for more in ([], ["--units", "us"])]
        check(f"{name}: the first screen has its lines: {lines}", lines[1] <= max(24, lines[0]) or name == "trailers")
    for name in ("run", "settle"):
        compare_sentences(name, run(name, launch, "--figures"), run(name, launch, "--figures", "--units", "us"))
    check("metric is the default", run("weigh", road) == run("weigh", road, "--units", "metric"))
    same_files("weigh", ["weigh", road], work)
    same_files("settle", ["settle", launch], work)
    two = run("weigh", road, "scenarios/rigs/six-rocker-launch.yaml", "--units", "us")
    check("side by side: in lb", re.search(r"as given, trailer +lb +6090\.\d", two))
    us_rules = ["weigh", road, "--with", "rules=us", "--figures"]
    check("a US rule set's own units are the same", run(*us_rules) == run(*us_rules, "--units", "us"))
    check("and --units metric asks for others", re.search(r"\d kg", run(*us_rules, "--units", "metric")))
    check("words of a rule stand as they are", 'rule "to 4500 kg", GTM 5662 lb' in re.sub(r"\s+", " ", run("weigh", road, "--units", "us")))
    check("names of a fleet stand as they are", "toe 0.3 m lower" in run("fleet", "scenarios/fleet.yaml", "--units", "us"))
    run("weigh", road, "--units", "stones", status=(2,))
print(f"[  PASSED  ] {passed} test(s).")
if failed:
    print(f"[  FAILED  ] {failed} test(s).")
sys.exit(failed > 0)
