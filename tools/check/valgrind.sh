#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# One shipped run of a build without sanitizers under valgrind; any bad access or definite leak is a failure.
set -u
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
command -v valgrind >/dev/null || { echo "valgrind is missing"; exit 1; }
# One thread: valgrind does not understand the waiting loops of the OpenMP runtime.
OMP_NUM_THREADS=1 valgrind --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite \
    --show-leak-kinds=definite "${DRAWDOCK:?names the tool to test}" run "$SOURCE_DIR/scenarios/launch.yaml" -o "$work/run" --quiet
status=$?
case $status in
0 | 1) ;;
*) echo "drawdock under valgrind: exit status $status"; exit 1 ;;
esac
[ -s "$work/run/result.json" ] || { echo "the run wrote no result.json"; exit 1; }
