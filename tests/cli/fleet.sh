#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# fleet: what is printed and written, its exit statuses, files that are not there. The screen is 80 x 24.
. "$SOURCE_DIR/tests/cli/common.sh"

cat >fleet.yaml <<'END'
based on: rigs/five-skid-launch.yaml
title: Two rigs
fleet:
  own: 0
  rigs:
    - {name: skids, launch: rigs/five-skid-launch.yaml, retrieve: rigs/five-skid-drive-on-retrieve.yaml, count: 3}
    - {name: driven, launch: rigs/four-keel-roller-beach-coupled-launch.yaml}
  variants: [{name: lower, toe lower by: 0.2 m}]
  later: [{year: 2050, rise: 0.2 m}]
  lane width: 4 m
END
check 'fleet' status 0 "$tool" fleet fleet.yaml -o fleet
check 'one screen' [ "$(wc -l <out)" -le 23 -a "$(wc -L <out)" -le 79 -a -s out ]
check 'never called safe' bash -c '! grep -qiw safe out'
check 'the level to close at' grep -q 'open: 90 % of the fleet need a level of' out
check 'nothing on stderr' empty err
check 'every rig' [ "$(wc -l <fleet/rigs.csv)" -eq 4 ]
check 'ramps and years' [ "$(wc -l <fleet/variants.csv)" -eq 4 ]
check 'shares of both ramps' [ "$(wc -l <fleet/shares.csv)" -eq 123 ]
check 'its pictures' [ -s fleet/fleet.svg -a -s fleet/reach.svg ]
check 'how far each reaches' [ "$(wc -l <fleet/reach.csv)" -eq 4 ]
check 'JSON' status 0 "$tool" fleet --json fleet.yaml
check 'JSON is the file' same out fleet/result.json
check 'water too low' status 1 "$tool" fleet fleet.yaml -w 'water.level=-0.45 m' -w 'fleet.variants=[]'
check 'close' grep -q 'close: 90 % of the fleet' out
check 'a lane too narrow' status 1 "$tool" fleet fleet.yaml -w 'fleet.lane width=1.5 m' -w 'fleet.variants=[]'
check 'a rig that is not there' status 2 "$tool" fleet fleet.yaml -w 'fleet.rigs[skids].launch=nowhere.yaml'
check 'whose it is' grep -q 'fleet.rigs\[skids\]' err
check 'a launch given as a retrieve' status 2 "$tool" fleet fleet.yaml -w 'fleet.rigs[skids].retrieve=rigs/five-skid-launch.yaml'
check 'a surveyed ramp has no slope' status 2 "$tool" fleet fleet.yaml -w 'ramp=ramps/two-slope-lake.yaml' -w 'fleet.variants=[{name: steep, slope: 15 %}]'
check 'a rig on the road' status 2 "$tool" fleet "$SOURCE_DIR/scenarios/on-the-road.yaml"
finish
