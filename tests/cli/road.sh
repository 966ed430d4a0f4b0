#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# weigh and seat: what is printed and written, side by side, limits, and input that cannot be. All compared exactly; the screen is
# 80 x 24.
. "$SOURCE_DIR/tests/cli/common.sh"
road=$SOURCE_DIR/scenarios/on-the-road.yaml

for study in weigh seat; do
    check "$study" status 0 "$tool" $study "$road" -o $study
    check "$study: one screen" [ "$(wc -l <out)" -le 23 -a "$(wc -L <out)" -le 79 -a -s out ]
    check "$study: never called safe" bash -c '! grep -qiw safe out'
    check "$study: cautions" grep -q 'weigh the finished rig on a public weighbridge' <(tr '\n' ' ' <out | tr -s ' ')
    check "$study: nothing on stderr" empty err
    check "$study: its table" [ -s $study/$study.csv ]
    check "$study: its picture" [ -s $study/$study.svg ]
    check "$study: again over its own result" status 0 "$tool" $study "$road" -o $study -q
    check "$study: JSON" status 0 "$tool" $study --json "$road"
    check "$study: JSON is the file" same out $study/result.json
    check "$study: every table" status 0 "$tool" $study --figures "$road"
    check "$study: tables within the width" [ "$(wc -L <out)" -le 79 ]
    check "$study: sources are named" grep -q '^Sources' out
    check "$study: a launch is a rig too" status 0 "$tool" $study "$scenario"
    check "$study: side by side" status 0 "$tool" $study "$road" "$SOURCE_DIR/scenarios/rigs/six-rocker-launch.yaml"
    check "$study: side by side: what differs" grep -q '^What differs' out
done
four=("$road" "$SOURCE_DIR"/scenarios/rigs/six-rocker-launch.yaml "$SOURCE_DIR"/scenarios/rigs/seven-multi-roller-launch.yaml "$SOURCE_DIR"/scenarios/set-up-by-eye.yaml)
check 'four rigs side by side' status 0 "$tool" weigh "${four[@]}"
check 'in one part: long names stand in two lines' [ "$(grep -c '^  figure' out)" -eq 1 ]
check 'within the width' [ "$(wc -L <out)" -le 79 ]
check 'the numbers beside the first line, the rest of the name indented' grep -A1 -E '^  rating of axle 1 .*1700\.0 ' <(grep -A1 'rating of axle 1' out | grep -B1 -E '^    [a-z ]+$')
check 'pictures of seat' [ -s seat/carried.svg ]
check 'a section at each support' [ "$(grep -c ' side, .* m behind the coupling (mm)' seat/carried.svg)" -eq 2 ]
check 'every distance stands in it' "$PYTHON" -c '
import csv, re, sys
drawn = re.findall(r">\s*(-?\d+)\s*<", open("seat/carried.svg").read())
rows = list(csv.DictReader(open("seat/distances.csv")))
wanted = ["%.0f" % float(row["distance_mm"]) for row in rows]
sys.exit(f"{wanted} are wanted" if len(rows) != 8 or any(drawn.count(w) < wanted.count(w) for w in wanted) else 0)'
check 'every field of JSON is in the help' "$PYTHON" -c '
import json, subprocess, sys
text = subprocess.run([sys.argv[1], "weigh", "--help"], capture_output=True, text=True).stdout
fields = {line.split()[0] for line in text.split("Fields of result.json")[1].splitlines()[1:] if line.startswith("  ")}
found = set()
def walk(value, path):
    if isinstance(value, dict):
        for key, below in value.items():
            found.add(path + key)
            walk(below, path + key + ".")
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        for below in value:
            walk(below, path[:-1] + "[].")
walk(json.load(open("weigh/result.json")), "")
sys.exit(f"only in one of them: {sorted(found ^ fields)}" if found != fields else 0)' "$tool"

