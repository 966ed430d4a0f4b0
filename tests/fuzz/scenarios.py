#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Random valid scenarios, plausible and extreme: whatever the schema allows ends with an answer in words.

    scenarios.py [--count N] [--first SEED] [--keep DIR] [--only NAME_OR_SEED] [--jobs N] [--verbose]

A seed makes the same scenario everywhere: every fourth a shipped one with keys changed (varied.py), the others a rig of their own. Without options: the fixed list of faults found before, and the first seeds, as a test.
For each scenario `run` or `settle` must end in time with status 0, 1 or 2, no sanitizer may speak, the table must hold only finite
numbers where a number belongs, and the sentence must say why in the words of the verdict. Grades: the bounds are settings of this test.
"""
import argparse
import csv
import glob
import json
import math
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor

SOURCE = os.environ.get("SOURCE_DIR", os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", ".."))
TOOL = os.environ.get("DRAWDOCK", "drawdock")
sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(SOURCE, "tests", "fuzz"))
import faults  # noqa: E402
from varied import varied  # noqa: E402

LONGEST = 900.0  # s of wall time after which one scenario hangs; none takes a hundredth of it
MOST_STRAP = 100.0  # tension over the boat's weight that nothing explains

OTHER_WORDS = {
    "launch works", "retrieve works", "a limit is broken", "off the toe", "slid", "swamped", "dropped", "aground", "unsteady", "too far back", "strap too short", "stuck", "off centre", "on a bracket",
    "beside the roller", "short of the stop", "ran off", "adrift", "too heavy to wind", "does not float off", "too long", "bed not level", "not afloat", "not captured",
}
# Every word that a cause can give (lib/study/causes.def), and those of runs that no event decides.
with open(os.path.join(SOURCE, "lib", "study", "causes.def"), encoding="utf-8") as causes:
    RUN_WORDS = OTHER_WORDS | set(re.findall(r'(?:DECIDES|BREAKS)[^"]*?,\s*"([^"]+)"', causes.read()))
SETTLE_WORDS = {"floats off", "falls", "not afloat"}


def measure(value, unit="m"):
    return f"{value:.6g} {unit}"


class Draw:
    """One random scenario. `wild` stretches ranges to what only a slip of the hand or a strange rig gives."""

    def __init__(self, seed):
        self.random = random.Random(seed)
        self.wild = self.random.random() < 0.5

    def of(self, low, high, wild_low=None, wild_high=None, log=False):
        if self.wild and self.random.random() < 0.4:
            low, high = low if wild_low is None else wild_low, high if wild_high is None else wild_high
        if log:
            return math.exp(self.random.uniform(math.log(low), math.log(high)))
        return self.random.uniform(low, high)

    def chance(self, share):
        return self.random.random() < share

    def boat(self):
        self.length = self.of(4.0, 6.5, 3.0, 9.0)
        mass = 900.0 * (self.length / 5.0) ** 3 * self.of(0.7, 1.3, 0.4, 1.8)
        self.mass = min(max(mass, 300.0), 3500.0) if self.wild else min(max(mass, 300.0), 2500.0)
        self.beam = self.length * self.of(0.38, 0.45, 0.33, 0.5)
        self.deadrise = self.of(8, 22, 0, 25)
        boat = {"length": measure(self.length), "length of": "hull", "beam": measure(self.beam), "transom deadrise": measure(self.deadrise, "deg"),
                "mass": measure(self.mass, "kg"), "mass of": self.random.choice(["bare hull", "hull and engine", "ready to go"]),
                "engine power": measure(self.of(15, 90, 0, 150), "kW")}
        if self.chance(0.2):
            boat["centre from transom"] = measure(self.length * self.of(0.36, 0.44, 0.25, 0.55))
        if self.chance(0.1):
            boat["centre height"] = measure(self.of(0.4, 0.7, 0.2, 1.2))
        return boat

    def support(self, kind, at, height, name, deadrise):
        one = {"kind": kind, "name": name, "behind coupling": measure(at), "above ground": measure(height)}
        if kind == "cradle":
            rows = self.random.randint(1, 4)
            wide = self.beam * self.of(0.12, 0.15), self.beam * self.of(0.26, 0.32)
            one.update({"rows": rows, "row spacing": measure(self.of(0.2, 0.45)), "deadrise": measure(deadrise, "deg"),
                        "half spacings": [measure(w) for w in (wide if self.chance(0.7) else wide[1:])]})
        elif kind == "roller":
            one.update({"half spacing": measure(self.beam * self.of(0.15, 0.3, 0.05, 0.45)), "deadrise": measure(deadrise, "deg")})
            if self.wild and self.chance(0.1):
                one["side"] = self.random.choice(["port", "starboard"])
        elif self.chance(0.5):
            one["width"] = measure(self.of(0.1, 0.3, 0.05, 0.5))
        if self.chance(0.3):
            one["side friction"] = self.of(0.2, 0.8, 0, 1)
        if self.chance(0.3):
            one["rolling resistance"] = self.of(0.03, 0.15, 0, 0.3)
        if self.chance(0.3):
            one["squash at rated load"] = measure(self.of(2, 8, 0.2, 25, log=True), "mm")
        if self.chance(0.5):
            one["rated load"] = measure(self.of(1.5, 5, 0.5, 20), "kN")
        return one

    def trailer(self):
        stop = self.of(1.2, 1.6, 0.8, 2.2)
        transom = stop + self.length
        axle = stop + self.length * self.of(0.60, 0.68, 0.5, 0.8)
        height = self.of(0.5, 0.65, 0.35, 0.9)
        ready = self.mass + 300
        layout = self.random.choice(["cradles"] * 3 + ["keel", "pairs", "mixed"] + (["one pair", "one cradle"] if self.wild else []))
        kinds = {"cradles": ["cradle"] * 2, "keel": ["keel roller"] * self.random.randint(2, 5), "one pair": ["roller"], "one cradle": ["cradle"],
                 "pairs": ["roller"] * self.random.randint(2, 4), "mixed": ["keel roller", "cradle"] + ["keel roller"] * self.random.randint(0, 2)}[layout]
        last = transom - self.length * self.of(0.05, 0.2, 0.0, 0.4)
        first = stop + self.length * self.of(0.35, 0.45, 0.2, 0.6)
        supports = []
        for i, kind in enumerate(kinds):
            share = i / (len(kinds) - 1) if len(kinds) > 1 else 1.0
            at = first + share * (last - first)
            deadrise = self.deadrise + 3.0 * max(0.0, transom - at) / (0.5 * self.length) + self.of(-1, 1, -5, 5)
            slip = self.of(-0.005, 0.005, -0.05, 0.05)
            supports.append(self.support(kind, at, height + slip, f"support {i + 1}", min(max(deadrise, 0.0), 60.0)))
        keel_rise = 0.55 * 1.25 * 0.17 * self.length
        trailer = {"mass": measure(self.of(0.2, 0.4) * self.mass + 80, "kg"), "coupling height": measure(self.of(0.38, 0.46, 0.3, 0.6)),
                   "tyre radius": measure(self.of(0.28, 0.32, 0.2, 0.4)), "axles": [{"behind coupling": measure(axle), "rating": measure(1.2 * ready, "kg")}],
                   "supports": supports,
                   "winch": {"behind coupling": measure(stop - self.of(0.2, 0.5, 0.0, 0.7)), "above ground": measure(height + 0.85 * keel_rise + self.of(-0.1, 0.25, -0.4, 0.8)),
                             "gear ratio": self.of(3, 10, 1, 20)},
                   "bow stop": {"behind coupling": measure(stop + self.of(-0.05, 0.05, -0.4, 0.4)),
                                "above ground": measure(height + 0.8 * keel_rise + self.of(-0.05, 0.05, -0.4, 0.4)), "half height": measure(self.of(0.1, 0.2, 0.03, 0.4))}}
        if self.chance(0.3):
            trailer["axles"].append({"behind coupling": measure(axle + 0.8), "rating": measure(1.2 * ready, "kg")})
        if self.chance(0.3):
            trailer["winch"]["pretension"] = measure(self.of(100, 800, 0, 3000), "N")
        if self.chance(0.2):
            trailer["winch"]["strap stretch at rating"] = self.of(0.04, 0.08, 0.002, 0.2)
        return trailer

    def ramp(self):
        n = self.of(7, 10, 5, 20)
        self.crest = 3.0
        ramp = {"slope": f"1:{n:.4g}", "crest level": "3 m", "toe level": measure(self.of(-1.5, -0.5, -2, 1.0)), "toe step": measure(self.of(0, 0.1, 0, 0.5)),
                "bed slope": f"1:{self.of(10, 14, 4, 50):.4g}"}
        if self.chance(0.4):
            low = self.of(0.25, 0.5, 0.05, 0.9)
            ramp["surfaces"] = [{"name": "slab", "from": "0 m", "friction low": low, "friction high": low + 0.15}]
        self.level = self.of(0.5, 1.8, -0.8, 3.3)
        return ramp

    def procedure(self, action):
        speed = self.of(0.3, 0.8, 0.05, 2.0, log=True)
        if action == "launch":
            steps = [{"back down": {"speed": measure(speed, "m/s"), "until": {"hub depth": measure(self.of(0.25, 0.6, -0.2, 1.2))}}}]
            if self.chance(0.95):
                steps.append({"let strap off": None})
            if self.wild and self.chance(0.2):
                steps.reverse()
            push = {"force": measure(self.of(60, 250, 1, 2000, log=True), "N"), "time limit": "60 s"}
            if self.chance(0.8):
                push["until"] = {"distance clear": measure(self.of(0.3, 1.0, 0, 20))}
            steps.append({"push off": push})
            if self.chance(0.3):
                steps.append({"pull out": {"speed": measure(speed, "m/s"), "until": {"water clear": "0.3 m"}}})
            return steps
        steps = [{"hook on": None}]
        steps.append({"wind in": {"speed": measure(self.of(0.04, 0.12, 0.01, 0.5), "m/s"), "time limit": measure(self.of(100, 200, 20, 300), "s")}})
        steps.append({"pull out": {"speed": measure(speed, "m/s"), "until": {"water clear": "0.3 m"}}})
        return steps

    def scenario(self):
        action = self.random.choice(["launch", "retrieve"])
        case = {"drawdock": 1, "title": "Drawn at random", "action": action, "boat": self.boat(), "trailer": self.trailer(),
                "vehicle": {"based on": "vehicles/utility-4wd.yaml"}, "ramp": self.ramp()}
        case["water"] = {"level": measure(self.level), "kind": self.random.choice(["sea", "fresh", "brackish"]),
                         "current": measure(0.0 if self.chance(0.5) else self.of(-0.5, 0.5, -3, 3), "knot")}
        if self.chance(0.5):
            case["vehicle"]["drive"] = self.random.choice(["front", "rear", "four"])
            case["vehicle"]["mass"] = measure(self.of(1200, 2800, 800, 3500), "kg")
        case["aboard"] = [{"item": f"item {i + 1}", "mass": measure(self.of(10, 80, 1, 300), "kg"),
                           "at": [measure(self.of(0.1, 0.8) * self.length), measure(self.of(-0.1, 0.1, -0.4, 0.4) * self.beam), measure(self.of(0.2, 0.6, 0, 1.5))]}
                          for i in range(self.random.randint(0, 3))]
        if action == "launch":
            case["start"] = {"hub depth": measure(self.of(-0.8, -0.2, -3, 0.6))}
        else:
            case["start"] = {"hub depth": measure(self.of(0.3, 0.6, -0.4, 1.5)), "bow distance": measure(self.of(0.0, 0.6, 0, 3)),
                             "offset to port": measure(self.of(-0.1, 0.1, -1, 1)), "heading": measure(self.of(-4, 4, -40, 40), "deg")}
        case["procedure"] = self.procedure(action)
        case["time limit"] = measure(self.of(200, 400, 5, 400), "s")
        case["record interval"] = measure(self.of(50, 200, 10, 5000, log=True), "ms")
        if self.chance(0.1):
            case["tolerance"] = "fine"
        return case


def drawn(seed):
    if seed % 4 == 0:
        return ("settle" if seed % 12 == 8 else "run"), varied(seed, TOOL, SOURCE)
    draw = Draw(seed)
    case = draw.scenario()
    return ("settle" if seed % 3 == 2 else "run"), case


def check_table(path, problems):
    with open(path, newline="", encoding="utf-8") as file:
        for number, row in enumerate(csv.DictReader(line for line in file if not line.startswith("#"))):
            for name, value in row.items():
                if value and value.lower().lstrip("-") in ("nan", "inf", "infinity"):
                    problems.append(f"row {number + 1}: {name} is {value}")
                    return


def check_result(command, case, result, problems):
    if not result["complete"]:
        return
    words = RUN_WORDS if command == "run" else SETTLE_WORDS
    if result["word"] not in words:
        problems.append(f"unknown word '{result['word']}'")
    sentence = result["sentence"]
    for bad in ("nan", "inf ", "(null)", "-0.00 ", "dd_"):
        if bad in sentence.lower():
            problems.append(f"sentence holds '{bad}'")
    if not sentence.endswith("."):
        problems.append("sentence without its full stop")
    if command == "run" and not result["ledger"]["residual"] <= result["ledger"]["bound"]:
        problems.append("the ledger is open")
    weight = 9.81 * float(case["boat"]["mass"].split()[0]) if isinstance(case.get("boat"), dict) and "mass" in case["boat"] else 1e4
    for margin in result["margins"]:
        if margin["unit"] == "N" and margin["value"] is not None and margin["value"] > MOST_STRAP * weight:
            problems.append(f"{margin['name']}: {margin['value']:.4g} N with a weight of {weight:.4g} N")


def try_one(label, command, case, folder, arguments=()):
    path, out = os.path.join(folder, f"{label}.yaml"), os.path.join(folder, f"{label}.out")
    if isinstance(case, str):  # a shipped scenario
        path, case = os.path.join(SOURCE, "scenarios", case + ".yaml"), {}
    else:
        with open(path, "w", encoding="utf-8") as file:
            json.dump(case, file, indent=1)
    shutil.rmtree(out, ignore_errors=True)
    started, problems, result = time.monotonic(), [], None
    try:
        done = subprocess.run([TOOL, command, "-n", "-q", "-o", out, *arguments, path], capture_output=True, text=True, timeout=LONGEST, check=False)
        status, errors = done.returncode, done.stderr
    except subprocess.TimeoutExpired:
        status, errors = -1, ""
        problems.append(f"no end within {LONGEST:.0f} s")
    if any(word in errors for word in ("Sanitizer", "runtime error")):
        problems.append("sanitizer: " + errors[:300])
    table = glob.glob(os.path.join(out, "timeline.csv")) + glob.glob(os.path.join(out, "curve.csv"))
    if os.path.exists(os.path.join(out, "result.json")):
        with open(os.path.join(out, "result.json"), encoding="utf-8") as file:
            result = json.load(file)
        check_result(command, case, result, problems)
        if result["complete"] and table:
            check_table(table[0], problems)
    if status not in (0, 1, 2, -1):
        problems.append(f"status {status}")
    if status in (0, 1) and result is None:
        problems.append(f"status {status} without a result")
    if status == 2 and not errors.strip():
        problems.append("status 2 without a message")
    if command == "run" and result is not None and result["complete"] and (status == 0) != (result["verdict"] == "within"):
        problems.append(f"status {status} with the verdict {result['verdict']}")
    text = f"{result['word']}: {result['sentence']}" if result else errors.strip().replace("\n", " | ")
    return {"label": label, "command": command, "status": status, "problems": problems, "text": text, "seconds": time.monotonic() - started}


def main():
    parser = argparse.ArgumentParser(description="random valid scenarios")
    parser.add_argument("--count", type=int, default=60)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--keep")
    parser.add_argument("--only")
    parser.add_argument("--verbose", action="store_true")
    options = parser.parse_args()
    folder = options.keep or tempfile.mkdtemp()
    os.makedirs(folder, exist_ok=True)
    # 'based on' and part files are found beside the scenario.
    for part in ("boats", "trailers", "vehicles", "ramps"):
        shutil.copytree(os.path.join(SOURCE, "scenarios", part), os.path.join(folder, part), dirs_exist_ok=True)
    work = [(name, command, case, expected, [word for change in changes for word in ("-w", change)])
            for name, command, case, changes, expected in faults.FAULTS]
    work += [(str(seed), *drawn(seed), "", []) for seed in range(options.first, options.first + options.count)]
    if options.only:
        work = [one for one in work if one[0] == options.only] or [(options.only, *drawn(int(options.only)), "", [])]

    def do(one):
        label, command, case, expected, arguments = one
        found = try_one(label, command, case, folder, arguments)
        if expected and not found["text"].startswith(expected):
            found["problems"].append(f"expected '{expected}'")
        return found

    passed = failed = 0
    with ThreadPoolExecutor(options.jobs) as pool:
        for found in pool.map(do, work):
            bad = bool(found["problems"])
            failed, passed = failed + bad, passed + (not bad)
            if bad or options.verbose:
                print(f"{'FAILED' if bad else 'ok'} {found['label']} {found['command']} ({found['status']}, {found['seconds']:.1f} s) "
                      f"{'; '.join(found['problems'])} [{found['text'][:400]}]", flush=True)
    if not options.keep:
        shutil.rmtree(folder)
    print(f"[  PASSED  ] {passed} test(s).")
    if failed:
        print(f"[  FAILED  ] {failed} test(s).")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
