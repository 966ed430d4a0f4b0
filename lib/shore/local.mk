# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += lib/shore/shore.h lib/shore/ramp.c lib/shore/ramp_keys.c lib/shore/water.c lib/shore/water_keys.c lib/shore/place_keys.c \
	lib/shore/moving_water.c lib/shore/grip.c lib/shore/profile.h \
	lib/shore/tide.c lib/shore/tide.h lib/shore/tide_kind.h lib/shore/tide_harmonic.c lib/shore/tide_tables.c \
	lib/shore/tide_constituents.c lib/shore/tide_constituents.h lib/shore/tide_constituents.def \
	lib/shore/windows.c lib/shore/windows.h lib/shore/sun.c lib/shore/sun.h \
	lib/shore/tide_given.c lib/shore/tide_given.h lib/shore/tide_keys.c
