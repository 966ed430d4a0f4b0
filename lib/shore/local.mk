# SPDX-License-Identifier: GPL-3.0-or-later
libcore_la_SOURCES += lib/shore/shore.h lib/shore/ramp.c lib/shore/ramp_keys.c lib/shore/water.c lib/shore/water_keys.c \
	lib/shore/moving_water.c lib/shore/grip.c lib/shore/profile.h
