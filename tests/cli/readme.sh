#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# What README.md and the guides tell people to type works as it stands there, what they quote of its output is what it
# says (blanks apart), and the README's example of a scenario is one. Compared exactly.
. "$SOURCE_DIR/tests/cli/common.sh"
readme=$SOURCE_DIR/README.md

# The place that the README speaks of: the tool just built and the shipped scenarios.
mkdir -p clone/build
ln -s "$tool" clone/build/drawdock
ln -s "$SOURCE_DIR/scenarios" clone/scenarios

mapfile -t lines < <(sed -n 's/^    \(build\/drawdock .*\)$/\1/p' "$readme")
check 'the README has lines to type' [ "${#lines[@]}" -ge 7 ]
for command in check run settle weigh seat show keys --help; do
    check "one of them shows $command" grep -q "^    build/drawdock $command" "$readme"
done
for line in "${lines[@]}"; do
    typed=$line
    [[ $line != *--bands* ]] || typed="${line%%#*} ${few[*]@Q}"
    (cd clone && bash -c "$typed") >out 2>err </dev/null
    found=$?
    check "$line: computed, within the limits or beyond" [ "$found" -le 1 ]
    check "$line: prints something" [ -s out ]
    while IFS= read -r quote; do
        check "$line: says $quote" says <(tr -s ' \n' ' ' <out) "$(sed 's/^ *//' <<<"$quote" | tr -s ' ')"
    done < <(awk -v line="    $line" '$0 == line { on = 1; next } on && /^      / { print; next } { on = 0 }' "$readme")
    check "$line: no error" [ "$(grep -c 'error' err)" -eq 0 ]
    folder=$(sed -n 's/.* -o \([a-z]*\).*/\1/p' <<<"$line")
    [ -z "$folder" ] || check "$line: writes its results" [ -s "clone/$folder/result.json" ]
    [ -z "$folder" ] || check "$line: draws" [ -n "$(find "clone/$folder" -name "*.svg" -size +0 -o -name handover.html -size +0)" ]
done
# The guides: each command with the lines quoted under it.
for guide in "$SOURCE_DIR"/tools/report/*.md; do
    quoting=
    while IFS= read -r line; do
        case $line in
        "    build/drawdock "*)
            quoting=yes
            (cd clone && bash -c "${line#    }") >out 2>err </dev/null
            found=$?
            check "${guide##*/}: $line: computed" [ "$found" -le 1 ]
            tr -s ' \n' ' ' <out >flat
            ;;
        "    "*) [ -z "$quoting" ] || check "${guide##*/} quotes: $line" says flat "$(sed 's/^ *//' <<<"$line" | tr -s ' ')" ;;
        *) quoting= ;;
        esac
    done <"$guide"
done
check 'the guides quote' [ "$passed" -ge 100 ]
for file in timeline.csv events.csv result.json; do
    check "run writes $file, as the README says" [ -s "clone/out/$file" ]
done

# The example: the indented lines from `drawdock: 1` to the next that is not indented.
sed -n '/^    drawdock: 1$/,/^$/s/^    //p' "$readme" >example.yaml
check 'the README has an example' [ "$(wc -l <example.yaml)" -ge 10 ]
check 'the example is a scenario' status 0 "$tool" check example.yaml
check 'nothing is wrong in it' empty err
sed 's/^action: .*/action: lunch/' example.yaml >spoilt.yaml
check 'a slip in it is found' status 2 "$tool" check spoilt.yaml
check 'the example runs' status 0 "$tool" run -n -o example example.yaml

# What the README names exists.
for path in $(grep -oE '\b(tools|plots|scenarios|include)/[a-z0-9/_.-]*[a-z0-9/]' "$readme" | sort -u); do
    check "$path exists" [ -e "$SOURCE_DIR/$path" ]
done
finish
