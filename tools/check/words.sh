#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# No words that must not be shipped: unfinished work, paths of somebody's machine; and each source names its licence.
set -u
source=${SOURCE_DIR:-$(cd "$(dirname "$0")/../.." && pwd)}
cd "$source" || exit 1
failures=0

# Each pattern is written so that it does not match itself.
words='(^|[^[:alnum:]_./$})])/(wor[k]|hom[e]|roo[t])/|shared[/](design|reference|env)|\b(TOD[O]|FIXM[E]|XX[X]|HAC[K])\b|\b([Ss]ub-?)?agen[t]s?\b'

files() {
    find README.md DEVELOPERS.md configure.ac Makefile.am .ci lib include tools tests scenarios plots -type f 2>/dev/null |
        grep -vE '^tools/build-aux/|^tools/m4/l|\.png$|\.o$|/node_modules/|__pycache__'
}

files | tr '\n' '\0' | xargs -0 grep -nIE "$words" && {
    echo "words: the lines above must not be shipped"
    failures=$((failures + 1))
}

unlicensed=$(files | grep -E '\.(c|h|def|py|sh|am|ac|mk|m4|yaml|gnuplot|in|js)$|^tools/[^.]*$' | tr '\n' '\0' |
    xargs -0 grep -L 'SPDX-License-Identifier: GPL-3.0-or-later')
[ -z "$unlicensed" ] || {
    echo "words: no SPDX licence line in:"
    echo "$unlicensed"
    failures=$((failures + 1))
}
echo "words: $(files | wc -l) files, $failures faults"
[ "$failures" -eq 0 ]
