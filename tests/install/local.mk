# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_DIST += tests/install/stranger.c
dist_check_SCRIPTS += tests/install/install.sh
