# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += \
	lib/rig/rig.c lib/rig/rig.h \
	lib/rig/trailer_keys.c \
	lib/rig/vehicle.c \
	lib/rig/road.c lib/rig/road_slope.c lib/rig/road.h lib/rig/ride.c lib/rig/ride.h lib/rig/tyres.c lib/rig/tyres.h lib/rig/tyres.def \
	lib/rig/winch.c lib/rig/winch.h lib/rig/winch_rules.c \
	lib/rig/loose.c lib/rig/loose.h \
	lib/rig/support/support.c lib/rig/support/support.h \
	lib/rig/support/roller.c \
	lib/rig/support/keel_roller.c \
	lib/rig/support/cradle.c \
	lib/rig/support/skid.c \
	lib/rig/support/rocker.c \
	lib/rig/supports.def
libdrawdock_a_SOURCES += lib/rig/brake/brake.h lib/rig/brake/brakes.c lib/rig/brakes.def lib/rig/brake/none.c lib/rig/brake/overrun.c \
	lib/rig/brake/electric.c lib/rig/brake/electric_hydraulic.c
libdrawdock_a_SOURCES += lib/rig/lines.c lib/rig/lines.h
libdrawdock_a_SOURCES += lib/rig/rules.c lib/rig/rules.h lib/rig/rules_keys.c
libdrawdock_a_SOURCES += lib/rig/support/side_guide.c
libdrawdock_a_SOURCES += lib/rig/adjust.c lib/rig/adjust.h
libdrawdock_a_SOURCES += lib/rig/hitch.c lib/rig/hitch.h lib/rig/hitch.def
libdrawdock_a_SOURCES += lib/rig/section.c lib/rig/section.h
