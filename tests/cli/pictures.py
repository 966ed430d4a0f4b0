#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The data behind every picture against pictures.txt: for each table that a picture reads, and each of its columns, the range and a
fingerprint of 24 letters, the means of as many runs of rows on 62 steps of the range. A picture that comes to show something else
differs; the last bits of another processor's sines do not. Every picture that --help lists is in it.
pictures.py --write makes pictures.txt anew: look at the pictures first."""
import csv
import difflib
import hashlib
import os
import re
import string
import subprocess
import sys
import tempfile

source, tool = os.environ["SOURCE_DIR"], os.environ["DRAWDOCK"]
kept = os.path.join(source, "tests/cli/pictures.txt")
shown = {  # command, its operands: pictures
    "run scenarios/launch.yaml": "side strap supports wheels alignment",
    "run scenarios/retrieve.yaml": "side strap supports wheels alignment",
    "settle scenarios/launch.yaml": "side curve",
    "weigh scenarios/on-the-road.yaml": "weigh",
    "seat scenarios/on-the-road.yaml": "seat carried",
    "brake scenarios/on-the-road.yaml": "brake",
    "depth scenarios/launch-on-the-tide.yaml --date 2026-07-14": "depth tide day",
    "depth scenarios/launch-on-the-tide.yaml --year 2026": "year",
    "fleet scenarios/fleet.yaml": "fleet reach",
}
letters = string.digits + string.ascii_uppercase + string.ascii_lowercase
runs = 24
rounding = 1e-5  # of any unit: what a boat that lies on the middle line is off it
passed = failed = 0


def check(what, good, told=""):
    global passed, failed
    passed, failed = passed + bool(good), failed + (not good)
    if not good:
        print("FAILED:", what, told)


def number(text):
    try:
        return float(text)
    except ValueError:
        return None


def tables_of(picture):
    """Tables that a picture's script and the scripts it loads read."""
    found, left = set(), [picture]
    while left:
        with open(f"{source}/plots/{left.pop()}.gnuplot", encoding="utf-8") as file:
            text = re.sub(r"^#.*", "", file.read(), flags=re.M)
        found |= set(re.findall(r'results\."/([a-z_-]+\.csv)', text))
        left += re.findall(r'load .*?([a-z]+)\.gnuplot', text)
    return found


def fingerprint(cells):
    """(least, greatest, letters) of a column of numbers, or a hash of one of words (its figures stand in other columns); a run of empty cells is a point."""
    numbers = [number(cell) for cell in cells]
    if any(n is None and cell != "" for n, cell in zip(numbers, cells)) or all(n is None for n in numbers):
        return hashlib.sha256(re.sub(r"\d+(\.\d+)?", "#", "\n".join(cells)).encode()).hexdigest()[:16]
    there = [n for n in numbers if n is not None]
    least, greatest = min(there), max(there)
    if max(-least, greatest) < rounding:
        return "nothing"
    text = ""
    for k in range(min(runs, len(cells))):
        part = numbers[k * len(cells) // min(runs, len(cells)):(k + 1) * len(cells) // min(runs, len(cells))]
        part = [n for n in part if n is not None]
        mean = sum(part) / len(part) if part else None
        text += "." if mean is None else letters[round(61 * (mean - least) / (greatest - least))] if greatest > least else "="
    return f"{least:.4g} .. {greatest:.4g} {text}"


def same(a, b):
    """One letter of 62, or a hundredth of the range, is not another picture."""
    a, b = a.split(), b.split()
    if len(a) != len(b) or len(a) != 4 or len(a[3]) != len(b[3]):
        return a == b
    span = max(float(a[2]) - float(a[0]), 1e-3 * max(abs(float(a[2])), abs(float(a[0])), 1e-9))
    return (abs(float(a[0]) - float(b[0])) <= 0.01 * span and abs(float(a[2]) - float(b[2])) <= 0.01 * span and
            all(p == q or (p in letters and q in letters and abs(letters.index(p) - letters.index(q)) <= 1) for p, q in zip(a[3], b[3])))


def read(folder, name):
    with open(os.path.join(folder, name), encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def lines_of(work, told, pictures):
    operands = told.split()
    operands[1] = f"{source}/{operands[1]}"
    folder = os.path.join(work, re.sub(r"\W+", "-", told))
    ended = subprocess.run([tool, *operands, "-q", "--no-plots", "-o", folder], capture_output=True, text=True)
    check(told, ended.returncode in (0, 1), ended.stderr[:300])
    for name in sorted(set().union(*map(tables_of, pictures.split()))):
        if not os.path.exists(os.path.join(folder, name)):
            yield f"{told}, {name}", "-", "not there"
            continue
        rows = read(folder, name)
        for k, column in enumerate(rows[0]):
            yield f"{told}, {name}", f"{k + 1} {column}", fingerprint([row[k] if k < len(row) else "" for row in rows[1:]]) if rows[1:] else "no row"


def write(now):
    with open(kept, "w", encoding="utf-8") as file:
        table = None
        for key, value in now.items():
            if key[0] != table:
                table = key[0]
                print(table, file=file)
            print(f" {key[1]}: {value}", file=file)


def main():
    with tempfile.TemporaryDirectory() as work:
        now = {(table, column): value for told, pictures in shown.items() for table, column, value in lines_of(work, told, pictures)}
    if sys.argv[1:] == ["--write"]:
        write(now)
        return
    with open(f"{source}/tools/drawdock/files.def", encoding="utf-8") as file:
        listed = set(re.findall(r'^DRAWDOCK_PLOT\(.*?, "(\w+)"', file.read(), flags=re.M))
    drawn = set(" ".join(shown.values()).split())
    check("every picture of files.def is here", listed == drawn, sorted(listed ^ drawn))
    with open(kept, encoding="utf-8") as file:
        before, table = {}, None
        for line in file.read().splitlines():
            if line.startswith(" "):
                column, value = line.strip().split(": ", 1)
                before[table, column] = value
            else:
                table = line
    there, here = (["  ".join(key) for key in keys] for keys in (before, now))
    check("columns as kept", there == here, "\n".join(list(difflib.unified_diff(there, here, lineterm="", n=0))[:20]))
    for key in (key for key in now if key in before):
        check(key, same(before[key], now[key]), f"\n  kept {before[key]}\n  now  {now[key]}")
    print(f"{passed} passed, {failed} failed")
    sys.exit(failed != 0)


main()
