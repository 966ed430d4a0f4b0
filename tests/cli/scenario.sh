#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# check, show and keys; errors of a scenario name their place and stop everything. All compared exactly.
. "$SOURCE_DIR/tests/cli/common.sh"

check 'check a good file' status 0 "$tool" check "$scenario"
check 'check says so' says out "$scenario: no errors"
check 'check quietly' status 0 "$tool" check -q "$scenario"
check 'quiet is quiet' empty out
check 'check several' status 0 "$tool" check "$scenario" "$SOURCE_DIR/scenarios/retrieve.yaml"
check 'check a missing file' status 2 "$tool" check no-such-file.yaml
check 'the missing file is named' says err no-such-file.yaml
check 'the worst status of several' status 2 "$tool" check "$scenario" no-such-file.yaml
check 'a good file is still reported' says out "$scenario: no errors"

printf 'drawdock: 1\ntitel: x\n' >bad.yaml
for command in check show run settle; do
    check "$command stops at an error" status 2 "$tool" "$command" bad.yaml
    check "$command names line and column" says err 'bad.yaml:2:1: titel'
    check "$command prints no result" empty out
    check "$command ends with the number of errors" grep -q '^drawdock: [0-9]* errors\{0,1\}; nothing was computed or written$' err
done
check 'no folder is made for a bad file' status 2 "$tool" run bad.yaml -o results
check 'no folder stands there' absent results
check 'nothing is left behind' no_leftovers

check 'an override' status 0 "$tool" show "$scenario" --with 'water.level=1.25 m'
check 'the override is in force' grep -q 'level: 1.25 m' out
check 'an override in short' status 0 "$tool" check -w 'water.level=1.25 m' "$scenario"
check 'two overrides' status 0 "$tool" check -w 'water.level=1.25 m' --with 'water.temperature=12 degC' "$scenario"
check 'a wrong override' status 2 "$tool" check --with 'water.level=deep' "$scenario"
check 'the wrong override is named' says err water.level

check 'show' status 0 "$tool" show "$scenario"
cp out shown.yaml
check 'what show prints reads back' status 0 "$tool" show shown.yaml
check 'show as JSON' status 0 "$tool" show --json "$scenario"
check 'it is JSON' "$PYTHON" -c 'import json; json.load(open("out"))'
check 'standard input' bash -c '"$0" check - <shown.yaml' "$tool"
check 'keys' status 0 "$tool" keys
check 'keys are printed' [ -s out ]
check 'keys as a schema' status 0 "$tool" keys --schema
check 'the schema is JSON' "$PYTHON" -c 'import json; assert "2020-12" in json.load(open("out"))["$schema"]'
finish
