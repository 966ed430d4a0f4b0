#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# options.def, --help and getopt agree; every option and every misuse has its exit status. All compared exactly.
. "$SOURCE_DIR/tests/cli/common.sh"

commands=$(sed -n 's/^DRAWDOCK_COMMAND(\([a-z]*\),.*/\1/p' "$def")
# One row per option: letter name argument commands
options() {
    { tr '\n' ' ' <"$def"; echo; } | sed 's/DRAWDOCK_/\n&/g' |
        sed -n "s/^DRAWDOCK_OPTION(\([A-Z]*\), [a-z_]*, '\(.\)', \"\([a-z-]*\)\", \([^,]*\), \([^,]*\), *\"\(.*\)\") .*/\2 \3 \4 \5/p"
}
options >rows
check 'the list of options can be read' [ "$(wc -l <rows)" -eq "$(grep -c '^DRAWDOCK_OPTION(' "$def")" ]
check 'the list of commands can be read' [ "$(echo "$commands" | wc -w)" -ge 5 ]

check 'help' status 0 "$tool" --help
check 'help says nothing on stderr' empty err
for command in $commands; do
    check "help names $command" says out "  $command "
done
for command in $commands; do
    check "$command --help" status 0 "$tool" "$command" --help
    cp out help
    leaks=1 # looked for in a command's first refusal, as every other goes the same way; it takes as long as the start
    while read -r letter name argument sets; do
        shown="-$letter, --$name"
        [ "$argument" = NULL ] || shown="$shown ${argument//\"/}"
        belongs=no
        case $sets in *"ON($command)"* | EVERYWHERE) belongs=yes ;; esac
        if [ $belongs = yes ]; then
            check "$command --help shows --$name" says help "  $shown "
            check "$command takes --$name" says help "--$name"
        else
            check "$command --help does not show --$name" lacks help "--$name"
            given=--$name
            [ "$argument" = NULL ] || given=--$name=x
            ASAN_OPTIONS="${ASAN_OPTIONS-}:detect_leaks=$leaks" check "$command refuses --$name" status 2 "$tool" "$command" "$given" "$scenario"
            leaks=0
            check "$command says which option" says err "--$name"
        fi
    done <rows
    check "$command --help lists nothing else" \
        [ "$(grep -c '^  -., --' help)" -eq "$(grep -c -e "ON($command)" -e EVERYWHERE rows)" ]
done
"$tool" run --help >one; "$tool" settle --help >two; cat one two >out
for file in $(sed -n 's/^DRAWDOCK_FILE(.*, "\([a-z.]*\)", .*/\1/p' "$SOURCE_DIR/tools/drawdock/files.def"); do
    check "help describes $file" says out "  $file "
done
sed -n 's/^DD_FIELD("\([^"]*\)".*/\1/p' "$SOURCE_DIR/lib/record/fields.def" >fields
check 'there are fields' [ -s fields ]
while read -r field; do check "help describes the field $field" says one "  $field "; done <fields

check 'version' status 0 "$tool" --version
check 'version is the one configured' says out "drawdock $(sed -n 's/^AC_INIT(\[drawdock\], \[\(.*\)\])/\1/p' "$SOURCE_DIR/configure.ac")"
check 'version in short' status 0 "$tool" -V
check 'help in short' status 0 "$tool" run -h

misuse() { # MESSAGE ARGUMENTS...
    local message=$1
    shift
    check "misuse: $*" status 2 "$tool" "$@"
    check "misuse: $* is explained" says err "$message"
    check "misuse: $* prints no result" empty out
}
misuse 'no command given'
misuse 'unknown command ruin; did you mean run?' ruin "$scenario"
misuse 'unknown command ramble; see drawdock --help' ramble "$scenario"
misuse 'unknown option --fast' run --fast "$scenario"
misuse 'unknown option -x' run -x "$scenario"
misuse 'option -o needs an argument' run "$scenario" -o
misuse 'option --output needs an argument' run "$scenario" --output
misuse 'takes no argument' run "$scenario" --json=yes
misuse 'empty argument' run "$scenario" -o ''
misuse 'expected: drawdock run FILE' run
misuse 'expected: drawdock run FILE' run "$scenario" "$scenario"
misuse 'expected: drawdock check FILE...' check
misuse 'expected: drawdock keys' keys "$scenario"
finish
