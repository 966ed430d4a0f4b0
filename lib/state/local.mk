# SPDX-License-Identifier: GPL-3.0-or-later
libcore_la_SOURCES += lib/state/kinematics.c lib/state/kinematics.h lib/state/moving_water.c
