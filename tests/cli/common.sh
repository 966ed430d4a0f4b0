# SPDX-License-Identifier: GPL-3.0-or-later
# Shared by the tests of the command line: counting checks, a place to work, the scenarios.
set -u
tool=${DRAWDOCK:?DRAWDOCK names the tool to test}
scenario=$SOURCE_DIR/scenarios/launch.yaml
def=$SOURCE_DIR/tools/drawdock/options.def
# All but two of the boat's figures that have bands, given, so that --bands of the launch is quick.
few=(--with 'limits.height tolerance=0 mm' --with 'boat.centre height=425 mm' --with 'boat.chine beam=1722 mm'
     --with 'boat.bow deadrise=36 deg' --with 'boat.keel rise=584 mm' --with 'boat.transom sheer height=775 mm'
     --with 'boat.midships sheer height=850 mm' --with 'boat.bow sheer height=1062 mm' --with 'boat.roll radius=735 mm'
     --with 'boat.pitch radius=1250 mm' --with 'boat.yaw radius=1250 mm' --with 'boat.bow eye from transom=4.895 m'
     --with 'boat.bow eye height=497 mm' --with 'boat.skeg depth=320 mm' --with 'boat.midships deadrise=21 deg')
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
cd "$work" || exit 1
passed=0
failed=0

check() { # WHAT COMMAND...: the check holds when the command succeeds
    local what=$1
    shift
    if "$@"; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        printf 'FAILED: %s: %s\n' "$what" "$*"
        head -c 600 out err 2>/dev/null
    fi
}
# status EXPECTED COMMAND...: exit status; output in ./out and ./err
status() {
    local expected=$1 found
    shift
    "$@" >out 2>err
    found=$?
    [ "$found" -eq "$expected" ] || { echo "  exit status $found, expected $expected"; return 1; }
}
# Without a process: thousands of checks ask this.
says() { # FILE WORDS
    local text
    text=$(<"$1")
    [[ $text == *"$2"* ]] || { echo "  '$2' is not in $1"; return 1; }
}
lacks() { ! says "$@" >/dev/null || { echo "  '$2' is in $1"; return 1; }; }
empty() { [ ! -s "$1" ]; }
absent() { [ ! -e "$1" ] && [ ! -L "$1" ]; }
same() { diff -r "$1" "$2"; }
no_leftovers() { [ -z "$(find "${1:-.}" -maxdepth 1 -name '.drawdock-*')" ]; }
finish() {
    printf '[  PASSED  ] %d test(s).\n' "$passed"
    [ "$failed" -eq 0 ] && exit 0
    printf '[  FAILED  ] %d test(s).\n' "$failed"
    exit 1
}
