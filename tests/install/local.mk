# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_DIST += tests/install/stranger.c tests/install/weigh_a_rig.c tests/install/step_a_run.c tests/install/least_level.c
dist_check_SCRIPTS += tests/install/install.sh
