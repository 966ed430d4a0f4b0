#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# `make html` makes the reference without a warning, so that every public item is documented and every link leads somewhere; and
# what has to be in it is: each force with its law, each public header, each error, each guide.
set -u
unset MAKEFLAGS MFLAGS MAKELEVEL
passed=0 failed=0
check() { # TITLE COMMAND...
    local title=$1
    shift
    if "$@" >/dev/null 2>&1; then passed=$((passed + 1)); else failed=$((failed + 1)) && echo "not ok: $title"; fi
}
log=$(mktemp) && trap 'rm -f "$log"' EXIT
"$MAKE" -C "$BUILD_DIR" html >"$log" 2>&1
check 'make html succeeds' [ $? -eq 0 ]
check 'without a warning' [ "$(grep -ci 'warning\|error:' "$log")" -eq 0 ]
[ "$failed" -eq 0 ] || tail -n 20 "$log"
html=$BUILD_DIR/html
check 'it has a first page' [ -s "$html/index.html" ]
for page in outfitter instructor ramp-owner library physics forces keys errors; do
    check "its first page leads to $page" grep -q "href=\"$page.html\"" "$html/index.html"
    check "the page $page is there" [ -s "$html/$page.html" ]
done
# From the files themselves, not from the generator.
names=$(awk '/^const dd_force_kind /{inside = 1} inside && match($0, /\.name = "[^"]*"/) {print substr($0, RSTART + 9, RLENGTH - 10); inside = 0}' \
    "$SOURCE_DIR"/lib/force/*.c)
check 'the files have forces' [ "$(wc -l <<<"$names")" -ge 26 ]
while read -r name; do
    check "force $name has its section" grep -qE "^$name</h[1-4]>$" "$html/forces.html"
done <<<"$names"
check 'as many as the list has' [ "$(grep -c '^DD_FORCE' "$SOURCE_DIR/lib/force/forces.def")" -eq "$(grep -c '<li>Law:' "$html/forces.html")" ]
for header in "$SOURCE_DIR"/include/drawdock/*.h; do
    check "$header is in it" grep -rq "$(basename "$header")" "$html/files.html"
done
while read -r code; do
    check "$code is in it" grep -q "$code" "$html/errors.html"
done < <(sed -n 's/^DD_STATUS(\([A-Z_]*\),.*/\1/p' "$SOURCE_DIR/include/drawdock/status.def")
check 'four programs are shown whole' [ "$(grep -o 'main' "$html/library.html" | wc -l)" -ge 4 ]
printf '[  PASSED  ] %d test(s).\n' "$passed"
[ "$failed" -eq 0 ] || printf '[  FAILED  ] %d test(s).\n' "$failed"
[ "$failed" -eq 0 ]
