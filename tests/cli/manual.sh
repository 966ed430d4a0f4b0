#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Manual pages and completions say what --help says: made from one table, they can still lose a word on the way. Compared exactly.
. "$SOURCE_DIR/tests/cli/common.sh"
mapfile -t commands < <(sed -n 's/^DRAWDOCK_COMMAND(\([a-z]*\),.*/\1/p' "$def")
check 'there are commands' [ "${#commands[@]}" -ge 12 ]
# Long options of a command, as --help lists them.
options_of() { "$tool" "$@" --help | sed -n '/^Options/,/^$/s/^  -., --\([a-z-]*\).*/--\1/p'; }

. "$BUILD_DIR/tools/drawdock/drawdock"
complete_line() { # WORD...: what bash offers for the last of them, one a line
    COMP_WORDS=(drawdock "$@")
    COMP_CWORD=$#
    COMPREPLY=()
    _drawdock
    printf '%s\n' "${COMPREPLY[@]}"
}
for page in drawdock "${commands[@]/#/drawdock-}"; do
    file=$BUILD_DIR/$page.1
    command=${page#drawdock}
    command=${command#-}
    check "$page.1 is there" [ -s "$file" ]
    mandoc -Tlint -W style "$file" >out 2>err
    check "$page.1 has no fault" empty out
    mandoc -Tutf8 "$file" | col -b | tr -s ' \n' ' ' | tr '‐−' '--' >flat
    for option in $(options_of $command); do
        check "$page.1 tells $option" says flat "$option"
        [ -z "$command" ] || check "bash offers $option of $command" grep -qx -e "$option" <(complete_line "$command" --)
        [ -z "$command" ] || check "zsh knows $option" says "$BUILD_DIR/tools/drawdock/_drawdock" "'$option"
        check "fish knows $option" says "$BUILD_DIR/tools/drawdock/drawdock.fish" "-l ${option#--}"
    done
done
check 'bash offers the commands' [ "$(complete_line '' | grep -cvx -e '--.*')" -eq "${#commands[@]}" ]
check 'bash narrows them' [ "$(complete_line we)" = weigh ]
mkdir -p folder/inner && touch file.yaml
check 'bash offers folders after -o' [ "$(complete_line run -o fol)" = folder ]
check 'bash offers files' [ "$(complete_line run fi)" = file.yaml ]
check 'bash offers no option of another command' [ -z "$(complete_line keys --out | tr -d '\n')" ]
for shell in bash:drawdock zsh:_drawdock fish:drawdock.fish; do
    check "${shell%%:*} reads its completion" "${shell%%:*}" -n "$BUILD_DIR/tools/drawdock/${shell#*:}"
done
# Each example stands in README.md, whose lines are run, and in --help and the page.
while IFS= read -r line; do
    line=${line//\\\"/\"}
    command=$(cut -d' ' -f2 <<<"$line")
    check "README has: $line" grep -qF -e "    build/$line" "$SOURCE_DIR/README.md"
    check "--help has: $line" says <("$tool" "$command" --help) "  $line"
    mandoc -Tutf8 "$BUILD_DIR/drawdock-$command.1" | col -b | tr '‐−' '--' >flat
    check "the page has: $line" says flat "$line"
done < <(sed -n 's/^DRAWDOCK_EXAMPLE([a-z]*, "\(.*\)", "[^"]*")$/\1/p' "$def")
check 'each command has an example' [ "$(grep -c '^DRAWDOCK_EXAMPLE' "$def")" -eq "${#commands[@]}" ]
finish
