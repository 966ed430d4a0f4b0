#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# A rig typed in at the counter from a brochure, two plates and a tape, all invented: weigh and seat give a page for it, what is estimated
# is marked, what is not given is not passed. Sums by hand to the digit printed; the rest compared exactly.
. "$SOURCE_DIR/tests/cli/common.sh"
cat >new.yaml <<'Y'
drawdock: 1
title: New at the counter
boat: {length: 5.4 m, length of: hull, beam: 2.2 m, transom deadrise: 17 deg, mass: 560 kg, mass of: bare hull, engine power: 85 kW, engine mass: 165 kg}
trailer:
  mass: 380 kg
  aggregate mass rating: 1800 kg
  axles: [{behind coupling: 4.6 m, rating: 1600 kg}]
  supports:
    - {kind: keel roller, behind coupling: 3.4 m, above ground: 560 mm}
    - {kind: keel roller, behind coupling: 4.9 m, above ground: 560 mm}
    - {kind: keel roller, behind coupling: 6.3 m, above ground: 560 mm}
    - {kind: skid, behind coupling: 5.5 m, above ground: 740 mm, half spacing: 550 mm, length: 1.5 m}
  winch: {behind coupling: 0.95 m, above ground: 1.1 m}
  bow stop: {behind coupling: 1.2 m, above ground: 1.1 m}
vehicle: {mass: 2000 kg, gross mass rating: 2800 kg, wheelbase: 2.9 m, drive: four}
aboard: [{item: fuel, volume: 100 L, contents: petrol}]
rules: nz
Y
check 'short enough to type' [ "$(wc -l <new.yaml)" -le 20 ]
for study in weigh seat; do
    check "$study: a page" status 0 "$tool" $study new.yaml --no-plots -o $study
    check "$study: one screen" [ "$(wc -l <out)" -le 23 -a "$(wc -L <out)" -le 79 ]
    check "$study: what could not be checked leads" says out 'could not be checked'
    check "$study: it counts what is assumed" grep -q '^Assumed: [1-9]' out
done
check 'it says that the rollers carry nothing' says <(tr '\n' ' ' <out | tr -s ' ') 'Carries nothing at home: keel roller 2, keel roller 3'
check 'the class of its jurisdiction' grep -q '"to 2000 kg"' <("$tool" weigh -n new.yaml)
check 'figures and words of the page' "$PYTHON" -c '
import csv, json
rows = lambda name: list(csv.DictReader(open(name)))
report = json.load(open("weigh/result.json"))
load = {row["item"]: row for row in rows("weigh/loads.csv")}
fuel = 100 * 0.95 * 0.7475
boat = load["boat and engine"]
assert abs(float(load["fuel"]["mass_as_given_kg"]) - fuel) < 0.05, load
assert 725 <= float(boat["mass_as_given_kg"]) and float(boat["least_kg"]) < float(boat["mass_as_given_kg"]) < float(boat["most_kg"]), boat
assert "estimate" in boat["note"] and "no place given" in load["fuel"]["note"], load
road = rows("weigh/road.csv")[0]
assert abs(float(road["trailer_kg"]) - 380 - float(load["total"]["mass_as_given_kg"])) < 0.1, road
assert abs(float(road["on_axles_kg"]) + float(road["coupling_kg"]) - float(road["trailer_kg"])) < 0.2, road
missing = [check for check in report["checks"] if check["outcome"] == "not checked"]
assert len(missing) >= 20 and all("give " in check["words"] for check in missing), missing
assert not any(check["limit"] is not None and check["outcome"] == "not checked" and check["value"] is not None for check in report["checks"])
assert any("8 %" in line for line in report["assumed"]), report["assumed"]
seat = json.load(open("seat/result.json"))
supports = {row["support"]: float(row["load_kN"]) for row in rows("seat/supports.csv")}
assert set(supports) == {"keel roller 1", "keel roller 2", "keel roller 3", "skid 4", "bow stop", "winch strap"}, supports
weight = float(load["total"]["mass_as_given_kg"]) * 9.80665e-3
borne = supports["keel roller 1"] + supports["skid 4"]
assert 0.98 * weight < borne < 1.06 * weight, (weight, borne) # the skids lean by the deadrise: 1 / cos 17 deg = 1.05
assert any(check["name"] == "one roller of skid 4" and check["outcome"] == "not checked" for check in seat["checks"])'
check 'a plate more, a rating less to ask for' "$PYTHON" -c '
import json, subprocess, sys
def unchecked(*more):
    text = subprocess.run([sys.argv[1], "weigh", "--json", "-n", "new.yaml", *more], capture_output=True, text=True).stdout
    return {check["name"] for check in json.loads(text)["checks"] if check["outcome"] == "not checked"}
now = unchecked()
assert now - unchecked("--with", "trailer.coupling rating=1.5 kN") == {"coupling'"'"'s vertical load"}
assert now - unchecked("--with", "vehicle.tow ball rating=150 kg") == {"tow ball'"'"'s vertical load"}' "$tool"
check 'a rating too small is broken' status 1 "$tool" weigh -n new.yaml --with 'trailer.aggregate mass rating=1200 kg'
for key in 'mass of: bare hull, ' 'beam: 2.2 m, ' 'wheelbase: 2.9 m, '; do
    sed "s/$key//" new.yaml >short.yaml
    check "without $key" status 2 "$tool" weigh -n short.yaml
    check 'the key is told' says err "${key%%:*}"
done
finish
