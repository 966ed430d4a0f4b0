#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# What `begin` writes for boats of many sizes, masses and deadrises works: every file is read without an error, launch and retrieve on
# a ramp that suits end within the limits, the transom is by the last support, every support bears, and none more than two thirds (but skids). Two rigs in the suite; `begin_grid.py all` takes 96 rigs, by hand.
# Compared exactly: the exit status of the tool says it.
import json, os, subprocess, sys, tempfile

tool, everything = os.environ["DRAWDOCK"], sys.argv[1:] == ["all"]
kinds = ["cradles", "keel rollers", "skids", "rocker"]
# hull length m, deadrise deg, bare hull kg: light, usual and heavy; 0.35 to 4 t laden
boats = [(3.7, 5, 160), (3.7, 12, 330), (4.2, 8, 260), (4.5, 14, 420), (4.5, 20, 620), (5, 10, 480), (5, 18, 690), (5.4, 17, 560), (5.5, 22, 1100), (6, 14, 900),
         (6, 20, 1300), (6, 24, 1700), (6.5, 18, 1300), (6.5, 22, 1900), (7, 16, 1500), (7, 21, 2100), (7, 24, 2600), (7.5, 12, 1700), (7.5, 20, 2300), (7.5, 24, 2900),
         (8, 10, 1900), (8, 18, 2600), (8, 22, 3000), (8, 24, 3300)]
chosen = [(boat, kind) for boat in boats for kind in kinds] if everything else [(boats[0], "rocker"), (boats[8], "skids")]

def run(*words):
    return subprocess.run([tool, *words], capture_output=True, text=True)

passed, failed = 0, 0
with tempfile.TemporaryDirectory() as work:
    for number, ((length, deadrise, mass), kind) in enumerate(chosen):
        folder = f"{work}/{number}"
        units = "us" if number % 2 else "metric"
        answers = {"length": f"{length} m", "transom deadrise": f"{deadrise} deg", "boat mass": f"{mass} kg", "trailer kind": kind}
        made = run("begin", folder, "--usual", "--units", units, *[word for item in answers.items() for word in ("--answer", "=".join(item))])
        wrong = [] if made.returncode == 0 and not made.stderr else [f"begin: status {made.returncode}: {made.stdout}{made.stderr}"]
        if not wrong:
            if "no place" in made.stdout: wrong.append(made.stdout.splitlines()[1])
            weighed = json.loads(run("weigh", "--json", f"{folder}/launch.yaml").stdout)
            shares = [c["value"] for c in weighed["checks"] if c["name"] == "coupling share"]
            if not all(abs(share - 8) < 0.1 for share in shares) or not shares: wrong.append(f"share on the coupling: {shares} %, planned 8")
            seated = json.loads(run("seat", "--json", f"{folder}/launch.yaml").stdout)
            rows = next(table["rows"] for table in seated["tables"] if table["key"] == "supports")
            wrong += [f"{row[0]} bears {row[2]:.0f} %" for row in rows if row[2] is not None and not 2 < row[2] < (90 if "skids" in row[0] else 67)]
            overhang = next(c["value"] for c in seated["checks"] if c["name"] == "transom past the last support")
            if not overhang <= 100: wrong.append(f"transom past the last support: {overhang:.0f} mm")
            wrong += [f"{c['name']}: {c['outcome']}" for c in seated["checks"] if c["outcome"] not in ("good", "caution", "not checked")]
            for action in ("launch", "retrieve"):
                found = run("run", f"{folder}/{action}.yaml")
                if found.returncode: wrong.append(f"{action}: status {found.returncode}: " + " | ".join(found.stdout.splitlines()[:3]) + found.stderr)
        passed, failed = passed + (not wrong), failed + bool(wrong)
        if wrong: print(f"FAILED: {length} m, {deadrise} deg, {mass} kg on {kind}:", *wrong, sep="\n  ", flush=True)
print(f"[  PASSED  ] {passed} test(s).")
if failed: print(f"[  FAILED  ] {failed} test(s).")
sys.exit(failed > 0)
