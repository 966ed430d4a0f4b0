#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The top level holds what the layout names and nothing else beside what the build generates.
set -u
source=${SOURCE_DIR:-$(cd "$(dirname "$0")/../.." && pwd)}
cd "$source" || exit 1
failures=0
for name in README.md DEVELOPERS.md LICENSE configure.ac Makefile.am lib include tools tests scenarios plots; do
    [ -e "$name" ] || { echo "top level: $name is missing"; failures=$((failures + 1)); }
done
if [ -e .git ] && command -v git >/dev/null; then
    # Tracked names, so that a developer's own untracked notes do not fail the suite.
    tracked=yes
    present=$(git -c safe.directory="$source" ls-files | cut -d/ -f1 | sort -u)
else
    tracked=no
    present=$(ls -A)
fi
for name in $present; do
    case $name in
    README.md | DEVELOPERS.md | LICENSE | configure.ac | Makefile.am | lib | include | tools | tests | scenarios | plots) ;;
    .git | .ci | .gitignore | .clang-format) ;;
    aclocal.m4 | autom4te.cache | configure | Makefile.in | build | build-* | results | _build | _inst)
        # The build makes these (the last two under distcheck); tracked they would be a fault.
        [ "$tracked" = no ] || { echo "top level: generated $name is tracked"; failures=$((failures + 1)); }
        ;;
    *) echo "top level: $name does not belong here"; failures=$((failures + 1)) ;;
    esac
done
folders=$(ls lib | grep -v '\.pc' | tr '\n' ' ')
[ "$folders" = "base case crew force hull motion ode record rig shore state study " ] || {
    echo "lib/ holds: $folders"
    failures=$((failures + 1))
}
echo "top level: $failures faults"
[ "$failures" -eq 0 ]
