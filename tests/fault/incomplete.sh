# SPDX-License-Identifier: GPL-3.0-or-later
# The command line when a computation cannot go on: exit status 3, what was computed is written and marked incomplete, and a
# complete result of an earlier run is left alone. The tool under test has one force spoiled (tests/fault/spoiled.c).
DRAWDOCK=$BUILD_DIR/tests/fault/spoiled_tool
. "$SOURCE_DIR/tests/cli/common.sh"
short=(--with 'time limit=2 s' --with 'record interval=100 ms' --no-plots)
rows() { [ "$(wc -l <"$1")" -ge 10 ] && [ "$(wc -l <"$1")" -le 13 ]; }
complete_rows() { [ "$(wc -l <"$1")" -ge 20 ]; }

# Not spoiled: the whole 2 s, and (the procedure goes on) the verdict of a broken limit.
check 'a whole run' status 1 "$tool" run "${short[@]}" -o whole "$scenario"
check 'it is complete' says whole/result.json '"complete": true'
check 'it has all rows' complete_rows whole/timeline.csv

export SPOIL=buoyancy SPOIL_HOW=1 SPOIL_FROM=1
check 'a force that is not a number' status 3 "$tool" run "${short[@]}" -o results "$scenario"
check 'the error names the force' says err buoyancy
check 'and the time' says err 'at 1.0'
check 'result.json is marked' says results/result.json '"complete": false'
check 'with the verdict' says results/result.json '"verdict": "incomplete"'
check 'and the reason' says results/result.json 'force buoyancy gives a value that is not finite'
check 'what was computed is there' rows results/timeline.csv
check 'the screen says so' says out 'could not be computed'
check 'a machine reads the same' status 3 "$tool" run "${short[@]}" --json "$scenario"
check 'in its own words' says out '"verdict": "incomplete"'

cp -r whole kept
check 'a complete result stays' status 3 "$tool" run "${short[@]}" -o whole "$scenario"
check 'to the bit' same whole kept
check 'the other is beside it' says whole.incomplete/result.json '"complete": false'

SPOIL='hull weight' SPOIL_HOW=3
check 'a step below its limit' status 3 "$tool" run "${short[@]}" -o stiff "$scenario"
check 'is marked too' says stiff/result.json '"verdict": "incomplete"'
SPOIL=buoyancy SPOIL_HOW=4
check 'a ledger that does not close' status 3 "$tool" run "${short[@]}" -o ledger "$scenario"
check 'has its reason' says ledger/result.json 'the ledger does not close'
SPOIL_HOW=1 SPOIL_FROM=-1
check 'a start that has no value' status 3 "$tool" run "${short[@]}" -o start "$scenario"
check 'leaves nothing' absent start
check 'settle neither' status 3 "$tool" settle --no-plots -o start "$scenario"
check 'leaves anything' absent start
check 'no leftovers' no_leftovers
finish
