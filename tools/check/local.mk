# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_DIST += tools/check/valgrind.sh tools/check/tarball.py tests/symbols.txt
dist_check_SCRIPTS += tools/check/layers.py tools/check/lengths.py tools/check/words.sh tools/check/top-level.sh tools/check/symbols.sh tools/check/reference.sh
