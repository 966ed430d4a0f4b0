#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every shipped case that can be run ends as the comment at its head said before it was run: verdict and cause, compared
exactly. Its ledger closes within its bound and every recorded figure is finite or blank. A teaching case has a partner with
the remedy, which differs from it in one key (beside the title) and ends well. One argument or more: only these files.

Head of a case:
    # Expected verdict: ran off.
    # Expected cause: the strap was let off before the boat floated.    (words that the verdict's sentence holds)
    # Remedy: strap-left-on.yaml                                        (teaching cases)
A rig on the road, which has no procedure, says instead
    # Expected of weigh: words. Expected of seat: words.
and every case of rigs/ is weighed and seated too, which must give a report.
"""
import concurrent.futures
import glob
import json
import math
import os
import re
import subprocess
import sys
import tempfile

tool = os.environ["DRAWDOCK"]
source = os.environ["SOURCE_DIR"]
folder = os.path.join(source, "scenarios")
passed = failed = 0


def check(what, holds):
    global passed, failed
    if holds:
        passed += 1
    else:
        failed += 1
        print("FAILED:", what, flush=True)


def cases():
    names = sys.argv[1:] or sorted(
        glob.glob(folder + "/*.yaml") + glob.glob(folder + "/rigs/*.yaml") + glob.glob(folder + "/teaching/*.yaml"))
    return [os.path.abspath(name) for name in names]


def shipped():
    """Scenario files beside those that the build installs and packs."""
    with open(os.path.join(folder, "local.mk"), encoding="utf-8") as text:
        listed = set(re.findall(r"scenarios/\S+\.yaml", text.read()))
    found = {os.path.relpath(name, source) for name in glob.glob(folder + "/**/*.yaml", recursive=True)}
    check(f"scenarios/local.mk lists every scenario file, missing {sorted(found - listed)}", found <= listed)
    check(f"every file that scenarios/local.mk lists is there, missing {sorted(listed - found)}", listed <= found)


def head(name, key):
    with open(name, encoding="utf-8") as text:
        comment = "".join(line[1:].rstrip("\n") for line in text if line.startswith("#"))
    found = re.search(rf"{key}: (.*?)\.?(?: (?:Expected|Remedy)\b| *$)", comment)
    return re.sub(r"\s+", " ", found.group(1)).strip().removesuffix(".") if found else None


def run(name):
    with tempfile.TemporaryDirectory() as place:
        ran = subprocess.run([tool, "run", "--json", "-n", "-o", os.path.join(place, "out"), name], capture_output=True, text=True)
    try:
        return ran.returncode, json.loads(ran.stdout), ran.stderr
    except ValueError:
        return ran.returncode, None, ran.stderr


def finite(value):
    if isinstance(value, float):
        return math.isfinite(value)
    if isinstance(value, list):
        return all(map(finite, value))
    return all(map(finite, value.values())) if isinstance(value, dict) else True


def leaves(value, path=()):
    if isinstance(value, dict):
        return {k: v for key, part in value.items() for k, v in leaves(part, path + (key,)).items()}
    if isinstance(value, list):
        return {k: v for i, part in enumerate(value) for k, v in leaves(part, path + (i,)).items()}
    return {path: value}


def effective(name):
    shown = subprocess.run([tool, "show", "--json", name], capture_output=True, text=True)
    return {k: v for k, v in leaves(json.loads(shown.stdout)).items() if k != ("title",)} if shown.returncode == 0 else {}


def judge(name, outcome):
    label = os.path.relpath(name, folder)
    status, result, messages = outcome
    word, cause = head(name, "Expected verdict"), head(name, "Expected cause")
    check(f"{label}: the head says what is expected", word is not None)
    check(f"{label}: a result ({messages.strip()[:300]})", result is not None)
    if result is None or word is None:
        return
    check(f"{label}: expected '{word}', found '{result['word']}': {result['sentence']}", result["word"] == word)
    if cause is not None:
        check(f"{label}: expected the cause '{cause}', found: {result['sentence']}", cause in result["sentence"])
    check(f"{label}: complete", result["complete"])
    check(f"{label}: exit status {status}", status == (0 if result["verdict"] == "within" else 1))
    ledger = result["ledger"]
    check(f"{label}: ledger {ledger['residual']:.2g}, bound {ledger['bound']:.2g}", ledger["residual"] <= ledger["bound"])
    check(f"{label}: every figure is finite or blank", finite(result["rows"]))


def judge_pair(name, outcomes):
    label = os.path.relpath(name, folder)
    remedy = os.path.join(os.path.dirname(name), head(name, "Remedy") or "")
    check(f"{label}: the remedy '{remedy}' is shipped", remedy in outcomes)
    if remedy not in outcomes or outcomes[remedy][1] is None:
        return
    check(f"{label}: the remedy ends within the limits, found '{outcomes[remedy][1]['word']}'",
          outcomes[remedy][1]["verdict"] == "within")
    wrong, right = effective(name), effective(remedy)
    differ = [k for k in wrong.keys() | right.keys() if wrong.get(k) != right.get(k)]
    check(f"{label}: one key differs, found {sorted(map(str, differ))}", len(differ) == 1)


def report(study, name):
    made = subprocess.run([tool, study, "--json", name], capture_output=True, text=True)
    try:
        return made.returncode, json.loads(made.stdout), made.stderr
    except ValueError:
        return made.returncode, None, made.stderr


def judge_report(study, name):
    label = f"{os.path.relpath(name, folder)}: {study}"
    status, result, messages = report(study, name)
    check(f"{label}: a report ({messages.strip()[:300]})", result is not None)
    if result is None:
        return
    word = head(name, f"Expected of {study}")
    check(f"{label}: expected '{word}', found '{result['word']}': {result['sentence']}", word in (None, result["word"]))
    check(f"{label}: exit status {status}", status == (0 if result["verdict"] in ("within", "unchecked") else 1))
    check(f"{label}: tables and checks", len(result["tables"]) >= 2 and len(result["checks"]) >= 2)


def main():
    shipped()
    names = cases()
    on_the_road = [name for name in names if head(name, "Expected of weigh")]
    names = [name for name in names if name not in on_the_road]
    for name in on_the_road + [name for name in names if os.path.basename(os.path.dirname(name)) == "rigs"]:
        judge_report("weigh", name)
        judge_report("seat", name)
    for name in on_the_road:
        judge_report("brake", name)
    for name in names:  # a remedy is run with its case
        remedy = head(name, "Remedy")
        if remedy and os.path.join(os.path.dirname(name), remedy) not in names:
            names.append(os.path.join(os.path.dirname(name), remedy))
    check("the four first cases are among them", len(sys.argv) > 1 or len(names) >= 4)
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count() or 1) as pool:
        outcomes = dict(zip(names, pool.map(run, names)))
    for name in names:
        judge(name, outcomes[name])
        if head(name, "Remedy"):
            judge_pair(name, outcomes)
    print(f"[  PASSED  ] {passed} test(s).")
    if failed:
        print(f"[  FAILED  ] {failed} test(s).")
    return 1 if failed else 0


sys.exit(main())
