#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# depth: what is printed and written, what a level too low says, and input that cannot be. The screen is 80 x 24.
. "$SOURCE_DIR/tests/cli/common.sh"

check 'depth' status 0 "$tool" depth "$scenario" -o depth
check 'one screen' [ "$(wc -l <out)" -le 23 -a "$(wc -L <out)" -le 79 -a -s out ]
check 'never called safe' bash -c '! grep -qiw safe out'
check 'where to stand' grep -q 'Launch with the hub [0-9]* mm under water ([0-9]* to [0-9]*)' out
check 'the least level and what binds there' grep -q 'Works from a level of' out
check 'cautions of the ramp' grep -q 'look at water and toe' <(tr '\n' ' ' <out | tr -s ' ')
check 'nothing on stderr' empty err
check 'three places' [ "$(wc -l <depth/depth.csv)" -eq 4 ]
check 'the band against the level' [ "$(wc -l <depth/levels.csv)" -gt 4 ]
check 'its picture' [ -s depth/depth.svg ]
check 'the deepest place is ended by what binds' grep -q 'most: hub [0-9]* mm under water; ends at: [a-z]' depth/depth.svg
check 'nothing ends the best place' grep -q 'best: hub [0-9]* mm under water<' depth/depth.svg
check 'the least level' [ "$(wc -l <depth/least-level.csv)" -eq 2 ]
check 'a level above the ramp that names no datum' grep -q "m above the ramp's zero on" <(tr '\n' ' ' <out | tr -s ' ')
check 'a tide' status 0 "$tool" depth "$SOURCE_DIR/scenarios/launch-on-the-tide.yaml" -o tide
check 'its levels say their datum' grep -Eq 'level of -?[0-9.]+ m above land datum on' <(tr '\n' ' ' <out | tr -s ' ')
check 'and its tables' [ "$(grep -c '; levels above land datum' <(tr '\n' ' ' <out | tr -s ' '))" -ge 1 ]
for name in least-level levels tide tide-curve side; do check "in $name.csv" [ "$(tail -n +2 tide/$name.csv | grep -vc ',land datum$')" -eq 0 ]; done
check "the tide's own" [ "$(grep -c ',LAT,land datum$' tide/tide.csv)" -ge 3 ]
check 'in pictures' grep -q 'm above land datum' tide/tide.svg
check 'in its cross-sections' grep -q 'water level (m above land datum)' tide/depth.svg
check 'JSON' status 0 "$tool" depth --json "$scenario"
check 'JSON is the file' same out depth/result.json
check 'every table' status 0 "$tool" depth --figures "$scenario"
check 'every table, but no points of pictures' bash -c "! grep -q '^Lines of the cross-sections' out"
check 'its checks and notes follow the tables' [ "$(wc -l <out)" -le 200 ]
check 'what it means for vehicle and slab' grep -q '^  Driven wheels stand' out
check 'too low a level' status 1 "$tool" depth "$scenario" --with 'water.level=-0.5 m'
check 'why' grep -q 'lower: running off' <(tr '\n' ' ' <out | tr -s ' ')
check 'a rig on the road' status 2 "$tool" depth "$SOURCE_DIR/scenarios/on-the-road.yaml"
# Practice P247: 50 mm lower on the trailer is 0.05 / 0.12 = 0.42 m less down a ramp of 12 %; 10 mm, the places that are looked at.
"$PYTHON" -c '
import re, sys
lower = lambda m: "above ground: %g %s" % (float(m[1]) - (50 if m[2] == "mm" else 0.05), m[2])
print(re.sub(r"above ground: ([\d.]+) (mm|m)\b", lower, open(sys.argv[1]).read()))' "$SOURCE_DIR/scenarios/trailers/cradle-single.yaml" >lower-trailer.yaml
printf 'based on: %s\ntitle: lowered\ntrailer: lower-trailer.yaml\n' "$scenario" >lower.yaml
check 'lower on its trailer, side by side' status 0 "$tool" depth "$scenario" lower.yaml --with 'ramp.slope=12 %'
check 'so much less down the ramp' grep -Eq '^  best, crest +m .* -0\.4[0-9]$' out
check 'each rig by itself' grep -q '^  lower: Launch with the hub' out
check 'their least levels' grep -q '^  water, least level' out
check 'figures and change have digits that agree' "$PYTHON" -c '
import re, sys
from decimal import Decimal
rows = [re.fullmatch(r"  \S.*?  +(?:\S+ +)?(-?[\d.]+) +(-?[\d.]+) +(-?[\d.]+)", line) for line in open("out").read().split("What differs")[1].splitlines()[1:]]
rows = [[Decimal(figure) for figure in row.groups()] for row in rows if row]
bad = [row for row in rows if row[2] != row[1] - row[0] or len({figure.as_tuple().exponent for figure in row}) > 1]
sys.exit(f"{bad}" if bad or len(rows) < 10 else 0)'
for rig in "$scenario" lower.yaml; do "$tool" depth -q -n "$rig" --with 'ramp.slope=12 %' -o "at-$(basename "$rig" .yaml)"; done
check 'by the slope' "$PYTHON" -c '
import csv, sys
crest = [float(next(row for row in csv.DictReader(open(f"at-{name}/depth.csv")) if row["place"] == "best")["crest_m"]) for name in ("launch", "lower")]
sys.exit(f"{crest}" if abs(crest[0] - crest[1] - 0.05 / 0.12) > 0.01 else 0)'
# A boat from a brochure has no exhaust's height, nor the height of a frame: what is not known is not told as a figure.
check 'from a brochure' status 0 "$tool" begin own --usual
check 'its launch' status 0 "$tool" depth --figures own/launch.yaml
check 'no figure that is none' bash -c '! grep -Eqiw -e "-?(nan|inf)" out'
check 'dry tyres without the exhaust' grep -q 'longer keeps them dry\.' <(tr '\n' ' ' <out | tr -s ' ')
finish