check 'a rating too small' status 1 "$tool" weigh "$road" --with 'trailer.aggregate mass rating=2500 kg'
check 'it is named' grep -q "trailer's aggregate mass .* BROKEN" out
check 'it leads' grep -q 'broken' <(head -1 out)
check 'brakes that are not allowed' status 1 "$tool" weigh "$road" --with 'trailer.brakes.fitted=overrun' -o overrun
check 'what has no use in per cent is drawn when it is not met' grep -qF 'overrun brakes (not allowed)' overrun/weigh.svg
check 'names are drawn whole: gnuplot ends them at a comma' bash -c '! grep -Eq "^(ratings|rules|wheels|coupling),\"" weigh/weigh.csv'
check 'a heavier engine side by side is a change' bash -c "sed 's/^title.*/title: heavier/; s#boat: boats/half-cabin-six-metre.yaml#boat: {based on: boats/half-cabin-six-metre.yaml, mass: 1920 kg}#' '$road' >heavier.yaml"
check 'before and after' status 0 "$tool" weigh "$road" heavier.yaml
check 'the change is told' grep -Eq 'as given, trailer +kg .* 40\.0$' out
check 'P246: the heavier engine on the ball' grep -Eq '^  as given, coupling +kg .* [1-9]\.[0-9]$' out
check 'P246: seat before and after' status 0 "$tool" seat "$road" heavier.yaml
check 'P246: what the supports bear more' grep -Eq '^  front cradle, load +kN .* 0\.[1-9][0-9]*$' out
check 'P246: brake before and after' status 0 "$tool" brake "$road" heavier.yaml
check 'P246: the stop is longer' grep -Eq '^  none, dry +m .* [0-9]\.[1-9][0-9]*$' out
check 'P248: a hitch 100 mm lower is a change' bash -c "sed 's/^title.*/title: drooping/; s#  kerb mass: 2050 kg#  kerb mass: 2050 kg\n  coupling height: 320 mm#' '$road' >drooping.yaml"
check 'P248: weigh level against drooping' status 0 "$tool" weigh "$road" drooping.yaml
check 'P248: less on the ball' grep -Eq '^  as given, coupling +kg .* -[1-9][0-9]\.[0-9]$' out
check 'P248: seat level against drooping' status 0 "$tool" seat "$road" drooping.yaml
check 'P248: the boat floats off in less water' grep -Eq '^  12.5 %, hub under water +mm .* -[1-9][0-9]\.[0-9]$' out
check 'P248: and pitches less' grep -Eq '^  12.5 %, pitch +deg .* -[0-9]\.[0-9]+$' out
check 'P248: brake level against drooping' status 0 "$tool" brake "$road" drooping.yaml
check 'P248: less on the ball in a stop' grep -Eq '^  none, ball most +N .* -[1-9][0-9]*\.[0-9]$' out
check 'a roller rated for less' status 1 "$tool" seat "$road" --with 'trailer.supports[front cradle].rated load=4 kN'
check 'the roller is named' grep -q 'one roller of front cradle .* BROKEN' out
check 'where the supports meet the hull' [ "$(wc -l <seat/contacts.csv)" -eq 29 ]
check 'its columns have units' grep -q '^roller,panel,from_transom_m,to_port_m,.*,gap_mm,angle_to_panel_deg,.*,to_strake_1_mm,to_strake_2_mm$' seat/contacts.csv
check 'what comes in the way of them' grep -q '^front cradle port 1.1,inner,launching,the strake comes across,' seat/travel.csv
check 'a strake beside a roller' status 1 "$tool" seat "$road" --with 'trailer.supports[front cradle].half spacings=[300 mm, 750 mm]'
check 'the roller, the strake and the place are told' says out 'front cradle port 2.1 beside the strake outer, when the hull has run'
check 'a clearance that is asked' status 1 "$tool" seat "$road" --with 'seating.clearance=50 mm'
check 'strakes not given are not checked' status 0 "$tool" seat "$road" --with 'boat.strakes=[]'
check 'it says so' says out 'clearance to strakes'
check 'a strake outside the chine' status 2 "$tool" seat "$road" --with 'boat.strakes[outer].half breadths=[840 mm, 825 mm, 900 mm]'
check 'its key and the chine are told' says err 'expected inside the chine'
check 'a drum too high' status 0 "$tool" seat "$road" --with 'trailer.winch.above ground=1.3 m' -o high --figures
check 'how far to lower it' says out 'Lower the drum 83 mm, to 1217 mm above the ground'
check 'where post and stop belong on 8, 12.5 and 15 %' [ "$(grep -c '^8 %,\|^12.5 %,\|^15 %,' high/bow.csv)" -eq 3 -a "$(grep -c '^drum\|^bow' high/post.csv)" -eq 4 ]
check 'guides too low' status 1 "$tool" seat "$SOURCE_DIR/scenarios/rigs/six-keel-roller-launch.yaml" --with 'trailer.supports[guide posts].above ground=1.2 m' -o low --figures
check 'how high they have to be' grep -q 'guide useless, may pierce: the boat floats over it and comes down on its top; raise it to 1[0-9]* mm above the ground' <(tr '\n' ' ' <out | tr -s ' ')
check 'their height and gaps as CSV' grep -q '^guide posts port,1200,' low/guides.csv
check 'which trailer of a folder' status 0 "$tool" weigh "$road" --trailers "$SOURCE_DIR/scenarios/trailers" --reserve '10 %' -o which
check 'the three of that size pass, smaller ratings first' "$PYTHON" -c '
import csv, sys
rows = list(csv.DictReader(open("which/trailers.csv")))
passing = [row for row in rows if row["passes"] == "yes"]
ratings = [float(row["rating_kg"]) for row in rows]
sys.exit(not (len(rows) == 13 and ratings == sorted(ratings) and {row["rating_kg"] for row in passing} == {"3200"} and len(passing) == 3
              and all(float(row["use_%"]) <= 90 for row in passing)))'
