#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The handover page in a real browser (Debian's chromium): plays, drags, jumps, switches, prints, says what result.json says; what it needs
# from npm goes into the build folder by the lock file. A page of two runs of one rig, without plots.
set -u
: "${DRAWDOCK:?DRAWDOCK names the tool to test}"
here=$SOURCE_DIR/tests/browser
place=$BUILD_DIR/tests/browser/modules
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
for command in node npm chromium; do
    command -v $command >/dev/null || { echo "FAILED: $command is not installed"; exit 1; }
done
if ! cmp -s "$here/package-lock.json" "$place/done"; then
    rm -rf "$place" && mkdir -p "$place" && cp "$here/package.json" "$here/package-lock.json" "$place" || exit 1
    chmod -R u+w "$place"
    if ! (cd "$place" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error) >"$work/npm" 2>&1; then
        cat "$work/npm"
        if grep -qE 'ENOTFOUND|EAI_AGAIN|ETIMEDOUT|ECONN|ERR_SOCKET|ENETUNREACH' "$work/npm"; then
            echo "SKIPPED: npm's registry cannot be reached, and what the page is opened with is not here"
            exit 77
        fi
        echo "FAILED: npm ci"
        exit 1
    fi
    cp "$here/package-lock.json" "$place/done"
fi
"$DRAWDOCK" handover "$SOURCE_DIR/scenarios/launch.yaml" "$SOURCE_DIR/scenarios/teaching/tail-floats.yaml" --no-plots -q -o "$work/page" --with 'title=A <b>bold</b> & "quoted" rig'
status=$?
[ $status -le 1 ] || { echo "FAILED: handover ended with $status"; exit 1; }
NODE_PATH=$place/node_modules node "$here/check.js" "$work/page" "$work"
