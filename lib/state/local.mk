# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += lib/state/kinematics.c lib/state/kinematics.h lib/state/moving_water.c
