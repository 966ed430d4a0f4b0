# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_DIST += tools/check/valgrind