check 'what is too small is told with its first limit' grep -q "^Skid trailer for five metres,1800,360,no,trailer's axle 1,14" which/trailers.csv
check 'more in reserve: none passes' status 1 "$tool" weigh "$road" --trailers "$SOURCE_DIR/scenarios/trailers" --reserve '20 %' -o which
check 'what passed has the same use now' grep -q ',no,.*,87\.3' which/trailers.csv
check 'no such folder of trailers' status 2 "$tool" weigh "$road" --trailers no-such-folder
check 'an axle ahead of the coupling' status 2 "$tool" weigh "$road" --with 'trailer.axles[1].behind coupling=-1 m'
check 'its key is told' says err 'behind coupling'
check 'supports behind the boat' status 2 "$tool" seat "$road" --with 'trailer.supports[rear rocker].behind coupling=12 m'
check 'its key is told' says err 'supports[1] rear rocker: behind coupling'
check 'and the geometry' says err 'behind the transom'
vee=$SOURCE_DIR/tests/unit/study/vee-on-rollers.yaml
travel=(-w 'boat.strakes=[]' -w 'trailer.supports[side rollers].adjust={up: [-20 mm, 20 mm], out: [-60 mm, 60 mm], out step: 20 mm}')
tank='seating.requirements=[{kind: no rollers, name: tank, from: 0 m, to: 3 m, source: invented, '
check 'adjust: out of a zone without rollers' status 0 "$tool" seat --adjust "$vee" "${travel[@]}" -w "${tank}inner: 470 mm, outer: 520 mm}]" -o adjusted -n
check 'adjust: what to shift' says out 'side rollers, port and starboard  60 mm out'
check 'adjust: its table' grep -q '^"*side rollers' adjusted/adjust.csv
check 'adjust: no setting does' status 1 "$tool" seat --adjust "$vee" "${travel[@]}" -w "${tank}inner: 200 mm, outer: 800 mm}]" -n
check 'adjust: one screen' [ "$(wc -l <out)" -le 24 -a "$(wc -L <out)" -le 79 ]
check 'adjust: what is missed' says out 'No setting within these travels meets all that is asked'
check 'adjust: what to drop' says out 'the zones without rollers  all else is met'
check 'adjust: JSON' status 1 "$tool" seat --adjust --json "$vee" "${travel[@]}" -w "${tank}inner: 200 mm, outer: 800 mm}]"
check 'adjust: the same in JSON' "$PYTHON" -c "
import json
t = {t['key']: t for t in json.load(open('out'))['tables']}['unmet']
assert [r[:2] for r in t['rows']] == [['the zones without rollers', 'all else is met']], t"
check 'a travel that never meets the hull' status 2 "$tool" seat --adjust "$SOURCE_DIR/scenarios/set-up-by-eye.yaml" --with 'trailer.supports[second keel roller].above ground=450 mm'
check 'its key is told' says err 'supports[second keel roller].adjust.up'
check 'and the geometry' says err 'above the ground'
check 'a run needs a ramp' status 2 "$tool" run "$road"
check 'it says so' says err 'procedure'
finish
