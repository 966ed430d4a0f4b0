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
check 'JSON' status 0 "$tool" depth --json "$scenario"
check 'JSON is the file' same out depth/result.json
check 'every table' status 0 "$tool" depth --figures "$scenario"
check 'what it means for vehicle and slab' grep -q '^  Driven wheels stand' out
check 'too low a level' status 1 "$tool" depth "$scenario" --with 'water.level=-0.5 m'
check 'why' grep -q 'lower: running off' <(tr '\n' ' ' <out | tr -s ' ')
check 'a rig on the road' status 2 "$tool" depth "$SOURCE_DIR/scenarios/on-the-road.yaml"
finish
