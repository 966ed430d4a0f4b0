# SPDX-License-Identifier: GPL-3.0-or-later
dist_check_SCRIPTS += tests/fuzz/scenarios.py
EXTRA_DIST += tests/fuzz/faults.py tests/fuzz/varied.py
