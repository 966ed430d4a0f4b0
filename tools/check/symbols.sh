#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The shared library exports exactly tests/symbols.txt: all dd_, fewer than 120, each declared in a public header.
set -u
export LC_ALL=C # one sorting order for the list, whatever the user's
source=${SOURCE_DIR:-$(cd "$(dirname "$0")/../.." && pwd)}
library=${BUILD_DIR:-$source/build}/.libs/libdrawdock.so
list=$source/tests/symbols.txt
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
[ -f "$library" ] || { echo "symbols: $library is missing"; exit 1; }

# Names with two leading underscores come from the compiler's run-time (sanitizers), _edata and _end from the linker gold.
nm -D --defined-only "$library" | awk '$2 ~ /^[A-Z]$/ && $3 !~ /^__/ && $3 !~ /^_(init|fini|edata|end)$/ { print $3 }' |
    sed 's/@.*//' | sort -u >"$work/exported"
grep -v '^#' "$list" | sort -u >"$work/listed"
cat "$source"/include/drawdock/*.h | tr '\n' ' ' | sed 's/DD_API/\n&/g' |
    sed -n 's/^DD_API[^(;]*[ *]\(dd_[a-z0-9_]*\)(.*/\1/p' | sort -u >"$work/declared"

failures=0
compare() { # FILE FILE WORDS
    comm -23 "$1" "$2" >"$work/difference"
    [ -s "$work/difference" ] || return 0
    sed "s/^/symbols: $3: /" "$work/difference"
    failures=$((failures + 1))
}
compare "$work/exported" "$work/listed" "exported, not in tests\/symbols.txt"
compare "$work/listed" "$work/exported" "in tests\/symbols.txt, not exported"
compare "$work/declared" "$work/exported" "declared DD_API in a public header, not exported"
compare "$work/exported" "$work/declared" "exported, not declared in a public header"
grep -v '^dd_' "$work/exported" && { echo "symbols: the names above lack the prefix dd_"; failures=$((failures + 1)); }
count=$(wc -l <"$work/exported")
[ "$count" -lt 120 ] || { echo "symbols: $count exported, fewer than 120 allowed"; failures=$((failures + 1)); }
[ "$count" -gt 0 ] || { echo "symbols: nothing is exported"; failures=$((failures + 1)); }
echo "symbols: $count exported, $failures faults"
[ "$failures" -eq 0 ]
