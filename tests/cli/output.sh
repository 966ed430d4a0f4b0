#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# What is printed, and exit statuses. All compared exactly; the screen is 80 x 24.
. "$SOURCE_DIR/tests/cli/common.sh"

check 'a launch within its limits' status 0 "$tool" run "$scenario" -o results
cp out verdict
check 'the word comes first' grep -q '^launch works: within the limits given$' <(head -1 verdict)
check 'one screen high' [ "$(wc -l <verdict)" -le 23 ]
check 'one screen wide' [ "$(wc -L <verdict)" -le 79 ]
check 'tightest limits' grep -q -e '^Tightest' -e '^Limits' verdict
check 'events' grep -q '^Events' verdict
check 'events: their figures are not cut off' bash -c "! sed -n '/^Events/,/^Not checked/p' verdict | grep -q '\.\.\.$'"
check 'events: the figure of one whose words are too long' grep -q 'rear support load [0-9.]* N$' verdict
check 'what was not checked' grep -q '^Not checked' verdict
check 'cautions' grep -q '^Take care: ' verdict
check 'where the files are' says verdict "Written: $work/results: timeline.csv"
check 'nothing on stderr in a pipe' empty err
check 'never called safe' bash -c '! grep -qiw safe verdict'
check 'no escape in a pipe' bash -c "! grep -q $'\033' verdict"
for name in retrieve launch-cross-stream retrieve-cross-stream; do
    "$tool" run "$SOURCE_DIR/scenarios/$name.yaml" >out 2>err
    check "$name: one screen" [ "$(wc -l <out)" -le 23 -a "$(wc -L <out)" -le 79 -a -s out ]
done

check 'JSON' status 0 "$tool" run --json "$scenario"
check 'JSON is the file' same out results/result.json
check 'quiet' status 0 "$tool" run --quiet "$scenario"
check 'quiet prints nothing' empty out
check 'fine' status 0 "$tool" run --fine --json "$scenario"
check 'fine computes anew' bash -c '! cmp -s out results/result.json'
check 'without a folder nothing is written' [ "$(echo $(ls))" = 'err out results verdict' ]

check 'a limit is broken' status 1 "$tool" run "$scenario" --with 'trailer.coupling rating=1500 N'
check 'it is named' grep -q 'coupling load against its rating.* BROKEN$' out
check 'it leads' grep -q 'a limit is broken' <(head -1 out)
check 'a step that does not end' status 1 "$tool" run "$scenario" --with 'time limit=10 s'
check 'it fails' grep -q 'it fails$' <(head -1 out)
check 'a boat that cannot be held at its start' status 2 "$tool" run "$scenario" -o none --with 'without=[strap]'
check 'it says why' [ -s err ]
check 'no verdict' empty out
check 'no folder' absent none
check 'nothing is left behind' no_leftovers
check 'settle' status 0 "$tool" settle "$scenario"
check 'settle: one screen' [ "$(wc -l <out)" -le 23 -a "$(wc -L <out)" -le 79 -a -s out ]

# Figures: after the screen, as the same result has them in JSON.
"$tool" settle "$scenario" >alone
check 'figures' status 0 "$tool" settle --figures "$scenario"
check 'figures: the screen comes first' same <(head -"$(wc -l <alone)" out) alone
check 'figures: within the width' [ "$(wc -L <out)" -le 79 ]
for group in unhooked 'wound home at hub' 'stern lifts' afloat "trailer's wheels" 'loads as the rig goes down'; do
    check "figures: $group" grep -q "^$group" out
done
check 'figures: with units' grep -Eq '^  greatest pull +[0-9.]+ N$' out
cp out tables
"$tool" settle --json "$scenario" >json
check 'figures: every one of the JSON' "$PYTHON" -c '
import json, sys
figures = json.load(open("json"))["figures"]
text = open("tables").read()
sys.exit(not figures or any("\n  " + f["name"] not in text or f["group"] not in text for f in figures))'
rm alone tables json
check 'figures of a retrieve' status 0 "$tool" run -F "$SOURCE_DIR/scenarios/retrieve.yaml"
check 'figures: at home' grep -q '^  gap at the bow stop  ' out
check 'figures: winch rules' grep -q '^winch rules$' out
check 'figures: quiet' status 0 "$tool" settle -qF "$scenario"
check 'figures: quiet prints nothing' empty out
check 'figures: not for show' status 2 "$tool" show --figures "$scenario"

# Bands
check 'bands' status 0 "$tool" run --bands "$scenario" "${few[@]}" -n -o banded
check 'bands: it holds' says out 'The verdict holds over the bands of 2 figures'
check 'bands: a table' [ "$(wc -l <banded/bands.csv)" -eq 3 ]
check 'bands: one screen' [ "$(wc -l <out)" -le 23 -a "$(wc -L <out)" -le 79 ]
check 'bands: what decides' status 1 "$tool" run -b "$scenario" "${few[@]}" --with 'trailer.coupling rating=1.97 kN'
check 'bands: it is told' grep -q 'What decides: ' <(tr '\n' ' ' <out)
check 'bands: in JSON' status 0 "$tool" run -jb "$scenario" "${few[@]}"
check 'bands: outcome' says out '"outcome": "hold"'
check 'bands: not for check' status 2 "$tool" check --bands "$scenario"

full_device() { "$tool" "$@" >/dev/full 2>err; }
for command in --help --version keys "show $scenario" "check $scenario" "settle $scenario" "settle --json $scenario"; do
    # shellcheck disable=SC2086
    check "$command to a full device" status 3 full_device $command
    full_device $command
    check "$command says so" says err 'standard output could not be written'
done
closed_pipe() { "$tool" keys | head -1 >line; }
check 'a reader that leaves' closed_pipe
check 'it got its line' [ -s line ]

# Without gnuplot: one line, data written, status kept.
mkdir bin
check 'no gnuplot' status 0 env PATH="$work/bin" "$tool" run -q "$scenario" -o plain
check 'one clear line' [ "$(wc -l <err)" -eq 1 ]
check 'that says so' says err 'no plots: gnuplot: not found in PATH; the data are written'
check 'the data are written' [ -s plain/timeline.csv ]
check 'the same data' same plain/timeline.csv results/timeline.csv
check 'no gnuplot and a broken limit' status 1 env PATH="$work/bin" "$tool" run -q "$scenario" -o plain \
    --with 'trailer.coupling rating=1500 N'
# A gnuplot that fails is another matter: the pictures that were asked for are not there.
cp -r results before
printf '#!/bin/sh\necho "out of paper" >&2\nexit 1\n' >bin/gnuplot
chmod +x bin/gnuplot
check 'a failing gnuplot' status 3 env PATH="$work/bin:/usr/bin:/bin" "$tool" run -q "$scenario" -o results
check 'its words are passed on' says err 'out of paper'
check 'old results are untouched' same before results
printf '#!/bin/sh\nprintf "<svg>" >"$5"\n' >bin/gnuplot
check 'a picture cut short' status 3 env PATH="$work/bin:/usr/bin:/bin" "$tool" run -q "$scenario" -o results
check 'is told' says err 'cut short'
check 'old results are untouched' same before results
check 'nothing is left behind' no_leftovers

# A comma for the decimal point in the user's locale changes no byte.
mkdir locales
check 'a locale with a comma can be made (package locales)' localedef -i de_DE -f UTF-8 "$work/locales/de_DE.UTF-8"
check 'a run in it' status 0 env LOCPATH="$work/locales" LC_ALL=de_DE.UTF-8 "$tool" run -q "$scenario" -o comma
check 'the same bytes, pictures too' same results comma
finish
